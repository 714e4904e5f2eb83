//! The shutter, as an angle or as a time.

use crate::quantity::{FrameRate, OutOfRange, Seconds, ShutterAngle};

/// How long each frame is exposed: as the open share of the frame, or outright.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Shutter {
    /// The open part of the frame's time; the time follows the frame rate.
    Angle(ShutterAngle),
    /// The time, whatever the frame rate.
    Time(Seconds),
}

impl Shutter {
    /// The exposure time.
    ///
    /// # Units
    ///
    /// t = angle/(360·fps), in seconds.
    ///
    /// # Errors
    ///
    /// [`OutOfRange`] only for a time outside the range of [`Seconds`].
    ///
    /// # Source
    ///
    /// Definition of the shutter angle.
    ///
    /// # Examples
    ///
    /// ```
    /// use glasscall_core::quantity::{FrameRate, ShutterAngle};
    /// use glasscall_core::setup::Shutter;
    ///
    /// let half = Shutter::Angle(ShutterAngle::constant(180.0));
    /// assert!((half.time_at(FrameRate::constant(24.0))?.seconds() - 1.0 / 48.0).abs() < 1e-15);
    /// # Ok::<(), glasscall_core::quantity::OutOfRange>(())
    /// ```
    pub fn time_at(self, rate: FrameRate) -> Result<Seconds, OutOfRange> {
        match self {
            Self::Angle(angle) => Seconds::new(angle.degrees() / (360.0 * rate.per_second())),
            Self::Time(time) => Ok(time),
        }
    }

    /// The shutter angle, or `None` when the exposure outlasts the frame.
    ///
    /// # Examples
    ///
    /// ```
    /// use glasscall_core::quantity::{FrameRate, Seconds, ShutterAngle};
    /// use glasscall_core::setup::Shutter;
    ///
    /// let fiftieth = Shutter::Time(Seconds::constant(0.02));
    /// let angle = fiftieth.angle_at(FrameRate::constant(25.0));
    /// assert!(angle.is_some_and(|angle| (angle.degrees() - 180.0).abs() < 1e-9));
    /// // It outlasts the frame.
    /// assert_eq!(fiftieth.angle_at(FrameRate::constant(100.0)), None);
    /// ```
    #[must_use]
    pub fn angle_at(self, rate: FrameRate) -> Option<ShutterAngle> {
        match self {
            Self::Angle(angle) => Some(angle),
            Self::Time(time) => ShutterAngle::new(360.0 * rate.per_second() * time.seconds()).ok(),
        }
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::{FrameRate, Seconds, Shutter, ShutterAngle};

    #[test]
    fn half_open_at_twenty_five_is_a_fiftieth() {
        let rate = FrameRate::new(25.0).unwrap();
        let time = Shutter::Angle(ShutterAngle::new(180.0).unwrap()).time_at(rate);
        assert_eq!(time.unwrap().seconds(), 0.02);
    }

    #[test]
    fn an_exposure_longer_than_the_frame_has_no_angle() {
        let rate = FrameRate::new(24.0).unwrap();
        assert_eq!(
            Shutter::Time(Seconds::new(0.05).unwrap()).angle_at(rate),
            None
        );
        let short = Shutter::Time(Seconds::new(0.02).unwrap()).angle_at(rate);
        assert!((short.unwrap().degrees() - 172.8).abs() < 1e-12);
    }
}
