//! The section across the corrugations, at a purlin or nail line: the sheet's own profile, the side lap, how
//! deep the nail bites and where the screw stops.

use super::Build;
use super::panel::{Panel, Spot};
use crate::drawing::kit::picture::{Fill, Pen};
use crate::drawing::slope_view::SlopeView;
use crate::roofing::note::Note;
use crate::units::{Angle, Length};

/// Places on the curve from crown to crown.
const STEPS: i32 = 16;

pub(super) fn draw(view: &SlopeView, build: &Build) -> Panel {
    let mut panel = Panel::new("drawing-panel-across");
    let sheet = &view.plan.site.sheet;
    let (pitch, words) = (sheet.corrugation_pitch.mm(), view.words);
    let lapped = i32::try_from(view.slope.side_lap.clamp(1, 3)).unwrap_or(1);
    let waves = lapped + 2;
    let wide = pitch * f64::from(waves);
    let (seat, crown) = (build.seat().mm(), build.crown().mm());
    let slab = |low: f64, high: f64| vec![(0.0, low), (wide, low), (wide, high), (0.0, high)];
    if let Some(deck) = build.deck {
        panel.area(slab(-deck.mm(), 0.0), Fill::Deck);
        let note = Note::new("drawing-tag-boards").text("thickness", words.length(deck));
        panel.label((wide * 0.92, -deck.mm() / 2.0), note);
    }
    if build.purlin.is_some() {
        panel.area(slab(0.0, seat), Fill::Timber);
        panel.label((wide * 0.9, seat * 0.3), Note::new("drawing-tag-purlin-along"));
    }
    let profile = |from: i32, to: i32, lift: f64| -> Vec<Spot> {
        let point = |step: i32| {
            let x = pitch * f64::from(step) / f64::from(STEPS);
            let turn = Angle::from_deg_f64(360.0 * f64::from(step) / f64::from(STEPS)).unwrap_or_default();
            (x, seat + lift + build.corrugation.mm() * (1.0 - turn.cos()) / 2.0)
        };
        (from * STEPS..=to * STEPS).map(point).collect()
    };
    let several = view.slope.columns.len() > 1;
    let lower = if several { 1 + lapped } else { waves };
    panel.line(profile(0, lower, 0.0), Pen::Edge);
    if several {
        panel.line(profile(1, waves, 4.0), Pen::Edge);
        let note = Note::new("drawing-tag-side-lap")
            .with("lap", crate::roofing::note::Arg::Count(view.slope.side_lap));
        panel.label((pitch * 1.5, crown + 4.0), note);
    }
    let point = crown - view.slope.nail_length.mm();
    for x in [pitch * 0.5, wide - pitch * 0.5] {
        panel.line(vec![(x, crown + 3.0), (x, point)], Pen::Edge);
        panel.line(vec![(x - 7.0, crown + 3.0), (x + 7.0, crown + 3.0)], Pen::Edge);
    }
    let nail = Note::new("drawing-tag-nail").text("length", words.length(view.slope.nail_length));
    panel.label((wide - pitch * 0.5, crown + 3.0), nail);
    let beside = wide - pitch * 0.5 + 16.0;
    let through = build.corrugation + build.sheet;
    let bite = Note::new("drawing-tag-bite").text("bite", words.length(view.slope.nail_length - through));
    panel.measure((beside, point), (beside, seat), bite);
    let height = Note::new("drawing-tag-sheet").text("height", words.length(build.corrugation));
    panel.measure((wide + 14.0, seat), (wide + 14.0, seat + build.corrugation.mm()), height);
    screw(&mut panel, view, build, pitch);
    panel
}

/// A screw from inside, through the deck into the purlin.
fn screw(panel: &mut Panel, view: &SlopeView, build: &Build, pitch: f64) {
    let (Some(deck), Some(screw), Some(cover)) = (build.deck, build.deck_screw, build.screw_cover()) else {
        return;
    };
    let (x, head) = (pitch, -deck.mm());
    let point = head + screw.mm();
    panel.line(vec![(x, head), (x, point)], Pen::Edge);
    panel.line(vec![(x - 6.0, head - 2.0), (x + 6.0, head - 2.0)], Pen::Edge);
    for turn in 1..=4 {
        let y = point - (point - head) * f64::from(turn) * 0.18;
        panel.line(vec![(x - 3.0, y - 2.0), (x + 3.0, y + 2.0)], Pen::Fine);
    }
    let length = |message: &str, length: Length| Note::new(message).text("length", view.words.length(length));
    panel.label((x, head - 2.0), length("drawing-tag-screw", screw));
    panel.measure((x + 12.0, point), (x + 12.0, build.seat().mm()), length("drawing-tag-screw-cover", cover));
}
