//! The commands of the binary, each a thin wrapper over the library.

mod chat;
mod check;
#[cfg(any(feature = "telegram", feature = "web"))]
mod doctor;
mod kept;
mod learn;
#[cfg(feature = "telegram")]
mod messenger;
#[cfg(feature = "pdf")]
mod papers;
#[cfg(feature = "png")]
mod screen;
#[cfg(any(feature = "telegram", feature = "web"))]
mod serve;
mod tools;
#[cfg(feature = "web")]
mod web;

use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use std::time::UNIX_EPOCH;

use anyhow::Context;
use clap::{Args, Parser, Subcommand, ValueEnum};
use lapwise::book::Book;
use lapwise::units::{Day, Quantity, UsualUnit};

/// Asks about one small roof and works out everything to buy and do.
#[derive(Parser)]
#[command(version, about, args_conflicts_with_subcommands = true)]
pub(crate) struct Arguments {
    #[command(subcommand)]
    command: Option<Command>,
    #[command(flatten)]
    chat: ChatArguments,
}

#[derive(Subcommand)]
enum Command {
    /// Chat in the terminal (what runs without a command, too).
    Chat(ChatArguments),
    /// Read one measurement as the chat would, and print the verdict as JSON.
    Read(ReadArguments),
    /// Plan a roof from a site file, without a chat.
    Plan(PlanArguments),
    /// Work out whether the roof of a site file holds: snow, wind, timber, nails, water and damp, with every step.
    Check(CheckArguments),
    /// Answer one question about the roof of a site file, as the chat would, and print it as JSON.
    Ask(AskArguments),
    /// List what can be asked, with an example each.
    Topics(BookArguments),
    /// Print the JSON Schemas of site files and plans.
    Schema,
    /// Check the adviser's book and print what it holds.
    Book(BookArguments),
    /// Learn from the messages of the adviser's book (`heard/en/`), and write what was learned beside them.
    Learn(LearnArguments),
    /// Serve the chat to others: as a page, to messengers, or both.
    #[cfg(any(feature = "telegram", feature = "web"))]
    Serve(serve::ServeArguments),
    /// Write everything that is kept into one file, which `restore` reads.
    Backup(kept::BackupArguments),
    /// Put a backup into an empty directory.
    Restore(kept::RestoreArguments),
    /// Close everything that is kept with a new key.
    Rekey(kept::RekeyArguments),
    /// Look after messages that could not be worked and were set aside.
    Aside(kept::aside::AsideArguments),
    /// Look whether everything a server needs is there, and say what to do where it is not.
    #[cfg(any(feature = "telegram", feature = "web"))]
    Doctor(serve::ServeArguments),
}

#[derive(Args)]
struct LearnArguments {
    /// The adviser's own book: a copy of `dialogs/`.
    #[arg(long, value_name = "DIR", env = "LAPWISE_BOOK")]
    book: PathBuf,
}

#[derive(Args, Clone)]
struct BookArguments {
    /// The adviser's own book: a copy of `dialogs/`, changed. Without it, the shipped one is used.
    #[arg(long, value_name = "DIR", env = "LAPWISE_BOOK")]
    book: Option<PathBuf>,
}

#[derive(Args, Clone)]
struct ChatArguments {
    /// JSON Lines on standard input and output instead of a chat for people.
    #[arg(long)]
    pipe: bool,
    /// Which chat to go on with.
    #[arg(long, value_name = "NAME", default_value = "default")]
    chat: String,
    /// Where answers are kept; without it, the platform's usual place.
    #[arg(long, value_name = "DIR", env = "LAPWISE_DATA")]
    data: Option<PathBuf>,
    /// How pictures are shown.
    #[cfg(feature = "png")]
    #[arg(long, value_name = "HOW", default_value = "auto", env = "LAPWISE_PICTURES")]
    pictures: screen::Pictures,
    #[command(flatten)]
    book: BookArguments,
}

#[derive(Args, Clone)]
struct StoreArguments {
    /// Where answers are kept; without it, the platform's usual place.
    #[arg(long, value_name = "DIR", env = "LAPWISE_DATA")]
    data: Option<PathBuf>,
    /// The file with the keys that what is kept is sealed with: the newest first, one a line.
    #[arg(long, value_name = "FILE", env = "LAPWISE_KEY_FILE")]
    key_file: Option<PathBuf>,
}

#[derive(Args)]
struct ReadArguments {
    /// What is measured.
    #[arg(long = "as", value_name = "QUANTITY")]
    quantity: QuantityName,
    /// The units the person usually thinks in.
    #[arg(long)]
    usual: Option<UnitName>,
    #[command(flatten)]
    book: BookArguments,
    /// What was typed.
    #[arg(required = true, allow_hyphen_values = true)]
    text: Vec<String>,
}

#[derive(Args)]
struct PlanArguments {
    /// The site file: facts as TOML.
    site: PathBuf,
    /// How to print it.
    #[arg(long = "as", value_name = "FORM", default_value = "text")]
    form: Form,
    /// In which units to speak.
    #[arg(long, default_value = "m")]
    units: UnitName,
    #[cfg(feature = "pdf")]
    #[command(flatten)]
    papers: papers::PaperArguments,
    #[command(flatten)]
    book: BookArguments,
}

#[derive(Args)]
struct CheckArguments {
    /// The site file: facts as TOML.
    site: PathBuf,
    /// How to print it.
    #[arg(long = "as", value_name = "FORM", default_value = "text")]
    form: Form,
    /// In which units to speak.
    #[arg(long, default_value = "m")]
    units: UnitName,
    #[command(flatten)]
    book: BookArguments,
}

#[derive(Args)]
struct AskArguments {
    /// The site file: facts as TOML.
    #[arg(long, value_name = "SITE")]
    site: PathBuf,
    /// In which units to answer.
    #[arg(long, default_value = "mm")]
    units: UnitName,
    #[command(flatten)]
    book: BookArguments,
    /// What is asked.
    #[arg(required = true)]
    text: Vec<String>,
}

#[derive(Clone, Copy, ValueEnum)]
enum Form {
    /// For people.
    Text,
    /// For machines.
    Json,
}

#[derive(Clone, Copy, ValueEnum)]
enum UnitName {
    /// Millimetres.
    Mm,
    /// Metres.
    M,
    /// Feet and inches.
    FtIn,
}

impl From<UnitName> for UsualUnit {
    fn from(name: UnitName) -> Self {
        match name {
            UnitName::Mm => Self::Mm,
            UnitName::M => Self::M,
            UnitName::FtIn => Self::FtIn,
        }
    }
}

#[derive(Clone, Copy, ValueEnum)]
#[value(rename_all = "snake_case")]
enum QuantityName {
    Length,
    Width,
    SlopeLength,
    Height,
    Rise,
    DeckThickness,
    Spacing,
    Overhang,
    SheetLength,
    SheetWidth,
    CorrugationHeight,
    TimberSize,
    Pitch,
}

impl From<QuantityName> for Quantity {
    fn from(name: QuantityName) -> Self {
        match name {
            QuantityName::Length => Self::Length,
            QuantityName::Width => Self::Width,
            QuantityName::SlopeLength => Self::SlopeLength,
            QuantityName::Height => Self::Height,
            QuantityName::Rise => Self::Rise,
            QuantityName::DeckThickness => Self::DeckThickness,
            QuantityName::Spacing => Self::Spacing,
            QuantityName::Overhang => Self::Overhang,
            QuantityName::SheetLength => Self::SheetLength,
            QuantityName::SheetWidth => Self::SheetWidth,
            QuantityName::CorrugationHeight => Self::CorrugationHeight,
            QuantityName::TimberSize => Self::TimberSize,
            QuantityName::Pitch => Self::Pitch,
        }
    }
}

/// Runs the command asked for.
pub(crate) fn run(arguments: Arguments) -> anyhow::Result<ExitCode> {
    let command = arguments.command.unwrap_or(Command::Chat(arguments.chat));
    // What people said is the owner's alone, whatever writes it; a plan's papers are to be handed round.
    #[cfg(unix)]
    if !matches!(command, Command::Plan(_)) {
        rustix::process::umask(rustix::fs::Mode::RWXG | rustix::fs::Mode::RWXO);
    }
    log_to_stderr();
    match command {
        Command::Chat(arguments) => chat::run(&arguments),
        Command::Read(arguments) => tools::read(&arguments),
        Command::Plan(arguments) => tools::plan(&arguments),
        Command::Check(arguments) => check::run(&arguments),
        Command::Ask(arguments) => tools::ask(&arguments),
        Command::Topics(arguments) => tools::topics(&arguments),
        Command::Schema => tools::schema(),
        Command::Book(arguments) => tools::book(&arguments),
        Command::Learn(arguments) => learn::run(&arguments),
        #[cfg(any(feature = "telegram", feature = "web"))]
        Command::Serve(arguments) => serve::run(&arguments),
        #[cfg(any(feature = "telegram", feature = "web"))]
        Command::Doctor(arguments) => doctor::doctor(&arguments),
        Command::Backup(arguments) => kept::backup(&arguments),
        Command::Restore(arguments) => kept::restore(&arguments),
        Command::Rekey(arguments) => kept::rekey(&arguments),
        Command::Aside(arguments) => kept::aside::run(&arguments),
    }
}

/// A credential that systemd handed over with `LoadCredential=`.
#[cfg(any(feature = "telegram", feature = "web"))]
fn credential(name: &str) -> Option<PathBuf> {
    let path = Path::new(&std::env::var_os("CREDENTIALS_DIRECTORY")?).join(name);
    path.exists().then_some(path)
}

/// Says on standard error what went wrong.
pub(crate) fn complain(error: &anyhow::Error) {
    // Nobody is left to tell if standard error is gone.
    let _ = writeln!(std::io::stderr(), "lapwise: {error:#}");
}

/// Logs go to standard error, quiet unless `LAPWISE_LOG` asks for more: a chat is no place for them.
/// `LAPWISE_LOG_FORMAT=json` writes one JSON object a line.
fn log_to_stderr() {
    let filter = tracing_subscriber::EnvFilter::try_from_env("LAPWISE_LOG")
        .unwrap_or_else(|_| tracing_subscriber::EnvFilter::new("error"));
    // Colours are for eyes: a journal or a file gets none.
    let colours = std::io::IsTerminal::is_terminal(&std::io::stderr());
    let logs =
        tracing_subscriber::fmt().with_env_filter(filter).with_writer(std::io::stderr).with_ansi(colours);
    let as_json = std::env::var("LAPWISE_LOG_FORMAT").is_ok_and(|form| form == "json");
    // A second call in one process keeps the first subscriber, which is what is wanted.
    let _ = if as_json { logs.json().try_init() } else { logs.try_init() };
}

/// The adviser's book, or the shipped one. Every fault is named, and a faulty book never starts the bot.
fn open_book(arguments: &BookArguments) -> anyhow::Result<Book> {
    let Some(dir) = &arguments.book else { return Ok(Book::shipped()) };
    Book::load(dir).map_err(|faults| {
        let list: Vec<String> = faults.iter().map(ToString::to_string).collect();
        anyhow::anyhow!("the book in {} has {} fault(s):\n{}", dir.display(), faults.len(), list.join("\n"))
    })
}

/// The directory asked for, or the platform's usual one.
fn data_dir(asked: Option<&Path>) -> anyhow::Result<PathBuf> {
    if let Some(dir) = asked {
        return Ok(dir.to_owned());
    }
    let dirs = directories::ProjectDirs::from("", "", "lapwise")
        .context("this system has no usual place for data; name one with --data DIR")?;
    Ok(dirs.data_dir().to_owned())
}

#[expect(clippy::disallowed_methods, reason = "this is where the clock enters")]
fn seconds_since_1970() -> u64 {
    std::time::SystemTime::now().duration_since(UNIX_EPOCH).map_or(0, |passed| passed.as_secs())
}

/// The day it is in UTC.
fn today() -> Day {
    Day::from_seconds(seconds_since_1970())
}

/// Prints to standard output; a reader that has gone away is no fault of ours.
fn print(text: &str) -> anyhow::Result<()> {
    let mut out = std::io::stdout().lock();
    match writeln!(out, "{text}").and_then(|()| out.flush()) {
        Err(error) if error.kind() == std::io::ErrorKind::BrokenPipe => Ok(()),
        other => Ok(other?),
    }
}
