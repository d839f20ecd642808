//! Drawings: what stands on them is the plan's, nothing lies over anything, and files read back.

#[path = "../common/mod.rs"]
mod common;
mod roofs;
mod words;

use std::fs;

use lapwise::drawing;
use lapwise::render::{png, svg};

#[test]
fn look() {
    let english = words::English::shipped();
    let out = std::path::Path::new("/tmp/look");
    fs::create_dir_all(out).unwrap();
    let only = std::env::var("ONLY").unwrap_or_default();
    for (name, answers) in roofs::all().into_iter().filter(|(name, _)| name.contains(&only)) {
        let plan = roofs::planned(&answers, &english.0.handbook);
        for picture in drawing::of_plan(&plan, &english.0.handbook.catalogue, &english) {
            let file = format!("{name}-{}", picture.name);
            fs::write(out.join(format!("{file}.svg")), svg::write(&picture)).unwrap();
            let width = if picture.width > 700.0 { 1000 } else { 700 };
            fs::write(out.join(format!("{file}.png")), png::write(&picture, width).unwrap()).unwrap();
            fs::write(out.join(format!("{file}.txt")), &picture.description).unwrap();
            let texts = picture.texts();
            for (i, a) in texts.iter().enumerate() {
                let box_ = a.bounds();
                if box_.left < 0.0 || box_.top < 0.0 || box_.right > picture.width || box_.bottom > picture.height {
                    println!("{file}: off paper: {}", a.words);
                }
                for b in &texts[i + 1..] {
                    if box_.overlaps(&b.bounds()) {
                        println!("{file}: {} over {}", a.words, b.words);
                    }
                }
            }
        }
    }
}
