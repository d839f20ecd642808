//! The roof pack: the whole plan as a document to print and take along. Every sentence comes through captions.

use std::collections::BTreeSet;

use super::captions::day;
use super::supplier::footer;
use crate::drawing::document::{Block, Document, Paper, TableColumn};
use crate::drawing::{Captions, CutRow, Kind, cut_list, of_kind, timber_cuts};
use crate::export::checks::blocks;
use crate::roofing::materials::{MaterialLine, Unit};
use crate::roofing::note::{Arg, Note, ranges};
use crate::roofing::plan::{Finding, FindingKind, Plan, SlopePlan};
use crate::roofing::rules::{Figure, Limit, Practice, RuleBook, Support};
use crate::roofing::work::{hours, steps, takes, work_order};

/// What the pack needs beside the plan.
#[derive(Clone, Copy, Debug)]
pub struct PackOrder<'a> {
    /// The facts as they were shown for review: what, and what it is.
    pub facts: &'a [(String, String)],
    /// The day it is made, `2026-11-25`.
    pub date: &'a str,
    /// The language of the captions, as a BCP 47 tag.
    pub language: &'a str,
    /// The paper.
    pub paper: Paper,
    /// The paces that the time is worked out by, how long a day on the roof is, and what the checks go by.
    pub rules: &'a RuleBook,
}

/// The roof pack of a plan.
pub fn document(plan: &Plan, captions: &dyn Captions, order: PackOrder<'_>) -> Document {
    let pack = Pack { plan, captions };
    let mut blocks = pack.first_page(order);
    blocks.extend(pack.roof(order));
    blocks.extend(pack.specification());
    blocks.extend(pack.drawings());
    blocks.extend(pack.materials());
    blocks.extend(pack.cutting());
    blocks.extend(pack.work());
    blocks.extend(pack.worked_out(order.rules));
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

    /// What can hurt, and the figures that people ask for first; with a place for whose roof it is.
    fn first_page(&self, order: PackOrder<'_>) -> Vec<Block> {
        let made = Note::new("pack-made")
            .with("date", day(order.date))
            .text("catalogue", self.plan.catalogue.clone())
            .text("version", self.plan.made.label());
        let whose = ["pack-name", "pack-site"].map(|head| TableColumn::boxes(self.say(head), 1));
        let mut blocks = vec![
            Block::Paragraph(self.captions.say(&made)),
            Block::Table { columns: whose.to_vec(), rows: vec![vec![String::new(); 2]] },
            Block::Facts(self.key_figures(order.rules)),
            Block::Notice(self.say("pack-local-codes")),
        ];
        if self.plan.demo {
            blocks.push(Block::Notice(self.say("pack-demo")));
        }
        blocks.push(Block::Heading(self.say("pack-cautions")));
        let mut cautions: Vec<String> = Vec::new();
        for caution in &self.plan.cautions {
            let said = self.sentence(&caution.note);
            if !cautions.contains(&said) {
                cautions.push(said);
            }
        }
        blocks.push(Block::List(cautions));
        blocks
    }

    fn key_figures(&self, rules: &RuleBook) -> Vec<(String, String)> {
        let plan = self.plan;
        let sheets: usize = plan.slopes.iter().map(|slope| slope.cuts.sheets.len()).sum();
        let through: usize = plan.slopes.iter().map(|slope| slope.fixings.len()).sum();
        let own: i64 = plan.edges.iter().map(|run| run.own_fixings).sum();
        let nails = plan.slopes.iter().flat_map(|slope| {
            [slope.nail_length].into_iter().chain(slope.long_nail.as_ref().map(|long| long.length))
        });
        let lengths: BTreeSet<_> = nails.collect();
        let mut figures = vec![
            ("pack-key-sheets", self.sheets_in_short(sheets)),
            (
                "pack-key-nails",
                Note::new("pack-key-nails-of")
                    .count("through", through)
                    .with("own", Arg::Count(own))
                    .with("all", Arg::Count(own.saturating_add(i64::try_from(through).unwrap_or(i64::MAX))))
                    .with("lengths", Arg::Lengths(lengths.into_iter().collect())),
            ),
            (
                "pack-key-weight",
                Note::new("pack-key-weight-of")
                    .with("mass", Arg::Mass(plan.materials.covering_mass))
                    .with("per_m2", Arg::Mass(plan.materials.mass_per_m2))
                    .with("area", Arg::Area(plan.materials.area)),
            ),
        ];
        let all = steps(plan);
        let hours = hours(&all, &rules.paces);
        let hands = all.iter().filter_map(|step| takes(step, &rules.paces)).map(|takes| takes.hands).max();
        let a_day = rules.practice(Figure::DayHours).map(Practice::count).filter(|hours| *hours > 0);
        if let (Some(hands), Some(a_day)) = (hands, a_day) {
            let note = Note::new("pack-key-time-of")
                .with("hours", Arg::Count(hours))
                .with("hands", Arg::Count(hands))
                .with("days", Arg::Count((hours + a_day - 1).div_euclid(a_day)))
                .with("a_day", Arg::Count(a_day));
            figures.push(("pack-key-time", note));
        }
        if let Some((price, without)) = plan.materials.listed() {
            let note =
                Note::new("pack-key-price-of").with("price", Arg::Money(price)).count("without", without);
            figures.push(("pack-key-price", note.with("date", day(&plan.goods.prices_from))));
        }
        figures.into_iter().map(|(what, note)| (self.say(what), self.sentence(&note))).collect()
    }

    fn sheets_in_short(&self, sheets: usize) -> Note {
        let line = self.plan.materials.lines.iter().find(|line| line.item == self.plan.site.sheet.item.id);
        let name = line.map_or_else(|| Arg::Text(String::new()), |line| self.plan.picking().name(line));
        let spare = line.map_or(0, |line| line.spare);
        Note::new("pack-key-sheets-of")
            .count("sheets", sheets)
            .with("name", name)
            .with("spare", Arg::Count(spare))
    }

    fn roof(&self, order: PackOrder<'_>) -> Vec<Block> {
        let mut blocks = vec![Block::NewPage];
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
        let mut sources: Vec<(String, Vec<String>)> = Vec::new();
        for ([name, value, reason], source) in settled {
            match sources.iter_mut().find(|(known, _)| *known == source) {
                Some((_, names)) => names.push(name.clone()),
                None => sources.push((source, vec![name.clone()])),
            }
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
        // Said once for all that it holds for.
        blocks.extend(sources.into_iter().map(|(source, names)| {
            let note = Note::new("pack-source").text("source", source).text("names", names.join("; "));
            Block::Small(self.captions.say(&note))
        }));
        let advice = [told(FindingKind::Doubt), told(FindingKind::Advice)].concat();
        if !advice.is_empty() {
            blocks.push(Block::Subheading(self.say("pack-advice")));
            blocks.push(Block::List(advice));
        }
        blocks
    }

    /// What is required, its value and why; and where that is from.
    fn settled(&self, finding: &Finding) -> Option<([String; 3], String)> {
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
        let why = self.sentence(&deciding.note);
        Some(([name, self.sentence(&value), why], deciding.source.clone()))
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
            TableColumn::words(self.say("pack-item"), 50),
            TableColumn::words(self.say("pack-for"), 23),
            TableColumn::figures(self.say("pack-needed"), 13),
            TableColumn::figures(self.say("pack-spare"), 11),
            TableColumn::figures(self.say("pack-buy"), 14),
            TableColumn::figures(self.say("pack-mass"), 13),
            TableColumn::figures(self.say("pack-line-price"), 14),
        ];
        let materials = &self.plan.materials;
        let rows = materials.lines.iter().map(|line| self.material(line)).collect();
        let mut blocks = vec![Block::Heading(self.say("pack-materials"))];
        blocks.push(Block::Table { columns, rows });
        let weight = Note::new("pack-weight")
            .with("mass", Arg::Mass(materials.covering_mass))
            .with("per_m2", Arg::Mass(materials.mass_per_m2))
            .with("area", Arg::Area(materials.area));
        blocks.push(Block::Paragraph(self.captions.say(&weight)));
        if let Some((price, without)) = materials.listed() {
            let note = Note::new("pack-price").with("price", Arg::Money(price)).count("without", without);
            let from = self.plan.goods.prices_from.clone();
            blocks.push(Block::Paragraph(self.captions.say(&note.with("date", day(&from)))));
        }
        if !materials.tools.is_empty() {
            blocks.push(Block::Subheading(self.say("pack-tools")));
            let tools: Vec<String> = materials.tools.iter().map(|tool| self.sentence(tool)).collect();
            blocks.push(Block::Paragraph(tools.join("; ")));
        }
        blocks
    }

    fn material(&self, line: &MaterialLine) -> Vec<String> {
        let picking = self.plan.picking();
        let name = match line.unit {
            Unit::Piece => Note::new("pack-item-name"),
            Unit::PieceOf(length) => Note::new("pack-item-length").length("length", length),
        };
        let details: Vec<String> = picking.details(line).iter().map(|note| self.captions.say(note)).collect();
        let name = name
            .with("name", picking.name(line))
            .count("more", details.len())
            .text("details", details.join("; "));
        let buy = if line.pack > 1 {
            let note = Note::new("supplier-packs-of").with("packs", Arg::Count(line.packs));
            self.captions.say(&note.with("pack", Arg::Count(line.pack)))
        } else {
            line.packs.to_string()
        };
        let mass = Note::new("supplier-line-mass").with("mass", Arg::Mass(line.mass));
        let price = line.price.map(|price| Note::new("pack-money").with("price", Arg::Money(price)));
        vec![
            self.sentence(&name),
            self.say(&line.purpose),
            line.needed.to_string(),
            line.spare.to_string(),
            buy,
            self.captions.say(&mass),
            price.map(|price| self.captions.say(&price)).unwrap_or_default(),
        ]
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
            blocks.extend(self.timber(slope));
        }
        blocks
    }

    /// What the lengths of timber of a slope are cut to, those cut alike together.
    fn timber(&self, slope: &SlopePlan) -> Vec<Block> {
        if slope.purlin_pieces.is_empty() {
            return Vec::new();
        }
        let columns = ["pack-timber", "pack-timber-length", "pack-timber-cut", "pack-timber-purlins"];
        let columns = columns.into_iter().zip([14, 22, 34, 30]);
        let rows = timber_cuts(slope).into_iter().map(|cut| {
            let length = |length| self.captions.say(&Note::new("drawing-scale").length("length", length));
            let whole = cut.pieces == [cut.stock];
            let pieces = cut.pieces.iter().map(|piece| length(*piece)).collect::<Vec<_>>().join(" + ");
            let pieces = if whole { self.say("pack-timber-whole") } else { pieces };
            vec![ranges(&cut.numbers), length(cut.stock), pieces, ranges(&cut.purlins)]
        });
        vec![
            Block::Subheading(self.say("pack-timber-cuts")),
            Block::Table {
                columns: columns.map(|(head, share)| TableColumn::words(self.say(head), share)).collect(),
                rows: rows.collect(),
            },
        ]
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
    fn worked_out(&self, rules: &RuleBook) -> Vec<Block> {
        let sums = blocks(&self.plan.checks(rules), &|note| self.captions.say(note));
        if sums.is_empty() {
            return sums;
        }
        [Block::NewPage, Block::Heading(self.say("pack-worked-out"))].into_iter().chain(sums).collect()
    }

    /// The steps to tick off.
    fn work(&self) -> Vec<Block> {
        let mut blocks = vec![Block::Heading(self.say("pack-work"))];
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
