//! The disc that light itself draws.

use crate::quantity::{Aperture, Disc, OutOfRange, Wavelength};

/// First dark ring of the Airy pattern in units of λ·N: 2·j/π with j = 3.831 706
/// the first zero of the Bessel function J1.
pub const FIRST_DARK_RING: f64 = 2.0 * 3.831_705_970_207_512 / core::f64::consts::PI;

/// Middle of the visible, where the eye is about most sensitive, nm.
pub const GREEN: f64 = 550.0;

/// Diameter on the sensor of the Airy disc, to its first dark ring.
///
/// A perfect lens with a round iris draws no finer point.
///
/// # Units
///
/// d = 2.43934·λ·N, in millimetres. `working` is the f-number as the sensor
/// sees it, N·(1 + m) when focused near.
///
/// # Source
///
/// Airy's pattern is (2·J1(x)/x)² with x = π·r/(λ·N), dark where J1 is: the model
/// `AiryDisk2D` of astropy 8.0.2 has the same zero, 1.219 669 89 = j/π.
///
/// # Examples
///
/// ```
/// use glasscall_core::physics::diffraction::airy_disc;
/// use glasscall_core::quantity::{Aperture, Wavelength};
///
/// // 2.439·16·550 nm.
/// let disc = airy_disc(Aperture::from_marking(16.0)?, Wavelength::constant(550.0));
/// assert!((disc - 0.02147).abs() < 1e-5);
/// # Ok::<(), glasscall_core::quantity::OutOfRange>(())
/// ```
#[must_use]
pub fn airy_disc(working: Aperture, wavelength: Wavelength) -> f64 {
    FIRST_DARK_RING * working.number() * wavelength.nanometres() * 1e-6
}

/// The working f-number whose Airy disc is this large.
///
/// # Errors
///
/// [`OutOfRange`] when no such aperture number is allowed.
pub fn number_for_airy(disc: Disc, wavelength: Wavelength) -> Result<Aperture, OutOfRange> {
    Aperture::from_number(disc.millimetres() / (FIRST_DARK_RING * wavelength.nanometres() * 1e-6))
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::{Aperture, FIRST_DARK_RING, GREEN, Wavelength, airy_disc};

    #[test]
    fn the_ring_is_dark() {
        // Independent route: the amplitude J1(x)/x vanishes there.
        let at = FIRST_DARK_RING * core::f64::consts::PI / 2.0;
        assert!(libm::j1(at).abs() < 1e-15);
    }

    #[test]
    fn number_eight_in_green_draws_eleven_thousandths() {
        let disc = airy_disc(
            Aperture::from_number(8.0).unwrap(),
            Wavelength::new(GREEN).unwrap(),
        );
        assert!((disc - 0.010_733).abs() < 1e-6);
    }
}
