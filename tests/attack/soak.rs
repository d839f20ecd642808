//! Half an hour of five hundred chats with all faults at once: the platform limits, fails, answers late or never and
//! sends twice; updates that nobody can read come between; slow clients hold what can be held; the disk fills up and is
//! emptied; and at both ends the process is killed. Nothing is lost, people are answered, and between the kills memory
//! stays flat.

use std::io::{Read as _, Write as _};
use std::net::{SocketAddr, TcpStream};
use std::path::Path;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Duration;

use lapwise::store::{SledStore, Store as _};
use serde_json::json;
use tokio::time::{Instant, MissedTickBehavior, interval, sleep};

use crate::botapi::{Faults, Message, Server, poison};
use crate::harness::{Process, free_port, options, spawn_watched};
use crate::mount::{Disk, fill_up};
use crate::{Outcome, Row, memory};

pub const ROW: Row = Row { name: "soak, a try a second", short: 20, whole: 1_800, run };

const CHATS: i64 = 500;
const A_TURN_EVERY: Duration = Duration::from_millis(8);
/// A disk large enough for half an hour, in MB: its image takes only what is written.
const DISK_MB: u32 = 4_096;
/// The store stays so full of others' things for a moment, and so long there is none such.
const FULL_FOR: Duration = Duration::from_millis(800);
const FULL_EVERY: Duration = Duration::from_mins(3);
/// A question for updates that is never answered holds everybody up: one in so long.
const SILENT_EVERY: Duration = Duration::from_mins(2);
const POISON_EVERY: Duration = Duration::from_secs(2);
const SLOW_CLIENTS: usize = 80;
/// Everybody must be answered within this time, but for one answer in a hundred.
const ANSWERED_WITHIN: Duration = Duration::from_secs(2);
/// How much more memory the second half may need than the first, in percent.
const BREATH: u64 = 10;
/// Shorter runs are too short to tell of times and memory.
const LONG: Duration = Duration::from_mins(10);

/// What people said: the number of each update and when.
type Said = Vec<Vec<(i64, Instant)>>;

fn run(tries: u32) -> Outcome {
    let runtime = tokio::runtime::Builder::new_multi_thread().worker_threads(2).enable_all().build().unwrap();
    runtime.block_on(soak(Duration::from_secs(tries.into())))
}

async fn soak(lasts: Duration) -> Outcome {
    let faults = Faults { silent_every: Some(SILENT_EVERY), ..Faults::everywhere(99) };
    let server = Server::start(faults, None).await;
    let disk = Disk::ext4(DISK_MB);
    let dir = tempfile::tempdir().unwrap();
    let at = disk.as_ref().map_or(dir.path(), Disk::path).to_owned();
    let stop = Arc::new(AtomicBool::new(false));
    let port = free_port();
    let bot = spawn_watched(&server.url(), &at.join("store"), port);
    let slow = std::thread::spawn({
        let stop = Arc::clone(&stop);
        move || hold(([127, 0, 0, 1], port).into(), &stop)
    });
    let poisoned = tokio::spawn(spoil(server.clone(), Arc::clone(&stop)));
    let people = tokio::spawn(talk(server.clone(), Arc::clone(&stop)));

    let mut life = Life { bot, kills: 0, full: 0, memory: Vec::new(), at, url: server.url(), port };
    life.go_through(lasts, disk.is_some()).await;

    stop.store(true, Ordering::Relaxed);
    let said = people.await.unwrap();
    poisoned.await.unwrap();
    let turned_away = slow.join().unwrap();
    let mut outcome = Outcome { tries: u32::try_from(lasts.as_secs()).unwrap(), ..Outcome::default() };
    let mut waits = Vec::new();
    for (chat, said) in (1..).zip(&said) {
        match answers(&server, chat, said).await {
            Ok(found) => waits.extend(found),
            Err(fault) => outcome.failures.push(fault),
        }
    }
    all_is_sent(port).await;
    life.bot.kill();
    if let Err(fault) = nothing_left(&life.at.join("store")).await {
        outcome.failures.push(fault);
    }
    waits.sort_unstable();
    let percent = |part: usize| waits.get(waits.len() * part / 100).copied().unwrap_or_default();
    let (first, second) = life.halves();
    if lasts >= LONG {
        if percent(99) > ANSWERED_WITHIN {
            outcome.failures.push(format!("one answer in a hundred came after {:?}", percent(99)));
        }
        if second * 100 > first * (100 + BREATH) {
            outcome.failures.push(format!("memory grew from {first} to {second} kB: {:?}", life.memory));
        }
    }
    outcome.note = format!(
        "{} turns of {CHATS} chats, half of them answered within {} ms, 99 % within {} ms; memory {} MB at most in the \
         first half and {} MB in the second; {} kills, {} times a full disk, {} calls refused, {turned_away} slow \
         clients hung up on",
        waits.len(),
        percent(50).as_millis(),
        percent(99).as_millis(),
        first / 1_000,
        second / 1_000,
        life.kills,
        life.full,
        server.refused(429),
    );
    outcome
}

/// The bot's lives, one after the other.
struct Life {
    bot: Process,
    kills: u32,
    full: u32,
    /// What the longest of them took, again and again, in kB.
    memory: Vec<u64>,
    at: std::path::PathBuf,
    url: String,
    port: u16,
}

impl Life {
    /// Three kills, a long life with a disk that fills up, three kills.
    async fn go_through(&mut self, lasts: Duration, may_fill: bool) {
        let end = lasts / 20;
        self.kills_within(end).await;
        let (begun, mut filled) = (Instant::now(), Instant::now());
        let full_every = FULL_EVERY.min(lasts / 3);
        while begun.elapsed() < lasts.saturating_sub(end * 2) {
            sleep(Duration::from_secs(2).min(lasts / 20)).await;
            self.memory.push(memory::kb(self.bot.id(), "VmRSS:"));
            if may_fill && filled.elapsed() > full_every {
                filled = Instant::now();
                self.fill().await;
            }
        }
        self.kills_within(end).await;
    }

    async fn kills_within(&mut self, time: Duration) {
        for _ in 0..3 {
            sleep(time / 3).await;
            self.bot.kill();
            self.bot = spawn_watched(&self.url, &self.at.join("store"), self.port);
            self.kills += 1;
        }
    }

    async fn fill(&mut self) {
        let ballast = self.at.join("ballast");
        let filled = ballast.clone();
        tokio::task::spawn_blocking(move || fill_up(&filled)).await.unwrap();
        sleep(FULL_FOR).await;
        std::fs::remove_file(&ballast).unwrap();
        self.full += 1;
    }

    /// The most memory in the first half of the longest life, and in the second. How it came up to work is left out.
    fn halves(&self) -> (u64, u64) {
        let (first, second) = self.memory.split_at(self.memory.len() / 2);
        let most = |half: &[u64]| half.iter().max().copied().unwrap_or_default();
        (most(first), most(second))
    }
}

/// People who write one after the other, for as long as it goes on.
async fn talk(server: Server, stop: Arc<AtomicBool>) -> Said {
    let mut said: Said = (0..CHATS).map(|_| Vec::new()).collect();
    let mut ticks = interval(A_TURN_EVERY);
    ticks.set_missed_tick_behavior(MissedTickBehavior::Burst);
    while !stop.load(Ordering::Relaxed) {
        for (chat, said) in (1..).zip(&mut said) {
            ticks.tick().await;
            said.push((server.says(chat, "tick"), Instant::now()));
        }
    }
    said
}

/// Updates that nobody can read, of every kind in turn.
async fn spoil(server: Server, stop: Arc<AtomicBool>) {
    for kind in poison::KINDS.iter().cycle() {
        if stop.load(Ordering::Relaxed) {
            return;
        }
        server.update(json!({ "message": format!("poison:{kind}") }));
        sleep(POISON_EVERY).await;
    }
}

/// Holds as many connections as it can by sending a drop at a time; answers how often it was hung up on.
fn hold(address: SocketAddr, stop: &AtomicBool) -> usize {
    let (mut held, mut hung_up): (Vec<TcpStream>, usize) = (Vec::new(), 0);
    while !stop.load(Ordering::Relaxed) {
        while held.len() < SLOW_CLIENTS {
            // Nobody listens while it is started anew.
            let Ok(mut stream) = TcpStream::connect(address) else { break };
            stream.set_nonblocking(true).unwrap();
            let _ = stream.write(b"GET /metrics HTTP/1.1\r\nhost: x\r\nx-slow: ");
            held.push(stream);
        }
        let before = held.len();
        held.retain_mut(|stream| {
            let read = stream.read(&mut [0; 512]);
            let open = read.is_err_and(|error| error.kind() == std::io::ErrorKind::WouldBlock);
            open && stream.write(b"a").is_ok()
        });
        hung_up += before - held.len();
        std::thread::sleep(Duration::from_millis(500));
    }
    hung_up
}

/// How long somebody waited for each answer. Every message has one turn, in order; an answer may come again.
async fn answers(server: &Server, chat: i64, said: &[(i64, Instant)]) -> Result<Vec<Duration>, String> {
    let wanted = |(turn, (update, _)): (usize, &(i64, Instant))| format!("{}: tick #{update}", turn + 1);
    let Some(last) = said.last() else { return Ok(Vec::new()) };
    let last = wanted((said.len() - 1, last));
    let given_up = Instant::now() + Duration::from_mins(1);
    let is_there = |messages: &[Message]| messages.iter().any(|message| message.text == last);
    let mut messages = server.messages(chat);
    while !is_there(&messages) && Instant::now() < given_up {
        sleep(Duration::from_millis(200)).await;
        messages = server.messages(chat);
    }
    messages.dedup_by(|again, before| again.text == before.text);
    let found: Vec<&str> = messages.iter().map(|message| message.text.as_str()).collect();
    let wanted: Vec<String> = said.iter().enumerate().map(wanted).collect();
    if found != wanted {
        let differs = found.iter().zip(&wanted).position(|(found, wanted)| found != wanted);
        let place = differs.unwrap_or(found.len().min(wanted.len()));
        let (wanted, found) = (wanted.get(place), found.get(place));
        return Err(format!("chat {chat}: {found:?} where {wanted:?} should be, of {} messages", said.len()));
    }
    let waits = messages.iter().zip(said).map(|(message, (_, at))| message.at.duration_since((*at).into()));
    Ok(waits.collect())
}

/// Waits until the server knows that nothing is left to be sent: where the platform kept silent after it had taken a
/// message, that is sent once more.
async fn all_is_sent(port: u16) {
    let given_up = Instant::now() + Duration::from_mins(1);
    while Instant::now() < given_up {
        let page = reqwest::get(format!("http://127.0.0.1:{port}/metrics")).await;
        let told = match page {
            Ok(page) => page.text().await.unwrap_or_default(),
            Err(_) => String::new(),
        };
        if told.lines().any(|line| line == "lapwise_outbox_chats 0") {
            return;
        }
        sleep(Duration::from_millis(500)).await;
    }
}

/// The store is whole, and owes nothing.
async fn nothing_left(at: &Path) -> Result<(), String> {
    let (store, _) = SledStore::open(at, options()).map_err(|fault| fault.to_string())?;
    store.check().await.map_err(|fault| fault.to_string())?;
    let to_work = store.arrived(10).await.map_err(|fault| fault.to_string())?.len();
    let to_send = store.waiting(10).await.map_err(|fault| fault.to_string())?.len();
    let aside = store.aside(usize::MAX).await.map_err(|fault| fault.to_string())?;
    let ours = aside.iter().filter(|message| message.chat.as_str() != "telegram:unreadable").count();
    if (to_work, to_send, ours) == (0, 0, 0) {
        Ok(())
    } else {
        Err(format!("{to_work} messages are left to be worked, {to_send} to be sent, {ours} aside"))
    }
}
