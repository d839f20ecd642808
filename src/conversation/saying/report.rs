//! The plan, told in messages of a size for a phone: in short first, each part on request.

use std::collections::BTreeMap;

use super::{Attach, Button, Draft, MOST_BUTTONS};
use crate::conversation::Guide;
use crate::conversation::ears::Part;
use crate::roofing::catalogue::StockMethod;
use crate::roofing::layout::{Line, LineKind, Piece, SupportPlan};
use crate::roofing::materials::{MaterialLine, Unit};
use crate::roofing::note::{Arg, Note, ranges};
use crate::roofing::plan::{self, FindingKind, Plan, SlopePlan};
use crate::roofing::roof::{Form, Hand};
use crate::roofing::rules::Phase;
use crate::roofing::work::work_order;
use crate::units::Length;

/// The first reply: in short, what to buy, what to mind, and what else there is to see.
pub fn first(guide: &Guide<'_>, plan: &Plan) -> Vec<Draft> {
    let mut drafts = vec![headline(guide, plan), materials(plan)];
    drafts.extend(cautions(plan, None));
    drafts.push(what_next());
    drafts
}

/// Every part, for paper.
pub fn whole(guide: &Guide<'_>, plan: &Plan) -> Vec<Draft> {
    let mut drafts: Vec<Draft> = Part::ALL
        .iter()
        .filter(|part| !matches!(part, Part::Cautions | Part::Papers))
        .flat_map(|one| part(guide, plan, *one))
        .collect();
    for draft in &mut drafts {
        draft.buttons.clear();
        draft.asks = false;
    }
    drafts
}

/// One part of the plan.
pub fn part(guide: &Guide<'_>, plan: &Plan, part: Part) -> Vec<Draft> {
    let mut drafts = match part {
        Part::Headline => {
            let mut drafts = vec![headline(guide, plan)];
            drafts.extend(cautions(plan, None));
            drafts
        }
        Part::Materials => vec![materials(plan), tools(plan)],
        // The sides of the two slopes differ, seen by somebody who faces each.
        Part::SettingOut => each_slope(plan, false, setting_out),
        Part::Fixings => each_slope(plan, are_alike(plan), fixings),
        Part::CutList => each_slope(plan, false, cut_list),
        // What can hurt is said once more just before the work.
        Part::Work => {
            let mut drafts = cautions(plan, Some(Phase::Work));
            drafts.push(work(plan));
            drafts
        }
        Part::Cautions => cautions(plan, None),
        Part::Papers => vec![Draft::of(Note::new("papers"))],
    };
    if let Some(last) = drafts.last_mut() {
        last.attach = pictures(part);
        last.buttons = part_buttons(part);
        if part == Part::Work {
            last.buttons.push(Button::new("do-work-start", Note::new("button-work-start")));
        }
        if matches!(part, Part::Materials | Part::Papers) && guide.link.is_some() {
            last.buttons.push(Button::new("do-share", Note::new("button-send")));
        }
    }
    drafts
}

/// The plan made again after a change, and what is different.
pub(in crate::conversation) fn changed(guide: &Guide<'_>, before: Option<&Plan>, now: &Plan) -> Vec<Draft> {
    let Some(before) = before else { return first(guide, now) };
    let notes = plan::difference(before, now).notes(before.slopes.len().max(now.slopes.len()));
    if notes.is_empty() {
        return vec![Draft::of(Note::new("plan-same")), what_next()];
    }
    let mut draft = Draft::of(Note::new("plan-changed"));
    for note in notes {
        draft = draft.item(note);
    }
    let mut drafts = vec![draft, headline(guide, now)];
    drafts.push(what_next());
    drafts
}

/// What there is to see.
pub(in crate::conversation) fn what_next() -> Draft {
    let mut draft = Draft::of(Note::new("what-next"));
    draft.asks = true;
    draft.buttons = part_buttons(Part::Headline);
    draft
}

/// What says a part better than words.
fn pictures(part: Part) -> Vec<Attach> {
    match part {
        Part::Headline | Part::Materials | Part::Cautions => Vec::new(),
        Part::SettingOut => vec![Attach::SettingOut],
        Part::Fixings => vec![Attach::FixingPattern],
        Part::CutList => vec![Attach::Sheets, Attach::CutDiagram],
        Part::Work => vec![Attach::Section],
        Part::Papers => vec![Attach::RoofPack, Attach::SupplierSheet, Attach::PlanText],
    }
}

/// The parts that are not shown just now, and "why" where there is room.
fn part_buttons(shown: Part) -> Vec<Button> {
    let others = [Part::Materials, Part::SettingOut, Part::Fixings, Part::CutList, Part::Work, Part::Papers];
    others
        .iter()
        .filter(|part| **part != shown)
        .map(|part| Button::new(format!("do-show-{}", part.key()), Note::new(format!("show-{}", part.key()))))
        .chain([Button::new("do-why", Note::new("button-why"))])
        .take(MOST_BUTTONS)
        .collect()
}

fn each_slope(plan: &Plan, alike: bool, tell: fn(&Plan, usize, &SlopePlan, Draft) -> Draft) -> Vec<Draft> {
    let told = plan.slopes.iter().enumerate().map(|(index, slope)| {
        let name = slope_name(plan, index);
        let mut draft = Draft::new(name);
        if plan.slopes.len() > 1 {
            draft = draft.paragraph(Note::new(name));
        }
        tell(plan, index, slope, draft)
    });
    let told: Vec<Draft> = told.collect();
    // Two equal slopes are told once.
    match told.as_slice() {
        [front, back] if alike => {
            let mut both = Draft::new(back.id.clone()).paragraph(Note::new("slopes-both"));
            both.lines.extend(front.lines.iter().skip(1).cloned());
            vec![both]
        }
        _ => told,
    }
}

/// Whether both slopes are the same to buy and nail, and to cut unless they share offcuts; the back one is laid from its other end.
fn are_alike(plan: &Plan) -> bool {
    match plan.slopes.as_slice() {
        [front, back] => {
            front.support == back.support
                && front.lines == back.lines
                && front.courses == back.courses
                && front.columns.len() == back.columns.len()
                && front.fixings.len() == back.fixings.len()
                && front.nail == back.nail
                && front.long_nail == back.long_nail
        }
        _ => false,
    }
}

fn slope_name(plan: &Plan, index: usize) -> &'static str {
    match (plan.site.form, index) {
        (Form::SingleSlope, _) => "slope-only",
        (Form::TwoSlopes, 0) => "slope-front",
        (Form::TwoSlopes, _) => "slope-back",
    }
}

fn headline(guide: &Guide<'_>, plan: &Plan) -> Draft {
    let sheets: usize = plan.slopes.iter().map(|slope| slope.cuts.sheets.len()).sum();
    let mut draft = Draft::of(
        Note::new("headline")
            .count("sheets", sheets)
            .with("area", Arg::Area(plan.materials.area))
            .with("sheet", named(&plan.site.sheet.item.name)),
    );
    let alike = are_alike(plan);
    for (index, slope) in plan.slopes.iter().enumerate().filter(|(index, _)| !alike || *index == 0) {
        if plan.slopes.len() > 1 {
            draft = draft.paragraph(Note::new(if alike { "slopes-both" } else { slope_name(plan, index) }));
        }
        draft = draft.item(support(slope)).item(
            Note::new("headline-laps")
                .length("end_lap", slope.end_lap)
                .with("side_lap", Arg::Count(slope.side_lap))
                .count("courses", slope.courses.len()),
        );
        draft = draft.item(nails(slope, "headline-nails", "headline-nails-two"));
    }
    for (piece, pieces) in edge_counts(guide, plan) {
        draft =
            draft.item(Note::new("headline-edge").text("piece", piece).with("pieces", Arg::Count(pieces)));
    }
    draft = draft.item(
        Note::new("headline-weight")
            .with("mass", Arg::Mass(plan.materials.covering_mass))
            .with("per_m2", Arg::Mass(plan.materials.mass_per_m2)),
    );
    for finding in plan
        .findings
        .iter()
        .filter(|finding| matches!(finding.kind, FindingKind::Doubt | FindingKind::Advice))
    {
        draft = draft.paragraph(finding.note.clone());
    }
    for said in plan.unsettled(&guide.handbook.rules) {
        draft = draft.paragraph(said);
    }
    if plan.demo {
        draft = draft.paragraph(Note::new("demo-range"));
    }
    draft
}

fn edge_counts<'a>(guide: &Guide<'a>, plan: &Plan) -> Vec<(&'a str, i64)> {
    let edges = &guide.handbook.catalogue.edges;
    let counted = edges.iter().map(|piece| {
        let pieces = plan.edges.iter().filter(|run| run.piece == piece.item.id).map(|run| run.pieces).sum();
        (piece.item.name.as_str(), pieces)
    });
    counted.filter(|(_, pieces)| *pieces > 0).collect()
}

fn support(slope: &SlopePlan) -> Note {
    let gap = largest_gap(&slope.lines);
    match &slope.support {
        SupportPlan::Purlins => {
            Note::new("headline-on-purlins").length("gap", gap).count("lines", slope.lines.len())
        }
        SupportPlan::PurlinsOverDeck { deck, screw_length, .. } => Note::new("headline-purlins-over-deck")
            .length("gap", gap)
            .count("lines", slope.lines.len())
            .size("deck", *deck)
            .size("screw", *screw_length),
        SupportPlan::ExistingDeck { deck } => Note::new("headline-on-deck")
            .size("deck", *deck)
            .length("gap", gap)
            .count("lines", slope.lines.len()),
        SupportPlan::NewFullDeck { thickness, .. } => Note::new("headline-new-deck")
            .size("deck", *thickness)
            .length("gap", gap)
            .count("lines", slope.lines.len()),
    }
}

fn largest_gap(lines: &[Line]) -> Length {
    let gaps = lines.iter().zip(lines.iter().skip(1)).map(|(lower, upper)| upper.y - lower.y);
    gaps.max().unwrap_or(Length::ZERO)
}

fn materials(plan: &Plan) -> Draft {
    let mut draft = Draft::of(Note::new("materials"));
    for line in &plan.materials.lines {
        draft = draft.item(material(plan, line));
    }
    draft = match plan.materials.listed() {
        Some((price, without)) => draft.paragraph(
            Note::new("materials-price")
                .with("price", Arg::Money(price))
                .count("without", without)
                .text("date", &*plan.goods.prices_from),
        ),
        None => draft.paragraph(Note::new("materials-no-price")),
    };
    draft
}

fn material(plan: &Plan, line: &MaterialLine) -> Note {
    let bought = bought(plan, line);
    match line.price {
        Some(price) => Note::new("material-priced")
            .with("line", Arg::Note(Box::new(bought)))
            .with("price", Arg::Money(price)),
        None => bought,
    }
}

fn bought(plan: &Plan, line: &MaterialLine) -> Note {
    let message = match (line.unit, line.pack > 1) {
        (Unit::Piece, false) => "material-singly",
        (Unit::Piece, true) => "material-packs",
        (Unit::PieceOf(_), _) => "material-lengths",
    };
    let note = Note::new(message)
        .with("name", plan.picking().name(line))
        .word("purpose", &*line.purpose)
        .with("buy", Arg::Count(line.packs.saturating_mul(line.pack)))
        .with("needed", Arg::Count(line.needed))
        .with("spare", Arg::Count(line.spare))
        .with("packs", Arg::Count(line.packs))
        .with("pack", Arg::Count(line.pack));
    match line.unit {
        Unit::Piece => note,
        Unit::PieceOf(length) => note.length("length", length),
    }
}

/// A sheet read off its label has no name in the catalogue.
fn named(name: &str) -> Arg {
    if name.is_empty() { Arg::Word("own-sheet".to_owned()) } else { Arg::Text(name.to_owned()) }
}

fn tools(plan: &Plan) -> Draft {
    let mut draft = Draft::of(Note::new("tools"));
    for tool in &plan.materials.tools {
        draft = draft.item(tool.clone());
    }
    draft
}

fn setting_out(plan: &Plan, _: usize, slope: &SlopePlan, draft: Draft) -> Draft {
    let on_purlins = matches!(slope.support, SupportPlan::Purlins | SupportPlan::PurlinsOverDeck { .. });
    let mut draft =
        draft.paragraph(Note::new(if on_purlins { "setting-out-purlins" } else { "setting-out-lines" }));
    let mut below = None;
    for (index, line) in slope.lines.iter().enumerate() {
        let kind = match line.kind {
            LineKind::Eaves => "line-eaves",
            LineKind::EndLap => "line-end-lap",
            LineKind::Intermediate => "line-intermediate",
            LineKind::Top => "line-top",
        };
        let note = match below {
            None => Note::new("setting-out-first"),
            Some(lower) => Note::new("setting-out-line").length("gap", line.y - lower),
        };
        draft = draft.item(note.count("number", index + 1).length("at", line.y).word("kind", kind));
        below = Some(line.y);
    }
    let start = match slope.start_from {
        Hand::Left => "hand-left",
        Hand::Right => "hand-right",
    };
    draft
        .paragraph(
            Note::new("setting-out-sheets")
                .word("start", start)
                .count("columns", slope.columns.len())
                .length("eaves", slope.eaves_overhang)
                .length("verge", slope.verge_overhang)
                .with("at_wall", Arg::Count(i64::from(slope.verge_overhang == Length::ZERO)))
                .length("cover", plan.site.sheet.cover_width(slope.side_lap)),
        )
        .paragraph(if slope.far_verge_overhang > Length::ZERO {
            Note::new("setting-out-far-verge").length("far", slope.far_verge_overhang)
        } else {
            Note::new("setting-out-far-wall")
        })
}

/// How many nails of which length; in other words where there are two.
fn nails(slope: &SlopePlan, of_one: &str, of_two: &str) -> Note {
    let note =
        |message| Note::new(message).size("nail", slope.nail_length).count("nails", slope.fixings.len());
    let Some(long) = &slope.long_nail else { return note(of_one) };
    let longer = slope.long_nails();
    note(of_two)
        .count("short", slope.fixings.len() - longer)
        .count("long", longer)
        .size("longer", long.length)
}

fn fixings(_: &Plan, _: usize, slope: &SlopePlan, draft: Draft) -> Draft {
    let mut draft = draft.paragraph(nails(slope, "fixings", "fixings-two").size("bite", slope.least_bite()));
    let kinds = [
        (LineKind::Eaves, "fixings-eaves"),
        (LineKind::EndLap, "fixings-end-lap"),
        (LineKind::Intermediate, "fixings-intermediate"),
        (LineKind::Top, "fixings-top"),
    ];
    for (kind, message) in kinds {
        let lines = slope.lines.iter().filter(|line| line.kind == kind).count();
        let nails = slope.fixings.iter().filter(|fixing| fixing.line == kind).count();
        if lines > 0 {
            draft = draft.item(Note::new(message).count("lines", lines).count("nails", nails));
        }
    }
    draft.paragraph(Note::new("fixings-how"))
}

/// Sheets that are cut alike are told in one entry.
fn cut_list(plan: &Plan, index: usize, slope: &SlopePlan, draft: Draft) -> Draft {
    type Sizes = Vec<(Length, i64)>;
    let to_length = plan.site.covering.stock == StockMethod::OrderedToLength;
    let sizes = |pieces: &[Piece]| -> Sizes {
        let mut sizes: Sizes = pieces.iter().map(|piece| (piece.length, piece.corrugations)).collect();
        sizes.sort_unstable();
        sizes
    };
    let mut alike: BTreeMap<(Sizes, Sizes), Vec<usize>> = BTreeMap::new();
    for sheet in &slope.cuts.sheets {
        alike.entry((sizes(&sheet.pieces), sizes(&sheet.for_back))).or_default().push(sheet.number);
    }
    let mut groups: Vec<_> = alike.into_iter().map(|(pieces, sheets)| (sheets, pieces)).collect();
    groups.sort_unstable();
    let message = match (plan.sharing, index) {
        (Some(_), 0) => "cut-list-shared-front",
        (Some(_), _) => "cut-list-shared-back",
        (None, _) if slope.cuts.sheets.len() <= slope.cuts.sheets_at_least => "cut-list-proven",
        (None, _) => "cut-list-bound",
    };
    let mut draft = draft.paragraph(
        Note::new(message)
            .count("sheets", slope.cuts.sheets.len())
            .count("cuts", slope.cuts.cuts)
            .count("bound", slope.cuts.sheets_at_least),
    );
    let sheet = &plan.site.sheet;
    let list = |sizes: &[(Length, i64)]| {
        let sizes = sizes.iter().map(|(length, corrugations)| {
            Note::new(if *corrugations == sheet.corrugations { "cut-piece-full" } else { "cut-piece-narrow" })
                .length("length", *length)
                .with("corrugations", Arg::Count(*corrugations))
        });
        Arg::Notes(sizes.collect())
    };
    let mut kept: BTreeMap<usize, Vec<Piece>> = BTreeMap::new();
    for (sheet, _, piece) in plan.offcuts_for(index) {
        kept.entry(sheet).or_default().push(*piece);
    }
    let mut offcuts: BTreeMap<Sizes, Vec<usize>> = BTreeMap::new();
    for (sheet, pieces) in kept {
        offcuts.entry(sizes(&pieces)).or_default().push(sheet);
    }
    let mut offcuts: Vec<_> = offcuts.into_iter().map(|(pieces, sheets)| (sheets, pieces)).collect();
    offcuts.sort_unstable();
    for (sheets, pieces) in offcuts {
        let note = Note::new("cut-offcuts").text("sheets", ranges(&sheets)).count("count", sheets.len());
        draft = draft.item(note.with("pieces", list(&pieces)));
    }
    for (sheets, (own, for_back)) in groups {
        let as_bought = |length: Length| to_length || length == sheet.length;
        let whole =
            matches!(own.as_slice(), [(length, wide)] if as_bought(*length) && *wide == sheet.corrugations);
        draft = draft.item(
            Note::new(if whole { "cut-none" } else { "cut-sheets" })
                .text("sheets", ranges(&sheets))
                .count("count", sheets.len())
                .with("pieces", list(&own))
                .with("for_back", list(&for_back))
                .count("kept", for_back.len()),
        );
    }
    draft.paragraph(Note::new("cut-list-where"))
}

fn work(plan: &Plan) -> Draft {
    let mut draft = Draft::of(Note::new("work"));
    for step in work_order(plan) {
        draft = draft.item(step.whole());
    }
    draft
}

/// What to mind; with a phase, only what belongs just before it.
fn cautions(plan: &Plan, phase: Option<Phase>) -> Vec<Draft> {
    let mut draft = Draft::of(Note::new("cautions"));
    for caution in plan.cautions.iter().filter(|caution| phase.is_none_or(|phase| caution.phase == phase)) {
        draft = draft.item(caution.note.clone());
    }
    vec![draft]
}
