//! The released program itself: `lapwise serve`, its files, its exit, its log.

use std::path::Path;
use std::process::{Command, ExitStatus, Stdio};

use lapwise::store::Keyring;

use crate::botapi::{Faults, Server, TOKEN};
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

/// Everything in the files of a folder, one after another.
fn bytes_below(dir: &Path) -> Vec<u8> {
    let mut all = Vec::new();
    for entry in std::fs::read_dir(dir).unwrap() {
        let path = entry.unwrap().path();
        all.extend(if path.is_dir() { bytes_below(&path) } else { std::fs::read(path).unwrap() });
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
