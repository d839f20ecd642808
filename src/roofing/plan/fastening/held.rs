//! Whether every nail holds: through all that lies there it bites deep enough, its point stays inside a purlin, and it
//! stands clear of ends and edges. Counted anew from where sheets and pieces lie.

use crate::roofing::catalogue::{EdgePiece, EdgeUse};
use crate::roofing::fixings::Fixing;
use crate::roofing::layout::LineKind;
use crate::roofing::plan::{Fault, PlanParts, SlopePlan};
use crate::roofing::rules::{Limit, Requirement};
use crate::units::Length;

/// Checks every nail of a slope.
pub(in crate::roofing::plan) fn held(
    parts: &PlanParts,
    index: usize,
    slope: &SlopePlan,
) -> Result<(), Fault> {
    let top = top_piece(parts);
    let on_purlins = slope.purlin_timber.is_some();
    let least = required(slope, parts.site.covering.bite(on_purlins))?;
    let deepest = deepest(parts, slope)?;
    let base = parts.site.covering.fixing.above_timber(parts.site.sheet.corrugation_height);
    let through = |fixing: &Fixing, pieces: i64| {
        let piece = top.filter(|_| fixing.through_edge_piece).map_or(Length::ZERO, |top| top.thickness);
        base + parts.site.sheet.thickness * sheets_at(slope, fixing) + piece * pieces
    };
    for fixing in &slope.fixings {
        let (_, length) = slope.nail_on(fixing.line);
        // Pieces lap one another somewhere along the line: there two lie on each other.
        let (shallow, deep) = (length - through(fixing, 2), length - through(fixing, 1));
        check(shallow >= least, "nail-bites", || {
            format!("{shallow} of {least} at {}, {}", fixing.x, fixing.y)
        })?;
        let inside = deepest.is_none_or(|most| deep <= most);
        check(inside, "nail-point-inside", || format!("{deep} deep at {}, {}", fixing.x, fixing.y))?;
    }
    clear_of_ends(parts, slope)?;
    check(slope.least_bite() >= least, "pieces-are-held", || format!("{} of {least}", slope.least_bite()))?;
    match top {
        Some(top) => under_the_piece(parts, index, slope, top),
        None => Ok(()),
    }
}

/// How many sheets lie over each other at a nail.
fn sheets_at(slope: &SlopePlan, fixing: &Fixing) -> i64 {
    let courses = slope.courses.iter().enumerate();
    let here = courses.filter(|(_, course)| course.lies_at(fixing.y));
    let across = here.map(|(course, _)| {
        let columns = slope.columns_of(course).iter();
        columns.filter(|column| (column.from..=column.to).contains(&fixing.x)).count()
    });
    i64::try_from(across.sum::<usize>()).unwrap_or(i64::MAX)
}

/// How deep a nail may bite, where its point must stay inside: in a purlin.
fn deepest(parts: &PlanParts, slope: &SlopePlan) -> Result<Option<Length>, Fault> {
    let Some(id) = slope.purlin_timber.as_ref().filter(|_| parts.site.covering.is_nailed()) else {
        return Ok(None);
    };
    let timber = parts.goods.timbers.iter().find(|timber| timber.item.id == *id);
    let depth = timber.map(|timber| timber.depth).unwrap_or_default();
    Ok(Some(depth - required(slope, Requirement::NailPointCover)?))
}

fn clear_of_ends(parts: &PlanParts, slope: &SlopePlan) -> Result<(), Fault> {
    let Some(Limit::Count(diameters)) =
        slope.requirements.deciding(Requirement::NailEndDistance).map(|one| one.limit)
    else {
        return Ok(());
    };
    let nail = parts.goods.fasteners.iter().find(|fastener| fastener.item.id == slope.nail);
    let least = nail.map(|nail| nail.diameter).unwrap_or_default() * diameters;
    let length = parts.site.length.value;
    for fixing in &slope.fixings {
        let line = slope.lines.iter().position(|line| line.y == fixing.y);
        let joints =
            slope.purlin_pieces.iter().filter(|piece| Some(piece.line) == line).map(|piece| piece.from);
        let mut ends = joints.chain([Length::ZERO, length]);
        let clear = ends.all(|end| (fixing.x - end).abs() >= least);
        check(clear, "nail-clear-of-ends", || format!("{}, {}", fixing.x, fixing.y))?;
    }
    Ok(())
}

/// The piece along the top that the nails of the top lines go through.
fn top_piece(parts: &PlanParts) -> Option<&EdgePiece> {
    let at_top = |edge| matches!(edge, EdgeUse::Ridge | EdgeUse::TopEdge | EdgeUse::WallTop);
    let run = parts.edges.iter().find(|run| at_top(run.edge))?;
    parts.goods.edges.iter().find(|piece| piece.item.id == run.piece)
}

/// The top line is well under the piece and the sheets, and the piece covers the sheets far enough.
fn under_the_piece(
    parts: &PlanParts,
    index: usize,
    slope: &SlopePlan,
    piece: &EdgePiece,
) -> Result<(), Fault> {
    let edge = slope.rafter_length + parts.fold_beyond(index) - piece.wing;
    let sheets = slope.courses.last().map_or(Length::ZERO, |course| course.to);
    let least = required(slope, Requirement::NailEdgeDistance)?;
    for line in slope.lines.iter().filter(|line| line.kind == LineKind::Top) {
        let clear = line.y - edge >= least && sheets - line.y >= least.min(line.y);
        check(clear, "top-line-under-its-piece", || format!("{} under {edge} to {sheets}", line.y))?;
    }
    let lap = required(slope, Requirement::TopLap)?;
    check(sheets - edge >= lap, "top-piece-laps-the-sheets", || format!("{} of {lap}", sheets - edge))
}

pub(in crate::roofing::plan) fn check(
    holds: bool,
    check: &'static str,
    detail: impl FnOnce() -> String,
) -> Result<(), Fault> {
    if holds { Ok(()) } else { Err(Fault { check, detail: detail() }) }
}

pub(in crate::roofing::plan) fn required(
    slope: &SlopePlan,
    requirement: Requirement,
) -> Result<Length, Fault> {
    match slope.requirements.deciding(requirement).map(|one| one.limit) {
        Some(Limit::Length(length)) => Ok(length),
        Some(Limit::Count(_) | Limit::Support(_)) | None => {
            Err(Fault { check: "requirement-has-a-rule", detail: requirement.key().to_owned() })
        }
    }
}
