//! What may have ended a process is tried again late and alone, on a page as in a messenger.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test may stop where it stands"
)]

use std::sync::Arc;
use std::time::{Duration, Instant};

use lapwise::app::{App, Page};
use lapwise::book::Book;
use lapwise::channel::rooms::Rooms as _;
use lapwise::message::{ChatId, Content};
use lapwise::store::transcript::{Heard, write_heard};
use lapwise::store::{InboxKey, MemoryStore, Store};

fn chat(name: &str) -> ChatId {
    ChatId::new(format!("web:{name}")).unwrap()
}

#[tokio::test]
async fn a_page_answers_everybody_else_first() {
    let store = Arc::new(MemoryStore::new(None).unwrap());
    for name in ["a", "b"] {
        let heard = Heard { id: "m1".into(), shown: "felt".into(), content: Content::Text("felt".into()) };
        let key = InboxKey(format!("web/{name}"));
        store.keep(key, chat(name), write_heard(&heard).unwrap()).await.unwrap();
    }
    // As the opening counts it where a process ended over a message.
    store.failed(InboxKey("web/a".into())).await.unwrap();
    let app =
        App::new(Arc::new(Book::shipped()), Arc::clone(&store), || 1_795_608_000, "kept-by-the-adviser");
    let page = Arc::new(Page::new(app));
    let began = Instant::now();
    let resumed = tokio::spawn({
        let page = Arc::clone(&page);
        async move { page.resume().await }
    });
    let mut first_answered = Vec::new();
    while !resumed.is_finished() {
        for name in ["a", "b"] {
            if !first_answered.contains(&name) && !page.said(chat(name), 0).await.unwrap().is_empty() {
                first_answered.push(name);
            }
        }
        tokio::time::sleep(Duration::from_millis(5)).await;
    }
    assert_eq!(resumed.await.unwrap().unwrap(), 2);
    assert!(began.elapsed() >= Duration::from_secs(1), "it was tried at once");
    assert_eq!(first_answered.first(), Some(&"b"));
    assert!(!page.said(chat("a"), 0).await.unwrap().is_empty());
}
