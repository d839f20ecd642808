//! Every message planning may speak, with its figures: what `dialogs/words/en/plan.ftl` must have a sentence for.
//!
//! Rules bring messages of their own ([`Rule::note`](crate::roofing::rules::Rule::note)); they are the book's.

/// A message id and the figures that always come with it.
pub type Message = (&'static str, &'static [&'static str]);

const CONTRADICTION: &[&str] = &["given", "worked_out", "slip", "fact", "corrected"];
const NONE: &[&str] = &[];

/// Messages with their figures, by where they are said.
pub const MESSAGES: &[Message] = &[
    // Measurements that disagree: `slip` is a `Slip::key` or `none`; `corrected` is what `fact` would then be.
    ("contradiction-pitch-rise-slope", CONTRADICTION),
    ("contradiction-pitch-rise-span", CONTRADICTION),
    ("contradiction-slope-span-pitch", CONTRADICTION),
    ("contradiction-slope-span-rise", CONTRADICTION),
    ("contradiction-span-two-slopes", CONTRADICTION),
    ("contradiction-diagonals", CONTRADICTION),
    ("contradiction-diagonal-sides", CONTRADICTION),
    ("contradiction-diagonals-and-sides", CONTRADICTION),
    // Refusals.
    ("refused-in-doubt", &["fact"]),
    ("refused-deck-too-thin", &["deck", "least", "make_up"]),
    ("refused-deck-too-thin-in-doubt", &["deck", "least", "make_up"]),
    ("refused-no-deck-screw", &["deck", "shortest", "longest"]),
    ("refused-no-deck-board", &["least"]),
    ("refused-no-purlin-timber", NONE),
    ("refused-no-purlin-screw", &["shortest", "timber"]),
    ("refused-no-nail", &["height", "shortest", "longest"]),
    ("refused-no-sheet-screw", &["shortest"]),
    ("refused-timber-too-short", &["spacing"]),
    ("refused-sheet-does-not-fit", &["sheet"]),
    // Doubts and advice.
    ("doubt-takes-the-strict-side", &["requirement", "fact", "limit", "easier"]),
    ("doubt-deck-thickness", &["deck", "least"]),
    ("advice-existing-purlins", &["spacing", "limit"]),
    ("advice-existing-purlins-too-far-apart", &["spacing", "limit"]),
    ("advice-timbers-below-not-known", NONE),
    ("advice-deck-edges-on-timber", &["spacing"]),
    ("advice-nail-point-may-show", &["bite", "depth"]),
    ("advice-start-at-the-wall", NONE),
    ("advice-wind-not-from-a-side", NONE),
    ("advice-trim-at-the-wall", &["trim"]),
    ("advice-far-verge", &["overhang"]),
    ("advice-purlins-side-by-side", &["lower", "upper", "gap"]),
    ("advice-no-edge-piece", &["edge"]),
    ("advice-offcuts-shared", &["sheets", "saved", "spared", "at_least"]),
    ("advice-sheets-best-found", &["sheets", "at_least"]),
    ("advice-own-sheet-like", &["sheet"]),
    ("advice-ridge-heights-differ", &["front", "back"]),
    // The order of work.
    ("step-get-ready", NONE),
    ("step-inspect", NONE),
    ("step-keep-or-strip-felt", NONE),
    ("step-strip", NONE),
    ("step-front-slope", NONE),
    ("step-back-slope", NONE),
    ("step-fit-deck", &["boards"]),
    ("step-mark-lines", &["lines"]),
    ("step-underlay", NONE),
    ("step-purlins", &["lines"]),
    ("step-purlins-over-deck", &["lines", "screw"]),
    ("step-insulation", NONE),
    ("step-eaves-filler", NONE),
    ("step-square", &["along", "up", "diagonal"]),
    ("step-first-sheet", &["start", "eaves_overhang", "verge_overhang"]),
    ("step-first-sheet-at-a-wall", &["start", "eaves_overhang"]),
    ("step-first-course", &["course", "sheets", "length", "from", "end_lap", "side_lap"]),
    ("step-next-course", &["course", "sheets", "length", "from", "end_lap", "side_lap"]),
    ("step-keep-offcuts", &["pieces", "from", "sheets"]),
    ("step-use-offcuts", &["pieces", "from", "sheets"]),
    ("step-nail", &["nail", "nails"]),
    ("step-wall-side", NONE),
    ("step-wall-top", NONE),
    ("step-verge", NONE),
    ("step-top-edge", NONE),
    ("step-ridge", &["pieces", "lap"]),
    ("step-finials", &["finials"]),
    ("step-last-look", NONE),
    ("step-minding", &["step", "mind"]),
    // What a change changes; `slope` is 1 for the front one, 2 for the back one, 0 for the only one.
    ("difference-support", &["support", "slope"]),
    ("difference-requirement", &["requirement", "before", "after", "slope"]),
    ("difference-lines", &["lines", "slope"]),
    ("difference-buy-more", &["name", "count"]),
    ("difference-buy-more-lengths", &["name", "count", "length"]),
    ("difference-buy-less", &["name", "count"]),
    ("difference-buy-less-lengths", &["name", "count", "length"]),
];

/// Words that stand inside messages, and the purposes of the shopping list. Beside them stand
/// `requirement-NAME` for every requirement and `fact-NAME` for every fact, underscores as hyphens.
pub const WORDS: &[&str] = &[
    "support-purlins",
    "support-full-deck",
    "support-purlins-over-deck",
    "support-existing-deck",
    "support-new-full-deck",
    "edge-ridge",
    "edge-top-edge",
    "edge-verge",
    "edge-wall-top",
    "edge-wall-side",
    "edge-eaves-filler",
    "hand-left",
    "hand-right",
    "material-sheets",
    "material-edge-pieces",
    "material-finial",
    "material-nails",
    "material-sheet-screws",
    "material-deck-screws",
    "material-purlin-screws",
    "material-purlins",
    "material-deck",
    "material-underlay",
    "material-insulation",
];
