//! What a check is, and what it looks at.

use crate::roofing::catalogue::{Catalogue, Sheet, StockMethod};
use crate::roofing::facts::Facts;
use crate::roofing::laid::SlopePlan;
use crate::roofing::note::{Arg, Note};
use crate::roofing::roof::Site;
use crate::roofing::rules::{Basis, RuleBook};
use crate::units::physical::Pressure;
use crate::units::{Angle, Length};

/// A roof whose slopes are laid, and what it is checked by.
#[derive(Clone, Copy, Debug)]
pub struct Roof<'a> {
    /// What was told of it.
    pub facts: &'a Facts,
    /// As it stands.
    pub site: &'a Site,
    /// Its slopes, laid out.
    pub slopes: &'a [SlopePlan],
    /// What the checks go by.
    pub rules: &'a RuleBook,
    /// What it is built of.
    pub goods: &'a Catalogue,
}

/// How a check ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Finds {
    /// It holds.
    Fine,
    /// It holds once more is done, which the check says.
    More,
    /// It is beyond this book: somebody else must say.
    Beyond,
}

impl Finds {
    /// Its name in files.
    pub const fn key(self) -> &'static str {
        match self {
            Self::Fine => "fine",
            Self::More => "more",
            Self::Beyond => "beyond",
        }
    }
}

/// What is checked, in the order it is told.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum CheckKind {
    /// The wind that blows over it.
    Wind,
    /// The snow that lies on it.
    Snow,
    /// Purlins on rafters.
    Purlins,
    /// A deck, new or old.
    Deck,
    /// The rafters.
    Rafters,
    /// What holds the sheets down.
    Uplift,
    /// What holds the purlins down.
    PurlinScrews,
    /// Gutter and downpipe.
    Gutter,
    /// Drips from inside.
    Damp,
    /// How the work is reached.
    Access,
}

impl CheckKind {
    /// Whether the roof may come down or fly off where it finds too little.
    pub const fn is_of_strength(self) -> bool {
        match self {
            Self::Purlins | Self::Deck | Self::Rafters | Self::Uplift | Self::PurlinScrews => true,
            Self::Wind | Self::Snow | Self::Gutter | Self::Damp | Self::Access => false,
        }
    }

    /// Every one.
    pub const ALL: &'static [Self] = &[
        Self::Wind,
        Self::Snow,
        Self::Purlins,
        Self::Deck,
        Self::Rafters,
        Self::Uplift,
        Self::PurlinScrews,
        Self::Gutter,
        Self::Damp,
        Self::Access,
    ];

    /// Its name in files.
    pub const fn key(self) -> &'static str {
        match self {
            Self::Wind => "wind",
            Self::Snow => "snow",
            Self::Purlins => "purlins",
            Self::Deck => "deck",
            Self::Rafters => "rafters",
            Self::Uplift => "uplift",
            Self::PurlinScrews => "purlin_screws",
            Self::Gutter => "gutter",
            Self::Damp => "damp",
            Self::Access => "access",
        }
    }

    /// The message that names it.
    pub const fn title(self) -> &'static str {
        match self {
            Self::Wind => "check-title-wind",
            Self::Snow => "check-title-snow",
            Self::Purlins => "check-title-purlins",
            Self::Deck => "check-title-deck",
            Self::Rafters => "check-title-rafters",
            Self::Uplift => "check-title-uplift",
            Self::PurlinScrews => "check-title-purlin-screws",
            Self::Gutter => "check-title-gutter",
            Self::Damp => "check-title-damp",
            Self::Access => "check-title-access",
        }
    }

    /// The standard and clause it goes by.
    pub const fn clause(self) -> &'static str {
        match self {
            Self::Wind => "EN 1991-1-4:2005 4.2-4.5",
            Self::Snow => "EN 1991-1-3:2003 5.2, 5.3",
            Self::Purlins | Self::Rafters => {
                "EN 1995-1-1:2004 6.1.6, 6.1.7, 7.2; EN 1990 6.4.3.2; EN 1991-1-1 6.3.4"
            }
            Self::Deck => "EN 1995-1-1:2004 6.1.6, 7.2; EN 1991-1-1 6.3.4",
            Self::Uplift => "EN 1991-1-4:2005 5.2, 7.2, 7.3; EN 1995-1-1:2004 8.3.2",
            Self::PurlinScrews => "EN 1995-1-1:2004 8.7.2",
            Self::Gutter => "EN 12056-3:2000 4.3, 5.1",
            Self::Damp => "EN ISO 6946:2017 6; EN ISO 13788:2012 5",
            Self::Access => "Work at Height Regulations 2005, regulation 6",
        }
    }

    /// What it never looks at, as messages.
    pub const fn unseen(self) -> &'static [&'static str] {
        match self {
            Self::Wind => &["unseen-wind-map"],
            Self::Snow => &["unseen-snow-map"],
            Self::Purlins => &["unseen-rafters-and-walls"],
            Self::Deck => &["unseen-rafters-and-walls", "unseen-rot"],
            Self::Rafters => &["unseen-ties-and-walls", "unseen-rot"],
            Self::Uplift => &["unseen-sheet-tearing"],
            Self::PurlinScrews => &["unseen-tied-down"],
            Self::Gutter => &["unseen-drains"],
            Self::Damp => &["unseen-draughts"],
            Self::Access => &["unseen-ground"],
        }
    }
}

/// One line of a sum: `s = μ1 · Ce · Ct · sk = 0.80 kN/m²`.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// The message that says what it is.
    pub what: &'static str,
    /// Its symbol in the standard.
    pub symbol: &'static str,
    /// The formula in the standard's symbols; empty for what goes in.
    pub formula: &'static str,
    /// What it comes to.
    pub value: f64,
    /// In what unit; empty for a plain number.
    pub unit: &'static str,
}

/// What one check found.
#[derive(Clone, Debug, PartialEq)]
pub struct Check {
    /// What was checked.
    pub kind: CheckKind,
    /// The slope it is about, by index; `None` is the whole roof.
    pub slope: Option<usize>,
    /// How it ended.
    pub finds: Finds,
    /// How much of its strength is used: 1 is all. `None` where nothing is used up, as by a load.
    pub utilisation: Option<f64>,
    /// The sum, line by line.
    pub steps: Vec<Step>,
    /// What it says to the person.
    pub says: Vec<Note>,
    /// The most snow on its plan that what was checked carries, where that was found out.
    pub snow_carried: Option<Pressure>,
}

impl Check {
    /// A check that has found nothing yet.
    pub(super) const fn new(kind: CheckKind, slope: Option<usize>) -> Self {
        Self {
            kind,
            slope,
            finds: Finds::Fine,
            utilisation: None,
            steps: Vec::new(),
            says: Vec::new(),
            snow_carried: None,
        }
    }

    /// One more line of the sum.
    pub(super) fn step(
        &mut self,
        what: &'static str,
        symbol: &'static str,
        formula: &'static str,
        value: f64,
        unit: &'static str,
    ) {
        self.steps.push(Step { what, symbol, formula, value, unit });
    }

    /// So much is used of what it holds: the hardest counts.
    pub(super) fn uses(&mut self, share: f64) {
        self.utilisation = Some(self.utilisation.map_or(share, |most| most.max(share)));
    }

    /// Whether more is used than there is. A hair over is not: a sum is no finer than its figures.
    pub(super) fn is_overused(&self) -> bool {
        self.utilisation.is_some_and(|used| used > MOST)
    }

    /// Ends the check by what is used, beyond this book where that is more than there is; answers with the one of two
    /// that goes with it.
    pub(super) fn settle<T>(&mut self, fine: T, beyond: T) -> T {
        if self.is_overused() {
            self.finds = Finds::Beyond;
            return beyond;
        }
        fine
    }

    /// What is used, of a hundred, as a figure of a note.
    pub fn percent(&self) -> Arg {
        percent(self.utilisation.unwrap_or(0.0))
    }
}

/// What may be used of a strength.
pub(super) const MOST: f64 = 1.0 + 1e-9;

/// A share of a hundred, rounded up, as a figure of a note; what is more than tenfold is said to be that.
pub(super) fn percent(share: f64) -> Arg {
    let whole = Length::from_mm_f64(libm::ceil((share * 100.0 - 1e-6).clamp(0.0, 1_000.0)));
    Arg::Count(whole.map_or(1_000, Length::round_mm))
}

/// A load as a figure of a note, in kN/m².
pub(super) fn load(pressure: Pressure) -> Arg {
    Arg::Text(format!("{:.2} kN/m²", pressure.pa() / 1_000.0))
}

/// Earth's pull, in m/s².
pub(super) const GRAVITY: f64 = 9.81;

impl Roof<'_> {
    /// A figure that checks go by; 0 in a book that has none, which nothing here is called with.
    pub(super) fn basis(&self, basis: Basis) -> f64 {
        self.rules.basis(basis).unwrap_or_default()
    }

    /// The pitch of a slope, and its length up the slope.
    pub(super) fn slope(&self, index: usize) -> (Angle, Length) {
        let slope = self.site.slopes.get(index).or(self.site.slopes.first());
        slope.map_or((Angle::ZERO, Length::ZERO), |slope| (slope.pitch.value, slope.rafter_length.value))
    }
}

/// What the sheets weigh on each square metre of slope, laps included.
pub(super) fn sheets_weigh(sheet: &Sheet, stock: StockMethod, laps_percent: f64) -> Pressure {
    let length = match stock {
        StockMethod::CutFromStock => sheet.length,
        StockMethod::OrderedToLength => Length::from_mm(1_000),
    };
    let area = length.by(sheet.width).square_metres();
    if area <= 0.0 {
        return Pressure::ZERO;
    }
    Pressure::from_pa(sheet.item.mass.kg() * GRAVITY / area * (1.0 + laps_percent / 100.0))
}

/// What a mass on each metre weighs, in N/m.
pub(super) fn weight_of(mass: crate::units::Mass) -> f64 {
    mass.kg() * GRAVITY
}
