//! A store on a disk that fills up: nothing is acknowledged that is not there, it says that it is not ready, and it
//! goes on by itself. These tests mount small disks of their own; where they may not, they say so and pass.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::print_stdout,
    unreachable_pub,
    reason = "a test may stop where it stands"
)]

use crate::mount;

use std::collections::BTreeSet;
use std::fs::{self, File};
use std::io::{BufRead, BufReader, Write};
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

use lapwise::message::ChatId;
use lapwise::store::sled::Options;
use lapwise::store::{Commit, InboxKey, Kept, SledStore, Store, StoreError};
use mount::{Disk, fill_up};

/// A disk, or none with a word where mounting is not allowed.
fn disk(made: Option<Disk>) -> Option<Disk> {
    if made.is_none() {
        println!("not tried: mounting needs root");
    }
    made
}

fn disks() -> impl Iterator<Item = Disk> {
    [disk(Disk::tmpfs(16)), disk(Disk::ext4(24))].into_iter().flatten()
}

fn chat(number: u32) -> ChatId {
    ChatId::new(format!("chat:{number}")).unwrap()
}

fn key(number: u32) -> InboxKey {
    InboxKey(format!("telegram/{number:020}"))
}

/// Without a floor, so that the engine itself meets the full disk: as when somebody else fills it in between.
fn floorless() -> Options {
    Options { floor_bytes: 0, ..Options::default() }
}

fn open(disk: &Disk, options: Options) -> SledStore {
    SledStore::open(&disk.path().join("data"), options).unwrap().0
}

/// Keeps messages as an intake does: what was not taken comes again. Answers which were acknowledged.
async fn keep(store: &SledStore, numbers: std::ops::Range<u32>, rounds: u32) -> BTreeSet<u32> {
    let mut acknowledged = BTreeSet::new();
    for _ in 0..rounds {
        for number in numbers.clone() {
            let kept = store.keep(key(number), chat(number % 30), vec![b'w'; 1_000]).await;
            if let Ok(Kept::New | Kept::Repeat) = kept {
                acknowledged.insert(number);
            }
        }
    }
    acknowledged
}

async fn until_ready(store: &SledStore) -> Duration {
    let begun = Instant::now();
    while store.ready().await.is_err() {
        assert!(begun.elapsed() < Duration::from_secs(10), "{:?}", store.ready().await);
        tokio::time::sleep(Duration::from_millis(20)).await;
    }
    begun.elapsed()
}

#[tokio::test(flavor = "multi_thread")]
async fn what_comes_again_on_a_full_disk_is_not_acknowledged_from_memory() {
    for disk in disks() {
        let store = open(&disk, floorless());
        let before = keep(&store, 0..30, 1).await;
        assert_eq!(before.len(), 30);
        fill_up(&disk.path().join("ballast"));
        let mut acknowledged = keep(&store, 30..400, 3).await;
        assert!(acknowledged.len() < 370, "the disk never filled");
        acknowledged.extend(before);
        drop(store);
        fs::remove_file(disk.path().join("ballast")).unwrap();
        let store = open(&disk, floorless());
        let there: BTreeSet<_> =
            store.arrived(usize::MAX).await.unwrap().into_iter().map(|one| one.key).collect();
        let lost: Vec<_> = acknowledged.iter().filter(|number| !there.contains(&key(**number))).collect();
        assert!(lost.is_empty(), "of {} acknowledged these are lost: {lost:?}", acknowledged.len());
    }
}

#[tokio::test(flavor = "multi_thread")]
async fn an_engine_that_failed_is_opened_again_by_itself() {
    for disk in disks() {
        let store = open(&disk, floorless());
        keep(&store, 0..30, 1).await;
        fill_up(&disk.path().join("ballast"));
        let acknowledged = keep(&store, 30..400, 1).await;
        assert!(acknowledged.len() < 370, "the disk never filled");
        fs::remove_file(disk.path().join("ballast")).unwrap();
        println!("ready again after {:?}", until_ready(&store).await);
        let there = store.arrived(usize::MAX).await.unwrap().len();
        assert!(there >= 30 + acknowledged.len(), "{there} of 30 and {}", acknowledged.len());
        assert_eq!(keep(&store, 400..500, 1).await.len(), 100);
        store.check().await.unwrap();
    }
}

#[tokio::test(flavor = "multi_thread")]
async fn below_the_floor_nothing_is_taken_and_nothing_breaks() {
    for disk in disks() {
        let store = open(&disk, Options::default());
        keep(&store, 0..30, 1).await;
        store.ready().await.unwrap();
        fill_up(&disk.path().join("ballast"));
        let refused = store.keep(key(99), chat(1), vec![0]).await;
        assert!(matches!(refused, Err(StoreError::Full(_))), "{refused:?}");
        assert!(matches!(store.ready().await, Err(StoreError::Full(_))));
        // What is there can be read all the while.
        assert_eq!(store.arrived(usize::MAX).await.unwrap().len(), 30);
        fs::remove_file(disk.path().join("ballast")).unwrap();
        store.ready().await.unwrap();
        assert_eq!(store.keep(key(99), chat(1), vec![0]).await, Ok(Kept::New));
    }
}

#[tokio::test(flavor = "multi_thread")]
async fn closing_on_a_full_disk_takes_a_bounded_time() {
    for disk in disks() {
        for size in [1_000, 700_000] {
            let store = open(&disk, floorless());
            keep(&store, 0..30, 1).await;
            fill_up(&disk.path().join("ballast"));
            for number in 100..140 {
                // Large ones go into files of the engine's own, where its waits have no end.
                let _ = store.keep(key(number), chat(1), vec![1; size]).await;
            }
            let begun = Instant::now();
            drop(store);
            assert!(begun.elapsed() < Duration::from_secs(15), "{:?}", begun.elapsed());
            println!("{size} bytes: closed after {:?}", begun.elapsed());
            fs::remove_file(disk.path().join("ballast")).unwrap();
        }
    }
}

/// Names the directory a child process writes to until it is killed.
const CHILD: &str = "LAPWISE_FULL_CHILD";

/// Writes turns until it is killed, and says so many bytes of how many.
async fn write_until_killed(dir: &Path) {
    let store = SledStore::open(dir, floorless()).unwrap().0;
    for turn in 0_u64.. {
        let number = u32::try_from(turn % 30).unwrap();
        let read_at = store.load(chat(number)).await.unwrap().revision;
        let noise: Vec<u8> = (0..6_000).map(|_| rand::random()).collect();
        let commit = Commit {
            chat: chat(number),
            read_at,
            events: vec![noise],
            says: Vec::new(),
            worked: None,
            now: 1,
        };
        store.commit(commit).await.unwrap();
        println!("\nkept {turn}");
    }
}

#[tokio::test(flavor = "multi_thread")]
async fn a_killed_store_opens_where_it_is() {
    if let Some(dir) = std::env::var_os(CHILD) {
        return write_until_killed(Path::new(&dir)).await;
    }
    let Some(disk) = disk(Disk::tmpfs(24)) else { return };
    let data = disk.path().join("data");
    let mut child = Command::new(std::env::current_exe().unwrap());
    child.args(["--exact", "full::a_killed_store_opens_where_it_is", "--nocapture"]).env(CHILD, &data);
    let mut child = child.stdout(Stdio::piped()).stderr(Stdio::null()).spawn().unwrap();
    let mut kept = 0;
    for line in BufReader::new(child.stdout.take().unwrap()).lines() {
        kept += u64::from(line.unwrap().starts_with("kept "));
        if size_of(&data) > 14 << 20 {
            break;
        }
    }
    child.kill().unwrap();
    child.wait().unwrap();
    let size = size_of(&data);
    // Room for a little more, and not for a copy.
    let mut ballast = File::create(disk.path().join("ballast")).unwrap();
    ballast.write_all(&vec![1; (24 << 20) - size - (6 << 20)]).unwrap();
    let (store, report) = SledStore::open(&data, floorless()).unwrap();
    assert_eq!(report.recovered, []);
    let mut turns = 0;
    for (id, _) in store.chats().await.unwrap() {
        turns += store.load(id).await.unwrap().revision.0;
    }
    assert!(turns >= kept, "{turns} of {kept}");
    println!("{kept} turns in {size} bytes, opened in place");
}

fn size_of(dir: &Path) -> usize {
    let Ok(entries) = fs::read_dir(dir) else { return 0 };
    let sizes = entries.flatten().map(|entry| match entry.metadata() {
        Ok(found) if found.is_dir() => size_of(&entry.path()),
        Ok(found) => usize::try_from(found.len()).unwrap(),
        Err(_) => 0,
    });
    sizes.sum()
}
