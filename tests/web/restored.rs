//! The server as it is installed, by its own commands: what is asked of it while it runs, and a backup of it put back
//! elsewhere.

use std::io::{BufRead, BufReader};
use std::net::SocketAddr;
use std::path::Path;
use std::process::{Child, Command, Output, Stdio};
use std::time::{Duration, Instant};

use lapwise::store::Keyring;

use crate::http::{form, send};
use crate::mount::Disk;
use crate::mount::fill_up;
use crate::server::between;

/// The binary, serving a page; killed when this is dropped.
struct Served {
    child: Child,
    address: SocketAddr,
}

fn lapwise(words: &[&str], data: &Path, key: &Path) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_lapwise"));
    command.args(words).arg("--data").arg(data).arg("--key-file").arg(key);
    command
}

impl Served {
    fn start(data: &Path, key: &Path) -> Self {
        let mut child = lapwise(&["serve", "--web", "127.0.0.1:0"], data, key)
            .stdout(Stdio::piped())
            .spawn()
            .expect("the binary starts");
        let mut line = String::new();
        BufReader::new(child.stdout.take().expect("piped")).read_line(&mut line).expect("it says where");
        let address = between(&line, "http://", "/").expect("an address").parse().expect("an address");
        Self { child, address }
    }

    async fn page(&self, cookie: &str) -> String {
        send(self.address, "GET", "/", &[("cookie", cookie)], "").await.body
    }
}

impl Drop for Served {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

fn said(output: &Output) -> String {
    format!("{}{}", String::from_utf8_lossy(&output.stdout), String::from_utf8_lossy(&output.stderr))
}

#[tokio::test]
async fn a_browser_finds_its_chat_in_a_restored_backup() {
    let dir = tempfile::tempdir().expect("a directory");
    let (data, restored) = (dir.path().join("data"), dir.path().join("restored"));
    let (key, backup) = (dir.path().join("key"), dir.path().join("everything.lapwise"));
    std::fs::write(&key, Keyring::random_line()).expect("the key is written");
    std::fs::create_dir(&data).expect("a directory");
    let served = Served::start(&data, &key);
    let first = send(served.address, "GET", "/", &[], "").await;
    let cookie = first.header("set-cookie").split(';').next().unwrap_or_default().to_owned();
    let token = between(&first.body, "name=\"token\" value=\"", "\"").expect("a token").to_owned();
    let headers = [("cookie", cookie.as_str()), ("content-type", "application/x-www-form-urlencoded")];
    let fields = [("token", token.as_str()), ("id", "m1"), ("text", "felt, by the blue gate")];
    assert_eq!(send(served.address, "POST", "/say", &headers, &form(&fields)).await.status, 303);
    assert!(served.page(&cookie).await.contains("blue gate"));
    // While it runs, by its socket.
    let aside = lapwise(&["aside", "list"], &data, &key).output().expect("it runs");
    assert!(aside.status.success() && said(&aside).contains("nothing is set aside"), "{}", said(&aside));
    let wrong = lapwise(&["aside", "retry", "web/none"], &data, &key).output().expect("it runs");
    assert!(!wrong.status.success() && said(&wrong).contains("aside list"), "{}", said(&wrong));
    let backed_up =
        lapwise(&["backup", &backup.display().to_string()], &data, &key).output().expect("it runs");
    assert!(backed_up.status.success(), "{}", said(&backed_up));
    drop(served);
    assert!(!data.join("web.key").exists(), "the key is kept with the rest");
    let put_back = Command::new(env!("CARGO_BIN_EXE_lapwise"))
        .args(["restore", &backup.display().to_string(), "--into"])
        .arg(&restored)
        .output()
        .expect("it runs");
    assert!(put_back.status.success(), "{}", said(&put_back));
    let again = Command::new(env!("CARGO_BIN_EXE_lapwise"))
        .args(["restore", &backup.display().to_string(), "--into"])
        .arg(&data)
        .output()
        .expect("it runs");
    assert!(!again.status.success() && said(&again).contains("holds a store already"), "{}", said(&again));
    let served = Served::start(&restored, &key);
    assert!(served.page(&cookie).await.contains("blue gate"), "a stranger after the restore");
}

#[tokio::test]
async fn a_key_in_a_file_of_an_earlier_version_moves_into_the_store() {
    let dir = tempfile::tempdir().expect("a directory");
    let (data, key) = (dir.path().join("data"), dir.path().join("key"));
    std::fs::write(&key, Keyring::random_line()).expect("the key is written");
    let served = Served::start(&data, &key);
    drop(served);
    std::fs::write(data.join("web.key"), [7; 32]).expect("a file");
    // A key that is in the store already stays.
    drop(Served::start(&data, &key));
    assert!(!data.join("web.key").exists());
}

#[tokio::test]
async fn a_full_disk_is_told_and_passes_without_a_restart() {
    let Some(disk) = Disk::tmpfs(16) else { return eprintln!("not tried: mounting needs root") };
    let dir = tempfile::tempdir().expect("a directory");
    let (data, key, ballast) =
        (disk.path().join("data"), dir.path().join("key"), disk.path().join("ballast"));
    std::fs::write(&key, Keyring::random_line()).expect("the key is written");
    let mut served = Served::start(&data, &key);
    let address = served.address;
    let first = send(address, "GET", "/", &[], "").await;
    let cookie = first.header("set-cookie").split(';').next().unwrap_or_default().to_owned();
    let token = between(&first.body, "name=\"token\" value=\"", "\"").expect("a token").to_owned();
    let say = async |id: &str, text: &str| {
        let headers = [("cookie", cookie.as_str()), ("content-type", "application/x-www-form-urlencoded")];
        let fields = [("token", token.as_str()), ("id", id), ("text", text)];
        send(address, "POST", "/say", &headers, &form(&fields)).await.status
    };
    let ready = async || send(address, "GET", "/readyz", &[], "").await.status;
    assert_eq!((say("m1", "felt").await, ready().await), (303, 200));
    fill_up(&ballast);
    assert_eq!((say("m2", "all sound").await, ready().await), (500, 503));
    assert_eq!(send(address, "GET", "/healthz", &[], "").await.status, 200);
    std::fs::remove_file(&ballast).expect("room");
    let begun = Instant::now();
    while ready().await != 200 {
        assert!(begun.elapsed() < Duration::from_secs(10), "not ready again");
    }
    assert_eq!(say("m3", "none near").await, 303);
    fill_up(&ballast);
    assert_eq!(say("m4", "one slope").await, 500);
    // Stopped on the full disk it ends, and started there it waits for room.
    let id = served.child.id().to_string();
    assert!(Command::new("kill").args(["-TERM", &id]).status().expect("kill runs").success());
    let begun = Instant::now();
    while served.child.try_wait().expect("a child").is_none() {
        assert!(begun.elapsed() < Duration::from_secs(25), "it does not end");
        std::thread::sleep(Duration::from_millis(20));
    }
    let room = std::thread::spawn(move || {
        std::thread::sleep(Duration::from_secs(1));
        std::fs::remove_file(&ballast).expect("room");
    });
    let served = Served::start(&data, &key);
    room.join().expect("room was made");
    assert!(served.page(&cookie).await.contains("none near"));
}
