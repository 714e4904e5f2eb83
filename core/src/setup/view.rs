//! What the lens takes in, as the glass in front of it is seen from the sensor.

use crate::quantity::{Aperture, Bounds, Length, OutOfRange};

/// Sensor, lens and stop: how the image lies on glass in front of the lens.
///
/// # Units
///
/// Lengths in mm. Squeeze s is a ratio that multiplies the horizontal field:
/// tan θx = s·x/f, tan θy = y/f. The pupil is f/(N·s) wide and f/N high.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct View {
    width: f64,
    height: f64,
    squeeze: f64,
    focal_length: f64,
    aperture: Aperture,
}

/// A place in the frame.
///
/// # Units
///
/// Shares of the frame's width from its left edge and of its height from its
/// bottom edge; the middle is ½, ½. Beyond 0 to 1 is outside the frame.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FramePoint {
    /// Share of the width, from the left.
    pub across: f64,
    /// Share of the height, from the bottom.
    pub up: f64,
}

/// The parts of a view that miss their range.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum ViewError {
    /// The sensor's width.
    Width(OutOfRange),
    /// The sensor's height.
    Height(OutOfRange),
    /// The squeeze.
    Squeeze(OutOfRange),
    /// The focal length.
    FocalLength(OutOfRange),
}

impl View {
    /// # Errors
    ///
    /// [`ViewError`] names the part outside its [`Bounds`].
    pub fn new(
        sensor: [Length; 2],
        squeeze: f64,
        focal_length: Length,
        aperture: Aperture,
    ) -> Result<Self, ViewError> {
        let [width, height] = sensor.map(Length::millimetres);
        Ok(Self {
            width: Bounds::SENSOR.check(width).map_err(ViewError::Width)?,
            height: Bounds::SENSOR.check(height).map_err(ViewError::Height)?,
            squeeze: Bounds::SQUEEZE.check(squeeze).map_err(ViewError::Squeeze)?,
            focal_length: (Bounds::FOCAL_LENGTH.check(focal_length.millimetres()))
                .map_err(ViewError::FocalLength)?,
            aperture,
        })
    }

    /// The same frame and stop behind another focal length.
    ///
    /// # Errors
    ///
    /// [`ViewError::FocalLength`].
    pub fn zoomed(self, focal_length: Length) -> Result<Self, ViewError> {
        let sensor = (Bounds::FOCAL_LENGTH.check(focal_length.millimetres()))
            .map_err(ViewError::FocalLength)?;
        Ok(Self {
            focal_length: sensor,
            ..self
        })
    }

    /// The same view at another stop.
    #[must_use]
    pub const fn stopped_to(self, aperture: Aperture) -> Self {
        Self { aperture, ..self }
    }

    /// Tangents of the field angle, to the right and up.
    #[must_use]
    pub fn tangents(self, point: FramePoint) -> [f64; 2] {
        let [across, up] = self.whole_tangents();
        [(point.across - 0.5) * across, (point.up - 0.5) * up]
    }

    /// The place in the frame that these tangents reach.
    #[must_use]
    pub fn place(self, tangents: [f64; 2]) -> FramePoint {
        let [across, up] = self.whole_tangents();
        FramePoint {
            across: 0.5 + tangents[0] / across,
            up: 0.5 + tangents[1] / up,
        }
    }

    /// Tangents from edge to edge of the frame: width·s/f and height/f.
    #[must_use]
    pub fn whole_tangents(self) -> [f64; 2] {
        [
            self.width * self.squeeze / self.focal_length,
            self.height / self.focal_length,
        ]
    }

    /// Half the pupil, across and up, in mm: f/(2·N·s) and f/(2·N).
    #[must_use]
    pub fn pupil_halves(self) -> [f64; 2] {
        let up = self.focal_length / (2.0 * self.aperture.number());
        [up / self.squeeze, up]
    }

    /// The aperture number that sizes the pupil.
    #[must_use]
    pub const fn aperture(self) -> Aperture {
        self.aperture
    }

    /// The focal length, in mm.
    #[must_use]
    pub const fn focal_millimetres(self) -> f64 {
        self.focal_length
    }

    /// The squeeze.
    #[must_use]
    pub const fn squeeze(self) -> f64 {
        self.squeeze
    }
}

impl FramePoint {
    /// The middle of the frame.
    pub const MIDDLE: Self = Self {
        across: 0.5,
        up: 0.5,
    };

    /// On the upright through the middle, at a height.
    #[must_use]
    pub const fn at_height(up: f64) -> Self {
        Self { across: 0.5, up }
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
pub(crate) mod tests {
    use super::{Aperture, FramePoint, Length, View, ViewError};

    pub(crate) fn view(sensor: [f64; 2], squeeze: f64, focal: f64, number: f64) -> View {
        View::new(
            sensor.map(|side| Length::new(side).unwrap()),
            squeeze,
            Length::new(focal).unwrap(),
            Aperture::from_number(number).unwrap(),
        )
        .unwrap()
    }

    #[test]
    fn the_top_right_corner_is_half_the_frame_over_the_focal_length() {
        // Half of 24 × 18 mm at f = 50 mm with squeeze 2, by hand.
        let corner = FramePoint {
            across: 1.0,
            up: 1.0,
        };
        let anamorphic = view([24.0, 18.0], 2.0, 50.0, 4.0);
        assert_eq!(anamorphic.tangents(corner), [0.48, 0.18]);
        assert_eq!(anamorphic.pupil_halves(), [3.125, 6.25]);
    }

    #[test]
    fn a_place_leads_to_its_tangents_and_back() {
        let there = FramePoint {
            across: 0.2,
            up: 0.9,
        };
        let lens = view([36.0, 24.0], 1.5, 32.0, 2.8);
        let back = lens.place(lens.tangents(there));
        assert!((back.across - 0.2).abs() < 1e-15 && (back.up - 0.9).abs() < 1e-15);
    }

    #[test]
    fn a_lens_of_no_length_is_refused() {
        let mm = |length| Length::new(length).unwrap();
        let number = Aperture::from_number(4.0).unwrap();
        let none = View::new([mm(24.0), mm(18.0)], 1.0, mm(0.0), number);
        assert!(matches!(none, Err(ViewError::FocalLength(_))));
    }
}
