//! What holds a sheet or a timber down: nails and screws in withdrawal, EN 1995-1-1:2004 (with A1, A2) 8.3 and 8.7.

use crate::units::physical::{Density, Force, Stress};
use crate::units::{Angle, Length};

use super::timber::Duration;

/// How a nail's shank is made: EN 14592.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Shank {
    /// Smooth.
    Smooth,
    /// Ringed or twisted, with the withdrawal strength fax,k that its maker declares.
    Profiled(Stress),
}

/// fax,k of a smooth nail: 20·10⁻⁶ ρk². EN 1995-1-1 (8.25), ρk in kg/m³.
pub fn smooth_withdrawal(density: Density) -> Stress {
    let rho = density.kg_per_m3();
    Stress::from_n_per_mm2(20e-6 * rho * rho)
}

/// fhead,k of a nail's head: 70·10⁻⁶ ρk². EN 1995-1-1 (8.26).
pub fn head_strength(density: Density) -> Stress {
    let rho = density.kg_per_m3();
    Stress::from_n_per_mm2(70e-6 * rho * rho)
}

/// What share of its withdrawal counts at a penetration: EN 1995-1-1 8.3.2(7).
///
/// Smooth: nothing below 8 d, all from 12 d, tpen/4d − 2 between. Ringed or twisted: nothing below 6 d, all from 8 d,
/// tpen/2d − 3 between.
pub fn penetration_share(shank: Shank, diameter: Length, penetration: Length) -> f64 {
    if diameter <= Length::ZERO {
        return 0.0;
    }
    let deep = penetration.mm() / diameter.mm();
    match shank {
        Shank::Smooth => (deep / 4.0 - 2.0).clamp(0.0, 1.0),
        Shank::Profiled(_) => (deep / 2.0 - 3.0).clamp(0.0, 1.0),
    }
}

/// The least penetration at which anything counts: 8 d smooth, 6 d ringed or twisted. EN 1995-1-1 8.3.2(7).
pub fn least_penetration(shank: Shank, diameter: Length) -> Length {
    match shank {
        Shank::Smooth => diameter * 8,
        Shank::Profiled(_) => diameter * 6,
    }
}

/// Characteristic withdrawal of a nail driven across the grain: fax,k d tpen, lessened by [`penetration_share`].
/// EN 1995-1-1 (8.23a), (8.24a). In end grain a smooth nail holds nothing (8.3.2(3)).
///
/// `penetration` is the pointside length in the timber; of a ringed or twisted nail its profiled part.
pub fn nail_withdrawal(shank: Shank, diameter: Length, penetration: Length, density: Density) -> Force {
    let strength = match shank {
        Shank::Smooth => smooth_withdrawal(density),
        Shank::Profiled(declared) => declared,
    };
    let share = penetration_share(shank, diameter, penetration);
    Force::from_n(strength.n_per_mm2() * diameter.mm() * penetration.mm().max(0.0) * share)
}

/// Characteristic pull-through of a nail's head: fhead,k dh², and the friction of a smooth shank in what it holds,
/// fax,k d t. EN 1995-1-1 (8.23b), (8.24b).
///
/// `head` is the head's diameter or its washer's where that is stiff, `headside` the timber below it (none of a thin
/// sheet).
pub fn nail_head(shank: Shank, diameter: Length, head: Length, headside: Length, density: Density) -> Force {
    let friction = match shank {
        Shank::Smooth => smooth_withdrawal(density).n_per_mm2() * diameter.mm() * headside.mm().max(0.0),
        Shank::Profiled(_) => 0.0,
    };
    Force::from_n(friction + head_strength(density).n_per_mm2() * head.mm() * head.mm())
}

/// Whether a nail may hold this load at all along its axis: smooth ones hold nothing that lasts, permanent or long.
/// EN 1995-1-1 8.3.2(1).
pub fn nail_may_hold(shank: Shank, lasts: Duration) -> bool {
    match shank {
        Shank::Smooth => lasts > Duration::Long,
        Shank::Profiled(_) => true,
    }
}

/// How many of n screws in a row count: n^0.9. EN 1995-1-1 (8.41).
pub fn screws_effective(count: f64) -> f64 {
    libm::pow(count.max(0.0), 0.9)
}

/// fax,k of a screw of 6 to 12 mm whose core is 0.6 to 0.75 of its thread: 0.52 d^−0.5 lef^−0.1 ρk^0.8.
/// EN 1995-1-1 (8.39).
pub fn screw_withdrawal_strength(diameter: Length, threaded: Length, density: Density) -> Stress {
    if diameter <= Length::ZERO || threaded <= Length::ZERO {
        return Stress::ZERO;
    }
    let (d, l) = (libm::pow(diameter.mm(), -0.5), libm::pow(threaded.mm(), -0.1));
    Stress::from_n_per_mm2(0.52 * d * l * libm::pow(density.kg_per_m3(), 0.8))
}

/// Characteristic withdrawal of one screw: fax,k d lef kd/(1.2 cos² α + sin² α), kd = min(d/8, 1); nothing where less
/// than 6 d of thread is in the pointside timber. EN 1995-1-1 8.7.2(3), (8.38).
///
/// `to_grain` is the angle between screw and grain, 30° or more (8.7.2(4)): below, `None`; below 6 mm and above 12 mm,
/// too: such screws have declared values.
pub fn screw_withdrawal(
    diameter: Length,
    threaded: Length,
    density: Density,
    to_grain: Angle,
) -> Option<Force> {
    if diameter < Length::from_mm(6) || diameter > Length::from_mm(12) || to_grain < Angle::from_deg(30) {
        return None;
    }
    if threaded < diameter * 6 {
        return Some(Force::ZERO);
    }
    let strength = screw_withdrawal_strength(diameter, threaded, density).n_per_mm2();
    let (cos, sin) = (to_grain.cos(), to_grain.sin());
    let k_d = (diameter.mm() / 8.0).min(1.0);
    let straight = strength * diameter.mm() * threaded.mm() * k_d;
    Some(Force::from_n(straight / (1.2 * cos * cos + sin * sin)))
}

/// Characteristic pull-through of a screw's head: fhead,k dh² (ρk/ρa)^0.8, both declared. EN 1995-1-1 (8.40b). What
/// holds is the least of this, the withdrawal and the steel's own strength.
pub fn screw_head(declared: Stress, head: Length, density: Density, declared_at: Density) -> Force {
    let denser = if declared_at > Density::ZERO { density / declared_at } else { 0.0 };
    Force::from_n(declared.n_per_mm2() * head.mm() * head.mm() * libm::pow(denser, 0.8))
}

/// fw,k of a screw by EN 1995-1-1:2025 11.2.2, Table 11.2 B: 8.2 d^−0.33 (ρk/350)^1.1, across the grain. The other
/// edition acts on π d lw, never on d lef: do not mix them.
pub fn screw_withdrawal_strength_2025(diameter: Length, density: Density) -> Stress {
    if diameter <= Length::ZERO {
        return Stress::ZERO;
    }
    let dense = libm::pow(density.kg_per_m3() / 350.0, 1.1);
    Stress::from_n_per_mm2(8.2 * libm::pow(diameter.mm(), -0.33) * dense)
}

/// Characteristic withdrawal of one screw by EN 1995-1-1:2025 11.2.2: π d lw fw,k.
pub fn screw_withdrawal_2025(diameter: Length, threaded: Length, density: Density) -> Force {
    let strength = screw_withdrawal_strength_2025(diameter, density).n_per_mm2();
    Force::from_n(std::f64::consts::PI * diameter.mm() * threaded.mm() * strength)
}

/// The least distances of nails from each other and from the timber's ends and edges.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Distances {
    /// Along the grain from nail to nail: a1.
    pub along: Length,
    /// Across it: a2.
    pub across: Length,
    /// From an end that is pulled at: a3,t.
    pub loaded_end: Length,
    /// From another end: a3,c.
    pub end: Length,
    /// From an edge that is pulled at: a4,t.
    pub loaded_edge: Length,
    /// From another edge: a4,c.
    pub edge: Length,
}

/// Least distances of nails in timber of ρk ≤ 420 kg/m³: EN 1995-1-1 Table 8.2; nails pulled along their axis keep them,
/// too (8.3.2(9)).
///
/// `to_grain` is the angle between the force and the grain, from 0° to 90°.
pub fn nail_distances(diameter: Length, predrilled: bool, to_grain: Angle) -> Distances {
    let (cos, sin) = (to_grain.cos().abs(), to_grain.sin().abs());
    let times = |factor: f64| diameter.scale(factor);
    let thick = diameter >= Length::from_mm(5);
    if predrilled {
        Distances {
            along: times(4.0 + cos),
            across: times(3.0 + sin),
            loaded_end: times(7.0 + 5.0 * cos),
            end: times(7.0),
            loaded_edge: times(if thick { 3.0 + 4.0 * sin } else { 3.0 + 2.0 * sin }),
            edge: times(3.0),
        }
    } else {
        Distances {
            along: times(if thick { 5.0 + 7.0 * cos } else { 5.0 + 5.0 * cos }),
            across: times(5.0),
            loaded_end: times(10.0 + 5.0 * cos),
            end: times(10.0),
            loaded_edge: times(if thick { 5.0 + 5.0 * sin } else { 5.0 + 2.0 * sin }),
            edge: times(5.0),
        }
    }
}

/// Least distances of screws pulled along their axis: 7 d and 5 d from each other, 10 d from an end, 4 d from an edge.
/// EN 1995-1-1 Table 8.6; the timber at least 12 d thick. From memory.
pub fn screw_distances(diameter: Length) -> Distances {
    let (end, edge) = (diameter * 10, diameter * 4);
    let (along, across) = (diameter * 7, diameter * 5);
    Distances { along, across, loaded_end: end, end, loaded_edge: edge, edge }
}
