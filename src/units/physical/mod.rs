//! What loads, strength, water and damp are measured in.
//!
//! These follow from formulas and are never added up for a bill, so they are floating point where lengths are exact.
//! Everything that is computed with them goes through `libm`: the same to the last bit on every machine.

mod quantities;

pub use quantities::{
    Conductivity, Density, Flow, Force, LineLoad, Moisture, Moment, Pressure, Stiffness, Stress,
    ThermalResistance,
};

use super::{Area, Length};

/// The metres of a length.
fn metres(length: Length) -> f64 {
    length.mm() / 1_000.0
}

impl Pressure {
    /// What it makes on each metre of a member that carries a strip of this width.
    pub fn over(self, width: Length) -> LineLoad {
        LineLoad::from_n_per_m(self.pa() * metres(width))
    }

    /// What it makes on an area.
    pub fn on(self, area: Area) -> Force {
        Force::from_n(self.pa() * area.square_metres())
    }
}

impl LineLoad {
    /// What it makes on this length.
    pub fn along(self, length: Length) -> Force {
        Force::from_n(self.n_per_m() * metres(length))
    }
}

impl Force {
    /// Spread evenly over a length; nothing over no length.
    pub fn spread(self, over: Length) -> LineLoad {
        if over <= Length::ZERO { LineLoad::ZERO } else { LineLoad::from_n_per_m(self.n() / metres(over)) }
    }

    /// Turning about a point this far away.
    pub fn times(self, arm: Length) -> Moment {
        Moment::from_nm(self.n() * metres(arm))
    }
}

impl Conductivity {
    /// What a layer of this thickness resists; nothing where it conducts without limit.
    pub fn resistance(self, thickness: Length) -> ThermalResistance {
        if self.w_per_mk() > 0.0 {
            ThermalResistance::from_m2k_per_w(metres(thickness) / self.w_per_mk())
        } else {
            ThermalResistance::ZERO
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn loads_spread_and_gather() {
        let snow = Pressure::from_pa(600.0);
        let line = snow.over(Length::from_mm(450));
        assert!((line.n_per_m() - 270.0).abs() < 1e-9);
        assert!((line.along(Length::from_mm(2_000)).n() - 540.0).abs() < 1e-9);
        assert!(
            (Force::from_n(540.0).spread(Length::from_mm(2_000)) - line).abs() < LineLoad::from_n_per_m(1e-9)
        );
        assert!((snow.on(Length::from_mm(500).by(Length::from_mm(500))).n() - 150.0).abs() < 1e-9);
        assert!((Force::from_n(1_000.0).times(Length::from_mm(250)).nm() - 250.0).abs() < 1e-9);
        let board = Conductivity::from_w_per_mk(0.13).resistance(Length::from_mm(18));
        assert!((board.m2k_per_w() - 0.018 / 0.13).abs() < 1e-12);
    }
}
