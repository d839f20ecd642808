//! Opening the store for the commands that serve, and what stands in it for the program itself.

#[cfg(feature = "web")]
use std::fs;
use std::path::Path;
use std::time::Duration;

use anyhow::Context as _;
use lapwise::store::StoreError;
use lapwise::store::sled::{Options, SledStore};
#[cfg(feature = "web")]
use lapwise::store::{Other, Store};

/// How often a full disk is looked at again.
const LOOK_EVERY: Duration = Duration::from_secs(2);
/// The name of the key that cookies are signed with.
#[cfg(feature = "web")]
const WEB_KEY: &str = "web-key";

/// Opens the store for a server. On a full disk it waits for room: a service manager that starts a server again and
/// again gives up some day, and then somebody has to come.
pub(in crate::cli) async fn for_serving(data: &Path, options: Options) -> anyhow::Result<SledStore> {
    let mut told = false;
    loop {
        match SledStore::open(data, options.clone()) {
            Ok((store, report)) => {
                for mended in &report.recovered {
                    tracing::error!(%mended, "the store was found damaged and has been mended");
                }
                for (key, tries) in &report.cut_short {
                    tracing::error!(
                        alert = true,
                        key = key.0,
                        tries,
                        "this was being worked when the server ended"
                    );
                }
                return Ok(store);
            }
            Err(StoreError::Full(fault)) => {
                if !told {
                    tracing::error!(
                        alert = true,
                        fault,
                        "the server starts as soon as there is room on the disk"
                    );
                }
                told = true;
                tokio::time::sleep(LOOK_EVERY).await;
            }
            Err(fault) => {
                return Err(fault).with_context(|| format!("cannot keep answers in {}", data.display()));
            }
        }
    }
}

/// The key of the page's cookies. It is kept in the store, sealed with the rest, and so is in every backup: whoever
/// had a chat finds it after a restore. Earlier versions had it in a file, which moves into the store.
#[cfg(feature = "web")]
pub(in crate::cli) async fn web_key(store: &impl Store, file: &Path) -> anyhow::Result<[u8; 32]> {
    let kept = store.get_other(WEB_KEY.to_owned()).await?;
    let key = match kept.map(|kept| kept.value.try_into()) {
        Some(Ok(key)) => key,
        Some(Err(_)) => anyhow::bail!("the key of the page's cookies is not readable in the store"),
        None => {
            let key = if file.exists() { read_key(file)? } else { rand::random() };
            let other = Other { name: WEB_KEY.to_owned(), owner: None, value: key.to_vec() };
            store.put_other(other).await?;
            key
        }
    };
    if file.exists() {
        fs::remove_file(file).with_context(|| format!("cannot delete {}", file.display()))?;
    }
    Ok(key)
}

/// A key in a file of its own.
#[cfg(feature = "web")]
pub(in crate::cli) fn read_key(file: &Path) -> anyhow::Result<[u8; 32]> {
    let bytes = fs::read(file).with_context(|| format!("cannot read the key in {}", file.display()))?;
    bytes.try_into().map_err(|bytes: Vec<u8>| {
        anyhow::anyhow!("{} holds {} bytes; a key is 32 bytes of chance", file.display(), bytes.len())
    })
}
