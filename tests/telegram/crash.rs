//! Killed without warning, again and again, while people write: nothing acknowledged is lost, nothing is worked
//! twice, and every reply arrives.
//!
//! `LAPWISE_KILLS=150 cargo test --test telegram crash -- --nocapture` kills 300 times, half of them with each
//! way in; without the variable it is 24.

use std::collections::HashMap;
use std::path::Path;
use std::time::Duration;

use lapwise::serve::Way;
use lapwise::store::{SledStore, Store};
use tokio::time::sleep;

use crate::botapi::{Faults, Message, Server};
use crate::harness::{Process, options, spawn, webhook};

const CHATS: i64 = 40;

/// What a run came to.
#[derive(Debug, Default)]
struct Tally {
    kills: u32,
    updates: usize,
    turns: usize,
    replies: usize,
    repeats: usize,
    /// How often the most repeated reply came.
    most_times: u32,
}

/// How often each test kills.
fn kills() -> u32 {
    std::env::var("LAPWISE_KILLS").ok().and_then(|kills| kills.parse().ok()).unwrap_or(12)
}

#[tokio::test(flavor = "multi_thread")]
async fn kills_while_polling_lose_and_double_nothing() {
    survive(&Way::Polling, 11, kills()).await;
}

#[tokio::test(flavor = "multi_thread")]
async fn kills_behind_a_webhook_lose_and_double_nothing() {
    survive(&webhook(), 12, kills()).await;
}

/// One message ends the process each time it is worked: after three starts it is set aside, and everybody else is
/// answered.
#[tokio::test(flavor = "multi_thread")]
async fn a_message_that_kills_is_set_aside_after_three_starts() {
    let server = Server::start(Faults { seed: 5, ..Faults::default() }, None).await;
    let dir = tempfile::tempdir().unwrap();
    // Those beside it are being worked when it kills, and must not be blamed with it.
    for chat in 2..=5 {
        server.says(chat, "/slow");
    }
    server.says(1, "/die");
    for chat in 6..=30 {
        server.says(chat, "tick");
    }
    let mut starts = 0;
    let mut child = loop {
        starts += 1;
        assert!(starts <= 4, "it is still killed");
        let mut child = spawn(&server.url(), dir.path(), &Way::Polling);
        let begun = std::time::Instant::now();
        while child.status().is_none()
            && server.messages(1).is_empty()
            && begun.elapsed() < Duration::from_secs(30)
        {
            sleep(Duration::from_millis(10)).await;
        }
        if child.status().is_none() {
            break child;
        }
    };
    assert_eq!(starts, 4);
    let said = server.message(1, 1).await;
    assert_eq!(said.text, "our fault");
    for chat in 2..=30 {
        server.message(chat, 1).await;
    }
    child.kill();
    let (store, _) = SledStore::open(dir.path(), options()).unwrap();
    let aside = store.aside(9).await.unwrap();
    assert_eq!(
        aside.iter().map(|one| (one.chat.as_str(), one.tries)).collect::<Vec<_>>(),
        [("telegram:1", 3)]
    );
    assert_eq!(store.arrived(9).await, Ok(Vec::new()));
}

/// Kills in quick succession, each while the same message is being worked, blame nobody: it is worked once the process
/// is left alone.
#[tokio::test(flavor = "multi_thread")]
async fn kills_in_quick_succession_set_nothing_aside() {
    let server = Server::start(Faults { seed: 6, ..Faults::default() }, None).await;
    let dir = tempfile::tempdir().unwrap();
    for chat in 1..=3 {
        server.says(chat, "/slow");
    }
    for _ in 0..6 {
        let child = spawn(&server.url(), dir.path(), &Way::Polling);
        kill_after(child, Duration::from_millis(250), &server).await;
    }
    let mut child = spawn(&server.url(), dir.path(), &Way::Polling);
    for chat in 1..=3 {
        assert_eq!(server.message(chat, 1).await.text, "That took a while.");
    }
    child.kill();
    let (store, report) = SledStore::open(dir.path(), options()).unwrap();
    assert_eq!(store.aside(9).await, Ok(Vec::new()));
    assert_eq!(report.cut_short, []);
}

/// Panics where something is lost or doubled; answers what was counted.
pub async fn survive(way: &Way, seed: u64, kills: u32) -> String {
    let server = Server::start(Faults { seed, repeated: 30, ..Faults::default() }, None).await;
    let dir = tempfile::tempdir().unwrap();
    let mut sent: HashMap<i64, Vec<i64>> = HashMap::new();
    let mut drawn = seed;
    let mut tally = Tally { kills, ..Tally::default() };
    for _ in 0..tally.kills {
        let child = spawn(&server.url(), dir.path(), way);
        let moment = Duration::from_millis(draw(&mut drawn, 250));
        tokio::join!(write(&server, &mut sent, &mut drawn), kill_after(child, moment, &server));
    }
    let mut child = spawn(&server.url(), dir.path(), way);
    settle(way, &server, &sent, &mut tally).await;
    child.kill();
    still_whole(dir.path(), &tally);
    println!("{way:?}: {tally:?}");
    let Tally { updates, replies, most_times, .. } = tally;
    format!("{updates} messages, each worked once; {replies} replies, none more than {most_times} times")
}

/// People write in bursts: some of it while the bot is down.
async fn write(server: &Server, sent: &mut HashMap<i64, Vec<i64>>, drawn: &mut u64) {
    for _ in 0..60 {
        let chat = 1 + i64::try_from(draw(drawn, 40)).unwrap();
        sent.entry(chat).or_default().push(server.says(chat, "tick"));
        sleep(Duration::from_millis(draw(drawn, 7))).await;
    }
}

/// Kills the bot so long after it first called: a kill before it has opened its store would try nothing.
async fn kill_after(mut child: Process, moment: Duration, server: &Server) {
    let before = server.calls("getMe");
    while server.calls("getMe") == before {
        assert!(child.status().is_none(), "the bot ended by itself");
        sleep(Duration::from_millis(5)).await;
    }
    sleep(moment).await;
    child.kill();
}

async fn settle(way: &Way, server: &Server, sent: &HashMap<i64, Vec<i64>>, tally: &mut Tally) {
    for chat in 1..=CHATS {
        let Some(updates) = sent.get(&chat) else { continue };
        let all = |messages: &[Message]| {
            updates.iter().all(|update| messages.iter().any(|m| m.text.ends_with(&format!("#{update}"))))
        };
        let replies = server.until(chat, "a reply to every update", all).await;
        tally.updates += updates.len();
        tally.replies += replies.len();
        // A webhook's pushes overtake one another before they reach the bot; polling keeps the order.
        let ordered = *way == Way::Polling;
        let turns = check_chat(chat, updates, replies, ordered, tally);
        tally.turns += turns;
    }
    assert_eq!(tally.turns, tally.updates);
}

/// Every update has one turn, whose number is its place; a reply that comes again comes right after itself.
fn check_chat(chat: i64, updates: &[i64], replies: Vec<Message>, ordered: bool, tally: &mut Tally) -> usize {
    let mut seen: Vec<(String, u32)> = Vec::new();
    for reply in replies {
        match seen.last_mut() {
            Some((text, times)) if *text == reply.text => *times += 1,
            _ => seen.push((reply.text, 1)),
        }
    }
    for (text, times) in &seen {
        // A kill between sending and striking makes one more; hitting the same reply again, one more again.
        tally.repeats += usize::try_from(times - 1).unwrap();
        tally.most_times = tally.most_times.max(*times);
        assert!(*times <= 1 + tally.kills, "chat {chat}: {text} came {times} times");
    }
    let numbers: Vec<usize> =
        seen.iter().map(|(text, _)| text.split_once(':').unwrap().0.parse().unwrap()).collect();
    assert_eq!(numbers, (1..=updates.len()).collect::<Vec<_>>(), "chat {chat}: {seen:?}");
    let mut answered: Vec<i64> =
        seen.iter().map(|(text, _)| text.split_once('#').unwrap().1.parse().unwrap()).collect();
    if !ordered {
        answered.sort_unstable();
    }
    assert_eq!(answered, updates, "chat {chat}: {seen:?}");
    seen.len()
}

/// The store opens once more after the last kill, and owes nothing.
fn still_whole(dir: &Path, tally: &Tally) {
    let (store, _) = SledStore::open(dir, options()).unwrap();
    let runtime = tokio::runtime::Handle::current();
    let left = tokio::task::block_in_place(|| {
        runtime.block_on(async {
            let chats = store.chats().await.unwrap().len();
            (store.arrived(10).await.unwrap().len(), store.aside(10).await.unwrap().len(), chats)
        })
    });
    assert_eq!((left.0, left.1), (0, 0), "{tally:?}");
    assert!(left.2 > 0);
}

/// A number below `most` (xorshift64*).
fn draw(state: &mut u64, most: u64) -> u64 {
    *state ^= *state >> 12;
    *state ^= *state << 25;
    *state ^= *state >> 27;
    (state.wrapping_mul(0x2545_F491_4F6C_DD1D) >> 33) % most
}
