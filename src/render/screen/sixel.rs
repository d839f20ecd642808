//! Sixels, as DEC's `VT3xx` terminals took them (VT330/VT340 Programmer Reference Manual, volume 2, chapter 14):
//! bands six pixels high, each colour of a band drawn in turn.

use std::collections::BTreeMap;
use std::fmt::Write as _;

use super::Rgb;
use crate::render::{RenderError, png};

/// The most colours a terminal can be trusted to hold.
const MOST_COLOURS: usize = 256;
const BAND: usize = 6;

/// An SVG as sixels, `width` pixels wide.
pub fn sixel(name: &str, svg: &str, width: u16) -> Result<String, RenderError> {
    let pixmap = png::on_paper(name, &png::read(name, svg)?, u32::from(width))?;
    let pixels: Vec<Rgb> =
        pixmap.pixels().iter().map(|pixel| [pixel.red(), pixel.green(), pixel.blue()]).collect();
    let palette = Palette::of(&pixels);
    let mut out = format!("\u{1b}Pq\"1;1;{};{}", pixmap.width(), pixmap.height());
    for (index, colour) in palette.colours.iter().enumerate() {
        let [red, green, blue] = colour.map(|part| (u32::from(part) * 100 + 127) / 255);
        let _ = write!(out, "#{index};2;{red};{green};{blue}");
    }
    let across = usize::from(width).max(1);
    for band in pixels.chunks(across * BAND) {
        let mut drawn: BTreeMap<usize, Vec<u8>> = BTreeMap::new();
        for (bit, row) in band.chunks(across).enumerate() {
            for (x, pixel) in row.iter().enumerate() {
                let columns = drawn.entry(palette.index(*pixel)).or_insert_with(|| vec![0; across]);
                if let Some(column) = columns.get_mut(x) {
                    *column |= 1 << bit;
                }
            }
        }
        for (colour, columns) in drawn {
            let _ = write!(out, "#{colour}");
            for run in columns.chunk_by(|a, b| a == b) {
                let six = char::from(63 + run.first().copied().unwrap_or_default());
                match run.len() {
                    few @ 1..=3 => out.extend(std::iter::repeat_n(six, few)),
                    many => {
                        let _ = write!(out, "!{many}{six}");
                    }
                }
            }
            out.push('$');
        }
        out.push('-');
    }
    out.push_str("\u{1b}\\");
    Ok(out)
}

/// The colours that are used most, and which of them stands for each.
struct Palette {
    colours: Vec<Rgb>,
    index: BTreeMap<Rgb, usize>,
}

impl Palette {
    fn of(pixels: &[Rgb]) -> Self {
        let mut counts: BTreeMap<Rgb, usize> = BTreeMap::new();
        for pixel in pixels {
            *counts.entry(coarse(*pixel)).or_default() += 1;
        }
        let mut by_use: Vec<(usize, Rgb)> =
            counts.into_iter().map(|(colour, count)| (count, colour)).collect();
        by_use.sort_unstable_by(|a, b| b.cmp(a));
        let colours: Vec<Rgb> = by_use.iter().map(|(_, colour)| *colour).take(MOST_COLOURS).collect();
        let nearest = |wanted: Rgb| {
            let apart = |colour: &Rgb| -> u32 {
                wanted.iter().zip(colour).map(|(a, b)| u32::from(a.abs_diff(*b)).pow(2)).sum()
            };
            let nearest = colours.iter().enumerate().min_by_key(|(_, colour)| apart(colour));
            nearest.map(|(index, _)| index).unwrap_or_default()
        };
        let index = by_use.iter().map(|(_, colour)| (*colour, nearest(*colour))).collect();
        Self { colours, index }
    }

    fn index(&self, pixel: Rgb) -> usize {
        self.index.get(&coarse(pixel)).copied().unwrap_or_default()
    }
}

/// The five upper bits of each part, spread over the whole range again: black stays black, white white.
fn coarse(colour: Rgb) -> Rgb {
    colour.map(|part| part & 0xf8 | part >> 5)
}
