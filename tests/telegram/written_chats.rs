//! The chats of `tests/chats/` over Telegram: the same words and the same buttons as everywhere else.

use std::path::{Path, PathBuf};
use std::sync::{Arc, LazyLock};
use std::time::{Duration, Instant};

use lapwise::app::App;
use lapwise::book::Book;
use lapwise::store::MemoryStore;

use crate::botapi::{Faults, Message, Server};
use crate::harness::{Bot, config, unlimited};

static BOOK: LazyLock<Arc<Book>> = LazyLock::new(|| Arc::new(Book::shipped()));

/// One turn as written: what is said, and what is to be read after it, buttons included.
struct Turn {
    said: String,
    reply: String,
}

fn turns(text: &str) -> Vec<Turn> {
    let mut turns: Vec<Turn> = Vec::new();
    for line in text.lines() {
        if let Some(said) = line.strip_prefix("you>") {
            turns.push(Turn { said: said.trim_start().to_owned(), reply: String::new() });
        } else if let (Some(line), Some(turn)) = (line.strip_prefix("bot>"), turns.last_mut()) {
            // The line between two messages of one turn.
            if line.trim() != "--" {
                turn.reply.push_str(line);
                turn.reply.push(' ');
            }
        }
    }
    turns
}

/// What a person reads in messages, buttons as the written chats show them, white space apart.
fn read(messages: &[Message]) -> String {
    let mut all = String::new();
    for message in messages {
        all.push_str(&message.text);
        let labels: Vec<&str> = message.buttons.iter().flatten().map(|(label, _)| label.as_str()).collect();
        if !labels.is_empty() {
            all.extend([" [", labels.join(" | ").as_str(), "]"]);
        }
        all.push(' ');
    }
    words(&all)
}

fn words(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

async fn play(server: &Server, chat: i64, path: &Path) {
    let name = path.file_name().unwrap().to_string_lossy().into_owned();
    for (number, turn) in turns(&std::fs::read_to_string(path).unwrap()).iter().enumerate() {
        let before = server.messages(chat).len();
        match turn.said.strip_prefix('[').and_then(|rest| rest.strip_suffix(']')) {
            Some(id) => server.presses_id(chat, id),
            None => server.says(chat, &turn.said),
        };
        let expected = words(&turn.reply);
        let deadline = Instant::now() + Duration::from_secs(20);
        loop {
            let seen = read(&server.messages(chat)[before..]);
            if seen == expected {
                break;
            }
            let late = Instant::now() > deadline;
            assert!(!late, "{name}, turn {}: {:?}\nreads {seen}\nnot   {expected}", number + 1, turn.said);
            tokio::time::sleep(Duration::from_millis(2)).await;
        }
    }
}

#[tokio::test(flavor = "multi_thread")]
async fn every_written_chat_goes_the_same_way() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/chats");
    let mut paths: Vec<PathBuf> =
        std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    paths.sort();
    // A chat that takes up half-way is played by tests/conversations.rs alone.
    paths.retain(|path| {
        !std::fs::read_to_string(path).unwrap().lines().any(|line| line.starts_with("start>"))
    });
    assert!(paths.len() > 20);
    let server = Server::start(Faults::default(), None).await;
    let store = Arc::new(MemoryStore::new(None).unwrap());
    let app = App::new(Arc::clone(&BOOK), Arc::clone(&store), || 1_795_608_000, "kept-on-this-computer");
    let bot = Bot::serve(config(&server, unlimited()), store, Arc::new(app));
    for (chat, path) in (1..).zip(&paths) {
        play(&server, chat, path).await;
    }
    bot.stop().await;
}
