//! What a search of the store's files finds of a person.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::print_stdout,
    reason = "a test may stop where it stands"
)]

use std::fs;
use std::path::Path;
use std::sync::Arc;
use std::sync::atomic::{AtomicU64, Ordering};

use lapwise::app::App;
use lapwise::book::Book;
use lapwise::message::{ChatId, Content, Inbound};
use lapwise::store::sled::Options;
use lapwise::store::{Commit, InboxKey, Keyring, Other, Revision, SledStore, Store};

const WORDS: [&str; 6] =
    ["telegram:4242", "the shed on plot nine", "asbestos", "and that", "share/token", "a plan"];

fn chat(id: &str) -> ChatId {
    ChatId::new(id).unwrap()
}

fn open(dir: &Path, keyring: Option<Keyring>) -> SledStore {
    SledStore::open(dir, Options { keyring, ..Options::default() }).unwrap().0
}

fn key(number: u32) -> InboxKey {
    InboxKey(format!("telegram/{number:020}"))
}

/// Two chats with the same kinds of things; only the first uses the words.
async fn fill(store: &SledStore) {
    for (id, words) in [(WORDS[0], WORDS), ("telegram:1", ["other"; 6])] {
        let number = u32::try_from(id.len()).unwrap();
        for part in 0..3 {
            store.keep(key(number * 10 + part), chat(id), words[1].into()).await.unwrap();
        }
        store.set_aside(key(number * 10 + 1)).await.unwrap();
        let turn = Commit {
            chat: chat(id),
            read_at: Revision(0),
            events: vec![words[2].into(), words[3].into()],
            says: vec![words[3].into()],
            worked: Some(key(number * 10)),
            now: 1,
        };
        store.commit(turn).await.unwrap();
        let name = if id == WORDS[0] { words[4].to_owned() } else { "share/other".to_owned() };
        let share = Other { name, owner: Some(chat(id)), value: words[5].into() };
        store.put_other(share).await.unwrap();
    }
}

/// Which of the words stand in any file or file name under a directory.
fn found(dir: &Path) -> Vec<&'static str> {
    fn read(dir: &Path, into: &mut Vec<u8>) {
        for entry in fs::read_dir(dir).unwrap() {
            let path = entry.unwrap().path();
            into.extend(path.file_name().unwrap().as_encoded_bytes());
            if path.is_dir() { read(&path, into) } else { into.extend(fs::read(&path).unwrap()) }
        }
    }
    let mut bytes = Vec::new();
    read(dir, &mut bytes);
    let is_in = |word: &&str| bytes.windows(word.len()).any(|window| window == word.as_bytes());
    WORDS.into_iter().filter(is_in).collect()
}

#[tokio::test]
async fn a_plain_store_holds_no_word_after_erasing_and_compacting() {
    let dir = tempfile::tempdir().unwrap();
    let store = open(dir.path(), None);
    fill(&store).await;
    let mut plain = WORDS.to_vec();
    plain.sort_unstable();
    let mut there = found(dir.path());
    there.sort_unstable();
    assert_eq!(there, plain);
    let erased = store.erase(chat(WORDS[0])).await.unwrap();
    assert_eq!((erased.events, erased.inbox, erased.outbox, erased.other), (2, 3, 1, 1));
    assert_ne!(found(dir.path()), [""; 0]);
    store.compact().await.unwrap();
    assert_eq!(found(dir.path()), [""; 0]);
    drop(store);
    assert_eq!(found(dir.path()), [""; 0]);
    let store = open(dir.path(), None);
    assert_eq!(store.load(chat("telegram:1")).await.unwrap().events.len(), 2);
    assert_eq!(found(dir.path()), [""; 0]);
}

#[tokio::test]
async fn a_sealed_store_never_holds_a_word() {
    let dir = tempfile::tempdir().unwrap();
    let ring = || Some(Keyring::new([3; 32], []));
    let store = open(dir.path(), ring());
    fill(&store).await;
    assert_eq!(found(dir.path()), [""; 0]);
    let backup = tempfile::tempdir().unwrap();
    store.backup(fs::File::create(backup.path().join("backup")).unwrap()).await.unwrap();
    assert_eq!(found(backup.path()), [""; 0]);
    drop(store);
    let store = open(dir.path(), ring());
    assert_eq!(store.load(chat(WORDS[0])).await.unwrap().events, [WORDS[2].as_bytes(), WORDS[3].as_bytes()]);
    store.erase(chat(WORDS[0])).await.unwrap();
    store.compact().await.unwrap();
    assert_eq!(found(dir.path()), [""; 0]);
    store.check().await.unwrap();
}

/// What a person types and gets deleted, over a store where all of it can be read as long as it is there.
#[tokio::test]
async fn what_a_person_deletes_is_out_of_the_files_a_day_later() {
    static NOW: AtomicU64 = AtomicU64::new(1_795_608_000);
    let dir = tempfile::tempdir().unwrap();
    let store = Arc::new(open(dir.path(), None));
    let clock = || NOW.load(Ordering::Relaxed);
    let app = App::new(Arc::new(Book::shipped()), Arc::clone(&store), clock, "kept-by-the-adviser");
    for (number, text) in (0..).zip(["/start", WORDS[1], "felt", "/delete", "yes"]) {
        let content = Content::Text(text.to_owned());
        let inbound = Inbound { chat: chat(WORDS[0]), id: text.to_owned(), content };
        store.keep(key(number), chat(WORDS[0]), text.into()).await.unwrap();
        let worked = app.work(&inbound, Some(key(number)), true).await.unwrap();
        if text == "yes" {
            assert!(worked.says[0].text.contains(" 5 messages from you"), "{:?}", worked.says);
        }
    }
    // Delivered, and the chat's name with it.
    let said = store.waiting_for(chat(WORDS[0])).await.unwrap();
    assert_eq!(said.len(), 1, "what was said before is deleted too");
    store.erase(chat(WORDS[0])).await.unwrap();
    for word in &WORDS[..2] {
        assert!(found(dir.path()).contains(word), "{word:?} is not found where it is still in the log");
    }
    assert!(!app.tidy().await.unwrap().compacted);
    NOW.fetch_add(86_400, Ordering::Relaxed);
    assert!(app.tidy().await.unwrap().compacted);
    for word in &WORDS[..2] {
        assert!(!found(dir.path()).contains(word), "{word:?} is still in the files");
    }
}

#[test]
fn reads_a_key_file_and_says_which_line_is_wrong() {
    let (first, second) = (Keyring::random_line(), Keyring::random_line());
    assert_ne!(first, second);
    let ring = Keyring::parse(&format!("# newest first\n{first}\n\n{second}\n")).unwrap();
    assert_eq!(format!("{ring:?}"), "Keyring of 2");
    let fault = Keyring::parse(&format!("{first}\nc2hvcnQ=\n")).unwrap_err();
    assert_eq!(fault, "line 2 is not 32 bytes in base64");
    assert_eq!(Keyring::parse("# nothing\n").unwrap_err(), "it holds no key");
    assert!(Keyring::read(Path::new("/nowhere/key")).unwrap_err().to_string().contains("/nowhere/key"));
}
