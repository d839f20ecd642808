//! How hard the wind blows: EN 1991-1-4 section 4.

use crate::units::physical::{Density, Pressure};
use crate::units::{Length, Speed};

/// The density of air that EN 1991-1-4 4.5(1) recommends.
pub const AIR: Density = Density::from_kg_per_m3(1.25);

/// What is around a building, as far as the wind comes from: EN 1991-1-4 Table 4.1.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Terrain {
    /// 0: open sea, a coast open to it.
    Sea,
    /// I: lakes, flat land without obstacles.
    Lake,
    /// II: grass, single trees and buildings at least 20 of their heights apart.
    Fields,
    /// III: villages, suburbs, woods.
    Village,
    /// IV: at least 15 % covered with buildings higher than 15 m on average.
    Town,
}

impl Terrain {
    /// Roughness length z0 in metres, and the height zmin in metres below which nothing is gained.
    const fn table(self) -> (f64, f64) {
        match self {
            Self::Sea => (0.003, 1.0),
            Self::Lake => (0.01, 1.0),
            Self::Fields => (0.05, 2.0),
            Self::Village => (0.3, 5.0),
            Self::Town => (1.0, 10.0),
        }
    }

    /// ln(z/z0), of zmin where the roof is lower: 4.3.2(1), up to 200 m.
    fn log_height(self, height: Length) -> f64 {
        let (rough, least) = self.table();
        libm::log((height.mm() / 1_000.0).clamp(least, 200.0) / rough)
    }
}

/// What the wind meets on its way, and what it is made of.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Exposure {
    /// What is around.
    pub terrain: Terrain,
    /// Orography factor co: 1 on flat land, more on a hilltop or a cliff (4.3.3).
    pub orography: f64,
    /// Turbulence factor kI: 1 recommended (4.4).
    pub turbulence: f64,
    /// Density of the air ρ.
    pub air: Density,
}

impl Exposure {
    /// Flat land of this kind, and the recommended values.
    pub const fn of(terrain: Terrain) -> Self {
        Self { terrain, orography: 1.0, turbulence: 1.0, air: AIR }
    }
}

/// Basic velocity pressure qb = ρ vb²/2. EN 1991-1-4 (4.10).
pub fn basic_pressure(basic: Speed, air: Density) -> Pressure {
    let speed = basic.m_per_s();
    Pressure::from_pa(0.5 * air.kg_per_m3() * speed * speed)
}

/// Terrain factor kr = 0.19 (z0/z0,II)^0.07. EN 1991-1-4 (4.5).
pub fn terrain_factor(terrain: Terrain) -> f64 {
    0.19 * libm::pow(terrain.table().0 / Terrain::Fields.table().0, 0.07)
}

/// Roughness factor cr = kr ln(z/z0), with zmin where the height is less. EN 1991-1-4 (4.4).
pub fn roughness_factor(terrain: Terrain, height: Length) -> f64 {
    terrain_factor(terrain) * terrain.log_height(height)
}

/// Turbulence intensity Iv = kI/(co ln(z/z0)). EN 1991-1-4 (4.7).
pub fn turbulence(exposure: &Exposure, height: Length) -> f64 {
    exposure.turbulence / (exposure.orography * exposure.terrain.log_height(height))
}

/// Exposure factor ce = qp/qb. EN 1991-1-4 (4.9).
pub fn exposure_factor(exposure: &Exposure, height: Length) -> f64 {
    let mean = roughness_factor(exposure.terrain, height) * exposure.orography;
    (1.0 + 7.0 * turbulence(exposure, height)) * mean * mean
}

/// Peak velocity pressure qp = (1 + 7 Iv) ρ (cr co vb)²/2. EN 1991-1-4 (4.8).
///
/// `height` is the reference height of a roof: its top (7.2.4, 7.2.5).
pub fn peak_pressure(basic: Speed, exposure: &Exposure, height: Length) -> Pressure {
    basic_pressure(basic, exposure.air) * exposure_factor(exposure, height)
}

/// Orography factor co on a hill, a ridge or a cliff: 1 where the ground upwind rises by less than 0.05, 1 + 2 s Φ to 0.3,
/// 1 + 0.6 s above. EN 1991-1-4 Annex A.3, (A.1) to (A.3).
///
/// `upwind` is Φ, rise by length of the ground before it; `location` is s, from 0 at its foot to about 1 at the top (Figs.
/// A.2 and A.3).
pub fn orography_factor(upwind: f64, location: f64) -> f64 {
    if upwind < 0.05 { 1.0 } else { 1.0 + 2.0 * location * upwind.min(0.3) }
}

/// Altitude factor of the basic wind speed: calt = 1 + 0.001 A, less by (10/z)^0.2 in its second part above 10 m.
/// NA to BS EN 1991-1-4, NA.2.5; the part above 10 m from memory.
pub fn altitude_factor(altitude: Length, height: Length) -> f64 {
    let above_sea = altitude.mm() / 1_000.0;
    let high = (height.mm() / 1_000.0).max(10.0);
    1.0 + 0.001 * above_sea * libm::pow(10.0 / high, 0.2)
}
