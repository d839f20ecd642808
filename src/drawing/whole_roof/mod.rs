//! The whole building in one view, so that a person sees what was understood. Made from the site alone: it is
//! sent before there is a plan.
//!
//! A parallel view (axonometric): the eaves run to the right, the depth of the building goes back. Roof
//! planes are true to each other; the walls are cut off by a break line, for nobody asked how high they are.

mod building;
mod names;
mod view;

use super::kit::draft::{Draft, Head, MARGIN};
use super::kit::label::{self, Label};
use super::kit::legend::{self, Entry, Sample};
use super::kit::picture::{Anchor, Picture};
use super::kit::text_width;
use super::{Captions, Kind, Words, wind};
use crate::roofing::note::{Arg, Note};
use crate::roofing::roof::{Base, Form, Hand, Site};
use building::Building;
use view::{Solid, View};

pub(super) fn draw(site: &Site, captions: &dyn Captions) -> Picture {
    let words = Words(captions);
    let building = Building::new(site);
    let key = key(site, words);
    let title = words.say("drawing-title-whole-roof");
    let mut draft = Draft::default();
    draft.title(&title);
    let said = |labels: Vec<(Solid, String)>| labels.into_iter().map(|(_, words)| words).collect::<Vec<_>>();
    // A slope with no room for its name has it on the right.
    let slopes = (0..site.slopes.len()).map(|index| words.say(super::slope_word(site.slopes.len(), index)));
    let on_the_right = said(building.right_labels(words)).into_iter().chain(slopes).collect();
    let [left, right] = [said(building.left_labels(words)), on_the_right]
        .map(|labels| labels.iter().map(|one| text_width(one)).fold(40.0, f64::max) + 2.0 * MARGIN + 24.0);
    // Long names widen the paper rather than squeeze the building out.
    let width = (Picture::SHORT_SIDE - 8.0).max(left + right + 240.0);
    let view = View::new(&building.corners(), building.from_right, left, width - left - right);
    let floor = view.bottom + 46.0;
    draft.open("building", None, building.figures());
    building.far_walls(&mut draft, &view);
    building.body(&mut draft, &view);
    building.near_walls(&mut draft, &view);
    draft.close();
    let reach = (MARGIN + Picture::LETTERING + 20.0, floor);
    let inside = building.names(&mut draft, &view, words);
    let tips = |labels: Vec<(Solid, String)>, more: Vec<Label>| {
        let plain = labels.into_iter().map(|(tip, words)| Label { tip: view.at(tip), words });
        plain.chain(more).collect::<Vec<_>>()
    };
    for (labels, x, anchor) in [
        (tips(building.left_labels(words), Vec::new()), left - 24.0, Anchor::End),
        (tips(building.right_labels(words), inside), width - right + 24.0, Anchor::Start),
    ] {
        label::dots(&mut draft, &labels);
        label::column(&mut draft, labels, x, anchor, reach);
    }
    building.length_line(&mut draft, &view, words);
    let foot = wind_row(&mut draft, site, words, width, floor);
    legend::draw(&mut draft, &key, width, foot);
    let height = foot + legend::height(&key, width) + MARGIN;
    let description = describe(site, words);
    let head = Head { kind: Kind::WholeRoof, name: Kind::WholeRoof.key().to_owned(), title, description };
    draft.finish(head, width, height)
}

/// The arrow of the prevailing wind, below the building; gives the room it took up to.
fn wind_row(draft: &mut Draft, site: &Site, words: Words, width: f64, top: f64) -> f64 {
    let Some(hand) = site.wind_from else { return top };
    wind::arrow(draft, hand, words, (MARGIN, width - MARGIN), top + Picture::LETTERING * 0.5);
    top + Picture::LETTERING + 8.0
}

/// What was understood, line by line.
fn facts(site: &Site) -> Vec<Note> {
    let mut facts = Vec::new();
    for (index, slope) in site.slopes.iter().enumerate() {
        let name = super::slope_word(site.slopes.len(), index);
        let note = Note::new("drawing-whole-slope").word("slope", name);
        facts.push(
            note.with("pitch", Arg::Angle(slope.pitch.value)).length("length", slope.rafter_length.value),
        );
    }
    facts.push(Note::new("drawing-whole-length").length("length", site.length.value));
    let spacing = site.timber_spacing.value;
    facts.push(match site.base {
        Base::Deck(thickness) => Note::new("drawing-whole-deck").length("thickness", thickness.value),
        Base::Rafters => Note::new("drawing-whole-rafters").length("spacing", spacing),
        Base::Purlins => Note::new("drawing-whole-purlins").length("spacing", spacing),
    });
    if site.insulation {
        facts.push(Note::new("drawing-whole-insulation"));
    }
    facts
}

fn key(site: &Site, words: Words) -> Vec<Entry> {
    let entry = |words| Entry { sample: Sample::Nothing, words };
    let mut entries: Vec<Entry> = facts(site).iter().map(|note| entry(words.note(note))).collect();
    entries.push(entry(words.say("drawing-whole-not-to-scale")));
    entries
}

fn describe(site: &Site, words: Words) -> String {
    let form = match site.form {
        Form::SingleSlope => "drawing-whole-form-single",
        Form::TwoSlopes => "drawing-whole-form-two",
    };
    let mut notes = vec![Note::new(form)];
    notes.extend(facts(site));
    if site.wall_top {
        notes.push(Note::new("drawing-whole-wall-top"));
    }
    for hand in &site.wall_sides {
        notes.push(Note::new(match hand {
            Hand::Left => "drawing-whole-wall-left",
            Hand::Right => "drawing-whole-wall-right",
        }));
    }
    if let Some(hand) = site.wind_from {
        notes.push(wind::note(hand));
    }
    words.lines(&notes)
}
