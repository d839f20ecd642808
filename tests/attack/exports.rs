//! One visitor who exports everything again and again: no export holds another, and none is kept.

use crate::served::{Served, Visitor};
use crate::shed::SHED;
use crate::{Outcome, Row};

pub const ROW: Row = Row { name: "exports of one chat", short: 20, whole: 100, run };

/// So much memory and disk the server may take, in MB.
const MOST_MEMORY: u64 = 200;
const MOST_FILES: u64 = 20;

fn run(tries: u32) -> Outcome {
    let served = Served::start(&[]);
    let mut visitor = Visitor::new(&served);
    for said in SHED {
        assert_eq!(visitor.say(&served, said), 303, "{said}");
    }
    let mut outcome = Outcome { tries, ..Outcome::default() };
    let mut largest = 0;
    for number in 0..tries {
        let status = visitor.say(&served, "/export");
        let page = visitor.get(&served, "/").body.replace("&#x2f;", "/");
        let name = "/everything-kept.json\"";
        let before = page.rsplit_once(name).map_or("", |(before, _)| before);
        let file =
            before.rsplit_once("/file/").map_or(String::new(), |(_, digest)| format!("/file/{digest}"));
        let export = visitor.get(&served, &format!("{file}/everything-kept.json"));
        largest = largest.max(export.body.len());
        if (status, export.status) != (303, 200) || !export.body.contains("\"events\"") {
            outcome.failures.push(format!("export {number}: {status}, then {}", export.status));
        }
    }
    let (memory, files) = (served.peak_mb(), served.files_mb());
    if memory >= MOST_MEMORY || files >= MOST_FILES {
        outcome.failures.push(format!("{memory} MB of memory, {files} MB of files"));
    }
    outcome.note = format!("{memory} MB of memory, {files} MB of files, the largest {} KB", largest / 1_000);
    outcome
}
