//! A piece as a request describes it.

use crate::refusal::{At, Code, Refusal};
use glasscall_core::quantity::{Density, LensPower, MiredShift, Stops};
use glasscall_core::setup::{Piece, PieceError, PieceKind, PieceRecord};
use serde::{Deserialize, Serialize};
use tsify::Tsify;

/// One physical filter, or several alike.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, Tsify)]
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
    /// How many there are; one unless said.
    #[serde(default = "one")]
    pub count: u8,
}

const fn one() -> u8 {
    1
}

/// What a piece is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub enum PieceKindName {
    /// Neutral density.
    Nd,
    /// Graduated.
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

impl From<PieceKindName> for PieceKind {
    fn from(name: PieceKindName) -> Self {
        match name {
            PieceKindName::Nd => Self::NeutralDensity,
            PieceKindName::Grad => Self::Graduated,
            PieceKindName::Polarizer => Self::Polarizer,
            PieceKindName::InfraredCut => Self::InfraredCut,
            PieceKindName::Colour => Self::Colour,
            PieceKindName::CloseUp => Self::CloseUp,
            PieceKindName::Effect => Self::Effect,
            PieceKindName::Clear => Self::Clear,
        }
    }
}

impl PieceRequest {
    /// The piece at `path`, as `kit[2]`.
    pub(crate) fn piece(&self, path: &str) -> Result<Piece, Refusal> {
        let at = |field: &str| format!("{path}.{field}");
        let density =
            |value: Option<f64>, field: &str| value.map(Density::new).transpose().at(&at(field));
        (self.dioptres.map(LensPower::new).transpose()).at(&at("dioptres"))?;
        let record = PieceRecord {
            id: self.id.clone(),
            kind: self.kind.into(),
            marked: density(self.density, "density")?,
            measured: density(self.measured_density, "measuredDensity")?,
            stated: self
                .loss_stops
                .map(Stops::new)
                .transpose()
                .at(&at("lossStops"))?,
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
            PieceError::NegativeLoss => Refusal {
                given: self.loss_stops.map(crate::Given::Number),
                min: Some(0.0),
                max: Some(glasscall_core::quantity::Bounds::STOPS.max),
                ..Refusal::new(Code::OutOfRange, &at("lossStops"))
            },
        })
    }
}
