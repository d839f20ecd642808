//! A book as far as it concerns a chat in English, on the first day there is; and all that is said of a plan by it.

#![allow(dead_code, reason = "each test target uses its own part")]

use lapwise::book::Book;
use lapwise::conversation::Guide;
use lapwise::conversation::saying::{Voice, report};
use lapwise::roofing::plan::Plan;
use lapwise::units::Day;

/// What a chat by this book goes by.
pub(crate) fn guide_of(book: &Book) -> Guide<'_> {
    Guide {
        handbook: &book.handbook,
        today: Day::from_seconds(0),
        earlier: None,
        script: &book.script,
        words: &book.words,
        ears: book.hearing.of("en"),
        hearing: &book.hearing,
        topics: &book.topics,
        asks: &book.asks,
        link: None,
        language: "en",
        kept: "kept-on-this-computer",
        keep_days: None,
    }
}

/// Everything that is said of a plan, message by message.
pub(crate) fn told(book: &Book, voice: &Voice<'_>, plan: &Plan) -> String {
    let says: Vec<String> =
        report::whole(&guide_of(book), plan).iter().map(|draft| voice.speak(draft, 0).text).collect();
    says.join("\n\n")
}
