//! Whether a person can read a drawing: at arm's length, in black and white, or not seeing it at all.

use lapwise::drawing::Kind;
use lapwise::drawing::picture::{Bounds, Pen, Picture};
use lapwise::render::svg;

use crate::words::English;

#[test]
fn no_word_lies_over_another_or_off_the_paper() {
    let all = [English::shipped(), English::in_feet_and_inches()].map(|english| crate::all(&english));
    for (name, picture) in all.into_iter().flatten() {
        let boxes: Vec<(Bounds, &str)> =
            picture.texts().into_iter().map(|text| (text.bounds(), text.words.as_str())).collect();
        for (index, (bounds, words)) in boxes.iter().enumerate() {
            let on_paper = bounds.left >= 0.0
                && bounds.top >= 0.0
                && bounds.right <= picture.width
                && bounds.bottom <= picture.height;
            assert!(on_paper, "{name}: `{words}` is off the paper: {bounds:?}");
            for (other, others) in &boxes[index + 1..] {
                assert!(!bounds.overlaps(other), "{name}: `{words}` lies over `{others}`");
            }
        }
    }
}

#[test]
fn the_smallest_words_are_three_per_cent_of_the_short_side() {
    for (name, picture) in crate::all(&English::shipped()) {
        let short = picture.width.min(picture.height);
        for text in picture.texts() {
            assert!(text.size >= short * 0.0299, "{name}: `{}` on {short}", text.words);
        }
    }
}

#[test]
fn letters_are_as_wide_as_the_shipped_typeface_draws_them() {
    for data in [dejavu::sans_mono::regular(), dejavu::sans_mono::bold()] {
        use skrifa::MetadataProvider as _;
        let face = skrifa::FontRef::new(data).unwrap();
        let size = skrifa::instance::Size::new(2_048.0);
        let metrics = face.glyph_metrics(size, skrifa::instance::LocationRef::default());
        for letter in "1lI0Om×°½–".chars() {
            let glyph = face.charmap().map(letter).unwrap();
            assert_eq!(metrics.advance_width(glyph), Some(1_233.0), "{letter}");
        }
    }
}

/// The rest of the meaning is in words and hatches; a dimension line is told by its strokes.
#[test]
fn no_two_kinds_of_line_look_alike_without_colour() {
    let told_by_look: Vec<Pen> = Pen::ALL.into_iter().filter(|pen| *pen != Pen::Dimension).collect();
    for (index, pen) in told_by_look.iter().enumerate() {
        for other in &told_by_look[index + 1..] {
            let alike = (pen.width() - other.width()).abs() < 0.3 && pen.dashes() == other.dashes();
            assert!(!alike, "{pen:?} and {other:?}");
        }
    }
}

#[test]
fn every_drawing_says_in_words_what_it_shows() {
    for (name, Picture { kind, description, title, .. }) in crate::all(&English::shipped()) {
        assert!(!title.is_empty(), "{name}");
        let lines = description.lines().count();
        assert!(lines >= 3 || kind == Kind::CutDiagram && lines >= 2, "{name}: {description}");
    }
}

#[test]
fn every_colour_has_a_dark_one() {
    let dark = svg::dark_style();
    for (name, picture) in crate::all(&English::shipped()) {
        let file = svg::write(&picture);
        let svg = resvg::usvg::roxmltree::Document::parse(&file).unwrap();
        for node in svg.descendants() {
            let coloured = |name| node.attribute(name).is_some_and(|colour: &str| colour.starts_with('#'));
            if coloured("stroke") || coloured("fill") && !node.has_tag_name("svg") {
                let classes = node.attribute("class").unwrap_or_default();
                let known = classes.split(' ').any(|class| dark.contains(&format!(".{class} ")));
                assert!(known, "{name}: {classes:?} stays as it is on a dark screen");
            }
        }
    }
}
