//! The plan as steps, each small enough to be done and ticked off.

use std::ops::RangeBounds;

use super::step::{StepKey, WorkStep};
use super::taper::{Marks, Taper, taper};
use super::{Goods, StepKind, Use};
use crate::roofing::catalogue::EdgeUse;
use crate::roofing::layout::{BoughtSheet, Line, LineKind, SupportPlan};
use crate::roofing::note::{Arg, Note, in_short, ranges};
use crate::roofing::plan::{EdgeRun, Plan, SlopePlan, offered_up};
use crate::roofing::roof::{Face, Hand};
use crate::units::Length;

/// Every step, in the order of work.
pub fn steps(plan: &Plan) -> Vec<WorkStep> {
    let mut steps = vec![
        once(StepKind::GetReady, Note::new("step-get-ready")),
        once(StepKind::Inspect, Note::new("step-inspect")),
    ];
    steps.extend(strip(plan));
    for (index, slope) in plan.slopes.iter().enumerate() {
        let mut on = OnSlope { plan, slope, index, steps: Vec::new() };
        on.carry();
        on.edge(EdgeUse::EavesFiller, StepKind::EavesFiller, "step-eaves-filler");
        on.square();
        let taper = taper(plan, index);
        on.taper(taper.as_ref());
        on.offcuts();
        on.cut();
        on.lay(taper.as_ref());
        on.edge(EdgeUse::WallSide, StepKind::WallSide, "step-wall-side");
        on.edge(EdgeUse::WallTop, StepKind::WallTop, "step-wall-top");
        on.edge(EdgeUse::Verge, StepKind::Verge, "step-verge");
        on.edge(EdgeUse::TopEdge, StepKind::TopEdge, "step-top-edge");
        steps.append(&mut on.steps);
    }
    steps.extend(ridge(plan));
    if plan.finials > 0 {
        let note = Note::new("step-finials").with("finials", Arg::Count(plan.finials));
        steps.push(WorkStep {
            amount: plan.finials,
            ..with_figures(StepKind::Finials, vec![plan.finials], note)
        });
    }
    steps.push(once(StepKind::LastLook, Note::new("step-last-look")));
    steps
}

fn once(kind: StepKind, note: Note) -> WorkStep {
    with_figures(kind, Vec::new(), note)
}

fn with_figures(kind: StepKind, figures: Vec<i64>, note: Note) -> WorkStep {
    WorkStep { key: StepKey { kind, slope: 0, figures }, note, uses: Vec::new(), amount: 0 }
}

fn strip(plan: &Plan) -> Option<WorkStep> {
    Some(once(StepKind::Strip, crate::roofing::plan::strip(plan)?))
}

fn ridge(plan: &Plan) -> Option<WorkStep> {
    let run = plan.edges.iter().find(|run| run.edge == EdgeUse::Ridge)?;
    let held_by = plan.slopes.first().map_or(Goods::Nails, |slope| Goods::of_fastener(slope.fixed_by));
    let nails = plan.slopes.iter().flat_map(|slope| &slope.fixings);
    let nails = whole(nails.filter(|fixing| fixing.through_edge_piece).count()) + run.own_fixings;
    let note = Note::new("work-ridge")
        .with("pieces", Arg::Count(run.pieces))
        .length("lap", run.lap)
        .with("nails", Arg::Count(nails));
    Some(WorkStep {
        uses: used([(Goods::Ridge, run.pieces), (held_by, nails)]),
        amount: run.pieces,
        ..with_figures(StepKind::Ridge, run_figures(run), note)
    })
}

fn run_figures(run: &EdgeRun) -> Vec<i64> {
    vec![run.run.um(), run.lap.um(), run.pieces]
}

fn used<const N: usize>(all: [(Goods, i64); N]) -> Vec<Use> {
    let uses = all.into_iter().filter(|(_, count)| *count > 0);
    uses.map(|(goods, count)| Use { goods, count }).collect()
}

fn whole(count: usize) -> i64 {
    i64::try_from(count).unwrap_or(i64::MAX)
}

/// The steps of one slope in the making.
struct OnSlope<'a> {
    plan: &'a Plan,
    slope: &'a SlopePlan,
    index: usize,
    steps: Vec<WorkStep>,
}

impl OnSlope<'_> {
    fn push(&mut self, kind: StepKind, figures: Vec<i64>, note: Note, uses: Vec<Use>, amount: i64) {
        let key = StepKey { slope: self.index, kind, figures };
        self.steps.push(WorkStep { key, note, uses, amount });
    }

    fn heights(&self) -> Vec<Length> {
        self.slope.lines.iter().map(|line| line.y).collect()
    }

    fn height_figures(&self) -> Vec<i64> {
        self.heights().into_iter().map(Length::um).collect()
    }

    fn carry(&mut self) {
        match &self.slope.support {
            SupportPlan::Purlins => self.purlins(None),
            SupportPlan::PurlinsOverDeck { deck, screw_length, .. } => {
                let (screw, deck) = (*screw_length, *deck);
                self.deck_repair(deck);
                if self.plan.site.insulation {
                    let size = vec![self.slope.rafter_length.um(), self.plan.site.length.value.um()];
                    self.push(StepKind::Underlay, size, Note::new("step-underlay"), Vec::new(), 0);
                }
                self.purlins(Some(screw));
                if self.plan.site.insulation {
                    let figures = self.height_figures();
                    self.push(StepKind::Insulation, figures, Note::new("step-insulation"), Vec::new(), 0);
                }
            }
            SupportPlan::ExistingDeck { deck } => {
                self.deck_repair(*deck);
                self.mark_lines();
            }
            SupportPlan::NewFullDeck { thickness, .. } => {
                let boards = self.slope.deck_boards;
                let note = Note::new("step-fit-deck").with("boards", Arg::Count(boards));
                self.push(StepKind::Deck, vec![thickness.um(), boards], note, Vec::new(), boards);
                self.mark_lines();
            }
        }
    }

    fn deck_repair(&mut self, deck: Length) {
        let note = Note::new("work-deck-repair").size("deck", deck);
        self.push(StepKind::DeckRepair, Vec::new(), note, Vec::new(), 0);
    }

    fn mark_lines(&mut self) {
        let lines = Note::new("step-mark-lines").with("lines", Arg::Lengths(self.heights()));
        let note = offered_up(self.plan, self.slope, lines);
        let figures = self.height_figures();
        let amount = whole(figures.len());
        self.push(StepKind::Lines, figures, note, Vec::new(), amount);
    }

    /// One step for each purlin. Screws are counted for the whole slope, so each purlin has its share of them.
    fn purlins(&mut self, deck_screw: Option<Length>) {
        let lines = self.slope.lines.clone();
        let rows = whole(lines.len());
        let mut below: Option<Length> = None;
        for (line, number) in lines.iter().zip(1..) {
            let share =
                |count: i64| (count * number).div_euclid(rows) - (count * (number - 1)).div_euclid(rows);
            let screws = self.slope.screws.iter();
            let uses: Vec<Use> = screws
                .map(|screws| Use { goods: Goods::of_fastener(screws.usage), count: share(screws.count) })
                .filter(|one| one.count > 0)
                .collect();
            let amount = uses.iter().map(|one| one.count).sum();
            let message = match (deck_screw.is_some(), below.is_some()) {
                (false, false) => "work-purlin-first",
                (false, true) => "work-purlin",
                (true, false) => "work-purlin-over-deck-first",
                (true, true) => "work-purlin-over-deck",
            };
            let mut note = Note::new(message)
                .with("number", Arg::Count(number))
                .with("of", Arg::Count(rows))
                .length("at", line.y)
                .with("screws", Arg::Count(amount));
            if let Some(below) = below {
                note = note.length("gap", line.y - below);
            }
            if let Some(screw) = deck_screw {
                note = note.size("screw", screw);
            }
            if line.kind == LineKind::Top {
                note = offered_up(self.plan, self.slope, note);
            }
            let screw = deck_screw.map_or(0, Length::um);
            let figures = vec![line.y.um(), self.plan.site.length.value.um(), screw];
            self.push(StepKind::Purlin, figures, note, uses, amount);
            below = Some(line.y);
        }
    }

    fn square(&mut self) {
        let Some(note) = crate::roofing::plan::square(self.plan, self.slope) else { return };
        let figures = vec![self.slope.rafter_length.um(), self.plan.site.length.value.um()];
        self.push(StepKind::Square, figures, note, Vec::new(), 0);
    }

    fn taper(&mut self, taper: Option<&Taper>) {
        let Some(taper) = taper else { return };
        let note = marks(taper);
        self.push(StepKind::Taper, vec![taper.lean.um()], note, Vec::new(), whole(taper.columns.len()));
    }

    fn offcuts(&mut self) {
        for (note, sheets) in crate::roofing::plan::offcuts(self.plan, self.index) {
            let amount = whole(sheets.len());
            let figures = sheets.into_iter().map(whole).collect();
            self.push(StepKind::Offcuts, figures, note, Vec::new(), amount);
        }
    }

    /// The sheets that are cut before the first one is laid.
    fn cut(&mut self) {
        let cut: Vec<&BoughtSheet> = self.slope.cuts.sheets.iter().filter(|sheet| sheet.cuts > 0).collect();
        if cut.is_empty() {
            return;
        }
        let numbers: Vec<usize> = cut.iter().map(|sheet| sheet.number).collect();
        let cuts: usize = cut.iter().map(|sheet| sheet.cuts).sum();
        let note = Note::new("work-cut")
            .count("sheets", cut.len())
            .text("numbers", ranges(&numbers))
            .count("cuts", cuts);
        let pieces = cut.iter().flat_map(|sheet| sheet.all_pieces().map(|piece| (sheet.number, piece)));
        let figures =
            pieces.flat_map(|(number, piece)| [whole(number), piece.length.um(), piece.corrugations]);
        let figures = figures.collect();
        self.push(StepKind::Cut, figures, note, Vec::new(), whole(cuts));
    }

    fn lay(&mut self, taper: Option<&Taper>) {
        let shift = taper.map_or(Length::ZERO, |taper| taper.shift);
        self.first_sheet(shift);
        for course in 0..self.slope.courses.len() {
            self.course(course, shift);
            self.laps(course);
            for line in self.lines_nailed_after(course) {
                self.nails(line);
            }
        }
    }

    fn first_sheet(&mut self, shift: Length) {
        let slope = self.slope;
        let Some(first) = slope.courses.first() else { return };
        let start = match slope.start_from {
            Hand::Left => "hand-left",
            Hand::Right => "hand-right",
        };
        let past = slope.verge_overhang + shift;
        let note =
            Note::new(if past > Length::ZERO { "step-first-sheet" } else { "step-first-sheet-at-a-wall" })
                .word("start", start)
                .text("mark", self.marks(0, ..1))
                .length("eaves_overhang", slope.eaves_overhang)
                .length("verge_overhang", past);
        let wide = slope.columns_of(0).first().map_or(0, |column| column.corrugations);
        let figures = vec![
            first.from.um(),
            first.to.um(),
            slope.verge_overhang.um(),
            shift.um(),
            hand(slope.start_from),
            wide,
        ];
        let uses = used([(Goods::Sheets, self.sheets_begun_in(0).min(1))]);
        self.push(StepKind::FirstSheet, figures, note, uses, 1);
    }

    /// What is written on the pieces of a course, in the order of laying.
    fn marks(&self, course: usize, which: impl RangeBounds<usize>) -> String {
        let marks = self.plan.marks(self.index, course).into_iter().enumerate();
        let marks: Vec<String> =
            marks.filter(|(place, _)| which.contains(place)).map(|(_, mark)| mark).collect();
        in_short(&marks)
    }

    /// Sheets first cut into for this course, by the cut list.
    fn sheets_begun_in(&self, course: usize) -> i64 {
        let begun = self
            .slope
            .cuts
            .sheets
            .iter()
            .filter(|sheet| sheet.pieces.iter().map(|piece| piece.course).min() == Some(course));
        whole(begun.count())
    }

    fn course(&mut self, index: usize, shift: Length) {
        let slope = self.slope;
        let Some(course) = slope.courses.get(index) else { return };
        let columns = slope.columns_of(index);
        let laid_already = usize::from(index == 0);
        let sheets = columns.len().saturating_sub(laid_already);
        if sheets == 0 {
            return;
        }
        let below = index.checked_sub(1).and_then(|below| slope.courses.get(below));
        let lap = below.map_or(Length::ZERO, |below| below.to - course.from);
        let note = Note::new(if index == 0 { "work-first-course" } else { "work-next-course" })
            .count("course", index + 1)
            .count("sheets", sheets)
            .text("marks", self.marks(index, laid_already..))
            .length("length", course.length())
            .length("from", course.from)
            .length("end_lap", lap)
            .with("side_lap", Arg::Count(slope.side_lap));
        let mut figures = vec![
            whole(index + 1),
            course.from.um(),
            course.to.um(),
            lap.um(),
            slope.side_lap,
            hand(slope.start_from),
            shift.um(),
        ];
        figures.extend(columns.iter().flat_map(|column| [column.first_corrugation, column.corrugations]));
        let begun = self.sheets_begun_in(index);
        let begun = if index == 0 { (begun - 1).max(0) } else { begun };
        self.push(StepKind::Course, figures, note, used([(Goods::Sheets, begun)]), whole(sheets));
    }

    fn laps(&mut self, index: usize) {
        let slope = self.slope;
        let Some(course) = slope.courses.get(index) else { return };
        let columns = slope.columns_of(index).len();
        let below = index.checked_sub(1).and_then(|below| slope.courses.get(below));
        let lap = below.map(|below| below.to - course.from);
        if columns < 2 && lap.is_none() {
            return;
        }
        let note = Note::new(if lap.is_some() { "work-laps" } else { "work-side-laps" })
            .count("course", index + 1)
            .length("end_lap", lap.unwrap_or_default())
            .with("side_lap", Arg::Count(slope.side_lap));
        let figures = vec![whole(index + 1), lap.map_or(0, Length::um), slope.side_lap, whole(columns)];
        self.push(StepKind::Laps, figures, note, Vec::new(), whole(columns));
    }

    /// The lines that can be nailed once this course lies: those it covers and no later course does. The top line
    /// waits for the piece over it, where there is one.
    fn lines_nailed_after(&self, index: usize) -> Vec<Line> {
        let slope = self.slope;
        let courses = &slope.courses;
        let Some(course) = courses.get(index) else { return Vec::new() };
        let next = courses.get(index + 1).map(|next| next.from);
        let from = if index == 0 { None } else { Some(course.from) };
        let lines = slope.lines.iter().filter(|line| {
            let above = from.is_none_or(|from| line.y >= from);
            above && next.is_none_or(|next| line.y < next) && !self.under_a_piece(line)
        });
        lines.copied().collect()
    }

    fn under_a_piece(&self, line: &Line) -> bool {
        line.kind == LineKind::Top
            && self.slope.fixings.iter().any(|fixing| fixing.y == line.y && fixing.through_edge_piece)
    }

    fn nails(&mut self, line: Line) {
        let slope = self.slope;
        let xs: Vec<Length> =
            slope.fixings.iter().filter(|fixing| fixing.y == line.y).map(|fixing| fixing.x).collect();
        let message = match line.kind {
            LineKind::Eaves => "work-nails-eaves",
            LineKind::EndLap => "work-nails-end-lap",
            LineKind::Intermediate => "work-nails-between",
            LineKind::Top => "work-nails-top",
        };
        let count = whole(xs.len());
        let (_, nail) = slope.nail_on(line.kind);
        let note =
            Note::new(message).length("at", line.y).with("nails", Arg::Count(count)).size("nail", nail);
        let place = xs.iter().copied().sum::<Length>().um();
        let figures = vec![line.y.um(), nail.um(), count, place];
        self.push(StepKind::Nails, figures, note, used([(Goods::of_fastener(slope.fixed_by), count)]), count);
    }

    fn edge(&mut self, edge: EdgeUse, kind: StepKind, message: &str) {
        let runs: Vec<&EdgeRun> =
            self.plan.edges.iter().filter(|run| run.edge == edge && run.slope == self.index).collect();
        if runs.is_empty() {
            return;
        }
        let pieces: i64 = runs.iter().map(|run| run.pieces).sum();
        let own: i64 = runs.iter().map(|run| run.own_fixings).sum();
        let closes_the_top = matches!(edge, EdgeUse::WallTop | EdgeUse::TopEdge);
        let through = self.slope.fixings.iter().filter(|fixing| closes_the_top && fixing.through_edge_piece);
        let nails = own + whole(through.count());
        let figures = runs.iter().flat_map(|run| run_figures(run)).collect();
        let note = Note::new("work-pieces")
            .word("what", message)
            .with("pieces", Arg::Count(pieces))
            .with("nails", Arg::Count(nails));
        self.push(
            kind,
            figures,
            note,
            used([(Goods::of_edge(edge), pieces), (Goods::of_fastener(self.slope.fixed_by), nails)]),
            pieces,
        );
    }
}

/// How each slope is laid that is out of square; with its name before it where there are two slopes.
pub fn taper_notes(plan: &Plan) -> Vec<Note> {
    let two = plan.slopes.len() > 1;
    let name = |face: &Face| match face {
        Face::Front => "answer-slope-front",
        Face::Back => "answer-slope-back",
    };
    let faces = plan.site.form.faces().iter();
    let slopes = faces.filter_map(|face| Some((name(face), taper(plan, face.index())?)));
    slopes.flat_map(|(name, taper)| two.then(|| Note::new(name)).into_iter().chain([marks(&taper)])).collect()
}

fn marks(taper: &Taper) -> Note {
    let columns = |marks: &[Marks]| {
        let columns = marks.iter().map(|marks| {
            Note::new("work-taper-column")
                .count("number", marks.number)
                .length("eaves", marks.at_eaves)
                .length("top", marks.at_top)
        });
        Arg::Notes(columns.collect())
    };
    let (a, b) = taper.to_check.unwrap_or_default();
    Note::new("work-taper")
        .length("lean", taper.lean.abs())
        .word("way", if taper.lean > Length::ZERO { "hand-right" } else { "hand-left" })
        .with("columns", columns(&taper.columns))
        .count("staggered", taper.staggered.len())
        .with("shifted", columns(&taper.staggered))
        .length("near_eaves", taper.near_at_eaves)
        .length("near_top", taper.near_at_top)
        .length("far_eaves", taper.far_at_eaves)
        .length("far_top", taper.far_at_top)
        .with("angle", Arg::Angle(taper.angle))
        .length("short", taper.short)
        .with("wider", Arg::Count(i64::from(taper.short > Length::ZERO)))
        .with("worked_out", Arg::Count(i64::from(taper.to_check.is_some())))
        .length("a", a)
        .length("b", b)
}

const fn hand(hand: Hand) -> i64 {
    match hand {
        Hand::Left => 0,
        Hand::Right => 1,
    }
}
