//! Warmth and damp: EN ISO 6946:2017 and EN ISO 13788:2012.

mod glaser;
mod layers;
mod vapour;

pub use glaser::{Climate, DELTA_AIR, Year, condensing, year};
pub use layers::{
    Bridged, Layer, Part, Resistance, Surface, bridged, profile, still_air, through, transmittance,
};
pub use vapour::{condenses, dew_point, factor_of_surface, saturation, vapour_pressure, wanted_factor};
