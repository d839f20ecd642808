//! The bot under test: in this process, or in one of its own that can be killed.

use std::net::TcpListener;
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::sync::Arc;
use std::time::Duration;

use lapwise::serve::{Config, Limits, ServeError, Token, Way, run};
use lapwise::store::sled::Options;
use lapwise::store::{MemoryStore, SledStore};
use tokio::sync::oneshot;
use tokio::task::JoinHandle;

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
    Config { token, api_url: server.url(), way: Way::Polling, watch: None, limits }
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
        let (stop, stopped) = oneshot::channel();
        let turns = Arc::new(Counter { store: Arc::clone(&store) });
        let stopped = async {
            let _ = stopped.await;
        };
        let running = tokio::spawn(run(config, Arc::clone(&store), turns, stopped));
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

    pub fn ended_by_itself(&mut self) -> bool {
        self.0.try_wait().unwrap().is_some()
    }
}

impl Drop for Process {
    fn drop(&mut self) {
        let _ = self.0.kill();
        let _ = self.0.wait();
    }
}

/// The variable that makes [`child`] serve instead of returning at once.
const CHILD: &str = "LAPWISE_TEST_CHILD";

/// Starts a bot in a process of its own, on a store in `dir`: this very program, told to run [`child`].
pub fn spawn(api_url: &str, dir: &Path, way: &Way) -> Process {
    let port = match way {
        Way::Polling => 0,
        Way::Webhook { listen, .. } => listen.port(),
    };
    let told = format!("{api_url}\n{}\n{port}", dir.display());
    let mut command = Command::new(std::env::current_exe().unwrap());
    command.args(["--exact", "harness::child", "--nocapture"]).env(CHILD, told).stdout(Stdio::null());
    Process::start(&mut command)
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
    let config = Config {
        token: Token::new(TOKEN).unwrap(),
        api_url: told[0].to_owned(),
        way,
        watch: None,
        limits: unlimited(),
    };
    let options = Options { cache_bytes: 16 << 20, ..Options::default() };
    let (store, report) = SledStore::open(Path::new(told[1]), options).unwrap();
    for mended in report.recovered {
        eprintln!("mended: {mended:?}");
    }
    let store = Arc::new(store);
    let turns = Arc::new(Counter { store: Arc::clone(&store) });
    run(config, store, turns, std::future::pending()).await.unwrap();
}
