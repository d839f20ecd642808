//! Proven optima of the layout problem are met, and every plan can be cut and laid as it says.
//!
//! `tests/references/layout-optima.json` states the problem and holds the optima; `prove_layout_optima.py` beside it proves
//! them anew. A case added to it is checked too.

#![allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "a fault fails the test")]

use lapwise::book::Book;
use lapwise::roofing::layout::cutting::{Budget, Laps, Slope, Stock, columns, cut_with};
use lapwise::units::Length;
use serde::Deserialize;

use crate::cutting as support;

#[derive(Deserialize)]
struct File {
    cases: Vec<Case>,
}

#[derive(Deserialize)]
struct Case {
    id: String,
    /// The shipped sheet it is of, where it is of one.
    sheet: Option<String>,
    inputs: Inputs,
    min_courses: usize,
    columns: i64,
    last_column_corrugations: i64,
    optimum: Optima,
}

#[derive(Deserialize)]
struct Inputs {
    #[serde(rename = "W_mm")]
    width: f64,
    #[serde(rename = "L_mm")]
    length: f64,
    #[serde(rename = "n_corr")]
    corrugations: i64,
    #[serde(rename = "pitch_mm")]
    pitch: f64,
    #[serde(rename = "side_lap_corr")]
    side_lap: i64,
    #[serde(rename = "sheet_len_mm")]
    sheet_length: f64,
    #[serde(rename = "end_lap_mm")]
    end_lap: f64,
    #[serde(rename = "purlins_mm")]
    purlins: Vec<f64>,
    #[serde(rename = "max_extra_lap_mm", default)]
    max_extra_lap: f64,
    extra_side_lap: bool,
    #[serde(rename = "min_piece_mm")]
    min_piece: f64,
}

#[derive(Deserialize)]
struct Optima {
    fewest_courses: Optimum,
    any_courses: Option<Optimum>,
}

#[derive(Deserialize)]
struct Optimum {
    sheets: usize,
    cuts: usize,
}

fn mm(value: f64) -> Length {
    Length::from_mm_f64(value).unwrap()
}

#[test]
fn layout_optima() {
    let file: File = serde_json::from_str(include_str!("../references/layout-optima.json")).unwrap();
    let shipped = Book::shipped().handbook.catalogue.sheets;
    let of_shipped = file.cases.iter().filter(|case| case.sheet.is_some()).count();
    assert!(of_shipped >= 12, "only {of_shipped} optima are of shipped sheets");
    for Case { id, sheet, inputs, min_courses, columns: count, last_column_corrugations, optimum } in
        file.cases
    {
        let stock = Stock {
            corrugations: inputs.corrugations,
            pitch: mm(inputs.pitch),
            length: mm(inputs.sheet_length),
            min_piece: mm(inputs.min_piece),
            max_extra_lap: mm(inputs.max_extra_lap),
            extra_side_lap: inputs.extra_side_lap,
        };
        if let Some(sheet) = sheet {
            let sheet = shipped.iter().find(|one| one.item.id == sheet).unwrap();
            assert_eq!(stock, Stock::from(sheet), "{id}: the sheet as it is shipped");
        }
        let slope = Slope {
            width: mm(inputs.width),
            length: mm(inputs.length),
            lines: inputs.purlins.iter().copied().map(mm).collect(),
            end_lap: mm(inputs.end_lap),
            side_lap: inputs.side_lap,
        };
        let across = columns(slope.width, &stock, slope.side_lap).unwrap();
        assert_eq!(
            (across.count, across.last_corrugations),
            (count, last_column_corrugations),
            "{id}: columns"
        );
        let wanted =
            [(Laps::Fewest, Some(&optimum.fewest_courses)), (Laps::Any, optimum.any_courses.as_ref())];
        for (laps, optimum) in wanted {
            let Some(optimum) = optimum else { continue };
            let cutting = cut_with(&slope, &stock, laps, Budget::ROOF).unwrap();
            let found = (cutting.plan.sheets.len(), cutting.plan.cuts);
            assert_eq!(found, (optimum.sheets, optimum.cuts), "{id}, {laps:?}: sheets and cuts");
            assert!(cutting.plan.cuts_proven, "{id}, {laps:?}: proven");
            assert_eq!(cutting.plan.sheets_at_least, optimum.sheets, "{id}, {laps:?}: proven");
            if laps == Laps::Fewest {
                assert_eq!(cutting.courses.len(), min_courses, "{id}: courses");
            }
            support::can_be_built(&slope, &stock, &cutting)
                .unwrap_or_else(|fault| panic!("{id}, {laps:?}: {fault}"));
        }
    }
}
