//! What a rule does: `require`, `advise`, `caution`, `refuse`, `stop`.

use serde::Deserialize;
use toml::Spanned;

use super::RuleEntry;
use crate::book::document::Entry;
use crate::book::fault::Faults;
use crate::roofing::rules::{Effect, Handover, Limit, Phase, Requirement, Support};
use crate::units::Length;

#[derive(Deserialize)]
#[serde(untagged)]
pub(super) enum LimitEntry {
    Count(i64),
    Size(f64),
    Word(String),
}

/// Reads what a rule does; whatever makes no sense is noted and left out.
pub(super) fn read(entry: &Entry<'_, RuleEntry>, faults: &mut Faults) -> Vec<Effect> {
    let rule = &entry.value;
    let mut then = Vec::new();
    for (name, value) in rule.require.iter().flat_map(Spanned::get_ref) {
        let Some(requirement) = Requirement::from_key(name.get_ref()) else {
            let known = Requirement::ALL.iter().map(|one| one.key()).collect::<Vec<_>>().join(", ");
            faults.at(entry.at(name), format!("`{}` cannot be required. It may be {known}.", name.get_ref()));
            continue;
        };
        match limit(requirement, value.get_ref()) {
            Some(limit) => then.push(Effect::Require(requirement, limit)),
            None => faults.at(entry.at(value), format!("`{}` {}.", requirement.key(), takes(requirement))),
        }
    }
    if rule.advise {
        then.push(Effect::Advise);
    }
    if let Some(caution) = &rule.caution {
        match caution.get_ref().as_str() {
            "plan" => then.push(Effect::Caution(Phase::Plan)),
            "work" => then.push(Effect::Caution(Phase::Work)),
            other => {
                let what =
                    format!("a caution is said with the \"plan\" or before the \"work\", not \"{other}\".");
                faults.at(entry.at(caution), what);
            }
        }
    }
    if rule.refuse {
        then.push(Effect::Refuse);
    }
    if let Some(stop) = &rule.stop {
        match stop.get_ref().as_str() {
            "emergency" => then.push(Effect::Stop(Handover::Emergency)),
            "licensed_pro" => then.push(Effect::Stop(Handover::LicensedPro)),
            "adviser" => then.push(Effect::Stop(Handover::Adviser)),
            other => {
                let what = format!(
                    "nobody is called \"{other}\": hand over to \"emergency\", \"licensed_pro\" or \"adviser\"."
                );
                faults.at(entry.at(stop), what);
            }
        }
    }
    let says_something = rule.require.is_some() || rule.caution.is_some() || rule.stop.is_some();
    if !says_something && !rule.advise && !rule.refuse {
        let what = "this rule does nothing: give it `require`, `advise`, `caution`, `refuse` or `stop`.";
        faults.at(entry.place, what);
    }
    then
}

fn limit(requirement: Requirement, written: &LimitEntry) -> Option<Limit> {
    let least = i64::from(requirement.is_at_most());
    let candidates = match written {
        LimitEntry::Count(count) if *count >= least => {
            [Some(Limit::Count(*count)), Some(Limit::Length(Length::from_mm(*count)))]
        }
        LimitEntry::Size(mm) if *mm > 0.0 => [Length::from_mm_f64(*mm).map(Limit::Length), None],
        LimitEntry::Word(word) => match word.as_str() {
            "purlins" => [Some(Limit::Support(Support::Purlins)), None],
            "full_deck" => [Some(Limit::Support(Support::FullDeck)), None],
            _ => [None, None],
        },
        LimitEntry::Count(_) | LimitEntry::Size(_) => [None, None],
    };
    candidates.into_iter().flatten().find(|limit| requirement.takes(*limit))
}

fn takes(requirement: Requirement) -> String {
    let least = i64::from(requirement.is_at_most());
    if requirement.takes(Limit::Count(0)) {
        format!("takes a whole number, {least} or more, without quotes")
    } else if requirement.takes(Limit::Support(Support::Purlins)) {
        "is \"purlins\" or \"full_deck\"".to_owned()
    } else {
        format!("takes a number of millimetres, {least} or more, without quotes")
    }
}
