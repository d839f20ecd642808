//! `kill -9` at any moment of thirty chats that write, again and again on the same store.

use std::collections::BTreeMap;

use rand::{RngExt, SeedableRng, rngs::StdRng};

use crate::writer::{Said, Writer, lost};
use crate::{Outcome, Row};

pub const ROW: Row = Row { name: "killed while writing", short: 15, whole: 300, run };

/// So often a store is killed before another is begun: all of it is compared after each kill.
const KILLS_EACH: u32 = 25;

fn run(tries: u32) -> Outcome {
    let mut dir = tempfile::tempdir().unwrap();
    let mut random = StdRng::seed_from_u64(20_261_127);
    let (mut kept, mut turns) = (BTreeMap::new(), 0);
    let mut outcome = Outcome { tries, ..Outcome::default() };
    for kill in 0..tries {
        if kill % KILLS_EACH == 0 {
            dir = tempfile::tempdir().unwrap();
            turns += kept.values().sum::<u64>();
            kept.clear();
        }
        let mut writer = Writer::start(dir.path());
        let mut left = random.random_range(0..200);
        // One in ten dies while it opens.
        if left < 20 {
            std::thread::sleep(std::time::Duration::from_millis(left));
            left = 0;
        }
        while left > 0 {
            match writer.said() {
                Some(Said::Kept(chat, revision)) => {
                    kept.insert(chat, revision);
                    left -= 1;
                }
                Some(Said::Open) => {}
                Some(Said::Fault(fault)) => outcome.failures.push(format!("kill {kill}: {fault}")),
                None => {
                    outcome.failures.push(format!("kill {kill}: it ended by itself"));
                    break;
                }
            }
        }
        writer.child.kill().unwrap();
        // What it had said before it died was acknowledged, too.
        while let Some(said) = writer.said() {
            if let Said::Kept(chat, revision) = said {
                kept.insert(chat, revision);
            }
        }
        writer.child.wait().unwrap();
        if let Err(fault) = lost(dir.path(), &kept) {
            outcome.failures.push(format!("kill {kill}: {fault}"));
        }
    }
    outcome.note = format!("{} turns acknowledged", turns + kept.values().sum::<u64>());
    outcome
}
