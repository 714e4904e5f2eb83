//! `flag`: how long a flag must be, and how long it may be.

use crate::plain::refusal::{At, Code, Refusal};
use crate::shapes::aim::direction;
use crate::shapes::lens::{LensFields, LensView, one};
use crate::shapes::pupil::PupilPlace;
use crate::shapes::sensor::SensorRequest;
use glasscall_core::physics::flag::{
    FieldEdge, Flag, FlagAnswer, OuterGlass, Source, flag_length, sideways_reach,
};
use glasscall_core::quantity::{Angle, Elevation, Length, Span};
use glasscall_core::setup::Aim;
use serde::{Deserialize, Serialize};
use tsify::Tsify;

/// Lens, outer glass, flag and light.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
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
    /// Entrance pupil behind the rim in mm.
    pub pupil_behind_rim_mm: PupilPlace,
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
}

/// The outermost glass; a round one is as wide as high.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, Tsify)]
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
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, Tsify)]
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
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
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
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, Tsify)]
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
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, Tsify)]
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
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, Tsify)]
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
    /// How far the end of the shortest must reach to the left (top and bottom
    /// flags) or down (side flags), from the lens axis.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub reach_from_mm: Option<f64>,
    /// How far it must reach to the right or up.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub reach_to_mm: Option<f64>,
}

/// What a flag on that side can do.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, Tsify)]
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

/// The light as the camera sees it: parts right, up, ahead; mm for a lamp.
enum Light {
    Sun([f64; 3]),
    Lamp([f64; 3]),
}

/// Answers `flag`.
///
/// # Errors
///
/// `outOfRange`; `missing` without sun and lamp, `oneTooMany` with both.
pub fn flag(request: &FlagRequest) -> Result<FlagReply, Refusal> {
    let lens = lens(request)?;
    let light = light(request)?;
    let view = lens.view.record();
    let behind = lens.pupil.position();
    let half_pupil = view.focal_length.millimetres() / lens.aperture.number() / 2.0;
    let level = matches!(request.flag.side, FlagSide::Top | FlagSide::Bottom);
    let corner = lens.view.tangents_of(1.0, 1.0);
    let (tangent, pupil_half, pupil_behind) = if level {
        (corner.y, half_pupil, behind.vertical)
    } else {
        (
            corner.x,
            half_pupil / view.squeeze.ratio(),
            behind.horizontal,
        )
    };
    let seen = from_pupil(&light, pupil_behind.millimetres());
    if seen.is_some_and(|[x, y]| x.abs() <= corner.x && y.abs() <= corner.y) {
        return Ok(bare(FlagVerdict::SourceInPicture));
    }
    let glass = glass(&request.glass)?;
    let (half, half_across) = if level {
        (glass.1, glass.0)
    } else {
        (glass.0, glass.1)
    };
    let outer = OuterGlass {
        half,
        ahead: Length::new(request.glass.distance_from_rim_mm).at("glass.distanceFromRimMm")?,
    };
    let field = FieldEdge {
        tangent,
        pupil_half: Length::new(pupil_half).at("fNumber")?,
        pupil_behind,
    };
    let shape = shape(&request.flag)?;
    let answer = flag_length(shape, outer, field, source(&light, request.flag.side)?);
    let way = |shortest: Length| {
        let lean = shape.lean.degrees().to_radians();
        let tip = shape.hinge_ahead.millimetres() + shortest.millimetres() * libm::cos(lean);
        Length::new(tip - outer.ahead.millimetres())
    };
    let reach = |shortest: Length| {
        let slope = sideways_slope(&light, level, outer.ahead.millimetres());
        way(shortest).map(|way| sideways_reach(half_across, slope, way))
    };
    Ok(match answer {
        FlagAnswer::FromBehind => bare(FlagVerdict::NotNeeded),
        FlagAnswer::WrongSide => bare(FlagVerdict::WrongSide),
        FlagAnswer::Fits { shortest, longest } => {
            let (from, to) = reach(shortest).at("flag")?;
            FlagReply {
                shortest_mm: Some(shortest.millimetres()),
                longest_mm: longest.map(Length::millimetres),
                reach_from_mm: Some(from),
                reach_to_mm: Some(to),
                ..bare(FlagVerdict::Fits)
            }
        }
        FlagAnswer::Impossible { shortest, longest } => FlagReply {
            shortest_mm: shortest.map(Length::millimetres),
            longest_mm: Some(longest.map_or(0.0, Length::millimetres)),
            ..bare(FlagVerdict::Impossible)
        },
    })
}

const fn bare(verdict: FlagVerdict) -> FlagReply {
    FlagReply {
        verdict,
        shortest_mm: None,
        longest_mm: None,
        reach_from_mm: None,
        reach_to_mm: None,
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
        pupil_behind_rim_mm: request.pupil_behind_rim_mm,
    }
    .lens()
}

fn light(request: &FlagRequest) -> Result<Light, Refusal> {
    match (&request.sun, &request.lamp) {
        (None, None) => Err(Refusal::new(Code::Missing, "sun")),
        (Some(_), Some(_)) => Err(Refusal::new(Code::OneTooMany, "lamp")),
        (Some(sun), None) => {
            let aim = Aim::new(
                Angle::new(sun.aim_azimuth_deg).at("sun.aimAzimuthDeg")?,
                Elevation::new(sun.aim_elevation_deg).at("sun.aimElevationDeg")?,
                Angle::new(sun.roll_deg).at("sun.rollDeg")?,
            );
            let to_sun = direction(
                (sun.sun_azimuth_deg, "sun.sunAzimuthDeg"),
                (sun.sun_elevation_deg, "sun.sunElevationDeg"),
            )?;
            Ok(Light::Sun(aim.seen(to_sun)))
        }
        (None, Some(lamp)) => {
            let mm = |value, field| Length::new(value).at(field).map(Length::millimetres);
            Ok(Light::Lamp([
                mm(lamp.right_mm, "lamp.rightMm")?,
                mm(lamp.up_mm, "lamp.upMm")?,
                mm(lamp.ahead_mm, "lamp.aheadMm")?,
            ]))
        }
    }
}

/// Tangents of the light as the pupil sees it; `None` when it is behind.
fn from_pupil(light: &Light, pupil_behind: f64) -> Option<[f64; 2]> {
    let [right, up, ahead] = match *light {
        Light::Sun(parts) => parts,
        Light::Lamp([right, up, ahead]) => [right, up, ahead + pupil_behind],
    };
    (ahead > 1e-9).then(|| [right / ahead, up / ahead])
}

fn glass(given: &GlassRequest) -> Result<(Length, Length), Refusal> {
    let half = |size: f64, field: &str| {
        let size = Span::new(size).at(field)?;
        Length::new(size.millimetres() / 2.0).at(field)
    };
    Ok((
        half(given.width_mm, "glass.widthMm")?,
        half(given.height_mm, "glass.heightMm")?,
    ))
}

/// Furthest a flag may lean and still be one.
const MOST_LEAN: f64 = 60.0;

fn shape(given: &FlagShape) -> Result<Flag, Refusal> {
    let lean = Angle::new(given.lean_deg).at("flag.leanDeg")?;
    if lean.degrees().abs() > MOST_LEAN {
        let given = given.lean_deg;
        return Err(Refusal::outside(
            "flag.leanDeg",
            given,
            -MOST_LEAN,
            MOST_LEAN,
        ));
    }
    Ok(Flag {
        hinge_out: Length::new(given.hinge_from_axis_mm).at("flag.hingeFromAxisMm")?,
        hinge_ahead: Length::new(given.hinge_from_rim_mm).at("flag.hingeFromRimMm")?,
        lean,
    })
}

fn source(light: &Light, side: FlagSide) -> Result<Source, Refusal> {
    let out = |[right, up, _]: [f64; 3]| match side {
        FlagSide::Top => up,
        FlagSide::Bottom => -up,
        FlagSide::Left => -right,
        FlagSide::Right => right,
    };
    Ok(match *light {
        Light::Sun(parts) => Source::Far {
            out: out(parts),
            ahead: parts[2],
        },
        Light::Lamp(parts) => Source::Near {
            out: Length::new(out(parts)).at("lamp.upMm")?,
            ahead: Length::new(parts[2]).at("lamp.aheadMm")?,
        },
    })
}

/// Slope of the light along the flag's width: to the right or upward.
fn sideways_slope(light: &Light, level: bool, glass_ahead: f64) -> f64 {
    let ([right, up, ahead], from) = match *light {
        Light::Sun(parts) => (parts, 0.0),
        Light::Lamp(parts) => (parts, glass_ahead),
    };
    (if level { right } else { up }) / (ahead - from)
}
