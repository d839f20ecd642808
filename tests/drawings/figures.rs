//! Every figure on a drawing, read back out of its SVG, is the plan's own.

use std::collections::BTreeSet;

use lapwise::drawing::{Kind, of_kind};
use lapwise::render::svg;
use lapwise::roofing::layout::LineKind;
use lapwise::roofing::plan::{Plan, SlopePlan};
use lapwise::units::Length;
use resvg::usvg::roxmltree::Document;

use crate::roofs;
use crate::scene::{count, of_class, um, words};
use crate::words::English;

/// Every drawing of a kind, with the slopes it stands for and its SVG.
fn each(kind: Kind, check: impl Fn(&str, &Plan, &[&SlopePlan], &Document)) {
    let english = English::shipped();
    for (name, plan) in roofs::all(&english.0.handbook) {
        let pictures = of_kind(&plan, kind, &english);
        assert!(!pictures.is_empty(), "{name}");
        for picture in pictures {
            let slopes: Vec<&SlopePlan> = match picture.name.rsplit('-').next() {
                Some("front") => vec![&plan.slopes[0]],
                Some("back") => vec![&plan.slopes[1]],
                _ => plan.slopes.iter().collect(),
            };
            let file = svg::write(&picture);
            check(name, &plan, &slopes, &Document::parse(&file).unwrap());
        }
    }
}

const fn kind_name(kind: LineKind) -> &'static str {
    match kind {
        LineKind::Eaves => "eaves",
        LineKind::EndLap => "end-lap",
        LineKind::Intermediate => "intermediate",
        LineKind::Top => "top",
    }
}

#[test]
fn every_fixing_is_drawn_once_where_the_plan_has_it() {
    each(Kind::FixingPattern, |name, _, slopes, svg| {
        for slope in slopes {
            let drawn: Vec<(i64, i64)> = of_class(svg, "fixing")
                .into_iter()
                .map(|point| (um(point, "data-x-mm"), um(point.parent().unwrap(), "data-y-mm")))
                .collect();
            assert_eq!(drawn.len(), slope.fixings.len(), "{name}");
            let drawn: BTreeSet<_> = drawn.into_iter().collect();
            let planned: BTreeSet<_> =
                slope.fixings.iter().map(|fixing| (fixing.x.um(), fixing.y.um())).collect();
            assert_eq!(drawn, planned, "{name}");
        }
    });
}

#[test]
fn lines_are_drawn_and_dimensioned_where_the_plan_has_them() {
    each(Kind::SettingOut, |name, plan, slopes, svg| {
        for slope in slopes {
            let drawn: Vec<(i64, &str)> = of_class(svg, "line")
                .into_iter()
                .map(|line| (um(line, "data-y-mm"), line.attribute("data-kind").unwrap()))
                .collect();
            let planned: Vec<_> =
                slope.lines.iter().map(|line| (line.y.um(), kind_name(line.kind))).collect();
            assert_eq!(drawn, planned, "{name}");
            // Three chains: along the eaves, up the slope in one, and from line to line.
            let chains: BTreeSet<i64> = of_class(svg, "dimensions")
                .into_iter()
                .map(|chain| {
                    let stretches = chain.children().filter(|node| node.has_attribute("data-mm"));
                    stretches.map(|one| um(one, "data-mm") * count(one, "data-count")).sum()
                })
                .collect();
            assert_eq!(chains, [plan.site.length.value.um(), slope.rafter_length.um()].into(), "{name}");
            let said = words(svg);
            // Where there are more than a phone's height holds, some of those between are left to the chain.
            let every_one = slope.lines.len() <= 40;
            for line in slope.lines.iter().filter(|line| every_one || line.kind != LineKind::Intermediate) {
                let height = line.y.mm().to_string();
                let is_said = said.iter().any(|words| words.split(' ').next() == Some(&height));
                assert!(is_said, "{name}: {height} in {said:?}");
            }
        }
    });
}

#[test]
fn sheets_lie_where_the_plan_lays_them() {
    each(Kind::Sheets, |name, plan, slopes, svg| {
        for slope in slopes {
            let index = plan.slopes.iter().position(|one| std::ptr::eq(one, *slope)).unwrap();
            let offcuts = plan.offcuts_for(index).into_iter().map(|(_, _, piece)| piece);
            let own = slope.cuts.sheets.iter().flat_map(|sheet| &sheet.pieces);
            let pieces: Vec<_> = offcuts.chain(own).collect();
            let drawn = of_class(svg, "piece");
            assert_eq!(drawn.len(), pieces.len(), "{name}");
            for (node, piece) in drawn.into_iter().zip(pieces) {
                let (course, column) = (count(node, "data-course"), count(node, "data-column"));
                assert_eq!((course, column), ((piece.course + 1) as i64, (piece.column + 1) as i64));
                assert_eq!(um(node, "data-length-mm"), piece.length.um(), "{name}");
                assert_eq!(um(node, "data-y-mm"), slope.courses[piece.course].from.um(), "{name}");
                let column = slope.columns_of(piece.course)[piece.column];
                let (left, wide) = (um(node, "data-x-mm"), um(node, "data-width-mm"));
                assert!(left <= column.from.um() && left + wide >= column.to.um(), "{name}");
            }
            let laps = of_class(svg, "end-lap");
            assert_eq!(laps.len(), slope.courses.len() - 1, "{name}");
            assert!(laps.iter().all(|lap| um(*lap, "data-lap-mm") >= slope.end_lap.um()), "{name}");
            let side = plan.site.sheet.corrugation_pitch * slope.side_lap;
            let laps = of_class(svg, "side-lap");
            let side_joints: usize =
                (0..slope.courses.len()).map(|course| slope.columns_of(course).len() - 1).sum();
            assert_eq!(laps.len(), side_joints, "{name}");
            assert!(laps.iter().all(|lap| um(*lap, "data-lap-mm") >= side.um()), "{name}");
            let said: BTreeSet<i64> =
                of_class(svg, "dimension").into_iter().map(|one| um(one, "data-mm")).collect();
            for overhang in [slope.eaves_overhang, slope.verge_overhang, slope.far_verge_overhang] {
                let is_said = overhang == Length::ZERO || said.contains(&overhang.um());
                // At a wall there is nothing to pass.
                assert!(is_said || plan.site.wall_sides.len() == 2, "{name}: {overhang} in {said:?}");
            }
        }
    });
}

#[test]
fn the_cut_diagram_holds_every_sheet_once_by_the_numbers_of_the_sheets_drawing() {
    let english = English::shipped();
    for (name, plan) in roofs::all(&english.0.handbook) {
        let drawn = |kind: Kind, read: fn(&Document) -> Vec<String>| -> Vec<BTreeSet<String>> {
            let mut of_slopes = vec![BTreeSet::new(); 2];
            for picture in of_kind(&plan, kind, &english) {
                let file = svg::write(&picture);
                let back = usize::from(picture.name.contains("-back"));
                of_slopes[back].extend(read(&Document::parse(&file).unwrap()));
            }
            of_slopes
        };
        let cut = drawn(Kind::CutDiagram, |svg| {
            let sheets = of_class(svg, "bought-sheet").into_iter();
            sheets
                .flat_map(|sheet| {
                    sheet.attribute("data-sheets").unwrap().split(' ').map(str::to_owned).collect::<Vec<_>>()
                })
                .collect()
        });
        let laid = drawn(Kind::Sheets, |svg| {
            let number = |label: &str| label.chars().take_while(char::is_ascii_digit).collect();
            of_class(svg, "piece")
                .into_iter()
                .map(|piece| number(piece.attribute("data-sheet").unwrap()))
                .collect()
        });
        assert_eq!(cut[0], laid[0], "{name}");
        assert_eq!(laid[0].len(), plan.slopes[0].cuts.sheets.len(), "{name}");
        let kept = plan.slopes[0].cuts.sheets.iter().filter(|sheet| !sheet.for_back.is_empty());
        let kept: BTreeSet<String> = kept.map(|sheet| sheet.number.to_string()).collect();
        // One cut diagram may stand for two slopes that are laid from opposite hands.
        assert!(cut[1].is_empty() || &cut[1] | &kept == laid[1], "{name}");
        assert_eq!(kept.is_empty(), plan.sharing.is_none(), "{name}");
    }
}

/// Sizes as the drawing says them, `950 × 400`, with the words before them.
fn sizes(words: &str) -> Option<i64> {
    let (length, rest) = words.rsplit_once(" × ")?;
    let length: i64 = length.rsplit(' ').next()?.parse().ok()?;
    let width: i64 = rest.split(' ').next()?.parse().ok()?;
    Some(length * width)
}

#[test]
fn pieces_and_what_is_left_make_up_each_sheet() {
    each(Kind::CutDiagram, |name, plan, _, svg| {
        let sheet = &plan.site.sheet;
        for drawn in of_class(svg, "bought-sheet") {
            let pieces: i64 = of_class(svg, "cut-piece")
                .into_iter()
                .filter(|piece| piece.parent() == Some(drawn))
                .map(|piece| um(piece, "data-length-mm") / 1_000 * count(piece, "data-corrugations"))
                .sum();
            let left: i64 = drawn
                .children()
                .filter_map(|node| node.text().filter(|text| text.starts_with("Left over")))
                .map(|text| sizes(text).unwrap_or_else(|| panic!("{name}: {text}")))
                .sum();
            let whole = sheet.length.floor_mm() * sheet.width.floor_mm();
            assert_eq!(pieces * sheet.corrugation_pitch.floor_mm() + left, whole, "{name}");
        }
    });
}

#[test]
fn the_whole_roof_is_the_site() {
    each(Kind::WholeRoof, |name, plan, _, svg| {
        let building = of_class(svg, "building")[0];
        assert_eq!(um(building, "data-length-mm"), plan.site.length.value.um(), "{name}");
        for (slope, key) in plan.site.slopes.iter().zip(["data-front-length-mm", "data-back-length-mm"]) {
            assert_eq!(um(building, key), slope.rafter_length.value.um(), "{name}");
        }
        let said = words(svg).join("\n");
        assert!(
            said.contains("Eaves") && said.contains(&plan.site.length.value.mm().to_string()),
            "{name}: {said}"
        );
    });
}
