//! Papers: the roof pack and the supplier sheet, read back by other programs: poppler, qpdf, Python's csv.
#![cfg(feature = "pdf")]
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::as_conversions,
    clippy::cast_precision_loss,
    clippy::cast_possible_wrap,
    reason = "a fault fails the test"
)]

#[path = "../support/common.rs"]
mod common;
#[path = "../drawings/roofs.rs"]
mod roofs;
#[path = "../drawings/words.rs"]
mod words;

use std::path::{Path, PathBuf};
use std::process::Command;

use lapwise::drawing::Captions as _;
use lapwise::drawing::document::Paper;
use lapwise::export::pack::{self, PackOrder};
use lapwise::export::supplier::SupplierSheet;
use lapwise::render::pdf;
use lapwise::roofing::materials::Unit;
use lapwise::roofing::plan::{Plan, work_order};
use words::English;

/// What a program says of a file; it must be there, and content.
fn said(program: &str, args: &[&str], file: &Path) -> String {
    let mut command = Command::new(program);
    let output = command.args(args).arg(file).output().unwrap_or_else(|error| {
        panic!("{program}: {error}. These tests need poppler-utils, qpdf and python3.")
    });
    let said = String::from_utf8_lossy(&output.stdout).into_owned();
    assert!(output.status.success(), "{program}: {said}{}", String::from_utf8_lossy(&output.stderr));
    said
}

/// What poppler reads, in reading order, line ends gone.
fn text_of(pdf: &Path) -> String {
    let output = Command::new("pdftotext").arg(pdf).arg("-").output().expect("poppler-utils");
    one_line(&String::from_utf8(output.stdout).unwrap())
}

fn one_line(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn written(dir: &Path, name: &str, bytes: &[u8]) -> PathBuf {
    let path = dir.join(name);
    std::fs::write(&path, bytes).unwrap();
    path
}

fn pack(plan: &Plan, english: &English, paper: Paper) -> Vec<u8> {
    let facts =
        [("Slope".to_owned(), "25°".to_owned()), ("Rafters & boards <sound>".to_owned(), "Yes".to_owned())];
    let order = PackOrder { facts: &facts, checks: &[], date: "2026-11-25", language: "en", paper };
    pdf::write(&pack::document(plan, english, order)).unwrap()
}

fn has_in_order(text: &str, parts: &[String]) {
    let mut from = 0;
    for part in parts {
        let part = one_line(part);
        let at = text[from..]
            .find(&part)
            .unwrap_or_else(|| panic!("`{part}` does not follow in: {}", &text[from..]));
        from += at + part.len();
    }
}

#[test]
fn the_roof_pack_opens_and_reads_in_order() {
    let english = English::shipped();
    let dir = tempfile::tempdir().unwrap();
    for (name, plan) in roofs::all(&english.0.handbook) {
        let papers = [(Paper::A4, "595.28 x 841.89 pts (A4)"), (Paper::Letter, "612 x 792 pts (letter)")];
        // The other paper on the roofs that fill it least and most: each run of qpdf and poppler takes its time.
        let many = if ["shed", "barn"].contains(&name) { 2 } else { 1 };
        for (paper, size) in papers.into_iter().take(many) {
            let file = written(dir.path(), &format!("{name}.pdf"), &pack(&plan, &english, paper));
            said("qpdf", &["--check"], &file);
            let info = one_line(&said("pdfinfo", &[], &file));
            assert!(info.contains("Title: Roof pack") && info.contains("Tagged: yes"), "{name}: {info}");
            assert!(info.contains(size), "{name}: {info}");
            let fonts = said("pdffonts", &[], &file);
            let rows = fonts.lines().skip(2);
            assert!(rows.clone().count() >= 4, "{name}: {fonts}");
            for row in rows {
                let columns: Vec<&str> = row.split_whitespace().rev().take(5).collect();
                assert_eq!(columns[4], "yes", "{name}: not embedded: {row}");
            }
            let text = text_of(&file);
            let word = |id: &str| english.say(&lapwise::roofing::note::Note::new(id));
            let parts = [
                "pack-title",
                "pack-local-codes",
                "pack-demo",
                "pack-your-roof",
                "pack-specification",
                "pack-drawings",
                "pack-materials",
                "pack-cut-list",
                "pack-cautions",
                "pack-work",
            ];
            has_in_order(&text, &parts.map(word));
            has_in_order(&text, &["Rafters & boards <sound>".to_owned(), "Yes".to_owned()]);
        }
    }
}

#[test]
fn the_roof_pack_says_every_line_step_and_caution_of_the_plan() {
    let english = English::shipped();
    let dir = tempfile::tempdir().unwrap();
    for (name, plan) in roofs::all(&english.0.handbook) {
        let file = written(dir.path(), &format!("{name}.pdf"), &pack(&plan, &english, Paper::A4));
        let text = text_of(&file);
        for line in &plan.materials.lines {
            assert!(words_in(&text, &line.name), "{name}: {}", line.name);
        }
        let steps: Vec<String> =
            work_order(&plan).iter().map(|step| first_words(&english.say(&step.note))).collect();
        has_in_order(&text, &steps);
        for caution in &plan.cautions {
            let said = first_words(&english.say(&caution.note));
            assert!(text.contains(&said), "{name}: {said}");
        }
        let pages = said("pdfinfo", &[], &file);
        let pages = pages.lines().find_map(|line| line.strip_prefix("Pages:")).unwrap().trim().to_owned();
        assert!(text.contains(&format!("1/{pages}")) && text.contains(&format!("{pages}/{pages}")), "{name}");
    }
}

/// A cell breaks its words over lines, and poppler reads line by line.
fn words_in(text: &str, name: &str) -> bool {
    name.split(' ').all(|word| text.contains(word))
}

/// As many words as surely stand on one line, the first with its capital.
fn first_words(said: &str) -> String {
    let words: String = said.split_whitespace().take(5).collect::<Vec<_>>().join(" ");
    let mut letters = words.chars();
    letters.next().map(|first| first.to_uppercase().chain(letters).collect()).unwrap_or_default()
}

#[test]
fn the_supplier_sheet_is_one_page() {
    let english = English::shipped();
    let dir = tempfile::tempdir().unwrap();
    for (name, plan) in roofs::all(&english.0.handbook) {
        let sheet = SupplierSheet::of_plan(&plan, "2026-11-25");
        for paper in [Paper::A4, Paper::Letter] {
            let file = pdf::write(&sheet.document(&english, "en", paper)).unwrap();
            let file = written(dir.path(), &format!("{name}.pdf"), &file);
            said("qpdf", &["--check"], &file);
            let info = one_line(&said("pdfinfo", &[], &file));
            assert!(info.contains("Pages: 1 "), "{name}: {info}");
            let text = text_of(&file);
            assert!(plan.materials.lines.iter().all(|line| words_in(&text, &line.name)), "{name}: {text}");
        }
    }
}

/// Python's csv module is what a supplier's own program is most likely to read it with.
#[test]
fn the_supplier_csv_sums_to_the_plan() {
    let english = English::shipped();
    let dir = tempfile::tempdir().unwrap();
    let program = "import csv, sys\n\
                   rows = list(csv.DictReader(open(sys.argv[1], newline='', encoding='utf-8'), strict=True))\n\
                   assert all(None not in row and None not in row.values() for row in rows)\n\
                   total = lambda name: sum(int(row[name]) for row in rows)\n\
                   print(len(rows), total('pieces'), total('packs'), total('mass_g'))";
    for (name, plan) in roofs::all(&english.0.handbook) {
        let mut sheet = SupplierSheet::of_plan(&plan, "2026-11-25");
        // A name as an adviser may well write it.
        sheet.lines[0].name = "Sheet, \"black\", 2 m;\nlight".to_owned();
        let file = written(dir.path(), &format!("{name}.csv"), sheet.csv().as_bytes());
        let totals = said("python3", &["-c", program], &file);
        let lines = &plan.materials.lines;
        let pieces: i64 = lines.iter().map(|line| line.needed + line.left_over).sum();
        let packs: i64 = lines.iter().map(|line| line.packs).sum();
        let mass: i64 = lines.iter().map(|line| line.mass.g()).sum();
        assert_eq!(totals.trim(), format!("{} {pieces} {packs} {mass}", lines.len()), "{name}");
        let json = sheet.json();
        assert_eq!(json["mass_g"], mass, "{name}");
        assert_eq!(json["lines"].as_array().map(Vec::len), Some(lines.len()), "{name}");
    }
}

#[test]
fn the_supplier_learns_nothing_of_the_roof_but_what_to_pick() {
    let english = English::shipped();
    for (name, plan) in roofs::all(&english.0.handbook) {
        let sheet = SupplierSheet::of_plan(&plan, "2026-11-25");
        let json = sheet.json();
        let keys: Vec<&String> = json.as_object().unwrap().keys().collect();
        assert_eq!(keys, ["catalogue", "version", "demo", "date", "lines", "mass_g", "longest_mm"]);
        let keys: Vec<&String> = json["lines"][0].as_object().unwrap().keys().collect();
        assert_eq!(keys, ["item", "name", "length_mm", "pieces", "pack", "packs", "mass_g"]);
        // Longest of all that is carried: a sheet, a purlin or a deck board.
        let timber = plan.materials.lines.iter().filter_map(|line| match line.unit {
            Unit::Piece => None,
            Unit::PieceOf(length) => Some(length),
        });
        let least = timber.chain([plan.site.sheet.length]).max().unwrap();
        assert!(json["longest_mm"].as_i64().unwrap() >= least.floor_mm(), "{name}");
    }
}
