//! A real server for each test: the page over the embedded store, on a port of its own, with a clock to turn.

use std::collections::BTreeMap;
use std::net::SocketAddr;
use std::sync::Arc;
use std::sync::atomic::{AtomicU64, Ordering};

use lapwise::app::{App, Budget, Links, Page};
use lapwise::book::Book;
use lapwise::channel::client::Proxies;
use lapwise::channel::web::{Config, Limits, PHRASES, Seal, Web};
use lapwise::roofing::note::Note;
use lapwise::store::sled::{Options, SledStore};
use lapwise::units::UsualUnit;
use tokio::sync::watch;

use crate::http::{Answer, form, send};
use crate::shed::SHED;

pub(crate) const NOON: u64 = 1_795_608_000;
pub(crate) const DAY: u64 = 86_400;

/// How far the clock of servers started by [`Server::with_clock`] has been turned, in seconds.
pub(crate) static TURNED: AtomicU64 = AtomicU64::new(0);

fn noon() -> u64 {
    NOON
}

fn turned() -> u64 {
    NOON + TURNED.load(Ordering::Relaxed)
}

/// A server that ends with its test.
pub(crate) struct Server {
    pub(crate) address: SocketAddr,
    pub(crate) store: Arc<SledStore>,
    /// Kept until the end: the store is in it.
    _dir: tempfile::TempDir,
    _close: watch::Sender<bool>,
}

/// Limits that a fast test does not run into.
pub(crate) fn roomy() -> Limits {
    let number = |n: u32| n.try_into().expect("not zero");
    Limits { words_per_minute: number(60_000), looks_per_minute: number(60_000), ..Limits::default() }
}

impl Server {
    pub(crate) async fn start() -> Self {
        Self::start_as(roomy(), noon, None).await
    }

    pub(crate) async fn with_limits(limits: Limits) -> Self {
        Self::start_as(limits, noon, None).await
    }

    /// A server whose clock can be turned by [`TURNED`]; for one test only.
    pub(crate) async fn with_clock() -> Self {
        Self::start_as(roomy(), turned, None).await
    }

    pub(crate) async fn at_public(base: &str) -> Self {
        Self::start_as(roomy(), noon, Some(base.to_owned())).await
    }

    /// A server that keeps words unsealed, for somebody who tries it out.
    pub(crate) async fn private() -> Self {
        Self::begin(roomy(), noon, None, true, Budget::default()).await
    }

    pub(crate) async fn with_budget(budget: Budget) -> Self {
        Self::begin(roomy(), noon, None, false, budget).await
    }

    async fn start_as(limits: Limits, clock: fn() -> u64, base: Option<String>) -> Self {
        Self::begin(limits, clock, base, false, Budget::default()).await
    }

    async fn begin(
        limits: Limits,
        clock: fn() -> u64,
        base: Option<String>,
        is_private: bool,
        budget: Budget,
    ) -> Self {
        let dir = tempfile::tempdir().expect("a directory");
        let book = Arc::new(Book::shipped());
        let (store, _) = SledStore::open(dir.path(), Options::default()).expect("a store");
        let web = Web::bind(([127, 0, 0, 1], 0).into()).await.expect("a port");
        let address = web.address().expect("an address");
        let base = base.unwrap_or_else(|| format!("http://{address}"));
        let links = Links::new(base.clone(), rand::random);
        let store = Arc::new(store);
        let app = App::new(Arc::clone(&book), Arc::clone(&store), clock, "kept-by-the-adviser")
            .with_files()
            .with_links(links)
            .with_budget(budget);
        let phrases: BTreeMap<&'static str, String> =
            PHRASES.iter().map(|id| (*id, book.words.say("en", &Note::new(*id), UsualUnit::M))).collect();
        let config = Config {
            base,
            seal: Seal::new([7; 32]),
            clock,
            fresh: rand::random,
            phrases,
            limits,
            proxies: Proxies::default(),
            is_private,
        };
        let (close, closing) = watch::channel(false);
        tokio::spawn(async move { web.serve(Arc::new(Page::new(app)), config, closing).await });
        Self { address, store, _dir: dir, _close: close }
    }

    #[cfg(feature = "outside")]
    pub(crate) fn url(&self, path: &str) -> String {
        format!("http://{}{path}", self.address)
    }

    pub(crate) async fn get(&self, path: &str) -> Answer {
        send(self.address, "GET", path, &[], "").await
    }
}

/// A person at the page without a browser: keeps the cookie and the form's fields.
pub(crate) struct Person<'a> {
    pub(crate) server: &'a Server,
    pub(crate) cookie: String,
    pub(crate) token: String,
    next: u32,
}

/// The text between two others.
pub(crate) fn between<'a>(text: &'a str, start: &str, end: &str) -> Option<&'a str> {
    let (_, rest) = text.split_once(start)?;
    Some(rest.split_once(end)?.0)
}

impl<'a> Person<'a> {
    pub(crate) async fn new(server: &'a Server) -> Self {
        let page = server.get("/").await;
        assert_eq!(page.status, 200, "{}", page.body);
        let cookie = page.header("set-cookie").split(';').next().unwrap_or_default().to_owned();
        let token = between(&page.body, "name=\"token\" value=\"", "\"").expect("a token").to_owned();
        Self { server, cookie, token, next: 0 }
    }

    /// The page as it stands, with slashes and apostrophes as people see them.
    pub(crate) async fn page(&self) -> Answer {
        let mut page = send(self.server.address, "GET", "/", &[("cookie", &self.cookie)], "").await;
        page.body = page.body.replace("&#x2f;", "/").replace("&#x27;", "'");
        page
    }

    pub(crate) async fn post(&self, fields: &[(&str, &str)]) -> Answer {
        let headers =
            [("cookie", self.cookie.as_str()), ("content-type", "application/x-www-form-urlencoded")];
        send(self.server.address, "POST", "/say", &headers, &form(fields)).await
    }

    /// Says something, as the form without the script does, and reads the page again.
    pub(crate) async fn say(&mut self, text: &str) -> Answer {
        self.next += 1;
        let id = format!("m{}", self.next);
        let answer = self.post(&[("token", &self.token), ("id", &id), ("text", text)]).await;
        assert_eq!((answer.status, answer.header("location")), (303, "/#now"), "{text}: {}", answer.body);
        self.page().await
    }

    /// Presses a button of the page as it stands.
    pub(crate) async fn press(&mut self, choice: &str) -> Answer {
        let page = self.page().await.body;
        let end = format!(":{choice}\"");
        let before = page.split(&end).next().filter(|before| before.len() < page.len());
        let prompt = before.and_then(|before| before.rsplit('"').next()).expect("the button is there");
        self.next += 1;
        let (id, value) = (format!("m{}", self.next), format!("{prompt}:{choice}"));
        let answer = self.post(&[("token", &self.token), ("id", &id), ("choice", &value)]).await;
        assert_eq!(answer.status, 303, "{choice}: {}", answer.body);
        self.page().await
    }

    /// Goes through the whole interview for a small shed.
    pub(crate) async fn plan(&mut self) -> Answer {
        let mut page = None;
        for said in SHED {
            page = Some(self.say(said).await);
        }
        page.expect("it says something")
    }

    /// Shares the list and answers the link's path.
    pub(crate) async fn share(&mut self, wish: &str) -> String {
        self.say(wish).await;
        let page = self.press("yes").await.body;
        let last = page.rsplit("/s/").next().expect("a link");
        format!("/s/{}", last.split(['"', '<']).next().unwrap_or_default())
    }
}
