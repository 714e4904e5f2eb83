//! How the sun's place and its day are worked out.
//!
//! What the series of the source come to is put in as it is: they have some
//! hundred terms. From there on a hand can follow.

use super::sun::{SunReply, SunRequest};
use super::sun_day::{SunDayReply, SunDayRequest};
use crate::shapes::working::{Step, TermName, TermReply, TermUnit, Working};
use glasscall_core::physics::sun::{
    EARTH_LAG_SECONDS, RISE_AND_SET_DEPTH, SunFromEarth, sun_from_earth,
};
use glasscall_core::physics::sun_day::SunDay;
use glasscall_core::quantity::Moment;
use glasscall_core::setup::Uncertainties;

const SERIES: &str = "NREL/TP-560-34302 (2008), 3.2 to 3.11, series of some hundred terms";
const SIDEREAL: &str = "NREL/TP-560-34302 (2008), equations 28 and 29";
const PLACE: &str = "NREL/TP-560-34302 (2008), 3.12 to 3.14, with vectors";
const AIR: &str = "NREL/TP-560-34302 (2008), equation 42";
const BELOW: &str = "NREL/TP-560-34302 (2008), equation 42; below the horizon NOAA, own constant";
const ALMANAC: &str = "upper limb and refraction, 16' and 34' by the almanac";
const TRIANGLE: &str = "spherical triangle of pole, zenith and sun";
const AT_MOST: &str = "JCGM 100:2008, 5.1.2; the sun moves 360 degrees a day at the most";
const MERIDIAN: &str = "the sun passes a degree of longitude in 4 minutes";
const CLOCK: &str = "the sky turns 360.98564736629 degrees a day";

const fn deg(value: f64) -> (f64, TermUnit) {
    (value, TermUnit::Deg)
}

const fn step<'a>(
    symbol: &'a str,
    what: TermName,
    unit: TermUnit,
    formula: &'a str,
    source: &'a str,
) -> Step<'a> {
    (symbol, what, unit, formula, source)
}

/// The terms of where the sun stands.
pub(crate) fn place(
    request: &SunRequest,
    (moment, known): (Moment, &Uncertainties),
    reply: &SunReply,
) -> Option<Vec<TermReply>> {
    let sun = sun_from_earth(moment, EARTH_LAG_SECONDS);
    let mut working = Working::default();
    let (latitude, longitude) = (request.latitude_deg, request.longitude_deg);
    at(&mut working, latitude, longitude);
    let days = (sun.days, TermUnit::Number);
    working.given("d", TermName::DaysSince, days, "time");
    series(&mut working, sun);
    sidereal(&mut working)?;
    let past = "g + l - a - 360 * floor((g + l - a)/360 + 0.5)";
    let name = TermName::HourAngle;
    working.steps(&[step("H", name, TermUnit::Deg, past, SIDEREAL)])?;
    towards(&mut working, "cos(c) * cos(H)", "cos(c) * sin(H)")?;
    working.steps(&[
        step(
            "A",
            TermName::SunTowards,
            TermUnit::Deg,
            "180 + atan2(w, -N)",
            PLACE,
        ),
        step(
            "h",
            TermName::SunHeight,
            TermUnit::Deg,
            "atan2(U, sqrt(N ^ 2 + w ^ 2))",
            PLACE,
        ),
    ])?;
    lifted(&mut working, reply.elevation_deg)?;
    let agrees = working.tells("A", reply.azimuth_deg)
        && working.tells("h", reply.elevation_deg)
        && working.tells("k", reply.apparent_elevation_deg);
    if !agrees {
        return None;
    }
    unsure_height(&mut working, request, known)?;
    Some(working.terms())
}

/// How well the height is known, by clock and place or as somebody says.
fn unsure_height(working: &mut Working, request: &SunRequest, known: &Uncertainties) -> Option<()> {
    if let Some(degrees) = known.sun_degrees {
        let field = "uncertainty.sunElevationDeg";
        working.given("u", TermName::HeightUnsure, deg(degrees), field);
        return Some(());
    }
    let said = request.uncertainty.as_ref();
    let clock = (known.clock_seconds, TermUnit::Seconds);
    (working.given(
        "o",
        TermName::ClockUnsure,
        clock,
        "uncertainty.clockSeconds",
    ))
    .unless(said.is_some_and(|said| said.clock_seconds.is_some()));
    unsure_place(
        working,
        known,
        said.is_some_and(|said| said.place_deg.is_some()),
    );
    let together = "sqrt((o * 360/86400) ^ 2 + i ^ 2)";
    working.steps(&[step(
        "u",
        TermName::HeightUnsure,
        TermUnit::Deg,
        together,
        AT_MOST,
    )])
}

fn unsure_place(working: &mut Working, known: &Uncertainties, said: bool) {
    let (field, place) = ("uncertainty.placeDeg", deg(known.place_degrees));
    (working.given("i", TermName::PlaceUnsure, place, field)).unless(said);
}

/// Sidereal time at Greenwich.
fn sidereal(working: &mut Working) -> Option<()> {
    let (share, turned) = (TermUnit::Number, TermUnit::Deg);
    working.steps(&[
        step("j", TermName::Centuries, share, "d/36525", SIDEREAL),
        step("g", TermName::SiderealTime, turned, SIDEREAL_TIME, SIDEREAL),
    ])
}

const SIDEREAL_TIME: &str =
    "280.46061837 + 360.98564736629 * d + j ^ 2 * (0.000387933 - j/38710000) + n";

fn at(working: &mut Working, latitude: f64, longitude: f64) {
    working.given("b", TermName::Latitude, deg(latitude), "latitudeDeg");
    working.given("l", TermName::Longitude, deg(longitude), "longitudeDeg");
}

fn series(working: &mut Working, sun: SunFromEarth) {
    for (symbol, name, value) in [
        ("a", TermName::RightAscension, sun.right_ascension),
        ("c", TermName::Declination, sun.declination),
        ("q", TermName::Parallax, sun.parallax),
        ("n", TermName::Nutation, sun.equinox_shift),
    ] {
        (working.given(symbol, name, deg(value), "")).from(SERIES);
    }
}

/// The way to the sun from the place: Earth's radius taken off it, as far as the
/// parallax makes it.
fn towards(working: &mut Working, meridian: &str, west: &str) -> Option<()> {
    let meridian = format!("{meridian} - sin(q) * cos(f)");
    let number = TermUnit::Number;
    working.steps(&[
        step(
            "f",
            TermName::FlatLatitude,
            TermUnit::Deg,
            "atan2(0.99664719 * sin(b), cos(b))",
            PLACE,
        ),
        step("m", TermName::TowardsMeridian, number, &meridian, PLACE),
        step("w", TermName::TowardsWest, number, west, PLACE),
        step(
            "x",
            TermName::AlongAxis,
            number,
            "sin(c) - sin(q) * 0.99664719 * sin(f)",
            PLACE,
        ),
        step(
            "N",
            TermName::TowardsNorth,
            number,
            "x * cos(b) - m * sin(b)",
            PLACE,
        ),
        step(
            "U",
            TermName::TowardsZenith,
            number,
            "x * sin(b) + m * cos(b)",
            PLACE,
        ),
    ])
}

/// As the air shows it, 1010 hPa and 10 °C.
fn lifted(working: &mut Working, height: f64) -> Option<()> {
    let (formula, source) = if height >= -RISE_AND_SET_DEPTH {
        ("1.02/(60 * tan(h + 10.3/(h + 5.11)))", AIR)
    } else {
        let depth = deg(-RISE_AND_SET_DEPTH);
        (working.given("s", TermName::RiseDepth, depth, "")).from(ALMANAC);
        (
            "1.02/(60 * tan(s + 10.3/(s + 5.11))) * tan(s)/tan(h)",
            BELOW,
        )
    };
    working.steps(&[
        step("r", TermName::Refraction, TermUnit::Deg, formula, source),
        step("k", TermName::SeenHeight, TermUnit::Deg, "h + r", AIR),
    ])
}

/// A sun whose own way changes a rise by more than this is not told by the
/// declination at noon, minutes.
const NEAR: f64 = 30.0;

/// The terms of noon, rise and set, in minutes after midnight UTC of the day
/// whose noon it is.
pub(crate) fn day(
    request: &SunDayRequest,
    (day, known): (&SunDay, &Uncertainties),
    reply: &SunDayReply,
) -> Option<Vec<TermReply>> {
    let sun = sun_from_earth(day.noon, EARTH_LAG_SECONDS);
    // The day by the sun there: noon UTC less the longitude is its noon.
    let whole = libm::round(sun.days + request.longitude_deg / 360.0);
    let minutes = |moment: Moment| (moment.days_since_2000() - whole) * 1440.0 + 720.0;
    let mut working = Working::default();
    at(&mut working, request.latitude_deg, request.longitude_deg);
    working.given("d", TermName::DaysSince, (whole, TermUnit::Number), "date");
    series(&mut working, sun);
    sidereal(&mut working)?;
    let noon = "720 + (a - g - 360 * floor((a - g)/360 + 0.5) - l) * 1440/360.98564736629";
    let name = TermName::NoonAfter;
    working.steps(&[step("M", name, TermUnit::Minutes, noon, CLOCK)])?;
    if !working.tells("M", minutes(day.noon)) {
        return None;
    }
    towards(&mut working, "cos(c)", "0")?;
    working.steps(&[step(
        "h",
        TermName::NoonHeight,
        TermUnit::Deg,
        "atan2(U, sqrt(N ^ 2))",
        PLACE,
    )])?;
    if !working.tells("h", reply.noon_elevation_deg) {
        return None;
    }
    let before = working.len();
    if crossings(&mut working, day, minutes).is_none() {
        working.cut(before);
    }
    let said = request.uncertainty.as_ref();
    unsure_place(
        &mut working,
        known,
        said.is_some_and(|said| said.place_deg.is_some()),
    );
    let (name, after) = (TermName::MovesNoon, TermUnit::Minutes);
    working.steps(&[step("u", name, after, "4 * i/cos(b)", MERIDIAN)])?;
    Some(working.terms())
}

/// Rise and set, half a day from noon by the declination then, and what the sun
/// moves on besides.
fn crossings(working: &mut Working, day: &SunDay, minutes: impl Fn(Moment) -> f64) -> Option<()> {
    let depth = deg(RISE_AND_SET_DEPTH);
    (working.given("p", TermName::RiseDepth, depth, "")).from(ALMANAC);
    let cosine = "(-sin(p) - sin(b) * sin(c))/(cos(b) * cos(c))";
    working.steps(&[step(
        "v",
        TermName::HalfDayCosine,
        TermUnit::Number,
        cosine,
        TRIANGLE,
    )])?;
    // Beyond 1 either way it neither rises nor sets: the terms tell that much.
    if working.value("v")?.abs() > 1.0 {
        return Some(());
    }
    let after = TermUnit::Minutes;
    working.steps(&[step("S", TermName::HalfDay, after, "4 * acos(v)", TRIANGLE)])?;
    for (moment, symbols, name, formula) in [
        (day.sun.up, ("o", "R"), TermName::RiseAfter, "M - S + o"),
        (day.sun.down, ("e", "Z"), TermName::SetAfter, "M + S + e"),
    ] {
        let Some(told) = moment.map(&minutes) else {
            continue;
        };
        let half = working.value("S")?;
        let plain = working.value("M")?
            + if name == TermName::RiseAfter {
                -half
            } else {
                half
            };
        let drift = told - plain;
        // A rise of the next day is another day's.
        if drift.abs() > NEAR {
            continue;
        }
        (working.given(symbols.0, TermName::DayDrift, (drift, after), "")).from(SERIES);
        working.steps(&[step(symbols.1, name, after, formula, TRIANGLE)])?;
    }
    Some(())
}
