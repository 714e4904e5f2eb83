//! A set of copies that can be bought.

/// The most copies that can be bought, none counted beyond the slots.
pub const MAX_COPIES: usize = 256;

const WORDS: usize = MAX_COPIES / 64;

/// Copies by number, below [`MAX_COPIES`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub(super) struct CopySet([u64; WORDS]);

impl CopySet {
    pub(super) const EMPTY: Self = Self([0; WORDS]);

    #[must_use]
    pub(super) const fn with(mut self, copy: usize) -> Self {
        self.0[copy / 64] |= 1 << (copy % 64);
        self
    }

    #[must_use]
    pub(super) fn without(self, other: Self) -> Self {
        self.each_word(other, |a, b| a & !b)
    }

    #[must_use]
    pub(super) fn and(self, other: Self) -> Self {
        self.each_word(other, |a, b| a & b)
    }

    #[must_use]
    pub(super) fn or(self, other: Self) -> Self {
        self.each_word(other, |a, b| a | b)
    }

    pub(super) fn is_empty(self) -> bool {
        self.0.iter().all(|&word| word == 0)
    }

    pub(super) const fn holds(self, copy: usize) -> bool {
        self.0[copy / 64] & (1 << (copy % 64)) != 0
    }

    /// The copies in rising order.
    pub(super) fn iter(self) -> impl Iterator<Item = usize> {
        self.0.into_iter().enumerate().flat_map(|(at, mut word)| {
            core::iter::from_fn(move || {
                let bit = word.trailing_zeros() as usize;
                word &= word.wrapping_sub(1);
                (bit < 64).then_some(64 * at + bit)
            })
        })
    }

    fn each_word(self, other: Self, of: impl Fn(u64, u64) -> u64) -> Self {
        Self(core::array::from_fn(|at| of(self.0[at], other.0[at])))
    }
}

#[cfg(test)]
mod tests {
    use super::CopySet;
    use alloc::vec::Vec;

    #[test]
    fn copies_come_back_in_order() {
        let set = [70, 3, 255, 64]
            .into_iter()
            .fold(CopySet::EMPTY, CopySet::with);
        assert_eq!(set.iter().collect::<Vec<_>>(), [3, 64, 70, 255]);
        let less = set.without(CopySet::EMPTY.with(70));
        assert!(!less.holds(70) && less.holds(64));
        assert_eq!(set.and(less), less);
        assert_eq!(less.or(set), set);
    }
}
