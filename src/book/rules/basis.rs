//! What the checks of strength go by: `[[basis]]`, one of each kind; `[[region]]`, the weather of each; `[[check]]`, what
//! a check says where it tightens a requirement.

use serde::Deserialize;
use toml::Spanned;

use crate::book::document::Entry;
use crate::book::fault::Faults;
use crate::book::writing::{date, fact_named, meant};
use crate::roofing::facts::FactKind;
use crate::roofing::facts::choices::{Choice as _, Region};
use crate::roofing::rules::{Based, Basis, Condition, Effect, Rule, Source, Weather};
use crate::units::Day;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct BasisEntry {
    pub(super) basis: Spanned<String>,
    value: Spanned<f64>,
    source: Spanned<String>,
    since: Spanned<String>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RegionEntry {
    pub(super) region: Spanned<String>,
    wind_m_per_s: Spanned<f64>,
    snow_n_per_m2: Spanned<f64>,
    rain_mm_per_h: Spanned<f64>,
    months_celsius: Spanned<Vec<f64>>,
    source: Spanned<String>,
    since: Spanned<String>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct CheckEntry {
    id: String,
    #[serde(default)]
    facts: Vec<Spanned<String>>,
    message: String,
    pub(super) source: Spanned<String>,
    since: Spanned<String>,
}

fn source_named<T>(
    entry: &Entry<'_, T>,
    written: &Spanned<String>,
    sources: &[Source],
    faults: &mut Faults,
) -> String {
    let source = written.get_ref();
    if sources.iter().all(|known| known.id != *source) {
        let what =
            format!("the source `{source}` is not in sources.toml: add it there, or name one that is.");
        faults.at(entry.at(written), what);
    }
    source.clone()
}

/// A figure that is 0 or more, and a number at all.
fn figure<T>(entry: &Entry<'_, T>, written: &Spanned<f64>, faults: &mut Faults) -> f64 {
    let value = *written.get_ref();
    if !value.is_finite() || value < 0.0 {
        faults.at(entry.at(written), "write a number, 0 or more.");
        return 0.0;
    }
    value
}

/// Reads one figure and the day it holds from; a fault is noted where there is no such figure.
pub(super) fn read(
    entry: &Entry<'_, BasisEntry>,
    sources: &[Source],
    faults: &mut Faults,
) -> Option<(Day, Based)> {
    let value = &entry.value;
    let named = value.basis.get_ref();
    let source = source_named(entry, &value.source, sources, faults);
    let since = date(value.since.get_ref(), entry.at(&value.since), faults)?;
    let basis = Basis::ALL.iter().copied().find(|basis| basis.key() == named);
    if basis.is_none() {
        let meant = meant(named, Basis::ALL.iter().map(|basis| basis.key()));
        faults.at(entry.at(&value.basis), format!("`{named}` is nothing a check goes by. {meant}"));
    }
    let value = figure(entry, &value.value, faults);
    Some((since, Based { basis: basis?, value, source, since }))
}

/// Reads the weather of one region and the day it holds from.
pub(super) fn region(
    entry: &Entry<'_, RegionEntry>,
    sources: &[Source],
    faults: &mut Faults,
) -> Option<(Day, Weather)> {
    let value = &entry.value;
    let named = value.region.get_ref();
    let source = source_named(entry, &value.source, sources, faults);
    let since = date(value.since.get_ref(), entry.at(&value.since), faults)?;
    if Region::from_id(named).is_none() {
        let meant = meant(named, Region::IDS.iter().copied());
        faults.at(entry.at(&value.region), format!("`{named}` is no region. {meant}"));
    }
    let months = value.months_celsius.get_ref();
    if months.len() != 12 || months.iter().any(|month| !month.is_finite()) {
        faults.at(entry.at(&value.months_celsius), "write the mean of each month, twelve numbers.");
    }
    let weather = Weather {
        region: named.clone(),
        wind: figure(entry, &value.wind_m_per_s, faults),
        snow: figure(entry, &value.snow_n_per_m2, faults),
        rain: figure(entry, &value.rain_mm_per_h, faults),
        months: months.clone(),
        source,
        since,
    };
    Some((since, weather))
}

/// Reads what a check says, as a rule that asks for nothing by itself: the check brings the figure.
pub(super) fn check_rule(entry: &Entry<'_, CheckEntry>, faults: &mut Faults) -> Option<Rule> {
    let value = &entry.value;
    let since = date(value.since.get_ref(), entry.at(&value.since), faults)?;
    let measured = |written: &Spanned<String>, faults: &mut Faults| {
        let fact = fact_named(written.get_ref(), entry.at(written), faults)?;
        let FactKind::Quantity(quantity) = fact.kind() else {
            faults.at(entry.at(written), format!("`{}` is not measured: name a measurement.", fact.key()));
            return None;
        };
        Some(match quantity.length_band() {
            Some(_) => Condition::Length { fact, from: None, to: None },
            None => Condition::Angle { fact, from: None, to: None },
        })
    };
    Some(Rule {
        id: value.id.clone(),
        covering: None,
        sheet: None,
        when: value.facts.iter().filter_map(|fact| measured(fact, faults)).collect(),
        then: vec![Effect::Check],
        message: value.message.clone(),
        again: None,
        source: value.source.get_ref().clone(),
        since,
    })
}

/// Notes every kind of figure that is missing, and every region.
pub(super) fn check(bases: &[Based], regions: &[Weather], faults: &mut Faults) {
    for basis in Basis::ALL.iter().filter(|basis| bases.iter().all(|based| based.basis != **basis)) {
        faults.missing_from("rules", format!("nothing says `{}`: add a [[basis]] for it.", basis.key()));
    }
    for id in Region::IDS.iter().filter(|id| regions.iter().all(|weather| weather.region != **id)) {
        faults.missing_from("rules", format!("nothing says the weather of `{id}`: add a [[region]] for it."));
    }
}
