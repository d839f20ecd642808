//! The bot under test: in this process, or in one of its own that can be killed.

use std::net::TcpListener;
use std::path::Path;
use std::process::{Child, Command, ExitStatus, Stdio};
use std::sync::Arc;
use std::time::Duration;

use lapwise::app::App;
use lapwise::book::Book;
use lapwise::serve::{Answers, Census, Config, Limits, ServeError, Token, Watched, Way, run};
use lapwise::store::sled::Options;
use lapwise::store::{Keyring, MemoryStore, SledStore};
use tokio::sync::oneshot;
use tokio::task::JoinHandle;
use tokio_util::sync::CancellationToken;

use crate::botapi::{Server, TOKEN};
use crate::counter::Counter;

/// Limits of a test: as published where the test is about them, else none.
pub fn unlimited() -> Limits {
    Limits {
        sends_per_second: None,
        sends_per_chat: None,
        read_per_minute: None,
        poll_for: Duration::from_secs(5),
        answer_within: Duration::from_secs(2),
        ..Limits::default()
    }
}

pub fn config(server: &Server, limits: Limits) -> Config {
    let token = Token::new(TOKEN).unwrap();
    Config { token, api_url: server.url(), way: Way::Polling, limits }
}

/// A port that was free a moment ago.
pub fn free_port() -> u16 {
    TcpListener::bind("127.0.0.1:0").unwrap().local_addr().unwrap().port()
}

/// The other way in.
pub fn webhook() -> Way {
    let port = free_port();
    Way::Webhook {
        listen: ([127, 0, 0, 1], port).into(),
        public_url: format!("http://127.0.0.1:{port}/telegram"),
    }
}

/// A bot in this process, on a store in memory.
pub struct Bot {
    stop: oneshot::Sender<()>,
    running: JoinHandle<Result<(), ServeError>>,
    pub store: Arc<MemoryStore>,
}

impl Bot {
    pub fn start(config: Config) -> Self {
        Self::start_on(config, Arc::new(MemoryStore::new(None).unwrap()))
    }

    pub fn start_on(config: Config, store: Arc<MemoryStore>) -> Self {
        let counter = Arc::new(Counter { store: Arc::clone(&store) });
        Self::serve(config, store, counter)
    }

    pub fn serve(config: Config, store: Arc<MemoryStore>, app: Arc<impl Answers>) -> Self {
        let (stop, stopped) = oneshot::channel();
        let stopped = async {
            let _ = stopped.await;
        };
        let running = tokio::spawn(run(config, Arc::clone(&store), app, stopped));
        Self { stop, running, store }
    }

    pub async fn stop(self) -> Arc<MemoryStore> {
        let _ = self.stop.send(());
        self.running.await.unwrap().unwrap();
        self.store
    }
}

/// A bot in a process of its own, killed at the latest when the test ends, however it ends.
pub struct Process(Child);

impl Process {
    pub fn start(command: &mut Command) -> Self {
        Self(command.spawn().unwrap())
    }

    pub fn id(&self) -> u32 {
        self.0.id()
    }

    /// Ends it without warning, as a power cut would.
    pub fn kill(&mut self) {
        self.0.kill().unwrap();
        self.0.wait().unwrap();
    }

    /// How it ended, if it has.
    pub fn status(&mut self) -> Option<ExitStatus> {
        self.0.try_wait().unwrap()
    }
}

impl Drop for Process {
    fn drop(&mut self) {
        let _ = self.0.kill();
        let _ = self.0.wait();
    }
}

/// Of the chats of these tests nothing is counted.
struct Nobody;

impl Watched for Nobody {
    fn census(&self) -> Census {
        Census::default()
    }
}

/// The variable that makes [`serve_as_child`] serve instead of returning at once.
const CHILD: &str = "LAPWISE_TEST_CHILD";

/// Starts a bot in a process of its own, on a store in `dir`: this very program, told to run [`child`].
pub fn spawn(api_url: &str, dir: &Path, way: &Way) -> Process {
    spawn_as(COUNTER, api_url, dir, way, 0)
}

/// The same, asking for updates, with health and metrics at a port of this machine.
pub fn spawn_watched(api_url: &str, dir: &Path, port: u16) -> Process {
    spawn_as(COUNTER, api_url, dir, &Way::Polling, port)
}

/// The same with the real conversation, plan and all.
pub fn spawn_app(api_url: &str, dir: &Path, way: &Way) -> Process {
    spawn_as(APP, api_url, dir, way, 0)
}

const COUNTER: &str = "counter";
const APP: &str = "app";

fn spawn_as(who: &str, api_url: &str, dir: &Path, way: &Way, watch: u16) -> Process {
    let port = match way {
        Way::Polling => 0,
        Way::Webhook { listen, .. } => listen.port(),
    };
    let told = format!("{api_url}\n{}\n{port}\n{who}\n{watch}", dir.display());
    let mut command = Command::new(std::env::current_exe().unwrap());
    command.args(["--exact", "harness::child", "--nocapture"]).env(CHILD, told).stdout(Stdio::null());
    Process::start(&mut command)
}

/// How a store in a folder is opened: sealed, as a server's is.
pub fn options() -> Options {
    Options { keyring: Some(Keyring::new([7; 32], [])), ..Options::default() }
}

/// Not a test of anything: what [`spawn`] runs. Elsewhere it has nothing to do.
#[tokio::test(flavor = "multi_thread")]
async fn child() {
    serve_as_child().await;
}

/// Serves, where this process was started by [`spawn`].
pub async fn serve_as_child() {
    let Ok(told) = std::env::var(CHILD) else { return };
    let told: Vec<&str> = told.split('\n').collect();
    let port: u16 = told[2].parse().unwrap();
    let way = if port == 0 {
        Way::Polling
    } else {
        Way::Webhook {
            listen: ([127, 0, 0, 1], port).into(),
            public_url: format!("http://127.0.0.1:{port}/telegram"),
        }
    };
    let config =
        Config { token: Token::new(TOKEN).unwrap(), api_url: told[0].to_owned(), way, limits: unlimited() };
    let (store, report) = SledStore::open(Path::new(told[1]), options()).unwrap();
    for mended in report.recovered {
        eprintln!("mended: {mended:?}");
    }
    let store = Arc::new(store);
    let watched = Some(told[4].parse().unwrap()).filter(|port| *port != 0);
    let at = watched.map(|port| ([127, 0, 0, 1], port).into());
    let never = CancellationToken::new();
    lapwise::serve::watch(at, Arc::clone(&store), Arc::new(Nobody), never).await.unwrap();
    if told[3] == APP {
        let book = Arc::new(Book::shipped());
        let app = App::new(book, Arc::clone(&store), || 1_795_608_000, "kept-by-the-adviser");
        run(config, store, Arc::new(app), std::future::pending()).await.unwrap();
    } else {
        let counter = Counter { store: Arc::clone(&store) };
        run(config, store, Arc::new(counter), std::future::pending()).await.unwrap();
    }
}
