//! Files: golden drawings, reviewed by eye; pictures that keep their words; hostile words that stay words.

use std::path::{Path, PathBuf};

use lapwise::drawing::picture::{Node, Picture};
use lapwise::drawing::{Captions, of_plan};
use lapwise::render::{png, svg};
use lapwise::roofing::note::Note;
use lapwise::units::Length;
use resvg::tiny_skia::Pixmap;
use resvg::usvg::roxmltree::Document;

use crate::roofs;
use crate::words::English;

fn drawings(roof: &str, captions: &dyn Captions) -> Vec<Picture> {
    let english = English::shipped();
    let (_, plan) = roofs::all(&english.0.handbook).into_iter().find(|(name, _)| *name == roof).unwrap();
    of_plan(&plan, captions)
}

fn golden(roof: &str, file: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/drawings/goldens").join(roof).join(file)
}

/// `UPDATE=1` writes them anew, to be looked at before they are kept.
fn is_updated(path: &Path, bytes: &[u8]) -> bool {
    let updates = std::env::var_os("UPDATE").is_some();
    if updates {
        std::fs::create_dir_all(path.parent().unwrap()).unwrap();
        std::fs::write(path, bytes).unwrap();
    }
    updates
}

#[test]
fn drawings_are_those_that_were_looked_at() {
    // Of the roof whose slopes share offcuts, what says so is enough.
    let says_so = |picture: &Picture| ["cut-diagram-front", "sheets-back"].contains(&picture.name.as_str());
    for (roof, whole) in [("shed", true), ("unequal", true), ("shared", false)] {
        for picture in drawings(roof, &English::shipped()).iter().filter(|one| whole || says_so(one)) {
            let path = golden(roof, &format!("{}.svg", picture.name));
            let drawn = svg::write(picture);
            if !is_updated(&path, drawn.as_bytes()) {
                let kept = std::fs::read_to_string(&path).unwrap_or_default();
                assert!(
                    kept == drawn,
                    "{} is not as kept: look at it, then run with UPDATE=1",
                    path.display()
                );
            }
        }
    }
}

#[test]
fn a_png_is_the_one_that_was_looked_at() {
    let picture = drawings("shed", &English::shipped()).into_iter().find(|one| one.name == "sheets").unwrap();
    let drawn = png::write(&picture, 400).unwrap();
    let path = golden("shed", "sheets.png");
    if is_updated(&path, &drawn) {
        return;
    }
    let pixels = |png: &[u8]| Pixmap::decode_png(png).unwrap();
    let (drawn, kept) = (pixels(&drawn), pixels(&std::fs::read(&path).unwrap()));
    assert_eq!((drawn.width(), drawn.height()), (kept.width(), kept.height()));
    let apart: u64 = drawn.data().iter().zip(kept.data()).map(|(a, b)| u64::from(a.abs_diff(*b))).sum();
    let mean = apart as f64 / drawn.data().len() as f64;
    assert!(mean < 1.0, "a pixel is {mean} of 255 off on average");
}

/// Without its typeface a rasteriser leaves words out silently.
#[test]
fn a_png_has_its_words() {
    fn without_words(nodes: &mut Vec<Node>) {
        nodes.retain(|node| !matches!(node, Node::Text(_)));
        for node in nodes {
            if let Node::Group(group) = node {
                without_words(&mut group.nodes);
            }
        }
    }
    for picture in drawings("shed", &English::shipped()) {
        let mut bare = picture.clone();
        without_words(&mut bare.nodes);
        let dark = |picture: &Picture| {
            let pixels = Pixmap::decode_png(&png::write(picture, 600).unwrap()).unwrap();
            pixels.pixels().iter().filter(|pixel| pixel.red() < 100).count()
        };
        let letters: usize = picture.texts().iter().map(|text| text.words.chars().count()).sum();
        assert!(dark(&picture) > dark(&bare) + letters * 5, "{} has lost its words", picture.name);
    }
}

#[test]
fn a_png_that_no_phone_could_hold_is_refused() {
    let picture = drawings("shed", &English::shipped()).remove(0);
    assert!(png::write(&picture, 0).is_err());
    assert!(png::write(&picture, 100_000).is_err());
}

struct Hostile;

impl Captions for Hostile {
    fn say(&self, _: &Note) -> String {
        "</text><script>alert('1')</script>&quot;\" ]]> \u{0}\u{1b}\u{ffff} --><g id=\"x\">".to_owned()
    }

    fn length(&self, _: Length) -> String {
        "<9&>".repeat(40)
    }

    fn unit(&self) -> Option<&'static str> {
        Some("drawing-key-millimetres")
    }
}

#[test]
fn words_stay_words_whatever_is_in_them() {
    for picture in drawings("shed", &Hostile) {
        let file = svg::write(&picture);
        let svg = Document::parse(&file).unwrap();
        assert!(svg.descendants().all(|node| !node.has_tag_name("script")), "{}", picture.name);
        assert!(svg.descendants().all(|node| node.attribute("id") != Some("x")), "{}", picture.name);
        let said = svg.descendants().find(|node| node.has_tag_name("title")).and_then(|node| node.text());
        assert!(said.unwrap().starts_with("</text><script>alert('1')</script>&quot;\" ]]>"), "{said:?}");
        png::write(&picture, 300).unwrap();
    }
}

#[test]
fn a_plan_is_drawn_the_same_every_time() {
    let twice = || drawings("unequal", &English::shipped()).iter().map(svg::write).collect::<Vec<_>>();
    assert_eq!(twice(), twice());
}
