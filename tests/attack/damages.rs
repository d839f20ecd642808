//! A store whose files were damaged: whole, said so, or refused. Never lost in silence, never empty in its place.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use lapwise::store::{SledStore, Store, StoreError};
use rand::{RngExt, SeedableRng, rngs::StdRng};

use crate::writer::{chat, event, options, write};
use crate::{Outcome, Row};

pub const ROW: Row = Row { name: "damaged stores", short: 10, whole: 50, run };

const CHATS: u64 = 20;

fn run(tries: u32) -> Outcome {
    let runtime = tokio::runtime::Builder::new_multi_thread().worker_threads(1).build().unwrap();
    let whole = tempfile::tempdir().unwrap();
    for _ in 0..3 {
        let store = Arc::new(SledStore::open(whole.path(), options()).unwrap().0);
        runtime.block_on(async {
            let mut writers = tokio::task::JoinSet::new();
            for number in 0..CHATS {
                let store = Arc::clone(&store);
                writers.spawn(async move {
                    for _ in 0..20 {
                        write(&store, number).await.unwrap();
                    }
                });
            }
            writers.join_all().await;
        });
    }
    let mut random = StdRng::seed_from_u64(20_261_127);
    let mut outcome = Outcome { tries, ..Outcome::default() };
    let mut counts = BTreeMap::<&str, u32>::new();
    for number in 0..tries {
        let dir = tempfile::tempdir().unwrap();
        copy_all(whole.path(), dir.path());
        let what = damage(dir.path(), &mut random);
        match runtime.block_on(judge(dir.path())) {
            Ok(verdict) => *counts.entry(verdict).or_default() += 1,
            Err(fault) => outcome.failures.push(format!("damage {number} ({what}): {fault}")),
        }
    }
    outcome.note = format!("{counts:?}");
    outcome
}

fn files(dir: &Path, found: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(dir).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            files(&path, found);
        } else if fs::metadata(&path).unwrap().len() > 0 {
            found.push(path);
        }
    }
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

/// Damages one file, half of the time the log; answers what was done.
fn damage(dir: &Path, random: &mut StdRng) -> String {
    let mut all = Vec::new();
    files(dir, &mut all);
    all.sort();
    let log = all.iter().find(|path| path.ends_with("sled-0001/db")).unwrap().clone();
    let path = if random.random_bool(0.5) { log } else { all.swap_remove(random.random_range(0..all.len())) };
    let mut bytes = fs::read(&path).unwrap();
    let used = bytes.iter().rposition(|byte| *byte != 0).unwrap_or(0) + 1;
    let at = random.random_range(0..used);
    let way = match random.random_range(0..5) {
        0 => {
            fs::remove_file(&path).unwrap();
            return format!("{} removed", path.display());
        }
        1 => {
            bytes.truncate(at);
            "cut"
        }
        2 => {
            bytes[at] ^= 1 << random.random_range(0..8);
            "a bit flipped"
        }
        3 => {
            let end = bytes.len().min(at + 4_096);
            bytes[at..end].fill(0);
            "4 KB emptied"
        }
        _ => {
            let end = bytes.len().min(at + 512);
            bytes[at..end].iter_mut().for_each(|byte| *byte = random.random());
            "512 bytes of noise"
        }
    };
    fs::write(&path, &bytes).unwrap();
    format!("{} {way} at {at}", path.display())
}

async fn judge(dir: &Path) -> Result<&'static str, String> {
    let (store, report) = match SledStore::open(dir, options()) {
        Ok(opened) => opened,
        Err(StoreError::Damaged(_) | StoreError::Foreign(_) | StoreError::Key(_) | StoreError::Io(_)) => {
            return Ok("refused");
        }
        Err(fault) => return Err(format!("refused with {fault}")),
    };
    if report.created {
        return Err("a new store stands in its place".to_owned());
    }
    if store.check().await.is_err() {
        return Ok("found by the check");
    }
    let mut missing = 0;
    for number in 0..CHATS {
        let session = store.load(chat(number)).await.map_err(|fault| fault.to_string())?;
        missing += 60_u64.saturating_sub(session.revision.0);
        for (at, found) in (0..).zip(&session.events) {
            if *found != event(number, at) {
                return Err(format!("chat {number}: event {at} is not what was written"));
            }
        }
    }
    match (missing, report.recovered.is_empty()) {
        (0, true) => Ok("whole"),
        (0, false) => Ok("mended"),
        (missing, false) => Err(format!("{missing} turns given up unasked: {report:?}")),
        (missing, true) => Err(format!("{missing} turns lost in silence")),
    }
}
