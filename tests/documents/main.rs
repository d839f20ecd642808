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

use lapwise::conversation::saying::Voice;
use lapwise::drawing::Captions as _;
use lapwise::drawing::document::Paper;
use lapwise::export::pack::{self, PackOrder};
use lapwise::export::plan::plan_json;
use lapwise::export::supplier::SupplierSheet;
use lapwise::render::pdf;
use lapwise::roofing::materials::Unit;
use lapwise::roofing::plan::{Plan, plan};
use lapwise::roofing::roof::FactKey;
use lapwise::roofing::work::work_order;
use lapwise::units::UsualUnit;
use serde_json::Value;
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
    let order = PackOrder {
        facts: &facts,
        date: "2026-11-25",
        language: "en",
        paper,
        rules: &english.0.handbook.rules,
    };
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
                "pack-name",
                "pack-key-sheets",
                "pack-key-time",
                "pack-local-codes",
                "pack-demo",
                "pack-cautions",
                "pack-your-roof",
                "pack-specification",
                "pack-drawings",
                "pack-materials",
                "pack-cut-list",
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
fn the_order_is_one_sheet_of_paper() {
    let english = English::shipped();
    let dir = tempfile::tempdir().unwrap();
    for (name, plan) in roofs::all(&english.0.handbook) {
        let sheet = SupplierSheet::of_plan(&plan, "2026-11-25", &english);
        for paper in [Paper::A4, Paper::Letter] {
            let file = pdf::write(&sheet.document(&english, "en", paper)).unwrap();
            let file = written(dir.path(), &format!("{name}.pdf"), &file);
            said("qpdf", &["--check"], &file);
            let info = one_line(&said("pdfinfo", &[], &file));
            // Both its sides at most.
            assert!(info.contains("Pages: 1 ") || info.contains("Pages: 2 "), "{name}: {info}");
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
    let program = "import csv, decimal, sys\n\
                   rows = list(csv.DictReader(open(sys.argv[1], newline='', encoding='utf-8'), strict=True))\n\
                   assert all(None not in row and None not in row.values() for row in rows)\n\
                   assert all(row['name'].strip() and row['details'] and row['or_equal'] and row['notice'] for row in rows), rows\n\
                   assert len({(row['order'], row['date'], row['version']) for row in rows}) == 1\n\
                   total = lambda name: sum(decimal.Decimal(row[name] or '0.00') for row in rows)\n\
                   print(len(rows), *map(total, ['pieces', 'packs', 'mass_g', 'spare', 'list_price']))";
    for (name, plan) in roofs::all(&english.0.handbook).into_iter().chain([own_sheet(&english)]) {
        let mut sheet = SupplierSheet::of_plan(&plan, "2026-11-25", &english);
        // A name as an adviser may well write it.
        sheet.lines[1].name = "Piece, \"black\", 2 m;\nlight".to_owned();
        let file = written(dir.path(), &format!("{name}.csv"), sheet.csv().as_bytes());
        let totals = said("python3", &["-c", program], &file);
        // What the plan's JSON says of the same list.
        let voice = Voice { words: &english.0.words, language: "en", units: UsualUnit::Mm };
        let json = plan_json(&plan, &english.0.handbook, &voice);
        let lines = json["materials"].as_array().unwrap();
        let figure = |line: &Value, key: &str| line[key].as_i64().unwrap();
        let pieces: i64 = lines.iter().map(|line| figure(line, "packs") * figure(line, "pack")).sum();
        let left: i64 = lines.iter().map(|line| figure(line, "left_over")).sum();
        let packs: i64 = lines.iter().map(|line| figure(line, "packs")).sum();
        // In whole grams, read as it is written.
        let grams = |line: &Value| (line["mass_kg"].as_f64().unwrap() * 1_000.0).round().to_string();
        let mass: i64 = lines.iter().map(|line| grams(line).parse::<i64>().unwrap()).sum();
        assert_eq!(mass, sheet.mass_g, "{name}");
        let said = totals.trim();
        let price = sheet.list_total.clone().expect("prices");
        match json["price"]["amount"].as_str() {
            Some(whole) => assert_eq!(price.trim_end_matches('0'), whole.trim_end_matches('0'), "{name}"),
            None => assert_eq!(name, "own sheet", "only a label has no price"),
        }
        assert_eq!(said, format!("{} {pieces} {packs} {mass} {left} {price}", lines.len()), "{name}");
        let read = sheet.json();
        assert_eq!(read["mass_g"], mass, "{name}");
        assert_eq!(read["lines"].as_array().map(Vec::len), Some(lines.len()), "{name}");
    }
}

/// A corner between two walls, covered with sheets that are known by their label alone.
fn own_sheet(english: &English) -> (&'static str, Plan) {
    let answers = common::Answers::shed()
        .choose(FactKey::Sheet, "label")
        .length(FactKey::SheetLength, 2_000)
        .length(FactKey::SheetWidth, 855)
        .count(FactKey::SheetCorrugations, 9)
        .length(FactKey::CorrugationHeight, 36)
        .choose(FactKey::WallTop, "yes")
        .choose(FactKey::WallSide, "left");
    ("own sheet", plan(&answers.0, &english.0.handbook).expect("a plan"))
}

#[test]
fn an_own_sheet_says_what_it_is_wherever_it_is_bought() {
    let english = English::shipped();
    let dir = tempfile::tempdir().unwrap();
    let (_, plan) = own_sheet(&english);
    let sheet = SupplierSheet::of_plan(&plan, "2026-11-25", &english);
    let own = &sheet.lines[0];
    let sizes = ["2 000 mm × 855 mm", "9 corrugations", "95 mm × 36 mm", "as the label says"];
    assert!(sizes.iter().all(|part| own.name.contains(part)), "{}", own.name);
    assert!(own.mass_by_size && own.details.iter().any(|told| told == "weight by size, not weighed"));
    let wave = (own.corrugations, own.wave_pitch_mm, own.wave_height_mm, own.width_mm, own.length_mm);
    assert_eq!(wave, (Some(9), Some(95.0), Some(36.0), Some(855.0), Some(2_000)));
    // What lies on the sheet or under it must fit its wave, and says which.
    let pieces: Vec<_> = sheet
        .lines
        .iter()
        .filter(|line| {
            line.item.contains("wall-top") || line.item.contains("verge") || line.item.contains("filler")
        })
        .collect();
    assert_eq!(pieces.len(), 3, "{:?}", sheet.lines);
    for piece in pieces {
        assert!(piece.details.iter().any(|told| told == "to fit a wave of 95 mm × 36 mm"), "{piece:?}");
        assert_eq!((piece.wave_pitch_mm, piece.wave_height_mm), (Some(95.0), Some(36.0)));
    }
    let paper = pdf::write(&sheet.document(&english, "en", Paper::A4)).unwrap();
    let paper = text_of(&written(dir.path(), "order.pdf", &paper));
    let pack = text_of(&written(dir.path(), "pack.pdf", &pack(&plan, &english, Paper::A4)));
    for (name, text) in [("order", paper), ("pack", pack)] {
        for part in ["2 000 mm × 855", "9 corrugations", "95 mm × 36", "label says", "by size"] {
            assert!(words_in(&text, part), "{name}: {part}: {text}");
        }
    }
    let csv = sheet.csv();
    assert!(csv.contains("by size") && csv.contains(&sheet.reference), "{csv}");
}

/// What a counter asks by telephone stands on the order: how timber is cut, what a board is, where to deliver.
#[test]
fn an_order_says_what_a_counter_asks() {
    let english = English::shipped();
    let all = roofs::all(&english.0.handbook);
    let (_, plan) = all.iter().find(|(name, _)| *name == "barn").unwrap();
    let sheet = SupplierSheet::of_plan(plan, "2026-11-25", &english);
    let mut cut = 0;
    for line in sheet.lines.iter().filter(|line| line.item.contains("purlin-50")) {
        let told = line.details.join("; ");
        assert!(told.contains("C24") && told.contains("use class 2") && told.contains("cut to"), "{told}");
        let pieces: i64 = line.cuts.iter().map(|cut| cut.length_mm * cut.pieces).sum();
        assert!(pieces <= line.length_mm.unwrap() * line.pieces, "{told}");
        cut += pieces;
    }
    let rows: usize = plan.slopes.iter().map(|slope| slope.lines.len()).sum();
    assert_eq!(cut, plan.site.length.value.floor_mm() * i64::try_from(rows).unwrap());
    assert!(sheet.lines.iter().all(|line| line.or_equal.starts_with("or equal")), "{:?}", sheet.lines);
    let dir = tempfile::tempdir().unwrap();
    let paper = pdf::write(&sheet.document(&english, "en", Paper::A4)).unwrap();
    let text = text_of(&written(dir.path(), "order.pdf", &paper));
    for part in [&*sheet.reference, "Name", "Telephone", "Deliver", "25 November 2026", &*sheet.version] {
        assert!(text.contains(part), "{part}: {text}");
    }
    // The same list has the same number on any day, another list has another.
    let later = SupplierSheet::of_plan(plan, "2026-12-01", &english);
    assert_eq!(later.reference, sheet.reference);
    let (_, other) = own_sheet(&english);
    assert_ne!(SupplierSheet::of_plan(&other, "2026-11-25", &english).reference, sheet.reference);
}

#[test]
fn the_supplier_learns_nothing_of_the_roof_but_what_to_pick() {
    let english = English::shipped();
    for (name, plan) in roofs::all(&english.0.handbook) {
        let sheet = SupplierSheet::of_plan(&plan, "2026-11-25", &english);
        let json = sheet.json();
        let keys: Vec<&String> = json.as_object().unwrap().keys().collect();
        let told = [
            "reference",
            "catalogue",
            "version",
            "demo",
            "notice",
            "date",
            "lines",
            "mass_g",
            "longest_mm",
            "list_total",
            "currency",
            "prices_from",
        ];
        assert_eq!(keys, told);
        let keys: Vec<&String> = json["lines"][0].as_object().unwrap().keys().collect();
        let told = [
            "item",
            "name",
            "details",
            "or_equal",
            "length_mm",
            "width_mm",
            "corrugations",
            "wave_pitch_mm",
            "wave_height_mm",
            "cuts",
            "pieces",
            "spare",
            "pack",
            "packs",
            "mass_g",
            "mass_by_size",
            "list_price",
        ];
        assert_eq!(keys, told);
        // Longest of all that is carried: a sheet, a purlin or a deck board.
        let timber = plan.materials.lines.iter().filter_map(|line| match line.unit {
            Unit::Piece => None,
            Unit::PieceOf(length) => Some(length),
        });
        let least = timber.chain([plan.site.sheet.length]).max().unwrap();
        assert!(json["longest_mm"].as_i64().unwrap() >= least.floor_mm(), "{name}");
    }
}
