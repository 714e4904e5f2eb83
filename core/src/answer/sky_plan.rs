//! Where and when the sky darkens most.

use crate::physics::sky::{Sky, SkyLight};
use crate::physics::sun::{Observer, sun_position};
use crate::quantity::{
    Angle, CivilDate, Direction, Elevation, Moment, Polarization, Stops, UtcOffset,
};
use alloc::vec::Vec;

/// Steps of the dial, 10° each.
const AIMS: u16 = 36;
/// Steps of the day, a quarter of an hour each.
const QUARTERS: u16 = 96;

/// The sky along one aim.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Prospect {
    /// Angle from the sun, degrees.
    pub from_sun: f64,
    /// Degree of polarization.
    pub polarization: f64,
    /// Darkening with the polarizer at its best, on the lens axis.
    pub darkening: Stops,
}

impl Prospect {
    /// What the sky offers there: −log2(1 − p) at best.
    #[must_use]
    pub fn of(sky: Sky, view: Direction) -> Self {
        let SkyLight { polarization, .. } = sky.light_from(view);
        // A sky polarized to the last would be black; no sheet shows that.
        let left = (1.0 - polarization).max(1e-12);
        Self {
            from_sun: view.degrees_to(sky.sun),
            polarization,
            darkening: Stops::computed(-libm::log2(left)),
        }
    }
}

/// The dial: what each azimuth offers at one elevation of the lens.
///
/// # Units
///
/// Azimuths in degrees clockwise from true north, every 10°.
#[must_use]
pub fn dial(sky: Sky, elevation: Elevation) -> Vec<(f64, Prospect)> {
    let aim = |step: u16| {
        let azimuth = 360.0 * f64::from(step) / f64::from(AIMS);
        let level = Direction::level(azimuth);
        let view = level.turned_towards(Direction::UP, elevation.degrees());
        (azimuth, Prospect::of(sky, view))
    };
    (0..AIMS).map(aim).collect()
}

/// The best azimuths of a dial: the darkest, and one that is as good elsewhere.
///
/// As good is within a tenth of a stop, elsewhere more than 60° on.
#[must_use]
pub fn best_aims(dial: &[(f64, Prospect)]) -> Vec<f64> {
    let stops = |aim: &&(f64, Prospect)| aim.1.darkening.stops();
    let most = |aims: &mut dyn Iterator<Item = &(f64, Prospect)>| {
        // Of equals the first from north.
        aims.reduce(|best, aim| {
            if stops(&aim) > stops(&best) {
                aim
            } else {
                best
            }
        })
        .copied()
    };
    let Some(best) = most(&mut dial.iter()) else {
        return Vec::new();
    };
    let apart = |azimuth: f64| {
        let off = libm::fabs(azimuth - best.0);
        off.min(360.0 - off)
    };
    let other = most(&mut dial.iter().filter(|aim| apart(aim.0) > ELSEWHERE_DEG));
    let as_good =
        |aim: &(f64, Prospect)| aim.1.darkening.stops() > best.1.darkening.stops() - AS_GOOD_STOPS;
    (core::iter::once(best).chain(other.filter(as_good)))
        .map(|(azimuth, _)| azimuth)
        .collect()
}

/// No neighbour of the best aim.
const ELSEWHERE_DEG: f64 = 60.0;
/// Nobody sees the difference.
const AS_GOOD_STOPS: f64 = 0.1;

/// One step of the day strip.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hour {
    /// When.
    pub moment: Moment,
    /// Where the sun is.
    pub sun: Direction,
    /// What the sky offers.
    pub prospect: Prospect,
}

/// What is asked of a day.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DayOfSky {
    /// From where.
    pub observer: Observer,
    /// The local day.
    pub date: CivilDate,
    /// Local time less UTC.
    pub offset: UtcOffset,
    /// Azimuth of the lens.
    pub azimuth: Angle,
    /// Elevation of the lens.
    pub elevation: Elevation,
    /// Degree of polarization of the sky at its strongest.
    pub most: Polarization,
}

/// The day strip: what one aim offers every quarter of an hour while the sun
/// is up.
///
/// # Domain
///
/// Empty on a day without sun.
#[must_use]
pub fn strip(day: &DayOfSky) -> Vec<Hour> {
    let span = day.date.span(day.offset);
    let length = span.end.seconds_since(span.start);
    let view = Direction::from_bearing(day.azimuth, day.elevation);
    let step = |step: u16| {
        let moment = (span.start).later_by(length * f64::from(step) / f64::from(QUARTERS));
        let sun = sun_position(day.observer, moment).direction;
        let sky = Sky {
            sun,
            most: day.most,
        };
        (sun.elevation_degrees() >= 0.0).then(|| Hour {
            moment,
            sun,
            prospect: Prospect::of(sky, view),
        })
    };
    (0..QUARTERS).filter_map(step).collect()
}

/// The place of the hour that darkens most, the first of equals.
#[must_use]
pub fn darkest_hour(strip: &[Hour]) -> Option<usize> {
    let stops = |at: usize| strip[at].prospect.darkening.stops();
    (0..strip.len()).reduce(|best, at| if stops(at) > stops(best) { at } else { best })
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::*;
    use crate::quantity::{Latitude, Longitude};
    use crate::setup::Location;

    fn sky() -> Sky {
        let low = Elevation::new(0.0).unwrap();
        Sky {
            sun: Direction::from_bearing(Angle::new(90.0).unwrap(), low),
            most: Polarization::new(0.75).unwrap(),
        }
    }

    #[test]
    fn a_low_sun_in_the_east_wants_north_and_south() {
        let dial = dial(sky(), Elevation::new(0.0).unwrap());
        assert_eq!(best_aims(&dial), [0.0, 180.0]);
        let best = |from: usize| (dial[from].1.darkening.stops() - 2.0).abs() < 1e-12;
        assert!(best(0) && best(18));
        assert!(dial[9].1.darkening.stops() < 1e-12);
    }

    #[test]
    fn facing_north_at_the_equator_every_hour_of_an_equinox_will_do() {
        let day = DayOfSky {
            observer: Observer::at(Location {
                latitude: Latitude::new(0.0).unwrap(),
                longitude: Longitude::new(0.0).unwrap(),
            }),
            date: CivilDate::new(2024, 3, 20).unwrap(),
            offset: UtcOffset::new(0.0).unwrap(),
            azimuth: Angle::new(0.0).unwrap(),
            elevation: Elevation::new(0.0).unwrap(),
            most: Polarization::new(0.75).unwrap(),
        };
        let strip = strip(&day);
        // The sun is up for twelve hours and a little, all of it across north.
        assert_eq!(strip.len(), 48);
        for hour in strip {
            assert!(hour.prospect.darkening.stops() > 1.99);
        }
    }
}
