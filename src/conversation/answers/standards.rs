//! What a figure is measured by on this roof: the plan's own figure, or the rule's where there is no plan.

use super::Roof;
use super::buying::sheets_of;
use super::figures::{as_count, as_length};
use crate::conversation::ears::asked::Subject;
use crate::roofing::catalogue::EdgeUse;
use crate::roofing::layout::SupportPlan;
use crate::roofing::note::{Arg, Note};
use crate::roofing::plan::{Plan, SlopePlan};
use crate::roofing::roof::{FactKey, FactValue, Facts};
use crate::roofing::rules::{Figure, Limit, Requirement, evaluate};
use crate::roofing::work::{hours, steps};
use crate::units::{Angle, Currency, Length, Mass, Measured, Money, Speed, Temperature};

/// What is counted or measured. Lengths stand in micrometres, angles in millionths of a degree, masses in grams, speeds
/// in micrometres a second; everything else in thousandths.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Scale {
    Length,
    /// A length out of the shop.
    Size,
    Count,
    Waves,
    Angle,
    Mass,
    Money(Currency),
    Celsius,
    Speed,
    Hours,
}

impl Scale {
    /// So much of it, to be said.
    pub(super) fn say(self, value: i64) -> Arg {
        let whole = value.div_euclid(1_000);
        let counted = |message: &str, count: i64| {
            Arg::Note(Box::new(Note::new(message).with("count", Arg::Count(count))))
        };
        match self {
            Self::Length => Arg::Length(Length::from_um(value)),
            Self::Size => Arg::Size(Length::from_um(value)),
            Self::Count => Arg::Count(whole),
            Self::Waves => counted("verdict-waves", whole),
            Self::Angle => Arg::Angle(Angle::from_microdeg(value)),
            Self::Mass => Arg::Mass(Mass::from_g(value)),
            Self::Money(currency) => Arg::Money(Money::from_thousandths(value, currency)),
            Self::Celsius => counted("verdict-celsius", Temperature::from_millicelsius(value).celsius()),
            Self::Speed => counted("verdict-mph", Speed::from_um_per_second(value).mph()),
            Self::Hours => counted("verdict-hours", whole),
        }
    }
}

/// How far a figure may go.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Bound {
    /// This or more.
    AtLeast(i64),
    /// This or less.
    AtMost(i64),
    /// This, give or take a little.
    About(i64),
    /// From the first to the second.
    Between(i64, i64),
}

/// What a figure is measured by, and the sentence that says so.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Standard {
    pub(super) bound: Bound,
    pub(super) scale: Scale,
    pub(super) rule: Note,
}

impl Standard {
    fn new(bound: Bound, scale: Scale, message: &str, value: i64) -> Self {
        Self { bound, scale, rule: Note::new(message).with("value", scale.say(value)) }
    }

    /// Whether one is harder to meet than the other.
    pub(super) fn is_stricter(&self, other: &Self) -> bool {
        match (self.bound, other.bound) {
            (Bound::AtLeast(a), Bound::AtLeast(b)) => a > b,
            (Bound::AtMost(a), Bound::AtMost(b)) => a < b,
            _ => false,
        }
    }
}

/// What figures of `subject` are measured by, one for each slope that differs; none where nothing is known. `pitch`
/// is a slope that was named beside the figure.
pub(super) fn standards(subject: Subject, pitch: Option<Angle>, roof: &Roof<'_>) -> Vec<Standard> {
    use Subject as S;
    match subject {
        S::EndLap | S::SideLap | S::Spacing => by_slope(subject, pitch, roof),
        S::Wind | S::Temperature => weather(subject, roof).into_iter().collect(),
        S::NailEvery | S::NailEveryEdge | S::Deck | S::NailBite | S::Pitch | S::Spare => {
            everywhere(subject, roof).into_iter().collect()
        }
        S::EavesOverhang | S::VergeOverhang => overhang(subject, roof).into_iter().collect(),
        S::NailLength | S::ScrewLength | S::Purlins | S::Courses => roof.plan.map_or_else(Vec::new, |plan| {
            plan.slopes.iter().filter_map(|slope| on_slope(subject, slope, plan, roof)).collect()
        }),
        S::SheetMass | S::Mass | S::Carried | S::SheetPrice | S::Price | S::Hours | S::Nails | S::Sheets => {
            roof.plan.and_then(|plan| of_plan(subject, plan, roof)).into_iter().collect()
        }
        S::RidgePieces | S::VergePieces | S::Fillers => {
            roof.plan.and_then(|plan| pieces(subject, plan)).into_iter().collect()
        }
        S::Nothing | S::TimberSpacing | S::Ladder | S::EdgeHeight => Vec::new(),
    }
}

/// Laps and gaps: of the plan's slopes, or of the slope that was named or told.
fn by_slope(subject: Subject, pitch: Option<Angle>, roof: &Roof<'_>) -> Vec<Standard> {
    let told = roof.facts.angle(FactKey::Pitch).map(|pitch| pitch.value);
    match (roof.plan, pitch.filter(|pitch| Some(*pitch) != told)) {
        (Some(plan), None) => plan.slopes.iter().filter_map(|slope| of_slope(subject, slope)).collect(),
        (_, named) => named.or(told).and_then(|pitch| at_pitch(subject, pitch, roof)).into_iter().collect(),
    }
}

fn of_slope(subject: Subject, slope: &SlopePlan) -> Option<Standard> {
    Some(if subject == Subject::EndLap {
        let lap = slope.end_lap.um();
        let one = slope.courses.len() < 2;
        let message = if one { "verdict-rule-end-lap-one-course" } else { "verdict-rule-end-lap" };
        Standard::new(Bound::AtLeast(lap), Scale::Length, message, lap)
    } else if subject == Subject::SideLap {
        let lap = thousandths(slope.side_lap);
        Standard::new(Bound::AtLeast(lap), Scale::Waves, "verdict-rule-side-lap", lap)
    } else {
        let gap = slope.max_line_gap()?.um();
        let on_purlins = slope.purlin_timber.is_some();
        let message = if on_purlins { "verdict-rule-spacing" } else { "verdict-rule-spacing-deck" };
        Standard::new(Bound::AtMost(gap), Scale::Length, message, gap)
    })
}

/// What the rules ask of a slope of that pitch.
fn at_pitch(subject: Subject, pitch: Angle, roof: &Roof<'_>) -> Option<Standard> {
    let mut facts = Facts::default();
    facts.set(FactKey::Pitch, FactValue::Angle(Measured::stated(pitch)));
    let covering = roof.book.catalogue.sheets.first().map(|sheet| sheet.covering.as_str());
    let outcome = evaluate(&roof.book.rules, covering, &facts);
    let limit = |requirement| outcome.requirements.deciding(requirement).map(|decides| decides.limit);
    let standard = if subject == Subject::EndLap {
        let lap = as_length(limit(Requirement::EndLap)?)?.um();
        Standard::new(Bound::AtLeast(lap), Scale::Length, "verdict-rule-end-lap-at", lap)
    } else if subject == Subject::SideLap {
        let lap = thousandths(as_count(limit(Requirement::SideLap)?)?);
        Standard::new(Bound::AtLeast(lap), Scale::Waves, "verdict-rule-side-lap-at", lap)
    } else {
        let gap = as_length(limit(Requirement::MaxPurlinSpacing)?)?.um();
        Standard::new(Bound::AtMost(gap), Scale::Length, "verdict-rule-spacing-at", gap)
    };
    Some(Standard { rule: standard.rule.with("pitch", Arg::Angle(pitch)), ..standard })
}

fn weather(subject: Subject, roof: &Roof<'_>) -> Option<Standard> {
    if subject == Subject::Wind {
        let most = roof.practice(Figure::WindMost)?.speed();
        let um = most.mph().saturating_mul(447_040);
        return Some(Standard::new(Bound::AtMost(um), Scale::Speed, "verdict-rule-wind", um));
    }
    let celsius = |figure| Some(thousandths(roof.practice(figure)?.temperature().celsius()));
    let (coldest, hottest) = (celsius(Figure::LayColdest)?, celsius(Figure::LayHottest)?);
    let rule = Note::new("verdict-rule-temperature")
        .with("coldest", Arg::Count(coldest / 1_000))
        .with("hottest", Arg::Count(hottest / 1_000));
    Some(Standard { bound: Bound::Between(coldest, hottest), scale: Scale::Celsius, rule })
}

/// What holds on every slope.
fn everywhere(subject: Subject, roof: &Roof<'_>) -> Option<Standard> {
    let count = |requirement| roof.count(requirement).map(thousandths);
    Some(if subject == Subject::NailEvery {
        let every = count(Requirement::FixIntermediate)?;
        Standard::new(Bound::AtMost(every), Scale::Count, "verdict-rule-nail-every", every)
    } else if subject == Subject::NailEveryEdge {
        let every = count(Requirement::FixEaves)?;
        Standard::new(Bound::AtMost(every), Scale::Count, "verdict-rule-nail-every-edge", every)
    } else if subject == Subject::Spare {
        let spare = count(Requirement::SpareSheets)?;
        Standard::new(Bound::AtLeast(spare), Scale::Count, "verdict-rule-spare", spare)
    } else if subject == Subject::Deck {
        let least = roof.length(Requirement::MinDeckThickness)?.um();
        Standard::new(Bound::AtLeast(least), Scale::Size, "verdict-rule-deck", least)
    } else if subject == Subject::NailBite {
        let (least, most) = roof.nail_bite()?;
        let rule = Note::new("verdict-rule-nail-bite").size("least", least).size("most", most);
        Standard { bound: Bound::Between(least.um(), most.um()), scale: Scale::Size, rule }
    } else {
        let least = roof.least_pitch()?.microdeg();
        Standard::new(Bound::AtLeast(least), Scale::Angle, "verdict-rule-pitch", least)
    })
}

fn overhang(subject: Subject, roof: &Roof<'_>) -> Option<Standard> {
    let (requirement, message) = if subject == Subject::EavesOverhang {
        (Requirement::EavesOverhang, "verdict-rule-eaves")
    } else {
        (Requirement::VergeOverhang, "verdict-rule-verge")
    };
    let overhang = roof.length(requirement)?.um();
    Some(Standard::new(Bound::About(overhang), Scale::Length, message, overhang))
}

fn on_slope(subject: Subject, slope: &SlopePlan, plan: &Plan, roof: &Roof<'_>) -> Option<Standard> {
    Some(if subject == Subject::NailLength {
        let sheet = &plan.site.sheet;
        let through_one = sheet.corrugation_height + sheet.thickness;
        let (_, most) = if slope.purlin_timber.is_some() { roof.purlin_bite() } else { roof.deck_bite() }?;
        let most = match &slope.support {
            SupportPlan::ExistingDeck { deck } => most.min(*deck),
            SupportPlan::NewFullDeck { thickness, .. } => most.min(*thickness),
            SupportPlan::Purlins | SupportPlan::PurlinsOverDeck { .. } => most,
        };
        // Where two are needed, both are right.
        let longest = slope.long_nail.as_ref().map_or(slope.nail_length, |long| long.length);
        let bound = Bound::Between(slope.nail_length.um(), (through_one + most).max(longest).um());
        Standard::new(bound, Scale::Size, "verdict-rule-nail-length", slope.nail_length.um())
    } else if subject == Subject::ScrewLength {
        let screw = slope.screws.first()?.length.um();
        Standard::new(Bound::About(screw), Scale::Size, "verdict-rule-screw", screw)
    } else if subject == Subject::Courses {
        let courses = thousandths_of(slope.courses.len());
        Standard::new(Bound::About(courses), Scale::Count, "verdict-rule-courses", courses)
    } else {
        let lines = thousandths_of(slope.lines.len());
        let on_purlins = slope.purlin_timber.is_some();
        let message = if on_purlins { "verdict-rule-purlins" } else { "verdict-rule-purlins-deck" };
        Standard::new(Bound::AtLeast(lines), Scale::Count, message, lines)
    })
}

fn of_plan(subject: Subject, plan: &Plan, roof: &Roof<'_>) -> Option<Standard> {
    let priced = |price: Option<Money>, message| {
        let price = price?;
        let value = price.thousandths()?;
        Some(Standard::new(Bound::About(value), Scale::Money(price.currency), message, value))
    };
    if subject == Subject::SheetPrice {
        return priced(plan.site.sheet.item.price, "verdict-rule-sheet-price");
    }
    if subject == Subject::Price {
        return priced(plan.materials.price, "verdict-rule-price");
    }
    Some(if subject == Subject::SheetMass {
        let mass = plan.site.sheet.item.mass.g();
        Standard::new(Bound::About(mass), Scale::Mass, "verdict-rule-sheet-mass", mass)
    } else if subject == Subject::Mass {
        let mass = plan.materials.covering_mass.g();
        Standard::new(Bound::About(mass), Scale::Mass, "verdict-rule-mass", mass)
    } else if subject == Subject::Carried {
        let spare = roof.count(Requirement::SpareSheets).unwrap_or(0);
        let spares = plan.site.sheet.item.mass.g().saturating_mul(spare);
        let mass = plan.materials.covering_mass.g().saturating_add(spares);
        Standard::new(Bound::AtLeast(mass), Scale::Mass, "verdict-rule-carried", mass)
    } else if subject == Subject::Hours {
        let hours = thousandths(hours(&steps(plan), &roof.book.rules.paces));
        Standard::new(Bound::AtLeast(hours), Scale::Hours, "verdict-rule-hours", hours)
    } else if subject == Subject::Nails {
        let nails = thousandths_of(plan.slopes.iter().map(|slope| slope.fixings.len()).sum());
        let own: i64 = plan.edges.iter().map(|run| run.own_fixings).sum();
        let message = if own > 0 { "verdict-rule-nails-and-edges" } else { "verdict-rule-nails" };
        let all = nails.saturating_add(thousandths(own));
        let standard = Standard::new(Bound::AtLeast(all), Scale::Count, message, nails);
        Standard { rule: standard.rule.with("edges", Arg::Count(own)), ..standard }
    } else {
        let sheets = thousandths_of(sheets_of(plan));
        let spare = roof.count(Requirement::SpareSheets).unwrap_or(0);
        let standard = Standard::new(Bound::AtLeast(sheets), Scale::Count, "verdict-rule-sheets", sheets);
        Standard { rule: standard.rule.with("spare", Arg::Count(spare)), ..standard }
    })
}

fn pieces(subject: Subject, plan: &Plan) -> Option<Standard> {
    let known = [
        (Subject::RidgePieces, EdgeUse::Ridge, "verdict-rule-ridge-pieces"),
        (Subject::VergePieces, EdgeUse::Verge, "verdict-rule-verge-pieces"),
        (Subject::Fillers, EdgeUse::EavesFiller, "verdict-rule-fillers"),
    ];
    let (_, edge, message) = known.into_iter().find(|(one, ..)| *one == subject)?;
    let pieces: i64 = plan.edges.iter().filter(|run| run.edge == edge).map(|run| run.pieces).sum();
    let pieces = thousandths(pieces);
    (pieces > 0).then(|| Standard::new(Bound::AtLeast(pieces), Scale::Count, message, pieces))
}

const fn thousandths(count: i64) -> i64 {
    count.saturating_mul(1_000)
}

fn thousandths_of(count: usize) -> i64 {
    thousandths(i64::try_from(count).unwrap_or(i64::MAX))
}

/// What goes by the slope, and is required by its bands.
pub(super) fn by_the_slope(subject: Subject) -> Option<Requirement> {
    let known = [
        (Subject::EndLap, Requirement::EndLap),
        (Subject::SideLap, Requirement::SideLap),
        (Subject::Spacing, Requirement::MaxPurlinSpacing),
    ];
    known.into_iter().find(|(one, _)| *one == subject).map(|(_, requirement)| requirement)
}

/// Every limit the slope bands give for laps or gaps, where no slope is known.
pub(super) fn of_bands(subject: Subject, roof: &Roof<'_>) -> Vec<Standard> {
    let Some(requirement) = by_the_slope(subject) else { return Vec::new() };
    let bands = roof.bands(requirement).into_iter();
    let standard = |limit| match limit {
        Limit::Length(lap) if subject == Subject::EndLap => {
            Some(Standard::new(Bound::AtLeast(lap.um()), Scale::Length, "verdict-rule-end-lap-any", lap.um()))
        }
        Limit::Length(gap) => {
            Some(Standard::new(Bound::AtMost(gap.um()), Scale::Length, "verdict-rule-spacing-any", gap.um()))
        }
        Limit::Count(lap) => {
            let lap = thousandths(lap);
            Some(Standard::new(Bound::AtLeast(lap), Scale::Waves, "verdict-rule-side-lap-any", lap))
        }
        Limit::Support(_) => None,
    };
    bands.filter_map(|band| standard(band.limit)).collect()
}
