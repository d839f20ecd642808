//! "Why?": the rule, the facts and the source behind every number of a plan.

use super::asking::fact_note;
use super::{Draft, report};
use crate::conversation::Guide;
use crate::roofing::findings::Reason;
use crate::roofing::note::{Arg, Note};
use crate::roofing::plan::{Finding, Plan, limit_arg, requirement_word};
use crate::roofing::rules::{Limit, Requirement};

/// Words by which a person names a requirement.
const NAMED: &[(Requirement, &[&str])] = &[
    (Requirement::MaxPurlinSpacing, &["purlin", "spacing", "gap", "apart"]),
    (Requirement::EndLap, &["end lap", "overlap", "end-lap", "lap"]),
    (Requirement::SideLap, &["side lap", "side", "corrugation"]),
    (Requirement::Support, &["support", "deck", "board", "over"]),
    (Requirement::MinDeckThickness, &["deck", "thin", "thick", "board"]),
    (Requirement::NailBiteMin, &["nail", "bite", "fixing"]),
    (Requirement::ScrewBite, &["screw"]),
    (Requirement::EavesOverhang, &["eaves", "overhang"]),
    (Requirement::VergeOverhang, &["verge", "overhang"]),
    (Requirement::FixEaves, &["nail", "eaves"]),
    (Requirement::FixIntermediate, &["nail", "every other"]),
    (Requirement::SpareSheets, &["spare", "extra", "sheets"]),
    (Requirement::SpareFixings, &["spare", "extra"]),
];

/// What is told unasked: the numbers that shape the roof.
const MAIN: &[Requirement] = &[
    Requirement::Support,
    Requirement::MaxPurlinSpacing,
    Requirement::MinDeckThickness,
    Requirement::EndLap,
    Requirement::SideLap,
    Requirement::NailBiteMin,
];

/// The reasons for what was named, or for the main numbers.
pub fn why(guide: &Guide<'_>, plan: &Plan, named: &str) -> Vec<Draft> {
    let named = named.to_lowercase();
    let asked: Vec<Requirement> = NAMED
        .iter()
        .filter(|(requirement, words)| {
            words.iter().any(|word| named.contains(word)) || is_value_of(plan, *requirement, &named)
        })
        .map(|(requirement, _)| *requirement)
        .collect();
    let wanted: &[Requirement] = if asked.is_empty() { MAIN } else { &asked };
    let mut draft = Draft::new("why");
    for group in grouped(plan, wanted) {
        draft = explain(guide, &group, draft);
    }
    draft.buttons = report::what_next().buttons;
    draft.asks = true;
    vec![draft]
}

/// The findings that settle what is wanted; those that one rule decides for the same facts stand together, so that
/// it is told once, and two equal slopes are told once.
fn grouped<'p>(plan: &'p Plan, wanted: &[Requirement]) -> Vec<Vec<&'p Finding>> {
    let mut groups: Vec<Vec<&Finding>> = Vec::new();
    let settles = |finding: &&Finding| finding.requirement.is_some_and(|one| wanted.contains(&one));
    for finding in plan.findings.iter().filter(settles) {
        let decided_alike = groups.iter_mut().find(|group| {
            group.first().is_some_and(|first| match (first.reasons.first(), finding.reasons.first()) {
                (Some(a), Some(b)) => a.rule == b.rule && a.facts == b.facts,
                _ => false,
            })
        });
        match decided_alike {
            Some(group) if group.iter().all(|other| other.requirement != finding.requirement) => {
                group.push(finding);
            }
            Some(_) => {}
            None => groups.push(vec![finding]),
        }
    }
    groups
}

/// "why 170 mm?" asks for whatever is 170 mm.
fn is_value_of(plan: &Plan, requirement: Requirement, named: &str) -> bool {
    let figures: Vec<&str> =
        named.split(|c: char| !c.is_ascii_digit()).filter(|part| !part.is_empty()).collect();
    plan.slopes.iter().filter_map(|slope| slope.requirements.deciding(requirement)).any(|best| {
        let value = match best.limit {
            Limit::Length(length) => length.round_mm().to_string(),
            Limit::Count(_) | Limit::Support(_) => return false,
        };
        figures.iter().any(|figure| *figure == value)
    })
}

fn explain(guide: &Guide<'_>, group: &[&Finding], draft: Draft) -> Draft {
    let settled = group.iter().filter_map(|finding| {
        let best = finding.reasons.first()?;
        let name = requirement_word(finding.requirement?);
        Some(Note::new("why-settled").word("requirement", name).with("value", limit_arg(best.limit)))
    });
    let mut draft = draft.paragraph(Note::new("why-list").with("settled", Arg::Notes(settled.collect())));
    let Some(first) = group.first() else { return draft };
    if let Some(decides) = first.reasons.first() {
        draft = draft.item(reason_note(guide, decides, true));
    }
    let others = group.iter().flat_map(|finding| finding.reasons.iter().skip(1));
    for other in others {
        draft = draft.item(reason_note(guide, other, false));
    }
    draft
}

fn reason_note(guide: &Guide<'_>, reason: &Reason, decides: bool) -> Note {
    let facts = reason.facts.iter().map(|(fact, value)| fact_note(guide, "reason-fact", *fact, value));
    let facts: Vec<Note> = facts.collect();
    let message = match (decides, facts.is_empty()) {
        (true, false) => "reason",
        (true, true) => "reason-always",
        (false, _) => "reason-allows",
    };
    Note::new(message)
        .with("value", limit_arg(reason.limit))
        .with("facts", Arg::Notes(facts))
        .with("rule", Arg::Note(Box::new(reason.note.clone())))
        .text("source", reason.source.as_str())
        .text("since", reason.since.as_str())
}

fn source_title<'a>(guide: &Guide<'a>, source: &'a str) -> &'a str {
    guide.handbook.rules.source(source).map_or(source, |source| source.title.as_str())
}

/// Where something is from.
pub fn source_of(guide: &Guide<'_>, source: &str) -> Note {
    Note::new("source-of").text("source", source_title(guide, source))
}
