//! `flicker`: shutter angles that lamps on the mains do not disturb.

use super::flicker_working::working;
use crate::plain::refusal::{At, Refusal};
use crate::shapes::planning::in_range;
use crate::shapes::settings::shutter;
use crate::shapes::working::TermReply;
use glasscall_core::physics::flicker as law;
use glasscall_core::quantity::{FrameRate, MainsFrequency, Seconds, ShutterAngle};
use glasscall_derive::read;
use glasscall_derive::{FromPlain, ToPlain};
use serde::{Deserialize, Serialize};
use tsify::Tsify;

/// Most mains frequencies asked at once.
const MOST: usize = 8;

/// A frame rate, and a shutter to judge where there is one.
#[derive(Debug, Clone, Default, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct FlickerRequest {
    /// Frames a second.
    pub frame_rate: f64,
    /// Shutter angle in degrees, up to 360.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub shutter_angle_deg: Option<f64>,
    /// Exposure time in seconds.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub shutter_seconds: Option<f64>,
    /// Mains frequencies; 50 and 60 unless said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub mains_hz: Option<Vec<f64>>,
    /// From the first line the sensor reads to the last; the whole frame, the
    /// most it can be, unless measured.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub readout_seconds: Option<f64>,
    /// Whether to tell how it is worked out, where a few terms tell it whole.
    #[serde(default)]
    pub explain: bool,
}

/// One answer for each mains frequency.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct FlickerReply {
    /// The answers.
    pub mains: Vec<MainsReply>,
    /// How it is worked out, term by term, where that was asked and can be told.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub working: Option<Vec<TermReply>>,
}

/// Shutter angles under one mains frequency.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct MainsReply {
    /// Frequency of the mains.
    pub mains_hz: f64,
    /// Angles that hold whole pulses, narrowest first, the first 60; empty when
    /// none fits the frame.
    pub safe_angles_deg: Vec<f64>,
    /// How often the picture pulses at other angles; 0 when every frame catches
    /// the pulses alike.
    pub beat_hz: f64,
    /// How many bands a sensor that reads line by line draws down the picture at
    /// other angles: at the most where no readout is given. They stand still
    /// where `beatHz` is 0.
    pub bands: f64,
    /// The shutter that was given; absent without one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub given: Option<JudgedReply>,
}

/// A shutter under one mains frequency.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct JudgedReply {
    /// Whether it holds whole pulses, within a hundredth of the light.
    pub safe: bool,
    /// How much frames differ at worst for a lamp that goes dark between pulses:
    /// half the swing over the mean, 0 to 1.
    pub ripple: f64,
    /// The safe angle next to it; absent when there is none.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub nearest_safe_deg: Option<f64>,
    /// Stops less light at that angle; negative is more.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub nearest_loss_stops: Option<f64>,
}

/// A ripple under this is no ripple: a hundredth, a seventieth of a stop.
///
/// Common practice, no source.
const SAFE_RIPPLE: f64 = 0.01;

/// Answers `flicker`.
///
/// # Errors
///
/// `oneTooMany`, `tooMany`, `outOfRange`.
pub fn flicker(request: &FlickerRequest) -> Result<FlickerReply, Refusal> {
    let rate = read!(FrameRate::new, request.frame_rate)?;
    let at = |field: &str| field.to_owned();
    let whole = 1.0 / rate.per_second();
    let readout = request.readout_seconds.unwrap_or(whole);
    let readout = in_range(readout, 1e-6, whole * (1.0 + 1e-12), "readoutSeconds")?;
    let readout = Seconds::new(readout).at("readoutSeconds")?;
    let shutter = shutter(request.shutter_angle_deg, request.shutter_seconds, &at)?;
    let usual = vec![50.0, 60.0];
    let asked = request.mains_hz.as_ref().unwrap_or(&usual);
    if asked.len() > MOST {
        return Err(Refusal::too_many("mainsHz", asked.len(), MOST));
    }
    let mains = (asked.iter().enumerate())
        .map(|(place, &hertz)| {
            let mains = MainsFrequency::new(hertz).at(&format!("mainsHz[{place}]"))?;
            let judge = |shutter: glasscall_core::setup::Shutter| {
                let time = shutter.time_at(rate).at("shutterAngleDeg")?;
                let ripple = law::ripple(time, mains);
                let angle = shutter.angle_at(rate);
                let nearest = angle.and_then(|angle| law::nearest_safe_angle(angle, rate, mains));
                let loss = |to| angle.map(|from| law::loss_of_change(from, to).stops());
                Ok::<_, Refusal>(JudgedReply {
                    safe: ripple < SAFE_RIPPLE,
                    ripple,
                    nearest_safe_deg: nearest.map(ShutterAngle::degrees),
                    nearest_loss_stops: nearest.and_then(loss),
                })
            };
            Ok(MainsReply {
                mains_hz: hertz,
                safe_angles_deg: (law::safe_angles(rate, mains).into_iter())
                    .map(ShutterAngle::degrees)
                    .collect(),
                beat_hz: law::beat(rate, mains),
                bands: law::bands(readout, mains),
                given: shutter.map(judge).transpose()?,
            })
        })
        .collect::<Result<_, Refusal>>()?;
    let mut told = FlickerReply {
        mains,
        working: None,
    };
    if request.explain {
        told.working = working(request, readout.seconds(), &told);
    }
    Ok(told)
}
