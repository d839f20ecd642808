//! What is kept, in an operator's hands: `lapwise backup`, `lapwise restore` and `lapwise rekey` for the whole of it.

pub(super) mod aside;
#[cfg(unix)]
pub(super) mod live;
#[cfg(any(feature = "telegram", feature = "web"))]
pub(super) mod open;
pub(super) mod set_aside;

use std::fs::{self, File};
use std::io::{BufReader, BufWriter, Write};
use std::path::{Path, PathBuf};
use std::process::ExitCode;

use anyhow::Context;
use clap::Args;
use lapwise::store::sled::Options;
use lapwise::store::{BackedUp, Keyring, SledStore, Store};

use super::{StoreArguments, data_dir, print};

#[derive(Args, Clone)]
pub(super) struct BackupArguments {
    /// The file to write; it must not be there yet.
    to: PathBuf,
    #[command(flatten)]
    store: StoreArguments,
}

#[derive(Args, Clone)]
pub(super) struct RestoreArguments {
    /// The file that `backup` wrote.
    from: PathBuf,
    /// Where to put it: an empty directory, or one that is not there yet.
    #[arg(long, value_name = "DIR")]
    into: PathBuf,
}

#[derive(Args, Clone)]
pub(super) struct RekeyArguments {
    /// The file with the new key; nothing is opened with the old ones afterwards.
    #[arg(long, value_name = "FILE")]
    new_key_file: PathBuf,
    #[command(flatten)]
    store: StoreArguments,
}

/// Writes a backup of a store, whether a server has it open or nobody.
pub(super) fn backup(arguments: &BackupArguments) -> anyhow::Result<ExitCode> {
    let data = store_dir(&arguments.store)?;
    let to = arguments.to.display();
    let mut options = File::options();
    options.read(true).write(true).create_new(true);
    #[cfg(unix)]
    std::os::unix::fs::OpenOptionsExt::mode(&mut options, 0o600);
    let file = options.open(&arguments.to).with_context(|| format!("cannot write {to}"))?;
    let written = write_backup(&data, file, &arguments.to);
    if written.is_err() {
        // Half a backup is worse than none.
        let _ = fs::remove_file(&arguments.to);
    }
    let held = written.with_context(|| format!("cannot back up {}", data.display()))?;
    print(&format!("{to}: {} chats, {} records", held.chats, held.records))?;
    Ok(ExitCode::SUCCESS)
}

fn write_backup(data: &Path, file: File, path: &Path) -> anyhow::Result<BackedUp> {
    let mut out = BufWriter::new(file);
    #[cfg(unix)]
    let taken = live::take(data, &mut out).context("the server broke off; its log says why")?;
    #[cfg(not(unix))]
    let taken = false;
    if !taken {
        SledStore::backup_cold(data, &mut out)?;
    }
    out.flush()?;
    out.get_ref().sync_all()?;
    // Read once more: what a server broke off half-way, or a disk swallowed, is found out now and not when needed.
    Ok(SledStore::read_backup(BufReader::new(File::open(path)?))?)
}

/// Puts a backup back.
pub(super) fn restore(arguments: &RestoreArguments) -> anyhow::Result<ExitCode> {
    let from = arguments.from.display();
    let file = File::open(&arguments.from).with_context(|| format!("cannot read {from}"))?;
    let held = SledStore::restore(BufReader::new(file), &arguments.into)
        .with_context(|| format!("cannot restore {from} into {}", arguments.into.display()))?;
    print(&format!("{}: {} chats, {} records", arguments.into.display(), held.chats, held.records))?;
    Ok(ExitCode::SUCCESS)
}

/// Closes a store that nobody has open with a new key. All chats change over in one write: cut short, the store
/// opens with the old key or with the new one, and doing it again finishes it.
pub(super) fn rekey(arguments: &RekeyArguments) -> anyhow::Result<ExitCode> {
    let data = store_dir(&arguments.store)?;
    let old = arguments.store.key_file.as_ref();
    let old = Keyring::read(old.context("name the file with the key in use with --key-file")?)?;
    let new_file = arguments.new_key_file.display();
    let new = Keyring::read(&arguments.new_key_file)
        .with_context(|| format!("no new key; a fresh one is this line:\n{}", Keyring::random_line()))?;
    anyhow::ensure!(
        !new.closes_like(&old),
        "both files begin with the same key: put a new one into {new_file}"
    );
    let open = |keyring| {
        let options = Options { keyring: Some(keyring), ..Options::default() };
        let opened = SledStore::open(&data, options);
        opened.with_context(|| {
            format!("cannot open {}; a server that runs on it is to be stopped first", data.display())
        })
    };
    let runtime = tokio::runtime::Builder::new_multi_thread().worker_threads(1).build()?;
    let chats = runtime.block_on(async {
        let (store, report) = open(new.clone().over(old))?;
        for mended in &report.recovered {
            tracing::error!(%mended, "the store was found damaged and has been mended");
        }
        let chats = store.rotate().await?;
        store.compact().await?;
        drop(store);
        let (store, _) = open(new)?;
        store.check().await.context("after the change not everything opens with the new key")?;
        anyhow::Ok(chats)
    })?;
    print(&format!(
        "{}: {chats} chats are closed with the new key. Serve with --key-file {new_file} from now on. Backups made \
         before need the old key.",
        data.display()
    ))?;
    Ok(ExitCode::SUCCESS)
}

/// The keys of a store; none where no file of keys is named.
pub(super) fn keyring_of(arguments: &StoreArguments) -> anyhow::Result<Option<Keyring>> {
    Ok(arguments.key_file.as_deref().map(Keyring::read).transpose()?)
}

/// The directory of a store that is there.
pub(super) fn store_dir(arguments: &StoreArguments) -> anyhow::Result<PathBuf> {
    let data = data_dir(arguments.data.as_deref())?;
    anyhow::ensure!(
        SledStore::is_at(&data),
        "there is no store in {}: name its directory with --data",
        data.display()
    );
    Ok(data)
}
