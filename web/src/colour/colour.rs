//! `colour`: colour temperature through a stack, against the white balance.

use super::colour_working::working;
use crate::plain::refusal::{At, Code, Refusal, needed};
use crate::shapes::working::TermReply;
use glasscall_core::physics::mired as law;
use glasscall_core::physics::planckian::chromaticity;
use glasscall_core::quantity::{Bounds, ColourTemperature, MiredShift, OutOfRange};
use glasscall_core::sorted::sort_by;
use glasscall_derive::{FromPlain, ToPlain, read};
use serde::{Deserialize, Serialize};
use tsify::Tsify;

/// Most shifts in one stack.
const MOST: usize = 32;
/// Most pieces at hand.
const MOST_OWN: usize = 1000;
/// A cast under this is called even: about the least an eye tells side by side.
///
/// Judd, J. Opt. Soc. Am. 23, 7–14 (1933): a step just doubtfully seen goes with
/// the square of the colour temperature, as its abstract says, and so is the same in
/// mired everywhere; that it is about 5½ is from memory.
const EVEN_WITHIN: f64 = 5.5;

/// A light, the shifts of the glass, and what the camera is set to.
#[derive(Debug, Clone, Default, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct ColourRequest {
    /// Colour temperature of the light; or `lightMired`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub light_kelvin: Option<f64>,
    /// The same in mired.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub light_mired: Option<f64>,
    /// Shifts of the pieces in the stack; positive is warmer.
    #[serde(default)]
    pub shifts_mired: Vec<f64>,
    /// White balance of the camera; or `balanceMired`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub balance_kelvin: Option<f64>,
    /// The same in mired.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub balance_mired: Option<f64>,
    /// White balance at which another body shows the same grey as neutral.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub other_balance_kelvin: Option<f64>,
    /// Shifts of the pieces at hand, to name the one next to what is wanted.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub own_shifts_mired: Vec<f64>,
    /// A cast up to this is called even; 5.5 unless said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub even_within_mired: Option<f64>,
    /// Whether to tell how it is worked out, where a few terms tell it whole.
    #[serde(default)]
    pub explain: bool,
}

/// The light before and after the glass, and what the camera makes of it.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct ColourReply {
    /// The light.
    pub light: LightReply,
    /// Shift of the whole stack.
    pub sum_mired: f64,
    /// Whether that is as much as is told: half a mired.
    pub shifts: bool,
    /// The light through the stack.
    pub seen: SeenReply,
    /// Against the white balance; absent without one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub cast: Option<CastReply>,
    /// Against the other body; absent without one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub other_body: Option<OtherBodyReply>,
    /// How it is worked out, term by term, where that was asked and can be told.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub working: Option<Vec<TermReply>>,
}

/// A light, both ways.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct LightReply {
    /// Colour temperature.
    pub kelvin: f64,
    /// Its reciprocal, 10⁶/K.
    pub mired: f64,
    /// CIE 1931 x of a full radiator.
    pub x: f64,
    /// CIE 1931 y.
    pub y: f64,
}

/// A light through glass: a colour temperature, or `"none"` when it is bluer or
/// redder than any.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(untagged)]
pub enum SeenReply {
    /// It has a colour temperature.
    Light(LightReply),
    /// It has none.
    Named(NoTemperature),
}

/// A light without a colour temperature.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase")]
pub enum NoTemperature {
    /// No full radiator looks like it.
    None,
}

/// How the picture leans.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct CastReply {
    /// The white balance.
    pub balance: LightReply,
    /// Stack and light less the white balance; positive is a warmer picture.
    pub mired: f64,
    /// In a word.
    pub lean: Lean,
    /// The shift another piece must add for an even picture.
    pub wanted_shift_mired: f64,
    /// Place in `ownShiftsMired` of the piece next to that; absent where none
    /// brings the picture nearer to even.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub nearest_own: Option<usize>,
    /// White balance that makes it even with the stack as it is; absent when
    /// there is none.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub even_at_kelvin: Option<f64>,
    /// The usual conversions, best for `wantedShiftMired` first.
    pub conversions: Vec<ConversionReply>,
}

/// How a picture leans.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase")]
pub enum Lean {
    /// Towards amber.
    Warm,
    /// Towards blue.
    Cool,
    /// Neither, as far as the eye tells.
    Even,
}

/// Another body beside this one.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct OtherBodyReply {
    /// The balance at which it shows the same grey.
    pub balance: LightReply,
    /// Its balance less this body's: what to add, in mired, to every balance
    /// carried over to it. Positive: it must be set to fewer kelvin.
    pub mismatch_mired: f64,
    /// Whether an eye tells the difference.
    pub lean: Lean,
}

/// A usual conversion filter.
///
/// Common practice, no source.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct ConversionReply {
    /// Its colour.
    pub colour: FilterColour,
    /// Colour temperature it converts from.
    pub from_kelvin: f64,
    /// Colour temperature it converts to.
    pub to_kelvin: f64,
    /// Its shift.
    pub shift_mired: f64,
    /// What would be left of the cast with it in.
    pub left_mired: f64,
}

/// What a conversion filter looks like.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase")]
pub enum FilterColour {
    /// Warms.
    Amber,
    /// Cools.
    Blue,
}

/// Answers `colour`.
///
/// # Errors
///
/// `missing`, `oneTooMany`, `tooMany`, `outOfRange`.
pub fn colour(request: &ColourRequest) -> Result<ColourReply, Refusal> {
    let light = temperature(
        ("lightKelvin", request.light_kelvin),
        ("lightMired", request.light_mired),
    )?;
    let light = needed(light, "lightKelvin")?;
    let balance = temperature(
        ("balanceKelvin", request.balance_kelvin),
        ("balanceMired", request.balance_mired),
    )?;
    let even = read!(Bounds::EVEN_WITHIN, request.even_within_mired else EVEN_WITHIN)?;
    let own = shifts(&request.own_shifts_mired, "ownShiftsMired", MOST_OWN)?;
    let given = shifts(&request.shifts_mired, "shiftsMired", MOST)?;
    let sum = law::shift_together(given).at("shiftsMired")?;
    let cast = balance
        .map(|balance| cast(light, sum, balance, even, &own))
        .transpose()?;
    let mut told = ColourReply {
        light: light_reply(light),
        sum_mired: sum.mired(),
        shifts: sum.mired().abs() >= law::TOLD_MIRED,
        seen: law::seen_through(light, sum).map_or(SeenReply::Named(NoTemperature::None), |seen| {
            SeenReply::Light(light_reply(seen))
        }),
        cast,
        other_body: other_body(request, balance, even)?,
        working: None,
    };
    if request.explain {
        told.working = working(request, &told);
    }
    Ok(told)
}

fn temperature(
    (kelvin_field, kelvin): (&str, Option<f64>),
    (mired_field, mired): (&str, Option<f64>),
) -> Result<Option<ColourTemperature>, Refusal> {
    match (kelvin, mired) {
        (Some(_), Some(_)) => Err(Refusal::new(Code::OneTooMany, mired_field)),
        (Some(kelvin), None) => ColourTemperature::new(kelvin).map(Some).at(kelvin_field),
        (None, Some(mired)) => {
            let mired = (Bounds::RECIPROCAL_TEMPERATURE.check(mired)).at(mired_field)?;
            law::temperature_of(mired).map(Some).at(mired_field)
        }
        (None, None) => Ok(None),
    }
}

fn shifts(given: &[f64], list: &str, most: usize) -> Result<Vec<MiredShift>, Refusal> {
    if given.len() > most {
        return Err(Refusal::too_many(list, given.len(), most));
    }
    (given.iter().enumerate())
        .map(|(at, &shift)| MiredShift::new(shift).at(&format!("{list}[{at}]")))
        .collect()
}

fn light_reply(light: ColourTemperature) -> LightReply {
    let colour = chromaticity(light);
    LightReply {
        kelvin: light.kelvin(),
        mired: law::mired(light),
        x: colour.x,
        y: colour.y,
    }
}

fn cast(
    light: ColourTemperature,
    sum: MiredShift,
    balance: ColourTemperature,
    even: f64,
    own: &[MiredShift],
) -> Result<CastReply, Refusal> {
    let mired = law::cast(light, sum, balance).at("shiftsMired")?.mired();
    let conversions = conversions(mired).at("balanceKelvin")?;
    Ok(CastReply {
        balance: light_reply(balance),
        mired,
        lean: lean(mired, even),
        wanted_shift_mired: -mired,
        nearest_own: law::nearest(own, -mired),
        even_at_kelvin: law::seen_through(light, sum).map(ColourTemperature::kelvin),
        conversions,
    })
}

fn lean(mired: f64, even: f64) -> Lean {
    if mired.abs() <= even {
        Lean::Even
    } else if mired > 0.0 {
        Lean::Warm
    } else {
        Lean::Cool
    }
}

fn conversions(cast: f64) -> Result<Vec<ConversionReply>, OutOfRange> {
    let mut found = law::USUAL_CONVERSIONS
        .iter()
        .map(|&(from, to)| {
            let shift =
                law::shift_between(ColourTemperature::new(from)?, ColourTemperature::new(to)?);
            Ok(ConversionReply {
                colour: if shift.mired() > 0.0 {
                    FilterColour::Amber
                } else {
                    FilterColour::Blue
                },
                from_kelvin: from,
                to_kelvin: to,
                shift_mired: shift.mired(),
                left_mired: cast + shift.mired(),
            })
        })
        .collect::<Result<Vec<_>, _>>()?;
    sort_by(&mut found, |a, b| {
        a.left_mired.abs().total_cmp(&b.left_mired.abs())
    });
    Ok(found)
}

fn other_body(
    request: &ColourRequest,
    balance: Option<ColourTemperature>,
    even: f64,
) -> Result<Option<OtherBodyReply>, Refusal> {
    let Some(other) = request.other_balance_kelvin else {
        return Ok(None);
    };
    let other = ColourTemperature::new(other).at("otherBalanceKelvin")?;
    let here = needed(balance, "balanceKelvin")?;
    let mismatch = law::shift_between(here, other).mired();
    Ok(Some(OtherBodyReply {
        balance: light_reply(other),
        mismatch_mired: mismatch,
        lean: lean(mismatch, even),
    }))
}
