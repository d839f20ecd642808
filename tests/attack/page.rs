//! `kill -9` at any moment of a page that is used: each message is worked once, its answer is shown, and whoever sends it
//! again after the start changes nothing.

use std::time::Duration;

use rand::{RngExt, SeedableRng, rngs::StdRng};

use crate::served::{Served, Visitor};
use crate::{Outcome, Row};

pub const ROW: Row = Row { name: "page killed", short: 5, whole: 100, run };

fn run(tries: u32) -> Outcome {
    let dir = tempfile::tempdir().unwrap();
    let mut random = StdRng::seed_from_u64(20_261_127);
    let mut outcome = Outcome { tries, ..Outcome::default() };
    let mut served = Served::start_in(dir.path(), &[]);
    let mut visitor = Visitor::new(&served);
    let mut said: u32 = 0;
    for kill in 0..tries {
        // Killed within, before or after the last of some messages.
        for _ in 0..random.random_range(0..4) {
            said += 1;
            if visitor.say(&served, &format!("help {said}")) != 303 {
                outcome.failures.push(format!("kill {kill}: message {said} was not taken"));
            }
        }
        said += 1;
        let text = format!("help {said}");
        let after = Duration::from_micros(random.random_range(0..12_000));
        std::thread::scope(|scope| {
            let sending = scope.spawn(|| visitor.say(&served, &text));
            std::thread::sleep(after);
            served.signal_kill();
            sending.join().unwrap();
        });
        served.kill();
        served = Served::start_in(dir.path(), &[]);
        // The browser got no answer, or perhaps it did.
        if visitor.say_again(&served, &text) != 303 {
            outcome.failures.push(format!("kill {kill}: message {said} was not taken again"));
        }
        let page = visitor.get(&served, "/").body;
        let last = |number: u32| page.matches(&format!("help {number}<")).count();
        let shown: Vec<usize> = (said.saturating_sub(5).max(1)..=said).map(last).collect();
        if shown.iter().any(|count| *count != 1) {
            outcome
                .failures
                .push(format!("kill {kill}: of the last messages up to {said} are shown {shown:?}"));
        }
        let after_it = page.rsplit_once(&text).map_or("", |(_, after)| after);
        if !after_it.contains("entry bot") {
            outcome.failures.push(format!("kill {kill}: message {said} has no answer"));
        }
    }
    outcome.note = format!("{said} messages, each worked once");
    outcome
}
