//! What time, damp and size do to strength: EN 1995-1-1 sections 2 and 3.

use crate::units::Length;
use crate::units::physical::Stress;

/// Where timber stands: EN 1995-1-1 2.3.1.3.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum ServiceClass {
    /// 1: indoors, heated.
    Dry,
    /// 2: under a roof, not heated.
    Covered,
    /// 3: in the rain, or as damp as if it were.
    Exposed,
}

/// How long a load lasts altogether: EN 1995-1-1 Table 2.1. With several, the shortest decides (3.1.3(2)).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Duration {
    /// More than ten years: the roof itself.
    Permanent,
    /// Half a year to ten years: what is stored.
    Long,
    /// A week to half a year: a crowd on a floor; snow where it lies long.
    Medium,
    /// Less than a week: snow, a person on a roof.
    Short,
    /// Wind, an accident.
    Instantaneous,
}

/// What carries.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Material {
    /// Solid timber.
    Solid,
    /// Plywood for this class (EN 636-2 in class 2, EN 636-3 in class 3).
    Plywood,
    /// OSB/3 and OSB/4.
    Osb,
}

/// Modification factor kmod: EN 1995-1-1 Table 3.1. Plywood and OSB from memory. `None` where the material may not be
/// used: OSB in service class 3.
pub const fn k_mod(material: Material, class: ServiceClass, duration: Duration) -> Option<f64> {
    use ServiceClass::{Covered, Dry, Exposed};
    let row = match (material, class) {
        (Material::Solid | Material::Plywood, Dry | Covered) => [0.6, 0.7, 0.8, 0.9, 1.1],
        (Material::Solid | Material::Plywood, Exposed) => [0.5, 0.55, 0.65, 0.7, 0.9],
        (Material::Osb, Dry) => [0.4, 0.5, 0.7, 0.9, 1.1],
        (Material::Osb, Covered) => [0.3, 0.4, 0.55, 0.7, 0.9],
        (Material::Osb, Exposed) => return None,
    };
    let [permanent, long, medium, short, instantaneous] = row;
    Some(match duration {
        Duration::Permanent => permanent,
        Duration::Long => long,
        Duration::Medium => medium,
        Duration::Short => short,
        Duration::Instantaneous => instantaneous,
    })
}

/// How much more it bends with the years, kdef: EN 1995-1-1 Table 3.2. Plywood and OSB from memory.
pub const fn k_def(material: Material, class: ServiceClass) -> Option<f64> {
    Some(match (material, class) {
        (Material::Solid, ServiceClass::Dry) => 0.6,
        (Material::Solid, ServiceClass::Covered) | (Material::Plywood, ServiceClass::Dry) => 0.8,
        (Material::Solid, ServiceClass::Exposed) => 2.0,
        (Material::Plywood, ServiceClass::Covered) => 1.0,
        (Material::Plywood, ServiceClass::Exposed) => 2.5,
        (Material::Osb, ServiceClass::Dry) => 1.5,
        (Material::Osb, ServiceClass::Covered) => 2.25,
        (Material::Osb, ServiceClass::Exposed) => return None,
    })
}

/// Partial factor γM of the material: EN 1995-1-1 Table 2.3. Connections take the 1.3 of solid timber.
pub const fn gamma_m(material: Material) -> f64 {
    match material {
        Material::Solid => 1.3,
        Material::Plywood | Material::Osb => 1.2,
    }
}

/// Depth factor kh of solid timber: (150/h)^0.2, at most 1.3, and 1 from 150 mm on. EN 1995-1-1 (3.1), ρk ≤ 700 kg/m³.
///
/// `depth` is the size in the direction of the bending: each direction has its own.
pub fn depth_factor(depth: Length) -> f64 {
    if depth <= Length::ZERO {
        return 1.0;
    }
    libm::pow(150.0 / depth.mm(), 0.2).clamp(1.0, 1.3)
}

/// Design strength kmod fk/γM. EN 1995-1-1 (2.14). Factors for depth and for members that share a load (ksys, 6.6) are
/// multiplied by the caller.
pub fn design_strength(characteristic: Stress, k_mod: f64, gamma_m: f64) -> Stress {
    characteristic * (k_mod / gamma_m)
}
