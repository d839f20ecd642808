//! A disk that fills up while thirty chats write: nothing acknowledged is lost, and where room is made it goes on by
//! itself.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use std::sync::mpsc;
use std::time::{Duration, Instant};

use rand::{RngExt, SeedableRng, rngs::StdRng};

use crate::mount::{Disk, fill_up};
use crate::writer::{Said, Writer, lost};
use crate::{Outcome, Row};

pub const TMPFS: Row =
    Row { name: "disk full, tmpfs", short: 3, whole: 30, run: |tries| run(tries, 1, || Disk::tmpfs(16)) };
pub const EXT4: Row =
    Row { name: "disk full, ext4", short: 3, whole: 30, run: |tries| run(tries, 2, || Disk::ext4(24)) };

/// Within this time of room being made it must be serving again.
const AGAIN_WITHIN: Duration = Duration::from_secs(10);

fn run(tries: u32, seed: u64, disk: fn() -> Option<Disk>) -> Outcome {
    let mut random = StdRng::seed_from_u64(seed);
    let mut outcome = Outcome::default();
    let (mut slowest, mut turns) = (Duration::ZERO, 0);
    for number in 0..tries {
        let Some(disk) = disk() else { return Outcome::skipped("mounting needs root") };
        outcome.tries += 1;
        match fill(disk.path(), &mut random) {
            Ok((kept, took)) => {
                slowest = slowest.max(took);
                turns += kept;
            }
            Err(fault) => outcome.failures.push(format!("disk {number}: {fault}")),
        }
    }
    outcome.note =
        format!("{turns} turns acknowledged, serving again after at most {:.1} s", slowest.as_secs_f64());
    outcome
}

/// Fills a disk under a writer at some moment, makes room, and ends the writer in one of two ways; answers how many
/// turns were acknowledged and how long it took to go on.
fn fill(disk: &Path, random: &mut StdRng) -> Result<(u64, Duration), String> {
    let (data, ballast) = (disk.join("data"), disk.join("ballast"));
    let mut writer = Writer::start(&data);
    let id = writer.child.id();
    let (tell, told) = mpsc::channel();
    // Read in a thread of its own, so that silence can be noticed.
    let reader = std::thread::spawn(move || {
        while let Some(said) = writer.said() {
            let _ = tell.send(said);
        }
        writer.child.wait().map(|status| status.code())
    });
    let mut kept = BTreeMap::new();
    let mut hear = |wanted: u32, within: Duration| -> Result<(), String> {
        let deadline = Instant::now() + within;
        let mut heard = 0;
        while heard < wanted {
            match told.recv_timeout(deadline.saturating_duration_since(Instant::now())) {
                Ok(Said::Kept(chat, revision)) => {
                    kept.insert(chat, revision);
                    heard += 1;
                }
                Ok(Said::Open | Said::Fault(_)) => {}
                Err(mpsc::RecvTimeoutError::Timeout) => return Err(format!("{heard} of {wanted} turns")),
                Err(mpsc::RecvTimeoutError::Disconnected) => return Err("the process ended".to_owned()),
            }
        }
        Ok(())
    };
    hear(random.random_range(1..400), Duration::from_secs(30)).map_err(|fault| format!("before: {fault}"))?;
    fill_up(&ballast);
    // All that is still acknowledged on the full disk counts.
    if hear(u32::MAX, Duration::from_millis(random.random_range(300..1_500))).is_ok() {
        return Err("the disk never filled".to_owned());
    }
    fs::remove_file(&ballast).map_err(|error| error.to_string())?;
    let begun = Instant::now();
    hear(60, AGAIN_WITHIN).map_err(|fault| format!("after room was made: {fault}"))?;
    let took = begun.elapsed();
    let how = if random.random_bool(0.5) { "-KILL" } else { "-TERM" };
    let killed = std::process::Command::new("kill").args([how, &id.to_string()]).status();
    killed.map_err(|error| error.to_string())?;
    let _ = hear(u32::MAX, Duration::from_secs(5));
    reader.join().unwrap().map_err(|error| error.to_string())?;
    lost(&data, &kept)?;
    Ok((kept.values().sum(), took))
}
