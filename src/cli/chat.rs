//! `lapwise chat`: the terminal, or the pipe.

use std::path::PathBuf;
use std::process::ExitCode;
use std::sync::Arc;
use std::time::UNIX_EPOCH;

use anyhow::Context;
use lapwise::app::App;
use lapwise::book::Book;
use lapwise::channel::{pipe, terminal};
use lapwise::message::ChatId;
use lapwise::roofing::note::Note;
use lapwise::store::sled::{Options, SledStore};
use lapwise::units::UsualUnit;
use tokio::io::BufReader;

use super::{ChatArguments, open_book};

/// Chats until the input ends.
pub(super) fn run(arguments: ChatArguments) -> anyhow::Result<ExitCode> {
    let book = Arc::new(open_book(&arguments.book)?);
    let chat = ChatId::new(format!("local:{}", arguments.chat))
        .context("--chat takes a name of at most 190 bytes, without control characters")?;
    let data = data_dir(arguments.data)?;
    // One person, one chat: one thread carries it all.
    let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build()?;
    runtime.block_on(carry(book, chat, data, arguments.pipe))?;
    Ok(ExitCode::SUCCESS)
}

async fn carry(book: Arc<Book>, chat: ChatId, data: PathBuf, as_pipe: bool) -> anyhow::Result<()> {
    let (store, report) = SledStore::open(&data, Options::default())
        .with_context(|| format!("cannot keep answers in {}", data.display()))?;
    for mended in &report.recovered {
        tracing::error!(%mended, "the store was found damaged and has been mended");
    }
    let store = Arc::new(store);
    let app = App::new(Arc::clone(&book), store, seconds_since_1970, "kept-on-this-computer");
    let input = BufReader::new(tokio::io::stdin());
    let output = tokio::io::stdout();
    if as_pipe {
        pipe::run(&app, &chat, input, output).await?;
    } else {
        let say = |id: &str| book.words.say("en", &Note::new(id), UsualUnit::M);
        let phrases = terminal::Phrases {
            how_to_leave: say("terminal-how-to-leave"),
            goodbye: say("terminal-goodbye"),
            fault: say("our-fault"),
        };
        terminal::run(&app, &chat, &phrases, input, output).await?;
    }
    Ok(())
}

pub(super) fn data_dir(asked: Option<PathBuf>) -> anyhow::Result<PathBuf> {
    if let Some(dir) = asked {
        return Ok(dir);
    }
    let dirs = directories::ProjectDirs::from("", "", "lapwise")
        .context("this system has no usual place for data; name one with --data DIR")?;
    Ok(dirs.data_dir().to_owned())
}

#[expect(clippy::disallowed_methods, reason = "this is where the clock enters")]
pub(super) fn seconds_since_1970() -> u64 {
    std::time::SystemTime::now().duration_since(UNIX_EPOCH).map_or(0, |passed| passed.as_secs())
}
