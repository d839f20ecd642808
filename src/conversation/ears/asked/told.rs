//! The figures that stand in a message, each with its unit, and the message with `#` in their place.

use std::ops::Range;

use regex::Regex;

use super::lexicon::{Lexicon, Of};
use crate::units::{Angle, Length, Mass, Speed, Temperature};

/// How much a figure is, and of what kind. Numbers that need no type of their own are in thousandths.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Amount {
    /// A length.
    Length(Length),
    /// So many corrugations.
    Waves(i64),
    /// An angle.
    Angle(Angle),
    /// A temperature.
    Temperature(Temperature),
    /// A speed of the wind.
    Speed(Speed),
    /// A mass.
    Mass(Mass),
    /// Money, in whatever currency.
    Money(i64),
    /// A time of work, in minutes.
    Minutes(i64),
    /// Years.
    Years(i64),
    /// A number without a unit.
    Bare(i64),
}

/// One figure as it was told.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Told {
    /// How much.
    pub amount: Amount,
    /// As it was written.
    pub written: String,
    /// Where its `#` stands in the plain text.
    pub at: usize,
}

/// A message made ready: plain text with a `#` for every figure.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Plain {
    pub(super) text: String,
    pub(super) figures: Vec<Told>,
}

impl Plain {
    /// Its parts, each with the mark it ends in.
    pub(super) fn parts(&self, split: &Regex) -> Vec<Self> {
        let ends = split.find_iter(&self.text).map(|found| {
            let is_mark = !found.as_str().starts_with(char::is_alphabetic);
            if is_mark { found.end() } else { found.start() }
        });
        let mut parts = Vec::new();
        let mut start = 0;
        for end in ends.chain([self.text.len()]).filter(|end| *end > 0) {
            let inside = |told: &&Told| (start..end).contains(&told.at);
            let moved = |told: &Told| Told { at: told.at.saturating_sub(start), ..told.clone() };
            let text = self.text.get(start..end).unwrap_or_default().to_owned();
            let figures = self.figures.iter().filter(inside).map(moved).collect();
            if !text.trim().is_empty() {
                parts.push(Self { text, figures });
            }
            start = end;
        }
        parts
    }
}

#[derive(Clone, Debug)]
struct Token {
    text: String,
    /// Whether nothing stands between it and the one before.
    glued: bool,
    at: Range<usize>,
}

impl Token {
    fn is_number(&self) -> bool {
        self.text.starts_with(|c: char| c.is_ascii_digit())
    }

    fn is_word(&self) -> bool {
        self.text.starts_with(char::is_alphabetic)
    }
}

/// The longest message that figures are looked for in, in bytes: a question is shorter.
const MOST: usize = 600;

pub(super) fn read(lexicon: &Lexicon, text: &str) -> Plain {
    if text.len() > MOST {
        return Plain::default();
    }
    let text = lexicon.rewritten(&plain_letters(text));
    let reader = Reader { lexicon, text: &text, tokens: tokens(&text) };
    reader.plain()
}

/// Small letters, one sign for each kind of mark, and no apostrophe inside a word.
fn plain_letters(text: &str) -> String {
    let lower =
        text.to_lowercase().replace(['’', '‘', '′'], "'").replace(['”', '“', '″'], "\"").replace('×', "x");
    let letters: Vec<char> = lower.chars().collect();
    let inside = |at: usize| {
        let letter = |at: Option<usize>| at.and_then(|at| letters.get(at)).is_some_and(|c| c.is_alphabetic());
        letter(at.checked_sub(1)) && letter(at.checked_add(1))
    };
    let kept = letters.iter().enumerate().filter(|(at, c)| **c != '\'' || !inside(*at));
    kept.map(|(_, c)| *c).collect()
}

fn tokens(text: &str) -> Vec<Token> {
    let mut found: Vec<Token> = Vec::new();
    let mut rest = text.char_indices().peekable();
    let mut end_before = None;
    while let Some((start, c)) = rest.next() {
        if c.is_whitespace() {
            continue;
        }
        let mut end = start + c.len_utf8();
        let digits = c.is_ascii_digit();
        while let Some((at, next)) = rest.peek().copied() {
            let after = text.get(at + next.len_utf8()..).and_then(|rest| rest.chars().next());
            let inner = matches!(next, '.' | ',') && after.is_some_and(|c| c.is_ascii_digit());
            let goes_on = if digits {
                next.is_ascii_digit() || inner
            } else {
                c.is_alphabetic() && next.is_alphabetic()
            };
            if !goes_on {
                break;
            }
            end = at + next.len_utf8();
            rest.next();
        }
        let text = text.get(start..end).unwrap_or_default().to_owned();
        found.push(Token { text, glued: end_before == Some(start), at: start..end });
        end_before = Some(end);
    }
    found
}

struct Reader<'a> {
    lexicon: &'a Lexicon,
    text: &'a str,
    tokens: Vec<Token>,
}

/// A number and the token after it.
type Number = (i64, usize);

impl Reader<'_> {
    fn plain(&self) -> Plain {
        let mut plain = Plain::default();
        let mut at = 0;
        while let Some(token) = self.tokens.get(at) {
            if !plain.text.is_empty() {
                plain.text.push(' ');
            }
            if let Some((amount, next)) = self.figure(at) {
                let end = next.checked_sub(1).and_then(|last| self.tokens.get(last));
                let span = token.at.start..end.map_or(token.at.end, |last| last.at.end);
                let written = self.text.get(span).unwrap_or_default().trim().to_owned();
                plain.figures.push(Told { amount, written, at: plain.text.len() });
                plain.text.push('#');
                at = next;
            } else if let Some(next) = self.product(at) {
                at = next;
            } else {
                plain.text.push_str(&token.text);
                at += 1;
            }
        }
        plain
    }

    fn text(&self, at: usize) -> Option<&str> {
        self.tokens.get(at).map(|token| token.text.as_str())
    }

    /// “50 x 38” is a size of two figures, and none to judge.
    fn product(&self, at: usize) -> Option<usize> {
        let (_, next) = self.number(at)?;
        let (_, unit) = self.unit(next).unzip();
        let by = unit.unwrap_or(next);
        let (_, end) = self
            .lexicon
            .joining
            .by
            .iter()
            .any(|word| Some(word.as_str()) == self.text(by))
            .then(|| self.number(by + 1))??;
        Some(self.unit(end).map_or(end, |(_, end)| end))
    }

    fn figure(&self, at: usize) -> Option<(Amount, usize)> {
        if self.product(at).is_some() {
            return None;
        }
        if let Some((Of::Money, _)) = self.text(at).and_then(|sign| self.lexicon.unit(sign))
            && let Some((value, next)) = self.number(at + 1)
            && !self.tokens.get(at).is_some_and(Token::is_word)
        {
            return Some((Amount::Money(value), next));
        }
        let minus = self.text(at).is_some_and(|word| word == "-" || self.lexicon.joining.minus == word);
        if minus && let Some((value, next)) = self.number(at + 1) {
            let free = self.tokens.get(at).is_some_and(|token| !token.glued);
            return free
                .then(|| self.with_unit(-value, next))
                .filter(|(amount, _)| matches!(amount, Amount::Temperature(_) | Amount::Bare(_)));
        }
        let (value, next) = self.number(at)?;
        if let Some(ratio) = self.ratio(value, next) {
            return Some(ratio);
        }
        let figure = self.with_unit(value, next);
        let stands_for_a_thing = self.tokens.get(at).is_some_and(Token::is_word) && value == 1_000;
        let counts =
            self.text(next).is_some_and(|word| self.lexicon.one_before.iter().any(|one| one == word));
        let bare = matches!(figure.0, Amount::Bare(_));
        (!stands_for_a_thing || !bare || counts).then_some(figure)
    }

    /// “1 in 12” and “1:12”.
    fn ratio(&self, value: i64, next: usize) -> Option<(Amount, usize)> {
        let between = self.text(next)?;
        let joins = between == self.lexicon.joining.ratio || between == ":";
        let (run, end) = self.number(next + 1).filter(|_| joins)?;
        let angle = Angle::from_rise_run(Length::from_um(value), Length::from_um(run))?;
        Some((Amount::Angle(angle), end))
    }

    fn with_unit(&self, value: i64, next: usize) -> (Amount, usize) {
        let Some(((of, one), end)) = self.unit(next) else { return (Amount::Bare(value), next) };
        let times = |one: i64| value.saturating_mul(one).div_euclid(1_000);
        let amount = match of {
            Of::Length => {
                let (more, end) = self.rest_of_length(one, end);
                return (Amount::Length(Length::from_um(times(one).saturating_add(more))), end);
            }
            Of::Waves => Amount::Waves(value),
            Of::Angle => Amount::Angle(Angle::from_microdeg(value.saturating_mul(1_000))),
            Of::Celsius => Amount::Temperature(Temperature::from_millicelsius(value)),
            Of::Fahrenheit => Amount::Temperature(Temperature::from_millifahrenheit(value)),
            Of::Speed => Amount::Speed(Speed::from_um_per_second(times(one))),
            Of::Mass => Amount::Mass(Mass::from_g(times(one))),
            Of::Money => Amount::Money(value),
            Of::Time => Amount::Minutes(times(one)),
            Of::Years => Amount::Years(value),
        };
        (amount, end)
    }

    /// Inches after feet, millimetres after metres: a smaller unit right behind, or a bare number after feet.
    fn rest_of_length(&self, one: i64, next: usize) -> (i64, usize) {
        let Some((value, after)) = self.number(next) else { return (0, next) };
        let number = self.tokens.get(next).is_some_and(Token::is_number);
        match self.unit(after) {
            Some(((Of::Length, smaller), end)) if number && smaller < one => {
                (value.saturating_mul(smaller).div_euclid(1_000), end)
            }
            None if number && one == FOOT && value < 12_000 => {
                (value.saturating_mul(INCH).div_euclid(1_000), after)
            }
            Some(_) | None => (0, next),
        }
    }

    /// A unit, of one token or of two or three that are glued: `°c`, `m/s`.
    fn unit(&self, at: usize) -> Option<((Of, i64), usize)> {
        let first = self.tokens.get(at)?;
        let hyphen =
            first.text == "-" && first.glued && self.tokens.get(at + 1).is_some_and(|next| next.glued);
        let at = if hyphen { at + 1 } else { at };
        for count in [3_usize, 2, 1] {
            let Some(tokens) = self.tokens.get(at..at + count) else { continue };
            let glued = tokens.iter().skip(1).all(|token| token.glued);
            let word: String = tokens.iter().map(|token| token.text.as_str()).collect();
            if let Some(unit) = self.lexicon.unit(&word).filter(|_| glued && self.is_unit(at, &word)) {
                return Some((unit, at + count));
            }
        }
        None
    }

    /// A single letter or mark is a unit only where it is glued to its number, and “in” only where none of the words
    /// follows that it leads to; metres may stand apart.
    fn is_unit(&self, at: usize, word: &str) -> bool {
        let Some(token) = self.tokens.get(at) else { return false };
        let short = word.chars().count() == 1 && !self.lexicon.stands_apart(word);
        if word == self.lexicon.joining.ratio && !token.glued {
            let follows = self.tokens.get(at + 1);
            return follows.is_none_or(|next| {
                let word = next.is_word();
                if word { self.lexicon.may_follow_inch(&next.text) } else { !next.is_number() }
            });
        }
        token.glued || !short
    }

    /// A number in digits, with its fraction, or in words; in thousandths.
    fn number(&self, at: usize) -> Option<Number> {
        let token = self.tokens.get(at)?;
        if token.is_number() {
            let (value, next) = (thousandths(&token.text)?, at + 1);
            let ordinal =
                self.tokens.get(next).is_some_and(|next| next.glued && self.lexicon.is_ordinal(&next.text));
            let whole = if let Some(over) = self.over(next) {
                (value.checked_div(over)?, next + 2)
            } else {
                (value, next)
            };
            return (!ordinal).then(|| self.with_fraction(self.in_hundreds(whole)));
        }
        if let Some(part) = self.lexicon.parts.get(&token.text) {
            return self.unit(at + 1).map(|_| (*part, at + 1));
        }
        self.in_words(at).map(|found| self.with_fraction(found))
    }

    /// “2 hundred”.
    fn in_hundreds(&self, (value, next): Number) -> Number {
        let word = self.text(next).and_then(|word| self.lexicon.numbers.get(word));
        match word {
            Some(times @ (100 | 1_000)) => (value.saturating_mul(*times), next + 1),
            Some(_) | None => (value, next),
        }
    }

    /// The number under a stroke: `/ 2`.
    fn over(&self, at: usize) -> Option<i64> {
        let under = self.text(at + 1).filter(|_| self.text(at) == Some("/"))?;
        let glued = self.tokens.get(at).is_some_and(|stroke| stroke.glued);
        under.parse().ok().filter(|under| glued && [2, 4, 8, 16].contains(under))
    }

    /// “1 1/2”, “2½”, “two and a half”.
    fn with_fraction(&self, (value, next): Number) -> Number {
        let sign = match self.text(next) {
            Some("½") => Some(500),
            Some("¼") => Some(250),
            Some("¾") => Some(750),
            Some(_) | None => None,
        };
        if let Some(sign) = sign {
            return (value.saturating_add(sign), next + 1);
        }
        let top = self.text(next).and_then(thousandths).filter(|top| *top < 16_000);
        match top.zip(self.over(next + 1)) {
            Some((top, under)) => (value.saturating_add(top.div_euclid(under)), next + 3),
            None => (value, next),
        }
    }

    /// Words after one another: “a hundred and fifty”, “twenty five”, and spoken “one fifty” or “six ten”.
    fn in_words(&self, at: usize) -> Option<Number> {
        let mut so_far: Option<i64> = None;
        let mut next = at;
        while let Some(word) = self.text(next) {
            let joined = so_far.is_some() && word == self.lexicon.joining.between;
            let place = if joined { next + 1 } else { next };
            let value = self.text(place).and_then(|word| self.lexicon.numbers.get(word).copied());
            let Some(sum) = value.and_then(|value| added(so_far, value, joined)) else { break };
            so_far = Some(sum);
            next = place + 1;
        }
        so_far.map(|value| (value.saturating_mul(1_000), next))
    }
}

const FOOT: i64 = 304_800;
const INCH: i64 = 25_400;

/// What a number comes to with one word more; `None` where that word starts another.
const fn added(so_far: Option<i64>, value: i64, joined: bool) -> Option<i64> {
    let Some(sum) = so_far else { return Some(value) };
    match value {
        12 | 100 | 1_000 if !joined && sum < value && value != 12 => Some(sum * value),
        _ if sum >= 100 && sum % 100 == 0 && value < 100 => Some(sum + value),
        _ if joined => None,
        1..=9 if sum >= 20 && sum % 10 == 0 => Some(sum + value),
        10..=90 if sum < 20 => Some(sum * 100 + value),
        _ => None,
    }
}

/// Digits with their fraction, in thousandths: `1,200`, `7.5`, `0,5`.
fn thousandths(text: &str) -> Option<i64> {
    let grouped = text.rsplit_once(',').is_some_and(|(_, last)| last.len() == 3);
    let plain = if grouped { text.replace(',', "") } else { text.replace(',', ".") };
    let (whole, part) = plain.split_once('.').unwrap_or((&plain, ""));
    let part: String = part.chars().chain("000".chars()).take(3).collect();
    let whole: i64 = whole.parse().ok()?;
    whole.checked_mul(1_000)?.checked_add(part.parse().ok()?)
}
