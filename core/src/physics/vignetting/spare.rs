//! How much room a bundle of light has in an opening.

use super::bundle::Bundle;
use super::opening::Opening;
use super::pupil::Pupil;
use crate::quantity::Length;
use crate::setup::Tangents;

/// Least distance from the edge of a field point's bundle to the opening's edge,
/// negative by how far the bundle overshoots.
///
/// # Units
///
/// Millimetres. Measured to the line of each side of a rectangle and along the
/// radius of a circle, at the face of the opening where it is least.
///
/// # Source
///
/// Support functions of an ellipse and of a half-plane; our own derivation. The
/// bundle is the pupil of [`Pupil`], moved by z·tan θ and within its rim.
///
/// # Examples
///
/// ```
/// use glasscall_core::physics::opening::{Opening, OpeningRecord, Shape};
/// use glasscall_core::physics::pupil::Pupil;
/// use glasscall_core::physics::spare::spare;
/// use glasscall_core::quantity::{Angle, Aperture, FocalLength, Length, Span, Squeeze};
/// use glasscall_core::setup::Tangents;
///
/// let pupil = Pupil::new(
///     FocalLength::constant(50.0),
///     Aperture::from_marking(2.0)?,
///     Squeeze::constant(1.0),
///     Length::ZERO.into(),
/// );
/// let tray = Opening::new(OpeningRecord {
///     shape: Shape::Rectangle {
///         width: Span::constant(130.0),
///         height: Span::constant(95.0),
///     },
///     distance: Length::constant(30.0),
///     depth: None,
///     offset_x: Length::ZERO,
///     offset_y: Length::ZERO,
///     rotation: Angle::ZERO,
/// });
/// // Half of 95 less half of the pupil's 25; a corner that goes 0.5 up has 15 less.
/// let room = |y| spare(&pupil, &tray, Tangents { x: 0.0, y }).millimetres();
/// assert!((room(0.0) - 35.0).abs() < 1e-9);
/// assert!((room(0.5) - 20.0).abs() < 1e-9);
/// # Ok::<(), glasscall_core::quantity::OutOfRange>(())
/// ```
#[must_use]
pub fn spare(pupil: &Pupil, opening: &Opening, field: Tangents) -> Length {
    bounded(opening.room(&Bundle::new(pupil, field), false))
}

/// How far inside the opening the chief ray passes; negative when it is stopped.
///
/// # Units
///
/// Millimetres, measured as [`spare`] is.
#[must_use]
pub fn chief_room(pupil: &Pupil, opening: &Opening, field: Tangents) -> Length {
    bounded(opening.room(&Bundle::new(pupil, field), true))
}

fn bounded(room: f64) -> Length {
    // Sizes and distances are bounded, so only their extremes can end outside.
    Length::computed(room)
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::*;
    use crate::physics::opening::{OpeningRecord, Shape};
    use crate::physics::vignetting::plane::Vector;
    use crate::quantity::{Angle, Aperture, FocalLength, Span, Squeeze};

    fn pupil(squeeze: f64) -> Pupil {
        Pupil::new(
            FocalLength::new(40.0).unwrap(),
            Aperture::from_marking(2.0).unwrap(),
            Squeeze::new(squeeze).unwrap(),
            Length::new(50.0).unwrap().into(),
        )
    }

    fn opening(shape: Shape, rotation: f64) -> Opening {
        Opening::new(OpeningRecord {
            shape,
            distance: Length::new(50.0).unwrap(),
            depth: None,
            offset_x: Length::ZERO,
            offset_y: Length::ZERO,
            rotation: Angle::new(rotation).unwrap(),
        })
    }

    fn circle(diameter: f64) -> Opening {
        let diameter = Span::new(diameter).unwrap();
        opening(Shape::Circle { diameter }, 0.0)
    }

    fn square(side: f64, rotation: f64) -> Opening {
        let side = Span::new(side).unwrap();
        let (width, height) = (side, side);
        opening(Shape::Rectangle { width, height }, rotation)
    }

    #[test]
    fn room_is_counted_from_the_outer_edge_of_the_bundle() {
        // Chief ray 30 right and 40 up at 100 mm ahead of the pupil: 50 out.
        let field = Tangents { x: 0.3, y: 0.4 };
        let found = spare(&pupil(1.0), &circle(130.0), field).millimetres();
        assert!((found - 5.0).abs() < 1e-12);
        let room = chief_room(&pupil(1.0), &circle(130.0), field).millimetres();
        assert!((room - 15.0).abs() < 1e-12);
        // 50 − 40 − 10 to the upper side.
        let found = spare(&pupil(1.0), &square(100.0, 0.0), field).millimetres();
        assert!(found.abs() < 1e-12);
    }

    #[test]
    fn a_square_turned_by_an_eighth_reaches_further_along_the_axes() {
        let field = Tangents { x: 0.4, y: 0.0 };
        // The chief ray is 40·cos 45° from two sides.
        let found = spare(&pupil(1.0), &square(100.0, 45.0), field).millimetres();
        assert!((found - (40.0 - 40.0 * libm::cos(0.25 * core::f64::consts::PI))).abs() < 1e-12);
    }

    #[test]
    fn a_narrow_pupil_has_as_much_room_as_its_farthest_point() {
        for (x, y) in [
            (0.3, 0.4),
            (0.0, 0.4),
            (0.3, 0.0),
            (-0.05, 0.01),
            (0.0, 0.0),
        ] {
            let field = Tangents { x, y };
            let found = spare(&pupil(2.0), &circle(130.0), field).millimetres();
            let out = |t: i32| {
                let edge = Bundle::new(&pupil(2.0), Tangents { x: 0.0, y: 0.0 })
                    .ellipse
                    .edge(f64::from(t) / 1000.0);
                (edge + Vector { x, y } * 100.0).length()
            };
            let counted = 65.0 - (0..6284).map(out).fold(0.0, f64::max);
            assert!((found - counted).abs() < 1e-5, "{x} {y}: {found} {counted}");
        }
    }
}
