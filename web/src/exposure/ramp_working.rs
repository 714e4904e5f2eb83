//! How the last moment of a ramp is worked out.

use super::ramp::{RampHeldBy, RampReply, RampRequest};
use crate::shapes::working::{EXPOSURE, Step, TermName, TermReply, TermUnit, Working};
use glasscall_core::setup::{Settings, Shutter};

const EVENLY: &str = "rate and angle change evenly, the iris evenly in stops";

/// The terms of the last moment that is reached.
pub(crate) fn working(
    request: &RampRequest,
    (from, to): (Settings, Settings),
    reply: &RampReply,
) -> Option<Vec<TermReply>> {
    let last = reply.steps.last()?;
    let mut working = Working::default();
    let rate = |set: Settings| (set.frame_rate.per_second(), TermUnit::PerSecond);
    let stop = |set: Settings| (set.aperture.number(), TermUnit::Aperture);
    working.given("r", TermName::StartRate, rate(from), "from.frameRate");
    working.given("e", TermName::EndRate, rate(to), "to.frameRate");
    working.given("N", TermName::StartStop, stop(from), "from.aperture");
    let share = (last.at, TermUnit::Share);
    working.given("s", TermName::ShareThrough, share, "");
    let moved = (
        "R",
        TermName::RateThen,
        TermUnit::PerSecond,
        "r + (e - r) * s",
        EVENLY,
    );
    working.steps(&[moved])?;
    times(&mut working, request.by, from, to)?;
    let iris = if request.by == RampHeldBy::Iris {
        "N"
    } else {
        working.given("M", TermName::EndStop, stop(to), "to.aperture");
        "N * (M/N) ^ s"
    };
    let brighter = "log2(T/t) - 2 * log2(B/N)";
    working.steps(&[
        ("B", TermName::StopThen, TermUnit::Aperture, iris, EVENLY),
        (
            "k",
            TermName::BrighterThen,
            TermUnit::Stops,
            brighter,
            EXPOSURE,
        ),
    ])?;
    let (held, unit, told): (_, _, f64) = match request.by {
        RampHeldBy::Angle => ("360 * R * T/2 ^ k", TermUnit::Deg, last.shutter_angle_deg?),
        RampHeldBy::Iris => ("B * 2 ^ (k/2)", TermUnit::Aperture, last.aperture),
        RampHeldBy::Turn => ("k", TermUnit::Stops, last.turn_stops),
    };
    let step: Step<'_> = ("x", TermName::HeldBy, unit, held, EXPOSURE);
    working.steps(&[step])?;
    let agrees = working.tells("x", told) && working.tells("R", last.frame_rate);
    agrees.then(|| working.terms())
}

/// The exposure time at the start and then, before anything holds.
fn times(working: &mut Working, by: RampHeldBy, from: Settings, to: Settings) -> Option<()> {
    match (from.shutter, to.shutter) {
        (Shutter::Angle(start), end) => {
            let start = (start.degrees(), TermUnit::Deg);
            working.given("w", TermName::StartAngle, start, "from.shutterAngleDeg");
            working.open_for("t", TermName::StartTime, ("w", "r"))?;
            let then = match end {
                Shutter::Angle(end) if by != RampHeldBy::Angle => {
                    let end = (end.degrees(), TermUnit::Deg);
                    working.given("v", TermName::EndAngle, end, "to.shutterAngleDeg");
                    "w + (v - w) * s"
                }
                _ => "w",
            };
            let angle = ("A", TermName::AngleThen, TermUnit::Deg, then, EVENLY);
            working.steps(&[angle])?;
            working.open_for("T", TermName::TimeThen, ("A", "R"))
        }
        (Shutter::Time(time), _) => {
            let time = (time.seconds(), TermUnit::Seconds);
            working.given("t", TermName::StartTime, time, "from.shutterSeconds");
            working.steps(&[("T", TermName::TimeThen, TermUnit::Seconds, "t", EVENLY)])
        }
    }
}
