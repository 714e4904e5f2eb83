//! `ramp`: a change during the shot at constant exposure.

use super::ramp_working::working;
use crate::plain::refusal::{At, Refusal};
use crate::shapes::settings::{SettingsRequest, shutter};
use crate::shapes::working::TermReply;
use glasscall_core::physics::ramp as law;
use glasscall_core::quantity::{Aperture, Bounds, FrameRate, OutOfRange, ShutterAngle};
use glasscall_core::setup::{Settings, Shutter};
use glasscall_derive::{FromPlain, ToPlain};
use serde::{Deserialize, Serialize};
use tsify::Tsify;

/// Steps listed unless said otherwise.
const USUAL_STEPS: usize = 9;

/// Where the ramp starts, what changes, and which control makes up for it.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct RampRequest {
    /// Settings at the start.
    pub from: SettingsRequest,
    /// What is different at the end.
    pub to: RampEndRequest,
    /// The control that holds the exposure.
    pub by: RampHeldBy,
    /// Moments listed, 2 to 200, both ends included; 9 unless said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub steps: Option<usize>,
    /// The lens's widest aperture number, where known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub widest_aperture: Option<f64>,
    /// Whether to tell how it is worked out, where a few terms tell it whole.
    #[serde(default)]
    pub explain: bool,
}

/// What is different at the end of a ramp; the rest stays.
#[derive(Debug, Clone, Default, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct RampEndRequest {
    /// Aperture number.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub aperture: Option<f64>,
    /// Frames a second.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub frame_rate: Option<f64>,
    /// Shutter angle in degrees.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub shutter_angle_deg: Option<f64>,
}

/// The control that holds the exposure.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase")]
pub enum RampHeldBy {
    /// The shutter angle.
    Angle,
    /// The iris.
    Iris,
    /// A turn of variable density.
    Turn,
}

/// The moments, and what the viewer may notice.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct RampReply {
    /// The moments that are reached, in order.
    pub steps: Vec<RampStepReply>,
    /// Where the control runs out; absent when it does not.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stuck: Option<RampStuckReply>,
    /// What else changes between the first and the last moment reached.
    pub side_effects: Vec<RampEffectReply>,
    /// How it is worked out, term by term, where that was asked and can be told.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub working: Option<Vec<TermReply>>,
}

/// One moment.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct RampStepReply {
    /// How far through, 0 to 1.
    pub at: f64,
    /// Frames a second.
    pub frame_rate: f64,
    /// Shutter angle; absent when the exposure outlasts the frame.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub shutter_angle_deg: Option<f64>,
    /// Exposure time.
    pub shutter_seconds: f64,
    /// Aperture number, exact.
    pub aperture: f64,
    /// The nearest third to it, as `T2.8⅓`.
    pub aperture_label: String,
    /// Stops the variable density takes beyond what it took at the start.
    pub turn_stops: f64,
}

/// Where a ramp sticks.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct RampStuckReply {
    /// How far through.
    pub at: f64,
    /// What the control would have to be set to.
    pub given: f64,
    /// The least it can be set to.
    pub min: f64,
    /// The most.
    pub max: f64,
}

/// Something that changes along.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct RampEffectReply {
    /// What.
    pub effect: RampEffect,
    /// At the start, in the unit of the effect.
    pub from: f64,
    /// At the last moment reached.
    pub to: f64,
}

/// What a ramp changes besides what was asked.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase")]
pub enum RampEffect {
    /// How much is in focus; aperture numbers.
    DepthOfField,
    /// How far motion smears from one frame to the next; shutter angles.
    MotionBlur,
    /// Lamps on the mains may begin to pulse; exposure times in seconds.
    Flicker,
    /// Variable density darkens wide frames unevenly, and reflections and sky
    /// change with its polarization; stops taken beyond the start.
    VariableDensity,
}

/// Answers `ramp`.
///
/// # Errors
///
/// `missing`, `oneTooMany`, `outOfRange`.
pub fn ramp(request: &RampRequest) -> Result<RampReply, Refusal> {
    let from = request.from.settings("from")?;
    let to = end(request, from)?;
    let by = match request.by {
        RampHeldBy::Angle => law::HeldBy::Angle,
        RampHeldBy::Iris => law::HeldBy::Iris,
        RampHeldBy::Turn => law::HeldBy::Turn,
    };
    let steps = steps(request.steps)?;
    let widest = (request
        .widest_aperture
        .map(Aperture::from_marking)
        .transpose())
    .at("widestAperture")?;
    let (mut reached, mut stuck) = law::ramp(from, to, by, steps);
    if let Some(widest) = widest
        && let Some(at) = (reached.iter())
            .position(|step| step.set.aperture.index() < widest.index() - ON_THE_RING)
    {
        stuck = Some(law::Stuck {
            at: reached[at].at,
            why: OutOfRange {
                bounds: Bounds::APERTURE.from(widest.number()),
                given: reached[at].set.aperture.number(),
            },
        });
        reached.truncate(at);
    }
    let mut told = RampReply {
        side_effects: side_effects(&reached).at("from.shutterSeconds")?,
        steps: (reached.into_iter().map(step_reply))
            .collect::<Result<_, _>>()
            .at("from.shutterSeconds")?,
        stuck: stuck.map(|stuck| RampStuckReply {
            at: stuck.at,
            given: stuck.why.given,
            min: stuck.why.bounds.min,
            max: stuck.why.bounds.max,
        }),
        working: None,
    };
    if request.explain {
        told.working = working(request, (from, to), &told);
    }
    Ok(told)
}

/// A label read back from stops may miss the ring by rounding.
const ON_THE_RING: f64 = 1e-9;

fn steps(given: Option<usize>) -> Result<usize, Refusal> {
    let steps = given.unwrap_or(USUAL_STEPS);
    if (2..=law::MAX_STEPS).contains(&steps) {
        return Ok(steps);
    }
    Err(Refusal::count_outside("steps", steps, 2, law::MAX_STEPS))
}

fn end(request: &RampRequest, from: Settings) -> Result<Settings, Refusal> {
    let RampEndRequest {
        aperture,
        frame_rate,
        shutter_angle_deg,
    } = request.to;
    let at = |field: &str| format!("to.{field}");
    let rate = (frame_rate.map(FrameRate::new).transpose()).at("to.frameRate")?;
    Ok(Settings {
        aperture: (aperture.map(Aperture::from_marking).transpose())
            .at("to.aperture")?
            .unwrap_or(from.aperture),
        frame_rate: rate.unwrap_or(from.frame_rate),
        shutter: shutter(shutter_angle_deg, None, &at)?.unwrap_or(from.shutter),
        ..from
    })
}

fn step_reply(step: law::Step) -> Result<RampStepReply, OutOfRange> {
    let set = step.set;
    Ok(RampStepReply {
        at: step.at,
        frame_rate: set.frame_rate.per_second(),
        shutter_angle_deg: angle(set).map(ShutterAngle::degrees),
        shutter_seconds: set.time()?.seconds(),
        aperture: set.aperture.number(),
        aperture_label: format!("T{}", set.aperture.label()),
        turn_stops: step.turn.stops(),
    })
}

fn angle(set: Settings) -> Option<ShutterAngle> {
    Shutter::angle_at(set.shutter, set.frame_rate)
}

fn side_effects(reached: &[law::Step]) -> Result<Vec<RampEffectReply>, OutOfRange> {
    let (Some(first), Some(last)) = (reached.first(), reached.last()) else {
        return Ok(Vec::new());
    };
    let degrees = |step: &law::Step| angle(step.set).map_or(360.0, ShutterAngle::degrees);
    let pairs = [
        (
            RampEffect::DepthOfField,
            first.set.aperture.number(),
            last.set.aperture.number(),
        ),
        (RampEffect::MotionBlur, degrees(first), degrees(last)),
        (
            RampEffect::Flicker,
            first.set.time()?.seconds(),
            last.set.time()?.seconds(),
        ),
        (
            RampEffect::VariableDensity,
            first.turn.stops(),
            last.turn.stops(),
        ),
    ];
    Ok(pairs
        .into_iter()
        // Rounding alone is no change.
        .filter(|(_, from, to)| (from - to).abs() > 1e-9 * from.abs().max(1e-3))
        .map(|(effect, from, to)| RampEffectReply { effect, from, to })
        .collect())
}
