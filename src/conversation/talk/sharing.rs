//! Sending the list to a supplier, closing the link again, and what the supplier answers.
//!
//! Nothing leaves before the person has seen exactly what would, and has said yes. The link itself is made
//! outside and handed in by the guide; it is said once and never becomes part of the chat's events.

use super::Turn;
use crate::conversation::Guide;
use crate::conversation::ears::lexicon::Tag;
use crate::conversation::ears::readings::count;
use crate::conversation::event::{Event, Quoted, Stock};
use crate::conversation::saying::Draft;
use crate::conversation::session::{Open, Session};
use crate::conversation::talk::Talk;
use crate::roofing::materials::{MaterialLine, Unit};
use crate::roofing::note::{Arg, Note};
use crate::roofing::plan::Plan;
use crate::units::{Mass, Money};

/// How long a link lives unless the person says otherwise, in days.
const USUAL_DAYS: u16 = 30;
/// The longest it may live, in days.
const MOST_DAYS: u16 = 365;

/// A supplier answered: what that does to the session, and what is said to the person.
///
/// Whatever question is open stays open.
pub fn quoted(guide: &Guide<'_>, session: &Session, quote: &[Quoted]) -> Turn {
    let mut talk = Talk::new(guide, session);
    talk.happen(Event::Quoted(quote.to_vec()));
    let draft = told(quote, talk.current_plan().as_ref());
    talk.say(draft);
    talk.into_turn()
}

impl Talk<'_, '_> {
    pub(in crate::conversation) fn wants_to_share(&mut self, named: &str) {
        if self.guide.link.is_none() {
            self.aside.push(Note::new("share-not-here"));
            return self.put_again();
        }
        if self.current_plan().is_none() {
            self.aside.push(Note::new("no-plan-yet"));
            return self.put_again();
        }
        self.ask_to_share(days_named(self.guide, named).unwrap_or(USUAL_DAYS));
    }

    /// Shows what a supplier would see, and asks.
    pub(in crate::conversation) fn ask_to_share(&mut self, days: u16) {
        let Some(plan) = self.current_plan() else {
            self.happen(Event::KeptGoing);
            return self.put_again();
        };
        self.happen(Event::AskedToShare { days });
        self.say(preview(&plan, days));
    }

    /// "7 days" asks again with that; anything that is neither yes, no nor a time is heard as usual.
    pub(in crate::conversation) fn heard_of_sharing(&mut self, text: &str, days: u16, answer: Option<bool>) {
        match (answer, days_named(self.guide, text)) {
            (Some(true), _) => self.share(days),
            (Some(false), _) => self.keep_going(),
            (None, Some(days)) => self.ask_to_share(days),
            (None, None) => self.missed(Note::new("say-yes-or-no")),
        }
    }

    pub(in crate::conversation) fn share(&mut self, days: u16) {
        let (Some(link), Some(_)) = (self.guide.link, self.current_plan()) else {
            self.aside.push(Note::new("share-not-here"));
            return self.keep_going();
        };
        self.happen(Event::Shared { days });
        let draft = Draft::of(Note::new("share-made").with("days", Arg::Count(days.into())))
            .paragraph(Note::new("share-link").text("link", link))
            .paragraph(Note::new("share-made-then"));
        self.say(draft.button("do-revoke", "button-revoke").button("do-show-headline", "show-headline"));
    }

    /// Closes every link. Said of none, it is done all the same: a link may be older than the last fresh start.
    pub(in crate::conversation) fn revoke(&mut self) {
        let had = self.session.shared();
        self.happen(Event::Revoked);
        self.aside.push(Note::new(if had { "share-revoked" } else { "share-none" }));
        self.put_again();
    }
}

/// A number of days in what was said: "7 days", "for two weeks".
fn days_named(guide: &Guide<'_>, text: &str) -> Option<u16> {
    let message = guide.ears.hear(text);
    let figure = message.figures.first()?;
    let unit = |tag: Tag| message.hits.iter().any(|hit| hit.is(tag) && hit.start == figure.tokens.end);
    let each = match (unit(Tag::Day), unit(Tag::Week), unit(Tag::Month)) {
        (true, ..) => 1,
        (_, true, _) => 7,
        (.., true) => 30,
        (false, false, false) => return None,
    };
    let number = u16::try_from(count(&figure.text)?).unwrap_or(u16::MAX);
    let days = number.saturating_mul(each);
    (days > 0).then_some(days.min(MOST_DAYS))
}

/// Everything that a supplier would see.
fn preview(plan: &Plan, days: u16) -> Draft {
    let mut draft = Draft::of(Note::new("share-ask"));
    for line in &plan.materials.lines {
        draft = draft.item(listed(plan, line));
    }
    let mass = plan.materials.lines.iter().map(|line| line.mass.g()).sum();
    let mut draft = draft
        .paragraph(Note::new("share-also").with("mass", Arg::Mass(Mass::from_g(mass))))
        .paragraph(Note::new("share-days").with("days", Arg::Count(days.into())))
        .button("yes", "button-share")
        .button("no", "button-share-not");
    draft.asks = true;
    draft
}

/// A line as the supplier sees it: what it is, and what the counter must know of it.
fn listed(plan: &Plan, line: &MaterialLine) -> Note {
    let picking = plan.picking();
    let joined = |one, other| {
        let [one, other] = [one, other].map(|note| Arg::Note(Box::new(note)));
        Note::new("share-details").with("one", one).with("other", other)
    };
    let details = picking.details(line).into_iter().chain([picking.or_equal(line)]).reduce(joined);
    let details = details.map_or_else(|| Arg::Text(String::new()), |details| Arg::Note(Box::new(details)));
    let note = Note::new(match line.unit {
        Unit::Piece if line.pack > 1 => "share-line-packs",
        Unit::Piece => "share-line",
        Unit::PieceOf(_) => "share-line-length",
    });
    let note = note
        .with("name", picking.name_to_order(line))
        .with("details", details)
        .with("packs", Arg::Count(line.packs))
        .with("pack", Arg::Count(line.pack))
        .with("pieces", Arg::Count(line.packs.saturating_mul(line.pack)));
    match line.unit {
        Unit::Piece => note,
        Unit::PieceOf(length) => note.length("length", length),
    }
}

/// The supplier's answer, line by line, with the total and with what it leaves open.
fn told(quote: &[Quoted], plan: Option<&Plan>) -> Draft {
    let mut draft = Draft::of(Note::new("quote"));
    for line in quote {
        let stock = match &line.stock {
            Stock::Unsaid => Note::new("quote-unsaid"),
            Stock::In => Note::new("quote-in"),
            Stock::Out => Note::new("quote-out"),
            Stock::Instead(what) => Note::new("quote-instead").text("what", &**what),
        };
        let message = if line.price.is_some() { "quote-line-price" } else { "quote-line" };
        let note = Note::new(message)
            .text("name", &*line.name)
            .with("pieces", Arg::Count(line.pieces))
            .with("stock", Arg::Note(Box::new(stock)));
        draft = draft.item(match line.price {
            Some(price) => note.with("price", Arg::Money(price)),
            None => note,
        });
    }
    let priced = quote.iter().filter_map(|line| line.price);
    if let Some(total) = priced.clone().map(Some).reduce(sum).flatten() {
        let open = quote.len().saturating_sub(priced.count());
        let note = Note::new("quote-total").with("total", Arg::Money(total));
        draft = draft.paragraph(note.count("lines", quote.len()).count("open", open));
    }
    if quote.iter().any(|line| matches!(line.stock, Stock::Instead(_))) {
        draft = draft.paragraph(Note::new("quote-check-substitute"));
    }
    if plan.is_some_and(|plan| !asks_for(plan, quote)) {
        draft = draft.paragraph(Note::new("quote-of-older-plan"));
    }
    draft
}

fn sum(a: Option<Money>, b: Option<Money>) -> Option<Money> {
    a?.plus(b?)
}

/// Whether the plan, as it is now, still asks for what the supplier was shown.
fn asks_for(plan: &Plan, quote: &[Quoted]) -> bool {
    let lines = plan.materials.lines.iter();
    let asked = lines.map(|line| (line.item.as_str(), line.packs.saturating_mul(line.pack)));
    asked.eq(quote.iter().map(|line| (line.item.as_str(), line.pieces)))
}

/// After a change of the plan: a link given before shows the list as it was.
pub(in crate::conversation) fn outdated(session: &Session) -> Option<Draft> {
    let stale = session.shared() && !matches!(session.open(), Open::Share(_));
    stale.then(|| Draft::of(Note::new("share-outdated")))
}
