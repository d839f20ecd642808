//! "Why?": the rule, the facts and the source behind every number of a plan.

use super::asking::fact_note;
use super::{Draft, report};
use crate::conversation::Guide;
use crate::roofing::note::{Arg, Note};
use crate::roofing::plan::{Finding, Plan};
use crate::roofing::rules::{Contribution, Limit, Requirement, Rule, Support};

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
    let settled = plan
        .findings
        .iter()
        .filter(|finding| finding.requirement.is_some_and(|requirement| wanted.contains(&requirement)));
    let mut told: Vec<&Finding> = Vec::new();
    for finding in settled {
        // Two equal slopes have equal reasons.
        if told.iter().all(|other| other.id != finding.id || other.reasons != finding.reasons) {
            told.push(finding);
            draft = explain(guide, finding, draft);
        }
    }
    let mut next = report::what_next();
    next.lines.clear();
    draft.buttons = next.buttons;
    draft.asks = true;
    vec![draft]
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

fn explain(guide: &Guide<'_>, finding: &Finding, draft: Draft) -> Draft {
    let mut draft = draft.paragraph(finding.note.clone());
    for (index, reason) in finding.reasons.iter().enumerate() {
        draft = draft.item(reason_note(guide, reason, index == 0));
    }
    draft
}

fn reason_note(guide: &Guide<'_>, reason: &Contribution, decides: bool) -> Note {
    let rule = guide.handbook.rules.rule(&reason.rule);
    let facts = reason
        .facts
        .iter()
        .map(|(fact, value)| fact_note(guide, "reason-fact", *fact, value))
        .collect::<Vec<_>>();
    let source = rule.map_or("", |rule| rule.source.as_str());
    let title = guide.handbook.rules.source(source).map_or(source, |source| source.title.as_str());
    let message = match (decides, facts.is_empty()) {
        (true, false) => "reason",
        (true, true) => "reason-always",
        (false, _) => "reason-allows",
    };
    Note::new(message)
        .with("value", limit_arg(reason.limit))
        .with("facts", Arg::Notes(facts))
        .with("rule", Arg::Note(Box::new(rule.map_or_else(|| Note::new("our-fault"), Rule::note))))
        .text("source", title)
        .text("since", rule.map_or("", |rule| rule.since.as_str()))
}

/// A requirement's value as a figure for a message.
fn limit_arg(limit: Limit) -> Arg {
    match limit {
        Limit::Length(length) => Arg::Length(length),
        Limit::Count(count) => Arg::Count(count),
        Limit::Support(Support::Purlins) => Arg::Word("support-purlins".to_owned()),
        Limit::Support(Support::FullDeck) => Arg::Word("support-full-deck".to_owned()),
    }
}

/// Where something is from.
pub fn source_of(guide: &Guide<'_>, source: &str) -> Note {
    let title = guide.handbook.rules.source(source).map_or(source, |source| source.title.as_str());
    Note::new("source-of").text("source", title)
}
