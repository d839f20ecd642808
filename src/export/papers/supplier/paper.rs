//! The supplier sheet as an order to print: places for name, telephone and delivery are empty, and so are the columns
//! for price and stock.

use super::{SupplierLine, SupplierSheet};
use crate::drawing::Captions;
use crate::drawing::document::{Block, Document, Paper, TableColumn};
use crate::export::papers::captions::day;
use crate::roofing::note::{Arg, Note};
use crate::units::Mass;

impl SupplierSheet {
    /// As an order to print and fill in by hand.
    pub fn document(&self, captions: &dyn Captions, language: &str, paper: Paper) -> Document {
        let say = |message: &str| captions.say(&Note::new(message));
        let order = Note::new("supplier-order")
            .text("reference", &*self.reference)
            .with("date", day(&self.date))
            .text("version", &*self.version);
        let mut blocks = vec![
            Block::Paragraph(captions.say(&order)),
            Block::Table {
                columns: ["supplier-who", "supplier-telephone", "supplier-delivery"]
                    .map(|head| TableColumn::boxes(say(head), 1))
                    .to_vec(),
                rows: vec![vec![String::new(); 3]],
            },
        ];
        if self.demo {
            blocks.push(Block::Notice(say("pack-demo")));
        }
        let columns = vec![
            TableColumn::words(say("supplier-name"), 54),
            TableColumn::figures(say("supplier-pieces"), 12),
            TableColumn::figures(say("supplier-packs"), 12),
            TableColumn::figures(say("supplier-mass"), 13),
            TableColumn::figures(say("supplier-list-price"), 11),
            TableColumn::boxes(say("supplier-price"), 14),
            TableColumn::boxes(say("supplier-stock"), 14),
        ];
        let rows = self.lines.iter().map(|line| row(line, captions)).collect();
        blocks.push(Block::Table { columns, rows });
        blocks.push(Block::Paragraph(captions.say(&self.weight())));
        blocks.extend(self.total().map(|total| Block::Paragraph(captions.say(&total))));
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
    let packs = (line.pack > 1).then(|| {
        Note::new("supplier-packs-of")
            .with("packs", Arg::Count(line.packs))
            .with("pack", Arg::Count(line.pack))
    });
    let packs = packs.map(|note| captions.say(&note)).unwrap_or_default();
    let mass = Note::new("supplier-line-mass").with("mass", Arg::Mass(Mass::from_g(line.mass_g)));
    let item = Note::new("supplier-item")
        .text("name", &*line.name)
        .text("details", line.details.join("; "))
        .with("spare", Arg::Count(line.spare))
        .count("more", line.details.len());
    vec![
        captions.say(&item),
        line.pieces.to_string(),
        packs,
        captions.say(&mass),
        line.list_price.clone().unwrap_or_default(),
        String::new(),
        String::new(),
    ]
}

/// What stands at the foot of every page.
pub(in crate::export::papers) fn footer(
    captions: &dyn Captions,
    catalogue: &str,
    version: &str,
    date: &str,
) -> String {
    let note = Note::new("pack-footer").text("catalogue", catalogue).text("version", version);
    captions.say(&note.with("date", day(date)))
}
