//! How long chats are kept: told in time, told once, deleted when it was said, and never while they are in use.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test may stop where it stands"
)]

use std::path::Path;
use std::sync::Arc;
use std::sync::atomic::{AtomicU64, Ordering};

use lapwise::app::{App, Page, Tidied};
use lapwise::book::Book;
use lapwise::channel::rooms::{Rooms, Spoken};
use lapwise::message::{ChatId, Content, Inbound};
use lapwise::store::record::read_say;
use lapwise::store::sled::Options;
use lapwise::store::{Commit, InboxKey, Keyring, MemoryStore, SledStore, Store};

const DAY: u64 = 86_400;
/// 25 November 2026, noon.
const START: u64 = 1_795_608_000;

/// A clock of this place alone: its hand, and how it is read.
macro_rules! clock {
    () => {{
        static NOW: AtomicU64 = AtomicU64::new(START);
        let read: fn() -> u64 = || NOW.load(Ordering::Relaxed);
        (|days: u64| NOW.store(START + days * DAY, Ordering::Relaxed), read)
    }};
}

fn app<S: Store>(store: &Arc<S>, clock: fn() -> u64) -> App<S> {
    App::new(Arc::new(Book::shipped()), Arc::clone(store), clock, "kept-by-the-adviser").keeping_for(180)
}

fn chat(id: &str) -> ChatId {
    ChatId::new(id).unwrap()
}

fn says(id: &str, text: &str) -> Inbound {
    Inbound { chat: chat(id), id: text.to_owned(), content: Content::Text(text.to_owned()) }
}

/// The first question answered, and everything said so far delivered.
async fn talk<S: Store>(app: &App<S>, store: &S, id: &str) {
    for text in ["/start", "felt"] {
        app.work(&says(id, text), None, true).await.unwrap();
    }
    for waiting in store.waiting_for(chat(id)).await.unwrap() {
        store.strike(waiting.key).await.unwrap();
    }
}

async fn words_to(store: &impl Store, id: &str) -> Vec<String> {
    let waiting = store.waiting_for(chat(id)).await.unwrap().into_iter();
    waiting.map(|waiting| read_say(&waiting.say).unwrap().text).collect()
}

fn told(told: usize) -> Tidied {
    Tidied { told, ..Tidied::default() }
}

fn deleted(deleted: usize) -> Tidied {
    Tidied { deleted, ..Tidied::default() }
}

fn sled(dir: &Path) -> Arc<SledStore> {
    let options = Options { keyring: Some(Keyring::new([7; 32], [])), ..Options::default() };
    Arc::new(SledStore::open(dir, options).unwrap().0)
}

#[tokio::test]
async fn who_is_quiet_is_told_once_and_deleted_on_the_day_that_was_told() {
    let (day, clock) = clock!();
    let dir = tempfile::tempdir().unwrap();
    let store = sled(dir.path());
    let first = app(&store, clock);
    talk(&first, &store, "telegram:1").await;
    day(165);
    assert_eq!(first.tidy().await.unwrap(), told(0));
    day(166);
    assert_eq!(first.tidy().await.unwrap(), told(1));
    drop((first, store));

    // A restart tells nothing twice, and forgets nothing.
    let store = sled(dir.path());
    let again = app(&store, clock);
    for at in [166, 170, 179] {
        day(at);
        assert_eq!(again.tidy().await.unwrap(), told(0), "day {at}");
    }
    let words = words_to(&*store, "telegram:1").await;
    assert_eq!(words.len(), 1);
    assert!(words[0].contains("until 24 May 2027"), "{words:?}");
    day(180);
    assert_eq!(again.tidy().await.unwrap(), deleted(1));
    assert_eq!(store.chats().await.unwrap(), []);
    assert_eq!(store.list_other(Some(chat("telegram:1"))).await.unwrap(), []);
    assert_eq!(words_to(&*store, "telegram:1").await, [""; 0]);
    day(181);
    assert_eq!(again.tidy().await.unwrap(), Tidied { compacted: true, ..Tidied::default() });
    assert_eq!(again.tidy().await.unwrap(), Tidied::default());
    store.check().await.unwrap();
}

#[tokio::test]
async fn one_word_keeps_everything_for_as_long_again() {
    let (day, clock) = clock!();
    let store = Arc::new(MemoryStore::new(None).unwrap());
    let app = app(&store, clock);
    talk(&app, &store, "telegram:1").await;
    day(170);
    assert_eq!(app.tidy().await.unwrap(), told(1));
    day(183);
    app.work(&says("telegram:1", "help"), None, true).await.unwrap();
    for at in [184, 348] {
        day(at);
        assert_eq!(app.tidy().await.unwrap(), told(0), "day {at}");
    }
    day(349);
    assert_eq!(app.tidy().await.unwrap(), told(1));
    day(362);
    assert_eq!(app.tidy().await.unwrap(), deleted(0));
    day(363);
    assert_eq!(app.tidy().await.unwrap(), deleted(1));
}

#[tokio::test]
async fn told_late_is_deleted_late() {
    let (day, clock) = clock!();
    let store = Arc::new(MemoryStore::new(None).unwrap());
    let app = app(&store, clock);
    talk(&app, &store, "telegram:1").await;
    // Nobody served for months.
    day(300);
    assert_eq!(app.tidy().await.unwrap(), told(1));
    day(313);
    assert_eq!(app.tidy().await.unwrap(), deleted(0));
    day(314);
    assert_eq!(app.tidy().await.unwrap(), deleted(1));
}

#[tokio::test]
async fn a_message_that_waits_keeps_its_chat() {
    let (day, clock) = clock!();
    let store = Arc::new(MemoryStore::new(None).unwrap());
    let app = app(&store, clock);
    talk(&app, &store, "telegram:1").await;
    day(166);
    app.tidy().await.unwrap();
    let key = InboxKey("telegram/1".to_owned());
    store.keep(key.clone(), chat("telegram:1"), b"I am back".to_vec()).await.unwrap();
    day(200);
    assert_eq!(app.tidy().await.unwrap(), deleted(0));
    app.work(&says("telegram:1", "I am back"), Some(key), true).await.unwrap();
    assert_eq!(app.tidy().await.unwrap(), deleted(0));
    assert_eq!(store.chats().await.unwrap(), [(chat("telegram:1"), START + 200 * DAY)]);
}

#[tokio::test]
async fn a_page_shows_it_when_it_is_opened() {
    let (day, clock) = clock!();
    let store = Arc::new(MemoryStore::new(None).unwrap());
    let app = app(&store, clock);
    let page = Page::new(app.clone());
    page.hear(says("web:a", "felt"), "felt".to_owned()).await.unwrap();
    let before = page.said(chat("web:a"), 0).await.unwrap();
    day(166);
    // What was said to the page came through the inbox, whose keys are forgotten in time.
    assert_eq!(app.tidy().await.unwrap(), Tidied { forgotten: 1, ..told(1) });
    let shown = page.said(chat("web:a"), before.last().unwrap().number).await.unwrap();
    let [entry] = shown.as_slice() else { panic!("{shown:?}") };
    let Spoken::Bot(say) = &entry.spoken else { panic!("{entry:?}") };
    assert!(say.text.contains("until 24 May 2027"), "{}", say.text);
    // Looking is no word, and nothing is queued that nobody sends.
    assert_eq!(words_to(&*store, "web:a").await, [""; 0]);
    day(180);
    assert_eq!(app.tidy().await.unwrap(), deleted(1));
    assert_eq!(page.said(chat("web:a"), 0).await.unwrap(), []);
    assert_eq!(store.list_other(Some(chat("web:a"))).await.unwrap(), []);
}

#[tokio::test]
async fn nobody_is_spoken_to_who_has_nothing_to_lose_or_sits_in_a_group() {
    let (day, clock) = clock!();
    let store = Arc::new(MemoryStore::new(None).unwrap());
    let app = app(&store, clock);
    talk(&app, &store, "telegram:-100/7").await;
    talk(&app, &store, "local:default").await;
    app.work(&says("telegram:2", "/start"), None, false).await.unwrap();
    day(166);
    app.tidy().await.unwrap();
    assert_eq!(store.waiting(9).await.unwrap(), []);
    day(180);
    assert_eq!(app.tidy().await.unwrap(), deleted(2));
    assert_eq!(store.chats().await.unwrap(), [(chat("local:default"), START)]);
}

#[tokio::test]
async fn the_true_number_of_days_is_said() {
    let (_, clock) = clock!();
    let store = Arc::new(MemoryStore::new(None).unwrap());
    let keeps = app(&store, clock).keeping_for(90);
    let said = keeps.work(&says("telegram:1", "/privacy"), None, false).await.unwrap().says;
    assert!(said[0].text.contains("until 90 days have passed"), "{said:?}");
    assert!(said[0].text.contains("14 days before"), "{said:?}");
    let local = App::new(Arc::new(Book::shipped()), store, clock, "kept-on-this-computer");
    let said = local.work(&says("local:a", "/privacy"), None, false).await.unwrap().says;
    assert!(said[0].text.contains("until you delete it.") && !said[0].text.contains("days"), "{said:?}");
}

#[tokio::test]
async fn keys_of_worked_messages_are_forgotten_in_time() {
    let (day, clock) = clock!();
    let store = Arc::new(MemoryStore::new(None).unwrap());
    let app = app(&store, clock);
    let key = InboxKey("telegram/1".to_owned());
    store.keep(key.clone(), chat("telegram:1"), b"x".to_vec()).await.unwrap();
    let turn = Commit {
        chat: chat("telegram:1"),
        read_at: store.load(chat("telegram:1")).await.unwrap().revision,
        events: Vec::new(),
        says: Vec::new(),
        worked: Some(key),
        now: clock(),
    };
    store.commit(turn).await.unwrap();
    day(2);
    assert_eq!(app.tidy().await.unwrap().forgotten, 0);
    day(3);
    assert_eq!(app.tidy().await.unwrap().forgotten, 1);
}

#[tokio::test]
async fn what_another_wrote_to_a_chat_is_never_answered_from_memory() {
    let (_, clock) = clock!();
    let fresh = || Arc::new(MemoryStore::new(None).unwrap());
    let (alone, shared) = (fresh(), fresh());
    let one = app(&alone, clock);
    let (left, right) = (app(&shared, clock), app(&shared, clock));
    let talk = ["/start", "felt", "my answers", "25 degrees", "/delete", "yes", "12 degrees", "my answers"];
    for (turn, text) in talk.iter().enumerate() {
        let by = if turn % 3 == 0 { &left } else { &right };
        let (answer, expected) =
            (by.work(&says("a", text), None, true).await, one.work(&says("a", text), None, true).await);
        let (answer, expected) = (answer.unwrap(), expected.unwrap());
        assert_eq!((answer.says, answer.revision), (expected.says, expected.revision), "{text}");
    }
}
