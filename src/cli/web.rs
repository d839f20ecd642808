//! The page of `lapwise serve`: where it listens, the key of its cookies, and what stands on it.

use std::collections::BTreeMap;
use std::net::SocketAddr;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::Duration;

use clap::Args;
use lapwise::app::{App, Links, Page};
use lapwise::book::Book;
use lapwise::channel::client::{Network, Proxies};
use lapwise::channel::web::{Config, Limits, PHRASES, Seal, Web};
use lapwise::roofing::note::Note;
use lapwise::store::Store;
use lapwise::units::UsualUnit;
use tokio::sync::watch;

use super::kept::open::{read_key, web_key};
use super::seconds_since_1970;

/// The file of the key, in the data directory of earlier versions.
const KEY_FILE: &str = "web.key";

/// How often the page looks for messages that were kept and not worked.
const RESUME_EVERY: Duration = Duration::from_mins(1);

#[derive(Args, Clone)]
pub(super) struct WebArguments {
    /// Serve the chat as a page at this address, as `127.0.0.1:8080`. TLS is the business of a proxy before it.
    #[arg(long, value_name = "ADDRESS", env = "LAPWISE_WEB")]
    web: Option<SocketAddr>,
    /// The address people see the page at, as `https://roof.example`: links for suppliers begin with it, and with
    /// https the cookie is sent over https only.
    #[arg(long, value_name = "URL", requires = "web", env = "LAPWISE_WEB_URL")]
    web_url: Option<String>,
    /// The file with the 32 bytes that cookies are signed with; without it, one is made and kept
    /// in the store.
    #[arg(long, value_name = "FILE", requires = "web", env = "LAPWISE_WEB_KEY_FILE")]
    web_key_file: Option<PathBuf>,
    /// A proxy before the page, such as `10.0.0.2`, or the network it is in, such as `10.0.0.0/8`: its
    /// `X-Forwarded-For` is believed. Those on this machine are in any case. Can be given more than once.
    #[arg(long, value_name = "NETWORK", requires = "web", env = "LAPWISE_WEB_PROXY", value_delimiter = ',')]
    web_proxy: Vec<Network>,
}

/// A page that listens and waits for its app.
pub(super) struct OpenPage {
    web: Web,
    base: String,
    seal: Seal,
    proxies: Vec<Network>,
    is_private: bool,
}

impl WebArguments {
    /// Whether a page is asked for.
    pub(super) fn is_wanted(&self) -> bool {
        self.web.is_some()
    }

    /// Whether only this very machine can reach the page: somebody is trying it out.
    pub(super) fn is_private(&self) -> bool {
        self.web_url.is_none()
            && self.web_proxy.is_empty()
            && self.web.is_some_and(|address| address.ip().is_loopback())
    }

    /// Takes the address, where a page is asked for.
    /// What people say is sealed, or else only this machine is let in.
    pub(super) async fn open(
        &self,
        data: &Path,
        store: &impl Store,
        is_sealed: bool,
    ) -> anyhow::Result<Option<OpenPage>> {
        let Some(address) = self.web else { return Ok(None) };
        let key = match &self.web_key_file {
            Some(file) => read_key(file)?,
            None => web_key(store, &data.join(KEY_FILE)).await?,
        };
        let web = Web::bind(address).await?;
        let base = public_url(self.web_url.as_deref(), web.address()?)?;
        super::print(&format!("http://{}/", web.address()?))?;
        Ok(Some(OpenPage {
            web,
            base,
            seal: Seal::new(key),
            proxies: self.web_proxy.clone(),
            is_private: !is_sealed,
        }))
    }
}

impl OpenPage {
    /// The app, able to give links that lead here.
    pub(super) fn linked<S: Store>(&self, app: App<S>) -> App<S> {
        app.with_links(Links::new(self.base.clone(), rand::random))
    }

    /// Serves until `closing` turns true.
    pub(super) async fn serve<S: Store>(
        self,
        app: App<S>,
        book: &Book,
        closing: watch::Receiver<bool>,
    ) -> anyhow::Result<()> {
        let say = |id: &&'static str| (*id, book.words.say("en", &Note::new(*id), UsualUnit::M));
        let phrases: BTreeMap<&'static str, String> = PHRASES.iter().map(say).collect();
        let config = Config {
            base: self.base,
            seal: self.seal,
            clock: seconds_since_1970,
            fresh: rand::random,
            phrases,
            limits: Limits::default(),
            proxies: Proxies::new(self.proxies),
            is_private: self.is_private,
        };
        let page = Arc::new(Page::new(app));
        let resumed = Arc::clone(&page);
        tokio::spawn(async move {
            let mut often = tokio::time::interval(RESUME_EVERY);
            loop {
                often.tick().await;
                match resumed.resume().await {
                    Ok(0) => {}
                    Ok(to_work) => tracing::info!(to_work, "taken up where the page was left"),
                    Err(error) => tracing::error!(%error, "not all that the page had kept is worked"),
                }
            }
        });
        Ok(self.web.serve(page, config, closing).await?)
    }
}

/// Without a public address, links lead to where we listen: good for trying things out on one machine.
fn public_url(asked: Option<&str>, address: SocketAddr) -> anyhow::Result<String> {
    let Some(asked) = asked else { return Ok(format!("http://{address}")) };
    let url = asked.trim_end_matches('/');
    let rest = url.strip_prefix("https://").or_else(|| url.strip_prefix("http://"));
    let fits = |c: char| c.is_ascii_alphanumeric() || matches!(c, '.' | '-' | ':' | '[' | ']');
    let is_host = rest.is_some_and(|host| !host.is_empty() && host.chars().all(fits));
    anyhow::ensure!(is_host, "--web-url takes https://name without a path; {url} is none");
    Ok(url.to_owned())
}
