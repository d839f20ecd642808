//! Real Chromium by its own driver: the `WebDriver` protocol (W3C) as far as these tests need it.

use std::net::SocketAddr;
use std::path::PathBuf;
use std::process::{Child, Command, Stdio};
use std::time::Duration;

use data_encoding::BASE64;
use serde_json::{Value, json};
use tokio::time::sleep;

use crate::http::send;

/// The key under which the protocol names elements.
const ELEMENT: &str = "element-6066-11e4-a52e-4f735466cecf";

/// How long something may take to appear.
const PATIENCE: Duration = Duration::from_secs(20);

/// A phone and a desk: width, height.
pub(crate) const SIZES: &[(&str, u32, u32)] = &[("phone", 390, 844), ("desktop", 1280, 800)];

/// How a browser differs from a usual one.
#[derive(Clone, Copy, Default)]
pub(crate) struct Kind {
    /// Scripts are off.
    pub(crate) without_script: bool,
    /// The screen is dark.
    pub(crate) dark: bool,
}

/// One browser with one window; both end with it.
pub(crate) struct Browser {
    driver: Child,
    address: SocketAddr,
    session: String,
    profile: tempfile::TempDir,
}

impl Drop for Browser {
    fn drop(&mut self) {
        // The driver ends its browser when told to; the browser of one that is killed notices on its own.
        let _ = Command::new("kill").arg(self.driver.id().to_string()).status();
        let _ = self.driver.wait();
    }
}

impl Browser {
    /// Starts one. Without Chromium's driver the test fails: install `chromium` and `chromium-driver`.
    pub(crate) async fn start(kind: Kind) -> Self {
        let port = std::net::TcpListener::bind("127.0.0.1:0")
            .and_then(|free| free.local_addr())
            .expect("a port")
            .port();
        let driver = Command::new("chromedriver")
            .arg(format!("--port={port}"))
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()
            .expect("chromedriver is installed (Debian: chromium chromium-driver)");
        let address = SocketAddr::from(([127, 0, 0, 1], port));
        let profile = tempfile::tempdir().expect("a directory");
        let mut browser = Self { driver, address, session: String::new(), profile };
        browser.open(kind).await;
        browser
    }

    async fn open(&mut self, kind: Kind) {
        let begun = std::time::Instant::now();
        while tokio::net::TcpStream::connect(self.address).await.is_err() {
            assert!(begun.elapsed() < PATIENCE, "chromedriver does not listen");
            sleep(Duration::from_millis(50)).await;
        }
        let profile = format!("--user-data-dir={}", self.profile.path().display());
        let mut arguments = vec![
            "--headless=new",
            "--no-sandbox",
            "--disable-gpu",
            "--disable-quic",
            "--no-first-run",
            "--disable-background-networking",
            "--disable-component-update",
            "--disable-sync",
            "--disable-dev-shm-usage",
            "--hide-scrollbars",
            profile.as_str(),
        ];
        if kind.dark {
            arguments.push("--blink-settings=preferredColorScheme=0");
        }
        let script = if kind.without_script { 2 } else { 1 };
        let options = json!({
            "args": arguments,
            "prefs": { "profile.managed_default_content_settings.javascript": script },
        });
        let wish = json!({ "capabilities": { "alwaysMatch": {
            "browserName": "chrome",
            "goog:chromeOptions": options,
            "pageLoadStrategy": "normal",
        } } });
        let answer = self.ask("POST", "/session", &wish).await.expect("a session");
        answer["sessionId"].as_str().expect("a session id").clone_into(&mut self.session);
        if kind.dark {
            let dark = json!({ "features": [{ "name": "prefers-color-scheme", "value": "dark" }] });
            self.developer("Emulation.setEmulatedMedia", dark).await;
        }
    }

    async fn ask(&self, method: &str, path: &str, body: &Value) -> Result<Value, String> {
        let headers = [("content-type", "application/json; charset=utf-8")];
        let answer = send(self.address, method, path, &headers, &body.to_string()).await;
        let read: Value =
            serde_json::from_str(&answer.body).map_err(|error| format!("{error}: {}", answer.body))?;
        let value = read["value"].clone();
        if answer.status == 200 {
            Ok(value)
        } else {
            Err(value["message"].as_str().unwrap_or_default().to_owned())
        }
    }

    async fn order(&self, path: &str, body: Value) -> Result<Value, String> {
        self.ask("POST", &format!("/session/{}{path}", self.session), &body).await
    }

    /// A command of the browser's own developer protocol.
    pub(crate) async fn developer(&self, command: &str, parameters: Value) -> Value {
        let order = json!({ "cmd": command, "params": parameters });
        self.order("/goog/cdp/execute", order).await.expect(command)
    }

    /// Opens an address and waits until it is loaded.
    pub(crate) async fn go(&self, url: &str) {
        self.order("/url", json!({ "url": url })).await.expect(url);
    }

    /// Loads the page again.
    pub(crate) async fn reload(&self) {
        self.order("/refresh", json!({})).await.expect("a page");
    }

    /// Runs a script in the page, whatever its policy says of scripts.
    pub(crate) async fn run(&self, script: &str) -> Value {
        self.order("/execute/sync", json!({ "script": script, "args": [] })).await.expect(script)
    }

    /// Runs a script that answers later, through its last argument.
    pub(crate) async fn run_later(&self, script: &str) -> Value {
        self.order("/execute/async", json!({ "script": script, "args": [] })).await.expect("a script")
    }

    async fn find(&self, selector: &str) -> Result<String, String> {
        let found = self.order("/element", json!({ "using": "css selector", "value": selector })).await?;
        found[ELEMENT].as_str().map(str::to_owned).ok_or_else(|| format!("{selector}: {found}"))
    }

    /// Waits for an element.
    pub(crate) async fn wait_for(&self, selector: &str) -> String {
        let begun = std::time::Instant::now();
        loop {
            match self.find(selector).await {
                Ok(element) => return element,
                Err(error) => assert!(begun.elapsed() < PATIENCE, "{selector}: {error}"),
            }
            sleep(Duration::from_millis(40)).await;
        }
    }

    /// Waits until the visible text of the page holds this.
    pub(crate) async fn wait_text(&self, text: &str) {
        let begun = std::time::Instant::now();
        loop {
            let shown = self.text("body").await.unwrap_or_default();
            if shown.contains(text) {
                return;
            }
            assert!(begun.elapsed() < PATIENCE, "no “{text}” in: {shown}");
            sleep(Duration::from_millis(40)).await;
        }
    }

    /// The visible text of an element.
    pub(crate) async fn text(&self, selector: &str) -> Result<String, String> {
        let element = self.find(selector).await?;
        let path = format!("/session/{}/element/{element}/text", self.session);
        let text = self.ask("GET", &path, &Value::Null).await?;
        Ok(text.as_str().unwrap_or_default().to_owned())
    }

    /// An attribute of an element, as the page has it now.
    pub(crate) async fn attribute(&self, selector: &str, name: &str) -> Option<String> {
        let element = self.find(selector).await.ok()?;
        let path = format!("/session/{}/element/{element}/attribute/{name}", self.session);
        self.ask("GET", &path, &Value::Null).await.ok()?.as_str().map(str::to_owned)
    }

    /// Types into an element.
    pub(crate) async fn write(&self, selector: &str, text: &str) {
        let element = self.wait_for(selector).await;
        self.order(&format!("/element/{element}/value"), json!({ "text": text })).await.expect(selector);
    }

    /// Presses an element.
    pub(crate) async fn click(&self, selector: &str) {
        let begun = std::time::Instant::now();
        loop {
            let element = self.wait_for(selector).await;
            match self.order(&format!("/element/{element}/click"), json!({})).await {
                Ok(_) => return,
                // It moved or was replaced between finding and pressing.
                Err(error) => assert!(begun.elapsed() < PATIENCE, "{selector}: {error}"),
            }
            sleep(Duration::from_millis(60)).await;
        }
    }

    /// Presses keys, wherever the focus is; `\u{e004}` is Tab, `\u{e007}` Enter, `\u{e00d}` Space.
    pub(crate) async fn keys(&self, keys: &str) {
        let mut actions = Vec::new();
        for key in keys.chars() {
            actions.push(json!({ "type": "keyDown", "value": key.to_string() }));
            actions.push(json!({ "type": "keyUp", "value": key.to_string() }));
        }
        let order = json!({ "actions": [{ "type": "key", "id": "keyboard", "actions": actions }] });
        self.order("/actions", order).await.expect("keys");
    }

    /// Says something in the chat by typing it, and waits until the chat has moved on.
    pub(crate) async fn say(&self, text: &str) {
        let before = self.mark().await;
        self.write("#text", text).await;
        self.click("#typing button").await;
        self.wait_past(before).await;
    }

    /// Presses the chat's button of that choice, and waits until the chat has moved on.
    pub(crate) async fn press(&self, choice: &str) {
        let before = self.mark().await;
        self.click(&format!(".choices button[value$=\":{choice}\"]")).await;
        self.wait_past(before).await;
    }

    /// The number of the chat's last entry.
    async fn mark(&self) -> u64 {
        let last = self.attribute("#log > :last-child", "data-number").await;
        last.and_then(|number| number.parse().ok()).unwrap_or_default()
    }

    async fn wait_past(&self, before: u64) {
        let begun = std::time::Instant::now();
        while self.mark().await <= before {
            assert!(
                begun.elapsed() < PATIENCE,
                "the chat stands still: {}",
                self.text("body").await.unwrap_or_default()
            );
            sleep(Duration::from_millis(40)).await;
        }
    }

    /// Makes the window as large as a phone's or a desktop's.
    pub(crate) async fn size(&self, width: u32, height: u32) {
        let is_phone = width < 600;
        let size = json!({ "width": width, "height": height, "deviceScaleFactor": 1, "mobile": is_phone });
        self.developer("Emulation.setDeviceMetricsOverride", size).await;
    }

    /// Pictures of the page in every size, `target/screens/NAME-SIZE.png`: for people to look at.
    pub(crate) async fn picture(&self, name: &str) {
        for (size, width, height) in SIZES {
            self.size(*width, *height).await;
            let wide = self.run("return document.documentElement.scrollWidth > window.innerWidth").await;
            assert_eq!(wide, Value::Bool(false), "{name} is wider than a {size}");
            let taken = self.developer("Page.captureScreenshot", json!({ "format": "png" })).await;
            let bytes = BASE64.decode(taken["data"].as_str().expect("a picture").as_bytes()).expect("base64");
            let dir = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("target/screens");
            std::fs::create_dir_all(&dir).expect("a directory");
            std::fs::write(dir.join(format!("{name}-{size}.png")), bytes).expect("a file");
        }
    }

    /// Fails where axe-core finds anything serious or critical against WCAG 2.2 AA.
    pub(crate) async fn check_access(&self, what: &str) {
        let path =
            PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/web/node_modules/axe-core/axe.min.js");
        let axe = std::fs::read_to_string(&path).expect("axe-core is installed (npm ci in tests/web)");
        let script = format!(
            "const done = arguments[arguments.length - 1]; {axe};
             axe.run(document, {{ runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'] }})
               .then((found) => done({{ passes: found.passes.length, violations: found.violations.map((one) =>
                 ({{ id: one.id, impact: one.impact, where: one.nodes.map((node) => node.html) }})) }}))
               .catch((error) => done({{ passes: 0, violations: [String(error)] }}));"
        );
        let found = self.run_later(&script).await;
        assert!(found["passes"].as_u64().unwrap_or_default() > 10, "{what}: axe did not run: {found}");
        let serious = |one: &&Value| !matches!(one["impact"].as_str(), Some("minor" | "moderate"));
        let serious: Vec<&Value> =
            found["violations"].as_array().expect("a list").iter().filter(serious).collect();
        assert!(serious.is_empty(), "{what}: {serious:#?}");
    }
}
