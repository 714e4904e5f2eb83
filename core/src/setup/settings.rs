//! What decides an exposure, apart from the glass.

use super::Shutter;
use crate::quantity::{Aperture, ExposureIndex, FrameRate, OutOfRange, Seconds};

/// Stop, exposure index, frame rate and shutter of a reading or of a shot.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Settings {
    /// The stop; a T-number where the lens gives one.
    pub aperture: Aperture,
    /// The exposure index.
    pub exposure_index: ExposureIndex,
    /// The frame rate.
    pub frame_rate: FrameRate,
    /// The shutter.
    pub shutter: Shutter,
}

impl Settings {
    /// The exposure time of one frame.
    ///
    /// # Errors
    ///
    /// [`OutOfRange`] as for [`Shutter::time_at`].
    pub fn time(self) -> Result<Seconds, OutOfRange> {
        self.shutter.time_at(self.frame_rate)
    }
}
