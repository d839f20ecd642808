//! A verdict on a figure that was put to the bot: yes or no first, then the figure it is measured by, then how far off.

use super::Roof;
use super::figures::say_bands;
use super::standards::{Bound, Scale, Standard, by_the_slope, of_bands, standards};
use crate::conversation::ears::asked::{Amount, Asked, Sense, Subject, Told};
use crate::conversation::understanding::TopicId;
use crate::roofing::note::{Arg, Note};
use crate::roofing::rules::Figure;
use crate::units::Length;

/// The topic whose answer says the rest.
pub(super) const fn topic(subject: Subject) -> TopicId {
    use Subject as S;
    use TopicId as T;
    match subject {
        S::EndLap => T::EndLapSize,
        S::SideLap => T::SideLapCount,
        S::NailEvery | S::Nails => T::NailPatternIntermediate,
        S::NailEveryEdge => T::NailPatternEaves,
        S::Spare | S::Sheets => T::HowManySpare,
        S::EavesOverhang => T::EavesOverhang,
        S::VergeOverhang | S::VergePieces => T::VergeFinish,
        S::Deck => T::DeckTooThin,
        S::NailBite | S::NailLength | S::ScrewLength => T::NailSize,
        S::Spacing | S::TimberSpacing | S::Purlins => T::PurlinSpacingWhy,
        S::Pitch => T::UnsuitablePitch,
        S::SheetMass | S::Carried => T::CarryingSheets,
        S::Mass => T::WeightLimits,
        S::SheetPrice | S::Price => T::Cost,
        S::Hours => T::TimeNeeded,
        S::RidgePieces => T::RidgeFit,
        S::Fillers => T::BirdsAndVermin,
        S::Courses => T::WhichSheet,
        S::Wind => T::WindStopWork,
        S::Temperature => T::HotWeather,
        S::Ladder | S::EdgeHeight => T::LadderLength,
        S::Nothing => T::OffTopic,
    }
}

/// Topics, and what figures are of where one is talked about.
const ABOUT: &[(TopicId, Subject)] = &[
    (TopicId::EndLapSize, Subject::EndLap),
    (TopicId::SideLapCount, Subject::SideLap),
    (TopicId::EavesOverhang, Subject::EavesOverhang),
    (TopicId::VergeFinish, Subject::VergeOverhang),
    (TopicId::DeckTooThin, Subject::Deck),
    (TopicId::NailsPokingThrough, Subject::Deck),
    (TopicId::NailSize, Subject::NailLength),
    (TopicId::PurlinSpacingWhy, Subject::Spacing),
    (TopicId::HowManySpare, Subject::Spare),
    (TopicId::ExtraSheetNeeded, Subject::Sheets),
    (TopicId::Cost, Subject::Price),
    (TopicId::WindStopWork, Subject::Wind),
    (TopicId::HotWeather, Subject::Temperature),
    (TopicId::ColdAndFrost, Subject::Temperature),
    (TopicId::LadderLength, Subject::Ladder),
    (TopicId::TimeNeeded, Subject::Hours),
];

/// What figures are of where a topic is talked about.
pub fn about(topic: TopicId) -> Option<Subject> {
    ABOUT.iter().find(|(one, _)| *one == topic).map(|(_, subject)| *subject)
}

/// The verdict; nothing where neither the plan nor a rule alone can say.
pub(super) fn verdict(asked: &Asked, roof: &Roof<'_>) -> Option<Vec<Note>> {
    if let Subject::Ladder | Subject::EdgeHeight = asked.subject {
        return ladder(asked, roof);
    }
    // What a frame carries is never judged by a figure.
    let of_mass = matches!(asked.subject, Subject::Mass | Subject::SheetMass);
    if of_mass && !matches!(asked.sense, Sense::Confirm | Sense::More | Sense::Less) {
        return None;
    }
    let all = standards(asked.subject, asked.pitch, roof);
    let Some(strictest) = all.iter().reduce(|best, next| if next.is_stricter(best) { next } else { best })
    else {
        return by_bands(asked, roof);
    };
    let mut notes = vec![say(asked, strictest)?];
    notes.extend(beside(asked, strictest));
    Some(notes)
}

/// Without a slope: what every slope says, or how it goes by the slope.
fn by_bands(asked: &Asked, roof: &Roof<'_>) -> Option<Vec<Note>> {
    let all = of_bands(asked.subject, roof);
    let told = asked.figures.first()?;
    let judged: Option<Vec<bool>> = all
        .iter()
        .map(|standard| Some(judge(asked.sense, standard.bound, value(told, asked.subject, standard.scale)?)))
        .collect();
    match judged?.as_slice() {
        [] => None,
        [first, rest @ ..] if asked.sense != Sense::Choice && rest.iter().all(|one| one == first) => {
            let nearest = all.iter().reduce(|best, next| if best.is_stricter(next) { next } else { best })?;
            Some(vec![say(asked, nearest)?])
        }
        _ => {
            let bands = say_bands(&roof.bands(by_the_slope(asked.subject)?));
            Some([Note::new("verdict-by-the-slope")].into_iter().chain(bands).collect())
        }
    }
}

fn say(asked: &Asked, standard: &Standard) -> Option<Note> {
    if let [a, b, ..] = asked.figures.as_slice() {
        return Some(choose(asked, a, b, standard));
    }
    let told = asked.figures.first()?;
    let given = value(told, asked.subject, standard.scale)?;
    let bound = by_sense(asked, standard.bound);
    let yes = judge(by_scale(asked.sense, standard.scale), bound, given);
    let compare = compare(told, given, bound, standard.scale, asked.subject);
    let (outcome, plain) = match (asked.sense, yes) {
        (Sense::Stated, true) => ("verdict-go", "verdict-go-plain"),
        (Sense::Stated, false) => ("verdict-stop", "verdict-stop-plain"),
        (_, true) => ("verdict-yes", "verdict-yes-plain"),
        (_, false) => ("verdict-no", "verdict-no-plain"),
    };
    let rule = Arg::Note(Box::new(standard.rule.clone()));
    Some(match compare {
        Some(compare) => Note::new(outcome).with("rule", rule).with("compare", Arg::Note(Box::new(compare))),
        None => Note::new(plain).with("rule", rule),
    })
}

/// A price is a limit to who asks whether a sum will do, or is too much.
const fn by_sense(asked: &Asked, bound: Bound) -> Bound {
    match (asked.subject, asked.sense, bound) {
        (Subject::Price | Subject::SheetPrice, Sense::Enough | Sense::Bad, Bound::About(price)) => {
            Bound::AtLeast(price)
        }
        (Subject::Price | Subject::SheetPrice, Sense::TooMuch, Bound::About(price)) => Bound::AtMost(price),
        (_, _, bound) => bound,
    }
}

/// A deck or a slope is never asked to be exactly so: it will do or not.
const fn by_scale(sense: Sense, scale: Scale) -> Sense {
    match (sense, scale) {
        (Sense::Confirm, Scale::Size | Scale::Angle) => Sense::Enough,
        (sense, _) => sense,
    }
}

/// Of two figures the one that will do; of two that will, the nearer one.
fn choose(asked: &Asked, a: &Told, b: &Told, standard: &Standard) -> Note {
    let rule = Arg::Note(Box::new(standard.rule.clone()));
    let scaled = [a, b].map(|told| value(told, asked.subject, standard.scale).map(|value| (told, value)));
    let fitting =
        scaled.into_iter().flatten().filter(|(_, value)| judge(Sense::Enough, standard.bound, *value));
    let best = fitting.min_by_key(|(_, value)| (value - wanted(standard.bound)).abs());
    match best {
        Some((told, _)) => Note::new("verdict-this-one").text("given", &told.written).with("rule", rule),
        None => Note::new("verdict-neither").with("rule", rule),
    }
}

const fn wanted(bound: Bound) -> i64 {
    match bound {
        Bound::AtLeast(value) | Bound::AtMost(value) | Bound::About(value) => value,
        Bound::Between(least, _) => least,
    }
}

/// How far from the figure is still about it, in hundredths.
const NEARLY: i64 = 10;

fn is_about(given: i64, value: i64) -> bool {
    (given - value).abs().saturating_mul(100) <= value.abs().saturating_mul(NEARLY)
}

/// Whether the answer is yes.
fn judge(sense: Sense, bound: Bound, given: i64) -> bool {
    let will_do = match bound {
        Bound::AtLeast(least) => given >= least,
        Bound::AtMost(most) => given <= most,
        Bound::About(value) => is_about(given, value),
        Bound::Between(least, most) => (least..=most).contains(&given),
    };
    match (sense, bound) {
        (Sense::Enough | Sense::Stated | Sense::Choice, _) => will_do,
        (Sense::Bad, _) => !will_do,
        (Sense::TooMuch, Bound::AtLeast(_)) | (Sense::TooLittle, Bound::AtMost(_)) => false,
        (Sense::TooMuch, Bound::AtMost(most) | Bound::Between(_, most)) => given > most,
        (Sense::TooMuch, Bound::About(value)) => !will_do && given > value,
        (Sense::TooLittle, Bound::AtLeast(least) | Bound::Between(least, _)) => given < least,
        (Sense::TooLittle, Bound::About(value)) => !will_do && given < value,
        (Sense::More, Bound::Between(_, most)) => most > given,
        (Sense::More, _) => wanted(bound) > given,
        (Sense::Less, _) => wanted(bound) < given,
        // What is asked to be confirmed is the figure itself, a little to the safe side included.
        (Sense::Confirm, Bound::AtLeast(value) | Bound::AtMost(value)) => will_do && is_about(given, value),
        (Sense::Confirm, _) => will_do,
    }
}

/// How far a figure is off, on which side.
fn compare(told: &Told, given: i64, bound: Bound, scale: Scale, subject: Subject) -> Option<Note> {
    let note = |message: &str, by: i64| {
        Note::new(message).with("given", written(told, given, scale, subject)).with("by", scale.say(by.abs()))
    };
    let value = match bound {
        Bound::AtLeast(value) | Bound::AtMost(value) | Bound::About(value) => value,
        Bound::Between(least, _) if given < least => least,
        Bound::Between(_, most) if given > most => most,
        Bound::Between(..) => return None,
    };
    let by = given - value;
    let steps = matches!(scale, Scale::Count | Scale::Waves | Scale::Hours | Scale::Celsius);
    if by == 0
        || (steps && by.abs() < 1_000)
        || matches!(subject, Subject::NailEvery | Subject::NailEveryEdge)
    {
        return None;
    }
    Some(match bound {
        Bound::AtLeast(_) if by < 0 => note("verdict-short", by),
        Bound::AtLeast(_) => note("verdict-more", by),
        Bound::AtMost(_) if by > 0 => note("verdict-over", by),
        Bound::AtMost(_) => note("verdict-within", by),
        Bound::Between(..) if by < 0 => note("verdict-short", by),
        Bound::Between(..) => note("verdict-over", by),
        Bound::About(_) if by < 0 => note("verdict-less", by),
        Bound::About(_) => note("verdict-greater", by),
    })
}

/// The figure as it was written; in full where its unit had to be guessed.
fn written(told: &Told, given: i64, scale: Scale, subject: Subject) -> Arg {
    match (told.amount, scale) {
        (Amount::Bare(_), Scale::Length | Scale::Size) if guessed(told, subject) != Guess::Mm => {
            scale.say(given)
        }
        _ => Arg::Text(told.written.clone()),
    }
}

/// In what a bare number is taken to be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Guess {
    Mm,
    Cm,
    M,
    Inches,
}

/// A lap of 15 is in centimetres, a gap of 24 in inches, one of 0.6 in metres.
fn guessed(told: &Told, subject: Subject) -> Guess {
    let Amount::Bare(value) = told.amount else { return Guess::Mm };
    let whole = value.div_euclid(1_000);
    match subject {
        Subject::Spacing | Subject::EndLap if value < 3_000 => Guess::M,
        Subject::Spacing if [16, 24].contains(&whole) => Guess::Inches,
        Subject::Spacing if whole < 130 => Guess::Cm,
        Subject::EndLap if whole < 60 => Guess::Cm,
        Subject::Deck | Subject::NailLength if value < 5_000 => Guess::Inches,
        _ => Guess::Mm,
    }
}

/// A figure on a scale; nothing where it is of another kind.
fn value(told: &Told, subject: Subject, scale: Scale) -> Option<i64> {
    match (scale, told.amount) {
        (Scale::Length | Scale::Size, Amount::Length(length)) => Some(length.um()),
        (Scale::Length | Scale::Size, Amount::Bare(value)) => {
            value.checked_mul(match guessed(told, subject) {
                Guess::Mm => 1,
                Guess::Cm => 10,
                Guess::M => 1_000,
                Guess::Inches => return value.checked_mul(254)?.checked_div(10),
            })
        }
        (Scale::Count | Scale::Waves, Amount::Bare(value) | Amount::Waves(value)) => Some(value),
        (Scale::Angle, Amount::Angle(angle)) => Some(angle.microdeg()),
        (Scale::Mass, Amount::Mass(mass)) => Some(mass.g()),
        (Scale::Money(_), Amount::Money(value) | Amount::Bare(value)) => Some(value),
        (Scale::Celsius, Amount::Temperature(temperature)) => Some(temperature.millicelsius()),
        (Scale::Celsius, Amount::Bare(value)) => Some(value),
        (Scale::Speed, Amount::Speed(speed)) => Some(speed.um_per_second()),
        // Wind without a unit is in miles an hour.
        (Scale::Speed, Amount::Bare(value)) => value.checked_mul(447_040)?.checked_div(1_000),
        (Scale::Hours, Amount::Minutes(minutes)) => minutes.checked_mul(1_000)?.checked_div(60),
        _ => None,
    }
}

/// What keeps people safe, or tells what follows, beside the verdict.
fn beside(asked: &Asked, standard: &Standard) -> Vec<Note> {
    let told = asked.figures.first().and_then(|told| value(told, asked.subject, standard.scale));
    match (asked.subject, standard.bound, told) {
        (Subject::Wind, ..) => ["answer-wind-stop-work", "answer-wind-stop-work-more"].map(Note::new).into(),
        (Subject::Temperature, Bound::Between(least, _), Some(given)) if given < least => {
            vec![Note::new("verdict-beside-cold"), Note::new("answer-cold-and-frost-more")]
        }
        (Subject::Temperature, Bound::Between(_, most), Some(given)) if given > most => {
            vec![Note::new("answer-hot-weather-more")]
        }
        (Subject::Temperature, ..) => vec![Note::new("verdict-beside-frost")],
        (Subject::EndLap | Subject::SideLap, Bound::AtLeast(least), Some(given)) if given > least => {
            vec![Note::new("verdict-beside-longer-lap")]
        }
        (Subject::Deck, Bound::AtLeast(least), Some(given)) if given < least => {
            vec![Note::new("verdict-beside-thin-deck")]
        }
        _ => Vec::new(),
    }
}

/// How high an edge a ladder reaches, or how long a ladder an edge wants.
fn ladder(asked: &Asked, roof: &Roof<'_>) -> Option<Vec<Note>> {
    let over = roof.practice(Figure::LadderOverEdge)?.length();
    let one_in = roof.practice(Figure::LadderOneIn)?.count();
    let Amount::Length(length) = asked.figures.first()?.amount else { return None };
    // One out for so many up: the ladder is so much longer than it stands high.
    let upright = Length::from_mm(one_in);
    let longer = upright.hypot(Length::from_mm(1)).mm() / upright.mm();
    let note = if asked.subject == Subject::EdgeHeight {
        let needed = (length + over).scale(longer);
        let tenths = Length::from_mm(needed.ceil_mm().saturating_add(99).div_euclid(100).saturating_mul(100));
        Note::new("verdict-ladder-needed").length("height", length).length("needed", tenths)
    } else {
        let reach = length.scale(1.0 / longer) - over;
        let tenths = Length::from_mm(reach.floor_mm().div_euclid(100).saturating_mul(100));
        if tenths <= Length::ZERO {
            Note::new("verdict-ladder-too-short")
        } else {
            Note::new("verdict-ladder-reaches")
                .text("given", &asked.figures.first()?.written)
                .length("reach", tenths)
        }
    };
    let note = note.length("over", over).with("one_in", Arg::Count(one_in));
    Some(vec![note, Note::new("answer-ladder-length-more")])
}
