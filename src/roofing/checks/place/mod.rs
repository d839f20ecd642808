//! Where a building stands: the weather, what is around it, how high it is. What nobody told has the book's cautious
//! value, and is named.

pub(in crate::roofing::checks) mod snow;
pub(in crate::roofing::checks) mod suction;

use super::check::{Check, CheckKind, Roof};
use super::methods::wind::{self, Exposure, Terrain};
use crate::roofing::facts::choices::{Choice as _, OpenSides, Region, Surroundings};
use crate::roofing::facts::{FactKey, Facts, fact_word};
use crate::roofing::note::{Arg, Note};
use crate::roofing::rules::{Basis, RuleBook, Weather};
use crate::units::physical::Pressure;
use crate::units::{Length, Speed};

/// How open the building is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::roofing::checks) enum Open {
    /// Walls all round.
    Closed,
    /// One side has none, or a large door stands open.
    OneSide,
    /// Hardly any side has one.
    Canopy,
}

impl Open {
    /// The message that says it.
    const fn word(self) -> &'static str {
        match self {
            Self::Closed => "check-open-closed",
            Self::OneSide => "check-open-one-side",
            Self::Canopy => "check-open-canopy",
        }
    }
}

/// Where a building stands.
#[derive(Clone, Debug)]
pub(in crate::roofing::checks) struct Place<'a> {
    /// Basic wind velocity.
    pub(in crate::roofing::checks) wind: Speed,
    /// Snow on the ground.
    pub(in crate::roofing::checks) snow: Pressure,
    /// Rain in an hour.
    pub(in crate::roofing::checks) rain: Length,
    /// The weather of the region.
    pub(in crate::roofing::checks) weather: &'a Weather,
    /// What the wind meets.
    pub(in crate::roofing::checks) exposure: Exposure,
    /// The eaves above the ground.
    pub(in crate::roofing::checks) eaves: Length,
    /// Its walls.
    pub(in crate::roofing::checks) open: Open,
    /// How far the wind below a roof without walls is blocked.
    pub(in crate::roofing::checks) blockage: f64,
    /// Whether something higher stands beside it.
    pub(in crate::roofing::checks) taller: bool,
    /// What nobody has told, and has the book's own value.
    pub(in crate::roofing::checks) assumed: Vec<FactKey>,
}

/// A whole number of millimetres out of the book.
pub(in crate::roofing::checks) fn millimetres(rules: &RuleBook, basis: Basis) -> Length {
    rules.basis(basis).and_then(Length::from_mm_f64).unwrap_or_default()
}

fn number(whole: i64) -> f64 {
    f64::from(i32::try_from(whole).unwrap_or(i32::MAX))
}

impl<'a> Place<'a> {
    /// Where the building of these facts stands; `None` where the book holds nothing to check by.
    pub(in crate::roofing::checks) fn of(facts: &Facts, rules: &'a RuleBook) -> Option<Self> {
        let mut assumed = Vec::new();
        let typed = (facts.count(FactKey::WindSpeed), facts.count(FactKey::SnowLoad));
        let region = facts.chosen(FactKey::Region).unwrap_or(Region::NotSure);
        if region == Region::NotSure && (typed.0.is_none() || typed.1.is_none()) {
            assumed.push(FactKey::Region);
        }
        let weather = rules.weather(region.id())?;
        let around = facts.chosen(FactKey::Surroundings).unwrap_or(Surroundings::NotSure);
        let hilltop = rules.basis(Basis::Hilltop)?;
        let exposure = match around {
            Surroundings::Town => Exposure::of(Terrain::Village),
            Surroundings::Fields | Surroundings::NotSure => Exposure::of(Terrain::Fields),
            Surroundings::Hilltop => Exposure { orography: hilltop, ..Exposure::of(Terrain::Fields) },
            Surroundings::Coast => Exposure::of(Terrain::Sea),
        };
        if around == Surroundings::NotSure {
            assumed.push(FactKey::Surroundings);
        }
        let measured = facts.length(FactKey::EavesHeight);
        if measured.is_none() {
            assumed.push(FactKey::EavesHeight);
        }
        let eaves =
            measured.map_or_else(|| millimetres(rules, Basis::Eaves), |eaves| rules.length_band(eaves).1);
        let open = match facts.chosen(FactKey::OpenSides) {
            Some(OpenSides::None) => Open::Closed,
            Some(OpenSides::One) => Open::OneSide,
            Some(OpenSides::ThreeOrMore) => Open::Canopy,
            // Somebody who is not sure may leave a door open; who was never asked has walls, as most sheds have.
            Some(OpenSides::NotSure) => {
                assumed.push(FactKey::OpenSides);
                Open::OneSide
            }
            None => {
                assumed.push(FactKey::OpenSides);
                Open::Closed
            }
        };
        if facts.get(FactKey::TallerBeside).is_none() {
            assumed.push(FactKey::TallerBeside);
        }
        let wind = typed.0.map_or(weather.wind, number);
        let snow = typed.1.map_or(weather.snow, number);
        Some(Self {
            wind: Speed::from_m_per_s_f64(wind)?,
            snow: Pressure::from_pa(snow),
            rain: Length::from_mm_f64(weather.rain)?,
            weather,
            exposure,
            eaves,
            open,
            blockage: rules.basis(Basis::Blockage)?,
            taller: facts.says_yes(FactKey::TallerBeside),
            assumed,
        })
    }

    /// How high the top of a roof stands whose slope climbs so much.
    pub(in crate::roofing::checks) fn top(&self, rise: Length) -> Length {
        self.eaves + rise
    }

    /// Peak pressure of the wind at the top of a roof.
    pub(in crate::roofing::checks) fn peak(&self, rise: Length) -> Pressure {
        wind::peak_pressure(self.wind, &self.exposure, self.top(rise))
    }

    /// The most that any slope of a roof climbs.
    pub(in crate::roofing::checks) fn rise(roof: &Roof<'_>) -> Length {
        let rises =
            roof.site.slopes.iter().map(|slope| slope.rafter_length.value.scale(slope.pitch.value.sin()));
        rises.max().unwrap_or_default()
    }

    /// The wind, as the other checks take it.
    pub(in crate::roofing::checks) fn wind_check(&self, roof: &Roof<'_>) -> Check {
        let mut check = Check::new(CheckKind::Wind, None);
        let top = self.top(Self::rise(roof));
        let (terrain, air) = (self.exposure.terrain, self.exposure.air);
        let peak = wind::peak_pressure(self.wind, &self.exposure, top);
        check.step("sum-basic-wind", "vb", "", self.wind.m_per_s(), "m/s");
        check.step("sum-top-height", "z", "", top.mm() / 1_000.0, "m");
        check.step(
            "sum-basic-pressure",
            "qb",
            "ρ vb² / 2",
            wind::basic_pressure(self.wind, air).pa() / 1e3,
            "kN/m²",
        );
        check.step("sum-roughness", "cr", "kr ln(z / z0)", wind::roughness_factor(terrain, top), "");
        check.step("sum-orography", "co", "", self.exposure.orography, "");
        check.step("sum-turbulence", "Iv", "kI / (co ln(z / z0))", wind::turbulence(&self.exposure, top), "");
        check.step("sum-peak-pressure", "qp", "(1 + 7 Iv) ρ (cr co vb)² / 2", peak.pa() / 1e3, "kN/m²");
        let speed = Arg::Text(format!("{:.0} m/s", self.wind.m_per_s()));
        let says = Note::new("check-wind-says").with("speed", speed).with("peak", super::check::load(peak));
        check.says.push(says.word("open", self.open.word()));
        if !self.assumed.is_empty() {
            let facts = self.assumed.iter().map(|fact| Note::new(fact_word(*fact)));
            check.says.push(Note::new("check-assumed").with("facts", Arg::Notes(facts.collect())));
        }
        check
    }
}
