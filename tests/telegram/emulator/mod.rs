//! End to end against a Bot API emulator that nobody here wrote, over real HTTP, with the bot in a process of its
//! own. `shim.mjs` says what had to be mended, and why.

use std::io::{BufRead, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::sync::Once;
use std::time::{Duration, Instant};

use lapwise::serve::Way;
use serde_json::{Value, json};

use crate::botapi::TOKEN;
use crate::harness::{Process, spawn, webhook};

const HERE: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/telegram/emulator");

/// Where the emulator is installed, once for all runs.
fn installed() -> PathBuf {
    static INSTALLED: Once = Once::new();
    let cache = Path::new(env!("CARGO_TARGET_TMPDIR")).join("emulator");
    INSTALLED.call_once(|| {
        std::fs::create_dir_all(&cache).unwrap();
        for file in ["package.json", "package-lock.json"] {
            std::fs::copy(Path::new(HERE).join(file), cache.join(file)).unwrap();
        }
        if !cache.join("node_modules/telegram-test-api").exists() {
            let npm =
                Command::new("npm").args(["ci", "--no-audit", "--no-fund"]).current_dir(&cache).status();
            assert!(npm.expect("npm is needed for this test").success());
        }
    });
    cache
}

/// The emulator, the bot, and one person.
struct Scene {
    node: Child,
    _bot: Process,
    person: reqwest::Client,
    emulator: String,
    _dir: tempfile::TempDir,
}

impl Drop for Scene {
    fn drop(&mut self) {
        drop(self.node.stdin.take());
        let _ = self.node.wait();
    }
}

impl Scene {
    fn open(way: &Way) -> Self {
        let mut node = Command::new("node")
            .arg(Path::new(HERE).join("shim.mjs"))
            .arg(installed())
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .spawn()
            .expect("node is needed for this test");
        let mut line = String::new();
        BufReader::new(node.stdout.take().unwrap()).read_line(&mut line).unwrap();
        let (shim, emulator) = line.trim().split_once(' ').unwrap();
        let dir = tempfile::tempdir().unwrap();
        let bot = spawn(&format!("http://127.0.0.1:{shim}"), dir.path(), way);
        let emulator = format!("http://127.0.0.1:{emulator}");
        Self { node, _bot: bot, person: reqwest::Client::new(), emulator, _dir: dir }
    }

    async fn post(&self, route: &str, body: Value) -> Value {
        let sent = self.person.post(format!("{}/{route}", self.emulator)).json(&body).send().await;
        sent.unwrap().json().await.unwrap()
    }

    async fn says(&self, text: &str) {
        let entities = json!([{ "offset": 0, "length": text.len(), "type": "bot_command" }]);
        let route = if text.starts_with('/') { "sendCommand" } else { "sendMessage" };
        let chat = json!({ "id": 1, "type": "private", "first_name": "Wren" });
        let from = json!({ "id": 1, "is_bot": false, "first_name": "Wren" });
        let message = json!({ "botToken": TOKEN, "chat": chat, "from": from, "date": 1, "text": text, "entities": entities });
        self.post(route, message).await;
    }

    async fn presses(&self, data: &str) {
        let from = json!({ "id": 1, "is_bot": false, "first_name": "Wren" });
        let message = json!({ "chat": { "id": 1, "type": "private", "first_name": "Wren" } });
        self.post(
            "sendCallback",
            json!({ "botToken": TOKEN, "from": from, "message": message, "data": data }),
        )
        .await;
    }

    /// What the bot's messages say, in order, as the emulator holds them now.
    async fn messages(&self) -> Vec<Value> {
        let history = self.post("getUpdatesHistory", json!({ "token": TOKEN })).await;
        let all = history["result"].as_array().unwrap();
        all.iter()
            .map(|kept| kept["message"].clone())
            .filter(|message| message.get("chat_id").is_some())
            .collect()
    }

    async fn until(&self, what: &str, seen: impl Fn(&[Value]) -> bool) -> Vec<Value> {
        let deadline = Instant::now() + Duration::from_secs(30);
        loop {
            let messages = self.messages().await;
            if seen(&messages) {
                return messages;
            }
            assert!(Instant::now() < deadline, "never came: {what}; there is {messages:#?}");
            tokio::time::sleep(Duration::from_millis(20)).await;
        }
    }
}

async fn talk(way: &Way) {
    let scene = Scene::open(way);
    scene.says("hello <you>").await;
    let messages = scene.until("the first reply", |m| m.len() == 1).await;
    assert!(messages[0]["text"].as_str().unwrap().starts_with("1: hello &lt;you&gt; #"), "{messages:?}");

    scene.says("ask").await;
    let messages = scene.until("the question", |m| m.len() == 2).await;
    let red = messages[1]["reply_markup"]["inline_keyboard"][0][0]["callback_data"].as_str().unwrap();
    scene.presses(red).await;
    let messages = scene
        .until("the choice and the reply", |m| {
            m.len() == 3 && m[1]["text"].as_str().unwrap().ends_with("<b>✓ Red</b>")
        })
        .await;
    assert_eq!(messages[2]["text"], "3: chose Red");

    scene.says("/file").await;
    let messages = scene.until("the file", |m| m.len() == 5).await;
    assert_eq!(messages[4]["file"], json!({ "name": "plan.txt", "size": 5_000 }));
    assert_eq!(messages[4]["text"], "The plan &amp; all &lt;of&gt; it");
}

#[tokio::test]
async fn the_emulator_is_served_by_polling() {
    talk(&Way::Polling).await;
}

#[tokio::test]
async fn the_emulator_is_served_by_webhook() {
    talk(&webhook()).await;
}
