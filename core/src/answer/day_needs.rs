//! What the glass must take over a day: every light, lens, frame rate and stop.

use crate::physics::exposure::change_but_iris;
use crate::quantity::{Aperture, FrameRate, OutOfRange, Stops};
use crate::setup::Settings;
use crate::sorted::sort_by;
use alloc::vec::Vec;

/// Needs nearer than this are one: a thousandth of a stop.
const SAME: f64 = 0.001;

/// A day as it is planned.
#[derive(Debug, Clone, PartialEq)]
pub struct Day<'a> {
    /// What the lights are read for; its own stop is not used.
    pub reading: Settings,
    /// The stops the lights read.
    pub lights: &'a [Aperture],
    /// What to shoot at; its stop and frame rate are not used.
    pub shot: Settings,
    /// The stops wanted.
    pub wanted: &'a [Aperture],
    /// The frame rates wanted.
    pub rates: &'a [FrameRate],
    /// The widest stop of each lens, where known.
    pub lenses: &'a [Option<Aperture>],
}

/// One way of shooting, by the places of its parts in the lists of the day.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Way {
    /// Which light.
    pub light: usize,
    /// Which lens; `None` where the day names none.
    pub lens: Option<usize>,
    /// Which frame rate.
    pub rate: usize,
    /// The stop shot at: the one wanted, or the widest the lens has.
    pub stop: Aperture,
}

/// What the glass must take, and for which ways.
#[derive(Debug, Clone, PartialEq)]
pub struct DayNeed {
    /// Negative when there is too little light for any glass.
    pub stops: Stops,
    /// The ways that need it.
    pub ways: Vec<Way>,
}

/// The needs of a day, smallest first, alike ones together.
///
/// # Units
///
/// need = k(light) + log2(t1/t0) + log2(EI1/EI0) − k(stop), in stops. A stop
/// wider than the lens has is taken to be the lens's widest.
///
/// # Errors
///
/// [`OutOfRange`] when a time leaves the range of exposure times.
///
/// # Source
///
/// As the need of [`open_up`](super::open_up).
pub fn day_needs(day: &Day<'_>) -> Result<Vec<DayNeed>, OutOfRange> {
    let lenses: Vec<(Option<usize>, Option<Aperture>)> = if day.lenses.is_empty() {
        [(None, None)].into()
    } else {
        let widest = day.lenses.iter().copied().enumerate();
        widest.map(|(at, widest)| (Some(at), widest)).collect()
    };
    let mut found: Vec<(f64, Way)> = Vec::new();
    for (rate, &frame_rate) in day.rates.iter().enumerate() {
        let shot = Settings {
            frame_rate,
            ..day.shot
        };
        let change = change_but_iris(day.reading, shot)?.stops();
        for (light, read) in day.lights.iter().enumerate() {
            for &(lens, widest) in &lenses {
                for &wanted in day.wanted {
                    let stop = widest.map_or(wanted, |widest| {
                        if widest.index() > wanted.index() {
                            widest
                        } else {
                            wanted
                        }
                    });
                    let way = Way {
                        light,
                        lens,
                        rate,
                        stop,
                    };
                    found.push((stop.stops_to(*read).stops() + change, way));
                }
            }
        }
    }
    sort_by(&mut found, |(a, _), (b, _)| a.total_cmp(b));
    let mut needs: Vec<DayNeed> = Vec::new();
    for (stops, way) in found {
        match needs.last_mut() {
            Some(last) if stops - last.stops.stops() < SAME => {
                if !last.ways.contains(&way) {
                    last.ways.push(way);
                }
            }
            _ => needs.push(DayNeed {
                stops: Stops::computed(stops),
                ways: [way].into(),
            }),
        }
    }
    Ok(needs)
}

/// Lights from the brightest down to the darkest, both included.
///
/// # Units
///
/// `step` in stops, more than 0. Empty steps give the two ends.
#[must_use]
pub fn lights_between(brightest: Aperture, darkest: Aperture, step: Stops) -> Vec<Aperture> {
    let (from, to) = (darkest.index(), brightest.index());
    let mut lights: Vec<Aperture> = Vec::new();
    let mut nth = 0.0;
    loop {
        // Counted in whole steps, so that nothing drifts.
        let index = to - nth * step.stops();
        if index <= from + SAME || step.stops() <= 0.0 {
            break;
        }
        lights.extend(Aperture::from_index(index));
        nth += 1.0;
    }
    lights.push(darkest);
    lights
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::*;
    use crate::quantity::{ExposureIndex, ShutterAngle};
    use crate::setup::Shutter;

    fn stop(number: f64) -> Aperture {
        Aperture::from_marking(number).unwrap()
    }

    fn settings() -> Settings {
        Settings {
            aperture: stop(16.0),
            exposure_index: ExposureIndex::new(800.0).unwrap(),
            frame_rate: FrameRate::new(24.0).unwrap(),
            shutter: Shutter::Angle(ShutterAngle::new(180.0).unwrap()),
        }
    }

    fn needs(lights: &[Aperture], rates: &[f64], lenses: &[Option<Aperture>]) -> Vec<DayNeed> {
        let rates: Vec<FrameRate> = rates.iter().map(|&r| FrameRate::new(r).unwrap()).collect();
        day_needs(&Day {
            reading: settings(),
            lights,
            shot: settings(),
            wanted: &[stop(2.0)],
            rates: &rates,
            lenses,
        })
        .unwrap()
    }

    #[test]
    fn from_sixteen_to_two_is_six_stops_and_one_less_at_twice_the_rate() {
        let found = needs(&[stop(16.0)], &[24.0, 48.0], &[]);
        let stops: Vec<f64> = found.iter().map(|need| need.stops.stops()).collect();
        assert!((stops[0] - 5.0).abs() < 1e-12 && (stops[1] - 6.0).abs() < 1e-12);
    }

    #[test]
    fn a_slow_lens_needs_less() {
        let found = needs(&[stop(16.0)], &[24.0], &[None, Some(stop(4.0))]);
        assert!((found[0].stops.stops() - 4.0).abs() < 1e-12);
        assert_eq!(found[0].ways[0].lens, Some(1));
        assert_eq!(found[0].ways[0].stop, stop(4.0));
    }

    #[test]
    fn alike_needs_stand_together() {
        let lenses = [None, Some(stop(1.4))];
        let found = needs(&[stop(16.0)], &[24.0], &lenses);
        assert_eq!((found.len(), found[0].ways.len()), (1, 2));
    }

    #[test]
    fn too_little_light_is_a_negative_need() {
        assert!(needs(&[stop(1.4)], &[24.0], &[])[0].stops < Stops::ZERO);
    }

    #[test]
    fn a_range_has_both_ends() {
        let step = Stops::new(1.0).unwrap();
        let lights = lights_between(stop(16.0), stop(5.6), step);
        let numbers: Vec<Aperture> = [16.0, 11.0, 8.0, 5.6].map(stop).into();
        for (found, expected) in lights.iter().zip(&numbers) {
            assert!(found.stops_to(*expected).stops().abs() < 1e-9);
        }
        assert_eq!(lights.len(), 4);
        assert_eq!(lights_between(stop(8.0), stop(8.0), step), [stop(8.0)]);
    }
}
