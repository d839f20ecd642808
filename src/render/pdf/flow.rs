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
    /// A thin rule.
    Rule { x: f32, y: f32, width: f32 },
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
    trees: &'a [Tree],
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
        let mut picture = 0;
        let blocks = self.document.blocks.iter();
        let after = self.document.blocks.iter().skip(1).map(Some).chain([None]);
        for (block, next) in blocks.zip(after) {
            self.block(block, next, &mut picture);
        }
        self.feet();
        self.out
    }

    fn block(&mut self, block: &Block, next: Option<&Block>, picture: &mut usize) {
        match block {
            Block::Heading(words) => {
                self.keep_with(next, *picture, 30.0);
                self.heading(words, 2, 14.0);
            }
            Block::Subheading(words) => {
                self.keep_with(next, *picture, 20.0);
                self.heading(words, 3, 11.0);
            }
            Block::Paragraph(words) => self.paragraph(words, BODY, Cut::Regular),
            Block::Small(words) => self.paragraph(words, SMALL, Cut::Regular),
            Block::Notice(words) => self.notice(words),
            Block::List(entries) => self.list(entries, false),
            Block::Steps(entries) => self.list(entries, true),
            Block::Facts(facts) => self.facts(facts),
            Block::Table { columns, rows } => self.table(columns, rows),
            Block::Picture(shown) => {
                self.picture(*picture, shown);
                *picture += 1;
            }
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

    /// A heading is never the last thing on a page: it goes over with what it heads.
    fn keep_with(&mut self, next: Option<&Block>, picture: usize, own: f32) {
        let follows = match next {
            Some(Block::Picture(_)) => self.picture_size(picture).1,
            Some(Block::Table { .. } | Block::Facts(_)) => 60.0,
            Some(_) => 34.0,
            None => 0.0,
        };
        self.need(own + follows);
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

    /// As wide as its lettering asks for: a picture is no larger on paper than it must be to be read.
    fn picture_size(&self, index: usize) -> (f32, f32) {
        let Some(tree) = self.trees.get(index) else { return (0.0, 0.0) };
        let (width, height) = (tree.size().width(), tree.size().height());
        // 9.5 points of lettering where the picture gives the room.
        let most: f32 = 9.5 / 20.0;
        let scale = most.min(self.room() / width).min((self.floor() - MARGIN - 30.0) / height);
        (width * scale, height * scale)
    }

    fn picture(&mut self, index: usize, picture: &Picture) {
        let (width, height) = self.picture_size(index);
        self.need(height);
        let leaf = self.leaf();
        let x = MARGIN + (self.room() - width) / 2.0;
        self.put(Some(leaf), Mark::Picture { index, x, y: self.y, width, height });
        self.out.parts.push(Part::leaf(Role::Figure(picture.description.clone()), leaf));
        self.y += height + BODY;
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
            let rule = Mark::Rule { x: left, y: y - SMALL - 4.0, width };
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
