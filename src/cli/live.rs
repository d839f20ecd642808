//! Backing up a store that a server has open: the server hands it out over a socket in its data directory, which
//! only its owner can reach.

#[cfg(any(feature = "telegram", feature = "web"))]
pub(super) use self::server::listen;

use std::io::{self, Write};
use std::os::unix::net::UnixStream;
use std::path::Path;
use std::time::Duration;

/// The socket's name in the data directory.
const SOCKET: &str = "lapwise-backup.sock";
/// A large store is written aside before its first byte comes.
const COMES_WITHIN: Duration = Duration::from_mins(10);

/// Takes a backup from the server that has the store open; answers whether there is one.
pub(super) fn take(data: &Path, to: &mut impl Write) -> io::Result<bool> {
    let Ok(mut server) = UnixStream::connect(data.join(SOCKET)) else { return Ok(false) };
    server.set_read_timeout(Some(COMES_WITHIN))?;
    io::copy(&mut server, to)?;
    Ok(true)
}

#[cfg(any(feature = "telegram", feature = "web"))]
mod server {
    use std::io;
    use std::os::unix::fs::PermissionsExt as _;
    use std::path::Path;
    use std::sync::Arc;
    use std::time::Duration;

    use lapwise::store::{SledStore, Store};
    use tokio::net::UnixListener;

    use super::SOCKET;

    /// Whoever takes nothing for so long has gone.
    const TAKES_WITHIN: Duration = Duration::from_secs(30);

    /// Hands out a backup to each who connects, one after the other. Only whoever holds the store's lock may call
    /// this: a socket that is there already is left from before.
    pub(in crate::cli) fn listen(store: Arc<SledStore>, data: &Path) -> io::Result<()> {
        let path = data.join(SOCKET);
        match std::fs::remove_file(&path) {
            Err(error) if error.kind() != io::ErrorKind::NotFound => return Err(error),
            Ok(()) | Err(_) => {}
        }
        let listener = UnixListener::bind(&path)?;
        std::fs::set_permissions(&path, std::fs::Permissions::from_mode(0o600))?;
        tokio::spawn(async move {
            loop {
                match hand_out(&listener, &*store).await {
                    Ok((chats, records)) => tracing::info!(chats, records, "backed up"),
                    Err(error) => {
                        tracing::error!(%error, "a backup was not handed out");
                        tokio::time::sleep(Duration::from_secs(1)).await;
                    }
                }
            }
        });
        Ok(())
    }

    async fn hand_out(listener: &UnixListener, store: &impl Store) -> anyhow::Result<(u64, u64)> {
        let (taker, _) = listener.accept().await?;
        let taker = taker.into_std()?;
        taker.set_nonblocking(false)?;
        taker.set_write_timeout(Some(TAKES_WITHIN))?;
        let held = store.backup(taker).await?;
        Ok((held.chats, held.records))
    }
}
