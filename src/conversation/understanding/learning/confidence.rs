//! How often a topic is right that is so far ahead of the next: counted on messages of hands that were held out.
//!
//! # Source
//! Pooling neighbours until the shares only rise (Ayer, Brunk, Ewing, Reid, Silverman, "An empirical distribution
//! function for sampling with incomplete information", 1955).

/// No step is counted on fewer messages than this.
const FEWEST: usize = 25;

/// From so far ahead, so many in a hundred are right.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(in super::super) struct Confidence(Vec<(i32, u8)>);

impl Confidence {
    /// Counts: how far ahead the first topic was, and whether it was right.
    pub(in super::super) fn counted(mut tries: Vec<(i32, bool)>) -> Self {
        tries.sort_unstable();
        // From where, how many, how many right.
        let mut pools: Vec<(i32, usize, usize)> = Vec::new();
        for few in tries.chunks(FEWEST) {
            let right = few.iter().filter(|(_, right)| *right).count();
            let from = few.first().map_or(0, |(ahead, _)| *ahead);
            pools.push((from, few.len(), right));
            while let [.., (_, fewer, less), (_, more, greater)] = pools.as_slice()
                && less * more >= greater * fewer
            {
                let (many, right) = (fewer + more, less + greater);
                pools.pop();
                if let Some(last) = pools.last_mut() {
                    *last = (last.0, many, right);
                }
            }
        }
        let percent = |many: usize, right: usize| u8::try_from(right * 100 / many.max(1)).unwrap_or(100);
        Self(pools.into_iter().map(|(from, many, right)| (from, percent(many, right))).collect())
    }

    /// How many in a hundred are right that are so far ahead.
    pub(in super::super) fn of(&self, ahead: i32) -> u8 {
        let reached = self.0.iter().rev().find(|(from, _)| ahead >= *from);
        reached.or(self.0.first()).map_or(0, |(_, percent)| *percent)
    }

    /// From where each share holds.
    pub(in super::super) fn steps(&self) -> impl Iterator<Item = (i32, u8)> {
        self.0.iter().copied()
    }

    /// Reads steps as they are written, `120:93`.
    pub(in super::super) fn read<'a>(fields: impl Iterator<Item = &'a str>) -> Option<Self> {
        let step = |field: &str| {
            let (ahead, percent) = field.split_once(':')?;
            Some((ahead.parse().ok()?, percent.parse().ok()?))
        };
        fields.map(step).collect::<Option<_>>().map(Self)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn confidence_only_rises_and_says_what_was_counted() {
        let tries = (0..400).map(|ahead| (ahead, ahead % 4 != 0 || ahead >= 200)).collect();
        let confidence = Confidence::counted(tries);
        let steps: Vec<u8> = confidence.steps().map(|(_, percent)| percent).collect();
        assert!(steps.is_sorted(), "{steps:?}");
        assert!((70..80).contains(&confidence.of(50)), "{steps:?}");
        assert_eq!(confidence.of(399), 100);
        assert_eq!(confidence.of(-5), confidence.of(0));
    }
}
