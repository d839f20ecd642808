//! How many steps a search may still take.

/// Counts the steps that are left.
#[derive(Debug)]
pub(super) struct Meter {
    left: u64,
}

impl Meter {
    pub(super) fn new(steps: u64) -> Self {
        Self { left: steps }
    }

    /// Spends steps; `None` once there are none left.
    pub(super) fn spend(&mut self, steps: usize) -> Option<()> {
        self.left = self.left.checked_sub(u64::try_from(steps).unwrap_or(u64::MAX))?;
        Some(())
    }
}
