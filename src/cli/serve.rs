//! `lapwise serve`: the chat for others, in a browser.

use std::collections::BTreeMap;
use std::fs;
use std::io::Write as _;
use std::net::SocketAddr;
use std::os::unix::fs::OpenOptionsExt as _;
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use std::sync::Arc;

use anyhow::Context as _;
use clap::Args;
use lapwise::app::{App, Links, Page};
use lapwise::book::Book;
use lapwise::channel::web::{Config, Limits, PHRASES, Seal, Web};
use lapwise::roofing::note::Note;
use lapwise::store::sled::{Options, SledStore};
use lapwise::units::UsualUnit;
use tokio::sync::watch;

use super::chat::{data_dir, seconds_since_1970};
use super::{BookArguments, open_book};

/// The file of the key, in the data directory.
const KEY_FILE: &str = "web.key";

#[derive(Args, Clone)]
pub(super) struct ServeArguments {
    /// Where the page listens. TLS is the business of a proxy before it.
    #[arg(long, value_name = "ADDRESS", default_value = "127.0.0.1:8080", env = "LAPWISE_WEB")]
    web: SocketAddr,
    /// The address people see, such as `https://roof.example`: links for suppliers begin with it, and with https
    /// the cookie is sent over https only.
    #[arg(long, value_name = "URL", env = "LAPWISE_PUBLIC_URL")]
    public_url: Option<String>,
    /// A file with the 32 bytes that cookies are signed with; without it, one is made in the data directory.
    #[arg(long, value_name = "FILE", env = "LAPWISE_WEB_KEY_FILE")]
    web_key_file: Option<PathBuf>,
    /// Where answers are kept; without it, the platform's usual place.
    #[arg(long, value_name = "DIR", env = "LAPWISE_DATA")]
    data: Option<PathBuf>,
    #[command(flatten)]
    book: BookArguments,
}

/// Serves until told to stop.
pub(super) fn run(arguments: ServeArguments) -> anyhow::Result<ExitCode> {
    let runtime = tokio::runtime::Builder::new_multi_thread().enable_all().build()?;
    runtime.block_on(serve(arguments))?;
    Ok(ExitCode::SUCCESS)
}

async fn serve(arguments: ServeArguments) -> anyhow::Result<()> {
    let book = Arc::new(open_book(&arguments.book)?);
    let data = data_dir(arguments.data)?;
    let (store, report) = SledStore::open(&data, Options::default())
        .with_context(|| format!("cannot keep answers in {}", data.display()))?;
    for mended in &report.recovered {
        tracing::error!(%mended, "the store was found damaged and has been mended");
    }
    let key = match &arguments.web_key_file {
        Some(file) => read_key(file)?,
        None => read_or_make_key(&data.join(KEY_FILE))?,
    };
    let web = Web::bind(arguments.web).await?;
    let address = web.address()?;
    let base = public_url(arguments.public_url.as_deref(), address)?;
    let app = App::new(Arc::clone(&book), Arc::new(store), seconds_since_1970, "kept-by-the-adviser")
        .with_links(Links::new(base.clone(), || rand::random()));
    let config = Config {
        base,
        seal: Seal::new(key),
        clock: seconds_since_1970,
        fresh: || rand::random(),
        phrases: phrases(&book),
        limits: Limits::default(),
    };
    super::print(&format!("http://{address}/"))?;
    let (close, closing) = watch::channel(false);
    tokio::spawn(async move {
        told_to_stop().await;
        close.send_replace(true);
    });
    web.serve(Arc::new(Page::new(app)), config, closing).await?;
    Ok(())
}

fn phrases(book: &Book) -> BTreeMap<&'static str, String> {
    let say = |id: &&'static str| (*id, book.words.say("en", &Note::new(*id), UsualUnit::M));
    PHRASES.iter().map(say).collect()
}

/// Without a public address, links lead to where we listen: good for trying things out on one machine.
fn public_url(asked: Option<&str>, address: SocketAddr) -> anyhow::Result<String> {
    let Some(url) = asked else { return Ok(format!("http://{address}")) };
    let url = url.trim_end_matches('/');
    let rest = url.strip_prefix("https://").or_else(|| url.strip_prefix("http://"));
    let host = rest.filter(|host| {
        !host.is_empty() && host.chars().all(|c| c.is_ascii_alphanumeric() || matches!(c, '.' | '-' | ':' | '[' | ']'))
    });
    anyhow::ensure!(host.is_some(), "--public-url takes https://name, without a path: {url} is none");
    Ok(url.to_owned())
}

fn read_key(file: &Path) -> anyhow::Result<[u8; 32]> {
    let bytes = fs::read(file).with_context(|| format!("cannot read the key in {}", file.display()))?;
    bytes.try_into().map_err(|bytes: Vec<u8>| {
        anyhow::anyhow!("{} holds {} bytes; a key is 32 bytes of chance", file.display(), bytes.len())
    })
}

/// The key of this data directory, made on the first run; nobody else on the machine may read it.
fn read_or_make_key(file: &Path) -> anyhow::Result<[u8; 32]> {
    let made = fs::OpenOptions::new().write(true).create_new(true).mode(0o600).open(file);
    match made {
        Ok(mut out) => {
            let key: [u8; 32] = rand::random();
            out.write_all(&key).and_then(|()| out.sync_all()).with_context(|| format!("cannot write {}", file.display()))?;
            Ok(key)
        }
        Err(error) if error.kind() == std::io::ErrorKind::AlreadyExists => read_key(file),
        Err(error) => Err(error).with_context(|| format!("cannot write {}", file.display())),
    }
}

/// Resolves on an interrupt or a request to end.
async fn told_to_stop() {
    let interrupt = tokio::signal::ctrl_c();
    let Ok(mut end) = tokio::signal::unix::signal(tokio::signal::unix::SignalKind::terminate()) else {
        let _ = interrupt.await;
        return;
    };
    tokio::select! {
        _ = interrupt => {}
        _ = end.recv() => {}
    }
}
