//! How a trend of the light is worked out.

use super::daylight_working::ALMANAC;
use super::drift::DriftReply;
use crate::shapes::working::{STOP_INDEX, Step, TermName, TermReply, TermUnit, Working};
use glasscall_core::answer::drift::Drift;
use glasscall_core::answer::light_trend::TimedReading;
use glasscall_core::physics::daylight::clear_sky;
use glasscall_core::physics::sun::{Observer, sun_position};
use glasscall_core::quantity::{Aperture, Elevation, Moment};
use glasscall_core::setup::Piece;

/// More readings than anyone checks by hand.
const MOST: usize = 8;
const SQUARES: &str = "ordinary least squares";

/// What a trend was made of.
pub(crate) struct Made<'a> {
    pub(crate) readings: &'a [TimedReading],
    pub(crate) observer: Option<Observer>,
    pub(crate) last: Moment,
    pub(crate) wanted: Aperture,
    pub(crate) answer: &'a Drift,
    pub(crate) kit: &'a [Piece],
}

/// The terms of the need at the last reading and at the first swap; `None` for
/// more readings than are checked by hand.
pub(crate) fn working(made: &Made<'_>, reply: &DriftReply) -> Option<Vec<TermReply>> {
    if made.readings.len() > MOST {
        return None;
    }
    let mut working = Working::default();
    let number = (made.wanted.number(), TermUnit::Aperture);
    working.given("N", TermName::ShotAperture, number, "shot.aperture");
    let index = (
        "k",
        TermName::ShotAperture,
        TermUnit::Stops,
        "2 * log2(N)",
        STOP_INDEX,
    );
    working.steps(&[index])?;
    for (nth, reading) in made.readings.iter().enumerate() {
        let after = reading.moment.seconds_since(made.readings[0].moment) / 60.0;
        let light = (reading.light.stops(), TermUnit::Stops);
        let field = |name: &str| format!("readings[{nth}].{name}");
        let (m, l) = (format!("m{nth}"), format!("l{nth}"));
        working.given(
            &m,
            TermName::After,
            (after, TermUnit::Minutes),
            &field("time"),
        );
        working.given(&l, TermName::LightOf, light, &field("aperture"));
    }
    let after = made.last.seconds_since(made.readings[0].moment) / 60.0;
    let last = (after, TermUnit::Minutes);
    working.given("m", TermName::After, last, "");
    let swap = (made.answer.swaps.first()).map(|swap| {
        (
            swap.moment.seconds_since(made.last) / 60.0,
            swap.need.stops(),
        )
    });
    if let Some((after, _)) = swap {
        working.given("w", TermName::AtSwap, (after, TermUnit::Minutes), "");
    }
    if reply.stops_per_hour_interval.is_some() {
        straight(&mut working, made.readings.len(), swap.is_some())?;
        if !working.tells("r", reply.stops_per_hour) {
            return None;
        }
    } else {
        let swap = (made.answer.swaps.first()).map(|swap| swap.moment);
        clear_sky_over(&mut working, made, swap)?;
    }
    let swapped = swap.is_none_or(|(_, need)| working.tells("o", need));
    if !swapped || !working.tells("n", reply.need_stops) {
        return None;
    }
    working.causes(
        made.answer.start_causes.iter().copied(),
        made.answer.start_known.stops,
        made.kit,
    );
    Some(working.terms())
}

/// A sum over the readings, each by its number.
fn sum(count: usize, term: impl Fn(usize) -> String) -> String {
    (0..count).map(term).collect::<Vec<_>>().join(" + ")
}

/// By a straight line.
fn straight(working: &mut Working, count: usize, swaps: bool) -> Option<()> {
    let mean = |of: &str| format!("({})/{count}", sum(count, |nth| format!("{of}{nth}")));
    let lever = sum(count, |nth| format!("(m{nth} - M) ^ 2"));
    let product = sum(count, |nth| format!("(m{nth} - M) * (l{nth} - L)"));
    let (times, lights, rate) = (mean("m"), mean("l"), format!("({product})/q"));
    let steps: [Step<'_>; 6] = [
        ("M", TermName::MeanAfter, TermUnit::Minutes, &times, SQUARES),
        ("L", TermName::MeanLight, TermUnit::Stops, &lights, SQUARES),
        ("q", TermName::Lever, TermUnit::Number, &lever, SQUARES),
        ("b", TermName::PerMinute, TermUnit::Number, &rate, SQUARES),
        (
            "r",
            TermName::PerHour,
            TermUnit::StopsPerHour,
            "60 * b",
            SQUARES,
        ),
        (
            "n",
            TermName::Need,
            TermUnit::Stops,
            "L + b * (m - M) - k",
            SQUARES,
        ),
    ];
    working.steps(&steps)?;
    if swaps {
        working.steps(&[("o", TermName::Need, TermUnit::Stops, "n + b * w", SQUARES)])?;
    }
    Some(())
}

/// By the clear sky's own curve.
fn clear_sky_over(working: &mut Working, made: &Made<'_>, swap: Option<Moment>) -> Option<()> {
    let observer = made.observer?;
    let lux = |moment: Moment| {
        let height = sun_position(observer, moment).direction.elevation_degrees();
        let light = clear_sky(Elevation::new(height).ok()?).ok()?;
        Some((light.lux(), TermUnit::Lux))
    };
    let count = made.readings.len();
    let mut clear = |symbol: &str, moment: Moment| {
        let value = lux(moment)?;
        working
            .given(symbol, TermName::Light, value, "")
            .from(ALMANAC);
        Some(())
    };
    for (nth, reading) in made.readings.iter().enumerate() {
        clear(&format!("E{nth}"), reading.moment)?;
    }
    clear("E", made.last)?;
    if let Some(moment) = swap {
        clear("F", moment)?;
    }
    let over = sum(count, |nth| format!("l{nth} - log2(E{nth})"));
    let over = format!("({over})/{count}");
    working.steps(&[
        ("L", TermName::OverSky, TermUnit::Stops, &over, SQUARES),
        (
            "n",
            TermName::Need,
            TermUnit::Stops,
            "L + log2(E) - k",
            SQUARES,
        ),
    ])?;
    if swap.is_some() {
        let need = "L + log2(F) - k";
        working.steps(&[("o", TermName::Need, TermUnit::Stops, need, SQUARES)])?;
    }
    Some(())
}
