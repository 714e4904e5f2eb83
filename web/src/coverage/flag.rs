//! `flag`: how long a flag must be, and how long it may be.

use super::flag_working::working;
use crate::coverage::fit_reply::TrustName;
use crate::plain::refusal::{At, Code, Refusal};
use crate::shapes::aim::direction;
use crate::shapes::known_lens::knows_a_lens;
use crate::shapes::lens::{LensFields, LensView, one};
use crate::shapes::sensor::SensorRequest;
use crate::shapes::uncertainty::{UncertaintyRequest, known};
use crate::shapes::working::TermReply;
use glasscall_core::answer::flag::{self as answer, Answer, Light, Question, Side};
use glasscall_core::physics::flag::{Flag, FlagAnswer};
use glasscall_core::quantity::{Angle, Elevation, Length, Span};
use glasscall_core::setup::Aim;
use glasscall_derive::read;
use glasscall_derive::{FromPlain, ToPlain, Twin};
use serde::{Deserialize, Serialize};
use tsify::Tsify;

knows_a_lens! {
    /// Lens, outer glass, flag and light.
    pub struct FlagRequest {
        /// The sensor.
        pub sensor: SensorRequest,
        /// Anamorphic squeeze; 1 unless said.
        #[serde(default = "one")]
        pub squeeze: f64,
        /// Focal length in mm.
        pub focal_length_mm: f64,
        /// f-number, which sizes the pupil.
        pub f_number: f64,
    }
    /// Entrance pupil behind the rim in mm; this, `cards` or `frontDiameterMm`.
    pupil;
    then {
        /// The outermost glass.
        pub glass: GlassRequest,
        /// The flag.
        pub flag: FlagShape,
        /// The sun; give it or a lamp.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        pub sun: Option<SunAim>,
        /// A lamp; give it or the sun.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        pub lamp: Option<LampPlace>,
        /// How well inputs are known, where better than usual.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        pub uncertainty: Option<UncertaintyRequest>,
        /// Whether to tell how it is worked out, where a few terms tell it whole.
        #[serde(default)]
        pub explain: bool,
    }
}

/// The outermost glass; a round one is as wide as high.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct GlassRequest {
    /// Width in mm.
    pub width_mm: f64,
    /// Height in mm.
    pub height_mm: f64,
    /// From the rim forward, in mm; 0 for the front element itself.
    #[serde(default)]
    pub distance_from_rim_mm: f64,
}

/// Where a flag begins and how it leans.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct FlagShape {
    /// Which side of the lens.
    pub side: FlagSide,
    /// From the lens axis out to its hinge, in mm.
    pub hinge_from_axis_mm: f64,
    /// From the rim forward to its hinge, in mm.
    pub hinge_from_rim_mm: f64,
    /// How far it leans out from straight ahead, −60 to 60.
    #[serde(default)]
    pub lean_deg: f64,
}

/// A side of the lens, seen from behind.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, Serialize, ToPlain, Deserialize, FromPlain, Tsify, Twin,
)]
#[serde(rename_all = "camelCase")]
#[twin(into Side)]
pub enum FlagSide {
    /// Over it.
    Top,
    /// Under it.
    Bottom,
    /// Left of it.
    Left,
    /// Right of it.
    Right,
}

/// Sun and aim.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct SunAim {
    /// Clockwise from true north.
    pub sun_azimuth_deg: f64,
    /// Above the horizon.
    pub sun_elevation_deg: f64,
    /// Of the lens axis.
    pub aim_azimuth_deg: f64,
    /// Of the lens axis.
    pub aim_elevation_deg: f64,
    /// Positive when the camera leans clockwise seen from behind.
    #[serde(default)]
    pub roll_deg: f64,
}

/// A lamp as the camera sees it.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct LampPlace {
    /// Right of the lens axis, in mm.
    pub right_mm: f64,
    /// Above the lens axis, in mm.
    pub up_mm: f64,
    /// Ahead of the rim, in mm.
    pub ahead_mm: f64,
}

/// How long the flag may be.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct FlagReply {
    /// What a flag on that side can do.
    pub verdict: FlagVerdict,
    /// Shades all the outer glass; absent when no length does.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub shortest_mm: Option<f64>,
    /// Stays out of the picture; absent when any length does.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub longest_mm: Option<f64>,
    /// Stays out of the picture whatever the lens may be; absent where even the
    /// hinge may show.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub sure_longest_mm: Option<f64>,
    /// Whether it is sure that the shortest stays out of the picture; absent
    /// where there is none.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub trust: Option<TrustName>,
    /// How far the end of the shortest must reach to the left (top and bottom
    /// flags) or down (side flags), from the lens axis.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub reach_from_mm: Option<f64>,
    /// How far it must reach to the right or up.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub reach_to_mm: Option<f64>,
    /// How it is worked out, term by term, where that was asked and can be told.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub working: Option<Vec<TermReply>>,
}

/// What a flag on that side can do.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase")]
pub enum FlagVerdict {
    /// A length from shortest to longest does.
    Fits,
    /// No length shades the glass and stays out of the picture.
    Impossible,
    /// The source is in the picture.
    SourceInPicture,
    /// The light does not come from that side.
    WrongSide,
    /// The light does not reach the front of the glass.
    NotNeeded,
}

/// Answers `flag`.
///
/// # Errors
///
/// `outOfRange`; `missing` without sun and lamp, `oneTooMany` with both.
pub fn flag(request: &FlagRequest) -> Result<FlagReply, Refusal> {
    let lens = lens(request)?;
    let light = light(request)?;
    let known = known(request.uncertainty.as_ref())?;
    let half_glass = glass(&request.glass)?;
    let glass_ahead = read!(Length::new, request.glass.distance_from_rim_mm)?;
    let question = Question {
        view: lens.view,
        f_number: lens.f_number,
        lens: lens.known,
        half_glass,
        glass_ahead,
        flag: shape(&request.flag)?,
        side: request.flag.side.into(),
        light,
    };
    let Answer::Lengths {
        lengths,
        sure_longest,
        trust,
        reach,
    } = answer::flag(&question)
    else {
        return Ok(bare(FlagVerdict::SourceInPicture));
    };
    let (verdict, shortest, longest) = match lengths {
        FlagAnswer::FromBehind => return Ok(bare(FlagVerdict::NotNeeded)),
        FlagAnswer::WrongSide => return Ok(bare(FlagVerdict::WrongSide)),
        FlagAnswer::Fits { shortest, longest } => (FlagVerdict::Fits, Some(shortest), longest),
        FlagAnswer::Impossible { shortest, longest } => {
            let longest = longest.unwrap_or(Length::ZERO);
            (FlagVerdict::Impossible, shortest, Some(longest))
        }
    };
    let told = FlagReply {
        shortest_mm: shortest.map(Length::millimetres),
        longest_mm: longest.map(Length::millimetres),
        sure_longest_mm: sure_longest.map(Length::millimetres),
        trust: Some(trust.into()),
        reach_from_mm: reach.map(|reach| reach.0),
        reach_to_mm: reach.map(|reach| reach.1),
        ..bare(verdict)
    };
    let explained = (request.explain).then(|| working(request, &lens, &known, &told));
    Ok(FlagReply {
        working: explained.flatten(),
        ..told
    })
}

const fn bare(verdict: FlagVerdict) -> FlagReply {
    FlagReply {
        verdict,
        shortest_mm: None,
        longest_mm: None,
        sure_longest_mm: None,
        trust: None,
        reach_from_mm: None,
        reach_to_mm: None,
        working: None,
    }
}

fn lens(request: &FlagRequest) -> Result<LensView, Refusal> {
    LensFields {
        sensor: request.sensor,
        squeeze: request.squeeze,
        shift_x_mm: 0.0,
        shift_y_mm: 0.0,
        focal_length_mm: request.focal_length_mm,
        f_number: request.f_number,
        lens_loss_stops: None,
        known: request.known(),
    }
    .lens()
}

fn light(request: &FlagRequest) -> Result<Light, Refusal> {
    match (&request.sun, &request.lamp) {
        (None, None) => Err(Refusal::new(Code::Missing, "sun")),
        (Some(_), Some(_)) => Err(Refusal::new(Code::OneTooMany, "lamp")),
        (Some(sun), None) => {
            let aim = Aim::new(
                read!(Angle::new, in sun.aim_azimuth_deg)?,
                read!(Elevation::new, in sun.aim_elevation_deg)?,
                read!(Angle::new, in sun.roll_deg)?,
            );
            let to_sun = direction(
                (sun.sun_azimuth_deg, "sun.sunAzimuthDeg"),
                (sun.sun_elevation_deg, "sun.sunElevationDeg"),
            )?;
            Ok(Light::Sun(aim.seen(to_sun)))
        }
        (None, Some(lamp)) => Ok(Light::Lamp([
            read!(Length::new, in lamp.right_mm)?,
            read!(Length::new, in lamp.up_mm)?,
            read!(Length::new, in lamp.ahead_mm)?,
        ])),
    }
}

fn glass(given: &GlassRequest) -> Result<[Length; 2], Refusal> {
    let half = |size: f64, field: &str| {
        let size = Span::new(size).at(field)?;
        Length::new(size.millimetres() / 2.0).at(field)
    };
    Ok([
        half(given.width_mm, "glass.widthMm")?,
        half(given.height_mm, "glass.heightMm")?,
    ])
}

/// Furthest a flag may lean and still be one.
const MOST_LEAN: f64 = 60.0;

fn shape(flag: &FlagShape) -> Result<Flag, Refusal> {
    let lean = read!(Angle::new, in flag.lean_deg)?;
    if lean.degrees().abs() > MOST_LEAN {
        let given = flag.lean_deg;
        return Err(Refusal::outside(
            "flag.leanDeg",
            given,
            -MOST_LEAN,
            MOST_LEAN,
        ));
    }
    Ok(Flag {
        hinge_out: read!(Length::new, in flag.hinge_from_axis_mm)?,
        hinge_ahead: read!(Length::new, in flag.hinge_from_rim_mm)?,
        lean,
    })
}
