//! What is asked of a store that a server has open: the server answers over a socket in its data directory, which
//! only its owner can reach. It takes one line of JSON and answers with one, or with a backup.

#[cfg(any(feature = "telegram", feature = "web"))]
pub(in crate::cli) use self::server::listen;

use std::io::{self, Read as _, Write};
use std::os::unix::net::UnixStream;
use std::path::Path;
use std::time::Duration;

use serde::{Deserialize, Serialize};

use super::set_aside::What;

/// The socket's name in the data directory.
const SOCKET: &str = "lapwise.sock";
/// A large store is written aside before its first byte comes.
const COMES_WITHIN: Duration = Duration::from_mins(10);

/// What can be asked for.
#[derive(Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
enum Asked {
    Backup,
    Aside(What),
}

/// What is answered to everything but a backup.
#[derive(Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
enum Answer {
    Said(String),
    Wrong(String),
}

fn connect(data: &Path, asked: &Asked) -> io::Result<Option<UnixStream>> {
    let Ok(mut server) = UnixStream::connect(data.join(SOCKET)) else { return Ok(None) };
    server.set_read_timeout(Some(COMES_WITHIN))?;
    let mut line = serde_json::to_vec(asked)?;
    line.push(b'\n');
    server.write_all(&line)?;
    Ok(Some(server))
}

/// Takes a backup from the server that has the store open; answers whether there is one.
pub(in crate::cli) fn take(data: &Path, to: &mut impl Write) -> io::Result<bool> {
    let Some(mut server) = connect(data, &Asked::Backup)? else { return Ok(false) };
    io::copy(&mut server, to)?;
    Ok(true)
}

/// Asks the server that has the store open about what was set aside; `None` where there is no server.
pub(in crate::cli) fn ask(data: &Path, what: &What) -> anyhow::Result<Option<String>> {
    let Some(mut server) = connect(data, &Asked::Aside(what.clone()))? else { return Ok(None) };
    let mut answer = Vec::new();
    server.read_to_end(&mut answer)?;
    match serde_json::from_slice(&answer)? {
        Answer::Said(said) => Ok(Some(said)),
        Answer::Wrong(wrong) => anyhow::bail!(wrong),
    }
}

#[cfg(any(feature = "telegram", feature = "web"))]
mod server {
    use std::io::{self, Write as _};
    use std::os::unix::fs::PermissionsExt as _;
    use std::path::Path;
    use std::sync::Arc;
    use std::time::Duration;

    use lapwise::store::{SledStore, Store};
    use tokio::io::{AsyncBufReadExt as _, AsyncReadExt as _, BufReader};
    use tokio::net::{UnixListener, UnixStream};

    use super::{Answer, Asked, SOCKET};

    /// Whoever says or takes nothing for so long has gone.
    const PATIENCE: Duration = Duration::from_secs(30);
    /// A question is longer by nothing but a key.
    const LONGEST_QUESTION: u64 = 4_096;

    /// Answers each who connects, one after the other. Only whoever holds the store's lock may call this: a socket
    /// that is there already is left from before.
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
                if let Err(error) = answer(&listener, &*store).await {
                    tracing::error!(%error, "a question over the socket was not answered");
                    tokio::time::sleep(Duration::from_secs(1)).await;
                }
            }
        });
        Ok(())
    }

    async fn answer(listener: &UnixListener, store: &impl Store) -> anyhow::Result<()> {
        let (asker, _) = listener.accept().await?;
        let mut asker = BufReader::new(asker);
        let mut line = String::new();
        tokio::time::timeout(PATIENCE, (&mut asker).take(LONGEST_QUESTION).read_line(&mut line)).await??;
        let asker = asker.into_inner();
        let Asked::Aside(what) = serde_json::from_str(&line)? else { return hand_out(asker, store).await };
        let answer = match crate::cli::kept::set_aside::done(store, &what).await {
            Ok(said) => Answer::Said(said),
            Err(wrong) => Answer::Wrong(format!("{wrong:#}")),
        };
        blocking(asker)?.write_all(&serde_json::to_vec(&answer)?)?;
        Ok(())
    }

    async fn hand_out(taker: UnixStream, store: &impl Store) -> anyhow::Result<()> {
        let held = store.backup(blocking(taker)?).await?;
        tracing::info!(held.chats, held.records, "backed up");
        Ok(())
    }

    fn blocking(taker: UnixStream) -> io::Result<std::os::unix::net::UnixStream> {
        let taker = taker.into_std()?;
        taker.set_nonblocking(false)?;
        taker.set_write_timeout(Some(PATIENCE))?;
        Ok(taker)
    }
}
