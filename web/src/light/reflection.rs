//! `reflection`: what a surface reflects and what a polarizer leaves of it.

use super::pair_working;
use crate::plain::refusal::{At, Refusal};
use crate::shapes::working::TermReply;
use glasscall_core::physics::fresnel::{brewster_angle, brewster_distance, pane, surface};
use glasscall_core::quantity::{ExtinctionRatio, Incidence, Length, RefractiveIndex, Stops};
use glasscall_derive::read;
use glasscall_derive::{FromPlain, ToPlain};
use serde::{Deserialize, Serialize};
use tsify::Tsify;

/// A weakening from here on makes a clear view: two stops, a quarter left.
///
/// Common practice, no source.
const STRONG: f64 = 2.0;
/// A weakening below this is not worth the polarizer's loss.
///
/// Common practice, no source.
const WEAK: f64 = 2.0 / 3.0;

/// A surface and the angle it is seen at.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct ReflectionRequest {
    /// Against air: water 1.333, window glass 1.52.
    pub refractive_index: f64,
    /// From the surface's normal, 0 square on, 90 grazing.
    pub angle_deg: f64,
    /// One face, as of water, unless said.
    #[serde(default)]
    pub surface: SurfaceName,
    /// What the polarizer passes along its axis against across it; ideal
    /// unless said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub extinction_ratio: Option<f64>,
    /// Lens above the water, or away from the pane, in mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lens_height_mm: Option<f64>,
    /// Whether to tell how it is worked out, where a few terms tell it whole.
    #[serde(default)]
    pub explain: bool,
}

/// Which faces reflect.
#[derive(
    Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, ToPlain, Deserialize, FromPlain, Tsify,
)]
#[serde(rename_all = "camelCase")]
pub enum SurfaceName {
    /// One, as of water or of lacquer.
    #[default]
    OneFace,
    /// Both faces of a pane.
    Pane,
}

/// What is reflected and what is left of it.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct ReflectionReply {
    /// Reflected share of the field across the plane of incidence.
    pub rs: f64,
    /// Reflected share of the field in the plane of incidence.
    pub rp: f64,
    /// Of light as it comes.
    pub mean: f64,
    /// The angle at which a polarizer removes the reflection.
    pub brewster_deg: f64,
    /// Share of the reflection left, against the rest of the picture, by the
    /// polarizer turned to pass the field in the plane of incidence.
    pub left_by_polarizer: f64,
    /// The same in stops; absent when nothing is left.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub weaker_by_stops: Option<f64>,
    /// Whether to shoot from here or to move.
    pub verdict: ReflectionVerdict,
    /// How far away along the surface the point lies that is seen at the
    /// Brewster angle; with a lens height.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub brewster_distance_mm: Option<f64>,
    /// How it is worked out, term by term, where that was asked and can be told.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub working: Option<Vec<TermReply>>,
}

/// Whether to shoot from here.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase")]
pub enum ReflectionVerdict {
    /// Two stops weaker or more.
    Strong,
    /// Some is left.
    Partial,
    /// Move: under two thirds of a stop.
    Move,
}

/// Answers `reflection`.
///
/// # Errors
///
/// `outOfRange`.
pub fn reflection(request: &ReflectionRequest) -> Result<ReflectionReply, Refusal> {
    let index = read!(RefractiveIndex::new, request.refractive_index)?;
    let angle = read!(Incidence::new, request.angle_deg)?;
    let ratio = read!(ExtinctionRatio::new, request.extinction_ratio?)?;
    let distance = (request.lens_height_mm)
        .map(|height| Length::new(height).and_then(|height| brewster_distance(height, index)))
        .transpose()
        .at("lensHeightMm")?;
    let found = match request.surface {
        SurfaceName::OneFace => surface(index, angle),
        SurfaceName::Pane => pane(index, angle),
    };
    let left = ratio.map_or(found.left_by_polarizer(), |ratio| {
        found.left_by_sheet(ratio)
    });
    let weaker = match ratio {
        Some(_) => Some(-libm::log2(left)),
        None => found.weaker_by().map(Stops::stops),
    };
    let told = ReflectionReply {
        rs: found.across,
        rp: found.along,
        mean: found.mean(),
        brewster_deg: brewster_angle(index),
        left_by_polarizer: left,
        weaker_by_stops: weaker,
        verdict: match weaker {
            Some(stops) if stops < WEAK => ReflectionVerdict::Move,
            Some(stops) if stops < STRONG => ReflectionVerdict::Partial,
            _ => ReflectionVerdict::Strong,
        },
        brewster_distance_mm: distance.map(Length::millimetres),
        working: None,
    };
    let explained = (request.explain).then(|| pair_working::reflection(request, &told));
    Ok(ReflectionReply {
        working: explained.flatten(),
        ..told
    })
}
