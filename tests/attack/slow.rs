//! Clients that send and read as slowly as they can: each is hung up on, and nobody else notices.

use std::io::{Read as _, Write as _};
use std::net::TcpStream;
use std::time::{Duration, Instant};

use crate::served::{Served, Visitor};
use crate::shed::SHED;
use crate::{Outcome, Row};

pub const ROW: Row = Row { name: "slow clients", short: 60, whole: 500, run };

/// By then every slow client must be gone: twice the patience with any of them, and some.
const GONE_WITHIN: Duration = Duration::from_secs(45);
/// How long a neighbour may wait.
const NEIGHBOUR_WITHIN: Duration = Duration::from_secs(2);
/// How much memory the server may take, in MB.
const MOST_MEMORY: u64 = 200;

fn run(tries: u32) -> Outcome {
    let served = Served::start(&[]);
    let mut visitor = Visitor::new(&served);
    for said in SHED {
        assert_eq!(visitor.say(&served, said), 303, "{said}");
    }
    let mut outcome = Outcome { tries, ..Outcome::default() };
    let starts = [
        "GET / HTTP/1.1\r\nhost: x\r\nx-slow: ",
        "POST /say HTTP/1.1\r\nhost: x\r\ncontent-type: application/x-www-form-urlencoded\r\n\
         content-length: 500\r\n\r\n",
        "",
        // Asks for much and reads none of it.
        &"GET / HTTP/1.1\r\nhost: x\r\n\r\n".repeat(400),
    ];
    let mut slow = Vec::new();
    for start in starts.iter().cycle().take(usize::try_from(tries).unwrap()) {
        let mut stream = TcpStream::connect(served.address).unwrap();
        stream.set_nonblocking(true).unwrap();
        let _ = stream.write(start.as_bytes());
        slow.push((stream, start.len() > 1_000, true));
    }
    let (begun, mut slowest) = (Instant::now(), Duration::ZERO);
    while begun.elapsed() < GONE_WITHIN && slow.iter().any(|(_, _, open)| *open) {
        for (stream, reads_nothing, open) in slow.iter_mut().filter(|(_, _, open)| *open) {
            // A drop at a time, each well within any usual patience.
            let sent = stream.write(b"a");
            let hung_up = |error: &std::io::Error| error.kind() != std::io::ErrorKind::WouldBlock;
            let closed = !*reads_nothing && matches!(stream.read(&mut [0; 4_096]), Ok(0));
            *open = !closed && !sent.is_err_and(|error| hung_up(&error));
        }
        let asked = Instant::now();
        if visitor.get(&served, "/").status != 200 || asked.elapsed() > NEIGHBOUR_WITHIN {
            outcome.failures.push(format!("a neighbour waited {:?}", asked.elapsed()));
        }
        slowest = slowest.max(asked.elapsed());
        std::thread::sleep(Duration::from_millis(500));
    }
    let left = slow.iter().filter(|(_, _, open)| *open).count();
    if left > 0 {
        outcome.failures.push(format!("{left} were let go on"));
    }
    let memory = served.peak_mb();
    if memory >= MOST_MEMORY {
        outcome.failures.push(format!("{memory} MB of memory"));
    }
    outcome.note = format!(
        "all gone after {:.0} s, {memory} MB of memory, a neighbour waited {} ms at most",
        begun.elapsed().as_secs_f64(),
        slowest.as_millis()
    );
    outcome
}
