//! Laying out: blocks become marks on pages, and a tree that says what each mark is part of.
//!
//! # Units
//! Points of 1/72 inch, `x` to the right and `y` down from the top left of the page.

use resvg::usvg::Tree;

use super::typeface::{Cut, Typefaces};
use crate::drawing::document::{Block, Document, Paper};
use crate::drawing::picture::Picture;

/// One mark.
#[derive(Debug)]
pub(super) enum Mark {
    /// A line of words; `y` is its baseline.
    Words { x: f32, y: f32, size: f32, cut: Cut, words: String },
    /// A thin rule, or one that parts a heading from what it heads.
    Rule { x: f32, y: f32, width: f32, is_heavy: bool },
    /// An empty frame.
    Frame { x: f32, y: f32, width: f32, height: f32 },
    /// A picture by its index.
    Picture { index: usize, x: f32, y: f32, width: f32, height: f32 },
}

/// A mark and the leaf of the tree it belongs to; none for what is mere decoration.
#[derive(Debug)]
pub(super) struct Placed {
    pub(super) leaf: Option<usize>,
    pub(super) mark: Mark,
}

/// What a part of a document is, for those who hear it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Role {
    Heading(u16, String),
    Paragraph,
    List { numbered: bool },
    Entry,
    EntryLabel,
    EntryBody,
    Table,
    Row,
    HeadCell,
    Cell,
    Figure(String),
}

/// One part of the tree: either marks or further parts.
#[derive(Debug)]
pub(super) struct Part {
    pub(super) role: Role,
    pub(super) leaf: Option<usize>,
    pub(super) parts: Vec<Part>,
}

impl Part {
    /// A part that is the marks of a leaf.
    pub(super) const fn leaf(role: Role, leaf: usize) -> Self {
        Self { role, leaf: Some(leaf), parts: Vec::new() }
    }

    /// A part that is made of parts.
    pub(super) const fn group(role: Role, parts: Vec<Part>) -> Self {
        Self { role, leaf: None, parts }
    }
}

/// A laid-out document.
#[derive(Debug)]
pub(super) struct Pages {
    pub(super) size: (f32, f32),
    /// What is on each page.
    pub(super) sheets: Vec<Vec<Placed>>,
    pub(super) parts: Vec<Part>,
    pub(super) leaves: usize,
    /// Headings with their page and height, for the outline.
    pub(super) outline: Vec<(String, usize, f32)>,
}

pub(super) const MARGIN: f32 = 51.0;
const FOOT: f32 = 40.0;
pub(super) const BODY: f32 = 10.0;
const SMALL: f32 = 8.0;
/// From baseline to baseline, against the size.
pub(super) const LEADING: f32 = 1.38;

pub(super) struct Flow<'a> {
    document: &'a Document,
    pub(super) typefaces: &'a Typefaces,
    pub(super) trees: &'a [Tree],
    pub(super) out: Pages,
    pub(super) y: f32,
}

impl<'a> Flow<'a> {
    pub(super) fn new(document: &'a Document, typefaces: &'a Typefaces, trees: &'a [Tree]) -> Self {
        let size = match document.paper {
            Paper::A4 => (595.28, 841.89),
            Paper::Letter => (612.0, 792.0),
        };
        let out = Pages { size, sheets: vec![Vec::new()], parts: Vec::new(), leaves: 0, outline: Vec::new() };
        Self { document, typefaces, trees, out, y: MARGIN }
    }

    /// Every block, then the foot of every page.
    pub(super) fn run(mut self) -> Pages {
        self.heading(&self.document.title.clone(), 1, 20.0);
        let mut rest = self.document.blocks.as_slice();
        let mut drawn = 0;
        while let [block, after @ ..] = rest {
            let row: Vec<&Picture> = rest.iter().map_while(picture).collect();
            if row.is_empty() {
                self.block(block, after, drawn);
                rest = after;
            } else {
                self.pictures(&row, drawn..drawn + row.len());
                drawn += row.len();
                rest = rest.get(row.len()..).unwrap_or_default();
            }
        }
        self.feet();
        self.out
    }

    /// A block that is no picture; `drawn` pictures came before it.
    fn block(&mut self, block: &Block, after: &[Block], drawn: usize) {
        match block {
            Block::Heading(words) => {
                self.need(34.0 + self.least_after(after, drawn));
                self.heading(words, 2, 14.0);
            }
            Block::Subheading(words) => {
                self.need(26.0 + self.least_after(after, drawn));
                self.heading(words, 3, 11.0);
            }
            Block::Paragraph(words) => self.paragraph(words, BODY, Cut::Regular),
            Block::Small(words) => self.paragraph(words, SMALL, Cut::Regular),
            Block::Notice(words) => self.notice(words),
            Block::List(entries) => self.list(entries, false),
            Block::Steps(entries) => self.list(entries, true),
            Block::Facts(facts) => self.facts(facts),
            Block::Table { columns, rows } => self.table(columns, rows),
            Block::Picture(_) => {}
            Block::NewPage => self.new_page(),
        }
    }

    pub(super) fn room(&self) -> f32 {
        self.out.size.0 - 2.0 * MARGIN
    }

    pub(super) fn floor(&self) -> f32 {
        self.out.size.1 - MARGIN - FOOT
    }

    /// A new page, unless this one is still empty.
    pub(super) fn new_page(&mut self) {
        if self.out.sheets.last().is_some_and(|page| !page.is_empty()) {
            self.out.sheets.push(Vec::new());
        }
        self.y = MARGIN;
    }

    /// A new page where `height` does not fit on this one.
    pub(super) fn need(&mut self, height: f32) -> bool {
        let breaks = self.y + height > self.floor() && self.y > MARGIN;
        if breaks {
            self.new_page();
        }
        breaks
    }

    pub(super) fn put(&mut self, leaf: Option<usize>, mark: Mark) {
        if let Some(page) = self.out.sheets.last_mut() {
            page.push(Placed { leaf, mark });
        }
    }

    pub(super) fn leaf(&mut self) -> usize {
        self.out.leaves += 1;
        self.out.leaves - 1
    }

    /// Words in lines from `x` on, breaking to a new page where they must; gives the leaf they belong to.
    pub(super) fn words(&mut self, words: &str, x: f32, room: f32, size: f32, cut: Cut) -> usize {
        let leaf = self.leaf();
        for line in self.typefaces.cut(cut).lines(words, size, room) {
            self.need(size * LEADING);
            let y = self.y + size;
            self.put(Some(leaf), Mark::Words { x, y, size, cut, words: line });
            self.y += size * LEADING;
        }
        leaf
    }

    fn paragraph(&mut self, words: &str, size: f32, cut: Cut) {
        let leaf = self.words(words, MARGIN, self.room(), size, cut);
        self.out.parts.push(Part::leaf(Role::Paragraph, leaf));
        self.y += size * 0.6;
    }

    fn heading(&mut self, words: &str, level: u16, size: f32) {
        if self.y > MARGIN {
            self.y += size * 0.6;
        }
        let (page, y) = (self.out.sheets.len().saturating_sub(1), self.y);
        let leaf = self.words(words, MARGIN, self.room(), size, Cut::Bold);
        self.out.outline.push((words.to_owned(), page, y));
        self.out.parts.push(Part::leaf(Role::Heading(level, words.to_owned()), leaf));
        self.y += size * 0.3;
    }

    /// What must stand on the same page as a heading: a heading is never the last thing there.
    fn least_after(&self, after: &[Block], drawn: usize) -> f32 {
        match after {
            [Block::Picture(_), ..] => self.least_height(drawn),
            [Block::Heading(_) | Block::Subheading(_), after @ ..] => 34.0 + self.least_after(after, drawn),
            [Block::Table { .. } | Block::Facts(_), ..] => 60.0,
            [_, ..] => 34.0,
            [] => 0.0,
        }
    }

    fn notice(&mut self, words: &str) {
        let pad = 8.0;
        let room = self.room() - 2.0 * pad;
        let lines = self.typefaces.cut(Cut::Bold).lines(words, BODY, room);
        // Its lines stay together, so that its frame does.
        let mut height = 2.0 * pad;
        for _ in &lines {
            height += BODY * LEADING;
        }
        self.need(height);
        let (x, y, width) = (MARGIN, self.y, self.room());
        self.put(None, Mark::Frame { x, y, width, height });
        self.y += pad;
        let leaf = self.words(words, MARGIN + pad, room, BODY, Cut::Bold);
        self.out.parts.push(Part::leaf(Role::Paragraph, leaf));
        self.y += pad + BODY * 0.7;
    }

    fn list(&mut self, entries: &[String], steps: bool) {
        let indent = if steps { 44.0 } else { 14.0 };
        let mut parts = Vec::new();
        for (index, entry) in entries.iter().enumerate() {
            self.need(BODY * LEADING * 2.0);
            let label = self.leaf();
            let y = self.y + BODY;
            let (x, words) = if steps {
                self.put(None, Mark::Frame { x: MARGIN, y: self.y + 1.0, width: 10.0, height: 10.0 });
                (MARGIN + 18.0, format!("{}.", index + 1))
            } else {
                (MARGIN, "•".to_owned())
            };
            self.put(Some(label), Mark::Words { x, y, size: BODY, cut: Cut::Regular, words });
            let body = self.words(entry, MARGIN + indent, self.room() - indent, BODY, Cut::Regular);
            self.y += BODY * if steps { 0.5 } else { 0.25 };
            let labelled = vec![Part::leaf(Role::EntryLabel, label), Part::leaf(Role::EntryBody, body)];
            parts.push(Part::group(Role::Entry, labelled));
        }
        if !parts.is_empty() {
            self.out.parts.push(Part::group(Role::List { numbered: steps }, parts));
        }
        self.y += BODY * 0.4;
    }

    /// The footer and "3/9" below every page.
    fn feet(&mut self) {
        let all = self.out.sheets.len();
        let y = self.out.size.1 - MARGIN;
        let (left, width) = (MARGIN, self.room());
        let face = self.typefaces.cut(Cut::Regular);
        for (index, page) in self.out.sheets.iter_mut().enumerate() {
            let number = format!("{}/{all}", index + 1);
            let x = left + width - face.width(&number, SMALL);
            let rule = Mark::Rule { x: left, y: y - SMALL - 4.0, width, is_heavy: false };
            let mut marks = vec![rule, Mark::Words { x, y, size: SMALL, cut: Cut::Regular, words: number }];
            let room = width - 60.0;
            for (line, words) in
                face.lines(&self.document.footer, SMALL, room).into_iter().take(2).enumerate()
            {
                let y = if line == 0 { y } else { y + SMALL * LEADING };
                marks.push(Mark::Words { x: left, y, size: SMALL, cut: Cut::Regular, words });
            }
            page.extend(marks.into_iter().map(|mark| Placed { leaf: None, mark }));
        }
    }
}

/// The picture that a block is, if it is one.
pub(super) fn picture(block: &Block) -> Option<&Picture> {
    if let Block::Picture(picture) = block { Some(picture) } else { None }
}
