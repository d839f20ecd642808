//! What goes wrong, drawn from a seed so that a run can be repeated.

use std::time::{Duration, Instant};

/// How often in a thousand what goes wrong.
#[derive(Clone, Debug, Default)]
pub struct Faults {
    pub seed: u64,
    /// Calls answered with 429 and `retry_after` 1.
    pub too_many: u32,
    /// Calls answered with 502 and a web page.
    pub bad_gateway: u32,
    /// Calls that are done, but whose answer never comes.
    pub half_open: u32,
    /// Calls answered only after 300 ms.
    pub slow: u32,
    /// Updates sent twice.
    pub repeated: u32,
    /// Formatted messages refused with 400.
    pub unparsable: u32,
    /// Where given, questions for updates that are never answered are not drawn: there is one in so long.
    pub silent_every: Option<Duration>,
    /// When the last of them was.
    pub silent: Option<Instant>,
}

/// What happens to one call.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fate {
    Fine,
    TooMany,
    BadGateway,
    HalfOpen,
    Slow,
}

impl Faults {
    /// Everything goes wrong now and then.
    pub fn everywhere(seed: u64) -> Self {
        Self {
            seed,
            too_many: 10,
            bad_gateway: 10,
            half_open: 2,
            slow: 10,
            repeated: 30,
            unparsable: 5,
            ..Self::default()
        }
    }

    /// What happens to a call of a method.
    pub fn fate(&mut self, method: &str) -> Fate {
        let drawn = self.drawn();
        let Some(every) = self.silent_every.filter(|_| method == "getupdates") else { return drawn };
        if self.silent.get_or_insert_with(Instant::now).elapsed() >= every {
            self.silent = Some(Instant::now());
            return Fate::HalfOpen;
        }
        if drawn == Fate::HalfOpen { Fate::Fine } else { drawn }
    }

    fn drawn(&mut self) -> Fate {
        let mut drawn = self.draw();
        for (share, fate) in [
            (self.too_many, Fate::TooMany),
            (self.bad_gateway, Fate::BadGateway),
            (self.half_open, Fate::HalfOpen),
            (self.slow, Fate::Slow),
        ] {
            if drawn < share {
                return fate;
            }
            drawn -= share;
        }
        Fate::Fine
    }

    pub fn repeats(&mut self) -> bool {
        self.draw() < self.repeated
    }

    pub fn refuses_format(&mut self) -> bool {
        self.draw() < self.unparsable
    }

    /// A number below 1 000 (xorshift64*).
    fn draw(&mut self) -> u32 {
        self.seed = self.seed.max(1);
        self.seed ^= self.seed >> 12;
        self.seed ^= self.seed << 25;
        self.seed ^= self.seed >> 27;
        u32::try_from((self.seed.wrapping_mul(0x2545_F491_4F6C_DD1D) >> 40) % 1_000).unwrap()
    }
}
