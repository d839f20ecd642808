//! What goes with the rest and is easily forgotten: staples and tape for the underlay, screws for a new deck, boards
//! where purlins raise the covering, fixings and sealant for flashings, nails for finials.

use super::bill::{Bill, rows_of_underlay};
use crate::roofing::catalogue::{AreaUse, Catalogue, EdgeUse, Sundry, SundryUse};
use crate::roofing::laid::{EdgeRun, SlopePlan};
use crate::roofing::layout::{SupportPlan, pieces_along};
use crate::roofing::roof::Base;
use crate::roofing::rules::{Limit, Requirement};
use crate::units::Length;

/// How many of a sundry the roof takes.
pub(super) fn needed(sundry: &Sundry, bill: &Bill, catalogue: &Catalogue) -> i64 {
    let along = |requirement: Requirement, run: Length| {
        spacing(bill, requirement).filter(|_| run > Length::ZERO).map_or(0, |each| run.div_ceil(each) + 1)
    };
    match sundry.usage {
        SundryUse::UnderlayStaple => {
            let rows = rows_of_underlay(bill, catalogue).into_iter().sum::<i64>();
            rows * along(Requirement::UnderlayStapleSpacing, bill.site.length.value)
        }
        SundryUse::UnderlayTape => {
            let laps =
                rows_of_underlay(bill, catalogue).into_iter().map(|rows| (rows - 1).max(0)).sum::<i64>();
            (bill.site.length.value * laps).div_ceil(sundry.length)
        }
        SundryUse::DeckBoardScrew => {
            bill.slopes.iter().map(|slope| deck_board_screws(slope, bill, catalogue)).sum()
        }
        SundryUse::BargeBoard => boards(&barge_boards(bill), sundry.length),
        SundryUse::Fascia => boards(&fascias(bill), sundry.length),
        SundryUse::EdgeBoardScrew => {
            let runs = barge_boards(bill).into_iter().chain(fascias(bill));
            // In pairs, one above the other.
            runs.map(|run| along(Requirement::EdgeBoardScrewSpacing, run) * 2).sum()
        }
        SundryUse::FlashingFixing => {
            flashings(bill).map(|run| along(Requirement::FlashingFixingSpacing, run.run)).sum()
        }
        SundryUse::FlashingSealant => {
            flashings(bill).map(|run| run.run).sum::<Length>().div_ceil(sundry.length)
        }
        SundryUse::FinialNail => bill.finials * count(bill, Requirement::FinialNails),
    }
}

/// Whether some of it are bent or lost, so that it is bought with spares.
pub(super) const fn is_fixing(usage: SundryUse) -> bool {
    match usage {
        SundryUse::UnderlayStaple
        | SundryUse::DeckBoardScrew
        | SundryUse::EdgeBoardScrew
        | SundryUse::FlashingFixing
        | SundryUse::FinialNail => true,
        SundryUse::UnderlayTape | SundryUse::BargeBoard | SundryUse::Fascia | SundryUse::FlashingSealant => {
            false
        }
    }
}

fn spacing(bill: &Bill, requirement: Requirement) -> Option<Length> {
    match bill.requirements.deciding(requirement)?.limit {
        Limit::Length(length) => Some(length).filter(|length| *length > Length::ZERO),
        Limit::Count(_) | Limit::Support(_) => None,
    }
}

fn count(bill: &Bill, requirement: Requirement) -> i64 {
    match bill.requirements.deciding(requirement).map(|deciding| deciding.limit) {
        Some(Limit::Count(count)) => count,
        Some(Limit::Length(_) | Limit::Support(_)) | None => 0,
    }
}

fn flashings<'b>(bill: &'b Bill) -> impl Iterator<Item = &'b EdgeRun> {
    bill.edges.iter().filter(|run| matches!(run.edge, EdgeUse::WallTop | EdgeUse::WallSide))
}

/// Each board of a new deck is screwed to every timber it crosses, both its ends included.
fn deck_board_screws(slope: &SlopePlan, bill: &Bill, catalogue: &Catalogue) -> i64 {
    let SupportPlan::NewFullDeck { board, .. } = &slope.support else { return 0 };
    let boards = catalogue.areas.iter().filter(|area| area.usage == AreaUse::Deck);
    let Some(board) = boards.into_iter().find(|area| area.item.id == *board) else { return 0 };
    let Some(each) = spacing(bill, Requirement::DeckBoardScrewSpacing) else { return 0 };
    let timbers = board.length.div_floor(bill.site.timber_spacing.value).max(1) + 1;
    slope.deck_boards * timbers * (board.width.div_ceil(each) + 1)
}

/// Whether new purlins lift the sheets above the boards that close the edges now, if there are any.
fn is_raised(slope: &SlopePlan, bill: &Bill) -> bool {
    match (&slope.support, bill.site.base) {
        (SupportPlan::PurlinsOverDeck { .. }, _) | (SupportPlan::Purlins, Base::Rafters | Base::Deck(_)) => {
            true
        }
        // New purlins beside old ones stand as high as those.
        (SupportPlan::Purlins, Base::Purlins)
        | (SupportPlan::ExistingDeck { .. } | SupportPlan::NewFullDeck { .. }, _) => false,
    }
}

fn raised<'b>(bill: &'b Bill) -> impl Iterator<Item = (usize, &'b SlopePlan)> {
    bill.slopes.iter().enumerate().filter(move |(_, slope)| is_raised(slope, bill))
}

/// Every free verge that is raised.
fn barge_boards(bill: &Bill) -> Vec<Length> {
    let verges = |(index, slope): (usize, &SlopePlan)| {
        let free = 2_usize.saturating_sub(bill.site.walls_of(index).len());
        vec![slope.rafter_length; free]
    };
    raised(bill).flat_map(verges).collect()
}

/// Every eaves that is raised.
fn fascias(bill: &Bill) -> Vec<Length> {
    raised(bill).map(|_| bill.site.length.value).collect()
}

/// Boards butted end to end, each run begun with a whole one.
fn boards(runs: &[Length], board: Length) -> i64 {
    runs.iter().map(|run| pieces_along(*run, board, Length::ZERO)).sum()
}
