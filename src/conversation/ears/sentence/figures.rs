//! Where the figures of a message stand, and of what kind each is. How much each is, only `units::reading` says.

use std::ops::Range;

use super::super::lexicon::{Hit, Means, Tag};
use super::super::normal::{Token, TokenKind};
use crate::units::reading::{Part, WrittenUnit, part_of};

/// What a figure measures, as far as it shows by itself. The kind decides which facts it can be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// Millimetres, metres, feet.
    Length,
    /// Degrees, so many in so many, per cent.
    Angle,
    /// Degrees of heat.
    Temperature,
    /// Of wind.
    Speed,
    /// Days, hours.
    Time,
    /// So many of something.
    Count,
    /// A price.
    Money,
    /// Kilograms.
    Mass,
    /// A number and nothing more.
    Bare,
}

impl Kind {
    /// Whether it can measure a roof.
    pub const fn measures(self) -> bool {
        matches!(self, Self::Length | Self::Angle | Self::Bare)
    }
}

/// What stands between a figure and the one before, where nothing else does.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Link {
    /// "by", "x".
    By,
    /// "and".
    And,
    /// A comma.
    Comma,
    /// "to", a dash.
    To,
    /// "or".
    Or,
}

/// One figure.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Figure {
    /// The tokens it takes.
    pub tokens: Range<usize>,
    /// As it is read: its own words, with "about" and the like beside them.
    pub text: String,
    /// What it measures.
    pub kind: Kind,
    /// Its link to the figure before.
    pub link: Option<Link>,
}

impl Figure {
    /// What it was written in, behind its digits: empty where no unit is, or no digits are.
    pub fn unit(&self) -> String {
        let behind = self.text.chars().skip_while(|c| !c.is_ascii_digit());
        behind.skip_while(|c| !c.is_alphabetic()).collect()
    }
}

/// The figures of a message, in order.
pub fn figures(text: &str, tokens: &[Token], hits: &[Hit<'_>]) -> Vec<Figure> {
    let mut found: Vec<Figure> = Vec::new();
    let mut at = 0;
    while at < tokens.len() {
        let Some(end) = atom(tokens, hits, at) else {
            at += 1;
            continue;
        };
        let kind = kind_of(tokens, hits, at..end);
        let lead = found.last().map_or(0, |last| last.tokens.end);
        let figure = Figure {
            text: with_doubt(text, tokens, hits, (lead, at..end)),
            tokens: at..end,
            kind,
            link: None,
        };
        add(&mut found, figure, tokens, hits);
        at = end;
    }
    found
}

/// Adds a figure; where it is the run to the rise before, or added to the one before, the two are one.
fn add(found: &mut Vec<Figure>, mut figure: Figure, tokens: &[Token], hits: &[Hit<'_>]) {
    let Some(last) = found.last_mut() else { return found.push(figure) };
    let between = last.tokens.end..figure.tokens.start;
    let over =
        hits.iter().find(|hit| hit.is(Tag::Over) && hit.start == between.start && hit.end <= between.end);
    let rest_is_small = |end: usize| {
        (end..between.end).all(|at| {
            let small = [Tag::Article, Tag::Of, Tag::Roughly];
            tokens.get(at).is_some_and(|token| token.is_word() && token.word.len() <= 3)
                || hits.iter().any(|hit| small.iter().any(|tag| hit.is(*tag)) && hit.start == at)
        })
    };
    let slopes = |figure: &Figure| matches!(figure.kind, Kind::Length | Kind::Bare);
    if over.is_some_and(|over| rest_is_small(over.end)) && slopes(last) && slopes(&figure) {
        last.text = format!("{} / {}", last.text, figure.text);
        last.tokens.end = figure.tokens.end;
        last.kind = Kind::Angle;
        return;
    }
    if last.kind.measures()
        && figure.kind.measures()
        && says_only(tokens, hits, &between, Tag::LinkPlus, &['+'])
    {
        last.text = format!("{} + {}", last.text, figure.text);
        last.tokens.end = figure.tokens.end;
        return;
    }
    let links = [
        (Tag::LinkBy, ['×', '*'], Link::By),
        (Tag::LinkTo, ['-', '~'], Link::To),
        (Tag::LinkOr, ['|', '|'], Link::Or),
        (Tag::LinkAnd, ['&', '&'], Link::And),
    ];
    figure.link = links
        .into_iter()
        .find_map(|(tag, marks, link)| says_only(tokens, hits, &between, tag, &marks).then_some(link));
    let comma = tokens.get(between.start).is_some_and(|token| token.is_mark(',') || token.is_mark(';'));
    let after = between.start + 1..between.end;
    if comma && (after.is_empty() || says_only(tokens, hits, &after, Tag::LinkAnd, &[])) {
        figure.link = Some(Link::Comma);
    } else if comma && says_only(tokens, hits, &after, Tag::LinkOr, &[]) {
        figure.link = Some(Link::Or);
    }
    // "3.1 by 2.2 metres": the unit serves both.
    if matches!(figure.link, Some(Link::By | Link::To | Link::Or)) && last.kind == Kind::Bare {
        last.kind = figure.kind;
    }
    found.push(figure);
}

/// Whether a stretch of tokens is one word or mark of that kind, and nothing more.
fn says_only(tokens: &[Token], hits: &[Hit<'_>], at: &Range<usize>, tag: Tag, marks: &[char]) -> bool {
    let by_word = hits.iter().any(|hit| hit.is(tag) && hit.start == at.start && hit.end == at.end);
    let only = if at.len() == 1 { tokens.get(at.start) } else { None };
    by_word || only.is_some_and(|token| marks.iter().any(|mark| token.is_mark(*mark)))
}

/// One past the last token of the figure that begins here.
fn atom(tokens: &[Token], hits: &[Hit<'_>], at: usize) -> Option<usize> {
    let mut scan = Scan { tokens, hits, end: at, last: Last::Nothing, numbers: 0 };
    scan.begin()?;
    while scan.step() {}
    Some(scan.end)
}

/// What was taken last.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Last {
    Nothing,
    Digits,
    Word,
    Share,
    Unit(WrittenUnit),
    Mark,
}

struct Scan<'a> {
    tokens: &'a [Token],
    hits: &'a [Hit<'a>],
    end: usize,
    last: Last,
    numbers: usize,
}

impl Scan<'_> {
    fn word(&self, ahead: usize) -> &str {
        self.tokens.get(self.end + ahead).map_or("", |token| token.word.as_str())
    }

    fn kind(&self, ahead: usize) -> Option<TokenKind> {
        self.tokens.get(self.end + ahead).map(|token| token.kind)
    }

    /// Whether the word that far ahead is of this kind.
    fn is(&self, tag: Tag, ahead: usize) -> bool {
        self.hits.iter().any(|hit| hit.is(tag) && hit.start == self.end + ahead)
    }

    fn part(&self, ahead: usize) -> Option<Part> {
        if self.kind(ahead)? == TokenKind::Word { part_of(self.word(ahead)) } else { None }
    }

    fn take(&mut self, count: usize, last: Last) -> bool {
        self.end += count;
        self.last = last;
        true
    }

    fn begin(&mut self) -> Option<()> {
        let begun = match self.kind(0)? {
            TokenKind::Number => self.number(),
            TokenKind::Mark(mark) if is_fraction(mark) => self.take(1, Last::Digits),
            TokenKind::Mark(_) => false,
            TokenKind::Word => match (self.part(0), self.part(1)) {
                // "The one", "one of them", "one slope" measure nothing.
                (Some(Part::Number), next) if self.is(Tag::One, 0) => {
                    let measures = matches!(next, Some(Part::Unit(_) | Part::Joins | Part::Share))
                        || self.is(Tag::Over, 1);
                    measures && self.take(1, Last::Word)
                }
                (Some(Part::Number), _) => self.take(1, Last::Word),
                (Some(Part::Joins), Some(Part::Number | Part::Unit(_))) => self.take(1, Last::Word),
                // "half a metre", "three quarters of an inch"
                (Some(Part::Share), Some(Part::Unit(_))) => self.take(1, Last::Share),
                (Some(Part::Share), _) if self.is(Tag::Article, 1) || self.is(Tag::Of, 1) => {
                    let unit = matches!(self.part(2), Some(Part::Unit(_)))
                        || matches!(self.part(3), Some(Part::Unit(_)));
                    unit && self.take(1, Last::Share)
                }
                // "a foot", "a metre and a half"
                (None, Some(Part::Unit(unit))) if self.is(Tag::Article, 0) => self.take(2, Last::Unit(unit)),
                _ => false,
            },
        };
        begun.then_some(())
    }

    fn number(&mut self) -> bool {
        self.numbers += 1;
        self.take(1, Last::Digits)
    }

    fn step(&mut self) -> bool {
        match self.kind(0) {
            Some(TokenKind::Number) => self.another_number(),
            Some(TokenKind::Mark(mark)) => match (mark, self.last) {
                ('\'' | '"' | '°' | '%', Last::Digits | Last::Mark | Last::Word | Last::Share) => {
                    self.take(1, Last::Mark)
                }
                _ if is_fraction(mark) => self.take(1, Last::Digits),
                _ => false,
            },
            Some(TokenKind::Word) => self.another_word(),
            None => false,
        }
    }

    /// A number behind what was taken: "2 400", "8ft 6", "2m40", "6 1/2".
    fn another_number(&mut self) -> bool {
        let word = self.word(0);
        let small = word.parse::<u32>().is_ok_and(|number| number <= 11) || word.contains('/');
        let unit_next = matches!(self.part(1), Some(Part::Unit(_)));
        let inches_next = matches!(self.part(1), Some(Part::Unit(WrittenUnit::In)))
            || matches!(self.kind(1), Some(TokenKind::Mark('"')));
        let glued = self.tokens.get(self.end).is_some_and(|token| token.glued);
        let joins = match self.last {
            Last::Digits => {
                let thousands = word.len() == 3 && !word.contains(['.', ',', '/']);
                thousands || (word.contains('/') && !word.contains('.'))
            }
            Last::Unit(WrittenUnit::Ft) => small && (inches_next || !unit_next),
            Last::Mark => inches_next || (small && !unit_next) || glued,
            Last::Unit(WrittenUnit::M) => {
                let cm = matches!(self.part(1), Some(Part::Unit(WrittenUnit::Cm | WrittenUnit::Mm)));
                glued || cm || (word.len() == 2 && !unit_next && !word.contains('.'))
            }
            Last::Unit(WrittenUnit::Cm) => matches!(self.part(1), Some(Part::Unit(WrittenUnit::Mm))),
            Last::Word => false,
            Last::Nothing | Last::Share | Last::Unit(_) => false,
        };
        joins && self.number()
    }

    fn another_word(&mut self) -> bool {
        let numeral = matches!(self.last, Last::Digits | Last::Word | Last::Share | Last::Mark);
        match self.part(0) {
            Some(Part::Unit(unit)) if numeral => self.take(1, Last::Unit(unit)),
            Some(Part::Number) => {
                let inches = matches!(self.last, Last::Unit(WrittenUnit::Ft | WrittenUnit::M));
                let goes_on = self.last == Last::Word || (inches && !self.is(Tag::One, 0));
                goes_on && self.take(1, Last::Word)
            }
            Some(Part::Joins) if numeral => self.take(1, Last::Word),
            Some(Part::Share) if matches!(self.last, Last::Word | Last::Digits) => self.take(1, Last::Share),
            // Inches, unless a number follows: "1 in 4".
            _ if self.is(Tag::Inch, 0) && matches!(self.last, Last::Digits | Last::Mark) => {
                let number_next = matches!(self.kind(1), Some(TokenKind::Number))
                    || matches!(self.part(1), Some(Part::Number | Part::Joins))
                    || self.is(Tag::NotInches, 0);
                !number_next && self.take(1, Last::Unit(WrittenUnit::In))
            }
            _ if (self.is(Tag::Article, 0) || self.is(Tag::Of, 0)) && self.last == Last::Share => {
                let unit = matches!(self.part(1), Some(Part::Unit(_)))
                    || matches!(self.part(2), Some(Part::Unit(_)));
                unit && self.take(1, Last::Share)
            }
            _ if self.is(Tag::LinkAnd, 0) => self.and_more(),
            _ => false,
        }
    }

    /// "and a half", "and three quarters", "hundred and ten".
    fn and_more(&mut self) -> bool {
        let share = |part: Option<Part>| part == Some(Part::Share);
        if self.is(Tag::Article, 1) && share(self.part(2)) {
            return self.take(3, Last::Share);
        }
        if share(self.part(1)) {
            return self.take(2, Last::Share);
        }
        if self.part(1) == Some(Part::Number) && share(self.part(2)) {
            return self.take(3, Last::Share);
        }
        // "Two metres and thirty" is 2.30 m.
        let tens = matches!(self.part(1), Some(Part::Number)) && !matches!(self.part(2), Some(Part::Unit(_)));
        if self.last == Last::Unit(WrittenUnit::M) && tens && !self.is(Tag::One, 1) {
            return self.take(2, Last::Word);
        }
        let before = self.end.checked_sub(1).and_then(|before| self.tokens.get(before));
        let hundred = before.is_some_and(|token| part_of(&token.word) == Some(Part::Joins));
        hundred && self.part(1) == Some(Part::Number) && self.take(2, Last::Word)
    }
}

fn is_fraction(mark: char) -> bool {
    matches!(mark, '½' | '¼' | '¾' | '⅓' | '⅔' | '⅛' | '⅜' | '⅝' | '⅞')
}

/// A figure's own words, with those beside it that say how sure it is.
fn with_doubt(text: &str, tokens: &[Token], hits: &[Hit<'_>], (least, at): (usize, Range<usize>)) -> String {
    let roughly = |start: usize, end: usize| {
        hits.iter().find(|hit| hit.is(Tag::Roughly) && (hit.end == start || hit.start == end))
    };
    let (mut start, mut end) = (at.start, at.end);
    if let Some(hit) = roughly(start, usize::MAX).filter(|hit| hit.start >= least) {
        start = hit.start;
    }
    if let Some(hit) = roughly(usize::MAX, end) {
        end = hit.end;
    }
    let from = tokens.get(start).map_or(0, |token| token.span.start);
    let to = end.checked_sub(1).and_then(|last| tokens.get(last)).map_or(from, |token| token.span.end);
    text.get(from..to).unwrap_or_default().to_owned()
}

fn kind_of(tokens: &[Token], hits: &[Hit<'_>], at: Range<usize>) -> Kind {
    let own = tokens.get(at.clone()).unwrap_or_default();
    let has_mark = |mark: char| own.iter().any(|token| token.is_mark(mark));
    let unit =
        own.iter().rev().filter(|token| token.is_word()).find_map(|token| match part_of(&token.word) {
            Some(Part::Unit(unit)) => Some(unit),
            Some(_) | None => None,
        });
    let inches = hits.iter().any(|hit| hit.is(Tag::Inch) && hit.start + 1 == at.end && own.len() > 1);
    let unit = unit.or(inches.then_some(WrittenUnit::In));
    let next_is = |tag: Tag| hits.iter().any(|hit| hit.is(tag) && hit.start == at.end);
    let sign = at.start.checked_sub(1).and_then(|before| tokens.get(before));
    if sign.is_some_and(|token| matches!(token.kind, TokenKind::Mark('£' | '$' | '€')))
        || next_is(Tag::MoneyUnit)
    {
        return Kind::Money;
    }
    let degrees = has_mark('°') || unit == Some(WrittenUnit::Deg);
    if next_is(Tag::Heat) || (degrees && is_of_heat(tokens, hits, &at)) {
        return Kind::Temperature;
    }
    let foreign = [(Tag::MassUnit, Kind::Mass), (Tag::SpeedUnit, Kind::Speed), (Tag::TimeUnit, Kind::Time)];
    if let Some((_, kind)) = foreign.into_iter().find(|(tag, _)| next_is(*tag)) {
        return kind;
    }
    if degrees || has_mark('%') || unit == Some(WrittenUnit::Percent) {
        return Kind::Angle;
    }
    if unit.is_some() || has_mark('\'') || has_mark('"') {
        return Kind::Length;
    }
    // `4/12` alone is a slope; "5 in" has its unit.
    if own.len() == 1 && own.iter().any(|token| token.kind == TokenKind::Number && token.word.contains('/')) {
        return Kind::Bare;
    }
    let counted = |hit: &Hit<'_>| hit.is(Tag::Counted) || matches!(hit.means, Means::Goods(_));
    let small =
        |at: usize| hits.iter().any(|hit| (hit.is(Tag::Of) || hit.is(Tag::Article)) && hit.start == at);
    let mut next = at.end;
    while small(next) && next < at.end + 3 {
        next += 1;
    }
    if hits.iter().any(|hit| counted(hit) && hit.start == next) { Kind::Count } else { Kind::Bare }
}

/// Whether degrees are of heat: the weather is spoken of in the same sentence.
fn is_of_heat(tokens: &[Token], hits: &[Hit<'_>], at: &Range<usize>) -> bool {
    let ends = |token: &Token| matches!(token.kind, TokenKind::Mark('.' | '!' | '?' | ';'));
    let start = tokens.get(..at.start).unwrap_or_default().iter().rposition(ends).map_or(0, |end| end + 1);
    let end = tokens
        .get(at.end..)
        .unwrap_or_default()
        .iter()
        .position(ends)
        .map_or(tokens.len(), |end| at.end + end);
    hits.iter().any(|hit| hit.is(Tag::Heat) && hit.start >= start && hit.end <= end)
}
