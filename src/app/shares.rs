//! Links for suppliers: made here, kept by the digest of their token, opened, answered and closed.
//!
//! The token is 256 bits of chance and stands in the link alone. What is kept under its digest is exactly the sheet
//! that the person agreed to; nothing there names the chat but its owner, who is never shown.

use std::sync::Arc;

use chrono::Datelike as _;
use data_encoding::{BASE64URL_NOPAD, HEXLOWER};
use sha2::{Digest, Sha256};

use super::{App, AppError, Goes, OURS, Shows, With};
use crate::channel::supplier::{Answered, Mark, Sheet, SheetLine};
use crate::conversation::event::{Event, Quoted, Stock};
use crate::conversation::interview::{Standing, standing};
use crate::conversation::saying::Voice;
use crate::conversation::session::Session;
use crate::conversation::{Guide, quoted};
use crate::export::captions::Spoken;
use crate::export::supplier::share::{self, Share};
use crate::export::supplier::{SupplierLine, SupplierSheet};
use crate::message::{Attachment, ChatId, Recipe};
use crate::roofing::note::{Arg, Note};
use crate::store::{Beside, Other, Store};
use crate::units::{Currency, Length, Mass, Money, UsualUnit};

/// What every name of a share begins with.
const NAME: &str = "share/";
/// The most links of one chat that are open at once; one more closes the oldest.
const MOST_OPEN: usize = 10;
/// How often one link can be answered.
const MOST_ANSWERS: u32 = 20;
/// The longest a supplier's own words may be, in letters.
const LONGEST_WORDS: usize = 200;
const DAY: u64 = 86_400;
/// The word for the picture of a link in a recipe.
pub(super) const CODE: &str = "link";
/// As wide as a messenger shows a photo, in pixels.
#[cfg(feature = "png")]
const CODE_WIDTH: u32 = 720;

/// Where chance comes from: handed in, like the clock.
pub type Fresh = fn() -> [u8; 32];

/// How links are made.
#[derive(Clone, Debug)]
pub struct Links {
    base: String,
    fresh: Fresh,
}

impl Links {
    /// Links below a public address such as `https://roof.example`, without a slash at its end.
    pub fn new(base: impl Into<String>, fresh: Fresh) -> Self {
        Self { base: base.into().trim_end_matches('/').to_owned(), fresh }
    }

    pub(super) fn fresh(&self) -> Link {
        let token = BASE64URL_NOPAD.encode(&(self.fresh)());
        Link { url: format!("{}/s/{token}", self.base), name: name_of(&token) }
    }
}

/// A link that leads nowhere yet.
pub(super) struct Link {
    url: String,
    name: String,
}

impl Link {
    pub(super) fn url(&self) -> &str {
        &self.url
    }

    /// A picture of the link where a message gives it, for a phone at the counter to read: as SVG for a page, as
    /// PNG for messengers, which show no SVG. Where it is made later, it is made of the link that describes it.
    pub(super) fn code_for(&self, text: &str, shows: Shows, later: Option<(u64, u64)>) -> Option<Attachment> {
        if !text.contains(&self.url) {
            return None;
        }
        let photo = cfg!(feature = "png") && shows == Shows::Photos;
        let (name, media_type) =
            if photo { ("link.png", "image/png") } else { ("link.svg", "image/svg+xml") };
        let recipe = later.map(|(events, at)| Recipe { what: CODE.to_owned(), events, at });
        let bytes = if recipe.is_some() { Vec::new() } else { draw_code(name, &self.url)? };
        let (name, media_type) = (name.to_owned(), media_type.to_owned());
        Some(Attachment { name, media_type, alt: self.url.clone(), bytes, recipe })
    }
}

/// The picture of a link, as a file of that name.
pub(super) fn draw_code(name: &str, url: &str) -> Option<Vec<u8>> {
    let svg = code(url)?;
    #[cfg(feature = "png")]
    if name == "link.png" {
        return crate::render::png::of_svg("link", &svg, CODE_WIDTH).ok();
    }
    (name == "link.svg").then(|| svg.into_bytes())
}

/// What is kept of a link that is being given, and under which name.
pub(super) struct Shared {
    name: String,
    share: Share,
}

fn name_of(token: &str) -> String {
    format!("{NAME}{}", HEXLOWER.encode(&Sha256::digest(token.as_bytes())))
}

/// A QR code as SVG.
#[cfg(feature = "web")]
fn code(url: &str) -> Option<String> {
    use qrcode::render::svg::Color;
    let code = qrcode::QrCode::new(url).ok()?;
    let mut picture = code.render();
    let picture = picture.dark_color(Color("#000")).light_color(Color("#fff")).min_dimensions(240, 240);
    Some(picture.build())
}

#[cfg(not(feature = "web"))]
fn code(_: &str) -> Option<String> {
    None
}

impl<S: Store> App<S> {
    /// The links that a turn gives and closes: kept in its own transaction.
    pub(super) async fn shares_of(
        &self,
        chat: &ChatId,
        events: &[Event],
        shared: Option<&Shared>,
    ) -> Result<Vec<Beside>, AppError> {
        let closes = |event: &Event| matches!(event, Event::Revoked | Event::Restarted);
        let left = match shared {
            _ if events.iter().any(closes) => 0,
            Some(_) => MOST_OPEN - 1,
            None => return Ok(Vec::new()),
        };
        let over = self.shares_over(chat, left).await?.into_iter().map(Beside::Remove);
        let opened = shared.map(|Shared { name, share }| kept(name, chat, share));
        over.map(Ok).chain(opened).collect()
    }

    /// Links of a chat until at most so many are left, the oldest first.
    async fn shares_over(&self, chat: &ChatId, left: usize) -> Result<Vec<String>, AppError> {
        let others = self.store.list_other(Some(chat.clone())).await?.into_iter();
        let made = |other: &Other| share::read(&other.value).map_or(0, |share| share.made);
        let mut shares: Vec<(u64, String)> = others
            .filter(|other| other.name.starts_with(NAME))
            .map(|other| (made(&other), other.name))
            .collect();
        shares.sort();
        let over = shares.len().saturating_sub(left);
        Ok(shares.into_iter().take(over).map(|(_, name)| name).collect())
    }

    /// The share behind a token, if it is open, with its name and its owner.
    async fn share(&self, token: &str) -> Result<Option<(String, ChatId, Share)>, AppError> {
        let name = name_of(token);
        let Some(other) = self.store.get_other(name.clone()).await? else { return Ok(None) };
        let Some(owner) = other.owner else { return Ok(None) };
        let share = share::read(&other.value)?;
        if share.expires <= (self.clock)() {
            self.store.remove_other(name).await?;
            return Ok(None);
        }
        Ok(Some((name, owner, share)))
    }

    /// The sheet as a supplier sees it.
    pub(super) async fn sheet(&self, token: &str) -> Result<Option<Sheet>, AppError> {
        let Some((_, _, share)) = self.share(token).await? else { return Ok(None) };
        let unsaid = Session::default();
        let voice = Voice { units: UsualUnit::Mm, ..self.voice(&unsaid) };
        let lines = share.sheet.lines.iter().enumerate().map(|(index, line)| {
            let mark = share.marks.get(index).cloned().unwrap_or_default();
            sheet_line(&voice, line, &share.sheet.currency, mark)
        });
        let dates = Note::new("sheet-dates")
            .with("made", Arg::Note(Box::new(day_note(share.made))))
            .with("until", Arg::Note(Box::new(day_note(share.expires))));
        let order = Note::new("sheet-order")
            .text("reference", &*share.sheet.reference)
            .text("version", &*share.sheet.version)
            .with("has", Arg::Count(i64::from(!share.sheet.reference.is_empty())));
        let money = self.currency().map_or_else(String::new, |currency| currency.code().to_owned());
        Ok(Some(Sheet {
            dates: voice.say(&dates),
            order: voice.say(&order),
            notice: share.sheet.notice.clone(),
            weight: voice.say(&share.sheet.weight()),
            total: share.sheet.total().map(|total| voice.say(&total)).unwrap_or_default(),
            answered: share.answers > 0,
            other_money: voice.say(&Note::new("sheet-wrong-currency").text("currency", money)),
            lines: lines.collect(),
            csv: share.sheet.csv(),
        }))
    }

    /// Whose chat a supplier's answer belongs to, while the link is open.
    pub(super) async fn owner_of(&self, token: &str) -> Result<Option<ChatId>, AppError> {
        Ok(self.share(token).await?.map(|(_, owner, _)| owner))
    }

    /// Takes what a supplier marked into the chat.
    pub(super) async fn take_answer(&self, token: &str, marks: &[Mark]) -> Result<Answered, AppError> {
        let Some((name, chat, mut share)) = self.share(token).await? else { return Ok(Answered::Gone) };
        if share.answers >= MOST_ANSWERS {
            return Ok(Answered::TooOften);
        }
        let quote = match self.read_marks(&share.sheet, marks) {
            Ok(quote) => quote,
            Err(wrong) => return Ok(Answered::Unreadable(wrong)),
        };
        share.answers = share.answers.saturating_add(1);
        share.marks = marks.iter().map(typed).collect();
        // A page is looked at; every other channel is sent what is said.
        let goes = if chat.as_str().starts_with(OURS) { Goes::Page(None) } else { Goes::Out };
        let with = With { worked: None, goes, link: None, beside: vec![kept(&name, &chat, &share)?] };
        let think = move |guide: &Guide<'_>, session: &Session| quoted(guide, session, &quote);
        self.keep(&chat, with, Arc::new(think)).await?;
        Ok(Answered::Told(chat))
    }

    /// Marks as a quote, or which lines cannot be read (none: nothing was marked at all).
    fn read_marks(
        &self,
        sheet: &SupplierSheet,
        marks: &[Mark],
    ) -> Result<Vec<Quoted>, Vec<(usize, &'static str)>> {
        let currency = self.currency();
        let mut wrong = Vec::new();
        let mut quote = Vec::new();
        for (index, line) in sheet.lines.iter().enumerate() {
            let mark = marks.get(index).cloned().unwrap_or_default();
            let words = clean(&mark.instead);
            let stock = match (mark.stock.as_str(), words.is_empty()) {
                ("in", true) => Some(Stock::In),
                ("out", true) => Some(Stock::Out),
                ("instead" | "", false) => Some(Stock::Instead(words)),
                ("", true) => Some(Stock::Unsaid),
                _ => None,
            };
            let price = match mark.price.trim() {
                "" => Some(None),
                text => currency.and_then(|currency| Money::read(text, currency)).map(Some),
            };
            wrong.extend(stock.is_none().then_some((index, "instead")));
            let is_other = currency.is_some_and(|currency| Money::is_of_another(&mark.price, currency));
            wrong.extend(price.is_none().then_some((index, if is_other { "currency" } else { "price" })));
            if let (Some(stock), Some(price)) = (stock, price) {
                let (item, name) = (line.item.clone(), line.name.clone());
                quote.push(Quoted { item, name, pieces: line.pieces, stock, price });
            }
        }
        let is_empty = |line: &Quoted| line.stock == Stock::Unsaid && line.price.is_none();
        if wrong.is_empty() && !quote.iter().all(is_empty) { Ok(quote) } else { Err(wrong) }
    }

    /// The currency that prices are in: the catalogue's, or pounds.
    fn currency(&self) -> Option<Currency> {
        let sheets = self.handbook().catalogue.sheets.iter();
        let priced = sheets.filter_map(|sheet| sheet.item.price).map(|price| price.currency).next();
        priced.or_else(|| Currency::from_code("GBP"))
    }
}

/// What a supplier is shown, where these events give a link.
pub(super) fn shared(
    guide: &Guide<'_>,
    voice: &Voice<'_>,
    link: &Link,
    events: &[Event],
    after: &Session,
    now: u64,
) -> Option<Shared> {
    let given = |event: &Event| if let Event::Shared { days } = event { Some(*days) } else { None };
    let days = events.iter().rev().find_map(given)?;
    let Standing::Complete(plan) = standing(guide, after) else { return None };
    let captions = Spoken { words: voice.words, language: voice.language, units: UsualUnit::Mm };
    let sheet = SupplierSheet::of_plan(&plan, &guide.today.to_string(), &captions);
    let expires = now.saturating_add(u64::from(days).saturating_mul(DAY));
    let share = Share { made: now, expires, answers: 0, sheet, marks: Vec::new() };
    Some(Shared { name: link.name.clone(), share })
}

/// A share as it is kept.
fn kept(name: &str, chat: &ChatId, share: &Share) -> Result<Beside, AppError> {
    let value = share::write(share)?;
    Ok(Beside::Put(Other { name: name.to_owned(), owner: Some(chat.clone()), value }))
}

fn typed(mark: &Mark) -> [String; 3] {
    [mark.stock.clone(), clean(&mark.instead), clean(&mark.price)]
}

/// Text without control characters and marks that turn the direction of what follows, of bounded length.
fn clean(text: &str) -> String {
    let hidden =
        |c: char| matches!(c, '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}');
    let visible = |c: char| if c.is_control() { Some(' ') } else { (!hidden(c)).then_some(c) };
    let text: String = text.chars().filter_map(visible).collect();
    let text: Vec<&str> = text.split_whitespace().collect();
    text.join(" ").chars().take(LONGEST_WORDS).collect()
}

fn sheet_line(voice: &Voice<'_>, line: &SupplierLine, currency: &str, mark: [String; 3]) -> SheetLine {
    let [stock, instead, price] = mark;
    // Where details were not kept yet, the length alone is said.
    let length = line.length_mm.filter(|_| line.details.is_empty());
    let length =
        length.map(|length| voice.say(&Note::new("drawing-scale").length("length", Length::from_mm(length))));
    let mass = Note::new("supplier-line-mass").with("mass", Arg::Mass(Mass::from_g(line.mass_g)));
    let spare = Note::new("sheet-spare").with("spare", Arg::Count(line.spare));
    let listed = line
        .list_price
        .as_ref()
        .map(|price| voice.say(&Note::new("sheet-listed").text("price", price).text("currency", currency)));
    let packs = Note::new("supplier-packs-of")
        .with("packs", Arg::Count(line.packs))
        .with("pack", Arg::Count(line.pack));
    SheetLine {
        name: line.name.clone(),
        details: length
            .into_iter()
            .chain(line.details.iter().cloned())
            .chain(Some(line.or_equal.clone()).filter(|words| !words.is_empty()))
            .collect(),
        figures: [Some(voice.say(&mass)), (line.spare > 0).then(|| voice.say(&spare)), listed]
            .into_iter()
            .flatten()
            .collect(),
        pieces: line.pieces,
        packs: if line.pack > 1 { voice.say(&packs) } else { String::new() },
        mark: Mark { stock, instead, price },
    }
}

/// A day in words.
pub(super) fn day_note(seconds: u64) -> Note {
    let seconds = i64::try_from(seconds).unwrap_or(i64::MAX);
    let day = chrono::DateTime::from_timestamp(seconds, 0).unwrap_or_default().date_naive();
    Note::new("day")
        .with("day", Arg::Count(day.day().into()))
        .with("month", Arg::Count(day.month().into()))
        .text("year", day.year().to_string())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_lose_what_cannot_be_seen() {
        assert_eq!(clean("a\u{202e}b\r\n  c\u{0}"), "ab c");
        assert_eq!(clean(&"x".repeat(300)).len(), LONGEST_WORDS);
    }

    #[cfg(all(feature = "web", feature = "png"))]
    #[test]
    fn a_messenger_gets_the_code_as_a_photo_and_a_page_as_svg() {
        let link = Links::new("https://roof.example", || [7; 32]).fresh();
        let said = format!("Here it is: {}", link.url());
        let photo = link.code_for(&said, Shows::Photos, None).unwrap();
        assert_eq!((photo.name.as_str(), photo.media_type.as_str()), ("link.png", "image/png"));
        let pixels = resvg::tiny_skia::Pixmap::decode_png(&photo.bytes).unwrap();
        assert_eq!(pixels.width(), CODE_WIDTH);
        let dark = pixels.pixels().iter().filter(|pixel| pixel.red() < 100).count();
        assert!((20..60).contains(&(dark * 100 / pixels.pixels().len())), "{dark} dark pixels");
        assert_eq!(photo.alt, link.url());
        assert_eq!(link.code_for(&said, Shows::Page, None).unwrap().media_type, "image/svg+xml");
        assert!(link.code_for("No link here.", Shows::Page, None).is_none());
    }

    #[test]
    fn a_link_is_kept_by_its_digest_alone() {
        let link = Links::new("https://roof.example/", || [7; 32]).fresh();
        assert_eq!(link.url, "https://roof.example/s/BwcHBwcHBwcHBwcHBwcHBwcHBwcHBwcHBwcHBwcHBwc");
        assert!(!link.name.contains("BwcH"));
    }
}
