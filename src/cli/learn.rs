//! Learning from a book's messages, and what a book has to say of those that were added since.

use std::fs;
use std::path::Path;
use std::process::ExitCode;

use anyhow::Context as _;
use lapwise::book::{self, Fault, Lately};
use lapwise::conversation::understanding::{HeldOut, Lessons};

use super::{LearnArguments, print};

/// No more confusions than this are listed.
const MOST_CONFUSED: usize = 25;
/// No more than this many messages are listed.
const MOST_LISTED: usize = 12;

/// Learns, and writes what was learned into the book.
pub(super) fn run(arguments: &LearnArguments) -> anyhow::Result<ExitCode> {
    let dir = &arguments.book;
    let lessons = book::learn(dir).map_err(|faults| in_one(&faults))?;
    let learned = lessons.text();
    let file = dir.join(book::LEARNED);
    let before = fs::read_to_string(&file).unwrap_or_default();
    fs::write(&file, &learned).with_context(|| format!("cannot write {}", file.display()))?;
    let what = if before == learned { "is what it was: the messages say nothing new" } else { "was written" };
    print(&format!("{} {what}.\n\n{}", file.display(), table(&lessons)))?;
    Ok(ExitCode::SUCCESS)
}

/// How the hands were understood that were held out, in a table, and what was taken for what.
fn table(lessons: &Lessons) -> String {
    let trial = lessons.trial();
    let row = |hand: &str, counts: &HeldOut| {
        let HeldOut { messages, right_first, wrong, asked_back, dangers, heard, .. } = counts;
        let HeldOut { look_alikes, look_alikes_asked, look_alikes_stopped, .. } = counts;
        format!(
            "| {hand} | {right_first} of {messages} | {wrong} | {asked_back} | {heard} of {dangers} \
             | {look_alikes_asked} and {look_alikes_stopped} of {look_alikes} |"
        )
    };
    let mut lines = vec![
        "Hands that were held out:\n".to_owned(),
        "| hand | right topic first | answered wrongly | asked back | dangers stopped or asked about \
         | look-alikes asked about and stopped |"
            .to_owned(),
        "|---|---|---|---|---|---|".to_owned(),
    ];
    lines.extend(trial.hands.iter().map(|(hand, counts)| row(hand, counts)));
    lines.push(row("all", &lessons.held_out()));
    lines.push("\nMost often confused:".to_owned());
    lines.extend(trial.worst(MOST_CONFUSED).iter().map(|(wanted, heard, times)| {
        format!("  {times} x {} taken for {}", wanted.key(), heard.map_or("nothing", |topic| topic.key()))
    }));
    for (what, said) in [("Dangers passed over:", &trial.missed), ("Asked about in vain:", &trial.in_vain)] {
        lines.push(format!("\n{what}"));
        lines.extend(said.iter().map(|said| format!("  {said}")));
    }
    lines.join("\n")
}

/// What was added to a book's messages, in lines; nothing where everything was learned.
pub(super) fn lately(dir: &Path) -> anyhow::Result<String> {
    let lately = Lately::of(dir).map_err(|faults| in_one(&faults))?;
    if lately.is_nothing() {
        return Ok(String::new());
    }
    let mut lines = vec![if lately.outdated {
        "The words are read otherwise than when the messages were learned from.".to_owned()
    } else {
        format!(
            "{} message(s) have been added that nothing was learned from. They, and what is nearly like them, are \
             understood as they say:",
            lately.added.len()
        )
    }];
    lines.extend(lately.added.iter().take(MOST_LISTED).map(|said| format!("  {said}")));
    lines.extend(lately.confused.iter().take(MOST_LISTED).map(|(said, was, is)| {
        format!("  now taken for {}, and for {} before: {said}", is.key(), was.key())
    }));
    lines.push(format!("`lapwise learn --book {}` learns from all of them.", dir.display()));
    Ok(lines.join("\n"))
}

fn in_one(faults: &[Fault]) -> anyhow::Error {
    let list: Vec<String> = faults.iter().map(ToString::to_string).collect();
    anyhow::anyhow!("{}", list.join("\n"))
}
