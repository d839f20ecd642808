//! A handbook for tests: the slope bands of the trade and an invented demo range, small enough to read.
//!
//! Slope bands, laps, overhangs, nail bite and pattern: common practice, no source. Everything else is invented.

#![allow(dead_code, reason = "each test target uses its own part")]
#![expect(clippy::expect_used, clippy::panic, reason = "only tests build with this")]

use lapwise::roofing::catalogue::{
    AreaPiece, AreaUse, Catalogue, Coating, Covering, EdgePiece, EdgeUse, Fastener, FastenerUse,
    FixingMethod, Item, Shank, Sheet, StockMethod, Timber,
};
use lapwise::roofing::plan::{Handbook, Version};
use lapwise::roofing::roof::{FactKey, FactKind, FactValue, Facts};
use lapwise::roofing::rules::{
    Again, Condition, DoubtBand, Effect, Handover, Limit, Phase, Requirement, Rule, RuleBook, Source,
    StepKind, Support,
};
use lapwise::units::{Angle, Currency, Day, Doubt, Length, Mass, Measured, Money};

/// Millimetres.
pub(crate) fn mm(mm: i64) -> Length {
    Length::from_mm(mm)
}

/// Degrees.
pub(crate) fn deg(deg: f64) -> Angle {
    Angle::from_deg_f64(deg).expect("a pitch")
}

/// The handbook of the tests.
pub(crate) fn handbook() -> Handbook {
    Handbook { rules: rule_book(), catalogue: catalogue(), version: Version::of_book("tests") }
}

/// The shipped handbook, its first sheet by the names that the tests give sheets of every kind.
pub(crate) fn shipped() -> Handbook {
    static SHIPPED: std::sync::LazyLock<Handbook> = std::sync::LazyLock::new(|| {
        let mut handbook = lapwise::book::Book::shipped().handbook;
        let first = handbook.catalogue.sheets.first().expect("a sheet").clone();
        let called =
            |id: &str| Sheet { item: Item { id: id.to_owned(), ..first.item.clone() }, ..first.clone() };
        handbook.catalogue.sheets.extend([
            called("sheet"),
            Sheet { stagger: true, ..called("staggered-sheet") },
            Sheet { extra_side_lap: true, max_extra_lap: mm(60), ..called("lapped-sheet") },
        ]);
        handbook
    });
    SHIPPED.clone()
}

fn rule(id: &str, when: Vec<Condition>, then: Vec<Effect>) -> Rule {
    Rule {
        id: id.to_owned(),
        covering: None,
        sheet: None,
        when,
        then,
        message: format!("rule-{id}"),
        again: None,
        source: "common-practice".to_owned(),
        since: Day::from_text("2026-11-25").expect("a day"),
    }
}

fn pitch(from: Option<i64>, to: Option<i64>) -> Vec<Condition> {
    let (from, to) = (from.map(Angle::from_deg), to.map(Angle::from_deg));
    vec![Condition::Angle { fact: FactKey::Pitch, from, to }]
}

fn is(fact: FactKey, any: &[&str]) -> Condition {
    Condition::OneOf { fact, any: any.iter().map(|id| (*id).to_owned()).collect() }
}

fn length(requirement: Requirement, value: i64) -> Effect {
    Effect::Require(requirement, Limit::Length(mm(value)))
}

fn count(requirement: Requirement, value: i64) -> Effect {
    Effect::Require(requirement, Limit::Count(value))
}

fn support(support: Support) -> Effect {
    Effect::Require(Requirement::Support, Limit::Support(support))
}

fn band(from: i64, to: Option<i64>, spacing: i64, lap: i64) -> Vec<Rule> {
    use Requirement::{EndLap, MaxNailLineSpacing, MaxPurlinSpacing, SideLap};
    let id = format!("slope-from-{from}");
    let then = vec![
        support(Support::Purlins),
        length(MaxPurlinSpacing, spacing),
        length(MaxNailLineSpacing, spacing),
        length(EndLap, lap),
        count(SideLap, 1),
    ];
    vec![rule(&id, pitch(Some(from), to), then)]
}

/// What holds of every roof.
fn always() -> Vec<Effect> {
    use Requirement as R;
    vec![
        length(R::NailBiteMin, 15),
        length(R::NailBiteMax, 20),
        length(R::PurlinNailBite, 20),
        length(R::NailPointCover, 3),
        count(R::SmoothNailBite, 8),
        count(R::RingedNailBite, 6),
        count(R::NailEndDistance, 10),
        length(R::NailEdgeDistance, 25),
        length(R::TopLap, 100),
        length(R::EndPlay, 20),
        length(R::SawCut, 4),
        length(R::SquaredEnd, 10),
        count(R::SpareTimber, 1),
        length(R::MinDeckThickness, 15),
        length(R::ScrewPointCover, 5),
        length(R::ScrewBite, 20),
        length(R::DeckScrewSpacing, 600),
        length(R::NailLineSetback, 25),
        length(R::EavesOverhang, 50),
        length(R::VergeOverhang, 5),
        count(R::FixEaves, 1),
        count(R::FixEndLap, 1),
        count(R::FixIntermediate, 2),
        count(R::FixRidge, 2),
        count(R::SpareSheets, 1),
        count(R::SpareFixings, 10),
    ]
}

fn rule_book() -> RuleBook {
    use Requirement as R;
    let mut rules = vec![
        rule("slope-under-5", pitch(None, Some(5)), vec![Effect::Refuse]),
        rule(
            "slope-from-5",
            pitch(Some(5), Some(10)),
            vec![
                support(Support::FullDeck),
                length(R::EndLap, 300),
                count(R::SideLap, 2),
                length(R::MaxNailLineSpacing, 450),
            ],
        ),
    ];
    rules.extend(band(10, Some(15), 450, 200));
    rules.extend(band(15, None, 610, 170));
    rules.push(rule("always", Vec::new(), always()));
    let suspect = is(FactKey::CoveringNow, &["grey_cement_sheets", "not_sure"]);
    let untested = Condition::NoneOf { fact: FactKey::AsbestosTest, any: vec!["tested_clear".to_owned()] };
    let stop = |handover| vec![Effect::Stop(handover)];
    rules.push(rule("asbestos-suspected", vec![suspect, untested], stop(Handover::LicensedPro)));
    let rotten = is(FactKey::Structure, &["rotten_or_sagging", "might_not_hold_weight", "not_sure"]);
    rules.push(rule("structure-unsound", vec![rotten], stop(Handover::LicensedPro)));
    let near = is(FactKey::OverheadLines, &["near", "not_sure"]);
    rules.push(rule("overhead-lines-near", vec![near], stop(Handover::LicensedPro)));
    rules.push(rule("caution-height", Vec::new(), vec![Effect::Caution(Phase::Work)]));
    let again = Again { steps: vec![StepKind::Inspect], message: "rule-caution-repaired".to_owned() };
    let repaired = vec![is(FactKey::Structure, &["repaired"])];
    let caution = vec![Effect::Caution(Phase::Work)];
    rules.push(Rule { again: Some(again), ..rule("caution-repaired", repaired, caution) });
    rules.push(rule("caution-local-codes", Vec::new(), vec![Effect::Caution(Phase::Plan)]));
    RuleBook {
        rules,
        sources: vec![Source {
            id: "common-practice".to_owned(),
            title: "common practice, no source".to_owned(),
            edition: None,
        }],
        about: doubt(1_000_000, 20),
        by_phone: doubt(500_000, 3),
        agree: doubt(1_000_000, 20),
        paces: Vec::new(),
        practices: Vec::new(),
        bases: Vec::new(),
        regions: Vec::new(),
    }
}

fn doubt(microdeg: i64, length_per_mille: i64) -> DoubtBand {
    let source = "common-practice".to_owned();
    DoubtBand { angle: Angle::from_microdeg(microdeg), length_per_mille, source }
}

fn item(id: &str, pack: i64, g: i64, pence: i64) -> Item {
    let currency = Currency::from_code("GBP").expect("three letters");
    let price = Money { amount: rust_decimal::Decimal::new(pence, 2), currency };
    Item {
        id: id.to_owned(),
        name: format!("Fennick demo {id}"),
        spec: "invented".to_owned(),
        pack,
        mass: Mass::from_g(g),
        price: Some(price),
    }
}

/// The demo sheet: 2000 × 1000 mm, ten corrugations.
pub(crate) fn demo_sheet() -> Sheet {
    Sheet {
        item: item("sheet", 1, 6_000, 1_400),
        covering: "corrugated_bitumen".to_owned(),
        length: mm(2_000),
        width: mm(1_000),
        corrugations: 10,
        corrugation_pitch: mm(100),
        corrugation_height: mm(30),
        thickness: Length::from_um(2_500),
        min_piece: mm(300),
        max_extra_lap: mm(0),
        extra_side_lap: false,
        stagger: false,
    }
}

fn fastener(usage: FastenerUse, name: &str, length: i64) -> Fastener {
    Fastener {
        item: item(&format!("{name}-{length}"), 100, 5, 1_200),
        usage,
        covering: (usage == FastenerUse::SheetNail).then(|| "corrugated_bitumen".to_owned()),
        length: mm(length),
        diameter: mm(3),
        shank: if usage == FastenerUse::SheetNail { Shank::Ringed } else { Shank::Threaded },
        head: mm(16),
        coating: Coating::HotDipGalvanised,
        withdrawal: None,
    }
}

fn edge(edge: EdgeUse, name: &str, lap: i64, wing: i64) -> EdgePiece {
    let pitch = (Angle::from_deg(5), Angle::from_deg(60));
    EdgePiece {
        item: item(name, 1, 1_500, 1_000),
        covering: "corrugated_bitumen".to_owned(),
        edge,
        length: mm(1_000),
        lap: mm(lap),
        wing: mm(wing),
        thickness: if wing == 0 { mm(0) } else { Length::from_um(2_500) },
        pitch,
    }
}

fn area(usage: AreaUse, name: &str, size: (i64, i64, i64), lap: i64) -> AreaPiece {
    let (length, width, thickness) = (mm(size.0), mm(size.1), mm(size.2));
    AreaPiece {
        item: item(name, 1, 9_000, 2_500),
        usage,
        length,
        width,
        thickness,
        lap: mm(lap),
        board: None,
    }
}

fn catalogue() -> Catalogue {
    let nails = (40..=80).step_by(5).map(|length| fastener(FastenerUse::SheetNail, "nail", length));
    let deck = [25, 30, 35, 40, 45].map(|length| fastener(FastenerUse::DeckScrew, "deck-screw", length));
    let purlin = [80, 100].map(|length| fastener(FastenerUse::PurlinScrew, "purlin-screw", length));
    Catalogue {
        version: "demo-1".to_owned(),
        demo: true,
        prices_from: "2026-11-25".to_owned(),
        coverings: vec![Covering {
            id: "corrugated_bitumen".to_owned(),
            name: "corrugated bitumen".to_owned(),
            fixing: FixingMethod::NailThroughCrown,
            stock: StockMethod::CutFromStock,
            on_deck: true,
            edges: vec![
                EdgeUse::Ridge,
                EdgeUse::TopEdge,
                EdgeUse::Verge,
                EdgeUse::WallTop,
                EdgeUse::WallSide,
                EdgeUse::EavesFiller,
            ],
            finials: true,
            wording: None,
        }],
        sheets: vec![
            demo_sheet(),
            Sheet { item: item("staggered-sheet", 1, 6_000, 1_400), stagger: true, ..demo_sheet() },
            Sheet {
                item: item("lapped-sheet", 1, 6_000, 1_400),
                extra_side_lap: true,
                max_extra_lap: mm(60),
                ..demo_sheet()
            },
        ],
        fasteners: nails.chain(deck).chain(purlin).collect(),
        edges: vec![
            edge(EdgeUse::Ridge, "ridge", 125, 200),
            edge(EdgeUse::TopEdge, "top-edge", 100, 150),
            edge(EdgeUse::Verge, "verge", 100, 100),
            edge(EdgeUse::WallTop, "wall-top", 100, 200),
            edge(EdgeUse::Ridge, "wide-ridge", 125, 300),
            edge(EdgeUse::TopEdge, "wide-top-edge", 100, 300),
            edge(EdgeUse::WallTop, "wide-wall-top", 100, 350),
            edge(EdgeUse::WallSide, "wall-side", 100, 150),
            edge(EdgeUse::EavesFiller, "eaves-filler", 0, 0),
        ],
        // 50 × 38 mm: from memory, a usual size.
        timbers: vec![Timber {
            item: item("purlin-50x38", 1, 0, 0),
            width: mm(50),
            depth: mm(38),
            stock: [2_400, 3_000, 3_600, 4_800].map(mm).to_vec(),
            mass_per_m: Mass::from_g(1_000),
            price_per_m: item("metre", 1, 0, 200).price,
            class: Some("C24".to_owned()),
        }],
        areas: vec![
            area(AreaUse::Underlay, "underlay", (15_000, 1_000, 1), 150),
            area(AreaUse::Insulation, "insulation", (1_200, 450, 25), 0),
            area(AreaUse::Deck, "deck-18", (2_440, 1_220, 18), 0),
        ],
        finial: item("finial", 1, 400, 500),
        sundries: Vec::new(),
        tools: vec!["tool-hammer".to_owned()],
        protective: vec!["wear-gloves".to_owned()],
    }
}

/// Facts, written as a person would be asked for them: lengths in mm, angles in degrees, choices by id.
#[derive(Clone, Debug)]
pub(crate) struct Answers(pub(crate) Facts);

impl Answers {
    /// A sound 2.4 × 1.8 m single-slope shed at 25°, on rafters, in the open.
    pub(crate) fn shed() -> Self {
        Self(Facts::default())
            .choose(FactKey::CoveringNow, "felt")
            .choose(FactKey::Structure, "sound")
            .choose(FactKey::OverheadLines, "none")
            .choose(FactKey::Form, "single_slope")
            .choose(FactKey::Base, "rafters")
            .choose(FactKey::WallTop, "no")
            .choose(FactKey::WallSide, "none")
            .choose(FactKey::WindFrom, "right")
            .choose(FactKey::Sheet, "sheet")
            .angle(FactKey::Pitch, 25.0)
            .length(FactKey::TimberSpacing, 600)
            .length(FactKey::Length, 2_400)
            .length(FactKey::SlopeLength, 1_800)
    }

    /// A 20 × 10 m barn of two equal slopes at 25°.
    pub(crate) fn barn() -> Self {
        Self::shed()
            .choose(FactKey::Form, "two_slopes")
            .choose(FactKey::SlopesEqual, "yes")
            .without(FactKey::WallTop)
            .length(FactKey::Length, 20_000)
            .without(FactKey::SlopeLength)
            .length(FactKey::Span, 10_000)
            .length(FactKey::RafterOverhang, 200)
    }

    /// The same on a deck of this thickness.
    pub(crate) fn on_deck(self, thickness: i64) -> Self {
        self.choose(FactKey::Base, "boards")
            .length(FactKey::DeckThickness, thickness)
            .choose(FactKey::Insulation, "no")
    }

    fn set(mut self, key: FactKey, value: FactValue) -> Self {
        assert!(self.0.set(key, value), "{} takes {:?}", key.key(), key.kind());
        self
    }

    pub(crate) fn choose(self, key: FactKey, id: &str) -> Self {
        self.set(key, FactValue::Choice(id.to_owned()))
    }

    pub(crate) fn length(self, key: FactKey, length: i64) -> Self {
        self.set(key, FactValue::Length(Measured::stated(mm(length))))
    }

    pub(crate) fn angle(self, key: FactKey, degrees: f64) -> Self {
        self.set(key, FactValue::Angle(Measured::stated(deg(degrees))))
    }

    pub(crate) fn count(self, key: FactKey, count: i64) -> Self {
        self.set(key, FactValue::Count(count))
    }

    /// The same with one measurement in doubt.
    pub(crate) fn doubt(mut self, key: FactKey, doubt: Doubt) -> Self {
        let value = match (self.0.get(key), key.kind()) {
            (Some(FactValue::Length(length)), FactKind::Quantity(_)) => {
                FactValue::Length(Measured { value: length.value, doubt })
            }
            (Some(FactValue::Angle(angle)), FactKind::Quantity(_)) => {
                FactValue::Angle(Measured { value: angle.value, doubt })
            }
            other => panic!("{other:?} is not measured"),
        };
        assert!(self.0.set(key, value));
        self
    }

    pub(crate) fn without(mut self, key: FactKey) -> Self {
        self.0.remove(key);
        self
    }
}
