//! `exposure`: light, stop, time and index, solving the missing one.

use super::light_working;
use crate::plain::refusal::{At, Code, Refusal, needed};
use crate::shapes::settings::bare_time;
use crate::shapes::working::TermReply;
use glasscall_core::physics::exposure as law;
use glasscall_core::physics::gain::stops_of_gain;
use glasscall_core::quantity::{
    Aperture, EvAt100, ExposureIndex, FrameRate, Gain, Illuminance, IncidentConstant, Luminance,
    ReflectedConstant, Seconds,
};
use glasscall_core::setup::Shutter;
use glasscall_derive::read;
use glasscall_derive::{FromPlain, ToPlain};
use serde::{Deserialize, Serialize};
use tsify::Tsify;

/// Camera settings and, optionally, one of illuminance, luminance and EV.
///
/// Without light the light is solved; with light exactly one of aperture,
/// shutter and exposure index is left out and solved.
#[derive(Debug, Clone, Default, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct ExposureRequest {
    /// Aperture number; a label such as 2.8 stands for its exact value.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub aperture: Option<f64>,
    /// Exposure index, arithmetic, without `gainDb`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub exposure_index: Option<f64>,
    /// Frames a second; needed for a shutter angle.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub frame_rate: Option<f64>,
    /// Shutter angle in degrees, up to 360.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub shutter_angle_deg: Option<f64>,
    /// Exposure time in seconds.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub shutter_seconds: Option<f64>,
    /// Incident light in lux.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub illuminance_lux: Option<f64>,
    /// Reflected light in cd/m².
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub luminance_cd_m2: Option<f64>,
    /// Exposure value at EI 100.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ev100: Option<f64>,
    /// Electronic gain on top of the index, dB: 6.02 make up for a stop. None
    /// unless said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub gain_db: Option<f64>,
    /// The light is assumed, not read: clear sun from the front, by the rule of
    /// number 16 at a time of one over the index. Instead of a light.
    #[serde(default)]
    pub clear_sun: bool,
    /// The meter's receptor; flat (C 250) unless said.
    #[serde(default)]
    pub receptor: Receptor,
    /// Whether to tell how it is worked out, where a few terms tell it whole.
    #[serde(default)]
    pub explain: bool,
}

/// The receptor of an incident meter, which decides the constant C.
#[derive(
    Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, ToPlain, Deserialize, FromPlain, Tsify,
)]
#[serde(rename_all = "camelCase")]
pub enum Receptor {
    /// Flat, C = 250.
    #[default]
    Flat,
    /// A dome, C = 330.
    Dome,
}

/// Settings and light, all of them.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct ExposureReply {
    /// Exposure value at EI 100.
    pub ev100: f64,
    /// Incident light in lux.
    pub illuminance_lux: f64,
    /// Reflected light in cd/m².
    pub luminance_cd_m2: f64,
    /// Aperture number, exact.
    pub aperture: f64,
    /// The nearest third, as `T2.8⅓`.
    pub aperture_label: String,
    /// Exposure index, without `gainDb`.
    pub exposure_index: f64,
    /// Exposure time in seconds.
    pub shutter_seconds: f64,
    /// Shutter angle; absent without a frame rate and when the exposure
    /// outlasts the frame.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub shutter_angle_deg: Option<f64>,
    /// How it is worked out, term by term, where that was asked and can be told.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub working: Option<Vec<TermReply>>,
}

/// Answers `exposure`.
///
/// # Errors
///
/// `missing`, `oneTooMany`, `outOfRange`; a solved value outside its range is
/// refused under its own name.
pub fn exposure(request: &ExposureRequest) -> Result<ExposureReply, Refusal> {
    let incident = match request.receptor {
        Receptor::Flat => law::FLAT_RECEPTOR,
        Receptor::Dome => law::DOME_RECEPTOR,
    };
    let rate = read!(FrameRate::new, request.frame_rate?)?;
    let time = bare_time(request.shutter_angle_deg, request.shutter_seconds, rate)?;
    let aperture = read!(Aperture::from_marking, request.aperture?)?;
    let gain = read!(Gain::new, request.gain_db?)?;
    let gained = gain.map_or(1.0, |gain| stops_of_gain(gain).factor());
    let index = read!(ExposureIndex::new, request.exposure_index?)?;
    let index = (index
        .map(|index| ExposureIndex::new(index.index() * gained))
        .transpose())
    .at("gainDb")?;
    let scene = scene(request, incident, law::REFLECTED)?;
    let (scene, settings) = solve(scene, aperture, time, index)?;
    let exposure_index = match request.exposure_index {
        Some(index) => index,
        None => (ExposureIndex::new(settings.index.index() / gained).at("exposureIndex")?).index(),
    };
    let angle = rate.and_then(|rate| Shutter::Time(settings.time).angle_at(rate));
    let mut told = ExposureReply {
        ev100: scene.ev(),
        illuminance_lux: law::illuminance(scene, incident)
            .at("illuminanceLux")?
            .lux(),
        luminance_cd_m2: (law::luminance(scene, law::REFLECTED).at("luminanceCdM2")?)
            .candela_per_square_metre(),
        aperture: settings.aperture.number(),
        aperture_label: format!("T{}", settings.aperture.label()),
        exposure_index,
        shutter_seconds: settings.time.seconds(),
        shutter_angle_deg: angle.map(|angle| angle.degrees()),
        working: None,
    };
    if request.explain {
        told.working = light_working::exposure(request, &told);
    }
    Ok(told)
}

fn scene(
    request: &ExposureRequest,
    incident: IncidentConstant,
    reflected: ReflectedConstant,
) -> Result<Option<EvAt100>, Refusal> {
    let lux = (request.illuminance_lux)
        .map(|lux| Illuminance::new(lux).and_then(|lux| law::ev_of_illuminance(lux, incident)))
        .transpose()
        .at("illuminanceLux")?;
    let spot = (request.luminance_cd_m2)
        .map(|spot| Luminance::new(spot).and_then(|spot| law::ev_of_luminance(spot, reflected)))
        .transpose()
        .at("luminanceCdM2")?;
    let ev = read!(EvAt100::new, request.ev100?)?;
    let sun = request.clear_sun.then(law::clear_sun);
    // The first that is there; another one after it is one too many.
    let mut found = None;
    for (scene, field) in [
        (lux, "illuminanceLux"),
        (spot, "luminanceCdM2"),
        (ev, "ev100"),
        (sun, "clearSun"),
    ] {
        if found.is_some() && scene.is_some() {
            return Err(Refusal::new(Code::OneTooMany, field));
        }
        found = found.or(scene);
    }
    Ok(found)
}

fn solve(
    scene: Option<EvAt100>,
    aperture: Option<Aperture>,
    time: Option<Seconds>,
    index: Option<ExposureIndex>,
) -> Result<(EvAt100, law::Exposure), Refusal> {
    let Some(scene) = scene else {
        let settings = law::Exposure {
            aperture: needed(aperture, "aperture")?,
            time: needed(time, "shutterAngleDeg")?,
            index: needed(index, "exposureIndex")?,
        };
        return Ok((settings.ev_at_100().at("ev100")?, settings));
    };
    let (aperture, time, index) = match (aperture, time, index) {
        (None, Some(time), Some(index)) => {
            let aperture = law::aperture_for(scene, time, index).at("aperture")?;
            (aperture, time, index)
        }
        (Some(aperture), None, Some(index)) => {
            let time = law::time_for(scene, aperture, index).at("shutterSeconds")?;
            (aperture, time, index)
        }
        (Some(aperture), Some(time), None) => {
            let index = law::index_for(scene, aperture, time).at("exposureIndex")?;
            (aperture, time, index)
        }
        (Some(_), Some(_), Some(_)) => return Err(Refusal::new(Code::OneTooMany, "aperture")),
        (None, None, _) => return Err(Refusal::new(Code::Missing, "shutterAngleDeg")),
        (_, _, None) => return Err(Refusal::new(Code::Missing, "exposureIndex")),
    };
    Ok((
        scene,
        law::Exposure {
            aperture,
            time,
            index,
        },
    ))
}
