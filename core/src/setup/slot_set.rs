//! Which slots, as a set.

use super::MAX_SLOTS;

/// A set of slots, slot 0 nearest the lens.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub struct SlotSet(u8);

impl SlotSet {
    /// No slot.
    pub const EMPTY: Self = Self(0);

    /// The first `count` slots.
    #[must_use]
    pub fn all(count: usize) -> Self {
        (0..count.min(MAX_SLOTS)).fold(Self::EMPTY, Self::with)
    }

    /// This set with one more slot.
    #[must_use]
    pub const fn with(self, slot: usize) -> Self {
        Self(self.0 | 1 << slot)
    }

    /// The slots of this set that are not in `other`.
    #[must_use]
    pub const fn without(self, other: Self) -> Self {
        Self(self.0 & !other.0)
    }

    /// The slots in both sets.
    #[must_use]
    pub const fn and(self, other: Self) -> Self {
        Self(self.0 & other.0)
    }

    /// Whether a slot is in the set.
    #[must_use]
    pub const fn holds(self, slot: usize) -> bool {
        self.0 & (1 << slot) != 0
    }

    /// How many slots are in the set.
    #[must_use]
    pub const fn count(self) -> usize {
        self.0.count_ones() as usize
    }
}
