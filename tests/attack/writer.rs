//! What is attacked in the rows about the store: this very program, writing from many tasks at once and saying on
//! standard output what was acknowledged.

use std::collections::BTreeMap;
use std::io::{BufRead, BufReader, Write};
use std::path::Path;
use std::process::{Child, ChildStdout, Command, ExitCode, Stdio};
use std::sync::Arc;
use std::time::Duration;

use lapwise::message::ChatId;
use lapwise::store::sled::Options;
use lapwise::store::{Commit, Keyring, SledStore, Store, StoreError};

/// Names the directory that the child writes to.
const CHILD: &str = "LAPWISE_ATTACK_CHILD";
/// How many chats write at once.
const CHATS: u64 = 30;

/// Whether this process is one of those that write.
pub fn is_child() -> bool {
    std::env::var_os(CHILD).is_some()
}

/// How the store of every row is opened.
pub fn options() -> Options {
    Options { keyring: Some(Keyring::new([7; 32], [])), ..Options::default() }
}

pub fn chat(number: u64) -> ChatId {
    ChatId::new(format!("chat:{number}")).unwrap()
}

pub fn event(chat: u64, number: u64) -> Vec<u8> {
    format!("event {number} of {chat} {}", "and so on ".repeat(20)).into_bytes()
}

/// One turn of a chat; answers how many it has had.
pub async fn write(store: &SledStore, number: u64) -> Result<u64, StoreError> {
    let read_at = store.load(chat(number)).await?.revision;
    let turn = Commit {
        chat: chat(number),
        read_at,
        events: vec![event(number, read_at.0)],
        says: vec![event(number, read_at.0)],
        worked: None,
        now: 1,
    };
    store.commit(turn).await.map(|revision| revision.0)
}

/// Writes until it is killed or its standard input ends. A write that fails is tried again.
pub fn run() -> ExitCode {
    let dir = std::env::var_os(CHILD).unwrap();
    let runtime = tokio::runtime::Builder::new_multi_thread().worker_threads(2).enable_all().build().unwrap();
    runtime.block_on(async {
        let store = Arc::new(SledStore::open(Path::new(&dir), options()).unwrap().0);
        println!("\nopen 0 0");
        for number in 0..CHATS {
            let store = Arc::clone(&store);
            tokio::spawn(async move {
                loop {
                    match write(&store, number).await {
                        Ok(revision) => say(&format!("kept {number} {revision}")),
                        Err(fault) => {
                            say(&format!("fault {number} {fault}"));
                            tokio::time::sleep(Duration::from_millis(50)).await;
                        }
                    }
                }
            });
        }
        tokio::task::spawn_blocking(|| std::io::copy(&mut std::io::stdin().lock(), &mut std::io::sink()))
            .await
            .unwrap()
            .unwrap();
        // What is under way is let go: only how it closes is of interest from here on.
    });
    ExitCode::SUCCESS
}

fn say(line: &str) {
    std::io::stdout().lock().write_all(format!("\n{line}\n").as_bytes()).unwrap();
}

/// A child that writes.
pub struct Writer {
    pub child: Child,
    lines: std::io::Lines<BufReader<ChildStdout>>,
}

/// What the child said.
pub enum Said {
    Open,
    Kept(u64, u64),
    Fault(String),
}

impl Writer {
    pub fn start(dir: &Path) -> Self {
        let mut command = Command::new(std::env::current_exe().unwrap());
        command.env(CHILD, dir).stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::null());
        let mut child = command.spawn().unwrap();
        let lines = BufReader::new(child.stdout.take().unwrap()).lines();
        Self { child, lines }
    }

    /// What it says next; `None` where it has ended. A line that a kill cut short is passed over.
    pub fn said(&mut self) -> Option<Said> {
        loop {
            let line = self.lines.next()?.ok()?;
            let mut words = line.splitn(3, ' ');
            match (words.next(), words.next().and_then(|word| word.parse().ok()), words.next()) {
                (Some("open"), Some(0), Some("0")) => return Some(Said::Open),
                (Some("kept"), Some(number), Some(revision)) => {
                    // The newline before the next line tells that this one is whole.
                    if let (Ok(revision), Some(Ok(_))) = (revision.parse(), self.lines.next()) {
                        return Some(Said::Kept(number, revision));
                    }
                }
                (Some("fault"), Some(_), Some(fault)) => return Some(Said::Fault(fault.to_owned())),
                _ => {}
            }
        }
    }
}

impl Drop for Writer {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// What of the acknowledged turns is not in a store, and whether all of it opens.
pub fn lost(dir: &Path, kept: &BTreeMap<u64, u64>) -> Result<(), String> {
    let runtime = tokio::runtime::Builder::new_current_thread().build().unwrap();
    let (store, report) = SledStore::open(dir, options()).map_err(|fault| fault.to_string())?;
    runtime.block_on(async {
        store.check().await.map_err(|fault| fault.to_string())?;
        for (number, revision) in kept {
            let session = store.load(chat(*number)).await.map_err(|fault| fault.to_string())?;
            if session.revision.0 < *revision {
                return Err(format!(
                    "chat {number}: {revision} turns acknowledged, {} there; {report:?}",
                    session.revision.0
                ));
            }
            for (at, found) in (0..).zip(&session.events) {
                if *found != event(*number, at) {
                    return Err(format!("chat {number}: event {at} is not what was written"));
                }
            }
        }
        Ok(())
    })
}
