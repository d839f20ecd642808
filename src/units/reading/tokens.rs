//! From plain letters to numbers, words and signs.

use super::exact::Exact;
use super::letters::vulgar_fraction;

/// How a number was written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Form {
    /// `2400`, "eight".
    Whole,
    /// `2.4`, "two point four": never feet or inches when bare.
    Decimal,
    /// `½`, `6 1/2`, "six and a half".
    Fraction,
    /// `4/12` and nothing more: a share of a whole, or a slope.
    Slashed,
}

/// A number as written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Numeral {
    /// The likelier value.
    pub(super) value: Exact,
    /// The other value, where a comma or point may part thousands or decimals: `2,400`, `2.400`.
    pub(super) other: Option<Exact>,
    /// How it was written.
    pub(super) form: Form,
    /// Digits before any point, zeros in front included; 0 for words.
    pub(super) digits: usize,
}

impl Numeral {
    /// One value, one form.
    pub(super) fn plain(value: Exact, form: Form) -> Self {
        Self { value, other: None, form, digits: 0 }
    }
}

/// The smallest piece that means something.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Piece {
    /// Digits with their points and commas.
    Number(Numeral),
    /// A vulgar fraction sign.
    Vulgar(Exact),
    /// Digits that make no number: `2.4.6`.
    Broken,
    /// Letters, small, apostrophes left out.
    Word(String),
    /// Any other sign.
    Sign(char),
}

/// A piece and whether it touches the one before.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Token {
    pub(super) piece: Piece,
    pub(super) glued: bool,
}

/// Signs that mean something here; the rest part words and no more.
const SIGNS: &str = "'\"°%/:+-,;~=()&<>±²³?$€£.@";

/// The pieces of plain letters, in order.
pub(super) fn tokens(letters: &[char]) -> Vec<Token> {
    let mut found = Vec::new();
    let mut rest = letters;
    let mut glued = false;
    while let [first, after @ ..] = rest {
        let (pieces, left) = match first {
            ' ' => (Vec::new(), after),
            digit if digit.is_ascii_digit() => number(rest),
            '.' | ',' if starts_decimal(after) && !follows_number(&found, glued) => number(rest),
            letter if letter.is_alphabetic() => word(rest),
            '\'' if after.first() == Some(&'\'') => (vec![Piece::Sign('"')], after.get(1..).unwrap_or(&[])),
            other => (sign(*other), after),
        };
        let nothing = pieces.is_empty();
        for piece in pieces {
            found.push(Token { piece, glued });
            glued = true;
        }
        glued &= !nothing;
        rest = left;
    }
    found
}

fn starts_decimal(after: &[char]) -> bool {
    after.first().is_some_and(char::is_ascii_digit)
}

fn follows_number(found: &[Token], glued: bool) -> bool {
    glued && matches!(found.last().map(|token| &token.piece), Some(Piece::Number(_) | Piece::Broken))
}

fn sign(letter: char) -> Vec<Piece> {
    match vulgar_fraction(letter) {
        Some((over, under)) => {
            Exact::fraction(Exact::whole(over), Exact::whole(under)).map(Piece::Vulgar).into_iter().collect()
        }
        None if SIGNS.contains(letter) => vec![Piece::Sign(letter)],
        None => Vec::new(),
    }
}

/// A run of letters; an apostrophe between two letters belongs to the word and is dropped.
fn word(letters: &[char]) -> (Vec<Piece>, &[char]) {
    let mut rest = letters;
    let mut text = String::new();
    loop {
        match rest {
            [letter, after @ ..] if letter.is_alphabetic() => {
                text.push(*letter);
                rest = after;
            }
            ['\'', after @ ..] if after.first().is_some_and(|next| next.is_alphabetic()) => rest = after,
            _ => break,
        }
    }
    let before_digit = rest.first().is_some_and(char::is_ascii_digit);
    (split_word(text, before_digit), rest)
}

/// `mx2` is metres by 2 and `mish` is metres, roughly.
fn split_word(text: String, before_digit: bool) -> Vec<Piece> {
    let is_unit = |start: &str| matches!(start, "mm" | "cm" | "m" | "ft" | "in" | "deg");
    for (ending, wanted) in [("x", before_digit), ("ish", true)] {
        if let Some(start) = text.strip_suffix(ending).filter(|start| wanted && is_unit(start)) {
            return vec![Piece::Word(start.to_owned()), Piece::Word(ending.to_owned())];
        }
    }
    vec![Piece::Word(text)]
}

/// A run of digits with points and commas between them.
fn number(letters: &[char]) -> (Vec<Piece>, &[char]) {
    let mut groups = vec![String::new()];
    let mut marks = Vec::new();
    let mut rest = letters;
    loop {
        match rest {
            [digit, after @ ..] if digit.is_ascii_digit() => {
                if let Some(group) = groups.last_mut() {
                    group.push(*digit);
                }
                rest = after;
            }
            [mark @ ('.' | ','), after @ ..] if starts_decimal(after) => {
                marks.push(*mark);
                groups.push(String::new());
                rest = after;
            }
            _ => break,
        }
    }
    let groups: Vec<&str> = groups.iter().map(String::as_str).collect();
    (numerals(&groups, &marks), rest)
}

/// The number, or the two numbers with a comma between, that groups of digits make.
fn numerals(groups: &[&str], marks: &[char]) -> Vec<Piece> {
    let one = |numeral| vec![Piece::Number(numeral)];
    match (groups, marks) {
        ([whole], []) => one(whole_number(whole)),
        ([before, after], [',']) if before.len() > 3 && after.len() >= 3 => {
            pair(&[before], &[], &[after], &[])
        }
        ([before, after], [mark]) => one(decimal(before, after, *mark)),
        _ => match thousands(groups, marks) {
            Some(numeral) => one(numeral),
            None => match comma_between(marks) {
                Some(at) => {
                    let (left, right) = groups.split_at_checked(at + 1).unwrap_or((groups, &[]));
                    let (left_marks, right_marks) = marks.split_at_checked(at).unwrap_or((marks, &[]));
                    pair(left, left_marks, right, right_marks.get(1..).unwrap_or(&[]))
                }
                None => vec![Piece::Broken],
            },
        },
    }
}

fn pair(left: &[&str], left_marks: &[char], right: &[&str], right_marks: &[char]) -> Vec<Piece> {
    let mut pieces = numerals(left, left_marks);
    pieces.push(Piece::Sign(','));
    pieces.extend(numerals(right, right_marks));
    pieces
}

/// The only comma among points, as in `2.4,2.6`.
fn comma_between(marks: &[char]) -> Option<usize> {
    let mut commas = marks.iter().enumerate().filter(|(_, mark)| **mark == ',');
    let (at, _) = commas.next()?;
    (commas.next().is_none() && marks.len() > 1).then_some(at)
}

fn whole_number(digits: &str) -> Numeral {
    Numeral { digits: digits.len(), ..Numeral::plain(Exact::from_digits(digits, ""), Form::Whole) }
}

/// `2.4`, `2,4`, `2.400` and `2,400`: three digits after the mark may be thousands.
fn decimal(before: &str, after: &str, mark: char) -> Numeral {
    let decimal = Exact::from_digits(before, after);
    let thousands = Exact::from_digits(&format!("{before}{after}"), "");
    let may_group = after.len() == 3 && (1..=3).contains(&before.len()) && !before.starts_with('0');
    let (value, other, form) = match (may_group, mark) {
        (true, ',') => (thousands, Some(decimal), Form::Whole),
        (true, _) => (decimal, Some(thousands), Form::Decimal),
        (false, _) => (decimal, None, Form::Decimal),
    };
    Numeral { value, other, form, digits: before.len() }
}

/// `1,234,567`, `1,234.5` and `1.234,5`.
fn thousands(groups: &[&str], marks: &[char]) -> Option<Numeral> {
    let (first_mark, last_mark) = (marks.first()?, marks.last()?);
    let (first, others) = groups.split_first()?;
    let fits =
        |groups: &[&str]| first.len() <= 3 && !first.is_empty() && groups.iter().all(|one| one.len() == 3);
    if marks.iter().all(|mark| mark == first_mark) {
        return fits(others).then(|| whole_number(&groups.concat()));
    }
    let (after, middle) = others.split_last()?;
    let inner = marks.get(..marks.len() - 1)?;
    let grouped = inner.iter().all(|mark| mark == first_mark) && first_mark != last_mark && fits(middle);
    let before = format!("{first}{}", middle.concat());
    grouped.then(|| Numeral {
        digits: before.len(),
        ..Numeral::plain(Exact::from_digits(&before, after), Form::Decimal)
    })
}
