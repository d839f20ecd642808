//! Figures of good practice: `[[practice]]`, one of each kind.

use serde::Deserialize;
use toml::Spanned;

use crate::book::document::Entry;
use crate::book::fault::Faults;
use crate::book::writing::{date, meant};
use crate::roofing::rules::{Figure, Practice, Source};
use crate::units::Day;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct PracticeEntry {
    pub(super) figure: Spanned<String>,
    value: i64,
    source: Spanned<String>,
    since: Spanned<String>,
}

/// Reads one figure and the day it holds from; a fault is noted where there is no such figure.
pub(super) fn read(
    entry: &Entry<'_, PracticeEntry>,
    sources: &[Source],
    faults: &mut Faults,
) -> Option<(Day, Practice)> {
    let value = &entry.value;
    let named = value.figure.get_ref();
    let source = value.source.get_ref();
    if sources.iter().all(|known| known.id != *source) {
        let what =
            format!("the source `{source}` is not in sources.toml: add it there, or name one that is.");
        faults.at(entry.at(&value.source), what);
    }
    let since = date(value.since.get_ref(), entry.at(&value.since), faults)?;
    let figure = Figure::ALL.iter().copied().find(|figure| figure.key() == named);
    if figure.is_none() {
        let meant = meant(named, Figure::ALL.iter().map(|figure| figure.key()));
        faults.at(entry.at(&value.figure), format!("`{named}` is no figure of practice. {meant}"));
    }
    Some((since, Practice::new(figure?, value.value, source.clone(), since)))
}

/// Notes every kind of figure that is missing.
pub(super) fn check(practices: &[Practice], faults: &mut Faults) {
    let has = |figure: &Figure| practices.iter().any(|practice| practice.figure == *figure);
    for figure in Figure::ALL.iter().filter(|figure| !has(figure)) {
        faults.missing_from("rules", format!("nothing says `{}`: add a [[practice]] for it.", figure.key()));
    }
}
