//! `sky`: what a polarizer does to the sky in this picture.

use super::sky_working::working;
use crate::light::sun::observer;
use crate::plain::iso_8601::read_moment;
use crate::plain::refusal::{At, Code, Refusal, needed};
use crate::shapes::aim::sky as sky_of;
use crate::shapes::lens::one;
use crate::shapes::sensor::{SensorRequest, ViewFields};
use crate::shapes::working::TermReply;
use glasscall_core::answer::sky_frame::{SkyAnswer, SkyQuestion, SkyVerdict, Turn, sky_frame};
use glasscall_core::physics::sun::sun_position;
use glasscall_core::quantity::{Angle, Elevation, Stops};
use glasscall_core::setup::Aim;
use glasscall_derive::read;
use glasscall_derive::{FromPlain, ToPlain, Twin};
use serde::{Deserialize, Serialize};
use tsify::Tsify;

/// Sun, aim, lens and the turn of the polarizer.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct SkyRequest {
    /// Where the sun stands, clockwise from true north; it, and the next, or the
    /// place and the time.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sun_azimuth_deg: Option<f64>,
    /// Above the horizon.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sun_elevation_deg: Option<f64>,
    /// Of the place, north positive.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub latitude_deg: Option<f64>,
    /// East positive.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub longitude_deg: Option<f64>,
    /// ISO 8601 with an offset or `Z`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub time: Option<String>,
    /// Of the lens axis, clockwise from true north.
    pub aim_azimuth_deg: f64,
    /// Of the lens axis, above the horizon.
    pub aim_elevation_deg: f64,
    /// Positive when the camera leans clockwise seen from behind.
    #[serde(default)]
    pub roll_deg: f64,
    /// The sensor.
    pub sensor: SensorRequest,
    /// Anamorphic squeeze; 1 unless said.
    #[serde(default = "one")]
    pub squeeze: f64,
    /// Focal length in mm.
    pub focal_length_mm: f64,
    /// Degree of polarization 90° from the sun, 0 to 1; 0.75 unless said, less
    /// in haze.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub max_polarization: Option<f64>,
    /// Passed axis clockwise from camera up seen from behind, `darkest`, which is
    /// what it is unless said, or by how much it is to darken.
    #[serde(default)]
    pub polarizer_deg: PolarizerTurn,
    /// Whether to tell how it is worked out, where a few terms tell it whole.
    #[serde(default)]
    pub explain: bool,
}

/// How the polarizer is turned.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(untagged)]
pub enum PolarizerTurn {
    /// To this angle.
    Degrees(f64),
    /// To what suits.
    Named(NamedTurn),
    /// To darken as another sky did.
    Like(LikeSky),
}

/// A turn by how much it darkens.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct LikeSky {
    /// By how much the sky on the lens axis is to darken, or as near as it gets.
    pub darkening_stops: f64,
}

/// A turn by what it does.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase")]
pub enum NamedTurn {
    /// The centre of the picture darkens most.
    Darkest,
}

impl PolarizerTurn {
    /// As the core has it.
    pub(crate) fn turn(self, field: &str) -> Result<Turn, Refusal> {
        Ok(match self {
            Self::Degrees(turn) => Turn::To(Angle::new(turn).at(field)?.degrees()),
            Self::Named(NamedTurn::Darkest) => Turn::Darkest,
            Self::Like(LikeSky { darkening_stops }) => {
                Turn::Like(Stops::new(darkening_stops).at(&format!("{field}.darkeningStops"))?)
            }
        })
    }
}

impl Default for PolarizerTurn {
    fn default() -> Self {
        Self::Named(NamedTurn::Darkest)
    }
}

/// What the polarizer does.
///
/// Darkening is against an unpolarized foreground; the polarizer's own loss,
/// which both share, is not in it.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct SkyReply {
    /// Lens axis to sun.
    pub angle_from_sun_deg: f64,
    /// Polarized share of the sky on the lens axis.
    pub polarization: f64,
    /// The passed axis clockwise from camera up, [0, 180).
    pub polarizer_deg: f64,
    /// On the lens axis; negative when the sky gains.
    pub darkening_stops: f64,
    /// By how much a quarter turn from there changes it.
    pub quarter_turn_stops: f64,
    /// Whether the sun is up and within 40° of the lens axis.
    pub near_sun: bool,
    /// Darkest less brightest sky in the picture.
    pub spread_stops: f64,
    /// What to expect.
    pub verdict: SkyVerdictName,
    /// At the corners, where they are sky.
    pub corners: SkyCorners,
    /// Share of the picture above the horizon.
    pub sky_share: f64,
    /// Where the darkest sky lies; absent without sky.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub band: Option<BandReply>,
    /// How it is worked out, term by term, where that was asked and can be told.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub working: Option<Vec<TermReply>>,
}

/// Darkening at the corners in stops; absent below the horizon.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct SkyCorners {
    /// Top left.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub top_left: Option<f64>,
    /// Top right.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub top_right: Option<f64>,
    /// Bottom left.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub bottom_left: Option<f64>,
    /// Bottom right.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub bottom_right: Option<f64>,
}

/// A stretch of the picture's width, 0 its left edge and 1 its right.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct BandReply {
    /// From here,
    pub left: f64,
    /// to here the sky keeps within half the spread of its darkest.
    pub right: f64,
}

/// What to expect of the polarizer.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, Serialize, ToPlain, Deserialize, FromPlain, Tsify, Twin,
)]
#[serde(rename_all = "camelCase")]
#[twin(from SkyVerdict)]
pub enum SkyVerdictName {
    /// No sky in the picture.
    NoSky,
    /// Less than a third of a stop anywhere.
    LittleEffect,
    /// Even to a third of a stop.
    Even,
    /// Uneven by a third of a stop or more.
    Uneven,
    /// Uneven by a stop or more: a dark band.
    Banded,
    /// The sun is more than 6° down: no polarized sky.
    SunDown,
}

/// Answers `sky`.
///
/// # Errors
///
/// `outOfRange`.
pub fn sky(request: &SkyRequest) -> Result<SkyReply, Refusal> {
    let turn = request.polarizer_deg.turn("polarizerDeg")?;
    let sun = request.sun()?;
    let sky = sky_of(sun.0, sun.1, request.max_polarization)?;
    let answer = sky_frame(&SkyQuestion {
        sky,
        aim: Aim::new(
            read!(Angle::new, request.aim_azimuth_deg)?,
            read!(Elevation::new, request.aim_elevation_deg)?,
            read!(Angle::new, request.roll_deg)?,
        ),
        view: ViewFields {
            sensor: request.sensor,
            squeeze: Some(request.squeeze),
            shift_x_mm: None,
            shift_y_mm: None,
            focal_length_mm: request.focal_length_mm,
        }
        .view("")?,
        turn,
    });
    let told = reply(&answer);
    Ok(SkyReply {
        working: (request.explain)
            .then(|| working(request, sun, &told))
            .flatten(),
        ..told
    })
}

impl SkyRequest {
    /// Azimuth and elevation of the sun, as given or by place and time.
    fn sun(&self) -> Result<(f64, f64), Refusal> {
        let Some(time) = &self.time else {
            let azimuth = needed(self.sun_azimuth_deg, "sunAzimuthDeg")?;
            return Ok((azimuth, needed(self.sun_elevation_deg, "sunElevationDeg")?));
        };
        for (given, field) in [
            (self.sun_azimuth_deg, "sunAzimuthDeg"),
            (self.sun_elevation_deg, "sunElevationDeg"),
        ] {
            if given.is_some() {
                return Err(Refusal::new(Code::OneTooMany, field));
            }
        }
        let latitude = needed(self.latitude_deg, "latitudeDeg")?;
        let longitude = needed(self.longitude_deg, "longitudeDeg")?;
        let observer = observer(latitude, longitude)?;
        let sun = sun_position(observer, read_moment(time, "time")?).direction;
        Ok((sun.azimuth_degrees(), sun.elevation_degrees()))
    }
}

fn reply(answer: &SkyAnswer) -> SkyReply {
    let [bottom_left, bottom_right, top_left, top_right] =
        answer.corners.map(|corner| corner.map(Stops::stops));
    SkyReply {
        angle_from_sun_deg: answer.from_sun,
        polarization: answer.polarization,
        polarizer_deg: answer.turn,
        darkening_stops: answer.centre.stops(),
        quarter_turn_stops: answer.by_quarter.stops(),
        near_sun: answer.near_sun,
        spread_stops: answer.spread.stops(),
        verdict: answer.verdict.into(),
        corners: SkyCorners {
            top_left,
            top_right,
            bottom_left,
            bottom_right,
        },
        sky_share: answer.sky_share,
        band: answer.band.map(|band| BandReply {
            left: band.left,
            right: band.right,
        }),
        working: None,
    }
}
