//! What could not be worked, in an operator's hands: listed, shown, tried again, let go of; and told by the doctor.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test may stop where it stands"
)]

use std::path::{Path, PathBuf};
use std::process::Command;

use lapwise::message::ChatId;
use lapwise::store::sled::Options;
use lapwise::store::{InboxKey, Keyring, SledStore, Store};
use tempfile::TempDir;

struct Place {
    dir: TempDir,
    key: PathBuf,
}

impl Place {
    /// A sealed store with two messages set aside and one that waits.
    async fn new() -> Self {
        let dir = tempfile::tempdir().unwrap();
        let key = dir.path().join("key");
        std::fs::write(&key, Keyring::random_line()).unwrap();
        let place = Self { dir, key };
        let store = place.open();
        for number in 1..=3 {
            let words = format!("{{\"words\":\"shed number {number}\"}}").into_bytes();
            store.keep(inbox_key(number), ChatId::new("telegram:7").unwrap(), words).await.unwrap();
        }
        for number in 1..=2 {
            store.failed(inbox_key(number)).await.unwrap();
            store.set_aside(inbox_key(number)).await.unwrap();
        }
        place
    }

    fn data(&self) -> PathBuf {
        self.dir.path().join("data")
    }

    fn open(&self) -> SledStore {
        let options = Options { keyring: Some(Keyring::read(&self.key).unwrap()), ..Options::default() };
        SledStore::open(&self.data(), options).unwrap().0
    }

    fn lapwise(&self, words: &[&str]) -> (bool, String) {
        run(Command::new(env!("CARGO_BIN_EXE_lapwise")).args(words), &self.data(), &self.key)
    }
}

fn run(command: &mut Command, data: &Path, key: &Path) -> (bool, String) {
    let output = command.arg("--data").arg(data).arg("--key-file").arg(key).output().unwrap();
    let said =
        format!("{}{}", String::from_utf8_lossy(&output.stdout), String::from_utf8_lossy(&output.stderr));
    (output.status.success(), said)
}

fn inbox_key(number: u32) -> InboxKey {
    InboxKey(format!("telegram/{number:020}"))
}

#[tokio::test]
async fn an_operator_lists_shows_retries_and_drops() {
    let place = Place::new().await;
    let (first, second) = (inbox_key(1).0, inbox_key(2).0);
    let (well, list) = place.lapwise(&["aside"]);
    assert!(well && list.lines().count() == 2, "{list}");
    assert!(list.contains(&first) && list.contains("chat telegram:7  failed 1 times"), "{list}");
    assert!(!list.contains("shed"), "a list holds no word of anybody: {list}");
    let (well, shown) = place.lapwise(&["aside", "show", &second]);
    assert!(well && shown.contains("shed number 2"), "{shown}");
    let (well, retried) = place.lapwise(&["aside", "retry", &first]);
    assert!(well && retried.contains("worked again"), "{retried}");
    let (well, dropped) = place.lapwise(&["aside", "drop", &second]);
    assert!(well && dropped.contains("gone"), "{dropped}");
    for (what, key) in [("retry", &first), ("drop", &second), ("show", &inbox_key(3).0)] {
        let (well, said) = place.lapwise(&["aside", what, key]);
        assert!(!well && said.contains("aside list"), "{what}: {said}");
    }
    assert_eq!(place.lapwise(&["aside", "list"]).1.trim(), "nothing is set aside");
    let waiting = place.open().arrived(9).await.unwrap();
    let waiting: Vec<_> = waiting.into_iter().map(|one| (one.key, one.tries)).collect();
    assert_eq!(waiting, [(inbox_key(1), 0), (inbox_key(3), 0)]);
}

#[cfg(feature = "web")]
#[tokio::test]
async fn the_doctor_says_what_was_set_aside() {
    let place = Place::new().await;
    let doctor = || place.lapwise(&["doctor", "--web", "127.0.0.1:0"]);
    let (well, said) = doctor();
    let told = said.lines().find(|line| line.starts_with("PROBLEM  aside")).expect("it is told");
    assert!(!well && told.contains("2 messages") && told.contains("lapwise aside"), "{said}");
    for number in 1..=2 {
        place.open().drop_aside(inbox_key(number), 1).await.unwrap();
    }
    let (well, said) = doctor();
    assert!(well && said.contains("ok       aside"), "{said}");
}
