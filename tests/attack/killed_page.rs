//! `kill -9` at any moment of four people at the page: what was acknowledged is on the page, once and in order.

use std::sync::atomic::{AtomicU32, Ordering};
use std::sync::mpsc;
use std::time::Duration;

use rand::{RngExt, SeedableRng, rngs::StdRng};

use crate::served::{Served, between};
use crate::{Outcome, Row};

pub const ROW: Row = Row { name: "killed, page", short: 5, whole: 100, run };

const PEOPLE: u32 = 4;

/// Somebody whose cookie outlives the server.
#[derive(Clone)]
struct Person {
    number: u32,
    cookie: String,
    token: String,
    /// What was acknowledged, in order.
    said: Vec<String>,
}

impl Person {
    fn new(number: u32, served: &Served) -> Self {
        let page = served.get("/");
        let cookie = page.head.lines().find_map(|line| line.strip_prefix("set-cookie: ")).unwrap();
        let cookie = cookie.split(';').next().unwrap().to_owned();
        let token = between(&page.body, "name=\"token\" value=\"", "\"").to_owned();
        Self { number, cookie, token, said: Vec::new() }
    }

    /// Says something; answers whether it was acknowledged.
    fn say(&mut self, served: &Served, kill: u32, count: u32) -> bool {
        let text = format!("wren {} {kill} {count} end", self.number);
        let body = format!("token={}&id={kill}-{count}&text={}", self.token, text.replace(' ', "+"));
        // Another client each time, so that nobody is told to slow down.
        let client = 1 + kill * 800 + self.number * 200 + count;
        let acknowledged = served.ask("POST", "/say", &self.cookie, &body, client).status == 303;
        if acknowledged {
            self.said.push(text);
        }
        acknowledged
    }

    /// Whether the last of what was acknowledged is on the page, once and in order.
    fn is_shown(&self, served: &Served, client: u32) -> Result<(), String> {
        let page = served.ask("GET", "/", &self.cookie, "", client);
        let mine = format!("wren {} ", self.number);
        let shown: Vec<String> = page
            .body
            .split(mine.as_str())
            .skip(1)
            .filter_map(|rest| rest.split_once(" end").map(|(text, _)| format!("{mine}{text} end")))
            .collect();
        let mut from = 0;
        for text in &self.said[self.said.len().saturating_sub(20)..] {
            let times = shown.iter().filter(|shown| *shown == text).count();
            if times != 1 {
                return Err(format!("{text:?} is there {times} times ({} acknowledged)", self.said.len()));
            }
            let at = shown.iter().position(|shown| shown == text).unwrap();
            if at < from {
                return Err(format!("{text:?} is out of order"));
            }
            from = at;
        }
        Ok(())
    }
}

fn run(tries: u32) -> Outcome {
    let mut random = StdRng::seed_from_u64(20_261_127);
    let mut outcome = Outcome { tries, ..Outcome::default() };
    let mut served = Served::start(&[]);
    let mut people: Vec<_> = (0..PEOPLE).map(|number| Person::new(number, &served)).collect();
    for kill in 0..tries {
        let (tell, told) = mpsc::channel();
        let heard = AtomicU32::new(0);
        std::thread::scope(|scope| {
            for person in &people {
                let (tell, served, heard, mut person) = (tell.clone(), &served, &heard, person.clone());
                scope.spawn(move || {
                    for count in 0..200 {
                        if !person.say(served, kill, count) {
                            break;
                        }
                        heard.fetch_add(1, Ordering::Relaxed);
                    }
                    tell.send(person).unwrap();
                });
            }
            let wanted = random.random_range(0..40);
            while heard.load(Ordering::Relaxed) < wanted {
                std::thread::sleep(Duration::from_millis(1));
            }
            std::thread::sleep(Duration::from_millis(random.random_range(0..30)));
            served.kill();
        });
        drop(tell);
        people = told.iter().collect();
        people.sort_by_key(|person| person.number);
        served = served.again();
        for person in &people {
            if let Err(fault) = person.is_shown(&served, 200_000 + kill) {
                outcome.failures.push(format!("kill {kill}, person {}: {fault}", person.number));
            }
        }
    }
    outcome.note =
        format!("{} messages acknowledged", people.iter().map(|person| person.said.len()).sum::<usize>());
    outcome
}
