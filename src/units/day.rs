//! A day of the calendar, as books, prices and plans are dated.

use std::fmt;

/// A day, in the calendar of today carried back (ISO 8601).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Day {
    year: u16,
    month: u8,
    of_month: u8,
}

/// Days from the first of March of the year 0 to the first day of 1970.
const TO_1970: u64 = 719_468;
/// Days in four hundred years.
const ERA: u64 = 146_097;

impl Day {
    /// The day written as `2026-11-25`; `None` where there is no such day.
    pub fn from_text(text: &str) -> Option<Self> {
        let parts: Vec<&str> = text.split('-').collect();
        let [year, month, day] = parts.as_slice() else { return None };
        let plain = |part: &str, digits: usize| {
            part.len() == digits && part.bytes().all(|byte| byte.is_ascii_digit())
        };
        if !(plain(year, 4) && plain(month, 2) && plain(day, 2)) {
            return None;
        }
        let (year, month, day) = (year.parse::<u16>().ok()?, month.parse().ok()?, day.parse().ok()?);
        let leap = year.is_multiple_of(4) && !year.is_multiple_of(100) || year.is_multiple_of(400);
        let last = match month {
            1 | 3 | 5 | 7 | 8 | 10 | 12 => 31,
            4 | 6 | 9 | 11 => 30,
            2 if leap => 29,
            2 => 28,
            _ => return None,
        };
        (1..=last).contains(&day).then_some(Self { year, month, of_month: day })
    }

    /// The day it is so many seconds after the start of 1970, in UTC.
    ///
    /// # Source
    /// Counting in eras of four hundred years that start in March, so that a leap day ends its year.
    pub fn from_seconds(seconds: u64) -> Self {
        let days = seconds / 86_400 + TO_1970;
        let (era, of_era) = (days / ERA, days % ERA);
        let year_of_era = (of_era - of_era / 1_460 + of_era / 36_524 - of_era / 146_096) / 365;
        let of_year = of_era - (365 * year_of_era + year_of_era / 4 - year_of_era / 100);
        let from_march = (5 * of_year + 2) / 153;
        let day = of_year - (153 * from_march + 2) / 5 + 1;
        let month = if from_march < 10 { from_march + 3 } else { from_march - 9 };
        let year = era * 400 + year_of_era + u64::from(month <= 2);
        let small = |number: u64| u8::try_from(number).unwrap_or(u8::MAX);
        Self { year: u16::try_from(year).unwrap_or(u16::MAX), month: small(month), of_month: small(day) }
    }
}

impl fmt::Display for Day {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:04}-{:02}-{:02}", self.year, self.month, self.of_month)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn days_are_real_days_written_in_full() {
        for good in ["2026-11-25", "2024-02-29", "2000-02-29", "2026-12-31"] {
            assert_eq!(Day::from_text(good).map(|day| day.to_string()).as_deref(), Some(good));
        }
        for bad in
            ["2026-13-01", "2026-02-29", "1900-02-29", "2026-4-5", "26-11-25", "25.11.2026", "2026-00-10", ""]
        {
            assert_eq!(Day::from_text(bad), None, "{bad}");
        }
    }

    #[test]
    fn seconds_fall_on_their_day() {
        // From `date --utc --date=@…`.
        for (seconds, day) in [
            (0, "1970-01-01"),
            (86_399, "1970-01-01"),
            (951_782_400, "2000-02-29"),
            (951_868_800, "2000-03-01"),
            (1_709_164_800, "2024-02-29"),
            (1_795_651_200, "2026-11-26"),
            (4_107_542_400, "2100-03-01"),
        ] {
            assert_eq!(Day::from_seconds(seconds).to_string(), day, "{seconds}");
        }
    }
}
