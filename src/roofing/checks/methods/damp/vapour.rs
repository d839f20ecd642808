//! Vapour in the air: EN ISO 13788:2012 Annex E and section 5.

use crate::units::Temperature;
use crate::units::physical::Pressure;

/// Saturation pressure: 610.5 exp(17.269 θ/(237.3 + θ)), and 610.5 exp(21.875 θ/(265.5 + θ)) over ice.
/// EN ISO 13788 (E.7), (E.8).
pub fn saturation(temperature: Temperature) -> Pressure {
    let t = temperature.celsius_f64();
    let power = if t >= 0.0 { 17.269 * t / (237.3 + t) } else { 21.875 * t / (265.5 + t) };
    Pressure::from_pa(610.5 * libm::exp(power))
}

/// The temperature at which a vapour pressure saturates: the inverse of [`saturation`]. EN ISO 13788 (E.9), (E.10).
/// `None` where there is no vapour.
pub fn dew_point(vapour: Pressure) -> Option<Temperature> {
    if vapour <= Pressure::ZERO {
        return None;
    }
    let log = libm::log(vapour.pa() / 610.5);
    let t = if log >= 0.0 { 237.3 * log / (17.269 - log) } else { 265.5 * log / (21.875 - log) };
    Temperature::from_celsius_f64(t)
}

/// Vapour pressure of air at a relative humidity, as a share of 1.
pub fn vapour_pressure(temperature: Temperature, humidity: f64) -> Pressure {
    saturation(temperature) * humidity
}

/// Whether air like this leaves water on a surface as cold as that. EN ISO 13788 4 and 5.
///
/// A bare sheet loses warmth to a clear night sky and gets colder than the air outside: never take the air's
/// temperature for the sheet's (3 to 6 K, from memory).
pub fn condenses(indoors: Temperature, humidity: f64, surface: Temperature) -> bool {
    vapour_pressure(indoors, humidity) > saturation(surface)
}

/// The temperature factor that keeps mould away: the surface stays warm enough for `most` relative humidity on it (0.8).
/// (θsi,min − θe)/(θi − θe). EN ISO 13788 5.3. `None` where it is no colder outside.
pub fn wanted_factor(outdoors: Temperature, indoors: Temperature, humidity: f64, most: f64) -> Option<f64> {
    let least = dew_point(vapour_pressure(indoors, humidity) / most)?.celsius_f64();
    let (cold, warm) = (outdoors.celsius_f64(), indoors.celsius_f64());
    (warm > cold).then(|| (least - cold) / (warm - cold))
}

/// The temperature factor of a plain surface: 1 − U Rsi, with the 0.25 m²K/W that EN ISO 13788 4.4.1 takes for corners
/// and furniture.
pub fn factor_of_surface(transmittance: f64) -> f64 {
    1.0 - 0.25 * transmittance
}
