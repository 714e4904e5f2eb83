//! The light of a picture's corners against openings, worst case first.

use super::placed::{Placed, Verdict};
use crate::physics::known_lens::KnownLens;
use crate::physics::opening::{Opening, Shape, chief_ray_at};
use crate::physics::passed::passed;
use crate::physics::pupil::Pupil;
use crate::physics::pupil_range::PupilRange;
use crate::physics::spare::{chief_room, spare};
use crate::quantity::{Angle, Aperture, Length};
use crate::setup::{Tangents, View};

/// Rounding that is no shading, in millimetres.
const ROUNDING_MM: f64 = 1e-9;

/// The bundles of a picture's four corners, for a pupil that may lie at either
/// end of its range.
///
/// Openings and pupil are convex, and a bundle moves in a straight line both
/// from corner to corner and as the pupil moves along the axis. So room is a
/// concave function of both: it is least at a corner and at an end of the range.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::answer) struct Light {
    corners: [Tangents; 4],
    pupil: Pupil,
    range: PupilRange,
}

/// How room is measured: [`spare`] or [`chief_room`].
pub(in crate::answer) type Room = fn(&Pupil, &Opening, Tangents) -> Length;

impl Light {
    /// By the figures of a lens, what nobody measured left out.
    pub(in crate::answer) fn new(view: &View, f_number: Aperture, lens: &KnownLens) -> Self {
        let record = view.record();
        let range = lens.pupil();
        Self {
            corners: view.corners(),
            pupil: Pupil::new(record.focal_length, f_number, record.squeeze, range.nearest)
                .with_shape(lens.shape(view)),
            range,
        }
    }

    /// Through a lens this many times as long with its pupil in the same place.
    pub(in crate::answer) fn with_focal_length_times(self, by: f64) -> Self {
        let shape = *self.pupil.shape();
        let longer = self.with_pupil_times(by);
        Self {
            corners: (self.corners).map(|corner| corner.with_focal_length_times(by)),
            pupil: longer.pupil.with_shape(shape.with_focal_length_times(by)),
            ..longer
        }
    }

    /// With a pupil this many times as large.
    pub(in crate::answer) fn with_pupil_times(self, by: f64) -> Self {
        Self {
            pupil: self.pupil.scaled(by),
            ..self
        }
    }

    pub(in crate::answer) const fn range(&self) -> &PupilRange {
        &self.range
    }

    /// The pupil at both ends of its range.
    pub(in crate::answer) fn pupils(&self) -> impl Iterator<Item = Pupil> + use<'_> {
        let ends = self.range.ends();
        let used = if self.range.is_known() { 1 } else { 2 };
        (ends.into_iter().take(used)).map(|end| self.pupil.with_position(end))
    }

    /// Half the width and height of the pupil, in millimetres.
    pub(in crate::answer) const fn half_pupil(&self) -> (f64, f64) {
        (self.pupil.half_width(), self.pupil.half_height())
    }

    /// The pupil where it spreads the bundles most.
    pub(in crate::answer) const fn farthest_pupil(&self) -> Pupil {
        self.pupil.with_position(self.range.farthest)
    }

    pub(in crate::answer) const fn corners(&self) -> &[Tangents; 4] {
        &self.corners
    }

    fn least_at(&self, pupil: &Pupil, opening: &Opening, room: Room) -> f64 {
        (self.corners.iter())
            .map(|&corner| room(pupil, opening, corner).millimetres())
            .fold(f64::INFINITY, f64::min)
    }

    /// The least room in millimetres, over corners and range.
    pub(in crate::answer) fn least(&self, opening: &Opening, room: Room) -> f64 {
        self.pupils()
            .map(|pupil| self.least_at(&pupil, opening, room))
            .fold(f64::INFINITY, f64::min)
    }

    /// The least share of the pupil that is left, over corners and range.
    pub(in crate::answer) fn passed(&self, openings: &[Opening]) -> f64 {
        (self.corners.iter())
            .map(|&corner| self.passed_towards(corner, openings))
            .fold(1.0, f64::min)
    }

    /// The least share that is left of one field point, over the range.
    pub(in crate::answer) fn passed_towards(&self, field: Tangents, openings: &[Opening]) -> f64 {
        self.pupils()
            .map(|pupil| passed(&pupil, openings, field))
            .fold(1.0, f64::min)
    }

    pub(in crate::answer) fn verdict(&self, opening: &Opening) -> Verdict {
        if self.least(opening, spare) >= -ROUNDING_MM {
            Verdict::Clear
        } else if self.least(opening, chief_room) >= -ROUNDING_MM {
            Verdict::Shades
        } else {
            Verdict::Clips
        }
    }

    /// The opening turned to where it takes most, for one that turns.
    ///
    /// The worst corner of the picture looks straight at the side that is
    /// nearest to the opening's middle.
    pub(in crate::answer) fn worst_turn(&self, placed: &Placed) -> Opening {
        let record = placed.opening.record();
        let (Shape::Rectangle { width, height }, true) = (record.shape, placed.turns) else {
            return placed.opening;
        };
        let judged = placed.judged();
        let pupil = self.farthest_pupil();
        let room = |corner: Tangents| spare(&pupil, &judged, corner).millimetres();
        let worst = (self.corners.iter())
            .min_by(|&&one, &&other| room(one).total_cmp(&room(other)))
            .copied();
        let (x, y) = worst.map_or((0.0, 0.0), |corner| {
            chief_ray_at(&pupil, corner, record.distance.millimetres())
        });
        let towards = libm::atan2(
            y - record.offset_y.millimetres(),
            x - record.offset_x.millimetres(),
        )
        .to_degrees();
        let across = if width.millimetres() <= height.millimetres() {
            towards
        } else {
            towards - 90.0
        };
        Angle::new(across).map_or(placed.opening, |turn| placed.opening.with_rotation(turn))
    }
}
