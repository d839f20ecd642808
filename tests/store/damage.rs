//! Damaged, foreign and half-finished directories: mended where the log allows, never passed over in silence.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::print_stdout,
    reason = "a test may stop where it stands"
)]

use std::collections::BTreeMap;
use std::fs;
use std::io::{BufRead, BufReader, Write};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use lapwise::message::ChatId;
use lapwise::store::sled::{OpenReport, Options, Recovered};
use lapwise::store::{Commit, Keyring, SledStore, Store, StoreError};
use tempfile::TempDir;

/// Throws that are the same in every run (splitmix64: Steele, Lea and Flood, 2014).
struct Dice(u64);

impl Dice {
    fn below(&mut self, limit: u64) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mixed = (self.0 ^ (self.0 >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        let mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        (mixed ^ (mixed >> 31)) % limit
    }
}

fn chat(number: u64) -> ChatId {
    ChatId::new(format!("chat:{number}")).unwrap()
}

fn open(dir: &Path) -> Result<(SledStore, OpenReport), StoreError> {
    SledStore::open(dir, Options::default())
}

fn event(chat: u64, number: u64) -> Vec<u8> {
    format!("event {number} of {chat} {}", "and so on ".repeat(20)).into_bytes()
}

async fn write(store: &SledStore, chat_number: u64) -> Result<u64, StoreError> {
    let read_at = store.load(chat(chat_number)).await?.revision;
    let turn = Commit {
        chat: chat(chat_number),
        read_at,
        events: vec![event(chat_number, read_at.0)],
        says: vec![event(chat_number, read_at.0)],
        worked: None,
        now: 1,
    };
    store.commit(turn).await.map(|revision| revision.0)
}

/// Each chat's revision; every event of every chat is compared with what was written.
async fn revisions(store: &SledStore) -> Result<BTreeMap<String, u64>, StoreError> {
    let mut revisions = BTreeMap::new();
    for (id, _) in store.chats().await? {
        let session = store.load(id.clone()).await?;
        let number = id.as_str().trim_start_matches("chat:").parse().unwrap();
        let expected: Vec<_> = (0..session.revision.0).map(|at| event(number, at)).collect();
        assert_eq!(session.events, expected, "{id}");
        revisions.insert(id.to_string(), session.revision.0);
    }
    Ok(revisions)
}

/// A store that was opened `openings` times, with turns in 20 chats each time.
async fn written(openings: u64, turns: u64) -> (TempDir, BTreeMap<String, u64>) {
    let dir = tempfile::tempdir().unwrap();
    let mut expected = BTreeMap::new();
    for _ in 0..openings {
        let (store, report) = open(dir.path()).unwrap();
        assert_eq!(report.recovered, []);
        for turn in 0..turns {
            write(&store, turn % 20).await.unwrap();
        }
        expected = revisions(&store).await.unwrap();
    }
    (dir, expected)
}

fn snapshot(dir: &Path) -> PathBuf {
    let names = fs::read_dir(dir.join("sled-0001")).unwrap().map(|entry| entry.unwrap().path());
    names.filter(|path| path.to_string_lossy().contains("snap.")).max().expect("a snapshot")
}

fn log(dir: &Path) -> PathBuf {
    dir.join("sled-0001").join("db")
}

#[tokio::test]
async fn moves_a_half_written_snapshot_aside() {
    for leftover in [b"".as_slice(), b"half of a snapsh", &[0xff; 5_000]] {
        let (dir, expected) = written(3, 200).await;
        let half = dir.path().join("sled-0001/snap.00000000000FFFFF.generating");
        fs::write(&half, leftover).unwrap();
        let (store, report) = open(dir.path()).unwrap();
        let [Recovered::HalfSnapshot { removed }, Recovered::Copied { to }] = report.recovered.as_slice()
        else {
            panic!("{report:?}")
        };
        assert_eq!(fs::read(to.join(removed.file_name().unwrap())).unwrap(), leftover);
        assert_eq!(revisions(&store).await, Ok(expected));
        drop(store);
        assert_eq!(open(dir.path()).unwrap().1, OpenReport::default());
    }
}

#[tokio::test]
async fn rebuilds_from_the_log_when_the_snapshot_is_corrupt() {
    let ways: [fn(Vec<u8>) -> Vec<u8>; 4] = [
        |_| Vec::new(),
        |bytes| bytes[..bytes.len() / 2].to_vec(),
        |mut bytes| {
            let middle = bytes.len() / 2;
            bytes[middle] ^= 1;
            bytes
        },
        |bytes| vec![0; bytes.len()],
    ];
    for damage in ways {
        let (dir, expected) = written(3, 200).await;
        let path = snapshot(dir.path());
        let damaged = damage(fs::read(&path).unwrap());
        fs::write(&path, &damaged).unwrap();
        let (store, report) = open(dir.path()).unwrap();
        let [Recovered::Snapshot { removed }, Recovered::Copied { to }] = report.recovered.as_slice() else {
            panic!("{report:?}")
        };
        assert_eq!(fs::read(to.join(removed.file_name().unwrap())).unwrap(), damaged);
        assert_eq!(revisions(&store).await, Ok(expected));
        write(&store, 1).await.unwrap();
        store.check().await.unwrap();
    }
}

/// Opens a store that has lost something, and accepts that.
fn open_accepting(dir: &Path) -> Result<(SledStore, OpenReport), StoreError> {
    SledStore::open(dir, Options { accept_loss: true, ..Options::default() })
}

#[tokio::test]
async fn goes_on_without_the_end_of_the_log_only_when_told_to() {
    for cut in 1..12_u64 {
        let (dir, expected) = written(2, 200).await;
        let file = fs::File::options().write(true).open(log(dir.path())).unwrap();
        let length = file.metadata().unwrap().len();
        file.set_len(length - length * cut / 12).unwrap();
        let found = fs::read(log(dir.path())).unwrap();
        for _ in 0..2 {
            let refused = open(dir.path()).err();
            let told =
                matches!(&refused, Some(StoreError::Damaged(fault)) if fault.contains("accept the loss"));
            assert!(told, "{refused:?}");
            assert_eq!(fs::read(log(dir.path())).unwrap(), found);
            assert!(!dir.path().join("recovered").exists());
        }
        let (store, report) = open_accepting(dir.path()).unwrap();
        assert!(report.recovered.iter().any(|what| matches!(what, Recovered::LogCut { .. })), "{report:?}");
        store.check().await.unwrap();
        assert_ne!(revisions(&store).await, Ok(expected));
        write(&store, 1).await.unwrap();
        drop(store);
        assert_eq!(open(dir.path()).unwrap().1, OpenReport::default());
    }
}

/// A flipped byte anywhere: whole, or said so, or refused, or found by the check. Never lost in silence.
#[tokio::test]
async fn never_passes_over_a_flipped_byte() {
    let mut outcomes = BTreeMap::<&str, u32>::new();
    for turns in [200, 1_500] {
        let (dir, expected) = written(2, turns).await;
        let mut dice = Dice(turns);
        let whole = fs::read(log(dir.path())).unwrap();
        for _ in 0..20 {
            let copy = tempfile::tempdir().unwrap();
            copy_all(dir.path(), copy.path());
            let mut bytes = whole.clone();
            let at = usize::try_from(dice.below(used_length(&whole))).unwrap();
            bytes[at] ^= 0x55;
            fs::write(log(copy.path()), &bytes).unwrap();
            if let Err(fault) = open(copy.path()).map(drop) {
                assert!(matches!(fault, StoreError::Damaged(_)), "{fault}");
                assert_eq!(fs::read(log(copy.path())).unwrap(), bytes);
            }
            let outcome = match open_accepting(copy.path()) {
                Err(StoreError::Damaged(_)) => "refused",
                Err(other) => panic!("{other}"),
                Ok((store, report)) => match (store.check().await, report.recovered.last()) {
                    (Err(StoreError::Damaged(_)), None) => "found by the check",
                    (Ok(_), None) => {
                        assert_eq!(revisions(&store).await.as_ref(), Ok(&expected));
                        "whole"
                    }
                    (Ok(_), Some(Recovered::Copied { to })) => {
                        assert_eq!(fs::read(to.join("db")).unwrap(), bytes);
                        revisions(&store).await.unwrap();
                        "said so"
                    }
                    (checked, _) => panic!("at {at}: {report:?} {checked:?}"),
                },
            };
            *outcomes.entry(outcome).or_default() += 1;
        }
    }
    println!("{outcomes:?}");
}

/// How much of a file comes before the zeros at its end.
fn used_length(bytes: &[u8]) -> u64 {
    let used = bytes.iter().rposition(|byte| *byte != 0).unwrap();
    u64::try_from(used).unwrap()
}

fn copy_all(from: &Path, to: &Path) {
    fs::create_dir_all(to).unwrap();
    for entry in fs::read_dir(from).unwrap() {
        let path = entry.unwrap().path();
        let copy = to.join(path.file_name().unwrap());
        if path.is_dir() {
            copy_all(&path, &copy);
        } else {
            fs::copy(&path, &copy).unwrap();
        }
    }
}

#[tokio::test]
async fn never_starts_empty_in_place_of_a_damaged_store() {
    let damages: [fn(&Path); 4] = [
        |dir| fs::remove_file(log(dir)).unwrap(),
        |dir| fs::write(log(dir), "").unwrap(),
        |dir| fs::remove_dir_all(dir.join("sled-0001")).unwrap(),
        |dir| fs::write(log(dir), vec![0; 600_000]).unwrap(),
    ];
    for damage in damages {
        let (dir, _) = written(1, 200).await;
        damage(dir.path());
        for _ in 0..2 {
            let fault = open(dir.path()).err();
            assert!(matches!(&fault, Some(StoreError::Damaged(_))), "{fault:?}");
            assert!(fault.unwrap().to_string().contains("restore"));
        }
    }
}

#[tokio::test]
async fn leaves_foreign_directories_alone() {
    let dir = tempfile::tempdir().unwrap();
    fs::write(dir.path().join("letter.txt"), "dear Fennick Green").unwrap();
    assert!(matches!(open(dir.path()).err(), Some(StoreError::Foreign(_))));
    assert!(matches!(SledStore::restore(&b""[..], dir.path()), Err(StoreError::Foreign(_))));
    assert_eq!(fs::read_dir(dir.path()).unwrap().count(), 1);
    let (dir, _) = written(1, 200).await;
    let marker = dir.path().join("lapwise-store.json");
    let text = fs::read_to_string(&marker).unwrap();
    fs::write(&marker, text.replace("\"lapwise_store\": 1", "\"lapwise_store\": 2, \"new\": true")).unwrap();
    assert!(matches!(open(dir.path()).err(), Some(StoreError::Foreign(_))));
    fs::write(&marker, text.replace("\"sled\"", "\"slate\"")).unwrap();
    assert!(matches!(open(dir.path()).err(), Some(StoreError::Foreign(_))));
    fs::write(&marker, &text[..10]).unwrap();
    assert!(matches!(open(dir.path()).err(), Some(StoreError::Damaged(_))));
}

#[tokio::test]
async fn is_opened_by_one_only() {
    let (dir, _) = written(1, 200).await;
    let store = open(dir.path()).unwrap();
    assert!(matches!(open(dir.path()).err(), Some(StoreError::InUse(_))));
    assert!(matches!(SledStore::backup_cold(dir.path(), Vec::new()), Err(StoreError::InUse(_))));
    drop(store);
    open(dir.path()).unwrap();
}

#[tokio::test]
async fn finishes_what_was_cut_short() {
    let (dir, expected) = written(1, 200).await;
    copy_all(&dir.path().join("sled-0001"), &dir.path().join("sled-0002"));
    let (store, report) = open(dir.path()).unwrap();
    assert_eq!(report.recovered, [Recovered::OtherGeneration { deleted: dir.path().join("sled-0002") }]);
    assert_eq!(revisions(&store).await, Ok(expected.clone()));
    store.compact().await.unwrap();
    assert!(!dir.path().join("sled-0001").exists());
    write(&store, 1).await.unwrap();
    drop(store);
    assert_eq!(open(dir.path()).unwrap().1, OpenReport::default());
    // A beginning that never finished has acknowledged nothing.
    let marker = dir.path().join("lapwise-store.json");
    let text = fs::read_to_string(&marker).unwrap();
    fs::write(&marker, text.replace("ready", "new")).unwrap();
    assert!(open(dir.path()).unwrap().1.created);
    fs::write(&marker, text.replace("ready", "restoring")).unwrap();
    assert!(matches!(open(dir.path()).err(), Some(StoreError::Damaged(_))));
}

/// An opening that was stopped leaves a copy, whole or half deleted; what counts is what was written since.
#[tokio::test]
async fn never_takes_a_leftover_copy_for_the_store() {
    let (dir, expected) = written(2, 200).await;
    for leftover in ["opening", "opening.part", "opening.done"] {
        fs::create_dir(dir.path().join(leftover)).unwrap();
        fs::write(dir.path().join(leftover).join("db"), "half of it").unwrap();
    }
    let (store, report) = open(dir.path()).unwrap();
    assert_eq!((revisions(&store).await, report), (Ok(expected.clone()), OpenReport::default()));
    drop(store);
    assert!(
        fs::read_dir(dir.path())
            .unwrap()
            .all(|entry| { !entry.unwrap().file_name().to_string_lossy().starts_with("opening") })
    );
    fs::rename(dir.path().join("sled-0001"), dir.path().join("opening")).unwrap();
    assert_eq!(revisions(&open(dir.path()).unwrap().0).await, Ok(expected));
}

#[tokio::test]
async fn leaves_damage_as_it_is_when_backing_up() {
    let (dir, _) = written(2, 200).await;
    let mut bytes = fs::read(log(dir.path())).unwrap();
    let middle = usize::try_from(used_length(&bytes) / 2).unwrap();
    bytes[middle] ^= 1;
    fs::write(log(dir.path()), &bytes).unwrap();
    let refused = SledStore::backup_cold(dir.path(), Vec::new());
    assert!(matches!(refused, Err(StoreError::Damaged(_))), "{refused:?}");
    assert_eq!(fs::read(log(dir.path())).unwrap(), bytes);
}

#[tokio::test]
async fn restores_only_whole_backups() {
    let (dir, expected) = written(1, 200).await;
    let mut backup = Vec::new();
    let backed_up = SledStore::backup_cold(dir.path(), &mut backup).unwrap();
    assert_eq!(backed_up.chats, 20);
    let mut dice = Dice(3);
    for _ in 0..30 {
        let into = tempfile::tempdir().unwrap();
        let at = usize::try_from(dice.below(u64::try_from(backup.len() - 1).unwrap())).unwrap();
        let mut flipped = backup.clone();
        flipped[at] ^= 1;
        for broken in [&backup[..at], &flipped] {
            let refused = SledStore::restore(broken, into.path());
            assert!(
                matches!(refused, Err(StoreError::Damaged(_) | StoreError::Foreign(_))),
                "{at}: {refused:?}"
            );
            assert_eq!(fs::read_dir(into.path()).unwrap().count(), 0);
        }
    }
    let into = tempfile::tempdir().unwrap();
    assert_eq!(SledStore::restore(backup.as_slice(), into.path()), Ok(backed_up));
    let (store, report) = open(into.path()).unwrap();
    assert_eq!(report, OpenReport::default());
    assert_eq!(revisions(&store).await, Ok(expected));
    store.check().await.unwrap();
}

/// Names the directory a child process writes to until it is killed or cannot go on.
const CHILD: &str = "LAPWISE_STORE_CHILD";

/// Writes from 16 tasks at once and says on standard output what was acknowledged.
fn write_until_stopped(dir: &Path) {
    let runtime = tokio::runtime::Builder::new_multi_thread().worker_threads(2).build().unwrap();
    runtime.block_on(async {
        let store = std::sync::Arc::new(open(dir).unwrap().0);
        let mut writers = tokio::task::JoinSet::new();
        for number in 0..16 {
            let store = std::sync::Arc::clone(&store);
            writers.spawn(async move {
                while let Ok(revision) = write(&store, number).await {
                    let line = format!("\nkept chat:{number} {revision}\n");
                    std::io::stdout().lock().write_all(line.as_bytes()).unwrap();
                }
            });
        }
        writers.join_all().await;
    });
}

/// Starts this test again as a child that writes, under a shell that sets its limits.
fn child(test: &str, dir: &Path, limits: &str) -> std::process::Child {
    let script = format!("{limits} exec \"$0\" --exact damage::{test} --nocapture --test-threads 1");
    let mut command = Command::new("sh");
    command.arg("-c").arg(script).arg(std::env::current_exe().unwrap());
    command.env(CHILD, dir).stdout(Stdio::piped()).stderr(Stdio::null());
    command.spawn().unwrap()
}

/// Reads what a child acknowledged, and kills it after so many lines.
fn acknowledged(mut child: std::process::Child, kill_after: Option<u64>) -> BTreeMap<String, u64> {
    let mut kept = BTreeMap::new();
    let mut seen = 0;
    for line in BufReader::new(child.stdout.take().unwrap()).lines() {
        let line = line.unwrap();
        let words: Vec<_> = line.split(' ').collect();
        // The last line may be cut by the kill.
        if let ["kept", name, revision] = words.as_slice() {
            kept.insert((*name).to_owned(), revision.parse::<u64>().unwrap());
            seen += 1;
            if kill_after == Some(seen) {
                child.kill().unwrap();
            }
        }
    }
    child.wait().unwrap();
    kept
}

async fn assert_kept(store: &SledStore, kept: &BTreeMap<String, u64>) {
    store.check().await.unwrap();
    let found = revisions(store).await.unwrap();
    for (name, revision) in kept {
        assert!(found.get(name).is_some_and(|found| found >= revision), "{name}: {revision} of {found:?}");
    }
}

#[tokio::test(flavor = "multi_thread")]
async fn loses_nothing_acknowledged_when_killed_fifty_times() {
    if let Some(dir) = std::env::var_os(CHILD) {
        return tokio::task::block_in_place(|| write_until_stopped(Path::new(&dir)));
    }
    let dir = tempfile::tempdir().unwrap();
    let mut dice = Dice(50);
    let mut total = BTreeMap::new();
    for _ in 0..50 {
        let writing = child("loses_nothing_acknowledged_when_killed_fifty_times", dir.path(), "");
        total.extend(acknowledged(writing, Some(1 + dice.below(300))));
        let (store, _) = open(dir.path()).unwrap();
        assert_kept(&store, &total).await;
    }
    println!("{} turns kept", total.values().sum::<u64>());
}

#[tokio::test(flavor = "multi_thread")]
async fn loses_nothing_acknowledged_when_the_disk_is_full() {
    if let Some(dir) = std::env::var_os(CHILD) {
        return tokio::task::block_in_place(|| write_until_stopped(Path::new(&dir)));
    }
    for blocks in [2_048, 4_500] {
        let dir = tempfile::tempdir().unwrap();
        let limits = format!("trap '' XFSZ; ulimit -f {blocks};");
        let full = child("loses_nothing_acknowledged_when_the_disk_is_full", dir.path(), &limits);
        let kept = acknowledged(full, None);
        assert_eq!(kept.len(), 16);
        let (store, report) = open(dir.path()).unwrap();
        assert!(!report.created);
        assert_kept(&store, &kept).await;
        write(&store, 1).await.unwrap();
    }
}

#[tokio::test]
async fn opens_with_the_right_key_only() {
    let dir = tempfile::tempdir().unwrap();
    let with =
        |keyring: Option<Keyring>| SledStore::open(dir.path(), Options { keyring, ..Options::default() });
    let (old, new) = ([1; 32], [2; 32]);
    let (store, _) = with(Some(Keyring::new(old, []))).unwrap();
    write(&store, 1).await.unwrap();
    drop(store);
    for wrong in [None, Some(Keyring::new(new, []))] {
        assert!(matches!(with(wrong).err(), Some(StoreError::Key(_))));
    }
    let (store, _) = with(Some(Keyring::new(new, [old]))).unwrap();
    write(&store, 2).await.unwrap();
    assert_eq!(store.rotate().await, Ok(2));
    drop(store);
    assert!(matches!(with(Some(Keyring::new(old, []))).err(), Some(StoreError::Key(_))));
    let (store, _) = with(Some(Keyring::new(new, []))).unwrap();
    assert_eq!(revisions(&store).await.unwrap().len(), 2);
    let plain = tempfile::tempdir().unwrap();
    drop(open(plain.path()).unwrap());
    let needless = Options { keyring: Some(Keyring::new(new, [])), ..Options::default() };
    assert!(matches!(SledStore::open(plain.path(), needless).err(), Some(StoreError::Key(_))));
}
