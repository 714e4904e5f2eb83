//! The light's trend from timed readings, with an interval.

use crate::physics::daylight::{HOLDS, clear_sky, strays};
use crate::physics::sun::{Observer, sun_position};
use crate::quantity::{Elevation, Moment, Stops};
use crate::square_root::{length, square_root};
use alloc::vec::Vec;

/// What one meter reading in whole thirds of a stop is worth: the standard
/// deviation of an even spread over a third, 1/(3·√12) stop.
pub const READING_DEVIATION: f64 = 0.096_225;

/// Two-sided 95 % points of Student's t for 1, 2, … degrees of freedom.
///
/// # Source
///
/// `scipy.stats.t.ppf(0.975, ν)`, scipy 1.13.1; beyond the table the first terms
/// of its expansion, z + (z³ + z)/(4ν) + (5z⁵ + 16z³ + 3z)/(96ν²): Abramowitz and
/// Stegun, 26.7.5.
const STUDENT: [f64; 10] = [
    12.706, 4.303, 3.182, 2.776, 2.571, 2.447, 2.365, 2.306, 2.262, 2.228,
];
pub(super) const NORMAL: f64 = 1.96;

/// One reading as stops of light: higher is brighter.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TimedReading {
    /// When.
    pub moment: Moment,
    /// How much light, on any scale that counts stops.
    pub light: Stops,
}

/// The curve the light follows between and beyond the readings.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Curve {
    /// A straight line, in stops a second.
    Straight(f64),
    /// The clear sky's own curve at this place.
    ClearSky(Observer),
}

/// A trend fitted to readings by least squares.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Trend {
    curve: Curve,
    /// Middle of the readings' times.
    middle: Moment,
    /// Light at `middle` (straight), or what the readings stand over the curve.
    level: f64,
    /// Half-width of the 95 % interval of one reading.
    half: f64,
    count: f64,
    /// Σ(t − middle)², in s².
    lever: f64,
    /// How far clear skies stray from the curve where the readings were taken,
    /// on average; nothing for a line.
    strayed: f64,
}

/// Over this height of the sun a line does for the time a plan is made for;
/// under it the light bends too soon. Own choice.
pub const LINE_FROM_DEGREES: f64 = 15.0;
/// How much faster a straight line may turn out to fall: what the clear sky's
/// curve bends at most, in stops an hour an hour, with the sun 3° up in the
/// middle latitudes.
const DUSK_BEND: f64 = 6.0;
/// An interval wider than this is no answer: half a stop.
///
/// Common practice, no source.
pub const TELLS_WITHIN: f64 = 0.5;

impl Trend {
    /// The straight line through readings; `None` under two different times.
    ///
    /// # Units
    ///
    /// light = level + rate·(t − middle) by least squares in stops. The interval
    /// takes the scatter about the line, or a meter's third where that is more;
    /// two readings have no scatter and get the third.
    ///
    /// # Source
    ///
    /// Ordinary least squares; the floor is our own: a meter that reads in
    /// thirds cannot promise more.
    #[must_use]
    pub fn straight(readings: &[TimedReading]) -> Option<Self> {
        let count = count(readings);
        let times = Times::of(readings)?;
        if times.lever < 1.0 {
            return None;
        }
        let level = mean(readings, |reading| reading.light.stops());
        let product = |reading: &TimedReading| {
            reading.moment.seconds_since(times.middle) * (reading.light.stops() - level)
        };
        let rate = readings.iter().map(product).sum::<f64>() / times.lever;
        let missed = |reading: &TimedReading| {
            reading.light.stops() - level - rate * reading.moment.seconds_since(times.middle)
        };
        Some(Self {
            curve: Curve::Straight(rate),
            half: half_width(readings, missed, 2),
            middle: times.middle,
            level,
            count,
            lever: times.lever,
            strayed: 0.0,
        })
    }

    /// The trend that the sun's height asks for: the clear sky's curve where it
    /// stands under [`LINE_FROM_DEGREES`] at any time between the first reading
    /// and `until`, and where one reading makes no line; else the line.
    #[must_use]
    pub fn by_the_sun(
        readings: &[TimedReading],
        observer: Observer,
        until: Moment,
    ) -> Option<Self> {
        let from = (readings.iter()).fold(until, |first, reading| {
            if reading.moment < first {
                reading.moment
            } else {
                first
            }
        });
        // The sun moves by 3° at most in a step.
        let steps = libm::ceil(until.seconds_since(from) / 600.0).clamp(1.0, 1000.0);
        let mut step = 0.0;
        let mut low = false;
        while step <= steps {
            let moment = from.later_by(until.seconds_since(from) * step / steps);
            low |= height(observer, moment) < LINE_FROM_DEGREES;
            step += 1.0;
        }
        let line = || Self::straight(readings);
        let curve = || Self::clear_sky(readings, observer);
        if low {
            curve().or_else(line)
        } else {
            line().or_else(curve)
        }
    }

    /// Whether the clear sky's curve was taken.
    #[must_use]
    pub const fn follows_sky(&self) -> bool {
        matches!(self.curve, Curve::ClearSky(_))
    }

    /// Until when a line from the last reading may be trusted to
    /// [`TELLS_WITHIN`], should it be dusk; `None` for the sky's own curve.
    #[must_use]
    pub fn holds_until(&self, last: Moment) -> Option<Moment> {
        let hours = square_root(2.0 * TELLS_WITHIN / DUSK_BEND);
        (!self.follows_sky()).then(|| last.later_by(hours * 3600.0))
    }

    /// The clear sky's curve at a place, shifted to the readings; `None` without
    /// readings or with the sun below −18° at one.
    ///
    /// Cloud, haze and the scene shift it alike; what the curve is for is dusk,
    /// where light falls ever faster and a line is wrong.
    #[must_use]
    pub fn clear_sky(readings: &[TimedReading], observer: Observer) -> Option<Self> {
        let times = Times::of(readings)?;
        let over = |reading: &TimedReading| {
            Some(reading.light.stops() - clear_stops(observer, reading.moment)?)
        };
        let over: Vec<f64> = readings.iter().map(over).collect::<Option<_>>()?;
        let count = count(readings);
        let level = over.iter().sum::<f64>() / count;
        let missed = over.iter().map(|over| (over - level) * (over - level));
        Some(Self {
            curve: Curve::ClearSky(observer),
            half: interval(missed.sum(), over.len(), 1),
            middle: times.middle,
            level,
            count,
            lever: 0.0,
            strayed: mean(readings, |reading| strays_at(observer, reading.moment)),
        })
    }

    /// The same of readings that are known no better than this, one standard
    /// deviation each.
    #[must_use]
    pub fn read_to(self, reading: Stops) -> Self {
        Self {
            half: self.half.max(NORMAL * reading.stops()),
            ..self
        }
    }

    /// The light at a moment; `None` where the curve has none.
    #[must_use]
    pub fn light_at(&self, moment: Moment) -> Option<Stops> {
        let stops = match self.curve {
            Curve::Straight(rate) => self.level + rate * moment.seconds_since(self.middle),
            Curve::ClearSky(observer) => self.level + clear_stops(observer, moment)?,
        };
        Some(Stops::computed(stops))
    }

    /// How fast it brightens at a moment, in stops an hour.
    #[must_use]
    pub fn rate_at(&self, moment: Moment) -> Option<f64> {
        match self.curve {
            Curve::Straight(rate) => Some(rate * 3600.0),
            Curve::ClearSky(_) => {
                let light = |seconds| self.light_at(moment.later_by(seconds));
                let change = light(60.0)?.stops() - light(-60.0)?.stops();
                Some(change * 30.0)
            }
        }
    }

    /// Half-width of the 95 % interval of the trend at a moment.
    ///
    /// For the clear sky it takes in what one sky strays from another between
    /// the readings and then: haze that shows only when the sun is low. What
    /// skies stray more by then does not hang on what they strayed before, so
    /// their squares differ by it.
    #[must_use]
    pub fn interval_at(&self, moment: Moment) -> Stops {
        let away = moment.seconds_since(self.middle);
        let leaning = if self.lever > 0.0 {
            away * away / self.lever
        } else {
            0.0
        };
        let read = self.half * square_root(1.0 / self.count + leaning);
        let sky = match self.curve {
            Curve::Straight(_) => 0.0,
            Curve::ClearSky(observer) => {
                let then = strays_at(observer, moment);
                square_root((then * then - self.strayed * self.strayed).abs())
            }
        };
        Stops::computed(length(read, sky))
    }

    /// Half-width of the 95 % interval of the rate, in stops an hour; nothing
    /// for a curve whose shape is given.
    #[must_use]
    pub fn rate_interval(&self) -> Option<f64> {
        (self.lever > 0.0).then(|| self.half / square_root(self.lever) * 3600.0)
    }
}

struct Times {
    middle: Moment,
    lever: f64,
}

impl Times {
    fn of(readings: &[TimedReading]) -> Option<Self> {
        let first = readings.first()?.moment;
        let since = |reading: &TimedReading| reading.moment.seconds_since(first);
        let middle = first.later_by(mean(readings, since));
        let away = |reading: &TimedReading| reading.moment.seconds_since(middle);
        let lever = readings.iter().map(|r| away(r) * away(r)).sum();
        Some(Self { middle, lever })
    }
}

fn mean(readings: &[TimedReading], of: impl Fn(&TimedReading) -> f64) -> f64 {
    readings.iter().map(of).sum::<f64>() / count(readings)
}

fn count(readings: &[TimedReading]) -> f64 {
    u32::try_from(readings.len()).map_or(f64::MAX, f64::from)
}

fn half_width(
    readings: &[TimedReading],
    missed: impl Fn(&TimedReading) -> f64,
    fitted: usize,
) -> f64 {
    let squares = readings.iter().map(|r| missed(r) * missed(r)).sum();
    interval(squares, readings.len(), fitted)
}

/// Half-width of the 95 % interval of one reading about what was fitted.
fn interval(squares: f64, readings: usize, fitted: usize) -> f64 {
    let floor = NORMAL * READING_DEVIATION;
    let Some(freedom) = readings.checked_sub(fitted).filter(|left| *left > 0) else {
        return floor;
    };
    let exact = u32::try_from(freedom).map_or(f64::MAX, f64::from);
    let expanded = NORMAL + (2.372 + 2.823 / exact) / exact;
    let student = (STUDENT.get(freedom - 1).copied()).unwrap_or(expanded);
    (student * square_root(squares / exact)).max(floor)
}

/// The sun's height, in degrees.
fn height(observer: Observer, moment: Moment) -> f64 {
    sun_position(observer, moment).direction.elevation_degrees()
}

/// How far clear skies stray from the curve then, in stops.
fn strays_at(observer: Observer, moment: Moment) -> f64 {
    Elevation::new(height(observer, moment)).map_or(0.0, |sun| strays(sun).stops())
}

/// The clear sky's light on a stop scale; `None` beyond the model.
fn clear_stops(observer: Observer, moment: Moment) -> Option<f64> {
    let sun = height(observer, moment);
    let elevation = Elevation::new(sun).ok().filter(|_| sun >= HOLDS.min)?;
    clear_sky(elevation)
        .ok()
        .map(|light| libm::log2(light.lux()))
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::*;
    use crate::quantity::{Latitude, Longitude};
    use crate::setup::Location;

    fn reading(minutes: f64, light: f64) -> TimedReading {
        TimedReading {
            moment: Moment::EPOCH.later_by(1.7e9 + minutes * 60.0),
            light: Stops::computed(light),
        }
    }

    #[test]
    fn a_line_through_two_readings_goes_through_both() {
        let readings = [reading(0.0, 10.0), reading(30.0, 9.0)];
        let trend = Trend::straight(&readings).unwrap();
        for reading in readings {
            let light = trend.light_at(reading.moment).unwrap().stops();
            assert!((light - reading.light.stops()).abs() < 1e-9);
        }
        assert!((trend.rate_at(readings[0].moment).unwrap() + 2.0).abs() < 1e-9);
        // A third's worth at each end: 1.96·0.0962·√2/0.5 h.
        assert!((trend.rate_interval().unwrap() - 0.5334).abs() < 1e-3);
    }

    #[test]
    fn the_line_and_its_interval_agree_with_the_normal_equations() {
        // Times −1, 0, 1, 2 h and light 9, 8.4, 7.9, 7.1 by hand: middle 0.5 h,
        // Sxx 5, Sxy −3.1, rate −0.62, squares left 1.94 − 3.1²/5 = 0.018 over two
        // degrees of freedom give t·s = 4.303·0.09487 = 0.4082.
        let readings = [(-1.0, 9.0), (0.0, 8.4), (1.0, 7.9), (2.0, 7.1)]
            .map(|(hours, light)| reading(hours * 60.0, light));
        let trend = Trend::straight(&readings).unwrap();
        assert!((trend.rate_at(readings[0].moment).unwrap() + 0.62).abs() < 1e-9);
        assert!((trend.rate_interval().unwrap() - 0.4082 / 5f64.sqrt()).abs() < 1e-3);
        let last = trend.interval_at(readings[3].moment).stops();
        assert!((last - 0.4082 * (0.25f64 + 2.25 / 5.0).sqrt()).abs() < 1e-3);
    }

    #[test]
    fn one_moment_is_no_trend() {
        assert!(Trend::straight(&[]).is_none());
        assert!(Trend::straight(&[reading(5.0, 9.0), reading(5.0, 8.0)]).is_none());
    }

    #[test]
    fn the_interval_widens_away_from_the_readings() {
        let readings = [reading(0.0, 10.0), reading(20.0, 9.7), reading(40.0, 9.3)];
        let trend = Trend::straight(&readings).unwrap();
        let at = |minutes| trend.interval_at(reading(minutes, 0.0).moment).stops();
        assert!(at(20.0) < at(40.0) && at(40.0) < at(120.0));
    }

    #[test]
    fn the_clear_sky_falls_ever_faster_at_dusk() {
        let observer = Observer::at(Location {
            latitude: Latitude::new(45.0).unwrap(),
            longitude: Longitude::new(0.0).unwrap(),
        });
        // 2024-06-20; the sun sets there at about 19:50 UTC.
        let at = |hour: f64| Moment::EPOCH.later_by(1_718_841_600.0 + hour * 3600.0);
        let readings = [TimedReading {
            moment: at(18.0),
            light: Stops::computed(9.0),
        }];
        let trend = Trend::clear_sky(&readings, observer).unwrap();
        assert!((trend.light_at(at(18.0)).unwrap().stops() - 9.0).abs() < 1e-9);
        let rates = [17.0, 18.5, 19.7, 20.2].map(|hour| trend.rate_at(at(hour)).unwrap());
        assert!(rates.windows(2).all(|pair| pair[1] < pair[0]), "{rates:?}");
        assert!(trend.light_at(at(24.0)).is_none());
    }

    #[test]
    fn a_low_sun_is_followed_and_a_high_one_is_a_line() {
        let observer = Observer::at(Location {
            latitude: Latitude::new(45.0).unwrap(),
            longitude: Longitude::new(0.0).unwrap(),
        });
        let at = |hour: f64| Moment::EPOCH.later_by(1_718_841_600.0 + hour * 3600.0);
        let read = |hours: [f64; 2]| {
            hours.map(|hour| TimedReading {
                moment: at(hour),
                light: Stops::computed(9.0),
            })
        };
        let noon = Trend::by_the_sun(&read([11.0, 12.0]), observer, at(14.0)).unwrap();
        assert!(!noon.follows_sky() && noon.holds_until(at(12.0)).is_some());
        let dusk = Trend::by_the_sun(&read([16.0, 17.0]), observer, at(20.0)).unwrap();
        assert!(dusk.follows_sky() && dusk.holds_until(at(17.0)).is_none());
        // One reading makes no line at any hour.
        let one = Trend::by_the_sun(&read([12.0, 12.0])[..1], observer, at(13.0)).unwrap();
        assert!(one.follows_sky());
    }

    #[test]
    fn what_skies_stray_between_the_reading_and_then_is_in_the_interval() {
        // The sun from some 17° at 18:00 down to 2° at 19:35.
        let observer = Observer::at(Location {
            latitude: Latitude::new(45.0).unwrap(),
            longitude: Longitude::new(0.0).unwrap(),
        });
        let at = |hour: f64| Moment::EPOCH.later_by(1_718_841_600.0 + hour * 3600.0);
        let reading = TimedReading {
            moment: at(18.0),
            light: Stops::computed(9.0),
        };
        let trend = Trend::clear_sky(&[reading], observer).unwrap();
        let wide = |hour| trend.interval_at(at(hour)).stops();
        assert!((wide(18.0) - NORMAL * READING_DEVIATION).abs() < 1e-9);
        let rough = trend.read_to(Stops::computed(0.5));
        assert!((rough.interval_at(at(18.0)).stops() - NORMAL * 0.5).abs() < 1e-9);
        assert_eq!(trend.read_to(Stops::ZERO), trend);
        assert!(
            wide(18.8) > wide(18.0) && wide(19.5) > 1.0,
            "{}",
            wide(19.5)
        );
    }
}
