//! An opening as a request gives it.

use crate::plain::refusal::{At, Code, Refusal, needed};
use glasscall_core::answer::fit::{Looked, Placed, Seen, Verdict};
use glasscall_core::physics::opening::{Opening, OpeningRecord, Shape};
use glasscall_core::quantity::{Angle, Aperture, Length, Span};
use glasscall_derive::{FromPlain, ToPlain, Twin};
use serde::{Deserialize, Serialize};
use tsify::Tsify;

/// An opening in front of the lens.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct OpeningRequest {
    /// The user's name for it.
    #[serde(default)]
    pub name: String,
    /// Its rear face, forward from the rim of the lens, mm.
    pub distance_from_rim_mm: f64,
    /// How deep it is along the axis, mm; left out it is a thin edge.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub depth_mm: Option<f64>,
    /// Round or rectangular.
    pub shape: ShapeName,
    /// Clear width of a rectangle, mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub width_mm: Option<f64>,
    /// Clear height of a rectangle, mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub height_mm: Option<f64>,
    /// Clear diameter of a circle, mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub diameter_mm: Option<f64>,
    /// Its middle right of the lens axis, mm.
    #[serde(default)]
    pub offset_x_mm: f64,
    /// Its middle above the lens axis, mm.
    #[serde(default)]
    pub offset_y_mm: f64,
    /// Counter-clockwise about its middle, seen from behind the camera.
    #[serde(default)]
    pub rotation_deg: f64,
    /// Whether it must turn freely, as a polarizer's stage must: it is judged at
    /// its worst turn, and the reply lists the arcs that shade.
    #[serde(default)]
    pub turns: bool,
    /// What was seen through the lens; outranks what is computed.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub seen: Option<VerdictName>,
    /// The f-number it was seen at; the one asked about unless said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub seen_at_f_number: Option<f64>,
}

/// The shape of an opening.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase")]
pub enum ShapeName {
    /// Round.
    Circle,
    /// Rectangular.
    Rectangle,
}

/// What an opening does to the picture.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, Serialize, ToPlain, Deserialize, FromPlain, Tsify, Twin,
)]
#[serde(rename_all = "camelCase")]
#[twin(into Verdict)]
pub enum VerdictName {
    /// The whole pupil passes everywhere.
    Clear,
    /// Some point loses part of the pupil, none its chief ray.
    Shades,
    /// Some chief ray is stopped.
    Clips,
}

/// What is known of what an opening does to the picture.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, Serialize, ToPlain, Deserialize, FromPlain, Tsify, Twin,
)]
#[serde(rename_all = "camelCase")]
#[twin(from Verdict)]
pub enum FitVerdictName {
    /// The whole pupil passes everywhere.
    Clear,
    /// Some point loses part of the pupil, none its chief ray.
    Shades,
    /// Some chief ray is stopped.
    Clips,
    /// Neither pupil nor front of the lens is known, and nobody looked.
    Unknown,
}

impl OpeningRequest {
    /// The opening at `path` of its request.
    pub(crate) fn placed(&self, path: &str) -> Result<Placed, Refusal> {
        let at = |field: &str| format!("{path}.{field}");
        let length = |given: f64, field: &str| Length::new(given).at(&at(field));
        let opening = Opening::new(OpeningRecord {
            shape: self.shape(&at)?,
            distance: length(self.distance_from_rim_mm, "distanceFromRimMm")?,
            depth: self
                .depth_mm
                .map(Span::new)
                .transpose()
                .at(&at("depthMm"))?,
            offset_x: length(self.offset_x_mm, "offsetXMm")?,
            offset_y: length(self.offset_y_mm, "offsetYMm")?,
            rotation: Angle::new(self.rotation_deg).at(&at("rotationDeg"))?,
        });
        let seen_at =
            (self.seen_at_f_number.map(Aperture::engraved).transpose()).at(&at("seenAtFNumber"))?;
        Ok(Placed {
            opening,
            turns: self.turns,
            seen: self.seen.map(|seen| Seen {
                verdict: seen.into(),
                at: seen_at,
            }),
        })
    }

    /// What was seen of it, wherever it stands now.
    pub(crate) fn looked(&self, path: &str) -> Result<Looked, Refusal> {
        let at = |field: &str| format!("{path}.{field}");
        let placed = self.placed(path)?;
        let seen = needed(placed.seen, &at("seen"))?;
        Ok(Looked {
            opening: placed.opening,
            verdict: seen.verdict,
            f_number: needed(seen.at, &at("seenAtFNumber"))?,
        })
    }

    fn shape(&self, at: &impl Fn(&str) -> String) -> Result<Shape, Refusal> {
        let size =
            |given: Option<f64>, field: &str| Span::new(needed(given, &at(field))?).at(&at(field));
        let without = |given: Option<f64>, field: &str| match given {
            Some(_) => Err(Refusal::new(Code::OneTooMany, &at(field))),
            None => Ok(()),
        };
        match self.shape {
            ShapeName::Circle => {
                without(self.width_mm, "widthMm")?;
                without(self.height_mm, "heightMm")?;
                Ok(Shape::Circle {
                    diameter: size(self.diameter_mm, "diameterMm")?,
                })
            }
            ShapeName::Rectangle => {
                without(self.diameter_mm, "diameterMm")?;
                Ok(Shape::Rectangle {
                    width: size(self.width_mm, "widthMm")?,
                    height: size(self.height_mm, "heightMm")?,
                })
            }
        }
    }
}
