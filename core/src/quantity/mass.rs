//! Mass of what hangs in front of the lens.

use super::{Bounds, OutOfRange};
use core::iter::Sum;
use core::ops::Add;

/// A mass in grams, never negative.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default)]
pub struct Mass(f64);

impl Mass {
    /// Nothing.
    pub const NONE: Self = Self(0.0);

    /// # Errors
    ///
    /// [`OutOfRange`] below 0 or above a tonne.
    pub fn from_grams(grams: f64) -> Result<Self, OutOfRange> {
        Bounds::MASS.check(grams).map(Self)
    }

    /// In grams.
    #[must_use]
    pub const fn grams(self) -> f64 {
        self.0
    }
}

impl Add for Mass {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}

impl Sum for Mass {
    fn sum<I: Iterator<Item = Self>>(masses: I) -> Self {
        masses.fold(Self::NONE, Add::add)
    }
}
