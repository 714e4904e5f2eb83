//! How much of the pupil a field point's light reaches through the openings: the
//! mechanical vignetting of what stands in front of the lens. What the lens itself
//! takes towards its corners (natural and optical vignetting) is not in it.
//!
//! The part of the pupil that is left is bounded by arcs of the pupil, arcs of
//! round openings and pieces of straight sides. Its area is the boundary
//! integral ½∮(x dy − y dx), in closed form for each piece, so the result is
//! exact but for rounding. Chords at a fixed spacing were rejected: the kinks
//! where edges cross cost them all accuracy.

use super::bundle::Bundle;
use super::left::Left;
use super::opening::Opening;
use super::pupil::Pupil;
use crate::quantity::Stops;
use crate::setup::Tangents;

/// Share of the pupil that a field point's light passes, all openings together;
/// of a lens whose rim cuts into the pupil, share of what the rim leaves.
///
/// Subject far away. Fast
/// where nothing is lost or nothing is left, so a whole map is cheap.
///
/// # Units
///
/// 0 to 1 of the pupil's area. [`loss`] gives it in stops.
///
/// # Accuracy
///
/// Better than 10⁻⁹ of the pupil against closed forms; within 10⁻⁵ of polygon
/// areas and of counted rays, which is what those can tell.
///
/// # Source
///
/// Green's theorem; our own derivation. Checked against polygon areas and Sobol
/// ray counts, `tests/reference/laws/coverage.json`.
///
/// # Examples
///
/// ```
/// use glasscall_core::physics::opening::{Opening, OpeningRecord, Shape};
/// use glasscall_core::physics::passed::passed;
/// use glasscall_core::physics::pupil::Pupil;
/// use glasscall_core::quantity::{Angle, Aperture, FocalLength, Length, Span, Squeeze};
/// use glasscall_core::setup::Tangents;
///
/// let pupil = Pupil::new(
///     FocalLength::constant(50.0),
///     Aperture::from_marking(2.0)?,
///     Squeeze::constant(1.0),
///     Length::ZERO.into(),
/// );
/// let ring = Opening::new(OpeningRecord {
///     shape: Shape::Circle { diameter: Span::constant(77.0) },
///     distance: Length::constant(30.0),
///     depth: None,
///     offset_x: Length::ZERO,
///     offset_y: Length::ZERO,
///     rotation: Angle::ZERO,
/// });
/// let towards = |x| passed(&pupil, &[ring], Tangents { x, y: 0.0 });
/// assert_eq!(towards(0.0), 1.0);
/// assert!((0.3..0.7).contains(&towards(1.25)));
/// assert_eq!(towards(2.0), 0.0);
/// # Ok::<(), glasscall_core::quantity::OutOfRange>(())
/// ```
#[must_use]
pub fn passed(pupil: &Pupil, openings: &[Opening], field: Tangents) -> f64 {
    Left::of(&Bundle::new(pupil, field), openings).map_or(0.0, |left| left.share())
}

/// The loss that a passed share means; `None` when nothing passes.
///
/// # Units
///
/// −log2 of the share, in stops.
///
/// # Examples
///
/// ```
/// use glasscall_core::physics::passed::loss;
///
/// assert_eq!(loss(0.5).map(|stops| stops.stops()), Some(1.0));
/// assert_eq!(loss(0.0), None);
/// ```
#[must_use]
pub fn loss(passed: f64) -> Option<Stops> {
    // −log2 1 is −0, which would be shown.
    (passed > 0.0).then(|| Stops::computed(libm::log2(1.0 / passed)))
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::super::boundary::Edge;
    use super::super::opening::Side;
    use super::super::plane::Vector;
    use super::*;
    use crate::physics::opening::{OpeningRecord, Shape};
    use crate::quantity::{Angle, Aperture, FocalLength, Length, Span, Squeeze};
    use alloc::vec::Vec;
    use core::f64::consts::PI;

    const AXIS: Tangents = Tangents { x: 0.0, y: 0.0 };

    /// 20 mm wide and `squeeze` times as high, 100 mm behind the rim.
    fn pupil(squeeze: f64) -> Pupil {
        Pupil::new(
            FocalLength::new(40.0 * squeeze).unwrap(),
            Aperture::from_marking(2.0).unwrap(),
            Squeeze::new(squeeze).unwrap(),
            Length::new(100.0).unwrap().into(),
        )
    }

    fn opening(shape: Shape, offset: (f64, f64), rotation: f64) -> Opening {
        Opening::new(OpeningRecord {
            shape,
            distance: Length::ZERO,
            depth: None,
            offset_x: Length::new(offset.0).unwrap(),
            offset_y: Length::new(offset.1).unwrap(),
            rotation: Angle::new(rotation).unwrap(),
        })
    }

    fn circle(diameter: f64, offset: (f64, f64)) -> Opening {
        let diameter = Span::new(diameter).unwrap();
        opening(Shape::Circle { diameter }, offset, 0.0)
    }

    fn rectangle(width: f64, height: f64, offset: (f64, f64), rotation: f64) -> Opening {
        let (width, height) = (Span::new(width).unwrap(), Span::new(height).unwrap());
        opening(Shape::Rectangle { width, height }, offset, rotation)
    }

    fn near(found: f64, wanted: f64) {
        assert!((found - wanted).abs() < 1e-12, "{found}, wanted {wanted}");
    }

    #[test]
    fn a_side_through_the_middle_halves_the_pupil() {
        for squeeze in [1.0, 1.3, 2.0] {
            let half = rectangle(50.0, 500.0, (25.0, 0.0), 0.0);
            near(passed(&pupil(squeeze), &[half], AXIS), 0.5);
        }
    }

    #[test]
    fn two_sides_through_the_middle_leave_a_quarter() {
        let right = rectangle(50.0, 500.0, (25.0, 0.0), 0.0);
        let upper = rectangle(500.0, 50.0, (0.0, 25.0), 0.0);
        near(passed(&pupil(1.5), &[right, upper], AXIS), 0.25);
    }

    #[test]
    fn edges_that_meet_from_both_sides_leave_nothing() {
        let right = rectangle(50.0, 500.0, (25.0, 0.0), 0.0);
        let left = rectangle(50.0, 500.0, (-25.0, 0.0), 0.0);
        near(passed(&pupil(1.0), &[right, left], AXIS), 0.0);
    }

    #[test]
    fn two_circles_overlap_as_the_lens_formula_says() {
        // 2r²·acos(d/2r) − d/2·√(4r² − d²), handbook formula for equal circles.
        let (r, d) = (10.0, 7.0);
        let lens =
            2.0 * r * r * libm::acos(d / (2.0 * r)) - d / 2.0 * libm::sqrt(4.0 * r * r - d * d);
        let found = passed(&pupil(1.0), &[circle(20.0, (4.2, 5.6))], AXIS);
        near(found, lens / (PI * r * r));
    }

    #[test]
    fn an_ellipse_in_a_circle_between_its_axes() {
        // Both centred: 4·∫ from 0 to the crossing of the circle, then of the
        // ellipse; with a 10, b 20, R 15 the crossing is at x² = (R²−b²)/(1−b²/a²).
        let (a, b, r): (f64, f64, f64) = (10.0, 20.0, 15.0);
        let x = libm::sqrt((r * r - b * b) / (1.0 - b * b / (a * a)));
        let disc = |x: f64| (x * libm::sqrt(r * r - x * x) + r * r * libm::asin(x / r)) / 2.0;
        let oval =
            |x: f64| b / a * (x * libm::sqrt(a * a - x * x) + a * a * libm::asin(x / a)) / 2.0;
        let area = 4.0 * (disc(x) + oval(a) - oval(x));
        near(
            passed(&pupil(2.0), &[circle(30.0, (0.0, 0.0))], AXIS),
            area / (PI * a * b),
        );
    }

    #[test]
    fn an_opening_inside_the_pupil_passes_its_own_area() {
        for squeeze in [1.0, 2.0] {
            let whole = PI * 100.0 * squeeze;
            let dot = passed(&pupil(squeeze), &[circle(4.0, (3.0, 2.0))], AXIS);
            near(dot, PI * 4.0 / whole);
            let slot = passed(
                &pupil(squeeze),
                &[rectangle(6.0, 3.0, (1.0, 2.0), 37.0)],
                AXIS,
            );
            near(slot, 18.0 / whole);
        }
    }

    #[test]
    fn the_same_opening_twice_is_the_opening() {
        for one in [
            circle(20.0, (4.0, 5.0)),
            rectangle(18.0, 16.0, (4.0, 5.0), 0.0),
            rectangle(18.0, 16.0, (4.0, 5.0), 23.0),
        ] {
            for squeeze in [1.0, 1.8] {
                let once = passed(&pupil(squeeze), &[one], AXIS);
                near(passed(&pupil(squeeze), &[one; 3], AXIS), once);
            }
        }
    }

    #[test]
    fn mirror_images_pass_the_same() {
        let field = Tangents { x: 0.11, y: -0.07 };
        let mirrored = Tangents { x: -0.11, y: -0.07 };
        let here = rectangle(30.0, 24.0, (3.0, -1.0), 20.0);
        let there = rectangle(30.0, 24.0, (-3.0, -1.0), -20.0);
        let one = passed(&pupil(1.6), &[here], field);
        assert!(one > 0.1 && one < 0.9);
        near(passed(&pupil(1.6), &[there], mirrored), one);
    }

    #[test]
    fn a_tube_passes_what_both_its_faces_pass() {
        let field = Tangents { x: 0.02, y: 0.03 };
        let rear = circle(20.0, (0.0, 0.0));
        let front = rear.with_distance(Length::new(150.0).unwrap());
        let tube = Opening::new(OpeningRecord {
            depth: Some(Span::new(150.0).unwrap()),
            ..*rear.record()
        });
        for squeeze in [1.0, 1.5] {
            let faces = passed(&pupil(squeeze), &[rear, front], field);
            near(passed(&pupil(squeeze), &[tube], field), faces);
        }
    }

    #[test]
    fn many_openings_agree_with_counted_points() {
        // An independent route: a fine grid over the pupil, counted.
        let openings = [
            circle(26.0, (3.0, -6.0)),
            rectangle(24.0, 30.0, (-4.0, 2.0), 31.0),
            circle(34.0, (-7.0, 9.0)),
            rectangle(15.0, 28.0, (1.0, 0.0), -12.0),
        ];
        let pupil = pupil(1.5);
        let sides: Vec<Side> = (openings.iter())
            .flat_map(|opening| opening.sides(&Bundle::new(&pupil, AXIS), 0.0))
            .collect();
        let (steps, mut inside, mut all) = (1500, 0.0, 0.0);
        for i in 0..steps {
            for j in 0..steps {
                let at = |k: i32| (f64::from(k) + 0.5) / f64::from(steps) * 2.0 - 1.0;
                if at(i) * at(i) + at(j) * at(j) > 1.0 {
                    continue;
                }
                all += 1.0;
                let point = Vector {
                    x: at(i) * pupil.half_width(),
                    y: at(j) * pupil.half_height(),
                };
                if sides
                    .iter()
                    .all(|&side| Edge::Side(side).beyond(point) <= 0.0)
                {
                    inside += 1.0;
                }
            }
        }
        let found = passed(&pupil, &openings, AXIS);
        assert!(
            (found - inside / all).abs() < 1e-4,
            "{found} {}",
            inside / all
        );
    }

    #[test]
    fn half_the_light_is_one_stop() {
        assert_eq!(loss(0.5), Some(Stops::computed(1.0)));
        assert_eq!(loss(1.0), Some(Stops::ZERO));
        assert_eq!(loss(0.0), None);
    }
}
