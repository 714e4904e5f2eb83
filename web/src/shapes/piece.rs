//! A piece as a request describes it.

use crate::plain::iso_8601::read_date;
use crate::plain::refusal::{At, Code, Refusal};
use crate::shapes::grad::ProfileRequest;
use crate::shapes::lens::stops_lost;
use crate::shapes::planning::in_range;
use glasscall_core::quantity::{Bounds, Density, LensPower, MiredShift};
use glasscall_core::setup::{Piece, PieceError, PieceKind, PieceRecord};
use glasscall_derive::{FromPlain, ToPlain, Twin};
use serde::{Deserialize, Serialize};
use tsify::Tsify;

/// One physical filter, or several alike.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct PieceRequest {
    /// The owner's name for it, used once.
    pub id: String,
    /// What it is for.
    pub kind: PieceKindName,
    /// Density as marked.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub density: Option<f64>,
    /// Density as measured; outranks the mark.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub measured_density: Option<f64>,
    /// The day it was measured, as 2026-05-01.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub measured_on: Option<String>,
    /// Loss in stops, as for a polarizer.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub loss_stops: Option<f64>,
    /// Thread or panel size; left out it fits any slot.
    #[serde(default)]
    pub size: String,
    /// Density in the infrared, where known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub infrared_density: Option<f64>,
    /// Shift of colour temperature in mired.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub mired_shift: Option<f64>,
    /// Power of a close-up lens.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub dioptres: Option<f64>,
    /// Whether a close-up lens covers only part of the picture.
    #[serde(default)]
    pub split: bool,
    /// How the density of a graduated piece runs across its line; its own
    /// density is left out, as it stands beside it. Nothing to other kinds.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub profile: Option<ProfileRequest>,
    /// Thickness of the glass.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub thickness_mm: Option<f64>,
    /// What it is made of.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub material: Option<crate::Material>,
    /// What it weighs with its frame.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub mass_g: Option<f64>,
    /// How many there are; one unless said.
    #[serde(default = "one")]
    pub count: u8,
}

const fn one() -> u8 {
    1
}

/// What a piece is for.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, Serialize, ToPlain, Deserialize, FromPlain, Tsify, Twin,
)]
#[serde(rename_all = "camelCase")]
#[twin(into PieceKind)]
pub enum PieceKindName {
    /// Neutral density.
    #[twin(NeutralDensity)]
    Nd,
    /// Graduated.
    #[twin(Graduated)]
    Grad,
    /// Polarizer.
    Polarizer,
    /// Infrared cut.
    InfraredCut,
    /// Colour conversion or correction.
    Colour,
    /// Close-up lens.
    CloseUp,
    /// Diffusion and other effects.
    Effect,
    /// Clear.
    Clear,
}

impl PieceRequest {
    /// One of this name and kind, of which nothing else is said: whoever makes a
    /// piece says what is known of it and takes the rest from here.
    pub(crate) const fn named(id: String, kind: PieceKindName) -> Self {
        Self {
            id,
            kind,
            density: None,
            measured_density: None,
            measured_on: None,
            loss_stops: None,
            size: String::new(),
            infrared_density: None,
            mired_shift: None,
            dioptres: None,
            split: false,
            profile: None,
            thickness_mm: None,
            material: None,
            mass_g: None,
            count: one(),
        }
    }

    /// The piece at `path`, as `kit[2]`.
    pub(crate) fn piece(&self, path: &str) -> Result<Piece, Refusal> {
        let at = |field: &str| format!("{path}.{field}");
        let density =
            |value: Option<f64>, field: &str| value.map(Density::new).transpose().at(&at(field));
        let size = |value: Option<f64>, max: f64, field: &str| {
            value.map_or(Ok(0.0), |value| in_range(value, 0.0, max, &at(field)))
        };
        size(self.thickness_mm, 1000.0, "thicknessMm")?;
        size(self.mass_g, 1e6, "massG")?;
        if let Some(day) = &self.measured_on {
            read_date(day, &at("measuredOn"))?;
        }
        if let Some(profile) = &self.profile {
            profile.of_piece(self.measured_density.or(self.density), &at("profile"))?;
        }
        (self.dioptres.map(LensPower::new).transpose()).at(&at("dioptres"))?;
        let record = PieceRecord {
            id: self.id.clone(),
            kind: self.kind.into(),
            marked: density(self.density, "density")?,
            measured: density(self.measured_density, "measuredDensity")?,
            stated: (self.loss_stops)
                .map(|loss| stops_lost(loss, &at("lossStops")))
                .transpose()?,
            size: self.size.clone(),
            infrared: density(self.infrared_density, "infraredDensity")?,
            mired_shift: self
                .mired_shift
                .map(MiredShift::new)
                .transpose()
                .at(&at("miredShift"))?,
            count: self.count,
        };
        Piece::new(record).map_err(|error| match error {
            PieceError::NoDensity => Refusal::new(Code::Missing, &at("density")),
            PieceError::NegativeLoss => Refusal::outside(
                &at("lossStops"),
                self.loss_stops.unwrap_or_default(),
                0.0,
                Bounds::STOPS.max,
            ),
        })
    }
}
