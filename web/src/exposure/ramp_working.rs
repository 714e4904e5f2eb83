//! How the last moment of a ramp is worked out.

use super::ramp::{RampHeldBy, RampReply, RampRequest};
use crate::shapes::working::{Step, TermName, TermReply, TermUnit, Working};
use glasscall_core::setup::{Settings, Shutter};

const EVENLY: &str = "rate and angle change evenly, the iris evenly in stops";
const ANGLE: &str = "t = angle/(360 * fps)";
const EXPOSURE: &str = "ISO 2720:1974";

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
    let then = match (from.shutter, to.shutter) {
        (Shutter::Angle(start), end) => {
            let start = (start.degrees(), TermUnit::Deg);
            working.given("w", TermName::StartAngle, start, "from.shutterAngleDeg");
            let time = (
                "t",
                TermName::StartTime,
                TermUnit::Seconds,
                "w/(360 * r)",
                ANGLE,
            );
            working.steps(&[time])?;
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
            "A/(360 * R)"
        }
        (Shutter::Time(time), _) => {
            let time = (time.seconds(), TermUnit::Seconds);
            working.given("t", TermName::StartTime, time, "from.shutterSeconds");
            "t"
        }
    };
    let time = ("T", TermName::TimeThen, TermUnit::Seconds, then, ANGLE);
    working.steps(&[time])
}
