//! Pictures of quarter blocks: each character cell shows two by two parts in two colours. Words are not drawn but
//! set, as the terminal's own letters.

use std::fmt::Write as _;

use resvg::tiny_skia::Pixmap;
use resvg::usvg::roxmltree::Document;
use resvg::usvg::{Options, Tree};

use super::{Rgb, mean};
use crate::drawing::picture::Picture;
use crate::render::{RenderError, png};

/// Pixels behind each cell: twice as tall as wide, as cells are.
const WIDE: usize = 8;
const TALL: usize = 16;
/// Cells whose parts differ by less are of one colour.
const PLAIN: u32 = 60;
/// By which quarters are dark: upper left 1, upper right 2, lower left 4, lower right 8.
const QUARTERS: [char; 16] = [' ', '▘', '▝', '▀', '▖', '▌', '▞', '▛', '▗', '▚', '▐', '▜', '▄', '▙', '▟', '█'];

/// What words are set in.
const INK: Rgb = [26, 26, 26];

/// Which colours a terminal shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Colours {
    /// The 256 of xterm.
    Few,
    /// Every one (ISO/IEC 8613-6, direct colour).
    All,
}

#[derive(Clone, Copy, PartialEq, Eq)]
struct Cell {
    shown: char,
    ink: Rgb,
    paper: Rgb,
}

/// An SVG of ours as lines of block characters, `columns` wide, each line ended and its colours reset.
pub fn blocks(name: &str, svg: &str, columns: u16, colours: Colours) -> Result<String, RenderError> {
    let unreadable = |reason: String| RenderError::Unreadable { name: name.to_owned(), reason };
    // Without a typeface words are left out: they are set below.
    let wordless = Tree::from_str(svg, &Options::default()).map_err(|error| unreadable(error.to_string()))?;
    let pixmap = png::on_paper(name, &wordless, u32::from(columns) * 8)?;
    let mut cells = cells(&pixmap, usize::from(columns));
    let document = Document::parse(svg).map_err(|error| unreadable(error.to_string()))?;
    set_words(&document, &mut cells, f64::from(columns) / f64::from(wordless.size().width()));
    let mut out = String::new();
    for row in &cells {
        let mut last: Option<(Rgb, Rgb)> = None;
        for cell in row {
            if last != Some((cell.ink, cell.paper)) {
                let _ =
                    write!(out, "\u{1b}[38;{};48;{}m", code(cell.ink, colours), code(cell.paper, colours));
                last = Some((cell.ink, cell.paper));
            }
            out.push(cell.shown);
        }
        out.push_str("\u{1b}[0m\n");
    }
    Ok(out)
}

fn cells(pixmap: &Pixmap, columns: usize) -> Vec<Vec<Cell>> {
    let pixels: Vec<Rgb> =
        pixmap.pixels().iter().map(|pixel| [pixel.red(), pixel.green(), pixel.blue()]).collect();
    let across = columns * WIDE;
    let part = |column: usize, row: usize| {
        // A row of parts is half a cell high.
        let lines = pixels.chunks(across).skip(row * TALL / 2).take(TALL / 2);
        colour(lines.flat_map(|line| line.iter().skip(column * WIDE / 2).take(WIDE / 2).copied()).collect())
    };
    let rows = pixels.len().div_ceil(across * TALL);
    let cell = |column: usize, row: usize| {
        let (left, upper) = (column * 2, row * 2);
        cell([part(left, upper), part(left + 1, upper), part(left, upper + 1), part(left + 1, upper + 1)])
    };
    (0..rows).map(|row| (0..columns).map(|column| cell(column, row)).collect()).collect()
}

/// The colour of one part. A thin line is only a few of its pixels, and would hardly be seen in their mean: the
/// darkest, as many as a line across has, count for half.
fn colour(mut pixels: Vec<Rgb>) -> Rgb {
    pixels.sort_unstable_by_key(|pixel| light(*pixel));
    let darkest = mean(pixels.iter().take(WIDE / 2).copied());
    mean([darkest, mean(pixels.into_iter())].into_iter())
}

fn light(colour: Rgb) -> u32 {
    colour.into_iter().map(u32::from).sum()
}

/// The two colours and the block that come nearest to four parts.
fn cell(parts: [Rgb; 4]) -> Cell {
    let lightest = parts.into_iter().map(light).max().unwrap_or_default();
    let darkest = parts.into_iter().map(light).min().unwrap_or_default();
    let is_plain = lightest - darkest < PLAIN;
    let is_dark = |part: &Rgb| !is_plain && light(*part) * 2 < lightest + darkest;
    let quarters: usize =
        parts.iter().zip([1, 2, 4, 8]).filter(|(part, _)| is_dark(part)).map(|(_, bit)| bit).sum();
    Cell {
        shown: QUARTERS.get(quarters).copied().unwrap_or(' '),
        ink: mean(parts.into_iter().filter(is_dark)),
        paper: mean(parts.into_iter().filter(|part| !is_dark(part))),
    }
}

/// Sets words where the picture has them. The terminal's letters are narrower than the picture's: they fit.
fn set_words(document: &Document, cells: &mut [Vec<Cell>], scale: f64) {
    for text in document.descendants().filter(|node| node.has_tag_name("text")) {
        let place = |name| text.attribute(name).and_then(|place| place.parse::<f64>().ok());
        let (Some(x), Some(y), Some(words)) = (place("x"), place("y"), text.text()) else { continue };
        let back = match text.attribute("text-anchor") {
            Some("middle") => words.chars().count() / 2,
            Some("end") => words.chars().count(),
            _ => 0,
        };
        let middle = y - Picture::LETTERING * 0.35;
        let row = cells.get_mut(whole(middle * scale / 2.0));
        let from = whole(x * scale).saturating_sub(back);
        for (cell, letter) in row.into_iter().flatten().skip(from).zip(words.chars()) {
            *cell = Cell { shown: letter, ink: INK, ..*cell };
        }
    }
}

/// The whole part of a place on the picture.
fn whole(place: f64) -> usize {
    // `format!` is the one conversion std offers from f64 that neither truncates nor needs `as`.
    format!("{:.0}", libm::floor(place.max(0.0))).parse().unwrap_or_default()
}

/// A colour as the parameters of "select graphic rendition".
fn code([red, green, blue]: Rgb, colours: Colours) -> String {
    if colours == Colours::All {
        return format!("2;{red};{green};{blue}");
    }
    let [lightest, darkest] = [red.max(green).max(blue), red.min(green).min(blue)];
    if lightest - darkest < 12 {
        // Greys from 8 on in steps of 10, after the 216 colours; black and white stand among those.
        return match lightest {
            0..=3 => "5;16".to_owned(),
            247.. => "5;231".to_owned(),
            grey => format!("5;{}", 232 + u32::from(grey.saturating_sub(8)) * 23 / 230),
        };
    }
    let [red, green, blue] = [red, green, blue].map(|part| (u32::from(part) * 5 + 127) / 255);
    format!("5;{}", 16 + 36 * red + 6 * green + blue)
}
