//! How well a build-up keeps warmth: EN ISO 6946:2017.

use crate::units::physical::ThermalResistance;
use crate::units::{Length, Temperature};

/// Surface resistances by where the warmth flows: EN ISO 6946 Table 7.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Surface {
    /// Upwards, through a roof.
    Up,
    /// Sideways, within 30° of level: a wall, a slope above 60°.
    Sideways,
    /// Downwards.
    Down,
}

impl Surface {
    /// Rsi, inside. It stands outside, too, where a well ventilated layer shelters the build-up (6.9.4).
    pub const fn inside(self) -> ThermalResistance {
        ThermalResistance::from_m2k_per_w(match self {
            Self::Up => 0.10,
            Self::Sideways => 0.13,
            Self::Down => 0.17,
        })
    }

    /// Rse, outside.
    pub const fn outside() -> ThermalResistance {
        ThermalResistance::from_m2k_per_w(0.04)
    }
}

/// A layer of still air: EN ISO 6946 Table 8, straight between its rows. From memory, but for 25 mm upwards and sideways.
///
/// Thicker than 300 mm it is a room, not a layer: the table's last row stands.
pub fn still_air(thickness: Length, flow: Surface) -> ThermalResistance {
    const UP: [f64; 9] = [0.0, 0.11, 0.13, 0.15, 0.16, 0.16, 0.16, 0.16, 0.16];
    const SIDEWAYS: [f64; 9] = [0.0, 0.11, 0.13, 0.15, 0.17, 0.18, 0.18, 0.18, 0.18];
    const DOWN: [f64; 9] = [0.0, 0.11, 0.13, 0.15, 0.17, 0.19, 0.21, 0.22, 0.23];
    const THICK: [f64; 9] = [0.0, 5.0, 7.0, 10.0, 15.0, 25.0, 50.0, 100.0, 300.0];
    let column = match flow {
        Surface::Up => UP,
        Surface::Sideways => SIDEWAYS,
        Surface::Down => DOWN,
    };
    let thick = thickness.mm().max(0.0);
    let (mut before, mut value) = (0.0, 0.0);
    for (row, resists) in THICK.into_iter().zip(column) {
        if thick <= row {
            let share = if row > before { (thick - before) / (row - before) } else { 1.0 };
            return ThermalResistance::from_m2k_per_w(value + (resists - value) * share);
        }
        (before, value) = (row, resists);
    }
    ThermalResistance::from_m2k_per_w(value)
}

/// A part of a layer that is not alike throughout: insulation and the timber in it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Part {
    /// Its share of the area; those of a layer make 1.
    pub share: f64,
    /// Its resistance.
    pub resistance: ThermalResistance,
}

/// A layer: one part, or several side by side.
pub type Layer = Vec<Part>;

/// A layer that is alike throughout.
pub fn through(resistance: ThermalResistance) -> Layer {
    vec![Part { share: 1.0, resistance }]
}

/// Both bounds of a resistance and their mean.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Resistance {
    /// R′: each path on its own.
    pub upper: ThermalResistance,
    /// R″: each layer evened out.
    pub lower: ThermalResistance,
    /// RT = (R′ + R″)/2.
    pub total: ThermalResistance,
}

/// A build-up with bridges: its layers from outside to inside between two surface resistances.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bridged<'a> {
    /// Layers, whichever way they are told.
    pub layers: &'a [Layer],
    /// Rse, or Rsi again below a well ventilated layer: that layer and all outside it are left out (6.9.4).
    pub outside: ThermalResistance,
    /// Rsi.
    pub inside: ThermalResistance,
}

/// Every path through the layers: its share and its resistance.
fn paths(layers: &[Layer]) -> Vec<(f64, f64)> {
    let mut paths = vec![(1.0, 0.0)];
    for layer in layers {
        paths = paths
            .iter()
            .flat_map(|(share, so_far)| {
                layer.iter().map(move |part| (share * part.share, so_far + part.resistance.m2k_per_w()))
            })
            .collect();
    }
    paths
}

/// Upper and lower bound and their mean. EN ISO 6946 6.7.2, (4) to (8); meant for R′/R″ up to 1.5 (6.7.2.1).
pub fn bridged(build_up: &Bridged<'_>) -> Resistance {
    let surfaces = build_up.outside.m2k_per_w() + build_up.inside.m2k_per_w();
    let flow: f64 = paths(build_up.layers).iter().map(|(share, over)| share / (over + surfaces)).sum();
    let evened = |layer: &Layer| {
        let flow: f64 = layer.iter().map(|part| part.share / part.resistance.m2k_per_w()).sum();
        if flow.is_finite() && flow > 0.0 { 1.0 / flow } else { 0.0 }
    };
    let lower: f64 = surfaces + build_up.layers.iter().map(evened).sum::<f64>();
    let upper = if flow > 0.0 { 1.0 / flow } else { 0.0 };
    let of = ThermalResistance::from_m2k_per_w;
    Resistance { upper: of(upper), lower: of(lower), total: of(f64::midpoint(upper, lower)) }
}

/// U = 1/RT in W/(m²K). EN ISO 6946 6.5. Told to two figures (6.5.1).
pub fn transmittance(total: ThermalResistance) -> f64 {
    1.0 / total.m2k_per_w()
}

/// Temperature at each surface and between layers, from the outside surface to the inside one. EN ISO 13788 4.4 and 6.
///
/// `layers` from outside to inside, each alike throughout.
pub fn profile(
    layers: &[ThermalResistance],
    surfaces: (ThermalResistance, ThermalResistance),
    outdoors: Temperature,
    indoors: Temperature,
) -> Vec<Temperature> {
    let (outside, inside) = surfaces;
    let total = (outside + inside + layers.iter().copied().sum()).m2k_per_w();
    let (cold, warm) = (outdoors.celsius_f64(), indoors.celsius_f64());
    let mut at = outside;
    let mut found = Vec::with_capacity(layers.len() + 1);
    let mut put = |at: ThermalResistance| {
        let share = if total > 0.0 { at.m2k_per_w() / total } else { 0.0 };
        found.extend(Temperature::from_celsius_f64(cold + (warm - cold) * share));
    };
    put(at);
    for layer in layers {
        at += *layer;
        put(at);
    }
    found
}
