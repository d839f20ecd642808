//! Tables: columns in shares of the width, headings again on every page.

use super::flow::{BODY, Flow, LEADING, MARGIN, Mark, Part, Role};
use super::typeface::Cut;
use crate::drawing::document::{Holds, TableColumn};

/// Lettering in tables.
const SIZE: f32 = 9.0;
/// Between columns.
const GUTTER: f32 = 8.0;
/// Under the words of a row, down to its rule.
const PAD: f32 = 4.5;
/// As tall as handwriting needs.
const BOX: f32 = 24.0;

/// A column's place on the page.
#[derive(Clone, Copy)]
struct Place {
    x: f32,
    room: f32,
    holds: Holds,
}

/// A row broken into lines: each cell's, and how tall they make it.
struct Row {
    cells: Vec<Vec<String>>,
    cut: Cut,
    height: f32,
}

impl Flow<'_> {
    /// Two columns without a heading: what, and what it is.
    pub(super) fn facts(&mut self, facts: &[(String, String)]) {
        let width = self.room();
        let places = [
            Place { x: MARGIN, room: width * 0.38 - GUTTER, holds: Holds::Words },
            Place { x: MARGIN + width * 0.38, room: width * 0.62, holds: Holds::Words },
        ];
        let mut parts = Vec::new();
        for (what, is) in facts {
            let row = self.set(&places, &[what, is], Cut::Regular);
            self.need(row.height);
            parts.push(self.row(&places, &row, &[Role::HeadCell, Role::Cell]));
        }
        self.close_table(parts);
    }

    /// A table with headings.
    pub(super) fn table(&mut self, columns: &[TableColumn], rows: &[Vec<String>]) {
        let all: f32 = columns.iter().map(|column| f32::from(column.share)).sum();
        let mut places = Vec::new();
        let mut x = MARGIN;
        for column in columns {
            let wide = self.room() * f32::from(column.share) / all.max(1.0);
            // A box stands well clear of the figures before it.
            let clear = if column.holds == Holds::Boxes { GUTTER } else { 0.0 };
            places.push(Place { x: x + clear, room: wide - GUTTER - clear, holds: column.holds });
            x += wide;
        }
        // What stands at the right margin ends there.
        if let Some(last) = places.last_mut() {
            last.room += GUTTER;
        }
        let heads: Vec<&String> = columns.iter().map(|column| &column.head).collect();
        let heads = self.set(&places, &heads, Cut::Bold);
        let rows: Vec<Row> =
            rows.iter().map(|row| self.set(&places, &row.iter().collect::<Vec<_>>(), Cut::Regular)).collect();
        self.need(heads.height + rows.first().map_or(0.0, |row| row.height));
        let mut parts = vec![self.row(&places, &heads, &vec![Role::HeadCell; places.len()])];
        for row in &rows {
            if self.need(row.height) {
                // Seen again, heard once: the table is one table to those who hear it.
                self.repeat(&places, &heads);
            }
            parts.push(self.row(&places, row, &vec![Role::Cell; places.len()]));
        }
        self.close_table(parts);
    }

    fn close_table(&mut self, rows: Vec<Part>) {
        self.out.parts.push(Part::group(Role::Table, rows));
        self.y += BODY;
    }

    fn set(&self, places: &[Place], cells: &[&String], cut: Cut) -> Row {
        let face = self.typefaces.cut(cut);
        let cells: Vec<Vec<String>> =
            places.iter().zip(cells).map(|(place, words)| face.lines(words, SIZE, place.room)).collect();
        let mut most: f32 = 0.0;
        for cell in &cells {
            most = most.max(cell.iter().map(|_| SIZE * LEADING).sum());
        }
        let is_filled_in = cut == Cut::Regular && places.iter().any(|place| place.holds == Holds::Boxes);
        let least = if is_filled_in { BOX } else { 0.0 };
        Row { cells, cut, height: (most + PAD).max(least) }
    }

    fn row(&mut self, places: &[Place], row: &Row, roles: &[Role]) -> Part {
        let mut parts = Vec::new();
        for ((place, lines), role) in places.iter().zip(&row.cells).zip(roles) {
            let leaf = self.leaf();
            self.cell(*place, lines, row, Some(leaf));
            parts.push(Part::leaf(role.clone(), leaf));
        }
        self.end_row(row);
        Part::group(Role::Row, parts)
    }

    fn repeat(&mut self, places: &[Place], heads: &Row) {
        for (place, lines) in places.iter().zip(&heads.cells) {
            self.cell(*place, lines, heads, None);
        }
        self.end_row(heads);
    }

    fn end_row(&mut self, row: &Row) {
        self.y += row.height;
        let (x, y, width) = (MARGIN, self.y - PAD / 2.0, self.room());
        self.put(None, Mark::Rule { x, y, width, is_heavy: row.cut == Cut::Bold });
    }

    fn cell(&mut self, place: Place, lines: &[String], row: &Row, leaf: Option<usize>) {
        let face = self.typefaces.cut(row.cut);
        if place.holds == Holds::Boxes && row.cut == Cut::Regular {
            let frame = Mark::Frame { x: place.x, y: self.y, width: place.room, height: row.height - PAD };
            self.put(None, frame);
        }
        let mut y = self.y + SIZE;
        for words in lines {
            let ends_right = place.holds == Holds::Figures;
            let x = if ends_right { place.x + place.room - face.width(words, SIZE) } else { place.x };
            self.put(leaf, Mark::Words { x, y, size: SIZE, cut: row.cut, words: words.clone() });
            y += SIZE * LEADING;
        }
    }
}
