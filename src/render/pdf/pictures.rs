//! Pictures on pages: as many on a page as can be read there, and then as large as they fit.

use std::ops::Range;

use super::flow::{BODY, Flow, MARGIN, Mark, Part, Role};
use crate::drawing::picture::Picture;

/// Lettering on paper, in points, from the largest: the first that fits is taken. The last is the smallest that
/// is read with ease.
const LETTERING: [f32; 7] = [11.0, 10.5, 10.0, 9.5, 9.0, 8.5, 8.0];
/// A picture's own lettering.
const DRAWN: f32 = 20.0;

impl Flow<'_> {
    /// Pictures that follow one another. Those of one page have lettering of one size.
    pub(super) fn pictures(&mut self, shown: &[&Picture], mut rest: Range<usize>) {
        let mut shown = shown.iter();
        while !rest.is_empty() {
            let (few, points) = self.page_of(rest.clone());
            if few == 0 {
                self.new_page();
                continue;
            }
            for index in rest.by_ref().take(few) {
                let (width, height) = self.picture_size(index, points);
                let leaf = self.leaf();
                let x = MARGIN + (self.room() - width) / 2.0;
                self.put(Some(leaf), Mark::Picture { index, x, y: self.y, width, height });
                let said = shown.next().map(|picture| picture.description.clone()).unwrap_or_default();
                self.out.parts.push(Part::leaf(Role::Figure(said), leaf));
                self.y += height + GAP;
            }
        }
    }

    /// How many of these pictures fit on what is left of the page, and with what lettering.
    fn page_of(&self, pictures: Range<usize>) -> (usize, f32) {
        let [.., smallest] = LETTERING;
        let room = self.floor() - self.y;
        let tall = |few: usize, points: f32| {
            let heights = pictures.clone().take(few).map(|index| self.picture_size(index, points).1 + GAP);
            heights.sum::<f32>() - GAP
        };
        let fitting = (1..=pictures.len()).take_while(|few| tall(*few, smallest) <= room).last();
        // On an empty page one always fits: it is made as small as it must.
        let few = fitting.unwrap_or(usize::from(self.y <= MARGIN));
        let points = LETTERING.into_iter().find(|points| tall(few, *points) <= room);
        (few, points.unwrap_or(smallest))
    }

    /// As large as its lettering asks for, where the page is that large.
    fn picture_size(&self, index: usize, points: f32) -> (f32, f32) {
        let Some(tree) = self.trees.get(index) else { return (0.0, 0.0) };
        let (width, height) = (tree.size().width(), tree.size().height());
        let scale = (points / DRAWN).min(self.room() / width).min((self.floor() - MARGIN) / height);
        (width * scale, height * scale)
    }

    /// The least height a picture takes.
    pub(super) fn least_height(&self, index: usize) -> f32 {
        let [.., smallest] = LETTERING;
        self.picture_size(index, smallest).1
    }
}

/// Between one picture and the next.
const GAP: f32 = BODY * 1.6;
