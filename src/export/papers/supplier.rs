//! The supplier sheet: what to pick, and nothing else. No name, no chat, no address, no figure of the roof that
//! the picker doesn't need. As CSV (RFC 4180), as JSON, and as an order on paper.

mod paper;
pub mod share;
mod table;

use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};

use super::captions::day;
use crate::drawing::Captions;
use crate::roofing::materials::{MaterialLine, Picking, Unit};
use crate::roofing::note::{Arg, Note};
use crate::roofing::plan::Plan;
use crate::units::{Length, Mass, Money};

pub(super) use paper::footer;

/// One thing to pick.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct SupplierLine {
    /// The catalogue's id.
    pub item: String,
    /// The catalogue's name; for a sheet known by its label alone, its sizes in words.
    pub name: String,
    /// What a counter must know beside the name, in words: sizes, wave, grade, what it is cut to.
    #[serde(default)]
    pub details: Vec<String>,
    /// What may be sold instead, in words.
    #[serde(default)]
    pub or_equal: String,
    /// The length to pick or cut, where it is sold by length; of a sheet its own.
    pub length_mm: Option<i64>,
    /// Of a sheet, edge to edge.
    #[serde(default)]
    pub width_mm: Option<f64>,
    /// Of a sheet, across its whole width.
    #[serde(default)]
    pub corrugations: Option<i64>,
    /// Crown to crown: of a sheet, or of the one that a piece must fit.
    #[serde(default)]
    pub wave_pitch_mm: Option<f64>,
    /// Trough to crown, likewise.
    #[serde(default)]
    pub wave_height_mm: Option<f64>,
    /// What lengths of timber are cut to.
    #[serde(default)]
    pub cuts: Vec<CutTo>,
    /// Pieces in all.
    pub pieces: i64,
    /// How many of them are spare or left over.
    #[serde(default)]
    pub spare: i64,
    /// How many come in a pack.
    pub pack: i64,
    /// Packs to pick.
    pub packs: i64,
    /// Mass of all of them.
    pub mass_g: i64,
    /// Whether the mass was worked out from the size and never weighed.
    #[serde(default)]
    pub mass_by_size: bool,
    /// What all of them cost by the list: a decimal text, where the list has a price.
    #[serde(default)]
    pub list_price: Option<String>,
}

/// Lengths that a piece of timber is cut to.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct CutTo {
    /// How long.
    pub length_mm: i64,
    /// How many.
    pub pieces: i64,
}

/// Everything to pick.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct SupplierSheet {
    /// What people call this very list by, `4821-0937`: another list has another one.
    #[serde(default)]
    pub reference: String,
    /// The catalogue's version.
    pub catalogue: String,
    /// The book and the planner that the plan was made by; empty where that was not kept yet.
    #[serde(default)]
    pub version: String,
    /// Whether the catalogue is an invented demo range.
    pub demo: bool,
    /// What says so.
    #[serde(default)]
    pub notice: String,
    /// The day it was made, `2026-11-25`.
    pub date: String,
    /// What to pick.
    pub lines: Vec<SupplierLine>,
    /// Mass of the whole delivery.
    pub mass_g: i64,
    /// The longest single piece to carry.
    pub longest_mm: i64,
    /// What the lines cost by the list, those without a price left out: a decimal text.
    #[serde(default)]
    pub list_total: Option<String>,
    /// The currency of the prices (ISO 4217); empty where there are none.
    #[serde(default)]
    pub currency: String,
    /// The day the prices are from; empty where there are none.
    #[serde(default)]
    pub prices_from: String,
}

impl SupplierSheet {
    /// What a plan asks a supplier for, in the words and units of `captions`. `date` is the day it is made.
    pub fn of_plan(plan: &Plan, date: &str, captions: &dyn Captions) -> Self {
        let picking = plan.picking();
        let materials = &plan.materials;
        let lines: Vec<SupplierLine> =
            materials.lines.iter().map(|line| told(line, picking, captions)).collect();
        let longest = materials.lines.iter().map(|line| picking.carried(line)).max();
        let priced = materials.lines.iter().find_map(|line| line.price);
        let version = plan.made.label();
        Self {
            reference: reference(&lines, &version),
            catalogue: plan.catalogue.clone(),
            version,
            demo: plan.demo,
            notice: if plan.demo { captions.say(&Note::new("pack-demo")) } else { String::new() },
            date: date.to_owned(),
            mass_g: lines.iter().map(|line| line.mass_g).sum(),
            lines,
            longest_mm: longest.unwrap_or_default().ceil_mm(),
            list_total: materials.listed().map(|(price, _)| in_full(price)),
            currency: priced.map(|price| price.currency.code().to_owned()).unwrap_or_default(),
            prices_from: priced.map(|_| plan.goods.prices_from.clone()).unwrap_or_default(),
        }
    }

    /// As JSON.
    pub fn json(&self) -> serde_json::Value {
        crate::export::facts::tidy(serde_json::to_value(self).unwrap_or_default())
    }

    /// How heavy the delivery is, and its longest piece, as a message.
    pub fn weight(&self) -> Note {
        let by_size = self.lines.iter().any(|line| line.mass_by_size);
        Note::new("supplier-weight")
            .with("mass", Arg::Mass(Mass::from_g(self.mass_g)))
            .with("by_size", Arg::Count(i64::from(by_size)))
            .length("longest", Length::from_mm(self.longest_mm))
    }

    /// What it all costs by the list, as a message, where there are prices.
    pub fn total(&self) -> Option<Note> {
        let total = self.list_total.as_ref()?;
        let without = self.lines.iter().filter(|line| line.list_price.is_none()).count();
        let note = Note::new("supplier-total").text("total", total).text("currency", &*self.currency);
        let note = note.count("without", without);
        Some(note.with("date", day(&self.prices_from)))
    }
}

/// A number to name the list by on the telephone: it follows from what is asked for, so the same list has the same.
fn reference(lines: &[SupplierLine], version: &str) -> String {
    let mut hasher = Sha256::new();
    hasher.update(version.as_bytes());
    for line in lines {
        hasher.update(format!("\n{}|{:?}|{}|{:?}", line.item, line.length_mm, line.pieces, line.cuts));
        hasher.update(format!("|{:?}|{:?}|{:?}", line.width_mm, line.wave_pitch_mm, line.wave_height_mm));
    }
    let digest = hasher.finalize();
    let number = digest.iter().take(4).fold(0_u32, |number, byte| (number << 8) | u32::from(*byte));
    let number = number % 100_000_000;
    format!("{:04}-{:04}", number / 10_000, number % 10_000)
}

/// An amount with its pence, as `14.00`.
fn in_full(money: Money) -> String {
    format!("{:.2}", money.amount)
}

fn told(line: &MaterialLine, picking: Picking<'_>, captions: &dyn Captions) -> SupplierLine {
    let sheet = picking.sheet(line);
    let wave = picking.wave(line);
    let pieces = line.packs.saturating_mul(line.pack);
    SupplierLine {
        item: line.item.clone(),
        name: if let Arg::Note(note) = picking.name_to_order(line) {
            captions.say(&note)
        } else {
            line.name.clone()
        },
        details: picking.details(line).iter().map(|note| captions.say(note)).collect(),
        or_equal: captions.say(&picking.or_equal(line)),
        length_mm: match (line.unit, sheet) {
            (Unit::PieceOf(length), _) => Some(length.round_mm()),
            (Unit::Piece, Some(sheet)) => Some(sheet.length.round_mm()),
            (Unit::Piece, None) => None,
        },
        width_mm: sheet.map(|sheet| sheet.width.mm()),
        corrugations: sheet.map(|sheet| sheet.corrugations),
        wave_pitch_mm: wave.map(|(pitch, _)| pitch.mm()),
        wave_height_mm: wave.map(|(_, height)| height.mm()),
        cuts: picking
            .cuts(line)
            .into_iter()
            .map(|(length, pieces)| CutTo { length_mm: length.ceil_mm(), pieces })
            .collect(),
        pieces,
        spare: pieces.saturating_sub(line.needed),
        pack: line.pack,
        packs: line.packs,
        mass_g: line.mass.g(),
        mass_by_size: picking.is_mass_by_size(line),
        list_price: line.price.map(in_full),
    }
}
