//! `ghost`: where glass that faces glass doubles a lamp, and how bright.

use super::ghost_working::working;
use crate::plain::refusal::{At, Refusal, needed};
use crate::shapes::working::TermReply;
use glasscall_core::physics::ghost as law;
use glasscall_core::physics::ghost::{Between, GhostProblem};
use glasscall_core::quantity::{Angle, FocalLength, Length, RefractiveIndex, Share, Stops};
use glasscall_derive::read;
use glasscall_derive::{FromPlain, ToPlain};
use serde::{Deserialize, Serialize};
use tsify::Tsify;

/// A lamp and the two surfaces its light bounces between.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct GhostRequest {
    /// Which surfaces.
    pub between: GhostBetween,
    /// Tilt of one against the other, −30 to 30; the wedge of one plate.
    #[serde(default)]
    pub tilt_deg: f64,
    /// Focal length in mm.
    pub focal_length_mm: f64,
    /// The lamp's image from the lens axis, in mm, positive the way the tilt
    /// throws the ghost.
    #[serde(default)]
    pub lamp_mm: f64,
    /// Share of the light each surface reflects: 0.04 for bare glass, 0.005
    /// for a coating.
    pub reflectances: [f64; 2],
    /// Of the plate, for `facesOfOnePlate`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub refractive_index: Option<f64>,
    /// From the lens axis to the picture's edge either way, in mm, to ask for the
    /// tilt that throws the ghost out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub edge_mm: Option<f64>,
    /// Whether to tell how it is worked out, where a few terms tell it whole.
    #[serde(default)]
    pub explain: bool,
}

/// The two surfaces.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase")]
pub enum GhostBetween {
    /// Two filters.
    TwoPlates,
    /// A filter and the sensor.
    PlateAndSensor,
    /// Both faces of one filter.
    FacesOfOnePlate,
}

/// The ghost.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct GhostReply {
    /// From the lens axis, in mm; absent beyond the field.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub ghost_mm: Option<f64>,
    /// How far the tilt alone moves it, in mm.
    pub shift_mm: f64,
    /// How much weaker than the lamp; absent when nothing is reflected.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub weaker_by_stops: Option<f64>,
    /// The least tilt that throws it past an edge, negative the other way; with
    /// an edge.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub tilt_to_clear_deg: Option<f64>,
    /// How it is worked out, term by term, where that was asked and can be told.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub working: Option<Vec<TermReply>>,
}

/// Largest tilt the law is for.
const MOST_TILT: f64 = 30.0;

/// Answers `ghost`.
///
/// # Errors
///
/// `outOfRange`; `missing` for one plate without its index.
pub fn ghost(request: &GhostRequest) -> Result<GhostReply, Refusal> {
    let tilt = read!(Angle::new, request.tilt_deg)?;
    if tilt.degrees().abs() > MOST_TILT {
        let given = request.tilt_deg;
        return Err(Refusal::outside("tiltDeg", given, -MOST_TILT, MOST_TILT));
    }
    let index = read!(RefractiveIndex::new, request.refractive_index?)?;
    let [first, second] = request.reflectances;
    let problem = GhostProblem {
        between: match request.between {
            GhostBetween::TwoPlates => Between::TwoPlates,
            GhostBetween::PlateAndSensor => Between::PlateAndSensor,
            GhostBetween::FacesOfOnePlate => {
                Between::FacesOfOnePlate(needed(index, "refractiveIndex")?)
            }
        },
        tilt,
        focal_length: read!(FocalLength::new, request.focal_length_mm)?,
        lamp: read!(Length::new, request.lamp_mm)?,
        reflect: [
            Share::new(first).at("reflectances[0]")?,
            Share::new(second).at("reflectances[1]")?,
        ],
    };
    let edge = read!(Length::new, request.edge_mm?)?;
    let found = law::ghost(&problem);
    let told = GhostReply {
        ghost_mm: found.at,
        shift_mm: found.shift,
        weaker_by_stops: found.weaker.map(Stops::stops),
        tilt_to_clear_deg: edge.map(|edge| law::tilt_to_clear(&problem, edge)),
        working: None,
    };
    let explained = (request.explain).then(|| working(request, &told));
    Ok(GhostReply {
        working: explained.flatten(),
        ..told
    })
}
