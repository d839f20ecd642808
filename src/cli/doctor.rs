//! `lapwise doctor`: whether all a server needs is there, and what to do where it is not.

use std::path::Path;
use std::process::ExitCode;

use anyhow::Context;
use lapwise::store::StoreError;
use lapwise::store::sled::{Options, SledStore};

use super::kept::set_aside::{self, NOTHING, What};
use super::serve::ServeArguments;
use super::{data_dir, open_book, print};

/// One thing looked at: what, and what is wrong with it and to be done.
struct Looked {
    what: &'static str,
    found: Result<String, String>,
}

/// Looks at everything a server needs.
pub(super) fn doctor(arguments: &ServeArguments) -> anyhow::Result<ExitCode> {
    let data = data_dir(arguments.store.data.as_deref())?;
    let looked = [
        look("book", || Ok(format!("whole, {}", open_book(&arguments.book)?.version))),
        look("key", || {
            let keys = arguments.keys_if_needed()?;
            Ok(if keys.is_some() { "read" } else { "none, and a page for this machine alone needs none" }
                .to_owned())
        }),
        look("disk", || disk_of(&data)),
    ];
    #[cfg(feature = "telegram")]
    let messenger = if arguments.wants_messenger() { messenger_of(arguments)? } else { Vec::new() };
    #[cfg(not(feature = "telegram"))]
    let messenger = Vec::new();
    let mut well = true;
    let store = store_of(arguments, &data);
    for Looked { what, found } in looked.into_iter().chain(store).chain(messenger) {
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

/// The token, the clock and the way in.
#[cfg(feature = "telegram")]
fn messenger_of(arguments: &ServeArguments) -> anyhow::Result<Vec<Looked>> {
    let config = match arguments.messenger.config() {
        Ok(config) => config,
        Err(error) => return Ok(vec![Looked { what: "token", found: Err(format!("{error:#}")) }]),
    };
    let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build()?;
    let examined = runtime.block_on(lapwise::serve::examine(&config, super::seconds_since_1970()));
    Ok(examined.into_iter().map(|(what, found)| Looked { what, found }).collect())
}

/// The store, and what was set aside in it.
fn store_of(arguments: &ServeArguments, data: &Path) -> [Looked; 2] {
    let mut aside = Ok(NOTHING.to_owned());
    let store = look("store", || {
        if !data.exists() {
            return Ok(format!("{} is not there yet and will be made", data.display()));
        }
        let options = Options { keyring: arguments.keys_if_needed()?, ..Options::default() };
        match SledStore::open(data, options) {
            Ok((store, report)) => {
                aside = aside_in(&store);
                Ok(if report.recovered.is_empty() {
                    format!("{} opens", data.display())
                } else {
                    format!("{} was damaged and has been mended: {}", data.display(), report.recovered.len())
                })
            }
            Err(StoreError::InUse(_)) => {
                #[cfg(unix)]
                {
                    aside = super::kept::live::ask(data, &What::List).map(Option::unwrap_or_default);
                }
                Ok(format!("{} is open in a running server", data.display()))
            }
            Err(error) => Err(error.into()),
        }
    });
    let found = look("aside", || match aside? {
        none if none.is_empty() || none == NOTHING => Ok("no message is set aside".to_owned()),
        list => {
            let wait = match list.lines().count() {
                1 => "1 message could not be worked and waits for you".to_owned(),
                more => format!("{more} messages could not be worked and wait for you"),
            };
            anyhow::bail!("{wait}; `lapwise aside` shows, retries and drops what was set aside:\n{list}")
        }
    });
    [store, found]
}

fn aside_in(store: &SledStore) -> anyhow::Result<String> {
    let runtime = tokio::runtime::Builder::new_current_thread().build()?;
    runtime.block_on(set_aside::done(store, &What::List))
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
