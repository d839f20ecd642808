//! Loads together: EN 1990 6.4.3.2 and 6.5.3, EN 1991-1-1 6.3.4.

use crate::units::Angle;
use crate::units::physical::{Force, Pressure};

/// γG where the roof's weight makes it worse: EN 1990 Table A1.2(B).
pub const GAMMA_PERMANENT: f64 = 1.35;
/// γQ: EN 1990 Table A1.2(B).
pub const GAMMA_VARIABLE: f64 = 1.5;
/// A person or a load on a roof that is only walked on to maintain it: Qk 1.0 kN. EN 1991-1-1 Table 6.10, category H.
/// It does not act together with snow or wind (3.3.2(1)).
pub const PERSON: Force = Force::from_n(1_000.0);

/// Combination factors: EN 1990 Table A1.1.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Psi {
    /// ψ0: beside another that leads.
    pub beside: f64,
    /// ψ1: often.
    pub often: f64,
    /// ψ2: nearly always.
    pub always: f64,
}

/// Snow up to 1 000 m above the sea.
pub const PSI_SNOW: Psi = Psi { beside: 0.5, often: 0.2, always: 0.0 };
/// Wind.
pub const PSI_WIND: Psi = Psi { beside: 0.6, often: 0.2, always: 0.0 };

/// What the roof must be able to carry: γG G + γQ Q1 + γQ ψ0 Q2. EN 1990 (6.10).
///
/// `beside` are the others and their ψ0. Loads that would help are left out by the caller.
pub fn gathered(permanent: Pressure, leading: Pressure, beside: &[(Pressure, f64)]) -> Pressure {
    let others: Pressure = beside.iter().map(|(load, psi)| *load * *psi).sum();
    permanent * GAMMA_PERMANENT + (leading + others) * GAMMA_VARIABLE
}

/// What the wind lifts when the roof's own weight holds it down: γQ W − 0.9 G, nothing where the weight is enough.
/// EN 1990 Table A1.2(A), γG,inf 0.9 for equilibrium (1.0 in set B). `suction` and `weight` are both positive.
pub fn lifted(suction: Pressure, weight: Pressure) -> Pressure {
    (suction * GAMMA_VARIABLE - weight * 0.9).max(Pressure::ZERO)
}

/// The spread load on a roof that is only maintained: qk 0.4 kN/m² on plan, recommended; 0.6 to 30° and less to 60° by
/// the British annex (from memory). EN 1991-1-1 Table 6.10, NA.2.10.
pub fn maintenance(pitch: Angle) -> Pressure {
    let steep = pitch.deg();
    let kn = if steep <= 30.0 { 0.6 } else { (0.6 * (60.0 - steep) / 30.0).max(0.0) };
    Pressure::from_pa(1_000.0 * kn)
}
