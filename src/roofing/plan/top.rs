//! The piece along the top: timber and sheets lift it off the rafters, so that it reaches less far down the slope the
//! steeper that is. What it must reach is the top line, with its nails well inside it, and enough of the sheets.

use super::bearing::Bearing;
use super::closing::{closed_by, edge_word, pieces_for};
use super::{Handbook, Refusal, Unplanned};
use crate::roofing::catalogue::{EdgePiece, Sheet};
use crate::roofing::layout::fold_beyond;
use crate::roofing::note::Note;
use crate::roofing::requirements::Heard;
use crate::roofing::roof::{FactKey, Site};
use crate::roofing::rules::Requirement;
use crate::units::Length;

/// How far sheets stay clear of the fold of the piece over them, at least: a working figure.
const CLEAR_OF_FOLD: Length = Length::from_mm(5);

/// What closes the top of a slope, and what that asks of its sheets and lines.
#[derive(Clone, Copy, Debug)]
pub(super) struct Top<'a> {
    pub(super) piece: Option<&'a EdgePiece>,
    /// The lowest place of the top line.
    pub(super) lowest: Length,
    /// Its highest place.
    pub(super) highest: Length,
    /// How far the sheets pass the end of the rafters.
    pub(super) sheets_beyond: Length,
}

/// How high the tops of the corrugations lie above rafters or boards.
pub(super) fn crown(bearing: &Bearing, sheet: &Sheet) -> Length {
    let seat = bearing.timber.map_or(Length::ZERO, |timber| timber.depth);
    seat + sheet.corrugation_height + sheet.thickness
}

/// What one slope asks of the piece.
struct Wanted {
    /// To the end of the rafters, a whole number of millimetres.
    length: Length,
    /// From there to the fold.
    fold: Length,
    /// How far the last line stays from the end of the rafters, a whole number of millimetres.
    setback: Length,
    /// How far its nails stay from the edge of the piece.
    edge: Length,
    /// How far the piece covers the sheets.
    lap: Length,
}

impl Wanted {
    /// From the piece's edge to the end of the rafters.
    fn reach(&self, wing: Length) -> Length {
        wing - self.fold
    }

    /// How far sheets may pass the end of the rafters.
    fn most_beyond(&self) -> Length {
        Length::from_mm((self.fold - CLEAR_OF_FOLD).floor_mm()).max(Length::ZERO)
    }

    /// How far sheets have to pass it, to be covered far enough.
    fn beyond(&self, wing: Length) -> Length {
        Length::from_mm((self.lap - self.reach(wing)).ceil_mm()).max(Length::ZERO)
    }

    /// How far the nails under the piece stay from the end of the rafters: the sheets may end there.
    fn inset(&self) -> Length {
        Length::from_mm(self.setback.max(self.edge).ceil_mm())
    }

    /// The shortest wing that reaches.
    fn least_wing(&self) -> Length {
        let to_the_line = self.fold + self.edge + self.inset();
        to_the_line.max(self.fold + self.lap - self.most_beyond())
    }

    /// The slope under a wing that reaches.
    fn under<'a>(&self, piece: &'a EdgePiece) -> Top<'a> {
        let edge = self.length - self.reach(piece.wing);
        let highest = self.length - self.inset();
        Top {
            piece: Some(piece),
            lowest: Length::from_mm((edge + self.edge).ceil_mm()).min(highest),
            highest,
            sheets_beyond: self.beyond(piece.wing),
        }
    }

    /// The slope without a piece.
    fn bare(&self) -> Top<'static> {
        let highest = self.length - self.setback;
        Top { piece: None, lowest: highest, highest, sheets_beyond: Length::ZERO }
    }
}

/// The first piece of the catalogue that suits the pitch and reaches, and what it asks of each slope.
///
/// # Errors
/// A refusal where there are pieces that suit and none of them reaches.
pub(super) fn tops<'a>(
    site: &Site,
    bearings: &[Bearing],
    heard: &[&Heard],
    book: &'a Handbook,
) -> Result<Vec<Top<'a>>, Unplanned> {
    let crowns: Vec<Length> = bearings.iter().map(|bearing| crown(bearing, &site.sheet)).collect();
    let mut wanted = Vec::new();
    for (index, ((slope, bearing), heard)) in site.slopes.iter().zip(bearings).zip(heard).enumerate() {
        let others = site.slopes.iter().zip(&crowns).enumerate();
        let mut other =
            others.filter(|(at, _)| *at != index).map(|(_, (other, crown))| (other.pitch.value, *crown));
        let own = crowns.get(index).copied().unwrap_or_default();
        wanted.push(Wanted {
            // A slope worked out to a fraction is taken to the millimetre above, so that it is covered to its end.
            length: Length::from_mm(slope.rafter_length.value.ceil_mm()),
            fold: fold_beyond(slope.pitch.value, own, other.next()),
            setback: Length::from_mm(bearing.setback.ceil_mm()),
            edge: heard.length(Requirement::NailEdgeDistance)?,
            lap: heard.length(Requirement::TopLap)?,
        });
    }
    let Some(edge) = closed_by(site.top()) else { return Ok(wanted.iter().map(Wanted::bare).collect()) };
    let mut suit = pieces_for(edge, 0, site, book).peekable();
    if suit.peek().is_none() {
        return Ok(wanted.iter().map(Wanted::bare).collect());
    }
    let least = wanted.iter().map(Wanted::least_wing).max().unwrap_or_default();
    let Some(piece) = suit.find(|piece| piece.wing >= least) else {
        let note = Note::new("refused-no-piece-reaches").word("edge", format!("edge-{}", edge_word(edge)));
        let refusal =
            Refusal::no_item("no-piece-reaches", note.size("wing", Length::from_mm(least.ceil_mm())));
        let source = heard.first().map(|heard| heard.source(Requirement::NailEdgeDistance, book));
        let facts = vec![FactKey::Pitch, FactKey::CorrugationHeight, FactKey::Sheet];
        return Err(Refusal { facts, source: source.unwrap_or_default(), ..refusal }.into());
    };
    Ok(wanted.iter().map(|slope| slope.under(piece)).collect())
}
