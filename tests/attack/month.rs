//! One visitor who says as much as they are let, for a month of their clock: the chat fills up, says so, and what is
//! kept of it grows no more.

use std::sync::Arc;
use std::sync::atomic::{AtomicU64, Ordering};

use lapwise::app::{App, Budget};
use lapwise::book::Book;
use lapwise::message::{ChatId, Content, Inbound};
use lapwise::store::Store as _;
use lapwise::store::sled::{Options, SledStore};

use crate::served::bytes_below;
use crate::shed::SHED;
use crate::{Outcome, Row};

pub const ROW: Row = Row { name: "one visitor for a month", short: 300, whole: 40_000, run };

/// Where the clock stands.
static NOW: AtomicU64 = AtomicU64::new(1_795_608_000);
const MONTH: u64 = 30 * 86_400;
/// What the files may take when the chat is full, in MB.
const MOST_FILES: u64 = 60;

fn run(tries: u32) -> Outcome {
    let mut outcome = Outcome { tries, ..Outcome::default() };
    let dir = tempfile::tempdir().unwrap();
    let (store, _) = SledStore::open(dir.path(), Options::default()).unwrap();
    let store = Arc::new(store);
    // As much less is kept as is said in a short run.
    let budget = Budget { chat: u64::from(tries) * 100, ..Budget::default() };
    let app = App::new(Arc::new(Book::shipped()), Arc::clone(&store), now, "kept-by-the-adviser")
        .with_files()
        .with_budget(budget);
    let runtime = tokio::runtime::Runtime::new().unwrap();
    let chat = ChatId::new("telegram:1").unwrap();
    let (mut full_at, mut most) = (None, 0);
    let words = ["the roof is 2.6 m long", "the roof is 2.8 m long"];
    let said = SHED.iter().chain(words.iter().cycle()).take(usize::try_from(tries).unwrap());
    runtime.block_on(async {
        for (number, said) in said.enumerate() {
            NOW.fetch_add(MONTH / u64::from(tries), Ordering::Relaxed);
            let content = Content::Text((*said).to_owned());
            let inbound = Inbound { chat: chat.clone(), id: number.to_string(), content };
            match app.work(&inbound, None, false).await {
                Ok(worked) if worked.says.iter().any(|say| say.id == "chat-full") => {
                    full_at = full_at.or(Some(number));
                }
                Ok(_) => {}
                Err(fault) => outcome.failures.push(format!("message {number}: {fault}")),
            }
            most = most.max(store.held(chat.clone()).await.unwrap().chat);
            if number % 2_000 == 0 {
                app.tidy().await.unwrap();
            }
        }
    });
    let files = bytes_below(dir.path()) / 1_000_000;
    let Some(full_at) = full_at else {
        outcome.failures.push(format!("it was never full: {most} bytes"));
        return outcome;
    };
    if most > budget.chat + 200_000 || files >= MOST_FILES {
        outcome.failures.push(format!("{most} bytes of a budget of {}, {files} MB of files", budget.chat));
    }
    outcome.note = format!("full at message {full_at}, {} KB held, {files} MB of files", most / 1_000);
    outcome
}

fn now() -> u64 {
    NOW.load(Ordering::Relaxed)
}
