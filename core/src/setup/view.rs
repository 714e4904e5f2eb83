//! What of the world the sensor sees: format, lens shift, focal length, squeeze.

use crate::quantity::{Bounds, FocalLength, Length, OutOfRange, Span, Squeeze};
use crate::square_root::length;

/// The parts of a [`View`].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ViewRecord {
    /// Width of the active sensor area.
    pub width: Span,
    /// Height of the active sensor area.
    pub height: Span,
    /// How far the lens axis is from the middle of the picture; positive puts
    /// more of the picture to the right of the axis.
    pub shift_x: Length,
    /// The same upward.
    pub shift_y: Length,
    /// Focal length.
    pub focal_length: FocalLength,
    /// Anamorphic squeeze.
    pub squeeze: Squeeze,
}

/// A sensor behind a rectilinear lens.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct View {
    record: ViewRecord,
}

/// Direction of a field point: tangents of its angle from the lens axis.
///
/// # Units
///
/// Ratios. x right, y up, seen from behind the camera, in the upright picture.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tangents {
    /// To the right.
    pub x: f64,
    /// Upward.
    pub y: f64,
}

impl Tangents {
    /// The same field point seen through a lens this many times as long.
    #[must_use]
    pub(crate) fn with_focal_length_times(self, by: f64) -> Self {
        Self {
            x: self.x / by,
            y: self.y / by,
        }
    }

    /// Tangent of the angle from the axis.
    #[must_use]
    pub fn from_axis(self) -> f64 {
        length(self.x, self.y)
    }
}

impl View {
    /// The widest angle from the axis that a rectilinear picture may reach.
    ///
    /// tan θ = x/f never gets to 90°; lenses that do draw another projection.
    /// 85° is beyond any rectilinear lens, the widest reaching about 67°.
    ///
    /// Common practice, no source.
    pub const WIDEST_HALF_FIELD_DEG: f64 = 85.0;

    /// # Errors
    ///
    /// [`OutOfRange`] of the focal length when a corner lies further than
    /// [`Self::WIDEST_HALF_FIELD_DEG`] from the axis; `min` is the focal length
    /// that would do.
    pub fn new(record: ViewRecord) -> Result<Self, OutOfRange> {
        let view = Self { record };
        let farthest = view.farthest_corner();
        let widest = libm::tan(Self::WIDEST_HALF_FIELD_DEG.to_radians());
        let focal_length = record.focal_length.millimetres();
        let min = focal_length * farthest / widest;
        if focal_length < min {
            // A hair more, so that what is named is taken when it is given.
            let bounds = Bounds::FOCAL_LENGTH.from(min * (1.0 + 1e-12));
            let given = focal_length;
            return Err(OutOfRange { bounds, given });
        }
        Ok(view)
    }

    /// Tangent of the angle of the corner farthest from the axis.
    #[must_use]
    pub fn farthest_corner(&self) -> f64 {
        let corners = self.corners().into_iter();
        corners.map(Tangents::from_axis).fold(0.0, f64::max)
    }

    /// Tangent of the farthest corner moved out, or in, to the edge of the image
    /// circle that the lens covers.
    ///
    /// # Errors
    ///
    /// [`OutOfRange`] of the circle where its edge lies further than
    /// [`Self::WIDEST_HALF_FIELD_DEG`] from the axis.
    pub fn edge_of_circle(&self, circle: Span) -> Result<f64, OutOfRange> {
        let record = &self.record;
        // One corner is the farthest in millimetres and as a tangent.
        let reach =
            |side: Span, shift: Length| side.millimetres() + 2.0 * libm::fabs(shift.millimetres());
        let across = length(
            reach(record.width, record.shift_x),
            reach(record.height, record.shift_y),
        );
        let by = self.farthest_corner() / across;
        // Inward, so that what is named is taken when it is given.
        let max = libm::tan(Self::WIDEST_HALF_FIELD_DEG.to_radians()) / by * (1.0 - 1e-12);
        Ok(by * Bounds::SPAN.to(max).check(circle.millimetres())?)
    }

    /// The same camera behind another focal length.
    ///
    /// # Errors
    ///
    /// As for [`Self::new`].
    pub fn with_focal_length(self, focal_length: FocalLength) -> Result<Self, OutOfRange> {
        Self::new(ViewRecord {
            focal_length,
            ..self.record
        })
    }

    /// What it was made from.
    #[must_use]
    pub const fn record(&self) -> &ViewRecord {
        &self.record
    }

    /// Direction of the point at millimetres from the lens axis.
    ///
    /// # Units
    ///
    /// x right, y up on the upright picture at sensor size; the squeeze
    /// multiplies the horizontal tangent.
    #[must_use]
    pub fn tangents_at(&self, x: f64, y: f64) -> Tangents {
        let focal_length = self.record.focal_length.millimetres();
        Tangents {
            x: self.record.squeeze.ratio() * x / focal_length,
            y: y / focal_length,
        }
    }

    /// Direction of the point at fractions of the picture, (0, 0) being the
    /// bottom left corner and (1, 1) the top right one.
    #[must_use]
    pub fn tangents_of(&self, across: f64, up: f64) -> Tangents {
        self.tangents_at(
            (across - 0.5) * self.record.width.millimetres() + self.record.shift_x.millimetres(),
            (up - 0.5) * self.record.height.millimetres() + self.record.shift_y.millimetres(),
        )
    }

    /// The corners: bottom left, bottom right, top left, top right.
    #[must_use]
    pub fn corners(&self) -> [Tangents; 4] {
        [(0.0, 0.0), (1.0, 0.0), (0.0, 1.0), (1.0, 1.0)]
            .map(|(across, up)| self.tangents_of(across, up))
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::{View, ViewRecord};
    use crate::quantity::{FocalLength, Length, Span, Squeeze};

    fn view(focal_length: f64, squeeze: f64, shift_y: f64) -> Result<View, f64> {
        View::new(ViewRecord {
            width: Span::new(36.0).unwrap(),
            height: Span::new(24.0).unwrap(),
            shift_x: Length::new(0.0).unwrap(),
            shift_y: Length::new(shift_y).unwrap(),
            focal_length: FocalLength::new(focal_length).unwrap(),
            squeeze: Squeeze::new(squeeze).unwrap(),
        })
        .map_err(|error| error.bounds.min)
    }

    #[test]
    fn an_eighteen_sees_forty_five_degrees_to_the_side() {
        let side = view(18.0, 1.0, 0.0).unwrap().tangents_of(1.0, 0.5);
        assert_eq!((side.x, side.y), (1.0, 0.0));
    }

    #[test]
    fn squeeze_widens_the_field_and_leaves_its_height() {
        let (plain, wide) = (view(50.0, 1.0, 0.0).unwrap(), view(50.0, 2.0, 0.0).unwrap());
        let (plain, wide) = (plain.tangents_of(1.0, 1.0), wide.tangents_of(1.0, 1.0));
        assert_eq!((wide.x, wide.y), (2.0 * plain.x, plain.y));
    }

    #[test]
    fn a_lens_shifted_up_sees_further_up() {
        let shifted = view(24.0, 1.0, 12.0).unwrap();
        assert_eq!(shifted.tangents_of(0.5, 0.0).y, 0.0);
        assert_eq!(shifted.tangents_of(0.5, 1.0).y, 1.0);
    }

    #[test]
    fn a_field_near_a_half_turn_is_refused_and_says_what_would_do() {
        let least = view(1.5, 1.0, 0.0).unwrap_err();
        assert!(view(least * 1.000_001, 1.0, 0.0).is_ok());
        assert!(view(least * 0.999_999, 1.0, 0.0).is_err());
    }
}
