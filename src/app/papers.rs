//! The files that go with messages, made from the plan when they are asked for.

use super::Shows;
use crate::conversation::Guide;
use crate::conversation::interview::{Standing, standing};
#[cfg(feature = "pdf")]
use crate::conversation::saying::facts_in_words;
use crate::conversation::saying::{Attach, Voice, report};
use crate::conversation::session::Session;
#[cfg(feature = "pdf")]
use crate::drawing::document::{Document, Paper};
#[cfg(feature = "png")]
use crate::drawing::{self, Kind, picture::Picture};
#[cfg(feature = "png")]
use crate::export::captions::Spoken;
#[cfg(feature = "pdf")]
use crate::export::pack::{self, PackOrder};
#[cfg(feature = "pdf")]
use crate::export::supplier::SupplierSheet;
use crate::message::Attachment;
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
    /// The files asked for; one that cannot be made is left out, and the log says why.
    pub(super) fn make(&self, wanted: &[Attach]) -> Vec<Attachment> {
        if wanted.is_empty() {
            return Vec::new();
        }
        let Standing::Complete(plan) = standing(&self.guide, self.session) else { return Vec::new() };
        wanted.iter().flat_map(|attach| self.one(*attach, &plan)).collect()
    }

    fn one(&self, attach: Attach, plan: &Plan) -> Vec<Attachment> {
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

    fn plan_text(&self, plan: &Plan) -> Attachment {
        let says: Vec<String> =
            report::whole(&self.guide, plan).iter().map(|draft| self.voice.speak(draft, 0).text).collect();
        self.file("plan.txt", "text/plain; charset=utf-8", says.join("\n\n").into_bytes())
    }

    fn file(&self, name: &str, media_type: &str, bytes: Vec<u8>) -> Attachment {
        let stem = name.split('.').next().unwrap_or(name);
        let alt = self.voice.say(&crate::roofing::note::Note::new(format!("file-{stem}")));
        Attachment { name: name.to_owned(), media_type: media_type.to_owned(), alt, bytes }
    }
}

#[cfg(feature = "png")]
impl Papers<'_> {
    fn captions(&self) -> Spoken<'_> {
        Spoken { words: self.voice.words, language: self.voice.language, units: self.voice.units }
    }

    fn whole_roof(&self, site: &Site) -> Vec<Attachment> {
        let picture = drawing::whole_roof(site, &self.captions());
        let drawn = (self.shows == Shows::Terminal).then(|| Attachment {
            name: format!("{}.svg", picture.name),
            media_type: "image/svg+xml".to_owned(),
            alt: picture.description.clone(),
            bytes: render::svg::write(&picture).into_bytes(),
        });
        drawn.into_iter().chain(png(&picture)).collect()
    }

    fn drawings(&self, plan: &Plan, kind: Kind) -> Vec<Attachment> {
        let pictures = drawing::of_kind(plan, kind, &self.captions());
        pictures.iter().filter_map(png).collect()
    }
}

#[cfg(feature = "png")]
fn png(picture: &Picture) -> Option<Attachment> {
    let name = &picture.name;
    match render::png::write(picture, PICTURE_WIDTH) {
        Ok(bytes) => Some(Attachment {
            name: format!("{name}.png"),
            media_type: "image/png".to_owned(),
            alt: picture.description.clone(),
            bytes,
        }),
        Err(error) => {
            tracing::error!(name, %error, "a picture could not be made");
            None
        }
    }
}

#[cfg(feature = "pdf")]
impl Papers<'_> {
    fn roof_pack(&self, plan: &Plan) -> Vec<Attachment> {
        let facts = facts_in_words(&self.guide, self.session, &self.voice);
        let order =
            PackOrder { facts: &facts, date: &self.date, language: self.voice.language, paper: Paper::A4 };
        self.pdf("roof-pack.pdf", &pack::document(plan, &self.captions().on_paper(), order))
    }

    fn supplier_sheet(&self, plan: &Plan) -> Vec<Attachment> {
        let sheet = SupplierSheet::of_plan(plan, &self.date);
        let document = sheet.document(&self.captions().on_paper(), self.voice.language, Paper::A4);
        let table = self.file("supplier.csv", "text/csv; charset=utf-8", sheet.csv().into_bytes());
        self.pdf("supplier.pdf", &document).into_iter().chain([table]).collect()
    }

    fn pdf(&self, name: &str, document: &Document) -> Vec<Attachment> {
        match render::pdf::write(document) {
            Ok(bytes) => vec![self.file(name, "application/pdf", bytes)],
            Err(error) => {
                tracing::error!(name, %error, "a document could not be made");
                Vec::new()
            }
        }
    }
}
