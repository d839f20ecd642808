//! What the bot is about to say, before it has words: message ids and figures, grouped into messages.

use crate::roofing::note::Note;

/// Something to press, before it has a label.
#[derive(Clone, Debug, PartialEq)]
pub struct Button {
    /// What comes back when it is pressed.
    pub id: String,
    /// What stands on it.
    pub label: Note,
}

impl Button {
    /// A button.
    pub fn new(id: impl Into<String>, label: Note) -> Self {
        Self { id: id.into(), label }
    }
}

/// One line of a message.
#[derive(Clone, Debug, PartialEq)]
pub enum Line {
    /// A paragraph of its own.
    Paragraph(Note),
    /// An entry of a list.
    Item(Note),
    /// An entry of a numbered list.
    Numbered(usize, Note),
}

/// A file that goes with a message, before it is made.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Attach {
    /// The building as understood, for the review.
    WholeRoof,
    /// Purlins or nail lines with their measures.
    SettingOut,
    /// Sheets in laying order.
    Sheets,
    /// Every nail.
    FixingPattern,
    /// A section through eaves and ridge.
    Section,
    /// How sheets are cut.
    CutDiagram,
    /// The whole plan as plain text.
    PlanText,
    /// The whole plan as a document to print.
    RoofPack,
    /// One page for the supplier, on paper and as a table.
    SupplierSheet,
}

/// One message.
#[derive(Clone, Debug, PartialEq)]
pub struct Draft {
    /// Names it: the message id of what it is mainly about.
    pub id: String,
    /// Its lines in order.
    pub lines: Vec<Line>,
    /// What can be pressed; more than six are cut to the first five and the last.
    pub buttons: Vec<Button>,
    /// Whether it puts a question, and so carries the prompt token.
    pub asks: bool,
    /// Files that go with it.
    pub attach: Vec<Attach>,
}

impl Draft {
    /// An empty message of that name.
    pub fn new(id: impl Into<String>) -> Self {
        Self { id: id.into(), lines: Vec::new(), buttons: Vec::new(), asks: false, attach: Vec::new() }
    }

    /// A message that says one thing, and is named by it.
    pub fn of(note: Note) -> Self {
        let mut draft = Self::new(note.message.clone());
        draft.lines.push(Line::Paragraph(note));
        draft
    }

    /// The same message with a paragraph more.
    #[must_use]
    pub fn paragraph(mut self, note: Note) -> Self {
        self.lines.push(Line::Paragraph(note));
        self
    }

    /// The same message with a list entry more.
    #[must_use]
    pub fn item(mut self, note: Note) -> Self {
        self.lines.push(Line::Item(note));
        self
    }

    /// The same message with a numbered list entry more.
    #[must_use]
    pub fn numbered(mut self, number: usize, note: Note) -> Self {
        self.lines.push(Line::Numbered(number, note));
        self
    }

    /// The same message with a button more.
    #[must_use]
    pub fn button(mut self, id: impl Into<String>, label: &str) -> Self {
        self.buttons.push(Button::new(id, Note::new(label)));
        self
    }
}
