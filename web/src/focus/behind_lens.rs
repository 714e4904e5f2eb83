//! `behindLens`: what flat glass behind the lens does to focus, and in front.

use super::plate_working::working;
use crate::plain::refusal::{At, Code, Refusal};
use crate::shapes::distance::{MeasuredFrom, Place};
use crate::shapes::working::TermReply;
use glasscall_core::physics::plane_plate as law;
use glasscall_core::quantity::{
    Aperture, Disc, FocalLength, Length, Magnification, Reach, RefractiveIndex, Thickness,
};
use glasscall_core::setup::Focus;
use glasscall_derive::read;
use glasscall_derive::{FromPlain, ToPlain};
use serde::{Deserialize, Serialize};
use tsify::Tsify;

/// Most flat pieces in one list.
const MOST: usize = 16;

/// A focused lens and the flat glass behind and in front of it.
#[derive(Debug, Clone, Default, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct BehindLensRequest {
    /// Focal length.
    pub focal_length_mm: f64,
    /// The f-number; a label such as 2.8 stands for its exact value.
    pub f_number: f64,
    /// The largest blur that still looks sharp.
    pub circle_mm: f64,
    /// What should be sharp; infinity unless said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub focus_mm: Option<Place>,
    /// Where distances are counted from.
    #[serde(default)]
    pub measured_from: MeasuredFrom,
    /// Pieces between lens and sensor now, the internal wheel apart.
    #[serde(default)]
    pub behind: Vec<PlateRequest>,
    /// Pieces that were there when the distance from mount to sensor was set.
    #[serde(default)]
    pub set_for: Vec<PlateRequest>,
    /// Glass of each position of the internal wheel; thickness 0 for an empty
    /// one.
    #[serde(default)]
    pub wheel: Vec<PlateRequest>,
    /// The position in use, from 0; the first unless said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wheel_at: Option<usize>,
    /// The position in use when the distance was set; the first unless said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wheel_set_at: Option<usize>,
    /// Flat pieces in front of the lens.
    #[serde(default)]
    pub in_front: Vec<PlateRequest>,
    /// Whether to tell how it is worked out, where a few terms tell it whole.
    #[serde(default)]
    pub explain: bool,
}

/// One flat piece.
#[derive(
    Debug, Clone, Copy, Default, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify,
)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct PlateRequest {
    /// How thick.
    pub thickness_mm: f64,
    /// Its refractive index; 1.52, ordinary glass, unless said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub refractive_index: Option<f64>,
}

/// What the glass behind the lens does now, at each wheel position, and what
/// the glass in front does.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct BehindLensReply {
    /// How far the image lies behind where the mount was set for; negative is
    /// nearer the lens.
    pub shift_mm: f64,
    /// How far it may lie to either side and still look sharp.
    pub depth_of_focus_mm: f64,
    /// Whether it does.
    pub verdict: ShiftVerdict,
    /// Blur on the sensor if nobody refocuses.
    pub blur_mm: f64,
    /// What the scale reads once `focusMm` is sharp.
    pub scale_reads_mm: Mark,
    /// What the scale reads once infinity is sharp.
    pub infinity_reads_mm: Mark,
    /// What is sharp with the scale at `focusMm`.
    pub sharp_at_mm: Mark,
    /// The same for each position of the internal wheel.
    pub wheel: Vec<WheelReply>,
    /// How much nearer things seem through the glass in front.
    pub in_front_shift_mm: f64,
    /// Where something at `focusMm` seems to be through the glass in front:
    /// what the scale reads for it.
    pub in_front_reads_mm: Place,
    /// How it is worked out, term by term, where that was asked and can be told.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub working: Option<Vec<TermReply>>,
}

/// One position of the internal wheel.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct WheelReply {
    /// As in the reply.
    pub shift_mm: f64,
    /// As in the reply.
    pub blur_mm: f64,
    /// As in the reply.
    pub verdict: ShiftVerdict,
    /// As in the reply.
    pub infinity_reads_mm: Mark,
}

/// A shift against the depth of focus.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase")]
pub enum ShiftVerdict {
    /// Within the depth of focus.
    Within,
    /// Beyond it: refocus, or set the mount anew.
    Beyond,
}

/// A mark of the focus scale: millimetres, `"infinity"` or `"beyondInfinity"`.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(untagged)]
pub enum Mark {
    /// In millimetres.
    Millimetres(f64),
    /// A mark without a number.
    Named(NamedMark),
}

/// A mark of the focus scale without a number.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase")]
pub enum NamedMark {
    /// The infinity mark.
    Infinity,
    /// Past the infinity mark: nothing there is sharp, and the lens may not
    /// turn so far.
    BeyondInfinity,
}

/// Ordinary optical glass.
pub(crate) const ORDINARY_INDEX: f64 = 1.52;

/// Answers `behindLens`.
///
/// # Errors
///
/// `outOfRange`, `tooMany`.
pub fn behind_lens(request: &BehindLensRequest) -> Result<BehindLensReply, Refusal> {
    let focal = read!(FocalLength::new, request.focal_length_mm)?;
    let number = read!(Aperture::engraved, request.f_number)?;
    let circle = read!(Disc::new, request.circle_mm)?;
    let on = (request.focus_mm.unwrap_or(Place::INFINITY)).reach("focusMm")?;
    let focus = request.measured_from.focus(focal, on).at("focusMm")?;
    let near = Magnification::new(focus.magnification()).at("focusMm")?;
    let wheel = shifts(&request.wheel, "wheel")?;
    let set_at = wheel_position(request.wheel_set_at, &wheel, "wheelSetAt")?;
    let now_at = wheel_position(request.wheel_at, &wheel, "wheelAt")?;
    let apart_from_wheel = sum(&request.behind, "behind")? - sum(&request.set_for, "setFor")?;
    let reach = law::depth_of_focus(number, near, circle);
    let infinity = Focus::from_lens(focal, Reach::Infinity).at("focalLengthMm")?;
    let tell = |place: Option<Reach>| mark(request.measured_from, focal, place);
    let at_position = |glass: f64| -> Result<WheelReply, Refusal> {
        let shift = Length::new(apart_from_wheel + glass - set_at).at("behind")?;
        Ok(WheelReply {
            shift_mm: shift.millimetres(),
            blur_mm: law::blur_of_shift(shift, number, near),
            verdict: if shift.millimetres().abs() <= reach {
                ShiftVerdict::Within
            } else {
                ShiftVerdict::Beyond
            },
            infinity_reads_mm: tell(law::scale_for(infinity, shift).at("behind")?)?,
        })
    };
    let now = at_position(now_at)?;
    let shift = Length::new(now.shift_mm).at("behind")?;
    let in_front = Length::new(sum(&request.in_front, "inFront")?).at("inFront")?;
    let seen = law::seen_through(focus.on(), in_front).at("inFront")?;
    let mut told = BehindLensReply {
        shift_mm: now.shift_mm,
        depth_of_focus_mm: reach,
        verdict: now.verdict,
        blur_mm: now.blur_mm,
        scale_reads_mm: tell(law::scale_for(focus, shift).at("behind")?)?,
        infinity_reads_mm: now.infinity_reads_mm,
        sharp_at_mm: tell(law::sharp_at(focus, shift).at("behind")?)?,
        wheel: wheel
            .into_iter()
            .map(at_position)
            .collect::<Result<_, _>>()?,
        in_front_shift_mm: in_front.millimetres(),
        in_front_reads_mm: request.measured_from.reading(focal, seen).at("inFront")?,
        working: None,
    };
    if request.explain {
        told.working = working(request, number, &told);
    }
    Ok(told)
}

fn mark(from: MeasuredFrom, focal: FocalLength, place: Option<Reach>) -> Result<Mark, Refusal> {
    let Some(place) = place else {
        return Ok(Mark::Named(NamedMark::BeyondInfinity));
    };
    Ok(match from.reading(focal, place).at("behind")? {
        Place::Millimetres(distance) => Mark::Millimetres(distance),
        Place::Named(_) => Mark::Named(NamedMark::Infinity),
    })
}

fn shifts(plates: &[PlateRequest], list: &str) -> Result<Vec<f64>, Refusal> {
    if plates.len() > MOST {
        return Err(Refusal::too_many(list, plates.len(), MOST));
    }
    (plates.iter().enumerate())
        .map(|(at, plate)| {
            let index = plate.refractive_index.unwrap_or(ORDINARY_INDEX);
            Ok(law::shift(law::Plate {
                thickness: (Thickness::new(plate.thickness_mm))
                    .at(&format!("{list}[{at}].thicknessMm"))?,
                index: RefractiveIndex::new(index).at(&format!("{list}[{at}].refractiveIndex"))?,
            }))
        })
        .collect()
}

fn sum(plates: &[PlateRequest], list: &str) -> Result<f64, Refusal> {
    // From 0, as an empty sum of floats is −0.
    Ok(shifts(plates, list)?
        .into_iter()
        .fold(0.0, |all, shift| all + shift))
}

/// The shift of a wheel position; no wheel shifts nothing.
fn wheel_position(at: Option<usize>, wheel: &[f64], field: &str) -> Result<f64, Refusal> {
    match (at, wheel.get(at.unwrap_or(0))) {
        (_, Some(shift)) => Ok(*shift),
        (None, None) => Ok(0.0),
        // A position of a wheel that is not there: the wheel is missing.
        (Some(_), None) if wheel.is_empty() => Err(Refusal::new(Code::Missing, "wheel")),
        (Some(at), None) => Err(Refusal::count_outside(field, at, 0, wheel.len() - 1)),
    }
}
