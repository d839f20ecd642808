//! The supplier sheet: what to pick, and nothing else. No name, no chat, no address, no figure of the roof that
//! the picker doesn't need. As CSV (RFC 4180), as JSON, and as a document of one page.

pub mod share;

use serde::{Deserialize, Serialize};

use super::captions::day;
use crate::drawing::Captions;
use crate::drawing::document::{Block, Document, Paper, TableColumn};
use crate::roofing::catalogue::{AreaUse, Catalogue};
use crate::roofing::materials::{MaterialLine, Unit};
use crate::roofing::note::{Arg, Note};
use crate::roofing::plan::Plan;
use crate::units::{Length, Mass};

/// One thing to pick.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct SupplierLine {
    /// The catalogue's id.
    pub item: String,
    /// The catalogue's name.
    pub name: String,
    /// The length to pick or cut, where it is sold by length.
    pub length_mm: Option<i64>,
    /// Pieces in all.
    pub pieces: i64,
    /// How many come in a pack.
    pub pack: i64,
    /// Packs to pick.
    pub packs: i64,
    /// Mass of all of them.
    pub mass_g: i64,
}

/// Everything to pick.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct SupplierSheet {
    /// The catalogue's version.
    pub catalogue: String,
    /// The book and the planner that the plan was made by; empty where that was not kept yet.
    #[serde(default)]
    pub version: String,
    /// Whether the catalogue is an invented demo range.
    pub demo: bool,
    /// The day it was made, `2026-11-25`.
    pub date: String,
    /// What to pick.
    pub lines: Vec<SupplierLine>,
    /// Mass of the whole delivery.
    pub mass_g: i64,
    /// The longest single piece to carry.
    pub longest_mm: i64,
}

/// The first line of the CSV. `price`, `in_stock` and `note` are empty, for the supplier to fill.
const CSV_HEAD: &str = "item,name,length_mm,pieces,pack,packs,mass_g,price,in_stock,note";

impl SupplierSheet {
    /// What a plan asks a supplier for. `date` is the day it is made.
    pub fn of_plan(plan: &Plan, date: &str) -> Self {
        let lines: Vec<SupplierLine> = plan.materials.lines.iter().map(line).collect();
        let longest = plan.materials.lines.iter().map(|line| carried_length(line, plan, &plan.goods)).max();
        Self {
            catalogue: plan.catalogue.clone(),
            version: plan.made.label(),
            demo: plan.demo,
            date: date.to_owned(),
            mass_g: lines.iter().map(|line| line.mass_g).sum(),
            lines,
            longest_mm: longest.unwrap_or_default().ceil_mm(),
        }
    }

    /// As CSV: RFC 4180, lines ended by CR LF, in UTF-8.
    pub fn csv(&self) -> String {
        let mut csv = format!("{CSV_HEAD}\r\n");
        for line in &self.lines {
            let length = line.length_mm.map(|length| length.to_string()).unwrap_or_default();
            let figures = [line.pieces, line.pack, line.packs, line.mass_g].map(|figure| figure.to_string());
            let [pieces, pack, packs, mass] = figures.each_ref().map(String::as_str);
            let fields = [&line.item, &line.name, &*length, pieces, pack, packs, mass, "", "", ""];
            csv.push_str(&fields.map(field).join(","));
            csv.push_str("\r\n");
        }
        csv
    }

    /// As JSON.
    pub fn json(&self) -> serde_json::Value {
        serde_json::to_value(self).unwrap_or_default()
    }

    /// As one page to print, with columns for price and stock to fill in by hand.
    pub fn document(&self, captions: &dyn Captions, language: &str, paper: Paper) -> Document {
        let say = |message: &str| captions.say(&Note::new(message));
        let columns = vec![
            TableColumn::words(say("supplier-name"), 40),
            TableColumn::figures(say("supplier-length"), 12),
            TableColumn::figures(say("supplier-pieces"), 10),
            TableColumn::figures(say("supplier-packs"), 12),
            TableColumn::boxes(say("supplier-price"), 15),
            TableColumn::boxes(say("supplier-stock"), 15),
        ];
        let rows = self.lines.iter().map(|line| row(line, captions)).collect();
        let weight = Note::new("supplier-weight")
            .with("mass", Arg::Mass(Mass::from_g(self.mass_g)))
            .length("longest", Length::from_mm(self.longest_mm));
        let mut blocks = vec![Block::Paragraph(captions.say(&weight))];
        if self.demo {
            blocks.push(Block::Notice(say("pack-demo")));
        }
        blocks.push(Block::Table { columns, rows });
        blocks.push(Block::Small(say("supplier-note")));
        Document {
            title: say("supplier-title"),
            language: language.to_owned(),
            footer: footer(captions, &self.catalogue, &self.version, &self.date),
            paper,
            blocks,
        }
    }
}

fn row(line: &SupplierLine, captions: &dyn Captions) -> Vec<String> {
    let length =
        line.length_mm.map(|length| Note::new("drawing-scale").length("length", Length::from_mm(length)));
    let packs = (line.pack > 1).then(|| {
        Note::new("supplier-packs-of")
            .with("packs", Arg::Count(line.packs))
            .with("pack", Arg::Count(line.pack))
    });
    let say = |note: Option<Note>| note.map(|note| captions.say(&note)).unwrap_or_default();
    vec![line.name.clone(), say(length), line.pieces.to_string(), say(packs), String::new(), String::new()]
}

/// What stands at the foot of every page.
pub(super) fn footer(captions: &dyn Captions, catalogue: &str, version: &str, date: &str) -> String {
    let note = Note::new("pack-footer").text("catalogue", catalogue).text("version", version);
    captions.say(&note.with("date", day(date)))
}

fn line(line: &MaterialLine) -> SupplierLine {
    SupplierLine {
        item: line.item.clone(),
        name: line.name.clone(),
        length_mm: match line.unit {
            Unit::Piece => None,
            Unit::PieceOf(length) => Some(length.round_mm()),
        },
        pieces: line.packs.saturating_mul(line.pack),
        pack: line.pack,
        packs: line.packs,
        mass_g: line.mass.g(),
    }
}

/// How long one piece is to carry. A roll is as long as it is wide.
fn carried_length(line: &MaterialLine, plan: &Plan, catalogue: &Catalogue) -> Length {
    if let Unit::PieceOf(length) = line.unit {
        return length;
    }
    let sheets = [&plan.site.sheet].into_iter().chain(&catalogue.sheets);
    let sheets = sheets.map(|sheet| (&sheet.item, sheet.length));
    let edges = catalogue.edges.iter().map(|piece| (&piece.item, piece.length));
    let fasteners = catalogue.fasteners.iter().map(|fastener| (&fastener.item, fastener.length));
    let areas = catalogue.areas.iter().map(|piece| match piece.usage {
        AreaUse::Underlay => (&piece.item, piece.width),
        AreaUse::Insulation | AreaUse::Deck => (&piece.item, piece.length),
    });
    let mut all = sheets.chain(edges).chain(fasteners).chain(areas);
    all.find(|(item, _)| item.id == line.item).map(|(_, length)| length).unwrap_or_default()
}

/// One CSV field: quoted where it must be, and never a formula to the program that opens it.
fn field(text: &str) -> String {
    let is_formula = text.starts_with(['=', '+', '-', '@', '\t', '\r']);
    let text = if is_formula { format!("'{text}") } else { text.to_owned() };
    if text.contains(['"', ',', '\r', '\n']) { format!("\"{}\"", text.replace('"', "\"\"")) } else { text }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_field_is_quoted_where_it_must_be_and_never_a_formula() {
        assert_eq!(field("Fennick demo nail"), "Fennick demo nail");
        assert_eq!(field("nail, 45 \"mm\""), "\"nail, 45 \"\"mm\"\"\"");
        assert_eq!(field("=1+1"), "'=1+1");
        assert_eq!(field("two\r\nlines"), "\"two\r\nlines\"");
    }
}
