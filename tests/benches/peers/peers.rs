//! The bots that are measured, and how each is installed and started.

use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use lapwise::serve::Way;

use crate::botapi::TOKEN;
use crate::harness::{Process, spawn, spawn_app};
use crate::shed::SHED;

const HERE: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/benches/peers");

/// One bot.
pub struct Peer {
    pub name: &'static str,
    /// What a person says, each line when the one before is answered.
    pub script: &'static [&'static str],
    kind: Kind,
}

enum Kind {
    OurServer,
    OurChat,
    Python(&'static str),
    Node(&'static str),
}

/// The six questions.
const SIX: &[&str] = &["/start", "a garden shed", "6 m", "3 m", "12 degrees", "green", "in May"];

pub fn all() -> Vec<Peer> {
    let peer = |name, script, kind| Peer { name, script, kind };
    vec![
        peer("lapwise: its real chat and plan, a flush a turn", SHED, Kind::OurChat),
        peer("lapwise's server with a small chat, a flush a turn", SIX, Kind::OurServer),
        peer("grammY 1.46, its file storage and runner", SIX, Kind::Node("grammy_bot.mjs")),
        peer("aiogram 3.31, a file a chat, uvloop", SIX, Kind::Python("aiogram_bot.py")),
        peer("python-telegram-bot 22.8, its pickle", SIX, Kind::Python("ptb_bot.py")),
    ]
}

impl Peer {
    pub fn start(&self, api_url: &str, dir: &Path) -> Process {
        let mut command = match self.kind {
            Kind::OurServer => return spawn(api_url, dir, &Way::Polling),
            Kind::OurChat => return spawn_app(api_url, dir, &Way::Polling),
            Kind::Python(script) => {
                let mut command = Command::new(python());
                command.arg(Path::new(HERE).join(script));
                command
            }
            Kind::Node(script) => {
                let mut command = Command::new("node");
                command.arg(Path::new(HERE).join(script)).env("BENCH_MODULES", modules());
                command
            }
        };
        command.env("BENCH_API", api_url).env("BENCH_TOKEN", TOKEN).env("BENCH_DIR", dir);
        Process::start(command.stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null()))
    }
}

fn cache() -> PathBuf {
    let cache = Path::new(env!("CARGO_TARGET_TMPDIR")).join("peers");
    std::fs::create_dir_all(&cache).unwrap();
    cache
}

fn done(command: &mut Command) {
    let status = command.stdout(Stdio::null()).status();
    assert!(status.expect("it cannot be started").success(), "{command:?}");
}

/// A Python that has what `requirements.txt` pins.
fn python() -> PathBuf {
    let venv = cache().join("venv");
    let python = venv.join("bin/python");
    if !venv.join("done").exists() {
        done(Command::new("python3").args(["-m", "venv"]).arg(&venv));
        let pins = Path::new(HERE).join("requirements.txt");
        done(Command::new(&python).args(["-m", "pip", "install", "--quiet", "--requirement"]).arg(pins));
        std::fs::write(venv.join("done"), "").unwrap();
    }
    python
}

/// A directory whose `node_modules` hold what `package-lock.json` pins.
fn modules() -> PathBuf {
    let node = cache().join("node");
    if !node.join("node_modules").exists() {
        std::fs::create_dir_all(&node).unwrap();
        for file in ["package.json", "package-lock.json"] {
            std::fs::copy(Path::new(HERE).join(file), node.join(file)).unwrap();
        }
        done(Command::new("npm").args(["ci", "--no-audit", "--no-fund"]).current_dir(&node));
    }
    node
}
