//! Between which limits the pupil lies when nobody measured it.

use super::opening::{Opening, OpeningRecord, Shape};
use super::passed::passed;
use super::pupil::{Pupil, PupilPosition};
use super::spare::{chief_room, spare};
use crate::physics::root::sign_change;
use crate::quantity::{Angle, Aperture, Bounds, Length, OutOfRange, Span};
use crate::setup::{Tangents, View};

/// The pupil lies somewhere between these two.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PupilRange {
    /// Nearest to the rim.
    pub nearest: PupilPosition,
    /// Farthest behind it.
    pub farthest: PupilPosition,
}

impl PupilRange {
    /// A pupil whose place is known.
    #[must_use]
    pub const fn known(position: PupilPosition) -> Self {
        Self {
            nearest: position,
            farthest: position,
        }
    }

    /// A pupil this far behind the rim, or anywhere up to that far.
    #[must_use]
    pub fn between(nearest: Length, farthest: Length) -> Self {
        Self {
            nearest: nearest.into(),
            farthest: farthest.into(),
        }
    }

    /// Whether its place is known.
    #[must_use]
    pub fn is_known(&self) -> bool {
        self.nearest == self.farthest
    }

    /// Both ends.
    #[must_use]
    pub const fn ends(&self) -> [PupilPosition; 2] {
        [self.nearest, self.farthest]
    }

    /// Limits this share of the way to other limits.
    #[must_use]
    pub(crate) fn towards(&self, other: &Self, share: f64) -> Self {
        Self {
            nearest: between(self.nearest, other.nearest, share),
            farthest: between(self.farthest, other.farthest, share),
        }
    }
}

fn between(one: PupilPosition, other: PupilPosition, share: f64) -> PupilPosition {
    let mix = |one: Length, other: Length| {
        let (one, other) = (one.millimetres(), other.millimetres());
        Length::computed(one + share * (other - one))
    };
    PupilPosition {
        horizontal: mix(one.horizontal, other.horizontal),
        vertical: mix(one.vertical, other.vertical),
    }
}

/// No pupil lies nearer behind the rim than this share of the front's diameter.
///
/// Our own traces: of the seventeen lenses this was chosen with the least is
/// 0.32, of the thirteen others 0.49; a filter thread for the front is some
/// tenth wider.
pub const NEAREST_OF_FRONT: f64 = 0.25;

/// The limits that the front of a lens puts on its pupil.
///
/// A stopped-down lens lights its corners, so the chief ray of the farthest
/// corner comes in through the front: p·tan θ ≤ D/2. `covered` is tan θ at the
/// edge of the image circle ([`View::edge_of_circle`]) or, where that is not
/// known, of the picture's own corner, which makes the limit wider, never wrong.
/// The near limit is [`NEAREST_OF_FRONT`] of the front. The widest stop
/// adds nothing to that but a check, as the front is at least as wide as the
/// pupil.
///
/// # Units
///
/// Front diameter in millimetres: the clear glass, or the thread where only
/// that is known. Positions behind the rim.
///
/// # Errors
///
/// [`OutOfRange`] of the front when it is narrower than the pupil f/N.
///
/// # Source
///
/// Similar triangles, our own derivation.
pub fn from_front(
    front: Span,
    covered: f64,
    view: &View,
    widest: Aperture,
) -> Result<PupilRange, OutOfRange> {
    let pupil = Pupil::new(
        view.record().focal_length,
        widest,
        view.record().squeeze,
        Length::ZERO.into(),
    );
    // Marked sizes are rounded; a hair less is no contradiction.
    let min = 0.98 * 2.0 * pupil.half_width().min(pupil.half_height());
    (Bounds::SPAN.from(min.max(Bounds::SPAN.min))).check(front.millimetres())?;
    let farthest = front.millimetres() / 2.0 / covered;
    let farthest = Length::new(farthest.min(Bounds::LENGTH.max))?;
    let nearest = (NEAREST_OF_FRONT * front.millimetres()).min(farthest.millimetres());
    Ok(PupilRange::between(Length::new(nearest)?, farthest))
}

/// The pupil as a ring in front of the lens tells it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RingTest {
    /// Where it is if the corner had lost [`NOTICED_STOPS`] when it was seen to
    /// darken.
    pub likely: Length,
    /// If the first touch of light was seen.
    pub nearest: Length,
    /// If it was seen only when the chief ray was stopped.
    pub farthest: Length,
}

/// The loss in a corner that an eye on a plain grey notices: a third of a stop.
///
/// Common practice, no source.
pub const NOTICED_STOPS: f64 = 1.0 / 3.0;

/// The pupil from the depth at which a centred ring begins to darken the
/// corners.
///
/// The ring's front edge touches the bundle of the farthest corner at
/// z·tan θ + f/(2N) = D/2 and stops its chief ray at z·tan θ = D/2. What an eye
/// first sees lies between, so the smaller the pupil, the closer the limits:
/// stop the lens down.
///
/// # Units
///
/// Ring diameter and the distance of its front edge ahead of the rim in
/// millimetres; results behind the rim.
///
/// # Errors
///
/// [`OutOfRange`] of the ring's diameter when it is narrower than the pupil.
///
/// # Source
///
/// The law of [`passed`] solved for the pupil; our own derivation.
pub fn from_ring(
    ring: Span,
    begins_at: Length,
    view: &View,
    f_number: Aperture,
) -> Result<RingTest, OutOfRange> {
    let pupil = Pupil::new(
        view.record().focal_length,
        f_number,
        view.record().squeeze,
        Length::ZERO.into(),
    );
    let widest = 2.0 * pupil.half_width().max(pupil.half_height());
    (Bounds::SPAN.from(widest.max(Bounds::SPAN.min))).check(ring.millimetres())?;
    let opening = Opening::new(OpeningRecord {
        shape: Shape::Circle { diameter: ring },
        // From the pupil's side: the pupil is at 0 and the ring at z.
        distance: Length::ZERO,
        depth: None,
        offset_x: Length::ZERO,
        offset_y: Length::ZERO,
        rotation: Angle::ZERO,
    });
    let corners = view.corners();
    let worst = |law: &dyn Fn(Tangents) -> f64| {
        corners
            .iter()
            .map(|&corner| law(corner))
            .fold(f64::INFINITY, f64::min)
    };
    let at = |z: f64| pupil.with_position(Length::computed(z).into());
    let noticed = libm::exp2(-NOTICED_STOPS);
    // Beyond this z even the bundle's inner edge has left the ring.
    let beyond = (ring.millimetres() + widest) / view.farthest_corner();
    let solve = |law: &dyn Fn(&Pupil, Tangents) -> f64| {
        let z = sign_change(|z| worst(&|corner| law(&at(z), corner)), 0.0, beyond);
        Length::new(z - begins_at.millimetres())
    };
    Ok(RingTest {
        likely: solve(&|pupil, corner| passed(pupil, &[opening], corner) - noticed)?,
        nearest: solve(&|pupil, corner| spare(pupil, &opening, corner).millimetres())?,
        farthest: solve(&|pupil, corner| chief_room(pupil, &opening, corner).millimetres())?,
    })
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::{PupilRange, from_front, from_ring};
    use crate::quantity::{Aperture, FocalLength, Length, OutOfRange, Span, Squeeze};
    use crate::setup::{View, ViewRecord};

    fn view(focal_length: f64) -> View {
        View::new(ViewRecord {
            width: Span::new(32.0).unwrap(),
            height: Span::new(24.0).unwrap(),
            shift_x: Length::ZERO,
            shift_y: Length::ZERO,
            focal_length: FocalLength::new(focal_length).unwrap(),
            squeeze: Squeeze::new(1.0).unwrap(),
        })
        .unwrap()
    }

    fn marked(number: f64) -> Aperture {
        Aperture::from_marking(number).unwrap()
    }

    fn by_front(front: f64, focal_length: f64, widest: Aperture) -> Result<PupilRange, OutOfRange> {
        let (front, view) = (Span::new(front).unwrap(), view(focal_length));
        from_front(front, view.farthest_corner(), &view, widest)
    }

    #[test]
    fn what_a_lens_covers_brings_the_pupil_nearer() {
        // 32 by 24 mm is 40 mm across: a circle of 50 mm has tan θ = 1.25.
        let view = view(20.0);
        let edge = view.edge_of_circle(Span::new(50.0).unwrap()).unwrap();
        let range = from_front(Span::new(82.0).unwrap(), edge, &view, marked(2.8)).unwrap();
        assert!((range.farthest.vertical.millimetres() - 32.8).abs() < 1e-12);
        let far = view.edge_of_circle(Span::new(458.0).unwrap()).unwrap_err();
        assert!((far.bounds.max - 40.0 * 85.0_f64.to_radians().tan()).abs() < 1e-9);
    }

    #[test]
    fn an_eighty_two_front_on_a_twenty_ends_at_forty_one() {
        // The corner is 20 mm from the axis: tan θ = 1.
        let range = by_front(82.0, 20.0, marked(2.8)).unwrap();
        assert_eq!(range.nearest.vertical.millimetres(), 20.5);
        assert!((range.farthest.vertical.millimetres() - 41.0).abs() < 1e-12);
    }

    #[test]
    fn a_front_narrower_than_the_pupil_is_refused() {
        let error = by_front(40.0, 100.0, marked(2.0)).unwrap_err();
        assert!((error.bounds.min - 49.0).abs() < 1e-9);
    }

    #[test]
    fn a_ring_finds_the_pupil_between_touch_and_chief_ray() {
        // tan θ = 1, pupil 5 mm across, ring 80 mm, its front edge 10 mm ahead:
        // touched at z = 37.5, chief ray stopped at z = 40.
        let ring = Span::new(80.0).unwrap();
        let begins = Length::new(10.0).unwrap();
        let found = from_ring(ring, begins, &view(20.0), marked(4.0)).unwrap();
        assert!((found.nearest.millimetres() - 27.5).abs() < 1e-9);
        assert!((found.farthest.millimetres() - 30.0).abs() < 1e-9);
        let likely = found.likely.millimetres();
        assert!(likely > 27.5 && likely < 30.0, "{likely}");
    }

    #[test]
    fn stopping_down_brings_the_limits_together() {
        let spread = |number| {
            let ring = Span::new(80.0).unwrap();
            let found = from_ring(ring, Length::ZERO, &view(20.0), marked(number)).unwrap();
            found.farthest.millimetres() - found.nearest.millimetres()
        };
        assert!((spread(2.0) / spread(16.0) - 8.0).abs() < 1e-6);
    }

    #[test]
    fn a_measured_pupil_is_known_and_a_pair_of_limits_is_not() {
        let at = |mm: f64| Length::new(mm).unwrap();
        assert!(super::PupilRange::known(at(30.0).into()).is_known());
        assert!(!super::PupilRange::between(at(0.0), at(30.0)).is_known());
    }

    #[test]
    fn a_front_on_a_longer_lens_leaves_more_room() {
        // The corner at half a tangent on a 40: 82/2/0.5 = 82.
        let range = by_front(82.0, 40.0, marked(2.8)).unwrap();
        assert!((range.farthest.vertical.millimetres() - 82.0).abs() < 1e-12);
    }

    #[test]
    fn a_ring_narrower_than_the_pupil_tells_nothing() {
        let ring = |mm: f64| {
            let ring = Span::new(mm).unwrap();
            from_ring(
                ring,
                Length::ZERO,
                &view(100.0),
                Aperture::from_number(2.0).unwrap(),
            )
        };
        assert!((ring(49.9).unwrap_err().bounds.min - 50.0).abs() < 1e-9);
        // Touched at once, the chief ray stopped 25/0.2 ahead, and the light
        // noticed between the two.
        let found = ring(50.0).unwrap();
        assert!(found.nearest.millimetres().abs() < 1e-6);
        assert!((found.farthest.millimetres() - 125.0).abs() < 1e-9);
        let likely = found.likely.millimetres();
        assert!(likely > 1.0 && likely < 124.0, "{likely}");
    }

    #[test]
    fn a_pinhole_of_a_pupil_is_found_behind_its_ring() {
        // 0.4 mm across: touched at z = 39.8, chief ray stopped at z = 40.
        let ring = Span::new(80.0).unwrap();
        let pinhole = Aperture::from_number(50.0).unwrap();
        let found = from_ring(ring, Length::ZERO, &view(20.0), pinhole).unwrap();
        assert!((found.nearest.millimetres() - 39.8).abs() < 1e-9);
        assert!((found.farthest.millimetres() - 40.0).abs() < 1e-9);
    }
}
