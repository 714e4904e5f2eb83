//! Optical density and its three other faces.

use super::{Bounds, OutOfRange, Stops};
use core::f64::consts::LOG10_2;
use core::iter::Sum;
use core::ops::Add;

/// Optical transmission density D = −log10 T.
///
/// Densities of pieces in series add; light reflected back and forth between
/// two pieces is left out.
///
/// # Units
///
/// Density is a pure number, 0 for perfectly clear. Stops = D / log10 2, so a
/// marked 0.9 is 2.990 stops, not 3.
///
/// # Source
///
/// Transmission density: ISO 5 series, definition. The other three are exact
/// identities: T = 10^−D = 2^−stops = 1/factor.
///
/// # Examples
///
/// ```
/// use glasscall_core::quantity::Density;
///
/// let piece = Density::new(0.3)?;
/// assert!((piece.factor() - 1.995).abs() < 0.001);
/// assert!(Density::new(-0.3).is_err());
/// # Ok::<(), glasscall_core::quantity::OutOfRange>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default)]
pub struct Density(f64);

impl Density {
    /// Clear glass.
    pub const CLEAR: Self = Self(0.0);

    /// A density that is written down, for constants.
    ///
    /// # Panics
    ///
    /// Outside the range; as a constant it does not compile.
    #[must_use]
    pub const fn constant(density: f64) -> Self {
        assert!(Bounds::DENSITY.holds(density), "out of range");
        Self(density)
    }

    /// # Errors
    ///
    /// [`OutOfRange`] below 0 or above 12.
    pub fn new(density: f64) -> Result<Self, OutOfRange> {
        Bounds::DENSITY.check(density).map(Self)
    }

    /// The density that takes this many stops.
    ///
    /// # Errors
    ///
    /// [`OutOfRange`] for a gain of light, or beyond density 12.
    pub fn from_stops(stops: Stops) -> Result<Self, OutOfRange> {
        Self::new(stops.stops() * LOG10_2)
    }

    /// The density of a filter factor 1/T.
    ///
    /// # Errors
    ///
    /// [`OutOfRange`] below 1 or above 10¹².
    pub fn from_factor(factor: f64) -> Result<Self, OutOfRange> {
        let factor = Bounds::FACTOR.check(factor)?;
        Self::new(libm::log10(factor))
    }

    /// The density that passes this share of the light.
    ///
    /// # Errors
    ///
    /// [`OutOfRange`] above 1, or at 10⁻¹² and below.
    pub fn from_transmittance(transmittance: f64) -> Result<Self, OutOfRange> {
        let transmittance = Bounds::TRANSMITTANCE.check(transmittance)?;
        // Density 0 must not come out as −0.
        Self::new(0.0 - libm::log10(transmittance))
    }

    /// The density, −log10 T.
    #[must_use]
    pub const fn density(self) -> f64 {
        self.0
    }

    /// What it takes, in stops.
    #[must_use]
    pub fn stops(self) -> Stops {
        Stops::computed(self.0 / LOG10_2)
    }

    /// How many times less light: 1/T.
    #[must_use]
    pub fn factor(self) -> f64 {
        libm::exp10(self.0)
    }

    /// The share of the light that passes, (0, 1].
    #[must_use]
    pub fn transmittance(self) -> f64 {
        libm::exp10(-self.0)
    }
}

impl Add for Density {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}

impl Sum for Density {
    fn sum<I: Iterator<Item = Self>>(pieces: I) -> Self {
        pieces.fold(Self::CLEAR, Add::add)
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::{Density, Stops};

    #[test]
    fn a_marked_nine_tenths_is_a_hair_under_three_stops() {
        let stops = Density::new(0.9).unwrap().stops().stops();
        // 0.9 / log10 2, worked by hand to six places.
        assert!((stops - 2.989_735).abs() < 1e-6);
    }

    #[test]
    fn two_filters_add_their_densities() {
        let sum = Density::new(0.9).unwrap() + Density::new(0.6).unwrap();
        assert!((sum.stops().stops() - 4.982_892).abs() < 1e-6);
    }

    #[test]
    fn every_face_leads_back_to_the_density() {
        for step in 0..120 {
            let density = Density::new(f64::from(step) * 0.1).unwrap();
            let back = [
                Density::from_stops(density.stops()).unwrap(),
                Density::from_factor(density.factor().clamp(1.0, 1e12)).unwrap(),
                Density::from_transmittance(density.transmittance()).unwrap(),
            ];
            for other in back {
                assert!((other.density() - density.density()).abs() < 1e-13);
            }
        }
    }

    #[test]
    fn clear_glass_takes_nothing() {
        assert_eq!(Density::CLEAR.stops(), Stops::ZERO);
        assert_eq!(Density::CLEAR.factor(), 1.0);
        let clear = Density::from_transmittance(1.0).unwrap();
        assert!(clear.density().is_sign_positive());
    }

    #[test]
    fn a_stack_is_the_sum_of_its_densities() {
        let stack = [0.3, 0.6, 1.2].map(|d| Density::new(d).unwrap());
        let sum: Density = stack.into_iter().sum();
        assert!((sum.density() - 2.1).abs() < 1e-15);
    }
}
