//! `lapwise chat`: the terminal, or the pipe.

use std::path::PathBuf;
use std::process::ExitCode;
use std::sync::Arc;

use anyhow::Context;
use lapwise::app::App;
use lapwise::book::Book;
use lapwise::channel::{pipe, terminal};
use lapwise::message::{Attachment, ChatId};
use lapwise::roofing::note::Note;
use lapwise::store::sled::{Options, SledStore};
use lapwise::units::UsualUnit;
use tokio::io::BufReader;

use super::{ChatArguments, data_dir, open_book, seconds_since_1970};

/// Chats until the input ends.
pub(super) fn run(arguments: &ChatArguments) -> anyhow::Result<ExitCode> {
    let book = Arc::new(open_book(&arguments.book)?);
    let chat = ChatId::new(format!("local:{}", arguments.chat))
        .context("--chat takes a name of at most 190 bytes, without control characters")?;
    let data = data_dir(arguments.data.as_deref())?;
    // One person, one chat: one thread carries it all.
    let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build()?;
    runtime.block_on(carry(book, chat, data, arguments))?;
    Ok(ExitCode::SUCCESS)
}

async fn carry(
    book: Arc<Book>,
    chat: ChatId,
    data: PathBuf,
    arguments: &ChatArguments,
) -> anyhow::Result<()> {
    let (store, report) = SledStore::open(&data, Options::default())
        .with_context(|| format!("cannot keep answers in {}", data.display()))?;
    for mended in &report.recovered {
        tracing::error!(%mended, "the store was found damaged and has been mended");
    }
    let store = Arc::new(store);
    let app = App::new(Arc::clone(&book), store, seconds_since_1970, "kept-on-this-computer");
    let papers = data.join("papers");
    let input = BufReader::new(tokio::io::stdin());
    let output = tokio::io::stdout();
    if arguments.pipe {
        pipe::run(&app, &chat, input, output).await?;
    } else {
        let say = |id: &str| book.words.say("en", &Note::new(id), UsualUnit::M);
        let phrases = terminal::Phrases {
            how_to_leave: say("terminal-how-to-leave"),
            goodbye: say("terminal-goodbye"),
            fault: say("our-fault"),
        };
        #[cfg(feature = "png")]
        let screen = super::screen::Screen::look(arguments.pictures);
        #[cfg(feature = "png")]
        let draw = |picture: &Attachment| screen.draw(picture);
        #[cfg(not(feature = "png"))]
        let draw = |_: &Attachment| None;
        let desk = terminal::Desk { papers: &papers, draw: &draw };
        terminal::run(&app.on_terminal(), &chat, &phrases, desk, input, output).await?;
    }
    Ok(())
}
