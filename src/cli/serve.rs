//! `lapwise serve`: the chat for messengers and as a page. `lapwise doctor`: whether all it needs is there.

use std::net::SocketAddr;
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use std::sync::Arc;

use anyhow::Context;
use clap::Args;
use lapwise::app::App;
use lapwise::serve::{Config, Limits, Token, Way};
use lapwise::store::sled::{Options, SledStore};
use lapwise::store::{Keyring, StoreError};
use tokio::sync::watch;

use super::{BookArguments, StoreArguments, data_dir, open_book, print, seconds_since_1970};

/// Where the bot's token is, if systemd was told to hand it over.
const TOKEN_CREDENTIAL: &str = "telegram-token";
/// Where the keys are, if systemd was told to hand them over.
const KEY_CREDENTIAL: &str = "store-key";

#[derive(Args, Clone)]
pub(super) struct ServeArguments {
    /// The file with the bot's token; without it, the service credential `telegram-token`.
    #[arg(long, value_name = "FILE", env = "LAPWISE_TELEGRAM_TOKEN_FILE")]
    telegram_token_file: Option<PathBuf>,
    /// The Bot API server.
    #[arg(long, value_name = "URL", default_value = "https://api.telegram.org")]
    api_url: String,
    /// Have updates sent to this public address, as `https://roof.example/telegram`, instead of asking for them.
    #[arg(long, value_name = "URL", requires = "listen")]
    public_url: Option<String>,
    /// Where to listen for them, behind whatever speaks TLS.
    #[arg(long, value_name = "ADDRESS", requires = "public_url")]
    listen: Option<SocketAddr>,
    /// Where to serve /healthz, /readyz and /metrics.
    #[arg(long, value_name = "ADDRESS")]
    watch: Option<SocketAddr>,
    #[cfg(feature = "web")]
    #[command(flatten)]
    web: super::web::WebArguments,
    #[command(flatten)]
    store: StoreArguments,
    #[command(flatten)]
    book: BookArguments,
}

impl ServeArguments {
    /// Whether a messenger is asked for: always, but where only a page is.
    fn wants_messenger(&self) -> bool {
        let named = self.telegram_token_file.is_some() || credential(TOKEN_CREDENTIAL).is_some();
        #[cfg(feature = "web")]
        let named = named || !self.web.is_wanted();
        named
    }

    /// The keys; none where somebody only tries the page out on their own machine.
    fn keys_if_needed(&self) -> anyhow::Result<Option<Keyring>> {
        let is_named = self.store.key_file.is_some() || credential(KEY_CREDENTIAL).is_some();
        #[cfg(feature = "web")]
        if !is_named && !self.wants_messenger() && self.web.is_private() {
            return Ok(None);
        }
        self.keys().map(Some)
    }

    fn token(&self) -> anyhow::Result<Token> {
        let file = self.telegram_token_file.clone().or_else(|| credential(TOKEN_CREDENTIAL));
        let file = file.context("no bot token: name its file with --telegram-token-file")?;
        Ok(Token::from_file(&file)?)
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

    fn config(&self) -> anyhow::Result<Config> {
        let way = match (&self.public_url, self.listen) {
            (Some(public_url), Some(listen)) => Way::Webhook { listen, public_url: public_url.clone() },
            _ => Way::Polling,
        };
        Ok(Config {
            token: self.token()?,
            api_url: self.api_url.clone(),
            way,
            watch: self.watch,
            limits: Limits::default(),
        })
    }
}

/// A credential that systemd handed over with `LoadCredential=`.
fn credential(name: &str) -> Option<PathBuf> {
    let path = Path::new(&std::env::var_os("CREDENTIALS_DIRECTORY")?).join(name);
    path.exists().then_some(path)
}

/// Serves until it is asked to stop.
pub(super) fn run(arguments: &ServeArguments) -> anyhow::Result<ExitCode> {
    let messenger = arguments.wants_messenger().then(|| arguments.config()).transpose()?;
    let book = Arc::new(open_book(&arguments.book)?);
    let data = data_dir(arguments.store.data.as_deref())?;
    let options = Options { keyring: arguments.keys_if_needed()?, ..Options::default() };
    let runtime = tokio::runtime::Builder::new_multi_thread().enable_all().build()?;
    runtime.block_on(async {
        let (store, report) = SledStore::open(&data, options)
            .with_context(|| format!("cannot keep answers in {}", data.display()))?;
        for mended in &report.recovered {
            tracing::error!(%mended, "the store was found damaged and has been mended");
        }
        let store = Arc::new(store);
        let app = App::new(Arc::clone(&book), Arc::clone(&store), seconds_since_1970, "kept-by-the-adviser")
            .with_files();
        let (close, closing) = watch::channel(false);
        #[cfg(feature = "web")]
        let (app, page) = match arguments.web.open(&data).await? {
            Some(page) => (page.linked(app), Some(page)),
            None => (app, None),
        };
        let mut closed = closing.clone();
        let stop = async move {
            let _ = closed.wait_for(|closed| *closed).await;
        };
        let to_messengers = async {
            match messenger {
                Some(config) => Ok(lapwise::serve::run(config, store, Arc::new(app.clone()), stop).await?),
                None => Ok(()),
            }
        };
        let as_page = async {
            #[cfg(feature = "web")]
            if let Some(page) = page {
                page.serve(app.clone(), &book, closing).await?;
            }
            anyhow::Ok(())
        };
        tokio::spawn(async move {
            asked_to_stop().await;
            close.send_replace(true);
        });
        // Whichever fails takes the other down with it: half a service is found out too late.
        tokio::try_join!(to_messengers, as_page)?;
        anyhow::Ok(())
    })?;
    Ok(ExitCode::SUCCESS)
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

/// One thing looked at: what, and what is wrong with it and to be done.
struct Looked {
    what: &'static str,
    found: Result<String, String>,
}

/// Looks at everything a server needs.
pub(super) fn doctor(arguments: &ServeArguments) -> anyhow::Result<ExitCode> {
    let data = data_dir(arguments.store.data.as_deref())?;
    let mut looked = vec![
        look("book", || Ok(format!("whole, {}", open_book(&arguments.book)?.version))),
        look("key", || {
            arguments.keys()?;
            Ok("read".to_owned())
        }),
        look("store", || store_of(arguments, &data)),
        look("disk", || disk_of(&data)),
    ];
    let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build()?;
    match arguments.config() {
        Ok(config) => {
            for (what, found) in runtime.block_on(lapwise::serve::examine(&config, seconds_since_1970())) {
                looked.push(Looked { what, found });
            }
        }
        Err(error) => looked.push(Looked { what: "token", found: Err(format!("{error:#}")) }),
    }
    let mut well = true;
    for Looked { what, found } in looked {
        well &= found.is_ok();
        let line = match found {
            Ok(found) => format!("ok       {what}: {found}"),
            Err(wrong) => format!("PROBLEM  {what}: {wrong}"),
        };
        print(&line)?;
    }
    Ok(if well { ExitCode::SUCCESS } else { ExitCode::FAILURE })
}

fn look(what: &'static str, at: impl FnOnce() -> anyhow::Result<String>) -> Looked {
    Looked { what, found: at().map_err(|error| format!("{error:#}")) }
}

fn store_of(arguments: &ServeArguments, data: &Path) -> anyhow::Result<String> {
    if !data.exists() {
        return Ok(format!("{} is not there yet and will be made", data.display()));
    }
    let options = Options { keyring: Some(arguments.keys()?), ..Options::default() };
    match SledStore::open(data, options) {
        Ok((_, report)) if report.recovered.is_empty() => Ok(format!("{} opens", data.display())),
        Ok((_, report)) => {
            Ok(format!("{} was damaged and has been mended: {}", data.display(), report.recovered.len()))
        }
        Err(StoreError::InUse(_)) => Ok(format!("{} is open in a running server", data.display())),
        Err(error) => Err(error.into()),
    }
}

/// Room enough to write something, really written.
fn disk_of(data: &Path) -> anyhow::Result<String> {
    let place = data.ancestors().find(|place| place.is_dir()).unwrap_or(Path::new("/"));
    let probe = place.join(format!(".lapwise-doctor-{}", std::process::id()));
    let written = std::fs::write(&probe, vec![0_u8; 1 << 20]);
    let removed = std::fs::remove_file(&probe);
    written
        .and(removed)
        .with_context(|| format!("cannot write a megabyte into {}; make room", place.display()))?;
    Ok(format!("{} takes what is written", place.display()))
}
