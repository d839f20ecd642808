//! Condensation within a build-up, month by month: EN ISO 13788:2012 section 6.
//!
//! Still air only: what leaks through gaps brings more damp than all that diffuses, and is not in it (6.1).

use crate::units::physical::{Moisture, Pressure, ThermalResistance};
use crate::units::{Length, Temperature};

use super::layers::profile;
use super::vapour::{saturation, vapour_pressure};

/// Vapour permeability of air δ0 in kg/(m·s·Pa): EN ISO 13788 6.2.
pub const DELTA_AIR: f64 = 2e-10;

/// One stretch of weather, inside and out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Climate {
    /// Air outside.
    pub outdoors: Temperature,
    /// Its relative humidity, as a share of 1.
    pub outdoors_humidity: f64,
    /// Air inside.
    pub indoors: Temperature,
    /// Its relative humidity, as a share of 1.
    pub indoors_humidity: f64,
    /// How long, in days.
    pub days: f64,
}

/// Where vapour pressure would run on the straight line from outside to inside, and where saturation holds it down: the
/// lower hull. Returns (equivalent air layer in metres, pressure) of the corners, from outside to inside.
fn hull(points: &[(f64, f64)]) -> Vec<usize> {
    let mut kept: Vec<usize> = Vec::new();
    for (at, point) in points.iter().enumerate() {
        while let [.., before, last] = kept.as_slice() {
            let (Some(a), Some(b)) = (points.get(*before), points.get(*last)) else { break };
            // The middle one stays where it lies below the line between its neighbours.
            let below = (b.1 - a.1) * (point.0 - a.0) < (point.1 - a.1) * (b.0 - a.0);
            if below {
                break;
            }
            kept.pop();
        }
        kept.push(at);
    }
    kept
}

/// The planes of a build-up by its layers' equivalent air layers sd, from outside to inside, in metres.
fn depths(sd: &[Length]) -> Vec<f64> {
    let mut at = 0.0;
    let mut found = vec![0.0];
    for layer in sd {
        // A membrane of no thickness still parts two planes.
        at += (layer.mm() / 1_000.0).max(1e-6);
        found.push(at);
    }
    found
}

/// How fast each plane gains water (or dries, where it is wet): g/m² a day; one for each border between layers, from
/// outside to inside. `wet` are planes held at saturation although no vapour need gather there.
fn gains(depths: &[f64], saturated: &[f64], air: (f64, f64), wet: &[bool]) -> Vec<f64> {
    let last = depths.len().saturating_sub(1);
    let mut points = Vec::with_capacity(depths.len());
    for (at, (depth, full)) in depths.iter().zip(saturated).enumerate() {
        points.push((
            *depth,
            if at == 0 {
                air.0
            } else if at == last {
                air.1
            } else {
                *full
            },
        ));
    }
    // Between two wet planes (and the surfaces) vapour runs by the hull of its own.
    let fixed = |at: usize| at == 0 || at == last || wet.get(at).copied().unwrap_or(false);
    let mut corners: Vec<usize> = Vec::new();
    let mut start = 0;
    for end in 1..=last {
        if !fixed(end) {
            continue;
        }
        let part = points.get(start..=end).unwrap_or_default();
        for at in hull(part) {
            if corners.last() != Some(&(start + at)) {
                corners.push(start + at);
            }
        }
        start = end;
    }
    let mut found = vec![0.0; depths.len()];
    for three in corners.windows(3) {
        let [a, b, c] = three else { continue };
        let (Some(out), Some(here), Some(inner)) = (points.get(*a), points.get(*b), points.get(*c)) else {
            continue;
        };
        let arrives = (inner.1 - here.1) / (inner.0 - here.0);
        let leaves = (here.1 - out.1) / (here.0 - out.0);
        if let Some(gain) = found.get_mut(*b) {
            *gain = DELTA_AIR * (arrives - leaves) * 86_400.0 * 1_000.0;
        }
    }
    found
}

/// Steady condensation: what each border between layers gains, per day, from outside to inside, surfaces included (they
/// gain nothing). EN ISO 13788 6.4.
///
/// `saturated` are the saturation pressures at those borders, `outdoors` and `indoors` the vapour pressures of the air.
pub fn condensing(
    sd: &[Length],
    saturated: &[Pressure],
    outdoors: Pressure,
    indoors: Pressure,
) -> Vec<Moisture> {
    let full: Vec<f64> = saturated.iter().map(|pressure| pressure.pa()).collect();
    let gains = gains(&depths(sd), &full, (outdoors.pa(), indoors.pa()), &vec![false; full.len()]);
    gains.into_iter().map(|gain| Moisture::from_g_per_m2(gain.max(0.0))).collect()
}

/// A year of gathering and drying.
#[derive(Clone, Debug, PartialEq)]
pub struct Year {
    /// The month it begins with, by its place in the climate: the first in which water gathers.
    pub begins: usize,
    /// What is in the build-up at the end of each month, from that one on.
    pub months: Vec<Moisture>,
    /// The most at any time.
    pub most: Moisture,
    /// What is left when the year is over: nothing where it all dries.
    pub left: Moisture,
    /// How many borders between layers ever get wet.
    pub planes: usize,
}

/// Saturation pressures at the planes of a month, and the vapour pressures outside and inside.
fn pressures(
    warmth: &[ThermalResistance],
    surfaces: (ThermalResistance, ThermalResistance),
    month: &Climate,
) -> (Vec<f64>, (f64, f64)) {
    let planes = profile(warmth, surfaces, month.outdoors, month.indoors);
    let full = planes.iter().map(|plane| saturation(*plane).pa()).collect();
    let outside = vapour_pressure(month.outdoors, month.outdoors_humidity).pa();
    let inside = vapour_pressure(month.indoors, month.indoors_humidity).pa();
    (full, (outside, inside))
}

/// The first month in which water gathers in what was dry, after one in which it does not; the first of all where there
/// is none such.
fn begins(
    depths: &[f64],
    warmth: &[ThermalResistance],
    surfaces: (ThermalResistance, ThermalResistance),
    months: &[Climate],
) -> usize {
    let gathers = |month: &Climate| {
        let (full, air) = pressures(warmth, surfaces, month);
        gains(depths, &full, air, &vec![false; depths.len()]).iter().any(|gain| *gain > 0.0)
    };
    let wet: Vec<bool> = months.iter().map(gathers).collect();
    let before = wet.iter().cycle().skip(wet.len().saturating_sub(1));
    wet.iter().zip(before).position(|(here, before)| *here && !*before).unwrap_or(0)
}

/// Water in a build-up over a year of these months, dry in the first month in which any gathers after one in which none
/// does (6.3).
///
/// `layers` from outside to inside: resistance and equivalent air layer sd. EN ISO 13788 6.4 and 6.5.
pub fn year(
    layers: &[(ThermalResistance, Length)],
    surfaces: (ThermalResistance, ThermalResistance),
    months: &[Climate],
) -> Year {
    let warmth: Vec<ThermalResistance> = layers.iter().map(|layer| layer.0).collect();
    let sd: Vec<Length> = layers.iter().map(|layer| layer.1).collect();
    let depths = depths(&sd);
    let begins = begins(&depths, &warmth, surfaces, months);
    let mut held = vec![0.0_f64; depths.len()];
    let mut ever = vec![false; depths.len()];
    let mut told = Vec::with_capacity(months.len());
    for month in months.iter().cycle().skip(begins).take(months.len()) {
        let (full, air) = pressures(&warmth, surfaces, month);
        // A plane that dries within the month is wet only until then: the rest of the month is gone through again.
        let mut left = month.days.max(0.0);
        for _ in 0..=depths.len() {
            let wet: Vec<bool> = held.iter().map(|water| *water > 0.0).collect();
            let gains = gains(&depths, &full, air, &wet);
            let dries = held.iter().zip(&gains).filter(|(water, gain)| **water > 0.0 && **gain < 0.0);
            let soonest = dries.map(|(water, gain)| water / -gain).fold(left, f64::min);
            for ((water, gain), ever) in held.iter_mut().zip(&gains).zip(&mut ever) {
                *water = (*water + gain * soonest).max(0.0);
                // What rounding leaves of a plane that has dried is nothing.
                if *water < 1e-9 {
                    *water = 0.0;
                }
                *ever |= *water > 0.0;
            }
            left -= soonest;
            if left <= 0.0 {
                break;
            }
        }
        told.push(Moisture::from_g_per_m2(held.iter().sum()));
    }
    let most = told.iter().copied().fold(Moisture::ZERO, Moisture::max);
    let left = told.last().copied().unwrap_or_default();
    Year { begins, months: told, most, left, planes: ever.iter().filter(|wet| **wet).count() }
}
