//! Roofs that are out of square: how far a slope leans, and where every column goes so that it does not show.
//!
//! The slope is taken for a parallelogram: eaves and top edge level and alike, both verges leaning by as much.
//! Sheets run square to the eaves whatever the verges do, or their corrugations would not meet; so every bit of
//! the lean is gathered at the two verges, and the last column takes it up there.

use crate::roofing::layout::Column;
use crate::roofing::plan::Plan;
use crate::roofing::roof::{Face, Hand};
use crate::roofing::rules::{Limit, Requirement};
use crate::units::{Angle, Length};

/// Where the edge of one column stands, measured along the eaves and along the top from the first barge board.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Marks {
    /// The column, from 1 in laying order.
    pub number: usize,
    /// From the first barge board's lower end, along the eaves.
    pub at_eaves: Length,
    /// From the first barge board's upper end, along the top edge.
    pub at_top: Length,
}

/// How to lay a slope that leans.
#[derive(Clone, Debug, PartialEq)]
pub struct Taper {
    /// How far the top edge stands to the right of the eaves.
    pub lean: Length,
    /// The angle of the cut along the far verge.
    pub angle: Angle,
    /// How far the first sheet passes the first barge board at the eaves.
    pub near_at_eaves: Length,
    /// And at the top.
    pub near_at_top: Length,
    /// How far the last corrugation passes the far barge board at the eaves, before it is trimmed.
    pub far_at_eaves: Length,
    /// And at the top.
    pub far_at_top: Length,
    /// How much wider the covering must be than on a square roof; zero where what passes the far verge does.
    pub short: Length,
    /// How far the first sheet is set out beyond where a square roof would have it.
    pub shift: Length,
    /// The outer edge of every column, in laying order.
    pub columns: Vec<Marks>,
    /// Of every second course, where side joints are staggered; else empty.
    pub staggered: Vec<Marks>,
    /// Both diagonals of a slope whose lean was worked out from the other's: measured, they must come to this.
    pub to_check: Option<(Length, Length)>,
}

/// How a slope leans, and where its columns go; `None` where it is square, or its overhang at the verge hides it.
pub fn taper(plan: &Plan, index: usize) -> Option<Taper> {
    let slope = plan.slopes.get(index)?;
    let length = plan.site.length.value;
    let verge = match slope.requirements.deciding(Requirement::VergeOverhang)?.limit {
        Limit::Length(length) => length,
        Limit::Count(_) | Limit::Support(_) => Length::ZERO,
    };
    let lean = plan.site.lean_on(index, verge);
    if lean == Length::ZERO {
        return None;
    }
    // Away from the first verge, in laying order, is onward; a verge that leans onward leaves its sheet standing
    // out further at the top, one that leans back would leave it short there.
    let onward = match slope.start_from {
        Hand::Left => lean,
        Hand::Right => -lean,
    };
    let shift = (-onward).max(Length::ZERO);
    let near_at_eaves = slope.verge_overhang + shift;
    let far_at_eaves = slope.far_verge_overhang - shift;
    let far_at_top = far_at_eaves - onward;
    let least = far_at_eaves.min(far_at_top);
    let marks = |columns: &[Column]| -> Vec<Marks> {
        let edges = columns.iter().map(|column| {
            let edge = match slope.start_from {
                Hand::Left => column.to,
                Hand::Right => length - column.from,
            };
            let at_eaves = edge - shift;
            Marks { number: column.number, at_eaves, at_top: at_eaves - onward }
        });
        edges.collect()
    };
    let needed_at_far = if slope.far_verge_overhang > Length::ZERO { verge } else { Length::ZERO };
    let diagonal = |across: Length| Length::from_mm(across.hypot(slope.rafter_length).round_mm());
    Some(Taper {
        lean,
        angle: Angle::from_rise_run(lean.abs(), slope.rafter_length)?,
        near_at_eaves,
        near_at_top: near_at_eaves + onward,
        far_at_eaves,
        far_at_top,
        short: (needed_at_far - least).max(Length::ZERO),
        shift,
        columns: marks(&slope.columns),
        staggered: marks(&slope.staggered),
        to_check: (Face::at(index) != Face::Front)
            .then(|| (diagonal(length + lean), diagonal(length - lean))),
    })
}
