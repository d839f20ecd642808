//! Decks as plates that carry one way, from timber to timber.

use crate::units::Length;
use crate::units::physical::{Density, Stress};

use super::factors::Material;
use super::grades::grade;

/// What a deck is made of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DeckKind {
    /// Boards beside each other, each on its own.
    Boards,
    /// Tongued and grooved boards.
    TonguedBoards,
    /// Softwood plywood, its face grain across the timbers.
    Plywood,
    /// OSB/3, its strong direction across the timbers.
    Osb3,
}

impl DeckKind {
    /// How EN 1995-1-1 counts it.
    pub const fn material(self) -> Material {
        match self {
            Self::Boards | Self::TonguedBoards => Material::Solid,
            Self::Plywood => Material::Plywood,
            Self::Osb3 => Material::Osb,
        }
    }
}

/// Characteristic values in the direction a deck carries.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DeckStrength {
    /// Bending, flat.
    pub bending: Stress,
    /// Shear in its thickness (rolling shear of panels).
    pub shear: Stress,
    /// Mean modulus in bending, flat.
    pub stiffness: Stress,
    /// Characteristic density.
    pub density: Density,
}

/// Strength of a deck of this thickness.
///
/// Boards count as C16 (EN 338). OSB/3: EN 12369-1:2001 Table 2, 6 to 25 mm; plywood: F20/10 E40/20 of EN 636, which
/// softwood sheathing reaches; both from memory. `None` for an OSB outside its table.
pub fn deck_strength(kind: DeckKind, thickness: Length) -> Option<DeckStrength> {
    let of = |bending: f64, shear: f64, stiffness: f64, density: f64| DeckStrength {
        bending: Stress::from_n_per_mm2(bending),
        shear: Stress::from_n_per_mm2(shear),
        stiffness: Stress::from_n_per_mm2(stiffness),
        density: Density::from_kg_per_m3(density),
    };
    match kind {
        DeckKind::Boards | DeckKind::TonguedBoards => grade("C16").map(|wood| DeckStrength {
            bending: wood.bending,
            shear: wood.shear,
            stiffness: wood.stiffness,
            density: wood.density,
        }),
        DeckKind::Plywood => Some(of(20.0, 0.9, 4_000.0, 350.0)),
        DeckKind::Osb3 => {
            let thick = thickness.mm();
            let bending = match () {
                () if !(6.0..=25.0).contains(&thick) => return None,
                () if thick <= 10.0 => 18.0,
                () if thick <= 18.0 => 16.4,
                () => 14.8,
            };
            Some(of(bending, 1.0, 4_930.0, 550.0))
        }
    }
}

/// How wide a strip of deck carries a person's load in the middle of a span: the 50 mm square of EN 1991-1-1 6.3.4.2(4)
/// and what helps beside it.
///
/// Loose boards: one board alone; tongued ones: two share it; panels: 50 mm and half the span, never more than the
/// panel (common practice, no source: the rule for slabs that carry one way, lessened for panels that are weaker
/// across).
pub fn effective_width(kind: DeckKind, piece: Length, span: Length) -> Length {
    match kind {
        DeckKind::Boards => piece,
        DeckKind::TonguedBoards => piece * 2,
        DeckKind::Plywood | DeckKind::Osb3 => piece.min(Length::from_mm(50) + span / 2),
    }
}
