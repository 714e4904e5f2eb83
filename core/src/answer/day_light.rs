//! The clear sky's light over a day, as the stops it would read.

use crate::physics::daylight::{Facing, HOLDS, falls_on};
use crate::physics::exposure::{FLAT_RECEPTOR, aperture_for, ev_of_illuminance};
use crate::physics::sun::{Observer, sun_position};
use crate::quantity::{Aperture, CivilDate, Elevation, Moment, UtcOffset};
use crate::setup::Settings;
use alloc::vec::Vec;

/// A place, a local day and its hours.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DayOfLight {
    /// From where.
    pub observer: Observer,
    /// The local day.
    pub date: CivilDate,
    /// Local time less UTC.
    pub offset: UtcOffset,
    /// From this hour of the clock, 0 to 24.
    pub from_hour: f64,
    /// To this one.
    pub to_hour: f64,
    /// What is lit.
    pub facing: Facing,
}

/// What the clear sky would read from hour to hour, the last one included; a flat
/// receptor on what is lit.
///
/// # Units
///
/// Stops for the time and the exposure index of `reading`; its own stop is not
/// used.
///
/// # Domain
///
/// Hours with the sun under −18°, where the model ends, and those that no stop
/// reads are left out.
///
/// # Source
///
/// [`falls_on`] and the exposure equation, ISO 2720:1974.
#[must_use]
pub fn day_light(day: &DayOfLight, reading: Settings) -> Vec<(Moment, Aperture)> {
    let span = day.date.span(day.offset);
    let read = |hour: f64| {
        let moment = span.start.later_by(3600.0 * hour);
        let sun = sun_position(day.observer, moment).direction;
        let height = HOLDS.check(sun.elevation_degrees()).ok()?;
        let sun = Elevation::new(height).ok()?;
        let light = falls_on(sun, day.facing).ok()?;
        let scene = ev_of_illuminance(light, FLAT_RECEPTOR).ok()?;
        let time = reading.time().ok()?;
        let aperture = aperture_for(scene, time, reading.exposure_index).ok()?;
        Some((moment, aperture))
    };
    hours(day.from_hour, day.to_hour).filter_map(read).collect()
}

/// Every hour from one to the other, and the other.
fn hours(from: f64, to: f64) -> impl Iterator<Item = f64> {
    (0..=HOURS)
        .map(move |step| from + f64::from(step))
        .take_while(move |&hour| hour < to + 1.0)
        .map(move |hour| hour.min(to))
}

/// A day's.
const HOURS: u8 = 24;

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::*;
    use crate::quantity::{ExposureIndex, FrameRate, Latitude, Longitude, ShutterAngle};
    use crate::setup::{Location, Shutter};

    fn day(from_hour: f64, to_hour: f64) -> DayOfLight {
        DayOfLight {
            observer: Observer::at(Location {
                latitude: Latitude::new(0.0).unwrap(),
                longitude: Longitude::new(0.0).unwrap(),
            }),
            date: CivilDate::new(2031, 3, 21).unwrap(),
            offset: UtcOffset::new(0.0).unwrap(),
            from_hour,
            to_hour,
            facing: Facing::Level,
        }
    }

    fn reading() -> Settings {
        Settings {
            aperture: Aperture::from_number(4.0).unwrap(),
            exposure_index: ExposureIndex::new(100.0).unwrap(),
            frame_rate: FrameRate::new(24.0).unwrap(),
            shutter: Shutter::Angle(ShutterAngle::new(180.0).unwrap()),
        }
    }

    #[test]
    fn noon_of_an_equinox_at_the_equator_reads_as_a_sun_overhead() {
        let found = day_light(&day(12.0, 12.0), reading());
        // The almanac's polynomial gives some 129 klx overhead, EV 15.65 at 100
        // (lux = 2.5·2^EV), at 1/48 s k = EV + log2(1/48).
        let lux = crate::physics::daylight::clear_sky(Elevation::new(88.0).unwrap()).unwrap();
        let by_hand = (lux.lux() / 2.5).log2() - 48f64.log2();
        assert!((found[0].1.index() - by_hand).abs() < 0.01);
        assert_eq!(found.len(), 1);
    }

    #[test]
    fn every_hour_and_the_last_one() {
        let hours = |from, to| hours(from, to).collect::<Vec<f64>>();
        assert_eq!(hours(8.0, 10.5), [8.0, 9.0, 10.0, 10.5]);
        assert_eq!(hours(8.0, 9.0), [8.0, 9.0]);
        assert_eq!(hours(0.0, 24.0).len(), 25);
        assert!(hours(9.0, 8.0).is_empty());
    }

    #[test]
    fn the_night_reads_nothing() {
        assert!(day_light(&day(0.0, 3.0), reading()).is_empty());
    }
}
