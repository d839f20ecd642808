//! How well strangers are heard: hands who saw neither the code nor the data nor each other, played through the
//! conversation as it ships and, for the ranking, with what the other hands wrote kept as well.
//!
//! `cargo test --test heard -- --nocapture` prints the table, `FAILURES=1` also what went wrong. Nothing in `src/` or
//! `dialogs/` is ever made from these files. Whoever mends by reading a hand moves it to `dialogs/heard/` first.

#![expect(
    clippy::unwrap_used,
    clippy::panic,
    clippy::print_stdout,
    clippy::indexing_slicing,
    clippy::wildcard_enum_match_arm,
    clippy::integer_division,
    reason = "a test fails by panicking, and this one reports"
)]

mod follow_ups;
mod hands;
mod interviews;
mod judging;
mod measurements;
mod stages;
mod table;
#[path = "../support/talking.rs"]
mod talking;

use hands::hands;
use table::Part;

#[test]
fn strangers_are_heard_no_worse_than_is_said() {
    let hands = hands();
    let mut all = Part::default();
    for (index, hand) in hands.iter().enumerate() {
        let mut part = Part::default();
        let others: Vec<&hands::Hand> =
            hands.iter().enumerate().filter(|(other, _)| *other != index).map(|(_, hand)| hand).collect();
        follow_ups::follow_ups(&mut part, hand, &others);
        hand.remark.iter().for_each(|remark| judging::remark(&mut part, &hand.name, remark));
        hand.danger.iter().for_each(|danger| judging::danger(&mut part, &hand.name, danger));
        hand.safety.iter().for_each(|safety| judging::safety(&mut part, &hand.name, safety));
        hand.interview.iter().for_each(|talk| interviews::interview(&mut part, &hand.name, talk));
        if std::env::var_os("HANDS").is_some() {
            println!("\n{}\n{}", hand.name, part.lines().join("\n"));
        }
        all.take(part);
    }
    measurements::measurements(&mut all);
    println!("\n{} hands\n\n| what | right | |\n|---|---|---|\n{}", hands.len(), all.lines().join("\n"));
    println!("\nMost often confused:\n{}", all.worst(25).join("\n"));
    if std::env::var_os("FAILURES").is_some() {
        println!("\n{}", all.failures().join("\n"));
    }
}
