//! The released program itself: `lapwise serve`, its files, its exit, its log.

use std::path::Path;
use std::process::{Command, ExitStatus, Output, Stdio};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Duration;

use lapwise::message::ChatId;
use lapwise::store::sled::Options;
use lapwise::store::{InboxKey, Kept, Keyring, SledStore, Store};

use crate::botapi::{Faults, Message, Server, TOKEN};
use crate::harness::{Process, free_port};

/// `lapwise serve` on a sealed store in `dir`, its log in `dir/log`.
fn serve(server: &Server, dir: &Path, token: &str, more: &[String]) -> Process {
    std::fs::write(dir.join("token"), format!("{token}\n")).unwrap();
    let key = dir.join("key");
    if !key.exists() {
        std::fs::write(&key, Keyring::random_line()).unwrap();
    }
    let log = std::fs::OpenOptions::new().create(true).append(true).open(dir.join("log")).unwrap();
    let mut command = Command::new(env!("CARGO_BIN_EXE_lapwise"));
    command.args(["serve", "--api-url", &server.url()]);
    command.arg("--telegram-token-file").arg(dir.join("token")).arg("--key-file").arg(key);
    command.arg("--data").arg(dir.join("data")).args(more);
    command.env("LAPWISE_LOG", "trace").stdout(Stdio::null()).stderr(log);
    Process::start(&mut command)
}

/// Asks the process to stop, as a service manager does.
async fn terminate(process: &mut Process) -> ExitStatus {
    Command::new("kill").arg(process.id().to_string()).status().unwrap();
    ended(process).await
}

async fn ended(process: &mut Process) -> ExitStatus {
    for _ in 0..3_000 {
        if let Some(status) = process.status() {
            return status;
        }
        tokio::time::sleep(std::time::Duration::from_millis(10)).await;
    }
    panic!("it does not end");
}

/// The store that was served from `dir`, opened with its key.
fn opened(dir: &Path, data: &str) -> SledStore {
    let options = Options { keyring: Some(Keyring::read(&dir.join("key")).unwrap()), ..Options::default() };
    SledStore::open(&dir.join(data), options).unwrap().0
}

/// A command of the program, run to its end.
fn lapwise(arguments: &[&str], paths: &[&Path]) -> Output {
    let mut command = Command::new(env!("CARGO_BIN_EXE_lapwise"));
    command.args(arguments).args(paths).output().unwrap()
}

/// Everything in the files of a folder, one after another; a socket holds nothing.
fn bytes_below(dir: &Path) -> Vec<u8> {
    let mut all = Vec::new();
    for entry in std::fs::read_dir(dir).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            all.extend(bytes_below(&path));
        } else if path.is_file() {
            all.extend(std::fs::read(path).unwrap());
        }
    }
    all
}

fn holds(bytes: &[u8], words: &str) -> bool {
    bytes.windows(words.len()).any(|window| window == words.as_bytes())
}

#[tokio::test]
async fn it_talks_stops_and_goes_on_and_leaves_no_words_in_its_files() {
    let server = Server::start(Faults::default(), None).await;
    let dir = tempfile::tempdir().unwrap();
    let mut bot = serve(&server, dir.path(), TOKEN, &[]);
    server.says(1, "/start");
    assert!(server.message(1, 1).await.text.contains("What is on the roof now?"));
    server.says(1, "xylophonic felt nobody types");
    server.message(1, 2).await;
    assert!(terminate(&mut bot).await.success());

    let port = free_port();
    let webhook =
        ["--public-url", &format!("http://127.0.0.1:{port}/bot"), "--listen", &format!("127.0.0.1:{port}")]
            .map(str::to_owned);
    let mut bot = serve(&server, dir.path(), TOKEN, &webhook);
    server.says(1, "/start");
    assert!(server.message(1, 3).await.text.starts_with("Welcome back"), "{:?}", server.messages(1));
    assert!(terminate(&mut bot).await.success());

    let kept = bytes_below(&dir.path().join("data"));
    assert!(kept.len() > 1_000);
    for words in ["xylophonic", "What is on the roof", "telegram:1"] {
        assert!(!holds(&kept, words), "{words:?} can be read in the store");
    }
    let log = std::fs::read(dir.path().join("log")).unwrap();
    assert!(holds(&log, "connected"));
    let (_, secret) = TOKEN.split_once(':').unwrap();
    for words in [secret, "xylophonic"] {
        assert!(!holds(&log, words), "{words:?} can be read in the log");
    }
}

#[tokio::test]
async fn a_refused_token_ends_it_for_good() {
    let server = Server::start(Faults::default(), None).await;
    let dir = tempfile::tempdir().unwrap();
    let mut bot = serve(&server, dir.path(), "701:WRONG-SECRET", &[]);
    assert!(!ended(&mut bot).await.success());
    let log = std::fs::read(dir.path().join("log")).unwrap();
    assert!(holds(&log, "refused") && !holds(&log, "WRONG-SECRET"));
}

/// The metrics, as soon as they hold all these lines.
async fn metrics_with(port: u16, lines: &[&str]) -> String {
    let mut found = String::new();
    for _ in 0..150 {
        if let Ok(answer) = reqwest::get(format!("http://127.0.0.1:{port}/metrics")).await {
            found = answer.text().await.unwrap();
        }
        if lines.iter().all(|wanted| found.lines().any(|line| line == *wanted)) {
            return found;
        }
        tokio::time::sleep(Duration::from_millis(100)).await;
    }
    panic!("{lines:?} are not in\n{found}");
}

#[tokio::test]
async fn metrics_tell_where_chats_stand_before_and_after_a_restart() {
    let server = Server::start(Faults::default(), None).await;
    let dir = tempfile::tempdir().unwrap();
    let port = free_port();
    let watch = ["--watch".to_owned(), format!("127.0.0.1:{port}")];
    let mut bot = serve(&server, dir.path(), TOKEN, &watch);
    for chat in 1..=3 {
        server.says(chat, "/start");
    }
    server.says(3, "12 m");
    server.message(3, 2).await;
    let stand = [
        "lapwise_chats{state=\"interviewing\"} 3",
        "lapwise_chats{state=\"planned\"} 0",
        "lapwise_question_chats{question=\"covering-now\"} 3",
        "lapwise_question_quiet_chats{question=\"covering-now\"} 0",
        "lapwise_question_chats{question=\"pitch\"} 0",
    ];
    let again = "lapwise_reprompts_total{question=\"covering-now\"} 1";
    let metrics = metrics_with(port, &[&stand[..], &[again]].concat()).await;
    assert!(!metrics.contains("12 m") && !metrics.contains("telegram:"));
    assert!(terminate(&mut bot).await.success());

    let mut bot = serve(&server, dir.path(), TOKEN, &watch);
    metrics_with(port, &stand).await;
    assert!(terminate(&mut bot).await.success());
}

#[tokio::test]
async fn deleting_leaves_nothing_of_a_chat_and_proves_it_by_count() {
    let server = Server::start(Faults::default(), None).await;
    let dir = tempfile::tempdir().unwrap();
    let mut bot = serve(&server, dir.path(), TOKEN, &[]);
    let words = ["xylophonic", "quillwort"];
    let answered = async |text: &str, words: &str, times: usize| {
        server.says(1, text);
        let has = |messages: &[Message]| {
            messages.iter().filter(|message| message.text.contains(words)).count() >= times
        };
        server.until(1, words, has).await.last().unwrap().text.clone()
    };
    let first = "What is on the roof now?";
    answered("/start", first, 1).await;
    answered("xylophonic is not a covering, 12 m", first, 2).await;
    answered("the quillwort gutter", first, 3).await;
    answered("felt", "roof timbers", 1).await;
    let data = dir.path().join("data");
    let in_files = |word: &&&str| holds(&bytes_below(&data), word);
    assert_eq!(words.iter().filter(in_files).count(), 0, "they can be read before they are deleted");
    answered("/delete", "Delete everything", 1).await;
    let said = answered("yes", "Everything is deleted: ", 1).await;
    // Six messages from the person, the last of them too; events for each that was understood.
    assert!(said.contains(" 6 messages from you"), "{said}");
    assert!(!said.contains(" 0 answers and steps"), "{said}");
    assert!(terminate(&mut bot).await.success());

    let (bytes, log) = (bytes_below(&data), std::fs::read(dir.path().join("log")).unwrap());
    for word in words {
        assert!(!holds(&bytes, word) && !holds(&log, word), "{word:?} can be read");
    }
    let store = opened(dir.path(), "data");
    let chat = ChatId::new("telegram:1").unwrap();
    assert_eq!(store.load(chat.clone()).await.unwrap().events.len(), 0);
    let left = store.erase(chat).await.unwrap();
    assert_eq!((left.events, left.inbox, left.outbox, left.other), (0, 0, 0, 0));
    let whole = store.check().await.unwrap();
    assert_eq!((whole.chats, whole.events, whole.inbox, whole.outbox), (0, 0, 0, 0));
}

/// People who write, one message each: which updates they sent.
async fn crowd(server: &Server, stop: &AtomicBool) -> Vec<(i64, i64)> {
    let mut sent = Vec::new();
    for chat in 1.. {
        if stop.load(Ordering::Relaxed) {
            break;
        }
        sent.push((chat, server.says(chat, "/start")));
        tokio::time::sleep(Duration::from_millis(2)).await;
    }
    sent
}

#[tokio::test(flavor = "multi_thread")]
async fn a_backup_taken_while_it_serves_holds_all_that_was_acknowledged() {
    let server = Server::start(Faults::default(), None).await;
    let dir = tempfile::tempdir().unwrap();
    let mut bot = serve(&server, dir.path(), TOKEN, &[]);
    let stop = Arc::new(AtomicBool::new(false));
    let writing = {
        let (server, stop) = (server.clone(), Arc::clone(&stop));
        tokio::spawn(async move { crowd(&server, &stop).await })
    };
    server.message(200, 1).await;
    let (file, data) = (dir.path().join("everything"), dir.path().join("data"));
    // Updates are acknowledged in order: the oldest that is not is the end of those that are.
    let acknowledged = server.oldest_unacknowledged();
    let backed_up = lapwise(&["backup", "--data"], &[&data, &file]);
    assert!(backed_up.status.success(), "{backed_up:?}");
    // Once more from the same server: nothing is left in the way.
    let second = lapwise(&["backup", "--data"], &[&data, &dir.path().join("second")]);
    assert!(second.status.success(), "{second:?}");
    assert!(!lapwise(&["backup", "--data"], &[&data, &file]).status.success(), "no backup is written over");
    stop.store(true, Ordering::Relaxed);
    let sent = writing.await.unwrap();
    bot.kill();

    let restored = lapwise(&["restore", "--into"], &[&dir.path().join("restored"), &file]);
    assert!(restored.status.success(), "{restored:?}");
    let store = opened(dir.path(), "restored");
    store.check().await.unwrap();
    let mut held = 0;
    for (chat, update) in sent.iter().filter(|(_, update)| *update < acknowledged) {
        let key = InboxKey(format!("telegram/{update:020}"));
        let chat = ChatId::new(format!("telegram:{chat}")).unwrap();
        assert_eq!(store.keep(key, chat, Vec::new()).await, Ok(Kept::Repeat), "update {update} is not in it");
        held += 1;
    }
    assert!(held > 50, "{held} of {} were acknowledged", sent.len());
    // What a killed server leaves behind is no obstacle from cold.
    let cold = lapwise(&["backup", "--data"], &[&data, &dir.path().join("cold")]);
    assert!(cold.status.success(), "{cold:?}");
    println!("{held} updates acknowledged before the backup began are in it, of {} sent", sent.len());
}
