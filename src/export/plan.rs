//! The plan as others read it: JSON with a schema.
//!
//! Lengths are whole or decimal millimetres (`_mm`), angles degrees (`_deg`), masses kilograms (`_kg`), money a
//! decimal text with its currency. `x` runs along the eaves from the left-hand barge board, `y` up the slope from
//! the eaves edge; sheets start below zero by their overhangs.

use sha2::{Digest, Sha256};

use super::facts::{facts_json, tidy};
use super::limits::reason_json;
use super::shape::{
    CautionJson, ColumnJson, CourseJson, CutJson, EdgeJson, FindingJson, FixingJson, LineJson, LongNailJson,
    MaterialJson, MoneyJson, PieceJson, PlanJson, PurlinJson, SheetJson, SlopeJson,
};
use crate::conversation::saying::Voice;
use crate::roofing::layout::{Line, LineKind, Piece, PurlinPiece, SupportPlan};
use crate::roofing::materials::{MaterialLine, Unit};
use crate::roofing::note::Arg;
use crate::roofing::plan::{Finding, FindingKind, Handbook, Plan, SlopePlan};
use crate::roofing::roof::Hand;
use crate::roofing::rules::{Phase, Requirement};
use crate::units::Length;

/// The plan as JSON.
pub fn plan_json(plan: &Plan, handbook: &Handbook, voice: &Voice<'_>) -> serde_json::Value {
    let json = PlanJson {
        slopes: plan.slopes.iter().enumerate().map(|(index, slope)| slope_json(plan, index, slope)).collect(),
        edges: edges_json(plan),
        finials: plan.finials,
        materials: plan.materials.lines.iter().map(|line| material_json(line, plan, voice)).collect(),
        covering_mass_kg: plan.materials.covering_mass.kg(),
        covering_kg_per_m2: plan.materials.mass_per_m2.kg(),
        area_m2: plan.materials.area.m2(),
        price: plan.materials.price.map(money_json),
        prices_from: plan.goods.prices_from.clone(),
        cautions: plan
            .cautions
            .iter()
            .map(|caution| CautionJson {
                id: caution.rule.clone(),
                phase: match caution.phase {
                    Phase::Plan => "plan",
                    Phase::Work => "work",
                },
                text: voice.say(&caution.note),
                steps: caution.again.iter().flat_map(|again| &again.steps).map(|kind| kind.key()).collect(),
            })
            .collect(),
        findings: plan.findings.iter().map(|finding| finding_json(finding, handbook, voice)).collect(),
        catalogue: plan.catalogue.clone(),
        demo: plan.demo,
        book: plan.made.by.book.clone(),
        planner: plan.made.by.planner,
        day: plan.made.day.map(|day| day.to_string()),
        input_hash: input_hash(plan),
    };
    tidy(serde_json::to_value(json).unwrap_or(serde_json::Value::Null))
}

/// What a plan follows from: equal hashes are equal plans. The day is no part of it, for the book is that of the day.
fn input_hash(plan: &Plan) -> String {
    let mut hasher = Sha256::new();
    for part in
        [facts_json(&plan.facts).to_string(), plan.made.by.book.clone(), plan.made.by.planner.to_string()]
    {
        hasher.update(part.as_bytes());
        hasher.update(b"\n");
    }
    data_encoding::HEXLOWER.encode(&hasher.finalize())
}

fn slope_json(plan: &Plan, index: usize, slope: &SlopePlan) -> SlopeJson {
    let purlins = match slope.support {
        SupportPlan::Purlins | SupportPlan::PurlinsOverDeck { .. } => {
            slope.lines.iter().map(|line| line.y.mm()).collect()
        }
        SupportPlan::ExistingDeck { .. } | SupportPlan::NewFullDeck { .. } => Vec::new(),
    };
    SlopeJson {
        support: support_name(&slope.support),
        pitch_deg: plan.site.slopes.get(index).map_or(0.0, |site| site.pitch.value.deg()),
        max_purlin_spacing_mm: slope.max_line_gap().map(Length::mm),
        end_lap_mm: slope.end_lap.mm(),
        side_lap_corrugations: slope.side_lap,
        purlins_mm: purlins,
        fixing_lines: slope.lines.iter().map(line_json).collect(),
        eaves_overhang_mm: slope.eaves_overhang.mm(),
        verge_overhang_mm: slope.verge_overhang.mm(),
        far_verge_overhang_mm: slope.far_verge_overhang.mm(),
        start_from: hand_name(slope.start_from),
        courses: slope
            .courses
            .iter()
            .map(|course| CourseJson {
                from_mm: course.from.mm(),
                to_mm: course.to.mm(),
                length_mm: course.length().mm(),
                top_is_lapped: course.top_is_lapped,
            })
            .collect(),
        columns: slope
            .columns
            .iter()
            .map(|column| ColumnJson {
                number: column.number,
                from_mm: column.from.mm(),
                to_mm: column.to.mm(),
                first_corrugation: column.first_corrugation,
                corrugations: column.corrugations,
            })
            .collect(),
        cuts: sheets_json(slope),
        sheets: slope.cuts.sheets.len(),
        sheets_at_least: slope.cuts.sheets_at_least,
        cut_count: slope.cuts.cuts,
        cuts_proven: slope.cuts.cuts_proven,
        fixings: slope
            .fixings
            .iter()
            .map(|fixing| FixingJson {
                x_mm: fixing.x.mm(),
                y_mm: fixing.y.mm(),
                line: line_name(fixing.line),
            })
            .collect(),
        nail: slope.nail.clone(),
        nail_length_mm: slope.nail_length.mm(),
        nail_bite_mm: slope.nail_bite.mm(),
        long_nail: slope.long_nail.as_ref().map(|long| LongNailJson {
            nail: long.nail.clone(),
            length_mm: long.length.mm(),
            bite_mm: long.bite.mm(),
        }),
        purlins: slope.purlin_pieces.iter().map(purlin_json).collect(),
    }
}

fn purlin_json(piece: &PurlinPiece) -> PurlinJson {
    PurlinJson {
        line: piece.line + 1,
        from_mm: piece.from.mm(),
        to_mm: piece.to.mm(),
        timber: piece.stock_number,
        timber_mm: piece.stock.mm(),
    }
}

/// The name of a kind of support in JSON.
pub const fn support_name(support: &SupportPlan) -> &'static str {
    match support {
        SupportPlan::Purlins => "purlins",
        SupportPlan::PurlinsOverDeck { .. } => "purlins over deck",
        SupportPlan::ExistingDeck { .. } => "deck",
        SupportPlan::NewFullDeck { .. } => "full deck",
    }
}

const fn line_name(kind: LineKind) -> &'static str {
    match kind {
        LineKind::Eaves => "eaves",
        LineKind::EndLap => "end_lap",
        LineKind::Intermediate => "intermediate",
        LineKind::Top => "top",
    }
}

const fn hand_name(hand: Hand) -> &'static str {
    match hand {
        Hand::Left => "left",
        Hand::Right => "right",
    }
}

fn line_json(line: &Line) -> LineJson {
    LineJson { y_mm: line.y.mm(), kind: line_name(line.kind) }
}

fn sheets_json(slope: &SlopePlan) -> Vec<SheetJson> {
    let sheets = slope.cuts.sheets.iter();
    sheets
        .map(|sheet| SheetJson {
            sheet: sheet.number,
            cuts: sheet.cuts,
            pieces: pieces_json(&sheet.pieces),
            for_back_slope: pieces_json(&sheet.for_back),
        })
        .collect()
}

fn pieces_json(pieces: &[Piece]) -> Vec<PieceJson> {
    let json = |piece: &Piece| PieceJson {
        course: piece.course + 1,
        column: piece.column + 1,
        length_mm: piece.length.mm(),
        corrugations: piece.corrugations,
        at_mm: piece.at.mm(),
        at_corrugation: piece.at_corrugation,
    };
    pieces.iter().map(json).collect()
}

fn edges_json(plan: &Plan) -> Vec<EdgeJson> {
    let edges = plan.edges.iter();
    edges
        .map(|edge| EdgeJson {
            piece: edge.piece.clone(),
            slope: edge.slope + 1,
            hand: edge.hand.map(hand_name),
            run_mm: edge.run.mm(),
            lap_mm: edge.lap.mm(),
            pieces: edge.pieces,
        })
        .collect()
}

fn material_json(line: &MaterialLine, plan: &Plan, voice: &Voice<'_>) -> MaterialJson {
    let picking = plan.picking();
    let cuts = picking.cuts(line).into_iter();
    MaterialJson {
        item: line.item.clone(),
        name: if let Arg::Note(note) = picking.name(line) { voice.say(&note) } else { line.name.clone() },
        details: picking.details(line).iter().map(|note| voice.say(note)).collect(),
        cuts: cuts.map(|(length, pieces)| CutJson { length_mm: length.mm(), pieces }).collect(),
        mass_by_size: picking.is_mass_by_size(line),
        purpose: voice.say(&crate::roofing::note::Note::new(&*line.purpose)),
        length_mm: match line.unit {
            Unit::Piece => None,
            Unit::PieceOf(length) => Some(length.mm()),
        },
        needed: line.needed,
        spare: line.spare,
        spare_rule: line.spare_rule.clone(),
        pack: line.pack,
        packs: line.packs,
        left_over: line.left_over,
        mass_kg: line.mass.kg(),
        price: line.price.map(money_json),
    }
}

fn money_json(money: crate::units::Money) -> MoneyJson {
    MoneyJson { amount: money.amount.to_string(), currency: money.currency.code().to_owned() }
}

fn finding_json(finding: &Finding, handbook: &Handbook, voice: &Voice<'_>) -> FindingJson {
    let source = handbook.rules.source(&finding.source);
    FindingJson {
        id: finding.id.clone(),
        kind: match finding.kind {
            FindingKind::Requirement => "requirement",
            FindingKind::Doubt => "doubt",
            FindingKind::Advice => "advice",
            FindingKind::Caution => "caution",
        },
        slope: finding.slope.map(|slope| slope + 1),
        text: voice.say(&finding.note),
        requirement: finding.requirement.map(Requirement::key),
        reasons: finding.reasons.iter().map(reason_json).collect(),
        source: source.map_or_else(|| finding.source.clone(), |source| source.title.clone()),
    }
}
