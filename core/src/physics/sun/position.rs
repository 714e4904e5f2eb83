//! Where the sun stands.

use super::air::{Air, refraction};
use super::series::{
    LATITUDE_0, LONGITUDE_0, LONGITUDE_1, LONGITUDE_2, NUTATION, RADIUS_0, RADIUS_1,
};
use crate::quantity::{AirPressure, AirTemperature, Direction, Length, Moment};
use crate::setup::Location;

/// Earth's rotation behind uniform time (ΔT), in seconds.
///
/// It was 69 in 2020. An error of a minute moves the sun by 0.0007°; what UTC
/// itself may drift from Earth's rotation by 2060 is of the order of 0.01°.
pub const EARTH_LAG_SECONDS: f64 = 69.0;

/// Who looks, from where.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Observer {
    /// Latitude and longitude.
    pub place: Location,
    /// Height above the sea.
    pub height: Length,
    /// The air there.
    pub air: Air,
    /// ΔT in seconds.
    pub earth_lag: f64,
}

impl Observer {
    /// At sea level, in the air the refraction formula is made for: 1010 hPa
    /// and 10 °C.
    #[must_use]
    pub const fn at(place: Location) -> Self {
        Self {
            place,
            height: Length::ZERO,
            air: Air {
                pressure: AirPressure::constant(1010.0),
                temperature: AirTemperature::constant(10.0),
            },
            earth_lag: EARTH_LAG_SECONDS,
        }
    }
}

/// The sun in the sky.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SunPosition {
    /// Where its centre is, air apart.
    pub direction: Direction,
    /// How much higher the air shows it, in degrees; it dies away when it is down.
    pub lifted_by: f64,
    /// Hour angle in degrees, [−180, 180): negative before noon.
    pub hour_angle: f64,
}

/// The sun's position.
///
/// # Units
///
/// Azimuth clockwise from true north and elevation of the centre in degrees,
/// as seen from the place (topocentric).
///
/// # Accuracy
///
/// Within 0.0001° of the full algorithm from 2000 to 2060 at all latitudes; 0.02°
/// is promised, which leaves room for the drift of UTC. Refraction near the
/// horizon follows the formula; on a given day the air may miss it by 0.1°.
///
/// # Source
///
/// I. Reda and A. Andreas, Solar Position Algorithm for Solar Radiation
/// Applications, NREL/TP-560-34302 (2003, revised 2008), sections 3.2 to 3.14.
///
/// # Examples
///
/// ```
/// use glasscall_core::physics::sun::{Observer, sun_position};
/// use glasscall_core::quantity::{CivilDate, Latitude, Longitude, UtcOffset};
/// use glasscall_core::setup::Location;
///
/// let equator = Location {
///     latitude: Latitude::constant(0.0),
///     longitude: Longitude::constant(0.0),
/// };
/// let day = CivilDate::new(2031, 3, 21).map(|date| date.span(UtcOffset::constant(0.0)));
/// // Midnight: the sun is under the feet, at an equinox straight.
/// let midnight = day.map(|day| sun_position(Observer::at(equator), day.start));
/// assert!(midnight.is_some_and(|sun| sun.direction.elevation_degrees() < -85.0));
/// ```
#[must_use]
pub fn sun_position(observer: Observer, moment: Moment) -> SunPosition {
    let days = moment.days_since_2000();
    let centuries = (days + observer.earth_lag / 86_400.0) / 36_525.0;
    let sun = apparent_sun(centuries);
    let greenwich = mean_sidereal(days) + sun.equinox_shift;
    let hour_angle =
        half_circle(greenwich + observer.place.longitude.degrees() - sun.right_ascension);
    let direction = from_the_place(observer, hour_angle, sun);
    SunPosition {
        direction,
        lifted_by: refraction(direction.elevation_degrees(), observer.air),
        hour_angle,
    }
}

/// What the series say of the sun at a moment, before any place comes in: what a
/// hand needs to work the position out.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SunFromEarth {
    /// Days since the noon that began 2000 in UTC.
    pub days: f64,
    /// Apparent right ascension in degrees, (−180, 180].
    pub right_ascension: f64,
    /// Apparent declination in degrees.
    pub declination: f64,
    /// The angle Earth's radius spans from the sun, in degrees.
    pub parallax: f64,
    /// How far nutation shifts sidereal time, in degrees.
    pub equinox_shift: f64,
}

/// The sun as Earth's centre sees it.
///
/// # Units
///
/// Degrees.
///
/// # Source
///
/// As [`sun_position`], sections 3.2 to 3.11.
///
/// # Examples
///
/// ```
/// use glasscall_core::physics::sun::{EARTH_LAG_SECONDS, sun_from_earth};
/// use glasscall_core::quantity::{CivilDate, UtcOffset};
///
/// // Midsummer: as far north as Earth's axis leans.
/// let day = CivilDate::new(2026, 6, 21).map(|date| date.span(UtcOffset::constant(0.0)));
/// let sun = day.map(|day| sun_from_earth(day.start, EARTH_LAG_SECONDS));
/// assert!(sun.is_some_and(|sun| (sun.declination - 23.44).abs() < 0.01));
/// ```
#[must_use]
pub fn sun_from_earth(moment: Moment, earth_lag: f64) -> SunFromEarth {
    let days = moment.days_since_2000();
    let sun = apparent_sun((days + earth_lag / 86_400.0) / 36_525.0);
    SunFromEarth {
        days,
        right_ascension: sun.right_ascension,
        declination: sun.declination.to_degrees(),
        parallax: sun.parallax.to_degrees(),
        equinox_shift: sun.equinox_shift,
    }
}

/// Mean sidereal time at Greenwich in degrees, not wrapped; `days` since 2000.
fn mean_sidereal(days: f64) -> f64 {
    let centuries = days / 36_525.0;
    280.460_618_37
        + 360.985_647_366_29 * days
        + centuries * centuries * (0.000_387_933 - centuries / 38_710_000.0)
}

/// The sun as Earth's centre sees it.
#[derive(Clone, Copy)]
struct ApparentSun {
    /// Degrees.
    right_ascension: f64,
    /// Radians.
    declination: f64,
    /// Radians; the angle Earth's radius spans from the sun.
    parallax: f64,
    /// How far nutation shifts sidereal time, in degrees.
    equinox_shift: f64,
}

/// Sections 3.2 to 3.11 of the source; `centuries` of 36 525 days since 2000.
fn apparent_sun(centuries: f64) -> ApparentSun {
    let millennia = centuries / 10.0;
    let longitude = series(&LONGITUDE_0, millennia)
        + millennia
            * (series(&LONGITUDE_1, millennia) + millennia * series(&LONGITUDE_2, millennia));
    let latitude = -series(&LATITUDE_0, millennia);
    let radius = series(&RADIUS_0, millennia) + millennia * series(&RADIUS_1, millennia);
    let (in_longitude, in_obliquity) = nutation(centuries);
    let obliquity = (mean_obliquity(centuries) + in_obliquity).to_radians();
    let aberration = -20.4898 / (3600.0 * radius);
    // Earth seen from the sun lies opposite to the sun seen from Earth.
    let longitude = longitude + (180.0 + in_longitude + aberration).to_radians();
    let (sin_long, cos_long) = libm::sincos(longitude);
    let (sin_tilt, cos_tilt) = libm::sincos(obliquity);
    let (sin_lat, cos_lat) = libm::sincos(latitude);
    let right_ascension = libm::atan2(sin_long * cos_tilt - sin_lat / cos_lat * sin_tilt, cos_long);
    ApparentSun {
        right_ascension: right_ascension.to_degrees(),
        declination: libm::asin(sin_lat * cos_tilt + cos_lat * sin_tilt * sin_long),
        parallax: (8.794 / (3600.0 * radius)).to_radians(),
        equinox_shift: in_longitude * cos_tilt,
    }
}

/// Σ A·cos(B + C·τ)·10⁻⁸.
fn series(rows: &[[f64; 3]], millennia: f64) -> f64 {
    let term = |[size, phase, rate]: &[f64; 3]| size * libm::cos(phase + rate * millennia);
    rows.iter().map(term).sum::<f64>() * 1e-8
}

/// Elongation of the moon, anomalies of sun and moon, the moon's argument of
/// latitude, its ascending node: degrees, not wrapped.
fn arguments(centuries: f64) -> [f64; 5] {
    let power = |c: [f64; 4]| c[0] + centuries * (c[1] + centuries * (c[2] + centuries * c[3]));
    [
        power([297.850_36, 445_267.111_48, -0.001_914_2, 1.0 / 189_474.0]),
        power([357.527_72, 35_999.050_34, -0.000_160_3, -1.0 / 300_000.0]),
        power([134.962_98, 477_198.867_398, 0.008_697_2, 1.0 / 56_250.0]),
        power([93.271_91, 483_202.017_538, -0.003_682_5, 1.0 / 327_270.0]),
        power([125.044_52, -1_934.136_261, 0.002_070_8, 1.0 / 450_000.0]),
    ]
}

/// Nutation in longitude and in obliquity, in degrees.
fn nutation(centuries: f64) -> (f64, f64) {
    let arguments = arguments(centuries);
    let (mut longitude, mut obliquity) = (0.0, 0.0);
    for (multiples, [long, long_rate, tilt, tilt_rate]) in &NUTATION {
        let angle: f64 = (multiples.iter().zip(arguments))
            .map(|(&times, argument)| f64::from(times) * argument)
            .sum();
        let (sine, cosine) = libm::sincos(angle.to_radians());
        longitude += (long + long_rate * centuries) * sine;
        obliquity += (tilt + tilt_rate * centuries) * cosine;
    }
    (longitude / 36e6, obliquity / 36e6)
}

/// Mean tilt of the ecliptic in degrees: the first terms of the source's
/// equation 24; the rest is under 10⁻⁷° within two centuries of 2000.
fn mean_obliquity(centuries: f64) -> f64 {
    let u = centuries / 100.0;
    (84_381.448 + u * (-4_680.93 + u * (-1.55 + u * 1_999.25))) / 3600.0
}

/// Earth's equatorial radius and how much shorter the polar one is.
const EARTH_RADIUS_METRES: f64 = 6_378_140.0;
const POLAR_SHARE: f64 = 0.996_647_19;

/// Sections 3.12 to 3.14 of the source with vectors: the place is as far from
/// Earth's centre as makes the parallax, so it is taken off the sun's vector.
fn from_the_place(observer: Observer, hour_angle: f64, sun: ApparentSun) -> Direction {
    let (sin_lat, cos_lat) = libm::sincos(observer.place.latitude.degrees().to_radians());
    let height = observer.height.millimetres() / 1000.0 / EARTH_RADIUS_METRES;
    let (sin_flat, cos_flat) = libm::sincos(libm::atan2(POLAR_SHARE * sin_lat, cos_lat));
    let lever = libm::sin(sun.parallax);
    let (sin_hour, cos_hour) = libm::sincos(hour_angle.to_radians());
    let (sin_dec, cos_dec) = libm::sincos(sun.declination);
    // Towards the meridian, west, and north along Earth's axis.
    let meridian = cos_dec * cos_hour - lever * (cos_flat + height * cos_lat);
    let west = cos_dec * sin_hour;
    let axis = sin_dec - lever * (POLAR_SHARE * sin_flat + height * sin_lat);
    let north = axis * cos_lat - meridian * sin_lat;
    let up = axis * sin_lat + meridian * cos_lat;
    // The sun is never at Earth's centre, so there is a direction.
    Direction::from_vector([-west, north, up]).unwrap_or(Direction::UP)
}

/// An angle in degrees as [−180, 180).
fn half_circle(degrees: f64) -> f64 {
    degrees - 360.0 * libm::floor(degrees / 360.0 + 0.5)
}

impl SunPosition {
    /// Elevation of the centre as the air shows it, in degrees.
    #[must_use]
    pub fn apparent_elevation(self) -> f64 {
        self.direction.elevation_degrees() + self.lifted_by
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::{Location, Moment, Observer, SunPosition, sun_position};
    use crate::quantity::{Latitude, Longitude};

    fn sun(latitude: f64, longitude: f64, unix: f64) -> SunPosition {
        let place = Location {
            latitude: Latitude::new(latitude).unwrap(),
            longitude: Longitude::new(longitude).unwrap(),
        };
        let moment = Moment::EPOCH.later_by(unix);
        sun_position(Observer::at(place), moment)
    }

    /// 2024-06-20T20:51Z, the June solstice: astropy 8.0.2 has the sun's longitude
    /// at 90° at 20:50:59.9.
    const SOLSTICE: f64 = 1_718_916_660.0;

    #[test]
    fn at_the_pole_the_solstice_sun_stands_as_high_as_earth_leans() {
        let north = sun(90.0, 0.0, SOLSTICE).direction.elevation_degrees();
        assert!((north - 23.436).abs() < 0.004);
        let south = sun(-90.0, 0.0, SOLSTICE).direction.elevation_degrees();
        assert!((north + south).abs() < 0.01);
    }

    #[test]
    fn the_sun_goes_from_east_to_west_in_both_hemispheres() {
        for latitude in [52.0, -34.0] {
            // Six in the morning and in the evening of an equinox at Greenwich.
            let rising = sun(latitude, 0.0, 1_710_914_400.0);
            let setting = sun(latitude, 0.0, 1_710_957_600.0);
            assert!((rising.direction.azimuth_degrees() - 90.0).abs() < 5.0);
            assert!((setting.direction.azimuth_degrees() - 270.0).abs() < 5.0);
            assert!(rising.hour_angle < 0.0 && setting.hour_angle > 0.0);
        }
    }

    #[test]
    fn a_turn_of_the_globe_is_four_minutes_a_degree() {
        let here = sun(30.0, 10.0, SOLSTICE);
        let there = sun(30.0, 11.0, SOLSTICE - 240.0);
        let apart = here.direction.degrees_to(there.direction);
        assert!(apart < 0.001, "{apart}");
    }

    fn place() -> Location {
        Location {
            latitude: Latitude::new(0.0).unwrap(),
            longitude: Longitude::new(0.0).unwrap(),
        }
    }

    #[test]
    fn the_mean_tilt_falls_as_the_source_has_it() {
        // Equation 24 ten centuries on, by hand:
        // (84 381.448 − 468.093 − 0.0155 + 1.999 25)/3600.
        assert!((super::mean_obliquity(10.0) - 83_915.338_75 / 3600.0).abs() < 1e-10);
    }

    #[test]
    fn the_reports_worked_example_comes_out() {
        // Table A5.1 of the source, 2003-10-17 19:30:30 UT, ΔT 67 s (from
        // memory); the example's day number is 2 452 930.312 847.
        let centuries = (2_452_930.312_847 + 67.0 / 86_400.0 - 2_451_545.0) / 36_525.0;
        let (longitude, obliquity) = super::nutation(centuries);
        assert!((longitude + 0.003_998_4).abs() < 1e-5, "{longitude}");
        assert!((obliquity - 0.001_666_57).abs() < 1e-5, "{obliquity}");
        let sun = super::apparent_sun(centuries);
        let ascension = sun.right_ascension + 360.0;
        assert!((ascension - 202.227_41).abs() < 3e-5, "{ascension}");
        assert!((sun.declination.to_degrees() + 9.314_34).abs() < 3e-5);
    }

    #[test]
    fn the_moon_goes_round_as_the_source_has_it_a_hundred_centuries_on() {
        // The polynomials by hand, in whole turns and decimals.
        let by_hand = [
            35.134_128_98,
            257.625_386_67,
            326.452_557_78,
            341.256_291_02,
            54.348_642_22,
        ];
        for (found, wanted) in super::arguments(100.0).into_iter().zip(by_hand) {
            let off = super::half_circle(found - wanted);
            assert!(off.abs() < 2e-8, "{wanted}: {off}");
        }
    }

    #[test]
    fn sidereal_time_comes_out_by_hand_two_centuries_on() {
        // 280.460 618 37 + 360.985 647 366 29·73 050 + 4·(0.000 387 933 − 2/38 710 000).
        let off = super::half_circle(super::mean_sidereal(73_050.0) - 282.002_277_38);
        assert!(off.abs() < 1e-8, "{off}");
    }

    #[test]
    fn nutation_agrees_with_a_second_worked_example() {
        // Meeus, Astronomical Algorithms (1998), example 22.a, 1987-04-10, as in
        // PyMeeus 0.5.12: −3.788″ and +9.443″, with more small terms than here, and
        // 23° 26′ 27.407″.
        let (longitude, obliquity) = super::nutation(-0.127_296_372_348);
        assert!((longitude * 3600.0 + 3.788).abs() < 4e-3, "{longitude}");
        assert!((obliquity * 3600.0 - 9.443).abs() < 4e-3, "{obliquity}");
        let tilt = super::mean_obliquity(-0.127_296_372_348);
        assert!((tilt - (23.0 + 26.0 / 60.0 + 27.407 / 3600.0)).abs() < 2e-7);
    }

    #[test]
    fn a_shorter_theory_puts_the_sun_there_for_four_thousand_years() {
        // Meeus, Astronomical Algorithms (1998), chapter 25, the solution of low
        // accuracy, as in PyMeeus 0.5.12: 0.01° near the present, a few times as much
        // twenty centuries off.
        for step in -100..=100_i32 {
            let t = f64::from(step) / 5.0 + 0.037;
            let mean = 280.466_46 + t * (36_000.769_83 + t * 0.000_303_2);
            let anomaly = (357.529_11 + t * (35_999.050_29 - t * 0.000_153_7)).to_radians();
            let centre = (1.914_602 - t * (0.004_817 + t * 0.000_014)) * libm::sin(anomaly)
                + (0.019_993 - t * 0.000_101) * libm::sin(2.0 * anomaly)
                + 0.000_289 * libm::sin(3.0 * anomaly);
            let node = (125.04 - 1934.136 * t).to_radians();
            let longitude = mean + centre - 0.005_69 - 0.004_78 * libm::sin(node);
            let tilt = (super::mean_obliquity(t) + 0.002_56 * libm::cos(node)).to_radians();
            let (sin_long, cos_long) = libm::sincos(longitude.to_radians());
            let ascension = libm::atan2(libm::cos(tilt) * sin_long, cos_long).to_degrees();
            let declination = libm::asin(libm::sin(tilt) * sin_long);
            let sun = super::apparent_sun(t);
            let allowed = 0.01 + 0.001 * t.abs();
            let off = super::half_circle(sun.right_ascension - ascension);
            assert!(off.abs() < allowed, "{t}: {off}");
            let off = (sun.declination - declination).to_degrees();
            assert!(off.abs() < allowed, "{t}: {off}");
        }
    }

    #[test]
    fn earths_lag_moves_the_sun_and_not_the_stars() {
        // A lag of a day: the sun stands where it does a day later, while Earth
        // has turned as far as it has.
        let observer = Observer::at(place());
        let late = Observer {
            earth_lag: observer.earth_lag + 86_400.0,
            ..observer
        };
        let at = |observer, unix| sun_position(observer, Moment::EPOCH.later_by(unix));
        let (now, lagging) = (at(observer, SOLSTICE), at(late, SOLSTICE));
        let tomorrow = at(observer, SOLSTICE + 86_400.0);
        let day = super::half_circle(super::mean_sidereal(1.0) - super::mean_sidereal(0.0));
        let moved = super::half_circle(tomorrow.hour_angle - lagging.hour_angle);
        assert!((moved - day).abs() < 1e-6, "{moved} {day}");
        assert!(super::half_circle(lagging.hour_angle - now.hour_angle) < -1.0);
    }

    /// The sun straight above Earth's equator, 1° of parallax away.
    const NEAR: super::ApparentSun = super::ApparentSun {
        right_ascension: 0.0,
        declination: 0.0,
        parallax: core::f64::consts::PI / 180.0,
        equinox_shift: 0.0,
    };

    #[test]
    fn a_near_sun_is_seen_lower_by_what_earth_is_wide_there() {
        let seen = |latitude: f64, height: f64, hour: f64| {
            let place = Location {
                latitude: Latitude::new(latitude).unwrap(),
                ..place()
            };
            let observer = Observer {
                height: crate::quantity::Length::new(height).unwrap(),
                ..Observer::at(place)
            };
            super::from_the_place(observer, hour, NEAR)
        };
        let sine = libm::sin(1_f64.to_radians());
        let lowered = |by: f64| -libm::atan(by * sine).to_degrees();
        let near = |direction: super::Direction, wanted: f64| {
            let found = direction.elevation_degrees();
            assert!((found - wanted).abs() < 1e-9, "{found}, not {wanted}");
        };
        // Setting at the equator by Earth's radius; at the poles by the polar
        // one; from a hundred kilometres up by so much more.
        near(seen(0.0, 0.0, 90.0), lowered(1.0));
        near(seen(90.0, 0.0, 0.0), lowered(0.996_647_19));
        near(seen(-90.0, 0.0, 0.0), lowered(0.996_647_19));
        let up = 100_000.0 / 6_378_140.0;
        near(seen(0.0, 1e8, 90.0), lowered(1.0 + up));
        near(seen(90.0, 1e8, 0.0), lowered(0.996_647_19 + up));
        // At 45° the place is ρ·cos φ′ = 0.708 293 from the axis and ρ·sin φ′ =
        // 0.703 552 above the equator (u = atan 0.996 647 19, by hand). With the
        // sun on the meridian its vector less the place's is turned by 45°.
        let (axis, above) = (0.708_293_170_458, 0.703_551_587_769);
        let away = [1.0 - axis * sine, -above * sine];
        let raised = libm::atan2(away[0] + away[1], away[0] - away[1]).to_degrees();
        near(seen(45.0, 0.0, 0.0), raised);
    }

    #[test]
    fn what_the_air_shows_is_the_height_and_its_lift() {
        let low = sun(52.0, 0.0, 1_710_914_400.0);
        let shown = low.direction.elevation_degrees() + low.lifted_by;
        assert_eq!(low.apparent_elevation(), shown);
        assert!(low.lifted_by > 0.1);
    }
}
