//! What a section of timber is used of its strength: EN 1995-1-1 sections 6 and 7.

use crate::units::Length;
use crate::units::physical::{Force, Moment, Stiffness, Stress};

/// A rectangle of timber, its depth in the direction of the load it mainly carries.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Section {
    /// Across the load: b.
    pub width: Length,
    /// In its direction: h.
    pub depth: Length,
}

impl Section {
    /// Section modulus b h²/6 in mm³, for bending about its strong axis.
    pub fn modulus(self) -> f64 {
        self.width.mm() * self.depth.mm() * self.depth.mm() / 6.0
    }

    /// Laid on its side.
    pub const fn turned(self) -> Self {
        Self { width: self.depth, depth: self.width }
    }

    /// E I for bending about its strong axis.
    pub fn stiffness(self, modulus: Stress) -> Stiffness {
        let depth = self.depth.mm();
        // N/mm² times mm⁴ is N·mm².
        Stiffness::from_nm2(modulus.n_per_mm2() * self.width.mm() * depth * depth * depth / 12.0 / 1e6)
    }

    /// Bending stress M/W about its strong axis.
    pub fn bending_stress(self, moment: Moment) -> Stress {
        let modulus = self.modulus();
        if modulus > 0.0 {
            Stress::from_n_per_mm2(moment.nm() * 1_000.0 / modulus)
        } else {
            Stress::from_n_per_mm2(f64::INFINITY)
        }
    }

    /// Shear stress 1.5 V/(kcr b h): (6.13a), kcr 0.67 for solid timber, 1 for others (6.1.7(2)).
    pub fn shear_stress(self, shear: Force, k_cr: f64) -> Stress {
        let area = self.width.mm() * self.depth.mm() * k_cr;
        if area > 0.0 {
            Stress::from_n_per_mm2(1.5 * shear.n() / area)
        } else {
            Stress::from_n_per_mm2(f64::INFINITY)
        }
    }
}

/// Bending about both axes, by both of its conditions.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BendingUse {
    /// (6.11): the strong axis whole, the weak one by km.
    pub strong_first: f64,
    /// (6.12): the other way round.
    pub weak_first: f64,
}

impl BendingUse {
    /// The worse of the two.
    pub const fn worst(self) -> f64 {
        self.strong_first.max(self.weak_first)
    }
}

/// How much of its bending strength a rectangle uses: EN 1995-1-1 6.1.6 (6.11), (6.12), km 0.7.
///
/// `about_strong` is the moment of the load in the direction of the depth, `about_weak` that across it; `strengths` the
/// design strengths about each, each with its own kh.
pub fn bending_use(
    section: Section,
    about_strong: Moment,
    about_weak: Moment,
    strengths: (Stress, Stress),
) -> BendingUse {
    const K_M: f64 = 0.7;
    let strong = section.bending_stress(about_strong.abs()) / strengths.0;
    let weak = section.turned().bending_stress(about_weak.abs()) / strengths.1;
    BendingUse { strong_first: strong + K_M * weak, weak_first: K_M * strong + weak }
}

/// How much of its shear strength it uses: τ/fv,d. EN 1995-1-1 6.1.7 (6.13).
pub fn shear_use(section: Section, shear: Force, k_cr: f64, strength: Stress) -> f64 {
    section.shear_stress(shear.abs(), k_cr) / strength
}

/// The length that counts where a timber rests: 30 mm more on each side that goes on, never more than the length
/// itself on each. EN 1995-1-1 6.1.5(1).
pub fn spread_bearing(contact: Length, sides: i64) -> Length {
    contact + Length::from_mm(30).min(contact) * sides.clamp(0, 2)
}

/// How much of the strength across the grain a support uses: Fc/(b lef kc,90 fc,90,d). EN 1995-1-1 6.1.5 (6.3), (6.4).
///
/// `k_c90` is 1.0, or 1.25 for solid softwood on single supports 2 h apart (6.1.5(4)).
pub fn bearing_use(force: Force, width: Length, effective: Length, k_c90: f64, strength: Stress) -> f64 {
    let carried = width.mm() * effective.mm() * k_c90 * strength.n_per_mm2();
    if carried > 0.0 { force.n() / carried } else { f64::INFINITY }
}

/// Deflection in the end: wG (1 + kdef) + wQ (1 + ψ2 kdef). EN 1995-1-1 2.2.3(5), (2.3), (2.4).
pub fn final_deflection(permanent: Length, variable: Length, psi_always: f64, k_def: f64) -> Length {
    permanent.scale(1.0 + k_def) + variable.scale(1.0 + psi_always * k_def)
}
