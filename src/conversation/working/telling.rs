//! The messages of the work: a step, what is left, counts, stopping, and what a change does.

use std::collections::BTreeSet;

use crate::conversation::Guide;
use crate::conversation::event::{Answer, Change};
use crate::conversation::saying::{Attach, Draft, asking};
use crate::roofing::catalogue::Sheet;
use crate::roofing::layout::cutting::Part;
use crate::roofing::note::{Arg, Note};
use crate::roofing::plan::{Bought, Difference, Plan, Refusal};
use crate::roofing::roof::{FactKey, FactValue};
use crate::roofing::work::{
    Consequence, Foresight, Goods, Recut, StepKey, StepKind, Stop, WorkStep, hours, make_safe, names, steps,
    takes, taper_notes,
};

/// One step: where it stands among the others, what to do, how long, what to mind, what to check.
pub(super) fn step(guide: &Guide<'_>, plan: &Plan, steps: &[WorkStep], index: usize) -> Draft {
    let Some(step) = steps.get(index) else { return finished() };
    let mut draft = Draft::new("work-step");
    draft.asks = true;
    let which = match (plan.slopes.len() > 1 && is_of_a_slope(step), step.key.slope) {
        (false, _) => "work-step",
        (true, 0) => "work-step-front",
        (true, _) => "work-step-back",
    };
    draft = draft
        .paragraph(Note::new(which).count("number", index + 1).count("of", steps.len()))
        .paragraph(step.note.clone());
    let paces = &guide.handbook.rules.paces;
    let pace = paces.iter().find(|pace| pace.step == step.key.kind);
    if let Some(caution) = pace.and_then(|pace| pace.caution.as_ref()) {
        draft = draft.paragraph(Note::new(caution.as_str()));
    }
    for mind in plan.said_again_at(step.key.kind) {
        draft = draft.paragraph(mind.clone());
    }
    draft = draft.paragraph(Note::new(format!("work-check-{}", step.key.kind.key())));
    if let Some(takes) = takes(step, paces) {
        let note = Note::new("work-takes").with("minutes", Arg::Count(takes.minutes));
        draft = draft.paragraph(note.with("hands", Arg::Count(takes.hands)));
    }
    draft.attach.extend(picture(step.key.kind));
    draft
        .button("do-work-done", "button-work-done")
        .button("do-work-problem", "button-work-problem")
        .button("do-work-left", "button-work-left")
        .button("do-work-pause", "button-work-pause")
}

fn is_of_a_slope(step: &WorkStep) -> bool {
    !matches!(
        step.key.kind,
        StepKind::GetReady
            | StepKind::Inspect
            | StepKind::Strip
            | StepKind::Ridge
            | StepKind::Finials
            | StepKind::LastLook
    )
}

/// The drawing that says it better.
const fn picture(kind: StepKind) -> Option<Attach> {
    match kind {
        StepKind::Purlin | StepKind::Lines | StepKind::Square | StepKind::Taper | StepKind::Insulation => {
            Some(Attach::SettingOut)
        }
        StepKind::Offcuts | StepKind::Cut => Some(Attach::CutDiagram),
        StepKind::FirstSheet | StepKind::Course => Some(Attach::Sheets),
        StepKind::Nails => Some(Attach::FixingPattern),
        StepKind::Laps | StepKind::Ridge | StepKind::WallTop | StepKind::TopEdge | StepKind::EavesFiller => {
            Some(Attach::Section)
        }
        StepKind::GetReady
        | StepKind::Inspect
        | StepKind::Strip
        | StepKind::DeckRepair
        | StepKind::Deck
        | StepKind::Underlay
        | StepKind::WallSide
        | StepKind::Verge
        | StepKind::Finials
        | StepKind::LastLook => None,
    }
}

/// All is done.
pub(super) fn finished() -> Draft {
    Draft::of(Note::new("work-finished")).button("do-show-materials", "show-materials")
}

/// What comes after the step in hand.
pub(super) fn peek(steps: &[WorkStep], index: usize) -> Draft {
    let draft = match steps.get(index + 1) {
        Some(next) => Draft::of(Note::new("work-next").with("what", Arg::Note(Box::new(next.note.clone())))),
        None => Draft::of(Note::new("work-next-nothing")),
    };
    let mut draft = draft;
    // Its "done" is that of the step in hand, and must not tick off a later one.
    draft.asks = true;
    draft.button("do-work-done", "button-work-done").button("do-work-where", "button-work-where")
}

/// How many steps are left, how long they take, and what they use up.
pub(super) fn left(
    guide: &Guide<'_>,
    steps: &[WorkStep],
    done: &BTreeSet<StepKey>,
    counted: &[(Goods, Foresight)],
) -> Draft {
    let open: Vec<&WorkStep> = steps.iter().filter(|step| !done.contains(&step.key)).collect();
    let hours = hours(open.iter().copied(), &guide.handbook.rules.paces);
    let mut draft = Draft::of(
        Note::new("work-left")
            .count("left", open.len())
            .count("of", steps.len())
            .with("hours", Arg::Count(hours)),
    );
    for goods in Goods::ALL {
        let uses = open.iter().flat_map(|step| &step.uses).filter(|one| one.goods == *goods);
        let count: i64 = uses.map(|one| one.count).sum();
        if let Some((_, foresight)) = counted.iter().find(|(other, _)| other == goods) {
            draft = draft.item(count_note(*goods, foresight));
        } else if count > 0 {
            let note = Note::new("work-left-goods").word("goods", goods_word(*goods));
            draft = draft.item(note.with("count", Arg::Count(count)));
        }
    }
    draft.button("do-work-where", "button-work-where")
}

fn goods_word(goods: Goods) -> String {
    format!("work-goods-{}", goods.key())
}

/// How a count stands against the plan; a likely shortage is said at once, with what to buy.
///
/// Where sheets are missing and offcuts help, what is still to be laid is cut again from what is left.
pub(super) fn counted(plan: &Plan, all: &[(Goods, Foresight)], recut: Option<&Recut>) -> Draft {
    let mut draft = Draft::new("work-count");
    for (goods, foresight) in all {
        draft = draft.item(count_note(*goods, foresight));
    }
    if let Some(recut) = recut {
        draft = recutting(plan, recut, draft.paragraph(Note::new("work-cut-from-what-is-left")));
    }
    draft.button("do-work-where", "button-work-where").button("do-back", "button-work-undo")
}

/// How one count stands against the plan.
pub(super) fn count_note(goods: Goods, foresight: &Foresight) -> Note {
    let (short, likely) = (foresight.short(), foresight.likely_short());
    let message = if short > 0 && likely > short {
        "work-count-short-and-likely"
    } else if short > 0 {
        "work-count-short"
    } else if likely > 0 {
        "work-count-likely-short"
    } else {
        "work-count-enough"
    };
    Note::new(message)
        .word("goods", goods_word(goods))
        .with("used", Arg::Count(foresight.used))
        .with("planned", Arg::Count(foresight.planned))
        .with("left", Arg::Count(foresight.left))
        .with("needed", Arg::Count(foresight.needed))
        .with("buy", Arg::Count(if short > 0 { short } else { likely }))
        .with("more", Arg::Count(likely - short))
}

/// What to make safe, and how to come back.
pub(super) fn stopping(stop: Stop, steps: &[WorkStep], done: &BTreeSet<StepKey>) -> Draft {
    let mut notes = make_safe(stop, steps, |key| done.contains(key)).into_iter();
    let mut draft = notes.next().map_or_else(|| Draft::new("work-safe"), Draft::of);
    for note in notes {
        draft = draft.item(note);
    }
    draft.paragraph(Note::new("work-safe-back")).button("do-work-where", "button-work-where")
}

/// What can be wrong.
pub(super) fn problem() -> Draft {
    let mut draft = Draft::of(Note::new("work-problem"))
        .button("do-work-measure", "button-work-measure")
        .button("do-work-spoilt", "button-work-spoilt")
        .button("do-work-short", "button-work-short")
        .button("do-work-wind", "button-work-weather")
        .button("do-work-rotten", "button-work-rotten")
        .button("do-person", "button-person");
    draft.asks = true;
    draft
}

/// What a change does to the plan and to the work done.
pub(super) fn change(
    guide: &Guide<'_>,
    before: &Plan,
    change: &Change,
    plan: &Plan,
    then: &Consequence,
    recut: Option<&Recut>,
    supposed: bool,
) -> Draft {
    let mut draft = opening(guide, before, change, supposed);
    for out_of_square in new_marks(plan, change) {
        draft = draft.paragraph(out_of_square);
    }
    draft = what_follows(draft, before, plan, then);
    if let Some(recut) = recut {
        draft = recutting(plan, recut, draft);
    }
    if is_same(then) && recut.is_none() {
        draft = draft.paragraph(Note::new("work-change-nothing"));
    }
    settled_by(draft, supposed)
}

/// There is a plan again after a change that asked for more: what follows of it.
pub(super) fn plan_again(before: &Plan, plan: &Plan, then: &Consequence) -> Draft {
    let draft = Draft::of(Note::new("work-plan-again"));
    let draft = what_follows(draft, before, plan, then);
    if is_same(then) { draft.paragraph(Note::new("work-change-nothing")) } else { draft }
}

/// What comes off, or is put right, before the next step.
pub(super) fn take_off(off: &[StepKey], slopes: usize) -> Draft {
    // What lies on top first.
    let covering = off.iter().rev().filter(|key| key.is_covering());
    let below = off.iter().filter(|key| !key.is_covering());
    let what = Note::new("work-take-off").with("what", Arg::Notes(names(covering.chain(below), slopes)));
    let mut draft = Draft::new("work-take-off").paragraph(what);
    draft.asks = true;
    if off.iter().any(StepKey::is_covering) {
        draft = draft.paragraph(Note::new("work-mind-lift"));
    }
    draft
        .paragraph(Note::new("work-take-off-check"))
        .button("do-work-done", "button-work-done")
        .button("do-work-problem", "button-work-problem")
        .button("do-work-pause", "button-work-pause")
}

fn is_same(then: &Consequence) -> bool {
    then.difference.is_empty() && then.redo.is_empty()
}

/// What stands, what comes off, what is built and bought otherwise, what is lost.
fn what_follows(mut draft: Draft, before: &Plan, plan: &Plan, then: &Consequence) -> Draft {
    let slopes = plan.slopes.len();
    let same = is_same(then);
    for (message, keys) in
        [("work-stands", &then.stands), ("work-redo", &then.redo), ("work-lift", &then.lift)]
    {
        let told = keys.iter().filter(|key| is_built(key.kind) && !same);
        let what = names(told, slopes);
        if !what.is_empty() {
            draft = draft.paragraph(Note::new(message).with("what", Arg::Notes(what)));
        }
    }
    if !then.lift.is_empty() {
        draft = draft.paragraph(Note::new("work-mind-lift"));
    }
    let built = Difference { materials: Vec::new(), ..then.difference.clone() };
    for note in built.notes(slopes) {
        draft = draft.item(note);
    }
    for bought in &then.difference.materials {
        draft = draft.item(goods_note(bought));
    }
    for lost in &then.lost {
        let note = Note::new("work-lost").word("goods", goods_word(lost.goods));
        draft = draft.item(note.with("count", Arg::Count(lost.count)));
    }
    let (was, of) = (steps(before).len(), steps(plan).len());
    if was != of {
        draft = draft.item(Note::new("work-steps-now").count("was", was).count("of", of));
    }
    draft
}

/// Where the columns go, where a change of the diagonals sets them.
fn new_marks(plan: &Plan, change: &Change) -> Vec<Note> {
    let measured = |(fact, _): &Answer| matches!(fact, FactKey::DiagonalA | FactKey::DiagonalB);
    if change.answers.iter().any(measured) { taper_notes(plan) } else { Vec::new() }
}

/// What is built rather than looked at or got ready.
const fn is_built(kind: StepKind) -> bool {
    !matches!(
        kind,
        StepKind::GetReady | StepKind::Inspect | StepKind::Square | StepKind::Laps | StepKind::LastLook
    )
}

fn opening(guide: &Guide<'_>, before: &Plan, change: &Change, supposed: bool) -> Draft {
    let mut draft = Draft::new("work-change");
    draft.asks = true;
    let tells = |wanted: FactKey| change.answers.iter().any(|(fact, _)| *fact == wanted);
    let own_sheet = tells(FactKey::SheetLength) && tells(FactKey::CorrugationHeight);
    let told = change.answers.iter().filter(|(fact, _)| !own_sheet || !is_off_the_label(*fact));
    let facts: Vec<Note> = told
        .map(|(fact, value)| {
            let old = before.facts.get(*fact).filter(|old| *old != value);
            let message = match (supposed, old) {
                (false, Some(_)) => "work-change-fact",
                (false, None) => "work-change-new-fact",
                (true, Some(_)) => "work-suppose-fact",
                (true, None) => "work-suppose-new-fact",
            };
            let note = asking::fact_note(guide, message, *fact, value);
            match old {
                Some(old) => note.with("old", asking::value_arg(guide, *fact, old)),
                None => note,
            }
        })
        .collect();
    let spoilt = (change.spoilt > 0)
        .then(|| Note::new("work-change-spoilt").with("sheets", Arg::Count(change.spoilt)));
    if change.renews.is_some() {
        draft = draft.paragraph(Note::new("work-change-book"));
    }
    if !facts.is_empty() {
        let message = if supposed { "work-suppose" } else { "work-change-ask-facts" };
        draft = draft.paragraph(Note::new(message).with("facts", Arg::Notes(facts)));
    }
    if let Some(spoilt) = spoilt {
        draft = draft.paragraph(Note::new("work-change").with("facts", Arg::Notes(vec![spoilt])));
    }
    if own_sheet {
        draft = draft.paragraph(label_note(change));
        let others = other_sheets(guide, before);
        let names = others.map(|sheet| Note::new("plain-text").text("text", &sheet.item.name));
        let names: Vec<Note> = names.collect();
        if !names.is_empty() {
            let others = Note::new("work-change-other-sheets").with("sheets", Arg::Notes(names));
            draft = draft.paragraph(others);
        }
    }
    draft
}

/// What is taken to be on the label of a sheet of which only the length was told.
fn label_note(change: &Change) -> Note {
    let mut note = Note::new("work-change-label");
    for (fact, value) in &change.answers {
        note = match (fact, value) {
            (FactKey::SheetWidth, FactValue::Length(width)) => note.length("width", width.value),
            (FactKey::CorrugationHeight, FactValue::Length(height)) => note.length("height", height.value),
            (FactKey::SheetCorrugations, FactValue::Count(count)) => {
                note.with("corrugations", Arg::Count(*count))
            }
            _ => note,
        };
    }
    note
}

/// The other sheets of the list, of the same covering.
pub(super) fn other_sheets<'a>(guide: &Guide<'a>, plan: &Plan) -> impl Iterator<Item = &'a Sheet> {
    let now = &plan.site.sheet;
    let sheets = guide.handbook.catalogue.sheets.iter();
    sheets.filter(|sheet| sheet.covering == now.covering && sheet.item.id != now.item.id)
}

/// What is the same on every sheet that only differs in length.
const fn is_off_the_label(fact: FactKey) -> bool {
    matches!(
        fact,
        FactKey::Sheet | FactKey::SheetWidth | FactKey::SheetCorrugations | FactKey::CorrugationHeight
    )
}

fn settled_by(draft: Draft, supposed: bool) -> Draft {
    draft
        .paragraph(Note::new(if supposed { "work-suppose-ask" } else { "work-change-ask" }))
        .button("do-work-accept", "button-work-accept")
        .button("do-work-leave", "button-work-leave")
}

fn goods_note(bought: &Bought) -> Note {
    let (more, fewer) = (["work-buy", "work-buy-lengths"], ["work-spare", "work-spare-lengths"]);
    bought.note(more, fewer, "work-goods-sheets")
}

fn recutting(plan: &Plan, recut: &Recut, mut draft: Draft) -> Draft {
    for (part, offcut) in &recut.from_offcuts {
        let note = Note::new("work-from-offcut").with("piece", part_arg(plan, part));
        draft = draft.item(note.with("offcut", part_arg(plan, offcut)));
    }
    let whole = Part { length: plan.site.sheet.length, corrugations: plan.site.sheet.corrugations };
    let fills = |one: &Part| one.length >= whole.length && one.corrugations >= whole.corrugations;
    let is_cut = |sheet: &&Vec<Part>| !matches!(sheet.as_slice(), [one] if fills(one));
    for (sheet, count) in alike(recut.sheets.iter().filter(is_cut)) {
        let pieces = alike(sheet).into_iter().map(|(part, pieces)| {
            let piece = Arg::Note(Box::new(piece_note(plan, part)));
            Note::new("work-pieces-alike").count("count", pieces).with("piece", piece)
        });
        let note = Note::new("work-cut-sheet").count("count", count);
        draft = draft.item(note.with("pieces", Arg::Notes(pieces.collect())));
    }
    let message = if recut.buy > 0 { "work-recut-buy" } else { "work-recut" };
    draft.paragraph(
        Note::new(message)
            .count("sheets", recut.sheets.len())
            .with("at_hand", Arg::Count(recut.at_hand))
            .with("buy", Arg::Count(recut.buy)),
    )
}

/// Neighbours that are alike, with how many there are.
fn alike<'a, T: PartialEq>(all: impl IntoIterator<Item = &'a T>) -> Vec<(&'a T, usize)> {
    let mut runs: Vec<(&T, usize)> = Vec::new();
    for one in all {
        match runs.last_mut() {
            Some((same, count)) if *same == one => *count += 1,
            Some(_) | None => runs.push((one, 1)),
        }
    }
    runs
}

fn piece_note(plan: &Plan, part: &Part) -> Note {
    let full = part.corrugations >= plan.site.sheet.corrugations;
    Note::new(if full { "cut-piece-full" } else { "cut-piece-narrow" })
        .length("length", part.length)
        .with("corrugations", Arg::Count(part.corrugations))
}

fn part_arg(plan: &Plan, part: &Part) -> Arg {
    Arg::Note(Box::new(piece_note(plan, part)))
}

/// A change that leads to no plan, and why.
pub(super) fn change_refused(
    guide: &Guide<'_>,
    before: &Plan,
    change: &Change,
    refusal: &Refusal,
    supposed: bool,
) -> Draft {
    let stops = if supposed { "work-suppose-refused" } else { "work-change-refused" };
    let draft =
        opening(guide, before, change, supposed).paragraph(refusal.note.clone()).paragraph(Note::new(stops));
    settled_by(draft, supposed)
}

/// A change after which more must be known.
pub(super) fn change_asks(guide: &Guide<'_>, before: &Plan, change: &Change, supposed: bool) -> Draft {
    settled_by(opening(guide, before, change, supposed).paragraph(Note::new("work-change-asks")), supposed)
}
