//! What the terminal can show: sixels if it says so, block characters if it has colours and letters beyond ASCII,
//! else words.

use std::io::IsTerminal as _;

use clap::ValueEnum;
use lapwise::message::Attachment;
use lapwise::render::screen::{self, Colours};

/// As wide as sixels are drawn, in pixels: 80 columns of the smallest letters in use.
const SIXELS: u16 = 640;
/// As wide as block characters are drawn, and the fewest columns worth drawing on.
const COLUMNS: std::ops::RangeInclusive<u16> = 60..=80;

/// How pictures are shown in the terminal.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum Pictures {
    /// As the terminal can: asked where somebody sits at it.
    Auto,
    /// Sixels.
    Sixel,
    /// Block characters in colours.
    Blocks,
    /// What they show, in words.
    Words,
}

/// A terminal that was looked at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Screen {
    shown: Pictures,
    colours: Colours,
    columns: u16,
}

impl Screen {
    /// Looks at the terminal, and asks it where it must.
    pub(super) fn look(wanted: Pictures) -> Self {
        let set = |name: &str| std::env::var(name).unwrap_or_default();
        let direct = matches!(set("COLORTERM").as_str(), "truecolor" | "24bit");
        let colours = if direct { Colours::All } else { Colours::Few };
        let columns = columns().unwrap_or(*COLUMNS.end()).min(*COLUMNS.end());
        let shown = match wanted {
            Pictures::Auto => automatic(&set, columns),
            Pictures::Sixel | Pictures::Blocks | Pictures::Words => wanted,
        };
        Self { shown, colours, columns }
    }

    /// The picture, if this terminal shows any.
    pub(super) fn draw(self, picture: &Attachment) -> Option<String> {
        let svg = std::str::from_utf8(&picture.bytes).ok()?;
        let drawn = match self.shown {
            Pictures::Sixel => screen::sixel(&picture.name, svg, SIXELS).map(|drawn| drawn + "\n"),
            Pictures::Blocks => screen::blocks(&picture.name, svg, self.columns, self.colours),
            Pictures::Auto | Pictures::Words => return None,
        };
        drawn.inspect_err(|error| tracing::error!(%error, "a picture could not be shown")).ok()
    }
}

fn automatic(set: &impl Fn(&str) -> String, columns: u16) -> Pictures {
    let sits = std::io::stdin().is_terminal() && std::io::stdout().is_terminal();
    let term = set("TERM");
    if !sits || term.is_empty() || term == "dumb" || !set("NO_COLOR").is_empty() {
        return Pictures::Words;
    }
    if says_sixel() {
        return Pictures::Sixel;
    }
    let locale = ["LC_ALL", "LC_CTYPE", "LANG"].into_iter().map(set).find(|locale| !locale.is_empty());
    let locale = locale.unwrap_or_default().to_uppercase();
    let has_blocks = locale.contains("UTF-8") || locale.contains("UTF8");
    let has_colours = term.contains("256color") || !set("COLORTERM").is_empty();
    let fits = columns >= *COLUMNS.start();
    if has_blocks && has_colours && fits { Pictures::Blocks } else { Pictures::Words }
}

#[cfg(unix)]
fn columns() -> Option<u16> {
    let size = rustix::termios::tcgetwinsize(std::io::stdout()).ok()?;
    (size.ws_col > 0).then_some(size.ws_col)
}

#[cfg(not(unix))]
fn columns() -> Option<u16> {
    None
}

/// Asks for the device attributes (ECMA-48, 8.3.24): attribute 4 is sixel graphics (DEC `VT3xx`). A terminal that
/// does not answer in time shows none.
#[cfg(unix)]
fn says_sixel() -> bool {
    use rustix::event::{PollFd, PollFlags, Timespec, poll};
    use rustix::termios::{LocalModes, OptionalActions, tcgetattr, tcsetattr};

    const PATIENCE: Timespec = Timespec { tv_sec: 0, tv_nsec: 200_000_000 };
    let Ok(terminal) = std::fs::File::options().read(true).write(true).open("/dev/tty") else { return false };
    let Ok(before) = tcgetattr(&terminal) else { return false };
    let mut quiet = before.clone();
    // The answer is not a line and is nobody's business: neither waited for as one, nor echoed.
    quiet.local_modes.remove(LocalModes::ICANON | LocalModes::ECHO);
    if tcsetattr(&terminal, OptionalActions::Now, &quiet).is_err() {
        return false;
    }
    let mut answer = Vec::new();
    let mut byte = [0_u8];
    let is_asked = rustix::io::write(&terminal, b"\x1b[c").is_ok();
    while is_asked && answer.len() < 64 && answer.last() != Some(&b'c') {
        let ready = poll(&mut [PollFd::new(&terminal, PollFlags::IN)], Some(&PATIENCE));
        if !matches!(ready, Ok(1)) || rustix::io::read(&terminal, &mut byte) != Ok(1) {
            break;
        }
        answer.extend(byte);
    }
    let _ = tcsetattr(&terminal, OptionalActions::Now, &before);
    names_sixel(&String::from_utf8_lossy(&answer))
}

#[cfg(not(unix))]
fn says_sixel() -> bool {
    false
}

/// Whether `ESC [ ? 62 ; 4 ; 22 c` names attribute 4; the first figure is what kind of terminal it is.
fn names_sixel(answer: &str) -> bool {
    let attributes = answer.rsplit_once("\u{1b}[?").and_then(|(_, rest)| rest.strip_suffix('c'));
    attributes.is_some_and(|attributes| attributes.split(';').skip(1).any(|attribute| attribute == "4"))
}

#[cfg(test)]
mod tests {
    use super::names_sixel;

    #[test]
    fn a_terminal_says_whether_it_shows_sixels() {
        assert!(names_sixel("\u{1b}[?62;4;22c"));
        assert!(names_sixel("typed ahead\u{1b}[?63;1;2;4c"));
        for without in ["\u{1b}[?62;22c", "\u{1b}[?4c", "\u{1b}[?64;14;24c", "\u{1b}[?62;4", "", "4"] {
            assert!(!names_sixel(without), "{without:?}");
        }
    }
}
