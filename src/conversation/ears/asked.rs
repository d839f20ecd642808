//! Hears a figure that is put to the bot: which one, what of, and what is asked about it.
//!
//! “Is 150 enough?” puts a figure; “how much is enough?” asks for one, and is a topic's. What the figure is of is told by
//! the noun that stands nearest to it, by its unit, or by what the talk is about. All words are the book's
//! (`dialogs/hearing/`): nothing here knows a language, and nothing here knows the roof.

mod lexicon;
mod names;
mod told;

use std::fmt;
use std::sync::OnceLock;

use crate::units::{Angle, Length, Mass, Temperature};

pub use lexicon::{Joining, Lexicon, Of, Pattern, pattern};
pub use names::{Kind, Sense, Subject};
pub use told::{Amount, Told};

impl Amount {
    /// Of which kind it is.
    pub const fn kind(self) -> Kind {
        match self {
            Self::Length(_) => Kind::Length,
            Self::Waves(_) => Kind::Waves,
            Self::Angle(_) => Kind::Angle,
            Self::Temperature(_) => Kind::Celsius,
            Self::Speed(_) => Kind::Speed,
            Self::Mass(_) => Kind::Mass,
            Self::Money(_) => Kind::Money,
            Self::Minutes(_) => Kind::Time,
            Self::Years(_) => Kind::Years,
            Self::Bare(_) => Kind::Bare,
        }
    }
}

impl Kind {
    /// What a figure of this kind is of where no noun tells.
    const fn usual(self) -> Option<Subject> {
        match self {
            Self::Waves => Some(Subject::SideLap),
            Self::Angle => Some(Subject::Pitch),
            Self::Celsius => Some(Subject::Temperature),
            Self::Speed => Some(Subject::Wind),
            Self::Mass => Some(Subject::Mass),
            Self::Money => Some(Subject::Price),
            Self::Length | Self::Time | Self::Years | Self::Bare => None,
        }
    }
}

/// A figure that was put to the bot.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Asked {
    /// What is asked.
    pub sense: Sense,
    /// What the figure is of.
    pub subject: Subject,
    /// The figure; with [`Sense::Choice`] the two to choose from.
    pub figures: Vec<Told>,
    /// A slope that was named beside it.
    pub pitch: Option<Angle>,
}

/// The figures of a message.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Heard {
    /// Each that is put.
    pub asked: Vec<Asked>,
    /// Whether the message says or asks more than one thing.
    pub more: bool,
}

/// The ears for figures, made ready when the first message needs them: starting does not wait.
pub struct Asks {
    make: Box<dyn Fn() -> Lexicon + Send + Sync>,
    ready: OnceLock<Lexicon>,
}

impl fmt::Debug for Asks {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Asks").field("ready", &self.ready.get().is_some()).finish_non_exhaustive()
    }
}

impl Asks {
    /// Ears that are made ready on first use.
    pub fn new(make: impl Fn() -> Lexicon + Send + Sync + 'static) -> Self {
        Self { make: Box::new(make), ready: OnceLock::new() }
    }

    /// Every figure that stands in a message.
    pub fn figures(&self, text: &str) -> Vec<Told> {
        told::read(self.ready.get_or_init(&self.make), text).figures
    }

    /// The figures that a message puts, where it puts any. `about` is what the talk is about, for a figure that no noun
    /// stands by.
    pub fn hear(&self, text: &str, about: Option<Subject>) -> Heard {
        let lexicon = self.ready.get_or_init(&self.make);
        let plain = told::read(lexicon, text);
        let parts = plain.parts(&lexicon.split);
        let more = parts.len() > 1;
        let mut asked: Vec<Asked> = Vec::new();
        let mut told = None;
        for part in parts.iter().filter(|part| more && !part.figures.is_empty()) {
            let heard = lexicon.hear(part, &plain, told.or(about));
            told = heard.as_ref().map(|heard| heard.subject).or(told);
            // What is only told beside a question is no question.
            let is_told = |asked: &Asked| {
                asked.sense == Sense::Stated || (asked.sense == Sense::Confirm && !part.text.contains('?'))
            };
            asked.extend(heard.filter(|asked| !is_told(asked)));
        }
        if asked.is_empty() && !plain.figures.is_empty() {
            asked.extend(lexicon.hear(&plain, &plain, about));
        }
        Heard { asked, more }
    }
}

impl Lexicon {
    /// What one part of a message puts; nouns are looked for in it, then in the whole.
    fn hear(&self, part: &told::Plain, whole: &told::Plain, about: Option<Subject>) -> Option<Asked> {
        let text = part.text.as_str();
        let figures: Vec<Told> = part
            .figures
            .iter()
            .map(|told| Told { amount: self.meant(&in_full(told, whole), text), ..told.clone() })
            .collect();
        let figures = self.put(figures, text);
        let of = figures.iter().map(|told| {
            let in_whole = whole.figures.iter().find(|other| is_again(told, other));
            let by_whole =
                in_whole.and_then(|other| self.named(&Told { at: other.at, ..told.clone() }, &whole.text));
            self.named(told, text)
                .or(told.amount.kind().usual())
                .or(by_whole)
                .or_else(|| self.subject(told, about))
        });
        let of: Vec<Option<Subject>> = of.collect();
        let pitch = figures.iter().zip(&of).find_map(|(told, of)| match (told.amount, of) {
            (Amount::Angle(angle), Some(Subject::Pitch)) => Some(angle),
            _ => None,
        });
        let of: Vec<Option<Subject>> = of
            .into_iter()
            .zip(&figures)
            .map(|(of, told)| {
                of.or((pitch.is_some() && is_like_a_lap(told.amount)).then_some(Subject::EndLap))
            })
            .collect();
        let named = of.iter().position(|of| of.is_some_and(|of| of != Subject::Pitch));
        let first = named.or_else(|| of.iter().position(Option::is_some))?;
        let subject = match (*of.get(first)?)? {
            Subject::NailEvery if self.edge.is_match(text) => Subject::NailEveryEdge,
            subject => subject,
        };
        let sense = self.sense(text, subject)?;
        if subject == Subject::Nothing {
            return None;
        }
        let figures: Vec<Told> = match sense {
            Sense::Choice => self.chosen_between(&figures, first, text),
            _ => figures.get(first).into_iter().cloned().collect(),
        };
        // Of two figures the one with a unit tells what they are of.
        let by_unit = figures.last().filter(|_| figures.len() > 1);
        let by_unit = by_unit.and_then(|told| self.named(told, text).or(told.amount.kind().usual()));
        let subject = by_unit.unwrap_or(subject);
        let sense = if figures.len() < 2 && sense == Sense::Choice { Sense::Enough } else { sense };
        Some(Asked { sense, subject, pitch: pitch.filter(|_| subject != Subject::Pitch), figures })
    }

    /// The figures without those that are only quoted, where any other is left.
    fn put(&self, figures: Vec<Told>, text: &str) -> Vec<Told> {
        let quoted: Vec<std::ops::Range<usize>> =
            self.quoted.find_iter(text).map(|found| found.range()).collect();
        let is_quoted = |told: &Told| quoted.iter().any(|range| range.contains(&told.at));
        if figures.iter().all(is_quoted) {
            return figures;
        }
        figures.into_iter().filter(|told| !is_quoted(told)).collect()
    }

    /// The two figures of “170 or 200”: the unit of the second holds for a bare first one.
    fn chosen_between(&self, figures: &[Told], first: usize, text: &str) -> Vec<Told> {
        let Some(found) = self.senses.iter().find(|(sense, _)| *sense == Sense::Choice) else {
            return Vec::new();
        };
        let Some(span) = found.1.find(text) else { return Vec::new() };
        let inside: Vec<&Told> = figures.iter().filter(|told| span.range().contains(&told.at)).collect();
        let chosen: Vec<Told> = match inside.as_slice() {
            [a, .., b] => vec![like(a, b), (*b).clone()],
            _ => figures.get(first).into_iter().cloned().collect(),
        };
        chosen
    }

    /// Degrees may be the weather's, and pounds a weight.
    fn meant(&self, told: &Told, text: &str) -> Amount {
        let counts = |pattern: &regex::Regex| pattern.find_iter(text).count();
        match told.amount {
            Amount::Angle(angle)
                if angle.microdeg() % 1_000 == 0 && counts(&self.weather) > counts(&self.slope) =>
            {
                Amount::Temperature(Temperature::from_millicelsius(angle.microdeg() / 1_000))
            }
            Amount::Money(pounds)
                if !told.written.starts_with(|c: char| !c.is_alphanumeric())
                    && self.heavy.is_match(text)
                    && told.written.contains("pound") =>
            {
                Amount::Mass(Mass::from_g(pounds.saturating_mul(454).div_euclid(1_000)))
            }
            other => other,
        }
    }

    /// What a figure is of, by the nearest noun.
    fn named(&self, told: &Told, text: &str) -> Option<Subject> {
        let kind = told.amount.kind();
        let takes = |(subject, kinds, nouns): &'_ (Subject, Vec<Kind>, regex::Regex)| {
            let fits =
                kinds.contains(&kind) && (*subject != Subject::EdgeHeight || self.speaks_of_ladder(text));
            let nearest = nouns.find_iter(text).map(|noun| self.distance(text, &noun.range(), told.at)).min();
            nearest.filter(|_| fits).map(|distance| (distance, *subject))
        };
        // A bare number beside nails is their length where no roof has so few of them.
        let few = matches!(told.amount, Amount::Bare(value) if value <= MOST_NAIL_MM);
        let is_told = |(_, subject): &(usize, Subject)| match subject {
            Subject::NailLength if kind == Kind::Bare => few,
            Subject::Nails => !few,
            // Corrugations are few, and the millimetres of a lap are many.
            Subject::SideLap if kind == Kind::Bare => is_few_waves(told.amount),
            Subject::EndLap => !is_few_waves(told.amount),
            // So many purlins are a count, and so many more are how far apart they stand.
            Subject::Spacing if kind == Kind::Bare => is_a_gap(told.amount),
            Subject::Purlins => !is_a_gap(told.amount),
            _ => true,
        };
        let nearest =
            self.subjects.iter().filter_map(takes).filter(is_told).min_by_key(|(distance, _)| *distance);
        nearest.map(|(_, subject)| subject)
    }

    /// What a figure is of where no noun tells: by what the talk is about, or by its size.
    fn subject(&self, told: &Told, about: Option<Subject>) -> Option<Subject> {
        let kind = told.amount.kind();
        let fits = |subject: &Subject| {
            self.subjects.iter().any(|(one, kinds, _)| one == subject && kinds.contains(&kind))
        };
        let is_lap = kind == Kind::Length && is_like_a_lap(told.amount);
        about.filter(fits).or(is_lap.then_some(Subject::EndLap))
    }

    /// How far a noun stands from a figure: what follows it is a little nearer than what goes before, and what another
    /// clause holds is far.
    fn distance(&self, text: &str, noun: &std::ops::Range<usize>, at: usize) -> usize {
        let (between, away) = if noun.start > at {
            (at..noun.start, noun.start - at)
        } else {
            (noun.end..at, at.saturating_sub(noun.end).saturating_mul(2) + 1)
        };
        let parted = text.get(between).is_some_and(|between| self.divides.is_match(between));
        away + if parted { OTHER_CLAUSE } else { 0 }
    }

    fn speaks_of_ladder(&self, text: &str) -> bool {
        let ladder = self.subjects.iter().find(|(subject, _, _)| *subject == Subject::Ladder);
        ladder.is_some_and(|(_, _, nouns)| nouns.is_match(text))
    }

    /// What is asked; nothing where a figure is only told, or asked for. Of the weather it is enough to tell it.
    fn sense(&self, text: &str, subject: Subject) -> Option<Sense> {
        if matches!(subject, Subject::Ladder | Subject::EdgeHeight) {
            return Some(Sense::Enough);
        }
        let weather = matches!(subject, Subject::Wind | Subject::Temperature);
        let asks_for_one =
            (self.open.is_match(text) && !self.unless.is_match(text)) || self.elsewhere.is_match(text);
        // To go over a wave is to lap it, not to pass it.
        let laps = matches!(subject, Subject::SideLap | Subject::NailEvery | Subject::NailEveryEdge);
        let fits = |(sense, pattern): &&(Sense, regex::Regex)| {
            !(laps && matches!(sense, Sense::More | Sense::Less)) && pattern.is_match(text)
        };
        let sense = self.senses.iter().find(fits).map(|(sense, _)| *sense);
        // Whoever only tells the weather wants to know what it means.
        let told = weather && sense == Some(Sense::Confirm) && !text.contains('?');
        let asking = sense == Some(Sense::Choice) || self.asking.is_match(text);
        let asked = sense.filter(|_| asking && !told);
        asked.or(weather.then_some(Sense::Stated)).filter(|_| !asks_for_one)
    }
}

/// How much further a noun seems that stands in another clause, in letters.
const OTHER_CLAUSE: usize = 15;

/// The longest nail in millimetres, and fewer nails than any roof takes; in thousandths.
const MOST_NAIL_MM: i64 = 80_000;

/// More purlins than this, in thousandths, nobody counts; with a fraction it is a length as well.
const MOST_PURLINS: i64 = 40_000;

const fn is_a_gap(amount: Amount) -> bool {
    matches!(amount, Amount::Bare(value) if value > MOST_PURLINS || value % 1_000 != 0)
}

/// More corrugations than these, in thousandths, nobody laps.
const MOST_WAVES: i64 = 3_000;

const fn is_few_waves(amount: Amount) -> bool {
    matches!(amount, Amount::Bare(value) if value <= MOST_WAVES && value % 1_000 == 0)
}

/// Millimetres that by themselves are most likely a lap.
const LIKE_A_LAP: std::ops::RangeInclusive<i64> = 100..=350;

fn is_like_a_lap(amount: Amount) -> bool {
    match amount {
        Amount::Length(length) => LIKE_A_LAP.contains(&length.round_mm()),
        Amount::Bare(value) => LIKE_A_LAP.contains(&value.div_euclid(1_000)),
        Amount::Waves(_)
        | Amount::Angle(_)
        | Amount::Temperature(_)
        | Amount::Speed(_)
        | Amount::Mass(_)
        | Amount::Money(_)
        | Amount::Minutes(_)
        | Amount::Years(_) => false,
    }
}

/// Whether a figure is the same number as another, with its unit or without.
fn is_again(told: &Told, other: &Told) -> bool {
    let rest = other.written.strip_prefix(&told.written);
    rest.is_some_and(|rest| !rest.starts_with(|c: char| c.is_alphanumeric() || c == '.') || rest.is_empty())
}

/// A bare number in the unit that it was told in before: “only 5 mm past the board. 5 is ok?”
fn in_full(told: &Told, whole: &told::Plain) -> Told {
    let bare = matches!(told.amount, Amount::Bare(_));
    let before = whole.figures.iter().find(|other| is_again(told, other) && other.written != told.written);
    match before.filter(|_| bare) {
        Some(before) => Told { amount: before.amount, ..told.clone() },
        None => told.clone(),
    }
}

/// The first of two figures in the unit of the second, where it has none of its own.
fn like(a: &Told, b: &Told) -> Told {
    let Amount::Bare(value) = a.amount else { return a.clone() };
    let amount = match b.amount {
        Amount::Length(length) => {
            let one = bare_of(b).and_then(|of| length.um().checked_mul(1_000)?.checked_div(of));
            one.map_or(a.amount, |one| {
                Amount::Length(Length::from_um(value.saturating_mul(one).div_euclid(1_000)))
            })
        }
        Amount::Angle(_) => Amount::Angle(Angle::from_microdeg(value.saturating_mul(1_000))),
        Amount::Temperature(_) => Amount::Temperature(Temperature::from_millicelsius(value)),
        Amount::Waves(_) => Amount::Waves(value),
        Amount::Money(_) => Amount::Money(value),
        Amount::Mass(mass) => {
            let one = bare_of(b).and_then(|of| mass.g().checked_mul(1_000)?.checked_div(of));
            one.map_or(a.amount, |one| {
                Amount::Mass(Mass::from_g(value.saturating_mul(one).div_euclid(1_000)))
            })
        }
        Amount::Speed(_) | Amount::Minutes(_) | Amount::Years(_) | Amount::Bare(_) => a.amount,
    };
    Told { amount, ..a.clone() }
}

/// The number of a figure that is written in digits, in thousandths.
fn bare_of(told: &Told) -> Option<i64> {
    let digits: String = told.written.chars().take_while(char::is_ascii_digit).collect();
    digits.parse::<i64>().ok()?.checked_mul(1_000).filter(|value| *value > 0)
}
