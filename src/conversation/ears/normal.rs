//! The normal form of a message: small words and marks, each with the bytes it stands for.
//!
//! Apostrophes are dropped ("don't" is `dont`), hyphens part words, pictures that mean something are words, and
//! figures keep their signs (`2.4`, `1/2`). The first stage: everything behind it reads these tokens only.

use std::ops::Range;

/// What a token is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TokenKind {
    /// Letters, or a picture.
    Word,
    /// Digits with their points and commas.
    Number,
    /// Any other sign that means something.
    Mark(char),
}

/// The smallest piece of a message.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Token {
    /// What it is.
    pub kind: TokenKind,
    /// As it is looked up: small letters, apostrophes left out, a slip of the thumb mended.
    pub word: String,
    /// Where it stands in the message.
    pub span: Range<usize>,
    /// Whether nothing stands between it and the token before.
    pub glued: bool,
    /// Whether a slip of the thumb was mended.
    pub mended: bool,
    /// Whether it is a word that the ears know.
    pub known: bool,
}

impl Token {
    /// Whether it is that mark.
    pub fn is_mark(&self, mark: char) -> bool {
        self.kind == TokenKind::Mark(mark)
    }

    /// Whether it is a word.
    pub fn is_word(&self) -> bool {
        self.kind == TokenKind::Word
    }
}

/// The longest message that is listened to, in bytes: the rest of a longer one is left alone.
const LONGEST: usize = 2_000;

/// A message as tokens.
pub fn tokens(text: &str) -> Vec<Token> {
    let mut found: Vec<Token> = Vec::new();
    let said = text.len() - past_line_number(text).len();
    let mut chars =
        text.char_indices().skip_while(|(at, _)| *at < said).take_while(|(at, _)| *at < LONGEST).peekable();
    let mut touching = false;
    while let Some((at, c)) = chars.next() {
        let plain = plain(c);
        let next = chars.peek().map(|(_, next)| self::plain(*next));
        match plain {
            _ if plain.is_whitespace() && c != '\n' => touching = false,
            _ if plain.is_alphabetic() => {
                let joins = found.last().is_some_and(|last| last.is_word() && last.span.end == at);
                push_letter(&mut found, joins && touching, at, c, touching);
                touching = true;
            }
            '\'' if next.is_some_and(char::is_alphabetic)
                && touching
                && found.last().is_some_and(|last| last.is_word() && last.span.end == at) =>
            {
                // Belongs to the word; its bytes do, too.
                if let Some(last) = found.last_mut() {
                    last.span.end = at + c.len_utf8();
                }
            }
            _ if plain.is_ascii_digit() => {
                let joins = touching && found.last().is_some_and(|last| last.kind == TokenKind::Number);
                push_digit(&mut found, joins, at, plain, touching);
                touching = true;
            }
            '.' | ',' | '/'
                if next.is_some_and(|next| next.is_ascii_digit()) && ends_in_digit(&found, at) =>
            {
                if let Some(last) = found.last_mut() {
                    last.word.push(plain);
                    last.span.end = at + c.len_utf8();
                }
            }
            '-' if touching && next.is_some_and(char::is_alphabetic) => touching = false,
            _ if is_picture(c) => {
                found.push(token(TokenKind::Word, c.to_string(), at..at + c.len_utf8(), touching));
                touching = false;
            }
            _ if is_unseen(c) => {}
            _ => {
                let mark = if c == '\n' { ';' } else { plain };
                found.push(token(TokenKind::Mark(mark), mark.to_string(), at..at + c.len_utf8(), touching));
                touching = true;
            }
        }
    }
    found
}

/// What is said after the number of a line, as in "2. Roof timbers: all sound"; "8. not 7" has none.
fn past_line_number(text: &str) -> &str {
    let rest = text.trim_start().trim_start_matches(|c: char| c.is_ascii_digit());
    let digits = text.trim_start().len() - rest.len();
    let after = rest.strip_prefix(['.', ')']).filter(|_| matches!(digits, 1 | 2));
    match after.map(|after| (after, after.trim_start())) {
        Some((after, said))
            if said.len() < after.len() && said.starts_with(char::is_alphabetic) && said.contains(':') =>
        {
            said
        }
        _ => text,
    }
}

fn token(kind: TokenKind, word: String, span: Range<usize>, glued: bool) -> Token {
    Token { kind, word, span, glued, mended: false, known: false }
}

fn push_letter(found: &mut Vec<Token>, joins: bool, at: usize, c: char, touching: bool) {
    let end = at + c.len_utf8();
    if joins && let Some(last) = found.last_mut() {
        last.word.extend(folded(c).flat_map(char::to_lowercase));
        last.span.end = end;
        return;
    }
    let word = folded(c).flat_map(char::to_lowercase).collect();
    found.push(token(TokenKind::Word, word, at..end, touching));
}

fn push_digit(found: &mut Vec<Token>, joins: bool, at: usize, digit: char, touching: bool) {
    if joins && let Some(last) = found.last_mut() {
        last.word.push(digit);
        last.span.end = at + 1;
        return;
    }
    found.push(token(TokenKind::Number, digit.to_string(), at..at + 1, touching));
}

fn ends_in_digit(found: &[Token], at: usize) -> bool {
    let last = found.last().filter(|last| last.kind == TokenKind::Number && last.span.end == at);
    last.is_some_and(|last| last.word.ends_with(|c: char| c.is_ascii_digit()))
}

/// One plain sign for each of the many ways a keyboard writes it.
fn plain(c: char) -> char {
    match c {
        '’' | '‘' | '′' | '`' | '´' => '\'',
        '“' | '”' | '″' => '"',
        '–' | '—' | '−' | '‐' | '‑' => '-',
        '…' => '.',
        '\u{a0}' | '\u{202f}' | '\u{2009}' => ' ',
        'º' => '°',
        other => other,
    }
}

/// A letter without its accent.
fn folded(c: char) -> impl Iterator<Item = char> {
    let plain = match c {
        'à' | 'á' | 'â' | 'ã' | 'å' | 'ą' => 'a',
        'è' | 'é' | 'ê' | 'ë' | 'ę' => 'e',
        'ì' | 'í' | 'î' | 'ï' => 'i',
        'ò' | 'ó' | 'ô' | 'õ' => 'o',
        'ù' | 'ú' | 'û' => 'u',
        'ñ' | 'ń' => 'n',
        'ç' | 'ć' => 'c',
        other => other,
    };
    std::iter::once(plain)
}

/// Pictures by which people agree, refuse or cheer.
const fn is_picture(c: char) -> bool {
    matches!(c, '👍' | '👎' | '✅' | '✔' | '☑' | '👌' | '🆗' | '❌')
}

/// Joiners, skin tones and other pictures: they say nothing.
fn is_unseen(c: char) -> bool {
    matches!(c, '\u{200b}'..='\u{200f}' | '\u{fe00}'..='\u{fe0f}' | '\u{feff}' | '\u{2060}')
        || ('\u{1f000}'..='\u{1faff}').contains(&c)
        || ('\u{2600}'..='\u{27bf}').contains(&c)
        || c.is_control()
}
