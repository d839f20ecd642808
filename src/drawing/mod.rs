//! Drawings of a roof and its plan, as neutral pictures.
//!
//! Everything drawn comes from the site or from a plan that passed every check; no sentence stands here, all
//! words come through [`Captions`]. What a picture is made of is in [`picture`]; how it becomes a file is
//! `render`'s business. Conventions of our own: eaves at the bottom, `x` from the left as seen by somebody
//! facing the eaves, line kinds after ISO 128, dimensions after ISO 129-1.

mod cut_diagram;
mod cut_list;
pub mod document;
mod fixing_pattern;
mod kit;
mod section;
mod setting_out;
mod sheets;
mod slope_view;
mod whole_roof;
mod wind;

use crate::roofing::note::Note;
use crate::roofing::plan::{Plan, SlopePlan};
use crate::roofing::roof::Site;
use crate::units::Length;

pub use cut_list::{CutRow, TimberCut, cut_list, timber_cuts};
use kit::legend::{Entry, Sample};
pub use kit::picture;
use picture::Picture;
use slope_view::SlopeView;

/// The words and figures of drawings, in the person's language and units.
pub trait Captions {
    /// A message with its figures filled in.
    fn say(&self, note: &Note) -> String;

    /// A length as it stands on a dimension line.
    fn length(&self, length: Length) -> String;

    /// The message that names the unit of those lengths, where they don't carry it themselves.
    fn unit(&self) -> Option<&'static str>;
}

/// Which drawing a picture is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Kind {
    /// One slope in plan with its purlins or nail lines.
    SettingOut,
    /// One slope with its sheets in laying order.
    Sheets,
    /// One slope with every fixing.
    FixingPattern,
    /// Sections through eaves, ridge and fixing.
    Section,
    /// Bought sheets with the pieces cut from them.
    CutDiagram,
    /// The whole building.
    WholeRoof,
}

impl Kind {
    /// Every kind, in the order of a plan's drawings.
    pub const ALL: [Self; 6] = [
        Self::SettingOut,
        Self::Sheets,
        Self::FixingPattern,
        Self::Section,
        Self::CutDiagram,
        Self::WholeRoof,
    ];

    /// Its name in file names and programs.
    pub const fn key(self) -> &'static str {
        match self {
            Self::SettingOut => "setting-out",
            Self::Sheets => "sheets",
            Self::FixingPattern => "fixing-pattern",
            Self::Section => "section",
            Self::CutDiagram => "cut-diagram",
            Self::WholeRoof => "whole-roof",
        }
    }
}

/// The words as drawings ask for them.
#[derive(Clone, Copy)]
struct Words<'a>(&'a dyn Captions);

impl Words<'_> {
    fn say(self, message: &str) -> String {
        self.0.say(&Note::new(message))
    }

    fn note(self, note: &Note) -> String {
        self.0.say(note)
    }

    fn length(self, length: Length) -> String {
        self.0.length(length)
    }

    /// For the key: the unit of every bare figure.
    fn unit(self) -> Option<Entry> {
        let message = self.0.unit()?;
        Some(Entry { sample: Sample::Nothing, words: self.say(message) })
    }

    /// A text version: one line a message.
    fn lines(self, notes: &[Note]) -> String {
        notes.iter().map(|note| self.note(note)).collect::<Vec<_>>().join("\n")
    }
}

/// The message that names a slope.
const fn slope_word(slopes: usize, index: usize) -> &'static str {
    match (slopes, index) {
        (1, _) => "drawing-slope",
        (_, 0) => "drawing-slope-front",
        (_, _) => "drawing-slope-back",
    }
}

/// The building as understood from the answers, before there is a plan.
pub fn whole_roof(site: &Site, captions: &dyn Captions) -> Picture {
    whole_roof::draw(site, captions)
}

/// Every drawing of a plan, in the order of [`Kind::ALL`], the front slope before the back one.
///
/// Where both slopes come to the same, one drawing serves both and says so. Each carries by what the plan
/// was made.
pub fn of_plan(plan: &Plan, captions: &dyn Captions) -> Vec<Picture> {
    Kind::ALL.into_iter().flat_map(|kind| of_kind(plan, kind, captions)).collect()
}

/// The drawings of one kind: one for the whole roof, or one for each slope, or more where one has no room.
pub fn of_kind(plan: &Plan, kind: Kind, captions: &dyn Captions) -> Vec<Picture> {
    let words = Words(captions);
    let both = alike(plan, kind);
    let drawn = if both { 1 } else { plan.slopes.len() };
    let view = |(index, slope)| SlopeView { plan, slope, index, both, catalogue: &plan.goods, words };
    let views = plan.slopes.iter().enumerate().take(drawn).map(view);
    let mut pictures: Vec<Picture> = match kind {
        Kind::SettingOut => views.map(|view| setting_out::draw(&view)).collect(),
        Kind::Sheets => views.map(|view| sheets::draw(&view)).collect(),
        Kind::FixingPattern => views.map(|view| fixing_pattern::draw(&view)).collect(),
        Kind::Section => views.map(|view| section::draw(&view)).collect(),
        Kind::CutDiagram => views.flat_map(|view| cut_diagram::draw(&view)).collect(),
        Kind::WholeRoof => vec![whole_roof(&plan.site, captions)],
    };
    for picture in &mut pictures {
        picture.made = Some(plan.made.label());
    }
    pictures
}

/// Whether a drawing of the front slope would show the back one just as well.
fn alike(plan: &Plan, kind: Kind) -> bool {
    let ([front, back], [front_site, back_site]) = (plan.slopes.as_slice(), plan.site.slopes.as_slice())
    else {
        return false;
    };
    match kind {
        Kind::SettingOut => {
            let set_out =
                |slope: &SlopePlan| (slope.lines.clone(), slope.courses.clone(), slope.purlin_pieces.clone());
            set_out(front) == set_out(back) && front.support == back.support
        }
        // Every piece of either slope has a mark of its own.
        Kind::Sheets | Kind::CutDiagram => false,
        // The wind puts the start of laying at opposite hands, so that even equal slopes may differ here.
        Kind::FixingPattern => {
            let nailed =
                |slope: &SlopePlan| (slope.fixings.clone(), slope.lines.clone(), slope.columns.clone());
            nailed(front) == nailed(back) && front.nail == back.nail && front.staggered == back.staggered
        }
        Kind::Section => {
            let ends = |slope: &SlopePlan| (slope.lines.first().copied(), slope.lines.last().copied());
            front_site == back_site && ends(front) == ends(back) && front.support == back.support
        }
        Kind::WholeRoof => true,
    }
}
