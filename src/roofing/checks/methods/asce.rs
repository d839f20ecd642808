//! Wind and snow by ASCE 7-16, for sites in the United States: 3-second gusts, not the 10-minute wind of EN 1991.

use crate::units::physical::Pressure;
use crate::units::{Area, Length, Speed};

/// Exposure categories: ASCE 7-16 26.7.3.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ExposureCategory {
    /// Towns, woods.
    B,
    /// Open land.
    C,
    /// Flat land and water.
    D,
}

impl ExposureCategory {
    /// α and zg in metres: Table 26.11-1.
    const fn table(self) -> (f64, f64) {
        match self {
            Self::B => (7.0, 365.76),
            Self::C => (9.5, 274.32),
            Self::D => (11.5, 213.36),
        }
    }
}

/// Velocity pressure exposure coefficient Kz = 2.01 (z/zg)^(2/α), z not under 15 ft (4.572 m). ASCE 7-16 Table 26.10-1,
/// note 1.
pub fn exposure_coefficient(exposure: ExposureCategory, height: Length) -> f64 {
    let (alpha, gradient) = exposure.table();
    2.01 * libm::pow((height.mm() / 1_000.0).clamp(4.572, gradient) / gradient, 2.0 / alpha)
}

/// Ground elevation factor Ke = exp(−0.000119 ze), ze in metres. ASCE 7-16 Table 26.9-1, note 2.
pub fn elevation_factor(above_sea: Length) -> f64 {
    libm::exp(-0.000_119 * above_sea.mm() / 1_000.0)
}

/// Velocity pressure qz = 0.613 Kz Kzt Kd Ke V². ASCE 7-16 (26.10-1.si). `hills` is Kzt, `direction` Kd.
pub fn velocity_pressure(kz: f64, hills: f64, direction: f64, ke: f64, gust: Speed) -> Pressure {
    let speed = gust.m_per_s();
    Pressure::from_pa(0.613 * kz * hills * direction * ke * speed * speed)
}

/// A zone of a gable roof up to 7°: ASCE 7-16 Fig. 30.3-2A.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum GableZone {
    /// The inner field, 1′.
    Inner,
    /// The field, 1.
    Field,
    /// The corners, 3.
    Corner,
}

/// `GCp` of uplift for an effective area: straight in the logarithm between the ends of the figure. ASCE 7-16
/// Fig. 30.3-2A. The edge (zone 2) is left out: its accounts differ.
pub fn gable_uplift(zone: GableZone, effective: Area) -> f64 {
    let square_feet = effective.square_metres() / 0.092_903_04;
    let ((small, harsh), (large, mild)) = match zone {
        GableZone::Inner => ((100.0, -0.9), (1_000.0, -0.4)),
        GableZone::Field => ((10.0, -1.7), (500.0, -1.0)),
        GableZone::Corner => ((10.0, -3.2), (500.0, -1.4)),
    };
    let of: f64 = square_feet.clamp(small, large);
    harsh + (mild - harsh) * libm::log10(of / small) / libm::log10(large / small)
}

/// Snow on a flat roof: pf = 0.7 Ce Ct Is pg. ASCE 7-16 (7.3-1). An open shed has Ct 1.2.
pub fn flat_roof_snow(ground: Pressure, exposure: f64, thermal: f64, importance: f64) -> Pressure {
    ground * (0.7 * exposure * thermal * importance)
}
