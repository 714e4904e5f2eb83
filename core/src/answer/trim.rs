//! Ways to take up a left-over without touching the glass.

use super::dial;
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

/// A trim that takes up a left-over as well as the control's marks allow.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Trim {
    /// The control and its setting, one that exists.
    pub by: TrimBy,
    /// What is left over then; positive is still over-exposed.
    pub stays: Stops,
}

/// Every control that can take up the left-over alone, within its range and on
/// a mark that it has: iris thirds, usual angles and whole degrees, the usual
/// times, the series of exposure indices. A control whose nearest mark leaves no
/// less is left out.
///
/// # Units
///
/// `left_over` in stops; positive is over-exposed, so the iris closes, the
/// shutter shortens or the index falls. `room` is how far the iris opens.
pub(super) fn trims(shot: Settings, left_over: Stops, room: Option<Stops>) -> Vec<Trim> {
    let dimmer = libm::exp2(-left_over.stops());
    let iris = iris(shot.aperture, left_over, room).map(|(to, taken)| (TrimBy::Iris(to), taken));
    let shutter = match shot.shutter {
        Shutter::Angle(angle) => dial::angle(angle.degrees() * dimmer).map(|to| {
            let taken = libm::log2(angle.degrees() / to.degrees());
            (TrimBy::ShutterAngle(to), taken)
        }),
        Shutter::Time(time) => dial::time(time.seconds() * dimmer)
            // A time that fits the frame must still fit it.
            .filter(|to| Shutter::Time(*to).angle_at(shot.frame_rate).is_some())
            .map(|to| {
                let taken = libm::log2(time.seconds() / to.seconds());
                (TrimBy::ShutterTime(to), taken)
            }),
    };
    let index = dial::exposure_index(shot.exposure_index.index() * dimmer).map(|to| {
        let taken = libm::log2(shot.exposure_index.index() / to.index());
        (TrimBy::ExposureIndex(to), taken)
    });
    [iris, shutter, index]
        .into_iter()
        .flatten()
        .map(|(by, taken)| Trim {
            by,
            stays: left_over - Stops::computed(taken),
        })
        .filter(|trim| trim.stays.size().stops() < left_over.size().stops() - 1e-9)
        .collect()
}

/// The nearest third that the lens has, and the stops it closes.
fn iris(from: Aperture, left_over: Stops, room: Option<Stops>) -> Option<(Aperture, f64)> {
    let wanted = from.closed_by(left_over).ok()?.index();
    let mut third = libm::floor(3.0 * wanted + 0.5);
    if let Some(room) = room {
        let widest = from.index() - room.stops();
        if wanted < widest - 1e-9 {
            return None;
        }
        // A third that the ring does not reach gives way to the next one.
        third = third.max(libm::ceil(3.0 * widest - 1e-6));
    }
    let to = Aperture::from_index(third / 3.0).ok()?;
    Some((to, from.stops_to(to).stops()))
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::{Aperture, ExposureIndex, Settings, Shutter, ShutterAngle, Stops, TrimBy, trims};
    use crate::quantity::{FrameRate, Seconds};

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
        assert!(all.iter().all(|trim| trim.stays.stops().abs() < 1e-12));
    }

    #[test]
    fn a_third_is_a_third_a_usual_angle_and_the_next_index() {
        // 0.34 stop over: T2.8⅓, 144° and 640, by hand 0.34 − log2(180/144) and
        // 0.34 − log2(800/640), both 0.321928.
        let all = trims(shot(), Stops::computed(0.34), None);
        assert!(matches!(all[0].by, TrimBy::Iris(to) if to.label().thirds == 1));
        assert!((all[0].stays.stops() - (0.34 - 1.0 / 3.0)).abs() < 1e-9);
        assert!(matches!(all[1].by, TrimBy::ShutterAngle(to) if to.degrees() == 144.0));
        assert!((all[1].stays.stops() - 0.018_072).abs() < 1e-6);
        assert!(matches!(all[2].by, TrimBy::ExposureIndex(to) if to.index() == 640.0));
        assert!((all[2].stays.stops() - 0.018_072).abs() < 1e-6);
    }

    #[test]
    fn the_iris_opens_no_further_than_the_lens_and_the_shutter_no_further_than_the_frame() {
        let all = trims(shot(), Stops::computed(-1.5), Some(Stops::ZERO));
        assert_eq!(all.len(), 1);
        assert!(
            matches!(all[0].by, TrimBy::ExposureIndex(to) if to.index() == 2500.0 || to.index() == 2000.0)
        );
    }

    #[test]
    fn a_time_stays_a_time_that_is_on_the_dial() {
        let shot = Settings {
            shutter: Shutter::Time(Seconds::new(0.02).unwrap()),
            ..shot()
        };
        let all = trims(shot, Stops::computed(0.7), None);
        assert!(
            matches!(all[1].by, TrimBy::ShutterTime(to) if (to.seconds() - 1.0 / 80.0).abs() < 1e-12)
        );
    }

    #[test]
    fn what_no_mark_takes_up_is_left_out() {
        // A twentieth: the nearest third is the one that is set.
        let all = trims(shot(), Stops::computed(0.05), None);
        assert!(all.iter().all(|trim| !matches!(trim.by, TrimBy::Iris(_))));
    }
}
