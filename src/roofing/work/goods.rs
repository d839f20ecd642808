//! What the work uses up: by step, by the plan, and by the person's own count.

use super::{StepKey, WorkStep};
use crate::roofing::catalogue::{EdgeUse, FastenerUse};
use crate::roofing::plan::Plan;

macro_rules! goods {
    ($($(#[$doc:meta])* $variant:ident = $key:literal),+ $(,)?) => {
        /// Something that is counted on the job.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum Goods { $($(#[$doc])* $variant),+ }

        impl Goods {
            /// All of them.
            pub const ALL: &'static [Self] = &[$(Self::$variant),+];

            /// The name it has in files and in the ids of sentences.
            pub const fn key(self) -> &'static str {
                match self { $(Self::$variant => $key),+ }
            }

            /// The goods of that name.
            pub fn from_key(key: &str) -> Option<Self> {
                Self::ALL.iter().copied().find(|goods| goods.key() == key)
            }
        }
    };
}

goods! {
    /// Whole sheets.
    Sheets = "sheets",
    /// Nails through the sheets.
    Nails = "nails",
    /// Screws through the sheets.
    SheetScrews = "sheet-screws",
    /// Screws from inside through a deck.
    DeckScrews = "deck-screws",
    /// Screws from outside through a purlin.
    PurlinScrews = "purlin-screws",
    /// Ridge pieces.
    Ridge = "ridge",
    /// Pieces of a free top edge.
    TopEdge = "top-edge",
    /// Verge pieces.
    Verge = "verge",
    /// Flashing at the top wall.
    WallTop = "wall-top",
    /// Flashing at a side wall.
    WallSide = "wall-side",
    /// Eaves filler.
    EavesFiller = "eaves-filler",
}

/// So many of some goods.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Use {
    /// What.
    pub goods: Goods,
    /// How many.
    pub count: i64,
}

impl Goods {
    /// The goods that close an edge.
    pub const fn of_edge(edge: EdgeUse) -> Self {
        match edge {
            EdgeUse::Ridge => Self::Ridge,
            EdgeUse::TopEdge => Self::TopEdge,
            EdgeUse::Verge => Self::Verge,
            EdgeUse::WallTop => Self::WallTop,
            EdgeUse::WallSide => Self::WallSide,
            EdgeUse::EavesFiller => Self::EavesFiller,
        }
    }

    /// The goods of a nail or a screw.
    pub const fn of_fastener(usage: FastenerUse) -> Self {
        match usage {
            FastenerUse::SheetNail => Self::Nails,
            FastenerUse::SheetScrew => Self::SheetScrews,
            FastenerUse::DeckScrew => Self::DeckScrews,
            FastenerUse::PurlinScrew => Self::PurlinScrews,
        }
    }

    /// The catalogue ids that are these goods in a plan.
    fn items(self, plan: &Plan) -> Vec<&str> {
        let screws = |usage: FastenerUse| {
            let all = plan.slopes.iter().flat_map(|slope| &slope.screws);
            all.filter(move |screws| screws.usage == usage).map(|screws| screws.screw.as_str()).collect()
        };
        let holding = |usage: FastenerUse| {
            let slopes = plan.slopes.iter().filter(|slope| slope.fixed_by == usage);
            slopes.map(|slope| slope.nail.as_str()).collect()
        };
        match self {
            Self::Sheets => vec![plan.site.sheet.item.id.as_str()],
            Self::Nails => holding(FastenerUse::SheetNail),
            Self::SheetScrews => holding(FastenerUse::SheetScrew),
            Self::DeckScrews => screws(FastenerUse::DeckScrew),
            Self::PurlinScrews => screws(FastenerUse::PurlinScrew),
            Self::Ridge
            | Self::TopEdge
            | Self::Verge
            | Self::WallTop
            | Self::WallSide
            | Self::EavesFiller => {
                let runs = plan.edges.iter().filter(|run| Self::of_edge(run.edge) == self);
                runs.map(|run| run.piece.as_str()).collect()
            }
        }
    }
}

/// How many the shopping list buys.
pub fn bought(goods: Goods, plan: &Plan) -> i64 {
    let items = goods.items(plan);
    let lines = plan.materials.lines.iter().filter(|line| items.contains(&line.item.as_str()));
    lines.map(|line| line.packs * line.pack).sum()
}

/// What the person counted, and where the work stood then.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Tally {
    /// How many they said.
    pub count: i64,
    /// Whether so many are left, not used.
    pub left: bool,
    /// How many the steps done by then use, by the plan of then.
    pub finished: i64,
    /// How many that plan uses up to the end of the step then in hand.
    pub planned: i64,
}

impl Tally {
    /// A count of now.
    pub fn now(
        goods: Goods,
        count: i64,
        left: bool,
        steps: &[WorkStep],
        done: impl Fn(&StepKey) -> bool,
    ) -> Self {
        let finished = planned_for(goods, steps, &done);
        let planned = finished + in_hand(goods, steps, done);
        Self { count, left, finished, planned }
    }
}

/// How some goods stand against the plan.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Foresight {
    /// Used so far.
    pub used: i64,
    /// What the plan uses up to the end of the step in hand.
    pub planned: i64,
    /// Still there.
    pub left: i64,
    /// What the plan needs from here on.
    pub needed: i64,
    /// What it will likely need, if as many go to waste as up to now.
    pub likely: i64,
}

impl Foresight {
    /// How many are sure to be missing.
    pub fn short(&self) -> i64 {
        (self.needed - self.left).max(0)
    }

    /// How many are likely to be missing.
    pub fn likely_short(&self) -> i64 {
        (self.likely - self.left).max(0)
    }
}

/// How many the finished steps use by the plan.
pub fn planned_for(goods: Goods, steps: &[WorkStep], done: impl Fn(&StepKey) -> bool) -> i64 {
    steps.iter().filter(|step| done(&step.key)).map(|step| used_by(goods, step)).sum()
}

fn used_by(goods: Goods, step: &WorkStep) -> i64 {
    step.uses.iter().filter(|one| one.goods == goods).map(|one| one.count).sum()
}

fn in_hand(goods: Goods, steps: &[WorkStep], done: impl Fn(&StepKey) -> bool) -> i64 {
    steps.iter().find(|step| !done(&step.key)).map_or(0, |step| used_by(goods, step))
}

/// Compares a count with the plan.
///
/// What was used by then may be anything from what the finished steps need to what the step in hand needed besides.
/// What is beyond that went to waste, and the rest of the work is expected to waste as much in proportion. Steps
/// finished since have used what the plan says. `spoilt` pieces are gone without being built in.
pub fn foresee(
    goods: Goods,
    tally: Tally,
    spoilt: i64,
    plan: &Plan,
    steps: &[WorkStep],
    done: impl Fn(&StepKey) -> bool,
) -> Foresight {
    let total = planned_for(goods, steps, |_| true);
    let finished = planned_for(goods, steps, &done);
    let there = bought(goods, plan) - spoilt;
    let used_then = if tally.left { there - tally.count } else { tally.count }.max(0);
    let built_then = used_then.clamp(tally.finished.min(tally.planned), tally.planned);
    let waste = (used_then - tally.planned).max(0);
    let since = (finished - built_then).max(0);
    let left_then = if tally.left { tally.count } else { there - used_then };
    let built = built_then + since;
    let needed = (total - built).max(0);
    let wasted_too = if built > 0 { (needed * waste + built - 1).div_euclid(built) } else { 0 };
    Foresight {
        used: used_then + since,
        planned: finished + in_hand(goods, steps, done),
        left: (left_then - since).max(0),
        needed,
        likely: needed + wasted_too,
    }
}
