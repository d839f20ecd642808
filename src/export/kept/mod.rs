//! A plan as it is kept: whoever has begun to build goes on with the plan of then, whatever book and program run now.
//!
//! The plan itself is kept, not the book it was made by: another planner would make another plan of the same book.
//! It is kept beside a chat's events, once, and they name it; so they stay small. What is read back passes every
//! check of [`Plan`] again, or is no plan.

mod codec;
mod goods;
mod notes;
mod slopes;

use codec::{Keep, fields};
use serde::{Deserialize, Serialize};

use crate::roofing::findings::{Caution, Finding, FindingKind, Reason, SaidAgain};
use crate::roofing::handbook::{Made, Version};
use crate::roofing::materials::{MaterialLine, Materials, Unit};
use crate::roofing::plan::{Plan, PlanParts, Sharing};
use crate::roofing::roof::{Base, Form, Hand, Site, SlopeSite};
use crate::roofing::rules::StepKind;
use crate::units::{Length, Measured};

#[derive(Serialize, Deserialize)]
#[serde(tag = "v")]
enum Versioned {
    #[serde(rename = "1")]
    V1 { plan: serde_json::Value },
}

/// Writes a plan.
///
/// # Errors
/// None that is known: a plan has nothing JSON cannot hold.
pub fn write(plan: &Plan) -> Result<Vec<u8>, serde_json::Error> {
    let parts: &PlanParts = plan;
    serde_json::to_vec(&Versioned::V1 { plan: parts.keep() })
}

/// Reads a plan of any version; `None` where it is damaged, or passes the checks no more.
pub fn read(bytes: &[u8]) -> Option<Plan> {
    let Versioned::V1 { plan } = serde_json::from_slice(bytes).ok()?;
    Plan::checked(PlanParts::again(&plan)?).ok()
}

fields!(PlanParts {
    facts,
    site,
    slopes,
    edges,
    finials,
    sharing,
    materials,
    cautions,
    findings,
    catalogue,
    demo,
    made,
    goods,
});
fields!(Made { by, day, facts });
fields!(Version { book, planner });
fields!(Site {
    form,
    slopes,
    length,
    lean,
    base,
    timber_spacing,
    wall_top,
    wall_sides,
    wind_from,
    insulation,
    sheet,
    covering,
});
fields!(SlopeSite { pitch, rafter_length });
fields!(Sharing { alone, at_least });
fields!(Materials { lines, tools, covering_mass, area, mass_per_m2, price });
fields!(MaterialLine {
    item,
    name,
    purpose,
    unit,
    needed,
    spare,
    spare_rule,
    pack,
    packs,
    left_over,
    mass,
    price,
});
fields!(Caution { rule, phase, note, again });
fields!(SaidAgain { steps, note });
fields!(Finding { id, kind, slope, note, requirement, reasons, source });
fields!(Reason { contribution, note, source, since });
codec::words!(Form { SingleSlope = "single", TwoSlopes = "two" });
codec::words!(Hand { Left = "left", Right = "right" });
codec::words!(FindingKind {
    Requirement = "requirement", Doubt = "doubt", Advice = "advice", Caution = "caution",
});

impl Keep for StepKind {
    fn keep(&self) -> serde_json::Value {
        serde_json::Value::from(self.key())
    }

    fn again(value: &serde_json::Value) -> Option<Self> {
        let key = value.as_str()?;
        Self::ALL.iter().copied().find(|kind| kind.key() == key)
    }
}

/// What stands where there is no deck.
const NO_DECK: Option<Measured<Length>> = None;

impl Keep for Base {
    fn keep(&self) -> serde_json::Value {
        match self {
            Self::Deck(thickness) => ("deck".to_owned(), Some(*thickness)).keep(),
            Self::Rafters => ("rafters".to_owned(), NO_DECK).keep(),
            Self::Purlins => ("purlins".to_owned(), NO_DECK).keep(),
        }
    }

    fn again(value: &serde_json::Value) -> Option<Self> {
        let (word, thickness) = <(String, Option<_>)>::again(value)?;
        match (word.as_str(), thickness) {
            ("deck", Some(thickness)) => Some(Self::Deck(thickness)),
            ("rafters", None) => Some(Self::Rafters),
            ("purlins", None) => Some(Self::Purlins),
            _ => None,
        }
    }
}

impl Keep for Unit {
    fn keep(&self) -> serde_json::Value {
        match self {
            Self::Piece => None,
            Self::PieceOf(length) => Some(*length),
        }
        .keep()
    }

    fn again(value: &serde_json::Value) -> Option<Self> {
        Some(<Option<_>>::again(value)?.map_or(Self::Piece, Self::PieceOf))
    }
}
