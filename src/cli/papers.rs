//! The papers of `lapwise plan`: roof pack, drawings, supplier sheet.

use std::fs;
use std::path::{Path, PathBuf};

use anyhow::Context;
use clap::{Args, ValueEnum};
use lapwise::conversation::Guide;
use lapwise::conversation::event::Event;
use lapwise::conversation::saying::{Voice, facts_in_words};
use lapwise::conversation::session::Session;
use lapwise::drawing;
use lapwise::drawing::document::Paper;
use lapwise::export::captions::Spoken;
use lapwise::export::pack::{self, PackOrder};
use lapwise::export::supplier::SupplierSheet;
use lapwise::render;
use lapwise::roofing::plan::Plan;

/// As wide as a page shows it sharp.
const PICTURE_WIDTH: u32 = 1_600;

#[derive(Args, Clone)]
pub(super) struct PaperArguments {
    /// Write the roof pack: the whole plan as a document to print.
    #[arg(long, value_name = "FILE.pdf")]
    pack: Option<PathBuf>,
    /// Write every drawing into this folder, as SVG and as PNG.
    #[arg(long, value_name = "DIR")]
    drawings: Option<PathBuf>,
    /// Write the supplier's sheet; the ending decides: .csv, .json or .pdf.
    #[arg(long, value_name = "FILE")]
    supplier: Option<PathBuf>,
    /// The paper.
    #[arg(long, default_value = "a4")]
    paper: PaperName,
}

#[derive(Clone, Copy, ValueEnum)]
enum PaperName {
    /// 210 by 297 mm (ISO 216).
    A4,
    /// 8½ by 11 inches.
    Letter,
}

/// Writes what was asked for.
pub(super) fn write(
    wanted: &PaperArguments,
    plan: &Plan,
    guide: &Guide<'_>,
    voice: &Voice<'_>,
) -> anyhow::Result<()> {
    let captions = Spoken { words: voice.words, language: voice.language, units: voice.units };
    let on_paper = captions.on_paper();
    let date = guide.today.to_string();
    let paper = match wanted.paper {
        PaperName::A4 => Paper::A4,
        PaperName::Letter => Paper::Letter,
    };
    if let Some(file) = &wanted.pack {
        let facts = facts_in_words(guide, &reviewed(plan), voice);
        let order = PackOrder {
            facts: &facts,
            date: &date,
            language: voice.language,
            paper,
            rules: &guide.handbook.rules,
        };
        save(file, &render::pdf::write(&pack::document(plan, &on_paper, order))?)?;
    }
    if let Some(dir) = &wanted.drawings {
        fs::create_dir_all(dir).with_context(|| format!("cannot make {}", dir.display()))?;
        for picture in drawing::of_plan(plan, &captions) {
            save(&dir.join(&picture.name).with_extension("svg"), render::svg::write(&picture).as_bytes())?;
            save(
                &dir.join(&picture.name).with_extension("png"),
                &render::png::write(&picture, PICTURE_WIDTH)?,
            )?;
        }
    }
    if let Some(file) = &wanted.supplier {
        let sheet = SupplierSheet::of_plan(plan, &date, &on_paper);
        let bytes = match file.extension().and_then(|ending| ending.to_str()) {
            Some("csv") => sheet.csv().into_bytes(),
            Some("json") => serde_json::to_vec_pretty(&sheet.json())?,
            Some("pdf") => render::pdf::write(&sheet.document(&on_paper, voice.language, paper))?,
            _ => anyhow::bail!("{}: name a file that ends in .csv, .json or .pdf", file.display()),
        };
        save(file, &bytes)?;
    }
    Ok(())
}

/// A chat in which all the plan's facts were given, as the review shows them.
fn reviewed(plan: &Plan) -> Session {
    let answers = plan.facts.iter().map(|(fact, value)| (fact, value.clone())).collect();
    Session::fold(&[Event::Answered(answers)])
}

fn save(file: &Path, bytes: &[u8]) -> anyhow::Result<()> {
    fs::write(file, bytes).with_context(|| format!("cannot write {}", file.display()))
}
