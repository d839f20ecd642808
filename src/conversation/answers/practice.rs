//! What goes by the book's figures of good practice: weather, ladders, the life of the sheets.

use super::Roof;
use crate::roofing::note::{Arg, Note};
use crate::roofing::rules::{Figure, Practice};

impl Roof<'_> {
    /// A figure of good practice.
    pub(super) fn practice(&self, figure: Figure) -> Option<&Practice> {
        self.book.rules.practice(figure)
    }

    fn celsius(&self, figure: Figure) -> Option<Arg> {
        Some(Arg::Count(self.practice(figure)?.temperature().celsius()))
    }

    fn mph(&self) -> Option<Arg> {
        Some(Arg::Count(self.practice(Figure::WindMost)?.speed().mph()))
    }

    fn years(&self, figure: Figure) -> Option<Arg> {
        Some(Arg::Count(self.practice(figure)?.count()))
    }
}

pub(super) fn wind(roof: &Roof<'_>) -> Vec<Note> {
    let limit = roof.mph().map(|wind| Note::new("answer-wind-stop-work-limit").with("wind", wind));
    [Note::new("answer-wind-stop-work")].into_iter().chain(limit).collect()
}

pub(super) fn hot(roof: &Roof<'_>) -> Vec<Note> {
    let hottest = roof.celsius(Figure::LayHottest);
    hottest.map(|hottest| Note::new("answer-hot-weather").with("hottest", hottest)).into_iter().collect()
}

pub(super) fn cold(roof: &Roof<'_>) -> Vec<Note> {
    let coldest = roof.celsius(Figure::LayColdest);
    coldest.map(|coldest| Note::new("answer-cold-and-frost").with("coldest", coldest)).into_iter().collect()
}

pub(super) fn season_more(roof: &Roof<'_>) -> Vec<Note> {
    let range = roof.celsius(Figure::LayColdest).zip(roof.celsius(Figure::LayHottest)).zip(roof.mph());
    let note = range.map(|((coldest, hottest), wind)| {
        Note::new("answer-best-season-more")
            .with("coldest", coldest)
            .with("hottest", hottest)
            .with("wind", wind)
    });
    note.into_iter().collect()
}

pub(super) fn life(roof: &Roof<'_>) -> Vec<Note> {
    let years = roof.years(Figure::LifeLeast).zip(roof.years(Figure::LifeMost));
    let note =
        years.map(|(least, most)| Note::new("answer-sheet-life").with("least", least).with("most", most));
    note.into_iter().collect()
}

pub(super) fn ladder(roof: &Roof<'_>) -> Vec<Note> {
    let rule = roof.practice(Figure::LadderOverEdge).zip(roof.practice(Figure::LadderOneIn));
    let note = rule.map(|(over, one_in)| {
        Note::new("answer-ladder-length")
            .length("over", over.length())
            .with("one_in", Arg::Count(one_in.count()))
    });
    note.into_iter().collect()
}
