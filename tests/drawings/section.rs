//! Sections at the top measured in their SVG: the nail goes through piece, sheet and purlin, clear of every edge.

use lapwise::drawing::{Kind, of_kind};
use lapwise::render::svg;
use lapwise::roofing::plan::{Plan, plan};
use lapwise::roofing::roof::FactKey;
use resvg::usvg::roxmltree::{Document, Node};

use crate::common::Answers;
use crate::scene::{has_class, of_class};
use crate::words::English;

type Spot = (f64, f64);

/// What a drawing in tenths of a unit may be off, in millimetres.
const OFF: f64 = 0.4;

/// The corners of a shape, in units of the paper.
fn spots(shape: Node) -> Vec<Spot> {
    let path = shape.attribute("d").expect("a path");
    let numbers: Vec<f64> = path
        .split(|sign: char| !(sign.is_ascii_digit() || sign == '.' || sign == '-'))
        .filter(|number| !number.is_empty())
        .map(|number| number.parse().expect("a number"))
        .collect();
    numbers.chunks(2).map(|pair| (pair[0], pair[1])).collect()
}

fn minus(a: Spot, b: Spot) -> Spot {
    (a.0 - b.0, a.1 - b.1)
}

fn dot(a: Spot, b: Spot) -> f64 {
    a.0 * b.0 + a.1 * b.1
}

fn long(a: Spot) -> f64 {
    dot(a, a).sqrt()
}

/// How far along a line from `from` to `to` a place is, and how far beside it.
fn along(from: Spot, to: Spot, place: Spot) -> (f64, f64) {
    let way = minus(to, from);
    let (there, length) = (minus(place, from), long(way));
    (dot(there, way) / length, (there.0 * way.1 - there.1 * way.0).abs() / length)
}

/// What is measured at the top of one slope, in millimetres.
#[derive(Debug)]
struct Measured {
    /// From the nail to the edge of the piece, and to its fold.
    nail_in_piece: (f64, f64),
    /// From the nail to the end of the sheet.
    nail_in_sheet: f64,
    /// From the nail to both sides of the purlin.
    nail_in_purlin: (f64, f64),
    /// How deep its point is in the purlin, and how much wood is left under it.
    point: (f64, f64),
    /// From the edge of the piece to its fold.
    wing: f64,
    /// From the edge of the piece to the end of the sheet.
    lap: f64,
}

fn measure(svg: &Document) -> Measured {
    let section = of_class(svg, "section").into_iter().nth(1).expect("the section at the top");
    let scale: f64 = section.attribute("data-mm-per-unit").expect("a scale").parse().expect("a number");
    let of = |class: &str| -> Vec<Vec<Spot>> {
        let shown = section.descendants().filter(|node| has_class(*node, class));
        shown.map(|node| spots(node).into_iter().map(|(x, y)| (x * scale, y * scale)).collect()).collect()
    };
    let piece = of("piece").remove(0);
    // The nail nearest to the top, and the purlin and the sheet it goes into.
    let nail = of("nail").pop().expect("a nail");
    let (edge, fold) = (piece[0], piece[1]);
    let (into_piece, _) = along(edge, fold, nail[1]);
    let wing = long(minus(fold, edge));
    let sheet = of("sheet").remove(0);
    let (sheet_end, _) = along(edge, fold, sheet[2]);
    // Own purlins are drawn first, the lowest first; the corners run along its foot and back along its top.
    let own: Vec<Vec<Spot>> = of("purlin")
        .into_iter()
        .filter(|purlin| along(purlin[0], purlin[1], nail[1]).0 > 0.0)
        .filter(|purlin| along(purlin[0], purlin[1], nail[1]).0 < long(minus(purlin[1], purlin[0])))
        .collect();
    let purlin = own.first().unwrap_or_else(|| panic!("no purlin under the nail"));
    let (inside, deep) = along(purlin[3], purlin[2], nail[1]);
    let (_, left) = along(purlin[0], purlin[1], nail[1]);
    Measured {
        nail_in_piece: (into_piece, wing - into_piece),
        nail_in_sheet: sheet_end - into_piece,
        nail_in_purlin: (inside, long(minus(purlin[2], purlin[3])) - inside),
        point: (deep, left),
        wing,
        lap: sheet_end,
    }
}

fn ridge(front: f64, back: f64) -> Answers {
    Answers::shed()
        .choose(FactKey::Sheet, "fennick-sheet-2000")
        .choose(FactKey::Form, "two_slopes")
        .choose(FactKey::SlopesEqual, "no")
        .without(FactKey::WallTop)
        .angle(FactKey::Pitch, front)
        .angle(FactKey::PitchBack, back)
        .length(FactKey::SlopeLengthBack, 1_700)
}

fn planned(answers: &Answers, english: &English) -> Plan {
    plan(&answers.0, &english.0.handbook).unwrap_or_else(|why| panic!("no plan: {why:?}"))
}

fn holds(name: &str, answers: &Answers, wing: f64) {
    let english = English::shipped();
    let plan = planned(answers, &english);
    for picture in of_kind(&plan, Kind::Section, &english) {
        let file = svg::write(&picture);
        let document = Document::parse(&file).expect("a drawing");
        let measured = measure(&document);
        let at = format!("{name}, {}: {measured:?}", picture.name);
        assert!(measured.nail_in_piece.0 >= 25.0 - OFF && measured.nail_in_piece.1 >= 25.0, "{at}");
        assert!(measured.nail_in_sheet >= 25.0 - OFF, "{at}");
        assert!(measured.nail_in_purlin.0 >= 15.0 && measured.nail_in_purlin.1 >= 15.0, "{at}");
        assert!(measured.point.0 >= 20.0 - OFF && measured.point.1 >= 3.0 - OFF, "{at}");
        assert!(measured.lap >= 100.0 - OFF, "{at}");
        assert!((measured.wing - wing).abs() <= OFF * 2.0, "{at}");
    }
}

#[test]
fn the_top_nail_goes_through_piece_sheet_and_purlin_at_every_slope() {
    for (front, back) in [(10.0, 10.0), (30.0, 30.0), (45.0, 45.0), (60.0, 60.0), (45.0, 12.0)] {
        holds(&format!("ridge {front} and {back}"), &ridge(front, back), 200.0);
    }
    let single = |pitch: f64| {
        Answers::shed().choose(FactKey::Sheet, "fennick-sheet-2000").angle(FactKey::Pitch, pitch)
    };
    for (pitch, wing) in [(10.0, 150.0), (30.0, 150.0), (45.0, 150.0), (60.0, 300.0)] {
        holds(&format!("top edge {pitch}"), &single(pitch), wing);
    }
    for (pitch, wing) in [(10.0, 200.0), (30.0, 200.0), (45.0, 200.0), (60.0, 200.0)] {
        holds(&format!("wall {pitch}"), &single(pitch).choose(FactKey::WallTop, "yes"), wing);
    }
}
