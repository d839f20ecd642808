//! What the work uses up, and how much of it the plan buys.

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
