//! Ways to take up a left-over without touching the glass.

use crate::quantity::{Aperture, ExposureIndex, Seconds, ShutterAngle, Stops};
use crate::setup::{Settings, Shutter};
use alloc::vec::Vec;

/// One control and what to set it to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum TrimBy {
    /// The iris; depth of field changes.
    Iris(Aperture),
    /// The shutter angle; motion blur and flicker change.
    ShutterAngle(ShutterAngle),
    /// The exposure time; motion blur and flicker change.
    ShutterTime(Seconds),
    /// The exposure index; noise and highlight room change.
    ExposureIndex(ExposureIndex),
}

/// A trim that takes up a whole left-over.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Trim {
    /// The control and its setting.
    pub by: TrimBy,
}

/// Every control that can take up the left-over alone, within its range.
///
/// # Units
///
/// `left_over` in stops; positive is over-exposed, so the iris closes, the
/// shutter shortens or the index falls.
pub(super) fn trims(shot: Settings, left_over: Stops, widest: Option<Aperture>) -> Vec<Trim> {
    let dimmer = libm::exp2(-left_over.stops());
    let iris = (shot.aperture.closed_by(left_over).ok())
        .filter(|aperture| widest.is_none_or(|widest| *aperture >= widest))
        .map(TrimBy::Iris);
    let shutter = match shot.shutter {
        Shutter::Angle(angle) => ShutterAngle::new(angle.degrees() * dimmer)
            .ok()
            .map(TrimBy::ShutterAngle),
        Shutter::Time(time) => (Seconds::new(time.seconds() * dimmer).ok())
            // A time that fits the frame must still fit it.
            .filter(|time| Shutter::Time(*time).angle_at(shot.frame_rate).is_some())
            .map(TrimBy::ShutterTime),
    };
    let index = ExposureIndex::new(shot.exposure_index.index() * dimmer)
        .ok()
        .map(TrimBy::ExposureIndex);
    [iris, shutter, index]
        .into_iter()
        .flatten()
        .map(|by| Trim { by })
        .collect()
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::{Aperture, ExposureIndex, Settings, Shutter, ShutterAngle, Stops, TrimBy, trims};
    use crate::quantity::FrameRate;

    fn shot() -> Settings {
        Settings {
            aperture: Aperture::from_marking(2.8).unwrap(),
            exposure_index: ExposureIndex::new(800.0).unwrap(),
            frame_rate: FrameRate::new(24.0).unwrap(),
            shutter: Shutter::Angle(ShutterAngle::new(180.0).unwrap()),
        }
    }

    #[test]
    fn a_stop_over_halves_the_shutter_or_the_index() {
        let all = trims(shot(), Stops::computed(1.0), None);
        assert!(matches!(all[0].by, TrimBy::Iris(to) if (to.number() - 4.0).abs() < 1e-12));
        assert!(matches!(all[1].by, TrimBy::ShutterAngle(to) if to.degrees() == 90.0));
        assert!(matches!(all[2].by, TrimBy::ExposureIndex(to) if to.index() == 400.0));
    }

    #[test]
    fn the_iris_opens_no_further_than_the_lens_and_the_shutter_no_further_than_the_frame() {
        let widest = Aperture::from_marking(2.8).ok();
        let all = trims(shot(), Stops::computed(-1.5), widest);
        assert_eq!(all.len(), 1);
        assert!(matches!(all[0].by, TrimBy::ExposureIndex(_)));
    }
}
