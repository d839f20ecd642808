//! A new key for everything that is kept: it opens what the old one opened, and a `kill -9` at any moment leaves a
//! store that one of the two opens whole.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::print_stdout,
    reason = "a test may stop where it stands, and says what it counted"
)]

use std::path::{Path, PathBuf};
use std::process::{Command, Output};
use std::time::{Duration, Instant};

use lapwise::message::ChatId;
use lapwise::store::sled::Options;
use lapwise::store::{Commit, Keyring, Revision, SledStore, Store, StoreError};
use rand::{RngExt, SeedableRng, rngs::StdRng};
use tempfile::TempDir;

const KILLS: u32 = 40;
const SEED: u64 = 20_261_125;
const CHATS: u32 = 300;

struct Place {
    dir: TempDir,
    keys: [PathBuf; 2],
}

impl Place {
    /// A store of many chats, closed with the first of two keys.
    async fn filled() -> Self {
        let dir = tempfile::tempdir().unwrap();
        let keys = ["old", "new"].map(|name| dir.path().join(name));
        for key in &keys {
            std::fs::write(key, Keyring::random_line()).unwrap();
        }
        let place = Self { dir, keys };
        let store = place.open(&place.keys[0]).unwrap();
        for number in 0..CHATS {
            let chat = ChatId::new(format!("telegram:{number}")).unwrap();
            let turn = Commit {
                chat,
                read_at: Revision(0),
                events: vec![format!("roof {number}").into_bytes(); 3],
                says: vec![b"words".to_vec()],
                worked: None,
                now: 1,
            };
            store.commit(turn).await.unwrap();
        }
        drop(store);
        place
    }

    fn data(&self) -> PathBuf {
        self.dir.path().join("data")
    }

    fn open(&self, key: &Path) -> Result<SledStore, StoreError> {
        let options = Options { keyring: Some(Keyring::read(key).unwrap()), ..Options::default() };
        SledStore::open(&self.data(), options).map(|(store, _)| store)
    }

    fn rekey(&self, old: &Path, new: &Path) -> Command {
        let mut command = Command::new(env!("CARGO_BIN_EXE_lapwise"));
        command.args(["rekey", "--data"]).arg(self.data());
        command.arg("--key-file").arg(old).arg("--new-key-file").arg(new);
        command
    }

    /// Which of the keys opens the store; everything in it is looked at.
    async fn opened_by(&self) -> usize {
        let mut opened = None;
        for (index, key) in self.keys.iter().enumerate() {
            match self.open(key) {
                Ok(store) => {
                    let checked = store.check().await.unwrap();
                    let held = (checked.chats, checked.events, checked.outbox);
                    assert_eq!(held, (300, 900, 300));
                    assert_eq!(opened.replace(index), None, "both keys open it");
                }
                Err(StoreError::Key(fault)) => assert!(fault.contains("lapwise rekey"), "{fault}"),
                Err(fault) => panic!("{fault}"),
            }
        }
        opened.expect("one of the keys opens it")
    }
}

fn text(output: &Output) -> String {
    format!("{}{}", String::from_utf8_lossy(&output.stdout), String::from_utf8_lossy(&output.stderr))
}

#[tokio::test]
async fn a_kill_at_any_moment_leaves_a_store_that_one_of_the_keys_opens() {
    let place = Place::filled().await;
    let mut random = StdRng::seed_from_u64(SEED);
    // How long it takes, undisturbed, and back again.
    let began = Instant::now();
    for (old, new) in [(0, 1), (1, 0)] {
        let done = place.rekey(&place.keys[old], &place.keys[new]).output().unwrap();
        assert!(done.status.success() && text(&done).contains("300 chats"), "{}", text(&done));
        assert_eq!(place.opened_by().await, new);
    }
    let whole = u64::try_from(began.elapsed().as_millis() / 2).unwrap();
    let mut at = 0;
    let (mut changed, mut finished) = (0, 0);
    for _ in 0..KILLS {
        let mut child = place.rekey(&place.keys[at], &place.keys[1 - at]).spawn().unwrap();
        std::thread::sleep(Duration::from_millis(random.random_range(0..=whole)));
        child.kill().unwrap();
        finished += u32::from(child.wait().unwrap().success());
        let now = place.opened_by().await;
        changed += u32::from(now != at);
        at = now;
    }
    println!("{KILLS} kills over {whole} ms: {changed} times the new key opened it, {finished} had finished");
    // Cut short or not, doing it once more finishes it.
    let mut last = place.rekey(&place.keys[0], &place.keys[1]);
    assert!(last.output().unwrap().status.success());
    let again = last.output().unwrap();
    assert!(again.status.success(), "{}", text(&again));
    assert_eq!(place.opened_by().await, 1);
}

#[tokio::test]
async fn what_cannot_be_done_says_what_to_do() {
    let place = Place::filled().await;
    let [old, new] = &place.keys;
    let fails = |mut command: Command, because: &str| {
        let output = command.output().unwrap();
        assert!(!output.status.success() && text(&output).contains(because), "{}", text(&output));
    };
    fails(place.rekey(old, old), "the same key");
    fails(place.rekey(old, &place.dir.path().join("none")), "a fresh one is this line");
    fails(place.rekey(new, &place.dir.path().join("none")), "none");
    let wrong = place.dir.path().join("wrong");
    std::fs::write(&wrong, Keyring::random_line()).unwrap();
    fails(place.rekey(new, &wrong), "name the file that holds the newer key");
    let mut nowhere = Command::new(env!("CARGO_BIN_EXE_lapwise"));
    nowhere.args(["rekey", "--data", "/nowhere", "--key-file"]).arg(old).arg("--new-key-file").arg(new);
    fails(nowhere, "there is no store");
    let open = place.open(old).unwrap();
    fails(place.rekey(old, new), "is to be stopped first");
    drop(open);
    assert_eq!(place.opened_by().await, 0);
}
