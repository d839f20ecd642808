//! `lapwise doctor`: whether all a server needs is there, and what to do where it is not.

use std::path::Path;
use std::process::ExitCode;

use anyhow::Context;
use lapwise::store::StoreError;
use lapwise::store::sled::{Options, SledStore};

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
        look("store", || store_of(arguments, &data)),
        look("disk", || disk_of(&data)),
    ];
    #[cfg(feature = "telegram")]
    let messenger = if arguments.wants_messenger() { messenger_of(arguments)? } else { Vec::new() };
    #[cfg(not(feature = "telegram"))]
    let messenger = Vec::new();
    let mut well = true;
    for Looked { what, found } in looked.into_iter().chain(messenger) {
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

fn store_of(arguments: &ServeArguments, data: &Path) -> anyhow::Result<String> {
    if !data.exists() {
        return Ok(format!("{} is not there yet and will be made", data.display()));
    }
    let options = Options { keyring: arguments.keys_if_needed()?, ..Options::default() };
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
