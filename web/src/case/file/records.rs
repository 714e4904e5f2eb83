//! The records of a case and what they must keep to.

use super::Record;
use super::checks::{inside, named, positive};
use crate::case::rings::OwnedRingRequest;
use crate::plain::refusal::{At, Refusal};
use crate::shapes::opening::OpeningRequest;
use crate::shapes::piece::PieceRequest;
use crate::shapes::planning::in_range;
use glasscall_core::quantity::{Density, ExposureIndex, RefractiveIndex};
use glasscall_derive::{FromPlain, ToPlain};
use serde::{Deserialize, Serialize};
use tsify::Tsify;

/// A rig.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct CaseRig {
    /// The owner's name for it, used once.
    pub id: String,
    /// How filters go in.
    pub mount: MountName,
    /// Minutes one move takes.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub minutes_per_move: Option<f64>,
    /// What it weighs without filters.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub mass_g: Option<f64>,
    /// What it costs.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cost: Option<f64>,
    /// The thread it screws on; left out it stands on rods.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub thread_mm: Option<f64>,
    /// How far its middle lies ahead of the rim, or of the last ring.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub middle_mm: Option<f64>,
}

/// How filters go in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase")]
pub enum MountName {
    /// Screwed into threads.
    ScrewIn,
    /// Held by magnets or clips.
    SnapOn,
    /// Trays of a matte box.
    MatteBox,
}

/// A slot of a rig.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct CaseSlot {
    /// Id of the rig.
    pub rig: String,
    /// The owner's name for it, used once in the rig.
    pub id: String,
    /// Thread or panel size; left out it takes any.
    #[serde(default)]
    pub size: String,
    /// Whether a piece in it can be turned.
    #[serde(default)]
    pub rotates: bool,
    /// The opening that light passes when a piece is in it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub opening: Option<OpeningRequest>,
}

/// A camera body.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct CaseBody {
    /// The owner's name for it, used once.
    pub id: String,
    /// Exposure index it is used at.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub exposure_index: Option<f64>,
    /// Flat glass between lens and sensor as it is used.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub glass_mm: Option<f64>,
    /// Flat glass there was when the distance from mount to sensor was set.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub set_for_mm: Option<f64>,
    /// Flat glass in front of the lens that counts for focus.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub front_mm: Option<f64>,
    /// Refractive index of all that glass.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub refractive_index: Option<f64>,
}

/// A sensor mode of a body.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct CaseMode {
    /// Id of the body.
    pub body: String,
    /// The owner's name for it, used once in the body.
    pub id: String,
    /// Width read out.
    pub width_mm: f64,
    /// Height read out.
    pub height_mm: f64,
}

/// A position of a body's internal wheel.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct CaseWheel {
    /// Id of the body.
    pub body: String,
    /// What the position is called, used once in the body.
    pub id: String,
    /// Density as marked.
    pub density: f64,
    /// Density as measured.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub measured_density: Option<f64>,
    /// Density in the infrared, where known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub infrared_density: Option<f64>,
}

/// Something always in front of a lens with a rig.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct CaseOpening {
    /// Id of the rig.
    pub rig: String,
    /// The opening.
    pub opening: OpeningRequest,
}

/// Glass of one of a wheel's positions.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct CasePlate {
    /// Id of the body.
    pub body: String,
    /// What the position is called, used once in the body.
    pub id: String,
    /// Thickness of its glass.
    pub thickness_mm: f64,
}

impl Record for PieceRequest {
    fn check(&self, path: &str) -> Result<(), Refusal> {
        named(&self.id, path)?;
        self.piece(path).map(|_| ())
    }

    fn name(&self) -> Option<String> {
        Some(self.id.clone())
    }
}

impl Record for OwnedRingRequest {
    fn check(&self, path: &str) -> Result<(), Refusal> {
        self.ring(path).map(|_| ())
    }

    fn name(&self) -> Option<String> {
        None
    }
}

impl Record for CaseRig {
    fn check(&self, path: &str) -> Result<(), Refusal> {
        named(&self.id, path)?;
        positive(
            self.minutes_per_move,
            1000.0,
            &format!("{path}.minutesPerMove"),
        )?;
        positive(self.cost, 1e9, &format!("{path}.cost"))?;
        positive(self.thread_mm, 1000.0, &format!("{path}.threadMm"))?;
        positive(self.middle_mm, 10_000.0, &format!("{path}.middleMm"))?;
        positive(self.mass_g, 1e6, &format!("{path}.massG"))
    }

    fn name(&self) -> Option<String> {
        Some(self.id.clone())
    }
}

impl Record for CaseSlot {
    fn check(&self, path: &str) -> Result<(), Refusal> {
        named(&self.id, path)?;
        let opening = self.opening.as_ref();
        opening.map_or(Ok(()), |opening| {
            opening.placed(&format!("{path}.opening")).map(|_| ())
        })
    }

    fn name(&self) -> Option<String> {
        inside(&self.rig, &self.id)
    }

    fn belongs_to(&self) -> Option<(&'static str, &'static str, &str)> {
        Some(("rigs", "rig", &self.rig))
    }
}

impl Record for CaseBody {
    fn check(&self, path: &str) -> Result<(), Refusal> {
        named(&self.id, path)?;
        let index = self.exposure_index.map(ExposureIndex::new).transpose();
        index.at(&format!("{path}.exposureIndex"))?;
        for (given, field) in [
            (self.glass_mm, "glassMm"),
            (self.set_for_mm, "setForMm"),
            (self.front_mm, "frontMm"),
        ] {
            positive(given, 1000.0, &format!("{path}.{field}"))?;
        }
        let index = self.refractive_index.map(RefractiveIndex::new).transpose();
        index.at(&format!("{path}.refractiveIndex")).map(|_| ())
    }

    fn name(&self) -> Option<String> {
        Some(self.id.clone())
    }
}

impl Record for CaseMode {
    fn check(&self, path: &str) -> Result<(), Refusal> {
        named(&self.id, path)?;
        in_range(self.width_mm, 0.1, 1000.0, &format!("{path}.widthMm"))?;
        in_range(self.height_mm, 0.1, 1000.0, &format!("{path}.heightMm")).map(|_| ())
    }

    fn name(&self) -> Option<String> {
        inside(&self.body, &self.id)
    }

    fn belongs_to(&self) -> Option<(&'static str, &'static str, &str)> {
        Some(("bodies", "body", &self.body))
    }
}

impl Record for CaseWheel {
    fn check(&self, path: &str) -> Result<(), Refusal> {
        let at = |field: &str| format!("{path}.{field}");
        named(&self.id, path)?;
        Density::new(self.density).at(&at("density"))?;
        let density = |given: Option<f64>, field: &str| {
            (given.map(Density::new).transpose())
                .at(&at(field))
                .map(|_| ())
        };
        density(self.measured_density, "measuredDensity")?;
        density(self.infrared_density, "infraredDensity")
    }

    fn name(&self) -> Option<String> {
        inside(&self.body, &self.id)
    }

    fn belongs_to(&self) -> Option<(&'static str, &'static str, &str)> {
        Some(("bodies", "body", &self.body))
    }
}

impl Record for CaseOpening {
    fn check(&self, path: &str) -> Result<(), Refusal> {
        self.opening.placed(&format!("{path}.opening")).map(|_| ())
    }

    fn name(&self) -> Option<String> {
        None
    }

    fn belongs_to(&self) -> Option<(&'static str, &'static str, &str)> {
        Some(("rigs", "rig", &self.rig))
    }
}

impl Record for CasePlate {
    fn check(&self, path: &str) -> Result<(), Refusal> {
        named(&self.id, path)?;
        let field = format!("{path}.thicknessMm");
        in_range(self.thickness_mm, 0.0, 1000.0, &field).map(|_| ())
    }

    fn name(&self) -> Option<String> {
        inside(&self.body, &self.id)
    }

    fn belongs_to(&self) -> Option<(&'static str, &'static str, &str)> {
        Some(("bodies", "body", &self.body))
    }
}
