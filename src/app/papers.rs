//! The files that go with messages, made from the plan when they are asked for.
//!
//! A terminal shows what it gets at once. Elsewhere a message carries only how its files are made: they are made when
//! it is sent or looked at, from the chat as it stood then, and never kept.

use super::Shows;
use crate::conversation::Guide;
use crate::conversation::interview::{Standing, standing};
#[cfg(feature = "pdf")]
use crate::conversation::saying::facts_in_words;
use crate::conversation::saying::{Attach, Voice, report};
use crate::conversation::session::Session;
#[cfg(feature = "pdf")]
use crate::drawing::document::{Document, Paper as Size};
#[cfg(feature = "png")]
use crate::drawing::{self, Kind, picture::Picture};
#[cfg(feature = "png")]
use crate::export::captions::Spoken;
#[cfg(feature = "pdf")]
use crate::export::pack::{self, PackOrder};
#[cfg(feature = "pdf")]
use crate::export::supplier::SupplierSheet;
use crate::message::{Attachment, Recipe};
#[cfg(feature = "png")]
use crate::render;
use crate::roofing::plan::Plan;
#[cfg(feature = "png")]
use crate::roofing::roof::Site;

/// As wide as a phone shows it sharp.
#[cfg(feature = "png")]
const PICTURE_WIDTH: u32 = 1_200;

/// What files are made from.
pub(super) struct Papers<'a> {
    pub(super) guide: Guide<'a>,
    pub(super) voice: Voice<'a>,
    pub(super) session: &'a Session,
    /// The day it is, `2026-11-25`.
    #[cfg_attr(not(feature = "pdf"), expect(dead_code, reason = "papers are dated"))]
    pub(super) date: String,
    #[cfg_attr(not(feature = "png"), expect(dead_code, reason = "there are no pictures to show"))]
    pub(super) shows: Shows,
}

impl Papers<'_> {
    /// The files asked for; one that cannot be made is left out, and the log says why. Where they are made `later`,
    /// after so many events and as of when, they are only described.
    pub(super) fn make(&self, wanted: &[Attach], later: Option<(u64, u64)>) -> Vec<Attachment> {
        let Some(plan) = self.plan(wanted) else { return Vec::new() };
        let made = wanted.iter().flat_map(|attach| {
            let recipe = later.map(|(events, at)| Recipe { what: word_of(*attach).to_owned(), events, at });
            self.one(*attach, &plan).into_iter().filter_map(move |paper| paper.finish(recipe.clone()))
        });
        made.collect()
    }

    /// What is in one file, by its name.
    pub(super) fn named(&self, what: &str, name: &str) -> Option<Vec<u8>> {
        let attach = ALL.into_iter().find(|attach| word_of(*attach) == what)?;
        let plan = self.plan(&[attach])?;
        let papers = self.one(attach, &plan);
        (papers.into_iter().find(|paper| paper.name == name)?.make)()
    }

    fn plan(&self, wanted: &[Attach]) -> Option<Plan> {
        if wanted.is_empty() {
            return None;
        }
        match standing(&self.guide, self.session) {
            Standing::Complete(plan) => Some(*plan),
            Standing::Ask(_) | Standing::Stopped(..) | Standing::Refused(_) | Standing::Faulty(_) => None,
        }
    }

    fn one<'s>(&'s self, attach: Attach, plan: &'s Plan) -> Vec<Paper<'s>> {
        match attach {
            Attach::PlanText => vec![self.plan_text(plan)],
            #[cfg(feature = "png")]
            Attach::WholeRoof => self.whole_roof(&plan.site),
            #[cfg(feature = "png")]
            Attach::SettingOut => self.drawings(plan, Kind::SettingOut),
            #[cfg(feature = "png")]
            Attach::Sheets => self.drawings(plan, Kind::Sheets),
            #[cfg(feature = "png")]
            Attach::FixingPattern => self.drawings(plan, Kind::FixingPattern),
            #[cfg(feature = "png")]
            Attach::Section => self.drawings(plan, Kind::Section),
            #[cfg(feature = "png")]
            Attach::CutDiagram => self.drawings(plan, Kind::CutDiagram),
            #[cfg(feature = "pdf")]
            Attach::RoofPack => self.roof_pack(plan),
            #[cfg(feature = "pdf")]
            Attach::SupplierSheet => self.supplier_sheet(plan),
            #[cfg(not(feature = "png"))]
            Attach::WholeRoof
            | Attach::SettingOut
            | Attach::Sheets
            | Attach::FixingPattern
            | Attach::Section
            | Attach::CutDiagram => Vec::new(),
            #[cfg(not(feature = "pdf"))]
            Attach::RoofPack | Attach::SupplierSheet => Vec::new(),
        }
    }

    fn plan_text<'s>(&'s self, plan: &'s Plan) -> Paper<'s> {
        let write = || {
            let says = report::whole(&self.guide, plan);
            let says: Vec<String> = says.iter().map(|draft| self.voice.speak(draft, 0).text).collect();
            Some(says.join("\n\n").into_bytes())
        };
        self.paper("plan.txt", "text/plain; charset=utf-8", write)
    }

    fn paper<'s>(
        &self,
        name: &str,
        media_type: &'static str,
        make: impl FnOnce() -> Option<Vec<u8>> + 's,
    ) -> Paper<'s> {
        let stem = name.split('.').next().unwrap_or(name);
        let alt = self.voice.say(&crate::roofing::note::Note::new(format!("file-{stem}")));
        Paper { name: name.to_owned(), media_type, alt, make: Box::new(make) }
    }
}

/// A file that is described and not made yet.
struct Paper<'a> {
    name: String,
    media_type: &'static str,
    alt: String,
    make: Box<dyn FnOnce() -> Option<Vec<u8>> + 'a>,
}

impl Paper<'_> {
    /// The file: made now, or with how it is made.
    fn finish(self, recipe: Option<Recipe>) -> Option<Attachment> {
        let bytes = if recipe.is_some() { Vec::new() } else { (self.make)()? };
        let media_type = self.media_type.to_owned();
        Some(Attachment { name: self.name, media_type, alt: self.alt, bytes, recipe })
    }
}

/// Everything that can be made.
const ALL: [Attach; 9] = [
    Attach::WholeRoof,
    Attach::SettingOut,
    Attach::Sheets,
    Attach::FixingPattern,
    Attach::Section,
    Attach::CutDiagram,
    Attach::PlanText,
    Attach::RoofPack,
    Attach::SupplierSheet,
];

/// The word for it in a recipe: kept in chats, so never changed.
const fn word_of(attach: Attach) -> &'static str {
    match attach {
        Attach::WholeRoof => "whole-roof",
        Attach::SettingOut => "setting-out",
        Attach::Sheets => "sheets",
        Attach::FixingPattern => "fixing-pattern",
        Attach::Section => "section",
        Attach::CutDiagram => "cut-diagram",
        Attach::PlanText => "plan",
        Attach::RoofPack => "roof-pack",
        Attach::SupplierSheet => "supplier-sheet",
    }
}

#[cfg(feature = "png")]
impl Papers<'_> {
    fn captions(&self) -> Spoken<'_> {
        Spoken { words: self.voice.words, language: self.voice.language, units: self.voice.units }
    }

    fn whole_roof(&self, site: &Site) -> Vec<Paper<'static>> {
        let picture = drawing::whole_roof(site, &self.captions());
        let drawn = (self.shows == Shows::Terminal).then(|| {
            let (name, alt) = (format!("{}.svg", picture.name), picture.description.clone());
            let svg = render::svg::write(&picture).into_bytes();
            Paper { name, media_type: "image/svg+xml", alt, make: Box::new(|| Some(svg)) }
        });
        drawn.into_iter().chain([png(picture)]).collect()
    }

    fn drawings(&self, plan: &Plan, kind: Kind) -> Vec<Paper<'static>> {
        let pictures = drawing::of_kind(plan, kind, &self.captions());
        pictures.into_iter().map(png).collect()
    }
}

#[cfg(feature = "png")]
fn png(picture: Picture) -> Paper<'static> {
    let (name, alt) = (format!("{}.png", picture.name), picture.description.clone());
    let make = move || {
        let made = render::png::write(&picture, PICTURE_WIDTH);
        made.inspect_err(|error| {
            tracing::error!(name = picture.name, %error, "a picture could not be made");
        })
        .ok()
    };
    Paper { name, media_type: "image/png", alt, make: Box::new(make) }
}

#[cfg(feature = "pdf")]
impl Papers<'_> {
    fn roof_pack<'s>(&'s self, plan: &'s Plan) -> Vec<Paper<'s>> {
        let document = move || {
            let facts = facts_in_words(&self.guide, self.session, &self.voice);
            let (date, language) = (self.date.as_str(), self.voice.language);
            let order = PackOrder {
                facts: &facts,
                date,
                language,
                paper: Size::A4,
                rules: &self.guide.handbook.rules,
            };
            pack::document(plan, &self.captions().on_paper(), order)
        };
        vec![self.pdf("roof-pack.pdf", document)]
    }

    fn supplier_sheet<'s>(&'s self, plan: &'s Plan) -> Vec<Paper<'s>> {
        let sheet = move || SupplierSheet::of_plan(plan, &self.date, &self.captions().on_paper());
        let document = move || sheet().document(&self.captions().on_paper(), self.voice.language, Size::A4);
        let table = move || Some(sheet().csv().into_bytes());
        vec![self.pdf("supplier.pdf", document), self.paper("supplier.csv", "text/csv; charset=utf-8", table)]
    }

    fn pdf<'s>(&self, name: &'static str, document: impl FnOnce() -> Document + 's) -> Paper<'s> {
        self.paper(name, "application/pdf", move || {
            let made = render::pdf::write(&document());
            made.inspect_err(|error| tracing::error!(name, %error, "a document could not be made")).ok()
        })
    }
}
