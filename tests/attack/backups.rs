//! A backup that was damaged is refused, and nothing of it is left behind.

use lapwise::store::{SledStore, Store};
use rand::{RngExt, SeedableRng, rngs::StdRng};

use crate::writer::{options, write};
use crate::{Outcome, Row};

pub const ROW: Row = Row { name: "damaged backups", short: 10, whole: 50, run };

fn run(tries: u32) -> Outcome {
    let runtime = tokio::runtime::Builder::new_multi_thread().worker_threads(1).build().unwrap();
    let dir = tempfile::tempdir().unwrap();
    let whole = runtime.block_on(async {
        let (store, _) = SledStore::open(&dir.path().join("data"), options()).unwrap();
        for number in 0..40 {
            write(&store, number).await.unwrap();
        }
        let file = tempfile::NamedTempFile::new().unwrap();
        store.backup(file.reopen().unwrap()).await.unwrap();
        std::fs::read(file.path()).unwrap()
    });
    let mut random = StdRng::seed_from_u64(20_261_127);
    let mut outcome = Outcome { tries, ..Outcome::default() };
    for number in 0..tries {
        let mut bytes = whole.clone();
        let at = random.random_range(0..bytes.len());
        let way = match random.random_range(0..5) {
            0 => {
                bytes.truncate(at);
                "cut"
            }
            1 => {
                bytes[at] ^= 1 << random.random_range(0..8);
                "a bit flipped"
            }
            2 => {
                bytes.extend_from_slice(b"\n");
                "a line behind its end"
            }
            3 => {
                bytes.extend_from_within(..);
                "twice in one file"
            }
            _ => {
                // A whole line taken out.
                let start = bytes[..at].iter().rposition(|byte| *byte == b'\n').map_or(0, |place| place + 1);
                let end = bytes[at..].iter().position(|byte| *byte == b'\n').unwrap() + at + 1;
                bytes.drain(start..end);
                "a line missing"
            }
        };
        let into = dir.path().join(format!("into-{number}"));
        if SledStore::restore(bytes.as_slice(), &into).is_ok() {
            outcome.failures.push(format!("backup {number}, {way} at {at}: accepted"));
        } else if std::fs::read_dir(&into).is_ok_and(|mut left| left.next().is_some()) {
            outcome.failures.push(format!("backup {number}, {way} at {at}: something was left behind"));
        }
    }
    outcome
}
