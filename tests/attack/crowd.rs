//! One client with as many connections and streams as it can get: whether the server lives can be asked all the while,
//! and others find their places again.

use std::io::Write as _;
use std::net::TcpStream;
use std::time::{Duration, Instant};

use crate::served::{Served, Visitor};
use crate::{Outcome, Row};

pub const ROW: Row = Row { name: "connections of one client", short: 600, whole: 5_000, run };

const ANSWERS_WITHIN: Duration = Duration::from_secs(2);
const MOST_MEMORY: u64 = 200;

fn run(tries: u32) -> Outcome {
    let served = Served::start(&[]);
    let mut visitor = Visitor::new(&served);
    assert_eq!(visitor.say(&served, "felt"), 303);
    let mut outcome = Outcome { tries, ..Outcome::default() };
    let mut held = Vec::new();
    for number in 0..tries {
        let Ok(mut stream) = TcpStream::connect(served.address) else {
            return Outcome::skipped("this machine gives a process fewer connections");
        };
        // Half of them wait for news, as an open page does; the others say nothing at all.
        if number % 2 == 0 {
            let _ = stream.write_all(b"GET /events HTTP/1.1\r\nhost: x\r\nx-forwarded-for: 10.9.9.9\r\n\r\n");
        }
        held.push(stream);
        if number % 100 == 99 {
            let asked = Instant::now();
            let status = served.get("/healthz").status;
            if status != 200 || asked.elapsed() > ANSWERS_WITHIN {
                outcome.failures.push(format!("at {number}: {status} after {:?}", asked.elapsed()));
            }
        }
    }
    held.clear();
    let begun = Instant::now();
    while visitor.get(&served, "/").status != 200 {
        if begun.elapsed() > ANSWERS_WITHIN {
            outcome.failures.push("others find no place again".to_owned());
            break;
        }
        std::thread::sleep(Duration::from_millis(50));
    }
    let memory = served.peak_mb();
    if memory >= MOST_MEMORY {
        outcome.failures.push(format!("{memory} MB of memory"));
    }
    outcome.note = format!("{memory} MB of memory");
    outcome
}
