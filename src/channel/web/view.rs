//! How things are shown: templates, and what they are filled with. Every word is escaped by the templates.

use std::collections::BTreeMap;

use axum::http::StatusCode;
use axum::response::{Html, IntoResponse as _, Response};
use minijinja::value::Serde;
use minijinja::{Environment, Value, context};
use serde::Serialize;

use crate::channel::rooms::{Entry, Spoken};
use crate::channel::supplier::Sheet;
use crate::message::{Attachment, Choice, Say};

/// The messages that stand on the pages.
pub const PHRASES: &[&str] = &[
    "page-title",
    "page-about",
    "page-skip",
    "page-chat",
    "page-you",
    "page-bot",
    "page-choices",
    "page-your-answer",
    "page-send",
    "page-thinking",
    "page-trouble",
    "page-download",
    "page-link-code",
    "notice-back",
    "notice-gone-title",
    "notice-gone",
    "notice-lost-title",
    "notice-lost",
    "notice-ended-title",
    "notice-ended",
    "notice-too-fast-title",
    "notice-too-fast",
    "notice-too-long-title",
    "notice-too-long",
    "notice-too-long-by",
    "notice-private-title",
    "notice-private",
    "notice-trouble-title",
    "notice-trouble",
    "notice-often-title",
    "notice-often",
    "sheet-title",
    "sheet-intro",
    "sheet-list",
    "sheet-pieces",
    "sheet-stock",
    "sheet-in",
    "sheet-out",
    "sheet-instead",
    "sheet-instead-what",
    "sheet-price",
    "sheet-price-hint",
    "sheet-send",
    "sheet-sent",
    "sheet-answered",
    "sheet-csv",
    "sheet-wrong",
    "sheet-nothing-marked",
    "sheet-wrong-price",
    "sheet-wrong-instead",
    "sheet-privacy",
];

const TEMPLATES: &[(&str, &str)] = &[
    ("base.html", include_str!("templates/base.html")),
    ("chat.html", include_str!("templates/chat.html")),
    ("entries.html", include_str!("templates/entries.html")),
    ("choices.html", include_str!("templates/choices.html")),
    ("notice.html", include_str!("templates/notice.html")),
    ("sheet.html", include_str!("templates/sheet.html")),
];

/// The pages.
pub(super) struct Views {
    environment: Environment<'static>,
    phrases: BTreeMap<&'static str, String>,
}

/// What can be said instead of a page.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Notice {
    /// A link leads nowhere, or no longer.
    Gone,
    /// There is no such page.
    Lost,
    /// The page is too old, or not ours.
    Ended,
    /// Too many at once.
    TooFast,
    /// Too long.
    TooLong,
    /// Too long by so many letters.
    TooLongBy(usize),
    /// Nobody but this very machine is to see the page.
    Private,
    /// A supplier has answered too often.
    TooOften,
    /// Our own fault.
    Trouble,
}

impl Notice {
    const fn phrases(self) -> (&'static str, &'static str) {
        match self {
            Self::Gone => ("notice-gone-title", "notice-gone"),
            Self::Lost => ("notice-lost-title", "notice-lost"),
            Self::Ended => ("notice-ended-title", "notice-ended"),
            Self::TooFast => ("notice-too-fast-title", "notice-too-fast"),
            Self::TooLong | Self::TooLongBy(_) => ("notice-too-long-title", "notice-too-long"),
            Self::Private => ("notice-private-title", "notice-private"),
            Self::TooOften => ("notice-often-title", "notice-often"),
            Self::Trouble => ("notice-trouble-title", "notice-trouble"),
        }
    }

    /// Whether a chat of one's own is a place to go on to.
    const fn leads_back(self) -> bool {
        !matches!(self, Self::Gone | Self::TooOften | Self::Private)
    }
}

/// A chat's page.
pub(super) struct ChatPage<'a> {
    pub(super) entries: &'a [Entry],
    pub(super) form_token: &'a str,
    pub(super) form_id: &'a str,
    pub(super) longest: usize,
    pub(super) base: &'a str,
}

/// What a page is told after it has been loaded.
#[derive(Serialize)]
pub(super) struct News {
    entries: String,
    choices: String,
    pub(super) last: u64,
}

#[derive(Serialize)]
struct EntryView<'a> {
    number: u64,
    is_you: bool,
    is_last_you: bool,
    blocks: Vec<Block<'a>>,
    files: Vec<FileView<'a>>,
}

#[derive(Serialize)]
struct Block<'a> {
    /// `p`, `ul`, `ol` or `link`.
    kind: &'static str,
    start: usize,
    lines: Vec<&'a str>,
}

#[derive(Serialize)]
struct FileView<'a> {
    href: String,
    name: &'a str,
    alt: &'a str,
    is_picture: bool,
    is_code: bool,
}

#[derive(Serialize)]
struct ChoiceView<'a> {
    value: String,
    label: &'a str,
}

impl Views {
    pub(super) fn new(phrases: BTreeMap<&'static str, String>) -> Result<Self, minijinja::Error> {
        let mut environment = Environment::new();
        environment.set_undefined_behavior(minijinja::UndefinedBehavior::Strict);
        for (name, text) in TEMPLATES {
            environment.add_template(name, text)?;
        }
        Ok(Self { environment, phrases })
    }

    fn render(&self, template: &str, values: Value) -> Result<String, minijinja::Error> {
        self.environment.get_template(template)?.render(values)
    }

    fn page(&self, status: StatusCode, rendered: Result<String, minijinja::Error>) -> Response {
        match rendered {
            Ok(html) => (status, Html(html)).into_response(),
            Err(error) => {
                tracing::error!(%error, "a page could not be built");
                (StatusCode::INTERNAL_SERVER_ERROR, self.phrase("notice-trouble")).into_response()
            }
        }
    }

    fn t(&self) -> Value {
        Value::from(Serde(&self.phrases))
    }

    fn phrase(&self, id: &str) -> String {
        self.phrases.get(id).cloned().unwrap_or_default()
    }

    pub(super) fn notice(&self, status: StatusCode, notice: Notice) -> Response {
        let (title, text) = notice.phrases();
        let mut text = self.phrase(text);
        if let Notice::TooLongBy(over) = notice {
            text = format!("{text} {} {over}.", self.phrase("notice-too-long-by"));
        }
        let rendered = self.render(
            "notice.html",
            context! {
                t => self.t(),
                title => self.phrase(title),
                text,
                leads_back => notice.leads_back(),
            },
        );
        self.page(status, rendered)
    }

    pub(super) fn chat(&self, page: &ChatPage<'_>) -> Response {
        let rendered = self.render(
            "chat.html",
            context! {
                t => self.t(),
                entries => Serde(shown(page.entries, page.base)),
                choices => Serde(open_choices(page.entries)),
                last => page.entries.last().map_or(0, |entry| entry.number),
                form_token => page.form_token,
                form_id => page.form_id,
                longest => page.longest,
            },
        );
        self.page(StatusCode::OK, rendered)
    }

    /// The parts of a chat's page that change, for a page that is open.
    pub(super) fn news(&self, page: &ChatPage<'_>, after: u64) -> Result<News, minijinja::Error> {
        let mut entries = shown(page.entries, page.base);
        entries.retain(|entry| entry.number > after);
        Ok(News {
            entries: self.render("entries.html", context! { t => self.t(), entries => Serde(&entries) })?,
            choices: self.render(
                "choices.html",
                context! {
                    t => self.t(),
                    choices => Serde(open_choices(page.entries)),
                    form_token => page.form_token,
                    form_id => page.form_id,
                },
            )?,
            last: page.entries.last().map_or(0, |entry| entry.number),
        })
    }

    pub(super) fn sheet(&self, status: StatusCode, page: &SheetPage<'_>) -> Response {
        let lines: Vec<LineView<'_>> = page.sheet.lines.iter().enumerate().map(line_of(page.wrong)).collect();
        let rendered = self.render(
            "sheet.html",
            context! {
                t => self.t(),
                order => &*page.sheet.order,
                notice => &*page.sheet.notice,
                total => &*page.sheet.total,
                dates => &*page.sheet.dates,
                weight => &*page.sheet.weight,
                other_money => &*page.sheet.other_money,
                answered => page.sheet.answered,
                sent => page.sent,
                path => page.path,
                lines => Serde(&lines),
                nothing_marked => page.wrong.is_some_and(<[_]>::is_empty),
                is_wrong => page.wrong.is_some(),
            },
        );
        self.page(status, rendered)
    }
}

/// A supplier's page.
pub(super) struct SheetPage<'a> {
    pub(super) sheet: &'a Sheet,
    /// The path of this page.
    pub(super) path: &'a str,
    /// The answer has just been sent.
    pub(super) sent: bool,
    /// What could not be read of the answer: the line from 0, and `price`, `currency` or `instead`.
    pub(super) wrong: Option<&'a [(usize, &'static str)]>,
}

#[derive(Serialize)]
struct LineView<'a> {
    index: usize,
    name: &'a str,
    details: &'a [String],
    figures: &'a [String],
    pieces: i64,
    packs: &'a str,
    stock: &'a str,
    instead: &'a str,
    price: &'a str,
    /// The price cannot be read.
    wrong_price: bool,
    /// It is in other money.
    wrong_currency: bool,
    wrong_instead: bool,
}

fn line_of<'a>(
    wrong: Option<&'a [(usize, &'static str)]>,
) -> impl Fn((usize, &'a crate::channel::supplier::SheetLine)) -> LineView<'a> {
    move |(index, line)| {
        let is_wrong = |what| wrong.is_some_and(|wrong| wrong.contains(&(index, what)));
        LineView {
            index,
            name: &line.name,
            details: &line.details,
            figures: &line.figures,
            pieces: line.pieces,
            packs: &line.packs,
            stock: &line.mark.stock,
            instead: &line.mark.instead,
            price: &line.mark.price,
            wrong_price: is_wrong("price"),
            wrong_currency: is_wrong("currency"),
            wrong_instead: is_wrong("instead"),
        }
    }
}

fn shown<'a>(entries: &'a [Entry], base: &str) -> Vec<EntryView<'a>> {
    let last_you = entries.iter().rposition(|entry| matches!(entry.spoken, Spoken::You(_)));
    let view = |(index, entry): (usize, &'a Entry)| {
        let (text, files): (&str, &[Attachment]) = match &entry.spoken {
            Spoken::You(text) => (text, &[]),
            Spoken::Bot(say) => (&say.text, &say.files),
        };
        let is_you = matches!(entry.spoken, Spoken::You(_));
        EntryView {
            number: entry.number,
            is_you,
            is_last_you: last_you == Some(index),
            // What the person typed is shown as they typed it.
            blocks: if is_you { vec![paragraph(text)] } else { blocks(text, base) },
            files: files.iter().map(file).collect(),
        }
    };
    entries.iter().enumerate().map(view).collect()
}

fn paragraph(text: &str) -> Block<'_> {
    Block { kind: "p", start: 1, lines: text.lines().collect() }
}

/// A bot's text as paragraphs and lists. Only links of our own become links: words may come from anybody.
fn blocks<'a>(text: &'a str, base: &str) -> Vec<Block<'a>> {
    let mut blocks: Vec<Block<'a>> = Vec::new();
    let mut joins = false;
    for line in text.lines() {
        if line.trim().is_empty() {
            joins = false;
            continue;
        }
        let (kind, start, said) = match (line.strip_prefix("• "), numbered(line)) {
            (Some(said), _) => ("ul", 1, said),
            (None, Some((number, said))) => ("ol", number, said),
            (None, None) if is_our_link(line, base) => ("link", 1, line),
            (None, None) => ("p", 1, line),
        };
        match blocks.last_mut() {
            Some(last) if last.kind == kind && (joins || kind == "ul" || kind == "ol") => {
                last.lines.push(said);
            }
            _ => blocks.push(Block { kind, start, lines: vec![said] }),
        }
        joins = true;
    }
    blocks
}

fn numbered(line: &str) -> Option<(usize, &str)> {
    let (number, said) = line.split_once(". ")?;
    Some((number.parse().ok()?, said))
}

fn is_our_link(line: &str, base: &str) -> bool {
    let token = line.strip_prefix(base).and_then(|path| path.strip_prefix("/s/"));
    token.is_some_and(|token| token.chars().all(|c| c.is_ascii_alphanumeric() || c == '-' || c == '_'))
}

fn file(file: &Attachment) -> FileView<'_> {
    let name = file.name.rsplit_once('/').map_or(file.name.as_str(), |(_, name)| name);
    let is_picture = file.media_type.starts_with("image/");
    let is_code = name == "link.svg";
    FileView { href: format!("/file/{}", file.name), name, alt: &file.alt, is_picture, is_code }
}

/// What can be pressed now: the buttons of what was said last, unless the person has answered since.
pub(super) fn open_says(entries: &[Entry]) -> impl Iterator<Item = &Say> {
    entries.iter().rev().map_while(|entry| match &entry.spoken {
        Spoken::You(_) => None,
        Spoken::Bot(say) => Some(say),
    })
}

/// The buttons that can be pressed now, with the prompt they belong to.
pub(super) fn buttons(entries: &[Entry]) -> Option<(&[Choice], Option<u64>)> {
    open_says(entries).find(|say| !say.choices.is_empty()).map(|say| (say.choices.as_slice(), say.prompt))
}

fn open_choices(entries: &[Entry]) -> Vec<ChoiceView<'_>> {
    let Some((choices, prompt)) = buttons(entries) else { return Vec::new() };
    let prompt = prompt.map(|prompt| prompt.to_string()).unwrap_or_default();
    let view = |choice: &'_ Choice| format!("{prompt}:{}", choice.id);
    choices.iter().map(|choice| ChoiceView { value: view(choice), label: &choice.label }).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn text_becomes_paragraphs_and_lists() {
        let text = "One.\nTwo.\n\n• a\n• b\n\n1. x\n\n2. y\n\nhttps://roof.example/s/abc_-9\n\nhttps://evil.example/s/a";
        let kinds: Vec<(&str, usize)> = blocks(text, "https://roof.example")
            .iter()
            .map(|block| (block.kind, block.lines.len()))
            .collect();
        assert_eq!(kinds, [("p", 2), ("ul", 2), ("ol", 2), ("link", 1), ("p", 1)]);
    }

    #[test]
    fn every_phrase_stands_on_a_page() {
        let templates: String = TEMPLATES.iter().map(|(_, text)| *text).collect();
        for id in PHRASES.iter().filter(|id| !id.starts_with("notice-") || **id == "notice-back") {
            assert!(templates.contains(&format!("\"{id}\"")), "{id}");
        }
        for named in templates.split("t[\"").skip(1).filter_map(|rest| rest.split('"').next()) {
            assert!(PHRASES.contains(&named), "{named}");
        }
    }

    #[test]
    fn only_our_own_links_are_links() {
        for other in ["https://roof.example.evil/s/a", "https://roof.example/s/a b", "https://roof.example/x"]
        {
            assert!(!is_our_link(other, "https://roof.example"), "{other}");
        }
    }
}
