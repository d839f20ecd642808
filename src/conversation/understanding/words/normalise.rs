//! From what was typed to plain words: case, pictures, joined figures and units, sentence ends.
//!
//! Nothing here knows a topic. Everything that comes out is lower-case ASCII.

use std::collections::BTreeMap;

/// No more of a message is read than this many characters: far more than a channel delivers.
const LONGEST: usize = 20_000;

/// A piece of a message.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(in super::super) enum Piece {
    /// A word or a figure.
    Word(String),
    /// The end of a sentence.
    Stop,
    /// A comma or colon: the end of a sentence only where a new one follows.
    Comma,
}

/// Takes a message apart. `emoji` gives the words that pictures stand for.
pub(in super::super) fn take_apart(text: &str, emoji: &BTreeMap<char, Vec<String>>) -> Vec<Piece> {
    let mut pieces = Pieces::default();
    let mut before = ' ';
    let mut chars = text.chars().take(LONGEST).peekable();
    while let Some(c) = chars.next() {
        let digit_follows = chars.peek().is_some_and(char::is_ascii_digit);
        match c {
            '.' | ',' if before.is_ascii_digit() && digit_follows => pieces.current.push('.'),
            '.' | '?' | '!' | ';' | '\n' | '…' => pieces.end(Piece::Stop),
            ',' | ':' => pieces.end(Piece::Comma),
            '\'' | '’' | '‘' | '`' | '\u{200b}'..='\u{200d}' | '\u{fe0f}' | '\u{ad}' => {}
            '°' | 'º' => pieces.add("degrees"),
            '£' | '€' => pieces.add("money"),
            '$' if digit_follows => pieces.add("money"),
            '"' | '”' if before.is_ascii_digit() => pieces.add("inch"),
            '%' => pieces.add("percent"),
            '&' | '+' => pieces.add("and"),
            '<' | '>' | '{' | '}' | '|' | '\\' | '=' | '$' => pieces.add("markup"),
            _ => pieces.take(c, before, emoji),
        }
        before = c;
    }
    pieces.finish();
    pieces.done
}

/// The words of a text that names no pictures.
pub(in super::super) fn words_of(text: &str) -> Vec<String> {
    let pieces = take_apart(text, &BTreeMap::new()).into_iter();
    let word = |piece| match piece {
        Piece::Word(word) => Some(word),
        Piece::Stop | Piece::Comma => None,
    };
    pieces.filter_map(word).collect()
}

#[derive(Default)]
struct Pieces {
    done: Vec<Piece>,
    current: String,
}

impl Pieces {
    fn take(&mut self, c: char, before: char, emoji: &BTreeMap<char, Vec<String>>) {
        if c.is_ascii_alphanumeric() {
            if c.is_ascii_digit() != before.is_ascii_digit() && before.is_ascii_alphanumeric() {
                self.finish();
            }
            self.current.push(c.to_ascii_lowercase());
        } else if let Some(words) = emoji.get(&c) {
            for word in words {
                self.add(word);
            }
        } else if let Some(folded) = fold(c) {
            self.current.push_str(folded);
        } else {
            self.finish();
        }
    }

    fn add(&mut self, word: &str) {
        self.finish();
        self.done.push(Piece::Word(word.to_owned()));
    }

    fn end(&mut self, piece: Piece) {
        self.finish();
        if !matches!(self.done.last(), None | Some(Piece::Stop)) {
            self.done.push(piece);
        }
    }

    fn finish(&mut self) {
        if !self.current.is_empty() {
            let word = std::mem::take(&mut self.current);
            self.done.push(Piece::Word(calm(&word)));
        }
    }
}

/// A word with long runs of one letter cut to two: "heeelp", "nooo".
fn calm(word: &str) -> String {
    let mut calmed = String::with_capacity(word.len());
    let mut run = 0;
    let mut last = None;
    for c in word.chars() {
        run = if last == Some(c) { run + 1 } else { 1 };
        last = Some(c);
        if run <= 2 || c.is_ascii_digit() {
            calmed.push(c);
        }
    }
    calmed
}

/// Letters with marks, fractions and letters of other scripts that pass for ours.
fn fold(c: char) -> Option<&'static str> {
    Some(match c {
        'à' | 'á' | 'â' | 'ä' | 'å' | 'ã' | 'ą' | 'ă' | 'À' | 'Á' | 'Â' | 'Ä' | 'Å' | 'Ã' | 'Ą' | 'Ă'
        | 'а' | 'А' => "a",
        'è' | 'é' | 'ê' | 'ë' | 'ę' | 'È' | 'É' | 'Ê' | 'Ë' | 'Ę' | 'е' | 'Е' => "e",
        'ì' | 'í' | 'î' | 'ï' | 'Í' | 'Î' | 'і' | 'І' => "i",
        'ò' | 'ó' | 'ô' | 'ö' | 'ø' | 'õ' | 'Ó' | 'Ô' | 'Ö' | 'Õ' | 'о' | 'О' => "o",
        'ù' | 'ú' | 'û' | 'ü' | 'Ú' | 'Ü' => "u",
        'ñ' | 'ń' | 'Ñ' | 'Ń' => "n",
        'ç' | 'ć' | 'Ç' | 'Ć' | 'с' | 'С' => "c",
        'ł' | 'Ł' => "l",
        'ś' | 'ș' | 'ş' | 'Ś' | 'Ș' | 'Ş' => "s",
        'ț' | 'ţ' | 'Ț' | 'Ţ' => "t",
        'ż' | 'ź' | 'Ż' | 'Ź' => "z",
        'р' | 'Р' => "p",
        'ß' => "ss",
        _ => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn words(text: &str) -> String {
        let emoji = BTreeMap::from([('🔥', vec!["fire".to_owned()])]);
        let pieces = take_apart(text, &emoji);
        pieces
            .iter()
            .map(|piece| match piece {
                Piece::Word(word) => word.as_str(),
                Piece::Stop => "/",
                Piece::Comma => ",",
            })
            .collect::<Vec<_>>()
            .join(" ")
    }

    #[test]
    fn figures_part_from_their_units_and_keep_their_point() {
        assert_eq!(words("It's 4.5° on 12mm ply, OK?"), "its 4.5 degrees on 12 mm ply , ok /");
    }

    #[test]
    fn pictures_become_words_and_shouting_calms() {
        assert_eq!(words("heeeelp 🔥🔥!!!"), "heelp fire fire /");
    }

    #[test]
    fn letters_that_only_look_like_ours_are_read_as_ours() {
        assert_eq!(words("аsbestоs café"), "asbestos cafe");
    }
}
