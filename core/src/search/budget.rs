//! How long a search may go on, counted in steps.

/// Steps left to a search; the crate has no clock.
///
/// A step is one look at one choice, some tens of nanoseconds. A search that
/// runs out stops, keeps the best it has and says how far from proven it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Budget {
    left: u64,
}

/// Whether a search went through everything.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Proof {
    /// Nothing better exists.
    Proven,
    /// Stopped early; nothing better than this exists, in the search's own
    /// measure.
    Bound(u64),
}

impl Budget {
    /// As good as endless.
    #[must_use]
    pub const fn endless() -> Self {
        Self::steps(u64::MAX)
    }

    /// So many steps.
    #[must_use]
    pub const fn steps(steps: u64) -> Self {
        Self { left: steps }
    }

    /// How many are left.
    #[must_use]
    pub const fn left(self) -> u64 {
        self.left
    }

    /// Takes steps; false when there were not enough.
    pub(super) const fn take(&mut self, steps: u64) -> bool {
        match self.left.checked_sub(steps) {
            Some(left) => {
                self.left = left;
                true
            }
            None => {
                self.left = 0;
                false
            }
        }
    }

    /// Whether none are left.
    pub(super) const fn is_spent(self) -> bool {
        self.left == 0
    }
}

impl Proof {
    /// Whether nothing better exists.
    #[must_use]
    pub const fn is_proven(self) -> bool {
        matches!(self, Self::Proven)
    }
}

#[cfg(test)]
mod tests {
    use super::Budget;

    #[test]
    fn a_budget_ends() {
        let mut budget = Budget::steps(3);
        assert!(budget.take(2));
        assert!(!budget.is_spent());
        assert_eq!(budget.left(), 1);
        assert!(!budget.take(2));
        assert!(budget.is_spent());
    }
}
