//! Pictures on a terminal, read back: sixels are the picture's pixels, blocks fill their lines and set every word.

use lapwise::drawing::picture::Picture;
use lapwise::drawing::whole_roof;
use lapwise::render::screen::{Colours, blocks, sixel};
use lapwise::render::{png, svg};
use resvg::tiny_skia::Pixmap;

use crate::roofs;
use crate::words::English;

fn whole_roofs() -> Vec<(&'static str, Picture)> {
    let english = English::shipped();
    let plans = roofs::all(&english.0.handbook).into_iter();
    plans.map(|(name, plan)| (name, whole_roof(&plan.site, &english))).collect()
}

/// Sixels as rows of colours in parts of a hundred.
fn pixels_of(sixels: &str) -> Vec<Vec<[u32; 3]>> {
    let body = sixels.strip_prefix("\u{1b}Pq").unwrap().strip_suffix("\u{1b}\\").unwrap();
    let mut palette = vec![[0; 3]; 256];
    let (mut rows, mut x, mut band, mut colour) = (Vec::new(), 0, 0, 0);
    let mut rest = body;
    while let Some(mark) = rest.chars().next() {
        rest = &rest[1..];
        let end = rest.find(|c: char| !c.is_ascii_digit() && c != ';').unwrap_or(rest.len());
        let figures: Vec<usize> = rest[..end].split(';').filter_map(|figure| figure.parse().ok()).collect();
        let mut times = 1;
        let mut six = mark;
        match mark {
            '"' => rows = vec![vec![[u32::MAX; 3]; figures[2]]; figures[3]],
            '#' => {
                colour = figures[0];
                if let [_, 2, parts @ ..] = figures.as_slice() {
                    palette[colour] = [parts[0] as u32, parts[1] as u32, parts[2] as u32];
                }
            }
            '$' => x = 0,
            '-' => (x, band) = (0, band + 6),
            '!' => {
                times = figures[0];
                six = rest[end..].chars().next().unwrap();
                rest = &rest[1..];
            }
            _ => {}
        }
        if matches!(mark, '"' | '#' | '!') {
            rest = &rest[end..];
        }
        if ('?'..='~').contains(&six) {
            let bits = u32::from(six) - 63;
            for bit in (0..6).filter(|bit| bits & (1 << bit) != 0) {
                rows[band + bit][x..x + times].fill(palette[colour]);
            }
            x += times;
        }
    }
    rows
}

#[test]
fn sixels_are_the_pixels_of_the_picture() {
    for (name, picture) in whole_roofs() {
        let rows = pixels_of(&sixel(name, &svg::write(&picture), 400).unwrap());
        let kept = Pixmap::decode_png(&png::write(&picture, 400).unwrap()).unwrap();
        assert_eq!((rows[0].len(), rows.len()), (kept.width() as usize, kept.height() as usize), "{name}");
        let shown = rows.iter().flatten();
        for (shown, kept) in shown.zip(kept.pixels()) {
            for (shown, kept) in shown.iter().zip([kept.red(), kept.green(), kept.blue()]) {
                let apart = shown.abs_diff(u32::from(kept) * 100 / 255);
                assert!(apart < 12, "{name}: {shown} for {kept}");
            }
        }
    }
}

/// The lines as they are read, colours left out.
fn lines(blocks: &str) -> Vec<String> {
    let bare = |line: &str| {
        let parts = line.split('\u{1b}').filter_map(|part| part.split_once('m').or(Some(("", part))));
        parts.map(|(_, shown)| shown).collect()
    };
    blocks.lines().map(bare).collect()
}

#[test]
fn blocks_fill_their_lines_and_set_every_word() {
    for (name, picture) in whole_roofs() {
        for (columns, colours) in [(80, Colours::All), (60, Colours::Few)] {
            let shown = lines(&blocks(name, &svg::write(&picture), columns, colours).unwrap());
            assert!(
                shown.iter().all(|line| line.chars().count() == usize::from(columns)),
                "{name}: {shown:#?}"
            );
            for text in picture.texts() {
                assert!(shown.iter().any(|line| line.contains(&text.words)), "{name}: {}", text.words);
            }
            let drawn = shown.iter().flat_map(|line| line.chars()).filter(|c| "▘▝▀▖▌▞▛▗▚▐▜▄▙▟█".contains(*c));
            assert!(drawn.count() > 20, "{name}: {shown:#?}");
        }
    }
}
