//! `lapwise serve`: the chat for messengers and as a page.

use std::net::SocketAddr;
use std::process::ExitCode;
use std::sync::Arc;
use std::time::Duration;

use anyhow::Context;
use clap::Args;
use lapwise::app::{App, Budget, Tidied};
use lapwise::store::Keyring;
use lapwise::store::sled::{Options, SledStore};
use tokio::sync::watch;
use tokio_util::sync::CancellationToken;

use super::{BookArguments, StoreArguments, credential, data_dir, open_book, seconds_since_1970};

/// Where the keys are, if systemd was told to hand them over.
const KEY_CREDENTIAL: &str = "store-key";
/// How often chats that have been quiet for long are looked for.
const TIDY_EVERY: Duration = Duration::from_hours(1);
/// How long threads are waited for at the end.
const STOP_WITHIN: Duration = Duration::from_secs(5);

#[derive(Args, Clone)]
pub(super) struct ServeArguments {
    #[cfg(feature = "telegram")]
    #[command(flatten)]
    pub(super) messenger: super::messenger::MessengerArguments,
    #[cfg(feature = "web")]
    #[command(flatten)]
    web: super::web::WebArguments,
    /// Where to serve /healthz, /readyz and /metrics.
    #[arg(long, value_name = "ADDRESS")]
    watch: Option<SocketAddr>,
    /// After how many days without a word everything of a chat is deleted; the person is told 14 days before.
    #[arg(long, value_name = "DAYS", default_value_t = 180, env = "LAPWISE_KEEP_DAYS",
        value_parser = clap::value_parser!(u16).range(15..=3_650))]
    keep_days: u16,
    /// So many megabytes are kept of one chat at most; whoever gets there is told, and can export and delete.
    #[arg(long, value_name = "MB", default_value_t = 4, env = "LAPWISE_CHAT_MB",
        value_parser = clap::value_parser!(u64).range(1..=1_000))]
    chat_mb: u64,
    /// So many megabytes are kept of all chats at most; the files take up to four times as much.
    #[arg(long, value_name = "MB", default_value_t = 4_000, env = "LAPWISE_ALL_MB",
        value_parser = clap::value_parser!(u64).range(1..=1_000_000))]
    all_mb: u64,
    #[command(flatten)]
    pub(super) store: StoreArguments,
    #[command(flatten)]
    pub(super) book: BookArguments,
}

impl ServeArguments {
    #[cfg_attr(not(feature = "web"), expect(clippy::unused_self, reason = "no page is in the program"))]
    fn wants_page(&self) -> bool {
        #[cfg(feature = "web")]
        let wanted = self.web.is_wanted();
        #[cfg(not(feature = "web"))]
        let wanted = false;
        wanted
    }

    /// Whether a messenger is asked for: always, but where only a page is, or where there is none in the program.
    #[cfg_attr(
        not(feature = "telegram"),
        expect(clippy::unused_self, reason = "no messenger is in the program")
    )]
    pub(super) fn wants_messenger(&self) -> bool {
        #[cfg(feature = "telegram")]
        let wanted = self.messenger.is_wanted() || !self.wants_page();
        #[cfg(not(feature = "telegram"))]
        let wanted = false;
        wanted
    }

    /// The keys; none where somebody only tries the page out on their own machine.
    pub(super) fn keys_if_needed(&self) -> anyhow::Result<Option<Keyring>> {
        #[cfg(feature = "web")]
        {
            let is_named = self.store.key_file.is_some() || credential(KEY_CREDENTIAL).is_some();
            if !is_named && !self.wants_messenger() && self.web.is_private() {
                return Ok(None);
            }
        }
        self.keys().map(Some)
    }

    fn budget(&self) -> Budget {
        let bytes = |megabytes: u64| megabytes.saturating_mul(1_000_000);
        Budget { chat: bytes(self.chat_mb), all: bytes(self.all_mb) }
    }

    /// The keys; a server without any does not start, since it keeps other people's words.
    fn keys(&self) -> anyhow::Result<Keyring> {
        let file = self.store.key_file.clone().or_else(|| credential(KEY_CREDENTIAL));
        let file = file.with_context(|| {
            format!(
                "no key to seal people's answers with: name its file with --key-file. A fresh key is this line:\n{}",
                Keyring::random_line()
            )
        })?;
        Ok(Keyring::read(&file)?)
    }
}

/// Serves until it is asked to stop.
pub(super) fn run(arguments: &ServeArguments) -> anyhow::Result<ExitCode> {
    anyhow::ensure!(
        arguments.wants_messenger() || arguments.wants_page(),
        "there is nothing to serve: name an address for the page with --web"
    );
    #[cfg(feature = "telegram")]
    let messenger = arguments.wants_messenger().then(|| arguments.messenger.config()).transpose()?;
    let book = Arc::new(open_book(&arguments.book)?);
    let data = data_dir(arguments.store.data.as_deref())?;
    let keyring = arguments.keys_if_needed()?;
    #[cfg(feature = "web")]
    let is_sealed = keyring.is_some();
    let options = Options { keyring, ..Options::default() };
    let runtime = tokio::runtime::Builder::new_multi_thread().enable_all().build()?;
    let served = runtime.block_on(async {
        let store = tokio::select! {
            store = super::kept::open::for_serving(&data, options) => Arc::new(store?),
            () = asked_to_stop() => return Ok(()),
        };
        let app = App::new(Arc::clone(&book), Arc::clone(&store), seconds_since_1970, "kept-by-the-adviser")
            .with_files()
            .keeping_for(arguments.keep_days)
            .with_budget(arguments.budget());
        let (close, closing) = watch::channel(false);
        #[cfg(feature = "web")]
        let (app, page) = match arguments.web.open(&data, &*store, is_sealed).await? {
            Some(page) => (page.linked(app), Some(page)),
            None => (app, None),
        };
        #[cfg(unix)]
        if let Err(error) = super::kept::live::listen(Arc::clone(&store), &data) {
            tracing::error!(%error, "this store can only be backed up while nobody serves it");
        }
        tokio::spawn(keep_tidy(app.clone()));
        let stop = cancelled(closing.clone());
        lapwise::serve::watch(arguments.watch, Arc::clone(&store), Arc::new(app.clone()), stop).await?;
        if arguments.watch.is_some() {
            tokio::spawn(count_chats(app.clone()));
        }
        let to_messengers = async {
            #[cfg(feature = "telegram")]
            if let Some(config) = messenger {
                let stop = closed(closing.clone());
                lapwise::serve::run(config, Arc::clone(&store), Arc::new(app.clone()), stop).await?;
            }
            anyhow::Ok(())
        };
        let as_page = async {
            #[cfg(feature = "web")]
            if let Some(page) = page {
                page.serve(app.clone(), &book, closing.clone()).await?;
            }
            anyhow::Ok(())
        };
        tokio::spawn(async move {
            asked_to_stop().await;
            close.send_replace(true);
        });
        // Whichever fails takes the other down with it: half a service is found out too late.
        let both = async { tokio::try_join!(to_messengers, as_page) };
        tokio::select! {
            done = both => done.map(drop),
            () = store.given_up() => anyhow::bail!("the store failed, and only a new start can open it again"),
        }
    });
    // A thread that waits for a disk which does not answer is left behind.
    runtime.shutdown_timeout(STOP_WITHIN);
    served?;
    Ok(ExitCode::SUCCESS)
}

#[cfg(feature = "telegram")]
async fn closed(mut closing: watch::Receiver<bool>) {
    let _ = closing.wait_for(|closed| *closed).await;
}

/// A token that is cancelled when `closing` turns true.
fn cancelled(mut closing: watch::Receiver<bool>) -> CancellationToken {
    let token = CancellationToken::new();
    let cancelled = token.clone();
    tokio::spawn(async move {
        let _ = closing.wait_for(|closed| *closed).await;
        cancelled.cancel();
    });
    token
}

/// Counts where the chats stand, for the metrics.
async fn count_chats(app: App<SledStore>) {
    if let Err(error) = app.count_chats().await {
        tracing::error!(%error, "the chats are not all counted");
    }
}

/// Tells and deletes chats that have been quiet for long, hour by hour.
async fn keep_tidy(app: App<SledStore>) {
    let mut hourly = tokio::time::interval(TIDY_EVERY);
    loop {
        hourly.tick().await;
        match app.tidy().await {
            Ok(tidied) if tidied == Tidied::default() => {}
            Ok(tidied) => tracing::info!(?tidied, "tidied up"),
            Err(error) => tracing::error!(%error, "tidying up stopped half-way"),
        }
    }
}

/// Until somebody presses Ctrl-C or the service manager says stop.
async fn asked_to_stop() {
    let interrupt = tokio::signal::ctrl_c();
    #[cfg(unix)]
    {
        let mut terminate = match tokio::signal::unix::signal(tokio::signal::unix::SignalKind::terminate()) {
            Ok(terminate) => terminate,
            Err(error) => {
                tracing::error!(%error, "SIGTERM cannot be heard");
                let _ = interrupt.await;
                return;
            }
        };
        tokio::select! {
            _ = interrupt => {}
            _ = terminate.recv() => {}
        }
    }
    #[cfg(not(unix))]
    let _ = interrupt.await;
}
