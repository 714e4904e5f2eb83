//! A difference of exposure, counted in doublings.

use super::{Bounds, OutOfRange};
use core::iter::Sum;
use core::ops::{Add, Neg, Sub};

/// A difference of exposure in stops; positive is less light on the sensor.
///
/// Each stop halves the light. Values are exact: rounding to what an iris ring
/// can hold is a view of the value ([`Stops::iris_thirds`]), never the value.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default)]
pub struct Stops(f64);

/// A difference as an iris ring shows it: whole thirds, and what they miss.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct IrisThirds {
    /// Thirds of a stop, the nearest; halves round up.
    pub thirds: i32,
    /// The difference less `thirds`/3, never dropped.
    pub left_over: Stops,
}

impl Stops {
    /// No difference.
    pub const ZERO: Self = Self(0.0);

    /// # Errors
    ///
    /// [`OutOfRange`] beyond 100 stops either way, NaN and infinities included.
    pub fn new(stops: f64) -> Result<Self, OutOfRange> {
        Bounds::STOPS.check(stops).map(Self)
    }

    /// A difference computed from quantities that are themselves in range.
    pub(crate) const fn computed(stops: f64) -> Self {
        Self(stops)
    }

    /// In stops; positive is less light.
    #[must_use]
    pub const fn stops(self) -> f64 {
        self.0
    }

    /// The size of the difference, whichever way it goes.
    #[must_use]
    pub const fn size(self) -> Self {
        Self(self.0.abs())
    }

    /// Twice to the power of the difference: how many times less light.
    #[must_use]
    pub fn factor(self) -> f64 {
        libm::exp2(self.0)
    }

    /// The nearest third of a stop and what it misses.
    ///
    /// # Units
    ///
    /// `thirds = ⌊3·stops + ½⌋`, `left_over = stops − thirds/3`.
    ///
    /// # Examples
    ///
    /// ```
    /// use glasscall_core::quantity::Stops;
    ///
    /// let need = Stops::new(2.75)?.iris_thirds();
    /// assert_eq!(need.thirds, 8);
    /// assert!((need.left_over.stops() - 0.0833).abs() < 1e-4);
    /// # Ok::<(), glasscall_core::quantity::OutOfRange>(())
    /// ```
    #[must_use]
    #[expect(
        clippy::cast_possible_truncation,
        reason = "three times a difference within ±1000 stops fits i32"
    )]
    pub fn iris_thirds(self) -> IrisThirds {
        let thirds = libm::floor(3.0 * self.0 + 0.5);
        IrisThirds {
            thirds: thirds as i32,
            left_over: Self(self.0 - thirds / 3.0),
        }
    }
}

impl Add for Stops {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}

impl Sub for Stops {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0 - other.0)
    }
}

impl Neg for Stops {
    type Output = Self;
    fn neg(self) -> Self {
        Self(-self.0)
    }
}

impl Sum for Stops {
    fn sum<I: Iterator<Item = Self>>(differences: I) -> Self {
        differences.fold(Self::ZERO, Add::add)
    }
}

#[cfg(test)]
mod tests {
    use super::{IrisThirds, Stops};

    #[test]
    fn a_half_third_rounds_up() {
        let IrisThirds { thirds, left_over } = Stops::computed(0.5).iris_thirds();
        assert_eq!(thirds, 2);
        assert!((left_over.stops() + 1.0 / 6.0).abs() < 1e-15);
    }

    #[test]
    fn thirds_and_left_over_make_the_whole() {
        for step in -300..300 {
            let whole = f64::from(step) * 0.0371;
            let IrisThirds { thirds, left_over } = Stops::computed(whole).iris_thirds();
            assert!((f64::from(thirds) / 3.0 + left_over.stops() - whole).abs() < 1e-13);
            assert!(left_over.stops().abs() <= 1.0 / 6.0 + 1e-13);
        }
    }

    #[test]
    fn five_stops_are_thirty_two_times_less() {
        assert_eq!(Stops::computed(5.0).factor(), 32.0);
    }

    #[test]
    fn over_by_so_much_is_under_by_its_negative() {
        assert_eq!((-Stops::computed(1.5)).stops(), -1.5);
    }
}
