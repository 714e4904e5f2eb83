//! How the needs of a day are worked out: each by the first way of shooting it.

use super::day_needs::{DayNeedReply, DayNeedsReply};
use crate::shapes::working::{EXPOSURE, TermName, TermReply, TermUnit, Working};
use glasscall_core::setup::{Settings, Shutter};

/// More needs than this are a list, no sum that a hand follows.
const FEW: usize = 16;

/// The terms of every need, too dark ones last.
pub(crate) fn working(
    (reading, shot): (Settings, Settings),
    reply: &DayNeedsReply,
) -> Option<Vec<TermReply>> {
    if reply.needs.len() + reply.too_dark.len() > FEW {
        return None;
    }
    let mut working = Working::default();
    for (index, name, settings, field) in [
        ("S0", TermName::ReadIndex, reading, "reading.exposureIndex"),
        ("S1", TermName::ShotIndex, shot, "shot.exposureIndex"),
    ] {
        let is = (settings.exposure_index.index(), TermUnit::Index);
        working.given(index, name, is, field);
    }
    let rate = reading.frame_rate.per_second();
    time(&mut working, "0", (reading, rate), ("reading", true))?;
    let needs = reply.needs.iter().chain(&reply.too_dark);
    for (nth, need) in needs.enumerate() {
        one(&mut working, &format!("{}", nth + 1), shot, need)?;
    }
    Some(working.terms())
}

/// The exposure time at a frame rate: `t` and the mark.
fn time(
    working: &mut Working,
    mark: &str,
    (settings, rate): (Settings, f64),
    (path, reads): (&str, bool),
) -> Option<()> {
    let [time, per_second, open] = ["t", "r", "w"].map(|letter| format!("{letter}{mark}"));
    let [is_time, is_rate, is_angle] = if reads {
        [TermName::ReadTime, TermName::ReadRate, TermName::ReadAngle]
    } else {
        [TermName::ShotTime, TermName::ShotRate, TermName::ShotAngle]
    };
    match settings.shutter {
        Shutter::Angle(angle) => {
            let (rate, angle) = (
                (rate, TermUnit::PerSecond),
                (angle.degrees(), TermUnit::Deg),
            );
            working.given(&per_second, is_rate, rate, &format!("{path}.frameRate"));
            working.given(&open, is_angle, angle, &format!("{path}.shutterAngleDeg"));
            working.open_for(&time, is_time, (&open, &per_second))
        }
        Shutter::Time(seconds) => {
            let seconds = (seconds.seconds(), TermUnit::Seconds);
            working.given(&time, is_time, seconds, &format!("{path}.shutterSeconds"));
            Some(())
        }
    }
}

/// What the glass must take for one light, stop and frame rate.
fn one(working: &mut Working, mark: &str, shot: Settings, need: &DayNeedReply) -> Option<()> {
    let way = need.ways.first()?;
    let [light, stop, takes] = ["A", "N", "n"].map(|letter| format!("{letter}{mark}"));
    let read = (way.light_aperture, TermUnit::Aperture);
    working.given(&light, TermName::ReadAperture, read, "lights");
    let wanted = working.given(
        &stop,
        TermName::ShotAperture,
        (way.aperture, TermUnit::Aperture),
        "wanted",
    );
    if let Some(lens) = &way.lens {
        wanted.of(lens, None);
    }
    time(working, mark, (shot, way.frame_rate), ("shot", false))?;
    let formula = format!("2 * log2({light}/{stop}) + log2(t{mark}/t0) + log2(S1/S0)");
    let unit = TermUnit::Stops;
    working.steps(&[(&takes, TermName::Need, unit, &formula, EXPOSURE)])?;
    working.tells(&takes, need.stops).then_some(())
}
