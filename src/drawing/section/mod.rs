//! Drawing 4: sections through the eaves, through the top and across the corrugations, each true to its own
//! scale: what lies on what, how far, and where nails and screws end.

mod across;
mod along;
mod panel;

use super::Kind;
use super::kit::draft::{Draft, MARGIN};
use super::kit::label::LINE;
use super::kit::legend::{self, Entry, Sample};
use super::kit::picture::{Fill, Hatch, Pen, Picture};
use super::slope_view::SlopeView;
use crate::roofing::catalogue::{AreaPiece, AreaUse};
use crate::roofing::layout::SupportPlan;
use crate::roofing::note::Note;
use crate::units::Length;
use panel::Panel;

const WIDTH: f64 = Picture::SHORT_SIDE - 8.0;

pub(super) fn draw(view: &SlopeView) -> Picture {
    let build = Build::of(view);
    let panels = [along::eaves(view, &build), along::top(view, &build), across::draw(view, &build)];
    let head = view.head(Kind::Section, "drawing-title-section", &describe(view, &build, &panels));
    let mut draft = Draft::default();
    draft.title(&head.title);
    let mut y = MARGIN + LINE + 14.0;
    // One width for all, so that labels stand in one column.
    let drawn_width = panels.iter().map(|panel| panel.drawn_width(view.words, WIDTH)).fold(WIDTH, f64::min);
    for panel in &panels {
        y = panel.put(&mut draft, view.words, y, drawn_width);
    }
    let key = key(view, &build);
    legend::draw(&mut draft, &key, WIDTH, y);
    draft.finish(head, WIDTH, y + legend::height(&key, WIDTH))
}

/// What lies on what, seen along or across the slope. Heights count from the top of rafters or boards.
struct Build<'a> {
    /// Boards under it all, where there are any.
    deck: Option<Length>,
    /// Purlins: width and depth.
    purlin: Option<(Length, Length)>,
    /// Membrane and boards between the purlins.
    underlay: bool,
    insulation: Option<&'a AreaPiece>,
    /// A screw from inside through the deck.
    deck_screw: Option<Length>,
    /// Trough to crown.
    corrugation: Length,
    /// Through one sheet.
    sheet: Length,
}

impl<'a> Build<'a> {
    fn of(view: &SlopeView<'a>) -> Self {
        let (deck, deck_screw) = match &view.slope.support {
            SupportPlan::Purlins => (None, None),
            SupportPlan::PurlinsOverDeck { deck, screw_length, .. } => (Some(*deck), Some(*screw_length)),
            SupportPlan::ExistingDeck { deck } => (Some(*deck), None),
            SupportPlan::NewFullDeck { thickness, .. } => (Some(*thickness), None),
        };
        let bought = |usage: AreaUse| {
            let lines = &view.plan.materials.lines;
            let areas = view.catalogue.areas.iter().filter(move |piece| piece.usage == usage);
            areas.into_iter().find(|piece| lines.iter().any(|line| line.item == piece.item.id))
        };
        let over_deck = deck_screw.is_some();
        Self {
            deck,
            purlin: view.timber().map(|timber| (timber.width, timber.depth)),
            underlay: over_deck && bought(AreaUse::Underlay).is_some(),
            insulation: bought(AreaUse::Insulation).filter(|_| over_deck),
            deck_screw,
            corrugation: view.plan.site.sheet.corrugation_height,
            sheet: view.plan.site.sheet.thickness,
        }
    }

    /// Height of what the sheet lies on.
    fn seat(&self) -> Length {
        self.purlin.map_or(Length::ZERO, |(_, depth)| depth)
    }

    /// Height of the corrugations' crowns, where nails go in.
    fn crown(&self) -> Length {
        self.seat() + self.corrugation + self.sheet
    }

    /// How far a screw's point stays under the purlin's top.
    fn screw_cover(&self) -> Option<Length> {
        Some(self.seat() + self.deck? - self.deck_screw?)
    }
}

fn key(view: &SlopeView, build: &Build) -> Vec<Entry> {
    let words = view.words;
    let area = |fill, message| Entry { sample: Sample::Area(fill), words: words.say(message) };
    let mut key = vec![area(Fill::Sheet, "drawing-key-sheet")];
    if build.purlin.is_some() || build.deck.is_none() {
        key.push(area(Fill::Timber, "drawing-key-timber-cut"));
    }
    if build.deck.is_some() {
        key.push(area(Fill::Deck, "drawing-key-boards"));
    }
    if build.insulation.is_some() {
        key.push(area(Fill::Hatch(Hatch::Insulation), "drawing-key-insulation"));
    }
    if build.underlay {
        key.push(Entry { sample: Sample::Line(Pen::Hidden), words: words.say("drawing-key-underlay") });
    }
    key.extend(words.unit());
    key
}

fn describe(view: &SlopeView, build: &Build, panels: &[Panel]) -> Vec<Note> {
    let mut notes = vec![match (build.deck, build.purlin) {
        (Some(deck), Some(_)) => Note::new("drawing-says-purlins-on-deck").length("deck", deck),
        (Some(deck), None) => Note::new("drawing-says-deck").length("deck", deck),
        (None, Some(_) | None) => Note::new("drawing-says-on-purlins"),
    }];
    for panel in panels {
        notes.push(Note::new("drawing-says-panel").word("panel", panel.title));
        notes.extend(panel.labels.iter().map(|label| label.note.clone()));
    }
    notes.push(
        Note::new("drawing-says-nail")
            .length("length", view.slope.nail_length)
            .length("bite", view.slope.least_bite()),
    );
    notes
}
