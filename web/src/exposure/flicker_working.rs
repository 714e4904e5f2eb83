//! How lamps on the mains, shutter and bands are worked out.

use super::flicker::{FlickerReply, FlickerRequest, MainsReply};
use crate::shapes::working::{BY_ANGLE, Step, TermName, TermReply, TermUnit, Working};

const PULSES: &str = "a lamp on alternating current pulses twice a cycle; own derivation";
const WHOLE: &str = "the mean over whole pulses does not depend on where they begin";
const MEAN: &str = "mean of 1 + cos over the exposure; own derivation";
const LINES: &str = "each line begins later by its share of the readout; own derivation";

/// The terms for each mains, numbered as they are given.
pub(crate) fn working(
    request: &FlickerRequest,
    readout: f64,
    reply: &FlickerReply,
) -> Option<Vec<TermReply>> {
    let mut working = Working::default();
    let rate = (request.frame_rate, TermUnit::PerSecond);
    working.given("r", TermName::Rate, rate, "frameRate");
    if let Some(angle) = request.shutter_angle_deg {
        let angle = (angle, TermUnit::Deg);
        working.given("w", TermName::ShutterAngle, angle, "shutterAngleDeg");
        working.open_for("t", TermName::Time, ("w", "r"))?;
    } else if let Some(time) = request.shutter_seconds {
        let time = (time, TermUnit::Seconds);
        working.given("t", TermName::Time, time, "shutterSeconds");
        let angle = (
            "w",
            TermName::ShutterAngle,
            TermUnit::Deg,
            "360 * r * t",
            BY_ANGLE,
        );
        working.steps(&[angle])?;
    }
    let read = (readout, TermUnit::Seconds);
    (working.given("q", TermName::Readout, read, "readoutSeconds"))
        .unless(request.readout_seconds.is_some());
    for (nth, mains) in reply.mains.iter().enumerate() {
        under(&mut working, request, nth, mains)?;
    }
    Some(working.terms())
}

/// One mains: its pulses, what they do to this shutter, the safe angle next to it.
fn under(
    working: &mut Working,
    request: &FlickerRequest,
    nth: usize,
    mains: &MainsReply,
) -> Option<()> {
    let own = |sign: &str| format!("{sign}{nth}");
    let hertz = (mains.mains_hz, TermUnit::Hertz);
    (working.given(
        &own("m"),
        TermName::Mains,
        hertz,
        &format!("mainsHz[{nth}]"),
    ))
    .unless(request.mains_hz.is_some());
    let mut put = |sign: &str, what, unit, formula: &str, source| {
        // `#` stands for which mains it is.
        let formula = formula.replace('#', &nth.to_string());
        let step: Step<'_> = (&own(sign), what, unit, &formula, source);
        working.steps(&[step])
    };
    let number = TermUnit::Number;
    put("P", TermName::PulsesAFrame, number, "2 * m#/r", PULSES)?;
    let beat = "sqrt((P# - round(P#)) ^ 2) * r";
    put("b", TermName::Beat, TermUnit::Hertz, beat, PULSES)?;
    put("B", TermName::Bands, number, "2 * m# * q", LINES)?;
    let given = mains.given.as_ref();
    if let Some(judged) = given {
        put("X", TermName::PulsesCaught, number, "2 * m# * t", PULSES)?;
        let ripple = "sqrt((sin(180 * X#)/(3.14159265358979 * X#)) ^ 2)";
        put("y", TermName::Ripple, TermUnit::Share, ripple, MEAN)?;
        if judged.nearest_safe_deg.is_some() {
            let whole = "min(max(round(w/360 * P#), 1), max(floor(P# + 0.000000001), 1))";
            put("n", TermName::WholePulses, number, whole, WHOLE)?;
            let safe = "min(360 * n#/P#, 360)";
            put("S", TermName::SafeAngle, TermUnit::Deg, safe, WHOLE)?;
            let loss = "log2(w/S#)";
            put(
                "k",
                TermName::AngleLoss,
                TermUnit::Stops,
                loss,
                "a stop is a factor of 2",
            )?;
        }
    }
    let tells = |sign: &str, told: f64| working.tells(&own(sign), told);
    let agrees = tells("b", mains.beat_hz)
        && tells("B", mains.bands)
        && given.is_none_or(|judged| {
            tells("y", judged.ripple)
                && (judged.nearest_safe_deg).is_none_or(|safe| tells("S", safe))
                && (judged.nearest_loss_stops).is_none_or(|stops| tells("k", stops))
        });
    agrees.then_some(())
}
