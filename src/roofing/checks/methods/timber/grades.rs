//! Strength classes of softwood: EN 338:2016 Table 1.

use crate::units::physical::{Density, Stress};

/// A strength class.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Grade {
    /// Its name: C16.
    pub name: &'static str,
    /// Bending fm,k.
    pub bending: Stress,
    /// Tension along the grain ft,0,k.
    pub tension: Stress,
    /// Compression along the grain fc,0,k.
    pub compression: Stress,
    /// Compression across the grain fc,90,k.
    pub bearing: Stress,
    /// Shear fv,k.
    pub shear: Stress,
    /// Mean modulus along the grain E0,mean.
    pub stiffness: Stress,
    /// Its 5 % fractile E0,05.
    pub stiffness_low: Stress,
    /// Mean shear modulus Gmean.
    pub shear_stiffness: Stress,
    /// Characteristic density ρk.
    pub density: Density,
    /// Mean density ρmean.
    pub density_mean: Density,
}

#[expect(clippy::too_many_arguments, reason = "a row of a table, in its order")]
const fn row(
    name: &'static str,
    bending: f64,
    tension: f64,
    compression: f64,
    bearing: f64,
    shear: f64,
    (stiffness, stiffness_low, shear_stiffness): (f64, f64, f64),
    (density, density_mean): (f64, f64),
) -> Grade {
    Grade {
        name,
        bending: Stress::from_n_per_mm2(bending),
        tension: Stress::from_n_per_mm2(tension),
        compression: Stress::from_n_per_mm2(compression),
        bearing: Stress::from_n_per_mm2(bearing),
        shear: Stress::from_n_per_mm2(shear),
        stiffness: Stress::from_n_per_mm2(stiffness),
        stiffness_low: Stress::from_n_per_mm2(stiffness_low),
        shear_stiffness: Stress::from_n_per_mm2(shear_stiffness),
        density: Density::from_kg_per_m3(density),
        density_mean: Density::from_kg_per_m3(density_mean),
    }
}

/// EN 338:2016 Table 1, weakest first. C16 and C24 were read in public transcriptions, the others are from memory.
/// The edition of 2003 has other shear strengths (1.8 and 2.5 for C16 and C24): never mix it with kcr.
pub const GRADES: [Grade; 8] = [
    row("C14", 14.0, 7.2, 16.0, 2.0, 3.0, (7_000.0, 4_700.0, 440.0), (290.0, 350.0)),
    row("C16", 16.0, 8.5, 17.0, 2.2, 3.2, (8_000.0, 5_400.0, 500.0), (310.0, 370.0)),
    row("C18", 18.0, 10.0, 18.0, 2.2, 3.4, (9_000.0, 6_000.0, 560.0), (320.0, 380.0)),
    row("C20", 20.0, 11.5, 19.0, 2.3, 3.6, (9_500.0, 6_400.0, 590.0), (330.0, 400.0)),
    row("C22", 22.0, 13.0, 20.0, 2.4, 3.8, (10_000.0, 6_700.0, 630.0), (340.0, 410.0)),
    row("C24", 24.0, 14.5, 21.0, 2.5, 4.0, (11_000.0, 7_400.0, 690.0), (350.0, 420.0)),
    row("C27", 27.0, 16.5, 22.0, 2.5, 4.0, (11_500.0, 7_700.0, 720.0), (360.0, 430.0)),
    row("C30", 30.0, 19.0, 24.0, 2.7, 4.0, (12_000.0, 8_000.0, 750.0), (380.0, 460.0)),
];

/// The class of this name.
pub fn grade(name: &str) -> Option<&'static Grade> {
    GRADES.iter().find(|grade| grade.name == name)
}
