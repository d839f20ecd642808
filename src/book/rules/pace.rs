//! How long a step takes: `[[pace]]`, one for each kind of step.

use serde::Deserialize;
use toml::Spanned;

use crate::book::document::Entry;
use crate::book::fault::Faults;
use crate::book::writing::{date, meant};
use crate::roofing::rules::Source;
use crate::roofing::work::{Pace, StepKind};
use crate::units::Day;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct PaceEntry {
    step: Spanned<String>,
    hands: i64,
    minutes: i64,
    #[serde(default)]
    seconds_each: i64,
    caution: Option<String>,
    source: Spanned<String>,
    since: Spanned<String>,
}

/// Reads one pace; `None`, with the fault noted, where there is no such step.
pub(super) fn read(
    entry: &Entry<'_, PaceEntry>,
    sources: &[Source],
    faults: &mut Faults,
) -> Option<(Day, Pace)> {
    let value = &entry.value;
    let named = value.step.get_ref();
    let step = StepKind::ALL.iter().copied().find(|kind| kind.key() == named);
    if step.is_none() {
        let meant = meant(named, StepKind::ALL.iter().map(|kind| kind.key()));
        faults.at(entry.at(&value.step), format!("`{named}` is no step of the work. {meant}"));
    }
    let source = value.source.get_ref();
    if sources.iter().all(|known| known.id != *source) {
        let what =
            format!("the source `{source}` is not in sources.toml: add it there, or name one that is.");
        faults.at(entry.at(&value.source), what);
    }
    let since = date(value.since.get_ref(), entry.at(&value.since), faults);
    if value.hands < 1 || value.minutes < 0 || value.seconds_each < 0 {
        faults.at(entry.place, "a step wants one person or more, and no time less than nothing.");
    }
    let pace = Pace {
        step: step?,
        hands: value.hands,
        minutes: value.minutes,
        seconds_each: value.seconds_each,
        caution: value.caution.clone(),
        source: source.clone(),
    };
    Some((since?, pace))
}

/// Notes every kind of step that has no pace.
pub(super) fn check(paces: &[Pace], faults: &mut Faults) {
    for kind in StepKind::ALL {
        if paces.iter().all(|pace| pace.step != *kind) {
            let what = format!("nothing says how long `{}` takes: add a [[pace]] for it.", kind.key());
            faults.missing_from("rules", what);
        }
    }
}
