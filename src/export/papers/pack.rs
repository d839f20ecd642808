//! The roof pack: the whole plan as a document to print and take along. Every sentence comes through captions.

use super::captions::day;
use super::supplier::footer;
use crate::drawing::document::{Block, Document, Paper, TableColumn};
use crate::drawing::{Captions, CutRow, Kind, cut_list, of_kind};
use crate::export::checks::blocks;
use crate::roofing::checks::Check;
use crate::roofing::findings::Reason;
use crate::roofing::materials::{MaterialLine, Unit};
use crate::roofing::note::{Arg, Note};
use crate::roofing::plan::{Finding, FindingKind, Plan, work_order};
use crate::roofing::rules::{Limit, Support};

/// What the pack needs beside the plan.
#[derive(Clone, Copy, Debug)]
pub struct PackOrder<'a> {
    /// The facts as they were shown for review: what, and what it is.
    pub facts: &'a [(String, String)],
    /// What the checks of strength, water and damp found.
    pub checks: &'a [Check],
    /// The day it is made, `2026-11-25`.
    pub date: &'a str,
    /// The language of the captions, as a BCP 47 tag.
    pub language: &'a str,
    /// The paper.
    pub paper: Paper,
}

/// The roof pack of a plan.
pub fn document(plan: &Plan, captions: &dyn Captions, order: PackOrder<'_>) -> Document {
    let pack = Pack { plan, captions };
    let mut blocks = pack.cover(order);
    blocks.extend(pack.specification());
    blocks.extend(pack.drawings());
    blocks.extend(pack.materials());
    blocks.extend(pack.cutting());
    blocks.extend(pack.work());
    blocks.extend(pack.worked_out(order.checks));
    Document {
        title: pack.say("pack-title"),
        language: order.language.to_owned(),
        footer: footer(captions, &plan.catalogue, &plan.made.label(), order.date),
        paper: order.paper,
        blocks,
    }
}

#[derive(Clone, Copy)]
struct Pack<'a> {
    plan: &'a Plan,
    captions: &'a dyn Captions,
}

impl Pack<'_> {
    fn say(&self, message: &str) -> String {
        self.captions.say(&Note::new(message))
    }

    /// A sentence on one line, with a capital to begin with.
    fn sentence(&self, note: &Note) -> String {
        capital(&self.captions.say(note).split_whitespace().collect::<Vec<_>>().join(" "))
    }

    fn cover(&self, order: PackOrder<'_>) -> Vec<Block> {
        let made = Note::new("pack-made")
            .with("date", day(order.date))
            .text("catalogue", self.plan.catalogue.clone())
            .text("version", self.plan.made.label());
        let mut blocks =
            vec![Block::Paragraph(self.captions.say(&made)), Block::Notice(self.say("pack-local-codes"))];
        if self.plan.demo {
            blocks.push(Block::Notice(self.say("pack-demo")));
        }
        if !order.facts.is_empty() {
            blocks.push(Block::Heading(self.say("pack-your-roof")));
            let facts = order.facts.iter().map(|(what, is)| (capital(what), is.clone()));
            blocks.push(Block::Facts(facts.collect()));
        }
        blocks.extend(self.pictures(Kind::WholeRoof));
        blocks
    }

    fn pictures(&self, kind: Kind) -> Vec<Block> {
        let pictures = of_kind(self.plan, kind, self.captions);
        pictures.into_iter().map(|picture| Block::Picture(Box::new(picture))).collect()
    }

    /// Every requirement with its value, its rule and its source; then doubts and advice.
    fn specification(&self) -> Vec<Block> {
        let columns = vec![
            TableColumn::words(self.say("pack-what"), 28),
            TableColumn::words(self.say("pack-value"), 18),
            TableColumn::words(self.say("pack-why"), 54),
        ];
        let findings = self.plan.findings.iter();
        let settled = findings
            .filter(|finding| finding.kind == FindingKind::Requirement)
            .filter_map(|finding| self.settled(finding));
        let (mut rows, mut last) = (Vec::new(), String::new());
        for [name, value, reason] in settled {
            let said = if reason == last { self.say("pack-as-above") } else { reason.clone() };
            rows.push(vec![name, value, said]);
            last = reason;
        }
        let told = |kind| {
            let findings = self.plan.findings.iter().filter(move |finding| finding.kind == kind);
            findings.map(|finding| self.sentence(&finding.note)).collect::<Vec<_>>()
        };
        let mut blocks = vec![Block::NewPage, Block::Heading(self.say("pack-specification"))];
        blocks.push(Block::Table { columns, rows });
        let advice = [told(FindingKind::Doubt), told(FindingKind::Advice)].concat();
        if !advice.is_empty() {
            blocks.push(Block::Subheading(self.say("pack-advice")));
            blocks.push(Block::List(advice));
        }
        blocks
    }

    fn settled(&self, finding: &Finding) -> Option<[String; 3]> {
        let requirement = finding.requirement?;
        let deciding = finding.reasons.first()?;
        let name = self.sentence(&Note::new(format!("requirement-{}", requirement.name().replace('_', "-"))));
        let name = match finding.slope.filter(|_| self.plan.slopes.len() > 1) {
            Some(slope) => format!(
                "{name} ({})",
                self.say(if slope == 0 { "drawing-slope-front" } else { "drawing-slope-back" })
            ),
            None => name,
        };
        let value = Note::new("pack-limit").with("limit", limit(deciding.limit));
        Some([name, self.sentence(&value), self.reason(deciding)])
    }

    fn reason(&self, deciding: &Reason) -> String {
        let said = self.sentence(&deciding.note);
        self.sentence(&Note::new("pack-reason").text("rule", said).text("source", &*deciding.source))
    }

    fn drawings(&self) -> Vec<Block> {
        let mut blocks = vec![Block::Heading(self.say("pack-drawings"))];
        for kind in [Kind::SettingOut, Kind::Sheets, Kind::FixingPattern, Kind::Section, Kind::CutDiagram] {
            blocks.extend(self.pictures(kind));
        }
        blocks
    }

    fn materials(&self) -> Vec<Block> {
        let columns = vec![
            TableColumn::words(self.say("pack-item"), 42),
            TableColumn::words(self.say("pack-for"), 26),
            TableColumn::figures(self.say("pack-needed"), 10),
            TableColumn::figures(self.say("pack-spare"), 9),
            TableColumn::figures(self.say("pack-buy"), 13),
        ];
        let materials = &self.plan.materials;
        let rows = materials.lines.iter().map(|line| self.material(line)).collect();
        let mut blocks = vec![Block::NewPage, Block::Heading(self.say("pack-materials"))];
        blocks.push(Block::Table { columns, rows });
        let weight = Note::new("pack-weight")
            .with("mass", Arg::Mass(materials.covering_mass))
            .with("per_m2", Arg::Mass(materials.mass_per_m2))
            .with("area", Arg::Area(materials.area));
        blocks.push(Block::Paragraph(self.captions.say(&weight)));
        if let Some(price) = materials.price {
            let note = Note::new("pack-price").with("price", Arg::Money(price));
            let from = self.plan.goods.prices_from.clone();
            blocks.push(Block::Paragraph(self.captions.say(&note.with("date", day(&from)))));
        }
        if !materials.tools.is_empty() {
            blocks.push(Block::Subheading(self.say("pack-tools")));
            blocks.push(Block::List(materials.tools.iter().map(|tool| self.sentence(tool)).collect()));
        }
        blocks
    }

    fn material(&self, line: &MaterialLine) -> Vec<String> {
        let name = match line.unit {
            Unit::Piece => line.name.clone(),
            Unit::PieceOf(length) => self
                .captions
                .say(&Note::new("pack-item-length").text("name", line.name.clone()).length("length", length)),
        };
        let buy = if line.pack > 1 {
            let note = Note::new("supplier-packs-of").with("packs", Arg::Count(line.packs));
            self.captions.say(&note.with("pack", Arg::Count(line.pack)))
        } else {
            line.packs.to_string()
        };
        vec![name, self.say(&line.purpose), line.needed.to_string(), line.spare.to_string(), buy]
    }

    fn cutting(&self) -> Vec<Block> {
        let mut blocks = vec![Block::Heading(self.say("pack-cut-list"))];
        for (index, slope) in self.plan.slopes.iter().enumerate() {
            if self.plan.slopes.len() > 1 {
                let name = if index == 0 { "drawing-slope-front" } else { "drawing-slope-back" };
                blocks.push(Block::Subheading(self.say(name)));
            }
            let cuts = cut_list(self.plan, slope);
            // Where each sheet gives one piece, pieces have no names of their own.
            let are_named = cuts.iter().any(|cut| !cut.piece.is_empty());
            let piece = are_named.then(|| TableColumn::words(self.say("pack-piece"), 16));
            let columns = [TableColumn::words(self.say("pack-sheets"), 34)].into_iter().chain(piece).chain([
                TableColumn::figures(self.say("pack-length"), 16),
                TableColumn::figures(self.say("pack-width"), 16),
                TableColumn::figures(self.say("pack-corrugations"), 18),
            ]);
            let rows = cuts.into_iter().map(|cut| self.cut(cut, are_named)).collect();
            blocks.push(Block::Table { columns: columns.collect(), rows });
        }
        blocks
    }

    fn cut(&self, row: CutRow, is_named: bool) -> Vec<String> {
        let length = |length| self.captions.say(&Note::new("drawing-scale").length("length", length));
        let kept = || Note::new("pack-piece-for-back").text("piece", row.piece.clone());
        let piece = if row.for_back { self.captions.say(&kept()) } else { row.piece.clone() };
        let piece = is_named.then_some(piece);
        let sizes = [length(row.length), length(row.width), row.corrugations.to_string()];
        [row.sheets].into_iter().chain(piece).chain(sizes).collect()
    }

    /// The sums, for somebody who wants to follow them.
    fn worked_out(&self, checks: &[Check]) -> Vec<Block> {
        let sums = blocks(checks, &|note| self.captions.say(note));
        if sums.is_empty() {
            return sums;
        }
        [Block::NewPage, Block::Heading(self.say("pack-worked-out"))].into_iter().chain(sums).collect()
    }

    /// Cautions first, then the steps to tick off.
    fn work(&self) -> Vec<Block> {
        let mut blocks = vec![Block::NewPage, Block::Heading(self.say("pack-cautions"))];
        let mut cautions: Vec<String> = Vec::new();
        for caution in &self.plan.cautions {
            let said = self.sentence(&caution.note);
            if !cautions.contains(&said) {
                cautions.push(said);
            }
        }
        blocks.push(Block::List(cautions));
        blocks.push(Block::Heading(self.say("pack-work")));
        let steps = work_order(self.plan).iter().map(|step| self.sentence(&step.whole())).collect();
        blocks.push(Block::Steps(steps));
        blocks.push(Block::Notice(self.say("pack-local-codes")));
        blocks
    }
}

fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map(|first| first.to_uppercase().chain(letters).collect()).unwrap_or_default()
}

fn limit(limit: Limit) -> Arg {
    match limit {
        Limit::Length(length) => Arg::Length(length),
        Limit::Count(count) => Arg::Count(count),
        Limit::Support(Support::Purlins) => Arg::Word("support-purlins".to_owned()),
        Limit::Support(Support::FullDeck) => Arg::Word("support-full-deck".to_owned()),
    }
}
