//! The sun's day at a place: rise, noon, set, and the civil twilights.

use super::air::RISE_AND_SET_DEPTH;
use super::position::{Observer, sun_position};
use crate::physics::root::sign_change;
use crate::quantity::{CivilDate, Moment, UtcOffset};
use alloc::vec::Vec;
use core::ops::Range;

/// Depth of the sun's centre at which civil twilight begins and ends, degrees.
///
/// # Source
///
/// The almanac's definition, 6° below the horizon.
pub const CIVIL_DEPTH: f64 = 6.0;

/// What the sun does to a horizon in a local day.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DayKind {
    /// It crosses it.
    Ordinary,
    /// It stays below all day.
    NeverRises,
    /// It stays above all day.
    NeverSets,
}

/// First crossings of one horizon in a local day.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Crossings {
    /// What the day is like.
    pub kind: DayKind,
    /// First upward crossing; `None` when it falls on another day.
    pub up: Option<Moment>,
    /// First downward crossing; `None` when it falls on another day.
    pub down: Option<Moment>,
}

/// One local day of the sun.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SunDay {
    /// Rise and set: upper limb at the horizon, refraction included.
    pub sun: Crossings,
    /// Civil dawn and dusk.
    pub civil: Crossings,
    /// Upper transit, nearest the middle of the local day.
    pub noon: Moment,
}

/// The sun's day.
///
/// Rise may come after set when the sun sets soon after midnight.
///
/// # Units
///
/// Rise and set are the centre at −0.8333°, civil twilight at −6°, both without
/// refraction and seen over a level horizon.
///
/// # Accuracy
///
/// Seconds up to 60° of latitude; where the sun grazes the horizon a hundredth
/// of a degree is minutes, and the air decides.
///
/// # Source
///
/// Roots of [`sun_position`]; horizon by the almanac's convention.
#[must_use]
pub fn sun_day(observer: Observer, date: CivilDate, offset: UtcOffset) -> SunDay {
    let day = date.span(offset);
    let track = track(observer, &day);
    SunDay {
        sun: crossings(observer, &track, -RISE_AND_SET_DEPTH),
        civil: crossings(observer, &track, -CIVIL_DEPTH),
        noon: noon(observer, &day),
    }
}

/// A moment and the sun's elevation at it.
type Seen = (Moment, f64);

fn elevation(observer: Observer, moment: Moment) -> f64 {
    sun_position(observer, moment).direction.elevation_degrees()
}

/// Steps of ten minutes: between them the sun turns back at most once.
const STEPS: i16 = 144;

/// The sun's elevation over the day, with every summit and trough in it, so
/// that between neighbours it only climbs or only sinks.
fn track(observer: Observer, day: &Range<Moment>) -> Vec<Seen> {
    let step = day.end.seconds_since(day.start) / f64::from(STEPS);
    // One step more on either side, so that what turns in the first or the last
    // is seen to.
    let steps: Vec<Seen> = (-1..=STEPS + 1)
        .map(|place| {
            let moment = day.start.later_by(step * f64::from(place));
            (moment, elevation(observer, moment))
        })
        .collect();
    let mut track = Vec::with_capacity(steps.len() + 4);
    for near in steps.windows(3) {
        let (moment, height) = near[1];
        let turn = turn_near(near[0].1, height, near[2].1)
            .map(|steps| moment.later_by(steps * step))
            .filter(|turn| *turn >= day.start && *turn <= day.end)
            .map(|turn| (turn, elevation(observer, turn)));
        match turn {
            Some(turn) if turn.0 < moment => track.extend([turn, (moment, height)]),
            Some(turn) => track.extend([(moment, height), turn]),
            None => track.push((moment, height)),
        }
    }
    track
}

/// Where, in steps from the middle, a parabola through three heights turns; if
/// the middle is highest or lowest.
fn turn_near(before: f64, middle: f64, after: f64) -> Option<f64> {
    let (rise, fall) = (middle - before, after - middle);
    let bend = fall - rise;
    // A level step (both ends alike) counts once, at its left.
    let turns = rise * fall < 0.0 || (fall == 0.0 && rise != 0.0);
    turns.then(|| -(rise + fall) / (2.0 * bend))
}

fn crossings(observer: Observer, track: &[Seen], horizon: f64) -> Crossings {
    let first = |upward: bool| {
        let crosses = |pair: &&[Seen]| {
            let above = pair.iter().map(|seen| seen.1 >= horizon);
            above.eq([!upward, upward])
        };
        let pair = track.windows(2).find(crosses)?;
        Some(crossing(observer, pair[0].0, pair[1].0, horizon))
    };
    let (up, down) = (first(true), first(false));
    let starts_above = track.first().is_some_and(|seen| seen.1 >= horizon);
    let kind = match (up.or(down), starts_above) {
        (Some(_), _) => DayKind::Ordinary,
        (None, true) => DayKind::NeverSets,
        (None, false) => DayKind::NeverRises,
    };
    Crossings { kind, up, down }
}

fn crossing(observer: Observer, from: Moment, to: Moment, horizon: f64) -> Moment {
    let above = |seconds| elevation(observer, from.later_by(seconds)) - horizon;
    from.later_by(sign_change(above, 0.0, to.seconds_since(from)))
}

fn noon(observer: Observer, day: &Range<Moment>) -> Moment {
    let half = day.end.seconds_since(day.start) / 2.0;
    // The sun runs 15° an hour but for half a minute a day: three corrections
    // leave nothing.
    (0..3).fold(day.start.later_by(half), |guess, _| {
        guess.later_by(-sun_position(observer, guess).hour_angle * 240.0)
    })
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::*;
    use crate::quantity::{Latitude, Longitude};
    use crate::setup::Location;

    fn day(latitude: f64, year: i32, month: u8, day: u8) -> SunDay {
        let place = Location {
            latitude: Latitude::new(latitude).unwrap(),
            longitude: Longitude::new(0.0).unwrap(),
        };
        sun_day(
            Observer::at(place),
            CivilDate::new(year, month, day).unwrap(),
            UtcOffset::new(0.0).unwrap(),
        )
    }

    fn hours(from: Option<Moment>, to: Option<Moment>) -> f64 {
        to.unwrap().seconds_since(from.unwrap()) / 3600.0
    }

    #[test]
    fn an_equinox_day_is_a_little_over_twelve_hours_everywhere() {
        for latitude in [-60.0, -30.0, 0.0, 30.0, 60.0] {
            let SunDay { sun, .. } = day(latitude, 2024, 3, 20);
            let long = hours(sun.up, sun.down);
            assert!((12.1..12.35).contains(&long), "{latitude}: {long}");
        }
    }

    #[test]
    fn the_lowest_sun_is_seen_at_the_ends_of_the_day_too() {
        let offset = UtcOffset::new(0.0).unwrap();
        let date = CivilDate::new(2025, 12, 21).unwrap();
        let day = date.span(offset);
        // At 75 degrees south the sun is lowest at local midnight: near
        // longitude 0 within minutes of where the day in UTC begins and ends.
        for quarter in -16..=16 {
            let place = Location {
                latitude: Latitude::new(-75.0).unwrap(),
                longitude: Longitude::new(f64::from(quarter) / 4.0).unwrap(),
            };
            let observer = Observer::at(place);
            let known = track(observer, &day);
            let known = known.iter().map(|seen| seen.1).fold(f64::MAX, f64::min);
            for second in 0..=360 {
                for moment in [
                    day.start.later_by(f64::from(second) * 10.0),
                    day.end.later_by(f64::from(second) * -10.0),
                ] {
                    let height = elevation(observer, moment);
                    assert!(height > known - 1e-5, "{quarter}: {height} under {known}");
                }
            }
        }
    }

    #[test]
    fn noon_halves_the_day() {
        let SunDay { sun, noon, .. } = day(45.0, 2025, 12, 21);
        let before = hours(sun.up, Some(noon));
        let after = hours(Some(noon), sun.down);
        assert!((before - after).abs() < 0.02, "{before} {after}");
    }

    #[test]
    fn far_north_the_sun_never_sets_and_never_rises() {
        assert_eq!(day(80.0, 2025, 6, 21).sun.kind, DayKind::NeverSets);
        assert_eq!(day(80.0, 2025, 12, 21).sun.kind, DayKind::NeverRises);
        assert_eq!(day(80.0, 2025, 12, 21).civil.kind, DayKind::NeverRises);
        // Dark all day, yet with a civil twilight about noon.
        let dim = day(70.0, 2025, 12, 21);
        assert_eq!(dim.sun.kind, DayKind::NeverRises);
        assert_eq!(dim.civil.kind, DayKind::Ordinary);
    }

    #[test]
    fn at_the_poles_there_is_an_answer_on_every_day() {
        for month in 1..=12 {
            for latitude in [-90.0, 90.0] {
                let SunDay { sun, .. } = day(latitude, 2030, month, 15);
                assert_ne!(sun.kind, DayKind::Ordinary, "{latitude}, month {month}");
            }
        }
    }

    #[test]
    fn a_day_of_minutes_is_found_between_the_steps() {
        // The first sun after a polar night shows for less than ten minutes
        // somewhere between these latitudes.
        let shortest = (0..200)
            .map(|step| day(67.3 + f64::from(step) * 0.001, 2026, 12, 21).sun)
            .filter(|sun| sun.kind == DayKind::Ordinary)
            .map(|sun| hours(sun.up, sun.down))
            .fold(f64::INFINITY, f64::min);
        assert!(shortest < 0.15, "{shortest}");
    }

    #[test]
    fn a_parabola_turns_where_it_should() {
        assert_eq!(turn_near(1.0, 2.0, 1.0), Some(0.0));
        assert_eq!(turn_near(1.0, 2.0, 2.0), Some(0.5));
        assert_eq!(turn_near(1.0, 2.0, 3.0), None);
        assert_eq!(turn_near(2.0, 2.0, 1.0), None);
    }

    #[test]
    fn a_track_climbs_or_sinks_between_neighbours_and_misses_no_turn() {
        for latitude in [-75.0, -23.0, 10.0, 52.0, 88.0] {
            let place = Location {
                latitude: Latitude::new(latitude).unwrap(),
                longitude: Longitude::new(17.0).unwrap(),
            };
            let observer = Observer::at(place);
            let noon = sun_day(
                observer,
                CivilDate::new(2025, 8, 9).unwrap(),
                UtcOffset::new(0.0).unwrap(),
            )
            .noon;
            let day = noon.later_by(-40_000.0)..noon.later_by(46_400.0);
            let track = track(observer, &day);
            for pair in track.windows(2) {
                let ((from, low), (to, high)) = (pair[0], pair[1]);
                let long = to.seconds_since(from);
                assert!(long > 0.0, "{latitude}");
                for share in [0.1, 0.5, 0.9] {
                    let between = elevation(observer, from.later_by(long * share));
                    // A turn is found to about a second: 10⁻⁵ of a degree.
                    let (least, most) = (low.min(high) - 1e-5, low.max(high) + 1e-5);
                    assert!((least..=most).contains(&between), "{latitude}");
                }
            }
        }
    }
}
