//! "Why?": the rule, the facts and the source behind every number of a plan.

use super::asking::fact_note;
use super::{Draft, report};
use crate::conversation::Guide;
use crate::conversation::ears::asked::{Amount, Told};
use crate::conversation::understanding::{TopicId, Verdict};
use crate::roofing::findings::Reason;
use crate::roofing::note::{Arg, Note};
use crate::roofing::plan::{Finding, Plan, limit_arg, requirement_word};
use crate::roofing::rules::{Limit, Requirement};
use crate::units::Length;

/// What a topic's numbers are required by.
const BY_TOPIC: &[(TopicId, &[Requirement])] = &[
    (
        TopicId::PurlinSpacingWhy,
        &[Requirement::MaxPurlinSpacing, Requirement::MaxNailLineSpacing, Requirement::MinPurlinDepth],
    ),
    (TopicId::WeightLimits, &[Requirement::MinPurlinDepth, Requirement::MinDeckSpan]),
    (TopicId::EndLapSize, &[Requirement::EndLap]),
    (TopicId::SideLapCount, &[Requirement::SideLap]),
    (TopicId::DeckTooThin, &[Requirement::Support, Requirement::MinDeckThickness]),
    (TopicId::NailSize, &[Requirement::NailBiteMin, Requirement::PurlinNailBite]),
    (
        TopicId::NailsPokingThrough,
        &[Requirement::NailBiteMin, Requirement::NailBiteMax, Requirement::NailPointCover],
    ),
    (TopicId::EavesOverhang, &[Requirement::EavesOverhang]),
    (TopicId::VergeFinish, &[Requirement::VergeOverhang]),
    (TopicId::NailPatternEaves, &[Requirement::FixEaves, Requirement::FixEndLap]),
    (TopicId::NailPatternIntermediate, &[Requirement::FixIntermediate]),
    (TopicId::RidgeFit, &[Requirement::FixRidge, Requirement::TopLap, Requirement::NailEdgeDistance]),
    (TopicId::HowManySpare, &[Requirement::SpareSheets, Requirement::SpareFixings]),
];

/// What is told unasked: the numbers that shape the roof.
const MAIN: &[Requirement] = &[
    Requirement::Support,
    Requirement::MaxPurlinSpacing,
    Requirement::MinDeckThickness,
    Requirement::EndLap,
    Requirement::SideLap,
    Requirement::NailBiteMin,
    Requirement::PurlinNailBite,
];

/// The reasons for what was named: for each figure that stands in the plan, or else for what a topic's numbers are
/// required by; for the main numbers where nothing was named. `None` where this knows no reason.
pub(in crate::conversation) fn why(guide: &Guide<'_>, plan: &Plan, named: &str) -> Option<Vec<Draft>> {
    let figures = guide.asks.figures(named);
    let counted: Vec<Note> = figures.iter().filter_map(|told| counted(plan, told)).collect();
    let valued = Requirement::ALL.iter().copied();
    let valued: Vec<Requirement> =
        valued.filter(|one| figures.iter().any(|told| is_value_of(plan, *one, told))).collect();
    let wanted = if named.trim().is_empty() {
        MAIN.to_vec()
    } else if figures.is_empty() {
        by_topic(guide, named)
    } else {
        valued
    };
    let mut draft = Draft::new("why");
    for note in distinct(counted) {
        draft = draft.paragraph(note);
    }
    for group in grouped(plan, &wanted) {
        draft = explain(guide, &group, draft);
    }
    if draft.lines.is_empty() {
        return None;
    }
    draft.buttons = report::what_next().buttons;
    draft.asks = true;
    Some(vec![draft])
}

/// What a topic's numbers are required by, where a message is clearly about it.
fn by_topic(guide: &Guide<'_>, named: &str) -> Vec<Requirement> {
    let understood = guide.topics.understand(named);
    let topics = understood.topics.iter().map(|hit| hit.topic);
    let mut required = topics.filter_map(|topic| BY_TOPIC.iter().find(|(one, _)| *one == topic));
    // What may be one of several is the nearest of them.
    let most = if understood.verdict == Verdict::One { usize::MAX } else { 1 };
    required.by_ref().take(most).flat_map(|(_, requirements)| requirements.iter().copied()).collect()
}

/// The same sentence once.
fn distinct(notes: Vec<Note>) -> Vec<Note> {
    notes.into_iter().fold(Vec::new(), |mut kept, note| {
        if !kept.contains(&note) {
            kept.push(note);
        }
        kept
    })
}

/// Why there are so many: nails, sheets, purlins or lines of nails.
fn counted(plan: &Plan, told: &Told) -> Option<Note> {
    let count = match told.amount {
        Amount::Bare(value) if value % 1_000 == 0 => value / 1_000,
        _ => return None,
    };
    let nails = plan.slopes.iter().map(|slope| slope.fixings.len());
    let own: i64 = plan.edges.iter().map(|run| run.own_fixings).sum();
    let all = i64::try_from(nails.clone().sum::<usize>()).ok()?;
    let is_nails =
        [all, all + own].contains(&count) || nails.clone().any(|one| i64::try_from(one) == Ok(count));
    if is_nails {
        let note = Note::new(if own > 0 { "why-nails-and-edges" } else { "why-nails" });
        return Some(
            note.with("sheets", Arg::Count(all))
                .with("edges", Arg::Count(own))
                .with("all", Arg::Count(all + own)),
        );
    }
    let sheets: usize = plan.slopes.iter().map(|slope| slope.cuts.sheets.len()).sum();
    let slope = plan.slopes.first()?;
    if i64::try_from(sheets) == Ok(count) {
        let note = Note::new("why-sheets").count("sheets", sheets).count("courses", slope.courses.len());
        return Some(
            note.count("columns", slope.columns.len())
                .length("cover", plan.site.sheet.cover_width(slope.side_lap))
                .length("lap", slope.end_lap),
        );
    }
    let lines = plan.slopes.iter().find(|slope| i64::try_from(slope.lines.len()) == Ok(count))?;
    let gap = lines.max_line_gap()?;
    let message = if lines.purlin_timber.is_some() { "why-purlins" } else { "why-nail-lines" };
    Some(Note::new(message).count("lines", lines.lines.len()).length("gap", gap))
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
fn is_value_of(plan: &Plan, requirement: Requirement, told: &Told) -> bool {
    plan.slopes.iter().filter_map(|slope| slope.requirements.deciding(requirement)).any(|best| {
        match (best.limit, told.amount) {
            (Limit::Length(length), Amount::Length(told)) => {
                // What was typed may be rounded as the plan is said: to a sixteenth of an inch, or a millimetre.
                (length - told).abs() <= Length::from_mm(1)
            }
            (Limit::Length(length), Amount::Bare(value)) => value == length.round_mm().saturating_mul(1_000),
            (Limit::Count(count), Amount::Waves(value)) => value == count.saturating_mul(1_000),
            _ => false,
        }
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
pub(in crate::conversation) fn source_of(guide: &Guide<'_>, source: &str) -> Note {
    Note::new("source-of").text("source", source_title(guide, source))
}
