//! `closeUp`: where close-up lenses focus and what they take in.

use super::lens_working;
use crate::plain::refusal::{At, Code, Refusal, needed};
use crate::shapes::distance::Place;
use crate::shapes::sensor::SensorRequest;
use crate::shapes::working::TermReply;
use glasscall_core::physics::close_up as law;
use glasscall_core::quantity::{Distance, FocalLength, Length, LensPower, Reach, Span};
use glasscall_derive::read;
use glasscall_derive::{FromPlain, ToPlain};
use serde::{Deserialize, Serialize};
use tsify::Tsify;

/// Most close-up lenses one behind the other.
const MOST: usize = 4;

/// Close-up lenses on a lens. Distances count from the close-up lens.
#[derive(Debug, Clone, Default, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct CloseUpRequest {
    /// Their powers, 1 to 4 of them.
    pub dioptres: Vec<f64>,
    /// The closest setting of the bare lens.
    pub lens_near_mm: f64,
    /// Give this and learn the subject: a setting of the lens.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub setting_mm: Option<Place>,
    /// Give this and learn the setting: where the subject is.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub subject_mm: Option<f64>,
    /// Whether the lens covers only part of the picture.
    #[serde(default)]
    pub split: bool,
    /// Focal length of the lens, for the magnification.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub focal_length_mm: Option<f64>,
    /// The picture on the sensor, for the field that is taken in.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sensor: Option<SensorRequest>,
    /// From the entrance pupil forward to the close-up lens, for what it does to
    /// coverage.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ahead_of_pupil_mm: Option<f64>,
    /// The same in two parts, as `fit` has them: how far the pupil lies behind the
    /// rim…
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pupil_behind_rim_mm: Option<f64>,
    /// …and the close-up lens ahead of it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub distance_from_rim_mm: Option<f64>,
    /// Whether to tell how it is worked out, where a few terms tell it whole.
    #[serde(default)]
    pub explain: bool,
}

/// The range in focus, and one setting when asked.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct CloseUpReply {
    /// Power of all together.
    pub dioptres: f64,
    /// Subject distance with the lens at infinity.
    pub far_mm: f64,
    /// Subject distance with the lens at its closest.
    pub near_mm: f64,
    /// What is in focus beside a split lens at the same settings; absent unless
    /// split.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub beside: Option<RangeReply>,
    /// Distances out of reach between the farthest with the lens on and the
    /// nearest without; absent when the ranges meet.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub gap: Option<GapReply>,
    /// The one setting; absent unless asked for.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub at: Option<AtSettingReply>,
    /// Tangents of the field in front, over those without; 1 leaves the
    /// coverage as it was. Absent when nobody says where the pupil is.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub field_factor: Option<f64>,
    /// Image over subject size with the lens at infinity; absent without
    /// `focalLengthMm`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub far_magnification: Option<f64>,
    /// The same with the lens at its closest.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub near_magnification: Option<f64>,
    /// How it is worked out, term by term, where that was asked and can be told.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub working: Option<Vec<TermReply>>,
}

/// From and to.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct RangeReply {
    /// The nearest.
    pub near_mm: f64,
    /// The farthest.
    pub far_mm: Place,
}

/// Distances no setting reaches, with the lens on or off.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct GapReply {
    /// Where reach ends with the lens on.
    pub from_mm: f64,
    /// Where it begins again without.
    pub to_mm: f64,
}

/// One setting and the subject it draws sharp.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct AtSettingReply {
    /// What the lens is set to.
    pub setting_mm: Place,
    /// Where the subject is.
    pub subject_mm: f64,
    /// Image over subject size; absent without `focalLengthMm`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub magnification: Option<f64>,
    /// Width taken in at the subject; absent without `sensor`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub field_width_mm: Option<f64>,
    /// Height taken in at the subject.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub field_height_mm: Option<f64>,
}

/// Answers `closeUp`.
///
/// # Errors
///
/// `missing`, `oneTooMany`, `tooMany`, `outOfRange`; a subject farther than the
/// close-up lens reaches is refused with that reach as `max`.
pub fn close_up(request: &CloseUpRequest) -> Result<CloseUpReply, Refusal> {
    let power = power(&request.dioptres)?;
    let nearest = Reach::At(read!(Distance::new, request.lens_near_mm)?);
    let subject = |setting| law::subject_distance(setting, power).at("lensNearMm");
    let (far, near) = (subject(Reach::Infinity)?, subject(nearest)?);
    let focal = read!(FocalLength::new, request.focal_length_mm?)?;
    let size = |setting| {
        (focal.map(|focal| law::magnification(focal, setting, power)))
            .transpose()
            .map(|size| size.map(|size| size.ratio()))
    };
    let beyond_reach = request.lens_near_mm > far.millimetres();
    let mut told = CloseUpReply {
        dioptres: power.dioptres(),
        far_mm: far.millimetres(),
        near_mm: near.millimetres(),
        beside: request.split.then_some(RangeReply {
            near_mm: request.lens_near_mm,
            far_mm: Place::INFINITY,
        }),
        gap: beyond_reach.then_some(GapReply {
            from_mm: far.millimetres(),
            to_mm: request.lens_near_mm,
        }),
        at: at_setting(request, power, focal)?,
        field_factor: field_factor(request, power)?,
        far_magnification: size(Reach::Infinity).at("focalLengthMm")?,
        near_magnification: size(nearest).at("focalLengthMm")?,
        working: None,
    };
    if request.explain {
        told.working = lens_working::close_up(request, &told);
    }
    Ok(told)
}

fn field_factor(request: &CloseUpRequest, power: LensPower) -> Result<Option<f64>, Refusal> {
    let (ahead, field) = match (
        request.ahead_of_pupil_mm,
        request.pupil_behind_rim_mm,
        request.distance_from_rim_mm,
    ) {
        (None, None, None) => return Ok(None),
        (Some(ahead), None, None) => (ahead, "aheadOfPupilMm"),
        (None, Some(pupil), Some(glass)) => (pupil + glass, "distanceFromRimMm"),
        (Some(_), ..) => return Err(Refusal::new(Code::OneTooMany, "aheadOfPupilMm")),
        (None, None, Some(_)) => return Err(Refusal::new(Code::Missing, "pupilBehindRimMm")),
        (None, Some(_), None) => return Err(Refusal::new(Code::Missing, "distanceFromRimMm")),
    };
    let ahead = Length::new(ahead).at(field)?;
    law::field_factor(ahead, power).map(Some).at(field)
}

fn power(dioptres: &[f64]) -> Result<LensPower, Refusal> {
    if dioptres.is_empty() {
        return Err(Refusal::new(Code::Missing, "dioptres"));
    }
    if dioptres.len() > MOST {
        return Err(Refusal::too_many("dioptres", dioptres.len(), MOST));
    }
    let lenses = (dioptres.iter().enumerate())
        .map(|(at, &power)| LensPower::new(power).at(&format!("dioptres[{at}]")))
        .collect::<Result<Vec<_>, _>>()?;
    law::power_together(lenses).at("dioptres")
}

fn at_setting(
    request: &CloseUpRequest,
    power: LensPower,
    focal: Option<FocalLength>,
) -> Result<Option<AtSettingReply>, Refusal> {
    let (setting, subject, field) = match (request.setting_mm, request.subject_mm) {
        (None, None) => return Ok(None),
        (Some(_), Some(_)) => return Err(Refusal::new(Code::OneTooMany, "subjectMm")),
        (Some(setting), None) => {
            let setting = setting.reach("settingMm")?;
            let subject = law::subject_distance(setting, power).at("settingMm")?;
            (setting, subject, "settingMm")
        }
        (None, Some(subject)) => {
            let subject = Distance::new(subject).at("subjectMm")?;
            let setting = law::setting_for(subject, power).at("subjectMm")?;
            (setting, subject, "subjectMm")
        }
    };
    let magnification = focal
        .map(|focal| law::magnification(focal, setting, power))
        .transpose()
        .at(field)?;
    let taken_in = |side: f64, name: &str| -> Result<f64, Refusal> {
        let side = Span::new(side).at(name)?;
        let size = needed(magnification, "focalLengthMm")?;
        Ok(law::taken_in(side, size))
    };
    let sensor = request.sensor;
    Ok(Some(AtSettingReply {
        setting_mm: setting.into(),
        subject_mm: subject.millimetres(),
        magnification: magnification.map(|size| size.ratio()),
        field_width_mm: (sensor.map(|s| taken_in(s.width_mm, "sensor.widthMm"))).transpose()?,
        field_height_mm: (sensor.map(|s| taken_in(s.height_mm, "sensor.heightMm"))).transpose()?,
    }))
}
