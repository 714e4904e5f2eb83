//! How much room a bundle of light has in an opening.

use super::opening::{Opening, Side};
use super::plane::Vector;
use super::pupil::Pupil;
use crate::physics::root::sign_change;
use crate::quantity::Length;
use crate::setup::Tangents;
use core::f64::consts::FRAC_PI_2;

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
/// bundle is the fixed pupil of [`Pupil`], moved by z·tan θ.
#[must_use]
pub fn spare(pupil: &Pupil, opening: &Opening, field: Tangents) -> Length {
    least_room(opening, pupil, field, |side| match side {
        Side::Straight { outward, room } => room - pupil.reach(outward),
        Side::Round { middle, radius } => radius - farthest(pupil, middle),
    })
}

/// How far inside the opening the chief ray passes; negative when it is stopped.
///
/// # Units
///
/// Millimetres, measured as [`spare`] is.
#[must_use]
pub fn chief_room(pupil: &Pupil, opening: &Opening, field: Tangents) -> Length {
    least_room(opening, pupil, field, |side| match side {
        Side::Straight { room, .. } => room,
        Side::Round { middle, radius } => radius - middle.length(),
    })
}

fn least_room(
    opening: &Opening,
    pupil: &Pupil,
    field: Tangents,
    room: impl Fn(Side) -> f64,
) -> Length {
    let least = (opening.faces())
        .flat_map(|face| opening.sides(pupil, field, face))
        .map(room)
        .fold(f64::INFINITY, f64::min);
    // Sizes and distances are bounded, so only their extremes can end outside.
    let bounds = crate::quantity::Bounds::LENGTH;
    Length::new(least.clamp(bounds.min, bounds.max)).unwrap_or(Length::ZERO)
}

/// The greatest distance from `point` to the pupil.
///
/// The farthest point lies across the middle from `point`. In that quadrant,
/// mirrored to the first, the slope of the squared distance is
/// (b² − a²)·sin t·cos t − a·|x|·sin t + b·|y|·cos t; divided by sin t·cos t it
/// only falls, so it changes sign once.
pub(super) fn farthest(pupil: &Pupil, point: Vector) -> f64 {
    let (a, b) = (pupil.half_width(), pupil.half_height());
    if a == b {
        return point.length() + a;
    }
    let (x, y) = (libm::fabs(point.x), libm::fabs(point.y));
    let slope = |t: f64| {
        let (sin, cos) = libm::sincos(t);
        (b * b - a * a) * sin * cos - a * x * sin + b * y * cos
    };
    let distance = |t: f64| (pupil.edge(t) + Vector { x, y }).length();
    // A point on an axis has a slope of zero at an end; look just inside.
    let inside = 1e-9;
    let t = sign_change(slope, inside, FRAC_PI_2 - inside);
    [0.0, FRAC_PI_2, t]
        .into_iter()
        .map(distance)
        .fold(0.0, f64::max)
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::*;
    use crate::physics::opening::{OpeningRecord, Shape};
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
                let edge = pupil(2.0).edge(f64::from(t) / 1000.0);
                (edge + Vector { x, y } * 100.0).length()
            };
            let counted = 65.0 - (0..6284).map(out).fold(0.0, f64::max);
            assert!((found - counted).abs() < 1e-5, "{x} {y}: {found} {counted}");
        }
    }
}
