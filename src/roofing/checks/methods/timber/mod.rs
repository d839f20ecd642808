//! Timber that carries: EN 1995-1-1:2004 (with A1, A2), EN 338:2016, EN 1990, EN 1991-1-1.

mod beams;
mod decks;
mod factors;
mod grades;
mod loads;
mod person;
mod sections;

pub use beams::{Analysis, PointLoad, Span, analyse, equal_spans, sag_of_one_span};
pub use decks::{DeckKind, DeckStrength, deck_strength, effective_width};
pub use factors::{Duration, Material, ServiceClass, depth_factor, design_strength, gamma_m, k_def, k_mod};
pub use grades::{GRADES, Grade, grade};
pub use loads::{
    GAMMA_PERMANENT, GAMMA_VARIABLE, PERSON, PSI_SNOW, PSI_WIND, Psi, gathered, lifted, maintenance,
};
pub use person::{Walked, walked};
pub use sections::{
    BendingUse, Section, bearing_use, bending_use, final_deflection, shear_use, spread_bearing,
};
