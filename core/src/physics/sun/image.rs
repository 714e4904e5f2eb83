//! The image of the sun behind a lens.

use crate::quantity::{Aperture, FocalLength};

/// The sun's radius over its mean distance: 695 700 km over 149 597 870.7 km.
///
/// IAU 2015 Resolution B3 (nominal solar radius) and IAU 2012 Resolution B2 (the
/// astronomical unit). Over a year the sun is up to 1.7 % larger and smaller.
pub const RADIUS_OVER_DISTANCE: f64 = 695_700.0 / 149_597_870.7;

/// The sun's image and what it concentrates.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SunImage {
    /// Its diameter, in millimetres.
    pub diameter: f64,
    /// How many times the irradiance of direct sun it has, whatever air and
    /// filters take before.
    pub times: f64,
}

/// The sun's image behind a lens, focused at infinity.
///
/// It says how strong the light is, never what bears it.
///
/// # Units
///
/// d = 2·f·tan(α/2), in millimetres; (1/(2·N·tan(α/2)))², N a T-number where
/// known. tan(α/2) is the radius over the distance, the limb apart.
///
/// # Source
///
/// The light that enters f/N wide lands on d: own derivation, paraxial.
///
/// # Examples
///
/// ```
/// use glasscall_core::physics::sun::sun_image;
/// use glasscall_core::quantity::{Aperture, FocalLength};
///
/// // Half a degree through 400 mm. Whatever it is, it burns: never look.
/// let image = sun_image(FocalLength::constant(400.0), Aperture::from_marking(2.8)?);
/// assert!((image.diameter - 3.7).abs() < 0.1 && image.times > 1000.0);
/// # Ok::<(), glasscall_core::quantity::OutOfRange>(())
/// ```
#[must_use]
pub fn sun_image(focal_length: FocalLength, aperture: Aperture) -> SunImage {
    let across = 2.0 * RADIUS_OVER_DISTANCE;
    let gathered = 1.0 / (aperture.number() * across);
    SunImage {
        diameter: focal_length.millimetres() * across,
        times: gathered * gathered,
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::*;

    #[test]
    fn a_long_lens_makes_a_small_hot_sun() {
        let image = |f: f64, n: f64| {
            sun_image(
                FocalLength::new(f).unwrap(),
                Aperture::from_number(n).unwrap(),
            )
        };
        // 400·0.0093009 and (1/(2.8·0.0093009))², by hand.
        let found = image(400.0, 2.8);
        assert!((found.diameter - 3.7204).abs() < 1e-3, "{found:?}");
        assert!((found.times - 1474.5).abs() < 0.5, "{found:?}");
        // A stop closed halves it, a longer lens only enlarges it.
        let root2 = core::f64::consts::SQRT_2;
        assert!((image(400.0, 2.8 * root2).times * 2.0 / found.times - 1.0).abs() < 1e-12);
        assert!((image(800.0, 2.8).times - found.times).abs() < 1e-9);
        // Observers' rule: a hundred-and-ninth of the focal length, 2 % either way.
        assert!((image(109.0, 8.0).diameter - 1.0).abs() < 0.02);
    }
}
