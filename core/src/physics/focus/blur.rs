//! How large something out of focus is drawn.

use crate::quantity::{Aperture, Disc, OutOfRange, Reach};
use crate::setup::Focus;

/// Diameter on the sensor of the disc a point is drawn as.
///
/// Thin lens, equal pupils, no diffraction; an anamorphic lens of squeeze q
/// draws it q times narrower than high once desqueezed.
///
/// # Units
///
/// b = f²·|1/s − 1/d|/(N·(1 − f/s)), which is f²·|d − s|/(N·d·(s − f)); in
/// millimetres. A point at infinity has 1/d = 0.
///
/// # Domain
///
/// Zero in focus; more than the picture for a point against the lens.
///
/// # Source
///
/// Own derivation, by similar triangles, in the tests.
#[must_use]
pub fn blur_disc(focus: Focus, number: Aperture, point: Reach) -> f64 {
    spread(focus, point) / number.number()
}

/// The f-number that draws a point as a disc of this size.
///
/// # Units
///
/// As for [`blur_disc`], solved for N.
///
/// # Errors
///
/// [`OutOfRange`] when no such aperture number is allowed; a point in focus is
/// never drawn larger, so it asks for number 0.
pub fn number_for_blur(focus: Focus, point: Reach, wanted: Disc) -> Result<Aperture, OutOfRange> {
    Aperture::from_number(spread(focus, point) / wanted.millimetres())
}

/// The disc at number 1.
fn spread(focus: Focus, point: Reach) -> f64 {
    let f = focus.focal().millimetres();
    let apart = (focus.on().vergence() - point.vergence()).abs();
    f * f * apart / focus.closeness()
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::{Aperture, Disc, Focus, Reach, blur_disc, number_for_blur};
    use crate::quantity::{Distance, FocalLength};

    fn at(millimetres: f64) -> Reach {
        Reach::At(Distance::new(millimetres).unwrap())
    }

    fn focus(millimetres: f64, on: Reach) -> Focus {
        Focus::from_lens(FocalLength::new(millimetres).unwrap(), on).unwrap()
    }

    fn number(number: f64) -> Aperture {
        Aperture::from_number(number).unwrap()
    }

    #[test]
    fn a_point_at_infinity_is_magnification_times_the_pupil() {
        // 85 mm at 2, 2 m: m = 85/1915, pupil 42.5, by hand 1.886 423.
        let disc = blur_disc(focus(85.0, at(2000.0)), number(2.0), Reach::Infinity);
        assert!((disc - 1.886_423).abs() < 1e-6);
    }

    #[test]
    fn what_is_in_focus_is_a_point() {
        assert_eq!(
            blur_disc(focus(50.0, at(3000.0)), number(1.4), at(3000.0)),
            0.0
        );
        assert_eq!(
            blur_disc(focus(50.0, Reach::Infinity), number(1.4), Reach::Infinity),
            0.0
        );
    }

    #[test]
    fn rays_from_the_edge_of_the_pupil_agree() {
        let (f, n) = (35.0, 1.4);
        let there = focus(f, at(1200.0));
        let sensor = there.image_distance();
        for point in [700.0, 1100.0, 1300.0, 9000.0] {
            let image = f * point / (point - f);
            let by_rays = f / n * (image - sensor).abs() / image;
            assert!((blur_disc(there, number(n), at(point)) - by_rays).abs() < 1e-12);
        }
    }

    #[test]
    fn a_wanted_disc_comes_back_as_that_disc() {
        let there = focus(50.0, at(2500.0));
        let wanted = Disc::new(0.4).unwrap();
        let n = number_for_blur(there, Reach::Infinity, wanted).unwrap();
        assert!((blur_disc(there, n, Reach::Infinity) - 0.4).abs() < 1e-15);
        assert!(number_for_blur(there, at(2500.0), wanted).is_err());
    }
}
