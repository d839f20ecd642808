//! The pure part of a turn: from a chat as it stands to what is kept and said.

use std::sync::Arc;

use super::papers::Papers;
use super::sessions::Stood;
use super::shares::{Link, Shared, shared};
use super::{App, Goes, Shows, With, count, start};
use crate::conversation::event::Event;
use crate::conversation::saying::Draft;
use crate::conversation::session::Session;
use crate::conversation::{Guide, Turn, Wish, turn};
use crate::message::Say;
use crate::roofing::plan::Plan;
use crate::roofing::roof::FactKey;
use crate::store::Store;

/// A roof of so many square metres is planned in the time that handing over takes ten times.
const LARGE_M2: i64 = 40;

/// A turn thought through, before anything is kept.
pub(super) struct Thought {
    pub(super) events: Vec<Event>,
    pub(super) after: Arc<Session>,
    /// How many events that is the fold of.
    pub(super) events_after: u64,
    pub(super) says: Vec<Say>,
    /// How many of the says greet somebody whose first message this is: on a page they stand before it.
    pub(super) greeting: usize,
    pub(super) answered: bool,
    pub(super) wish: Option<Wish>,
    /// The plan that stands from now on, where it is another than before.
    pub(super) plan: Option<Box<Plan>>,
    /// What a supplier is shown, where a link is given.
    pub(super) shared: Option<Shared>,
}

impl<S: Store> App<S> {
    /// Thinks over a chat where it holds nobody up: at once where that takes less than handing it over does.
    pub(super) async fn think_over<T>(
        &self,
        stood: Stood,
        earlier: Option<Plan>,
        with: &With,
        turn: Arc<T>,
    ) -> Thought
    where
        T: Fn(&Guide<'_>, &Session) -> Turn + Send + Sync + 'static,
    {
        let (makes_now, session) = (self.shows != Shows::Words && !self.makes_later(), &stood.session);
        if !makes_now && area_m2(session) < LARGE_M2 {
            return think(self, &stood, earlier.as_ref(), &with.goes, with.link.as_deref(), &*turn);
        }
        let (app, goes, link) = (self.clone(), with.goes.clone(), with.link.clone());
        self.pool.think(move || think(&app, &stood, earlier.as_ref(), &goes, link.as_deref(), &*turn)).await
    }
}

impl<S> App<S> {
    /// Tells whoever runs the bot what went wrong on our side, such as a plan that failed its own checks: the person is
    /// told only that something did.
    fn tell_faults(&self, faults: &[String]) {
        for fault in faults {
            metrics::counter!("lapwise_plan_faults_total").increment(1);
            tracing::error!(
                alert = true,
                fault,
                book = self.book.version,
                "a plan is faulty, and was not shown"
            );
        }
    }
}

/// The roof's area as far as it is known, in square metres.
fn area_m2(session: &Session) -> i64 {
    let mm = |key| session.facts().length(key).map_or(0, |length| length.value.round_mm());
    let slope = mm(FactKey::SlopeLength).saturating_add(mm(FactKey::SlopeLengthBack));
    mm(FactKey::Length).saturating_mul(slope) / 1_000_000
}

/// Thinks over a chat.
pub(super) fn think<S: Store>(
    app: &App<S>,
    stood: &Stood,
    earlier: Option<&Plan>,
    goes: &Goes,
    link: Option<&Link>,
    think: &dyn Fn(&Guide<'_>, &Session) -> Turn,
) -> Thought {
    let guide = app.guide(&stood.session, link, earlier);
    let mut after = Session::clone(&stood.session);
    // A page greets before anything is kept: what was read then stands before what was said to it.
    let greeted = match goes {
        Goes::Page(Some(_)) if !after.greeted() => turn(&guide, &after, &start()),
        Goes::Page(_) | Goes::Out | Goes::Back => Turn::default(),
    };
    for event in &greeted.events {
        after.apply(event);
    }
    let asked = after.prompt();
    let heard = think(&guide, &after);
    for event in &heard.events {
        after.apply(event);
    }
    app.tell_faults(&heard.faults);
    let wish = heard.wish;
    let greeting = greeted.says.len();
    let events: Vec<Event> = greeted.events.into_iter().chain(heard.events).collect();
    let events_after = stood.events.saturating_add(count(events.len()));
    let now = (app.clock)();
    let later = app.makes_later().then_some((events_after, now));
    let voice = app.voice(&after);
    let papers = Papers { guide, voice, session: &after, date: guide.today.to_string(), shows: app.shows };
    let say = |draft: &Draft, prompt| {
        let mut say = voice.speak(draft, prompt);
        if app.shows != Shows::Words {
            say.files = papers.make(&draft.attach, later);
            say.files.extend(link.and_then(|link| link.code_for(&say.text, app.shows, later)));
        }
        say
    };
    let mut says: Vec<Say> = greeted.says.iter().map(|draft| say(draft, asked)).collect();
    if wish == Some(Wish::Export) {
        says.push(app.exported(later));
    }
    says.extend(heard.says.iter().map(|draft| say(draft, after.prompt())));
    let share = link.and_then(|link| shared(&guide, &voice, link, &events, &after, now));
    let answered = after.prompt() != asked || wish.is_some();
    let plan = heard.plan.or(greeted.plan);
    Thought {
        events,
        after: Arc::new(after),
        events_after,
        says,
        greeting,
        answered,
        wish,
        shared: share,
        plan,
    }
}
