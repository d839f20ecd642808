//! `lapwise serve` in a process of its own, and a plain way to talk to it.

use std::io::{BufRead as _, BufReader, Read as _, Write as _};
use std::net::{SocketAddr, TcpStream};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::Duration;

use lapwise::store::Keyring;

use crate::memory;

/// A server with a page; it ends with this.
pub struct Served {
    child: Child,
    pub address: SocketAddr,
    data: PathBuf,
    /// Ends with the server, where it is its own.
    dir: Option<tempfile::TempDir>,
}

/// An answer's status, head and body.
pub struct Answer {
    pub status: u16,
    pub head: String,
    pub body: String,
}

impl Served {
    /// Starts a server with a page, and with what else is told.
    pub fn start(more: &[&str]) -> Self {
        let dir = tempfile::tempdir().unwrap();
        let mut served = Self::start_in(dir.path(), more);
        served.dir = Some(dir);
        served
    }

    /// The same, in a directory that is there before and after.
    pub fn start_in(dir: &Path, more: &[&str]) -> Self {
        let (key, data) = (dir.join("keys"), dir.join("data"));
        if !key.exists() {
            std::fs::write(&key, format!("{}\n", Keyring::random_line())).unwrap();
        }
        let mut command = Command::new(env!("CARGO_BIN_EXE_lapwise"));
        command.args(["serve", "--web", "127.0.0.1:0", "--data"]).arg(&data);
        command.arg("--key-file").arg(&key).args(more).stdout(Stdio::piped()).env("LAPWISE_LOG", "off");
        let mut child = command.spawn().unwrap();
        let mut said = String::new();
        BufReader::new(child.stdout.take().unwrap()).read_line(&mut said).unwrap();
        let address = said.trim().trim_start_matches("http://").trim_end_matches('/').parse().unwrap();
        let served = Self { child, address, data, dir: None };
        while served.get("/readyz").status != 200 {
            std::thread::sleep(Duration::from_millis(20));
        }
        served
    }

    /// The most memory it ever held, in MB.
    pub fn peak_mb(&self) -> u64 {
        memory::kb(self.child.id(), "VmHWM:") / 1_000
    }

    /// The memory it holds now, in kB.
    pub fn resident_kb(&self) -> u64 {
        memory::kb(self.child.id(), "VmRSS:")
    }

    /// What its files take, in MB.
    pub fn files_mb(&self) -> u64 {
        bytes_below(&self.data) / 1_000_000
    }

    /// Ends it without warning while somebody else still uses it.
    pub fn signal_kill(&self) {
        let id = self.child.id().to_string();
        Command::new("kill").args(["-9", &id]).status().unwrap();
    }

    /// Ends it without warning, as a power cut would.
    pub fn kill(mut self) {
        self.child.kill().unwrap();
        self.child.wait().unwrap();
    }

    pub fn runs(&mut self) -> bool {
        self.child.try_wait().unwrap().is_none()
    }

    pub fn get(&self, path: &str) -> Answer {
        self.ask("GET", path, "", "", 1)
    }

    /// One request on a connection of its own, as if it came from client so and so through a proxy.
    pub fn ask(&self, method: &str, path: &str, cookie: &str, body: &str, client: u32) -> Answer {
        let [_, b, c, d] = client.to_be_bytes();
        let kind = "application/x-www-form-urlencoded";
        let request = format!(
            "{method} {path} HTTP/1.1\r\nhost: x\r\nconnection: close\r\nx-forwarded-for: 10.{b}.{c}.{d}\r\n\
             cookie: {cookie}\r\ncontent-type: {kind}\r\ncontent-length: {}\r\n\r\n{body}",
            body.len()
        );
        let mut bytes = Vec::new();
        if let Ok(mut stream) = TcpStream::connect_timeout(&self.address, Duration::from_secs(5)) {
            let _ = stream.set_read_timeout(Some(Duration::from_secs(20)));
            let _ = stream.write_all(request.as_bytes());
            let _ = stream.read_to_end(&mut bytes);
        }
        let text = String::from_utf8_lossy(&bytes).into_owned();
        let (head, body) = text.split_once("\r\n\r\n").unwrap_or((&text, ""));
        let status = head.split(' ').nth(1).and_then(|status| status.parse().ok()).unwrap_or(0);
        Answer { status, head: head.to_owned(), body: body.to_owned() }
    }
}

impl Drop for Served {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// How many bytes stand below a directory.
pub fn bytes_below(dir: &Path) -> u64 {
    let entries = std::fs::read_dir(dir).into_iter().flatten().flatten();
    entries
        .map(|entry| match entry.metadata() {
            Ok(held) if held.is_dir() => bytes_below(&entry.path()),
            Ok(held) => held.len(),
            Err(_) => 0,
        })
        .sum()
}

/// Somebody with a browser.
pub struct Visitor {
    pub cookie: String,
    token: String,
    said: u32,
}

impl Visitor {
    pub fn new(served: &Served) -> Self {
        Self::of(served, 1)
    }

    /// One who comes from client so and so, and from the next with each message.
    pub fn of(served: &Served, client: u32) -> Self {
        let page = served.ask("GET", "/", "", "", client);
        let cookie = page.head.lines().find_map(|line| line.strip_prefix("set-cookie: ")).unwrap();
        let cookie = cookie.split(';').next().unwrap().to_owned();
        let token = between(&page.body, "name=\"token\" value=\"", "\"").to_owned();
        Self { cookie, token, said: client }
    }

    /// Says something, each time as another client, so that no rate is met; answers the status.
    pub fn say(&mut self, served: &Served, text: &str) -> u16 {
        self.said += 1;
        self.say_again(served, text)
    }

    /// Sends the last message once more, as a browser does that got no answer.
    pub fn say_again(&self, served: &Served, text: &str) -> u16 {
        let plain = |b: u8| b.is_ascii_alphanumeric();
        let encode = |b| if plain(b) { char::from(b).to_string() } else { format!("%{b:02X}") };
        let text: String = text.bytes().map(encode).collect();
        let body = format!("token={}&id=m{}&text={text}", self.token, self.said);
        served.ask("POST", "/say", &self.cookie, &body, self.said).status
    }

    pub fn get(&self, served: &Served, path: &str) -> Answer {
        served.ask("GET", path, &self.cookie, "", self.said)
    }
}

/// The text between two others; empty where they are not there.
pub fn between<'a>(text: &'a str, start: &str, end: &str) -> &'a str {
    text.split_once(start).and_then(|(_, rest)| rest.split_once(end)).map_or("", |(found, _)| found)
}
