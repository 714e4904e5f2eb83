//! What focusing near costs in light.

use crate::quantity::{Aperture, Magnification, OutOfRange, PupilRatio, Stops};

/// Light lost by focusing near with a lens that moves out as a whole.
///
/// Lenses that focus by shortening their focal length lose less, and a camera
/// that meters through the lens has counted it already.
///
/// # Units
///
/// 2·log2(1 + m/p) stops, m the magnification, p the pupil ratio.
///
/// # Domain
///
/// None at infinity, two stops at life size with equal pupils.
///
/// # Source
///
/// Ray, Applied Photographic Optics, 3rd ed. 2002, effective aperture (from
/// memory).
///
/// # Examples
///
/// ```
/// use glasscall_core::physics::bellows::loss;
/// use glasscall_core::quantity::{Magnification, PupilRatio};
///
/// let symmetrical = PupilRatio::constant(1.0);
/// assert!((loss(Magnification::constant(1.0), symmetrical).stops() - 2.0).abs() < 1e-12);
/// assert_eq!(loss(Magnification::constant(0.0), symmetrical).stops(), 0.0);
/// ```
#[must_use]
pub fn loss(magnification: Magnification, pupils: PupilRatio) -> Stops {
    let stretch = 1.0 + magnification.ratio() / pupils.ratio();
    Stops::computed(2.0 * libm::log2(stretch))
}

/// The f-number as the sensor sees it: N·(1 + m/p).
///
/// # Errors
///
/// [`OutOfRange`] when no such aperture number is allowed.
///
/// # Source
///
/// As for [`loss`].
///
/// # Examples
///
/// ```
/// use glasscall_core::physics::bellows::working_number;
/// use glasscall_core::quantity::{Aperture, Magnification, PupilRatio};
///
/// let (life_size, symmetrical) = (Magnification::constant(1.0), PupilRatio::constant(1.0));
/// let working = working_number(Aperture::from_marking(4.0)?, life_size, symmetrical)?;
/// assert!((working.number() - 8.0).abs() < 1e-12);
/// # Ok::<(), glasscall_core::quantity::OutOfRange>(())
/// ```
pub fn working_number(
    number: Aperture,
    magnification: Magnification,
    pupils: PupilRatio,
) -> Result<Aperture, OutOfRange> {
    number.closed_by(loss(magnification, pupils))
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::{Aperture, Magnification, PupilRatio, loss, working_number};

    fn taken(magnification: f64, pupils: f64) -> f64 {
        loss(
            Magnification::new(magnification).unwrap(),
            PupilRatio::new(pupils).unwrap(),
        )
        .stops()
    }

    #[test]
    fn life_size_costs_two_stops_and_infinity_none() {
        assert_eq!(taken(1.0, 1.0), 2.0);
        assert_eq!(taken(0.0, 1.0), 0.0);
    }

    #[test]
    fn a_small_exit_pupil_costs_more() {
        assert!(taken(0.5, 0.6) > taken(0.5, 1.0));
        assert!(taken(0.5, 1.5) < taken(0.5, 1.0));
    }

    #[test]
    fn the_cone_of_rays_at_the_sensor_agrees() {
        // Independent route: distance from exit pupil over its diameter.
        let (f, n, m, p) = (100.0, 4.0, 0.8, 0.7);
        // Behind the rear principal point the exit pupil lies f(1 − p) back, the image f(1 + m).
        let to_image = f * (1.0 + m) - f * (1.0 - p);
        let exit = p * f / n;
        let found = working_number(
            Aperture::from_number(n).unwrap(),
            Magnification::new(m).unwrap(),
            PupilRatio::new(p).unwrap(),
        );
        assert!((found.unwrap().number() - to_image / exit).abs() < 1e-12);
    }
}
