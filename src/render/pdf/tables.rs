//! Tables: columns in shares of the width, headings again on every page.

use super::flow::{BODY, Flow, LEADING, MARGIN, Mark, Part, Role};
use super::typeface::Cut;
use crate::drawing::document::TableColumn;

/// Lettering in tables.
const SIZE: f32 = 9.0;
/// Between columns.
const GUTTER: f32 = 8.0;

/// A column's place on the page.
#[derive(Clone, Copy)]
struct Place {
    x: f32,
    room: f32,
    figures: bool,
}

impl Flow<'_> {
    /// Two columns without a heading: what, and what it is.
    pub(super) fn facts(&mut self, facts: &[(String, String)]) {
        let width = self.room();
        let places = [
            Place { x: MARGIN, room: width * 0.38 - GUTTER, figures: false },
            Place { x: MARGIN + width * 0.38, room: width * 0.62, figures: false },
        ];
        let mut rows = Vec::new();
        for (what, is) in facts {
            let cells = [(what.as_str(), Role::HeadCell), (is.as_str(), Role::Cell)];
            rows.push(self.row(&places, &cells, Cut::Regular));
        }
        self.close_table(rows);
    }

    /// A table with headings.
    pub(super) fn table(&mut self, columns: &[TableColumn], rows: &[Vec<String>]) {
        let all: f32 = columns.iter().map(|column| f32::from(column.share)).sum();
        let mut places = Vec::new();
        let mut x = MARGIN;
        for column in columns {
            let wide = self.room() * f32::from(column.share) / all.max(1.0);
            places.push(Place { x, room: wide - GUTTER, figures: column.figures });
            x += wide;
        }
        let heads: Vec<(&str, Role)> =
            columns.iter().map(|column| (column.head.as_str(), Role::HeadCell)).collect();
        let mut parts = vec![self.row(&places, &heads, Cut::Bold)];
        for row in rows {
            let cells: Vec<(&str, Role)> = row.iter().map(|cell| (cell.as_str(), Role::Cell)).collect();
            if self.need(self.row_height(&places, &cells, Cut::Regular)) {
                // Seen again, heard once: the table is one table to those who hear it.
                self.repeat(&places, &heads);
            }
            parts.push(self.row(&places, &cells, Cut::Regular));
        }
        self.close_table(parts);
    }

    fn close_table(&mut self, rows: Vec<Part>) {
        self.out.parts.push(Part::group(Role::Table, rows));
        self.y += BODY;
    }

    fn row_height(&self, places: &[Place], cells: &[(&str, Role)], cut: Cut) -> f32 {
        let lines = |(place, (words, _)): (&Place, &(&str, Role))| {
            let mut height = 0.0;
            for _ in self.typefaces.cut(cut).lines(words, SIZE, place.room) {
                height += SIZE * LEADING;
            }
            height
        };
        places.iter().zip(cells).map(lines).fold(SIZE * LEADING, f32::max) + 5.0
    }

    fn row(&mut self, places: &[Place], cells: &[(&str, Role)], cut: Cut) -> Part {
        self.need(self.row_height(places, cells, cut));
        let mut parts = Vec::new();
        for (index, (words, role)) in cells.iter().enumerate() {
            let Some(place) = places.get(index) else { continue };
            let leaf = self.leaf();
            self.cell(*place, words, cut, Some(leaf));
            parts.push(Part::leaf(role.clone(), leaf));
        }
        self.end_row(places, cells, cut);
        Part::group(Role::Row, parts)
    }

    fn repeat(&mut self, places: &[Place], heads: &[(&str, Role)]) {
        for (place, (words, _)) in places.iter().zip(heads) {
            self.cell(*place, words, Cut::Bold, None);
        }
        self.end_row(places, heads, Cut::Bold);
    }

    fn end_row(&mut self, places: &[Place], cells: &[(&str, Role)], cut: Cut) {
        self.y += self.row_height(places, cells, cut);
        let (x, y, width) = (MARGIN, self.y - 3.0, self.room());
        self.put(None, Mark::Rule { x, y, width });
    }

    fn cell(&mut self, place: Place, words: &str, cut: Cut, leaf: Option<usize>) {
        let face = self.typefaces.cut(cut);
        let mut y = self.y + SIZE;
        for words in face.lines(words, SIZE, place.room) {
            let x = if place.figures { place.x + place.room - face.width(&words, SIZE) } else { place.x };
            self.put(leaf, Mark::Words { x, y, size: SIZE, cut, words });
            y += SIZE * LEADING;
        }
    }
}
