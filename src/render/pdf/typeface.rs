//! The shipped typeface as documents need it: to measure words, to break lines, to draw.

use krilla::text::Font;
use skrifa::instance::{LocationRef, Size};
use skrifa::metrics::GlyphMetrics;
use skrifa::{FontRef, MetadataProvider};

use crate::render::RenderError;

/// One cut of the typeface.
pub(super) struct Typeface {
    pub(super) font: Font,
    /// Advance widths of the characters most words are made of, for a size of one; the others by look-up.
    latin: Vec<f32>,
    face: FontRef<'static>,
}

/// Which cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Cut {
    /// For reading.
    Regular,
    /// For headings and what must not be overlooked.
    Bold,
}

/// Both cuts.
pub(super) struct Typefaces {
    regular: Typeface,
    bold: Typeface,
}

impl Typefaces {
    pub(super) fn shipped() -> Result<Self, RenderError> {
        let open = |data: &'static [u8]| Typeface::open(data).ok_or(RenderError::Typeface);
        Ok(Self { regular: open(dejavu::sans::regular())?, bold: open(dejavu::sans::bold())? })
    }

    pub(super) const fn cut(&self, cut: Cut) -> &Typeface {
        match cut {
            Cut::Regular => &self.regular,
            Cut::Bold => &self.bold,
        }
    }
}

const LATIN: u32 = 0x180;

impl Typeface {
    fn open(data: &'static [u8]) -> Option<Self> {
        let face = FontRef::new(data).ok()?;
        let font = Font::new(data.into(), 0)?;
        let metrics = face.glyph_metrics(Size::new(1.0), LocationRef::default());
        let latin = (0..LATIN).map(|code| advance(&face, &metrics, char::from_u32(code))).collect();
        Some(Self { font, latin, face })
    }

    /// How long words are at a size.
    pub(super) fn width(&self, words: &str, size: f32) -> f32 {
        words.chars().map(|letter| self.advance(letter)).sum::<f32>() * size
    }

    fn advance(&self, letter: char) -> f32 {
        let known = usize::try_from(u32::from(letter)).ok().and_then(|code| self.latin.get(code));
        known.copied().unwrap_or_else(|| {
            let metrics = self.face.glyph_metrics(Size::new(1.0), LocationRef::default());
            advance(&self.face, &metrics, Some(letter))
        })
    }

    /// Words broken into lines no longer than `room`; a word longer than that is broken anywhere.
    pub(super) fn lines(&self, words: &str, size: f32, room: f32) -> Vec<String> {
        let space = self.advance(' ') * size;
        let mut lines = Vec::new();
        for paragraph in words.lines() {
            let (mut line, mut wide) = (String::new(), 0.0);
            for word in kept_together(paragraph) {
                let width = self.width(&word, size);
                if !line.is_empty() && wide + space + width <= room {
                    line.push(' ');
                    line.push_str(&word);
                    wide += space + width;
                    continue;
                }
                if !line.is_empty() {
                    lines.push(std::mem::take(&mut line));
                }
                line = if width <= room { word } else { self.break_word(&word, size, room, &mut lines) };
                wide = self.width(&line, size);
            }
            lines.push(line);
        }
        // An empty cell is a cell all the same, to those who hear the table.
        if lines.is_empty() {
            lines.push(String::new());
        }
        lines
    }

    fn break_word(&self, word: &str, size: f32, room: f32, lines: &mut Vec<String>) -> String {
        let mut line = String::new();
        for letter in word.chars() {
            if !line.is_empty() && self.width(&line, size) + self.advance(letter) * size > room {
                lines.push(std::mem::take(&mut line));
            }
            line.push(letter);
        }
        line
    }
}

/// What stands after a figure on its line.
const UNITS: [&str; 9] = ["mm", "m", "m²", "kg", "g", "in", "ft", "×", "x"];

/// The words of a line, a figure never parted from its unit: `50 × 38 mm` is one.
fn kept_together(line: &str) -> Vec<String> {
    let is_digit = |letter: char| letter.is_ascii_digit();
    let mut words: Vec<String> = Vec::new();
    for word in line.split_whitespace() {
        let bare = word.trim_end_matches(['.', ',', ';', ':', ')']);
        match words.last_mut() {
            Some(last)
                if last.ends_with(is_digit) && (UNITS.contains(&bare) || is_thousands(bare))
                    || (last.ends_with(" ×") || last.ends_with(" x")) && word.starts_with(is_digit) =>
            {
                last.push(' ');
                last.push_str(word);
            }
            _ => words.push(word.to_owned()),
        }
    }
    words
}

/// The `850` of `1 850`.
fn is_thousands(word: &str) -> bool {
    word.len() == 3 && word.chars().all(|letter| letter.is_ascii_digit())
}

fn advance(face: &FontRef, metrics: &GlyphMetrics, letter: Option<char>) -> f32 {
    let glyph = letter.and_then(|letter| face.charmap().map(letter));
    // A letter the face lacks is drawn as its empty box, glyph 0.
    metrics.advance_width(glyph.unwrap_or_default()).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_figure_keeps_its_unit() {
        assert_eq!(
            kept_together("Purlin, 50 x 38 mm, of 4 800 mm."),
            ["Purlin,", "50 x 38 mm,", "of", "4 800 mm."]
        );
        assert_eq!(kept_together("1, 2, 3 in a row"), ["1,", "2,", "3 in", "a", "row"]);
    }

    #[test]
    fn lines_are_no_longer_than_their_room() {
        let typefaces = Typefaces::shipped().unwrap();
        let face = typefaces.cut(Cut::Regular);
        let words = "Measured up from the eaves edge, their middles are at 25 mm, 575 mm and 1675 mm. \
                     Uncommonlylongwordsarebrokenanywhere";
        for room in [30.0, 60.0, 100.0, 200.0] {
            let lines = face.lines(words, 10.0, room);
            let widest = lines.iter().map(|line| face.width(line, 10.0)).fold(0.0, f32::max);
            assert!(widest <= room, "{widest} in {room}: {lines:?}");
            let letters = |text: &str| text.replace(char::is_whitespace, "");
            assert_eq!(letters(&lines.concat()), letters(words));
        }
    }
}
