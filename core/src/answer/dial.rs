//! The marks that shutters and cameras have.

use crate::quantity::{ExposureIndex, Seconds, ShutterAngle};

/// Shutter angles that cameras offer by name, in degrees: tenths of a stop or
/// so apart, with those that match lamps at 50 and 60 Hz.
///
/// Common practice, no source.
const ANGLES: [f64; 24] = [
    11.25, 15.0, 22.5, 30.0, 45.0, 60.0, 72.0, 75.0, 86.4, 90.0, 105.0, 108.0, 120.0, 135.0, 144.0,
    150.0, 172.8, 180.0, 216.0, 240.0, 270.0, 288.0, 300.0, 360.0,
];
/// A usual angle this near is taken; else the nearest whole degree. A twentieth
/// of a stop, which nobody sees.
const NEAR_STOPS: f64 = 0.05;

/// Parts of a second on the dials of still cameras and meters, with those of
/// film at 24 and 25 frames.
///
/// Common practice, no source: the third-stop series as it is engraved.
const PARTS: [f64; 50] = [
    1.0, 1.3, 1.6, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 13.0, 15.0, 20.0, 24.0, 25.0, 30.0,
    40.0, 48.0, 50.0, 60.0, 80.0, 96.0, 100.0, 120.0, 125.0, 160.0, 192.0, 200.0, 250.0, 320.0,
    400.0, 500.0, 640.0, 800.0, 1000.0, 1250.0, 1600.0, 2000.0, 2500.0, 3200.0, 4000.0, 5000.0,
    6400.0, 8000.0, 10_000.0, 12_800.0, 16_000.0, 25_600.0, 32_000.0,
];

/// Exposure indices in thirds of a stop.
///
/// Arithmetic speeds as in ISO 12232, from memory.
const INDICES: [f64; 41] = [
    1.0, 1.2, 1.6, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 16.0, 20.0, 25.0, 32.0, 40.0,
    50.0, 64.0, 80.0, 100.0, 125.0, 160.0, 200.0, 250.0, 320.0, 400.0, 500.0, 640.0, 800.0, 1000.0,
    1250.0, 1600.0, 2000.0, 2500.0, 3200.0, 4000.0, 5000.0, 6400.0, 8000.0, 10_000.0,
];
/// The series beyond [`INDICES`].
const HIGH_INDICES: [f64; 12] = [
    12_800.0, 16_000.0, 20_000.0, 25_600.0, 32_000.0, 40_000.0, 51_200.0, 64_000.0, 80_000.0,
    102_400.0, 204_800.0, 409_600.0,
];

/// The mark nearest to a value, by ratio.
fn nearest(marks: impl Iterator<Item = f64>, value: f64) -> Option<f64> {
    let away = |mark: f64| libm::fabs(libm::log2(mark / value));
    marks.min_by(|a, b| away(*a).total_cmp(&away(*b)))
}

/// The angle to set for one in degrees; `None` beyond the frame or under half a
/// degree.
pub(super) fn angle(degrees: f64) -> Option<ShutterAngle> {
    let usual = nearest(ANGLES.into_iter(), degrees)?;
    let near = libm::fabs(libm::log2(usual / degrees)) <= NEAR_STOPS;
    if degrees > 360.0 * (1.0 + 1e-9) {
        return None;
    }
    ShutterAngle::new(if near {
        usual
    } else {
        libm::floor(degrees + 0.5)
    })
    .ok()
}

/// The time to set for one in seconds.
pub(super) fn time(seconds: f64) -> Option<Seconds> {
    // A second and more is set in whole seconds.
    let to = if seconds > 1.0 {
        libm::floor(seconds + 0.5)
    } else {
        1.0 / nearest(PARTS.into_iter(), 1.0 / seconds)?
    };
    Seconds::new(to).ok()
}

/// The index to set for one.
pub(super) fn exposure_index(index: f64) -> Option<ExposureIndex> {
    let to = nearest(INDICES.into_iter().chain(HIGH_INDICES), index)?;
    ExposureIndex::new(to).ok()
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::{angle, exposure_index, time};

    #[test]
    fn what_cannot_be_dialled_goes_to_the_nearest_that_can() {
        assert_eq!(angle(141.853).unwrap().degrees(), 144.0);
        assert_eq!(angle(151.279).unwrap().degrees(), 150.0);
        assert_eq!(angle(354.914).unwrap().degrees(), 360.0);
        assert_eq!(angle(163.2).unwrap().degrees(), 163.0);
        assert!(angle(365.0).is_none());
        let indices = [630.0, 672.0, 2540.0].map(|index| exposure_index(index).unwrap().index());
        assert_eq!(indices, [640.0, 640.0, 2500.0]);
        assert!((time(0.0099).unwrap().seconds() - 0.01).abs() < 1e-15);
    }
}
