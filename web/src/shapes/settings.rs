//! Stop, exposure index, frame rate and shutter as a request gives them.

use crate::plain::refusal::{At, Code, Refusal, needed};
use glasscall_core::quantity::{Aperture, ExposureIndex, FrameRate, Seconds, ShutterAngle};
use glasscall_core::setup::{Settings, Shutter};
use glasscall_derive::{FromPlain, ToPlain};
use serde::{Deserialize, Serialize};
use tsify::Tsify;

/// Settings of a shot. Give the shutter as an angle or as a time.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct SettingsRequest {
    /// Aperture number; a label such as 2.8 stands for its exact value.
    pub aperture: f64,
    /// Exposure index, arithmetic.
    pub exposure_index: f64,
    /// Frames a second.
    pub frame_rate: f64,
    /// Shutter angle in degrees, up to 360.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub shutter_angle_deg: Option<f64>,
    /// Exposure time in seconds.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub shutter_seconds: Option<f64>,
}

impl SettingsRequest {
    pub(crate) fn settings(&self, path: &str) -> Result<Settings, Refusal> {
        let at = |field: &str| format!("{path}.{field}");
        let shutter = shutter(self.shutter_angle_deg, self.shutter_seconds, &at)?;
        Ok(Settings {
            aperture: Aperture::from_marking(self.aperture).at(&at("aperture"))?,
            exposure_index: ExposureIndex::new(self.exposure_index).at(&at("exposureIndex"))?,
            frame_rate: FrameRate::new(self.frame_rate).at(&at("frameRate"))?,
            shutter: needed(shutter, &at("shutterAngleDeg"))?,
        })
    }
}

/// The shutter of two fields of which one may be given.
pub(crate) fn shutter(
    angle_deg: Option<f64>,
    seconds: Option<f64>,
    at: &impl Fn(&str) -> String,
) -> Result<Option<Shutter>, Refusal> {
    Ok(match (angle_deg, seconds) {
        (Some(_), Some(_)) => {
            return Err(Refusal::new(Code::OneTooMany, &at("shutterSeconds")));
        }
        (Some(angle), None) => {
            let angle = ShutterAngle::new(angle).at(&at("shutterAngleDeg"))?;
            Some(Shutter::Angle(angle))
        }
        (None, Some(time)) => Some(Shutter::Time(Seconds::new(time).at(&at("shutterSeconds"))?)),
        (None, None) => None,
    })
}

/// A shutter beside a frame rate as a time, where one is given.
///
/// # Errors
///
/// As [`shutter`]; `missing` for an angle without a frame rate.
pub(crate) fn bare_time(
    angle: Option<f64>,
    seconds: Option<f64>,
    rate: Option<FrameRate>,
) -> Result<Option<Seconds>, Refusal> {
    match shutter(angle, seconds, &|field| field.to_owned())? {
        Some(Shutter::Time(time)) => Ok(Some(time)),
        Some(angle) => {
            let rate = needed(rate, "frameRate")?;
            angle.time_at(rate).map(Some).at("shutterAngleDeg")
        }
        None => Ok(None),
    }
}
