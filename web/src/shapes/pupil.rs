//! Where the entrance pupil is, as a request gives it.

use crate::plain::refusal::{At, Refusal};
use glasscall_core::physics::pupil::PupilPosition;
use glasscall_core::physics::pupil_range::{PupilRange, from_front};
use glasscall_core::quantity::{Aperture, Bounds, Length, Span};
use glasscall_core::setup::View;
use glasscall_derive::{FromPlain, ToPlain};
use serde::{Deserialize, Serialize};
use tsify::Tsify;

/// How far the entrance pupil is behind the rim, mm: one figure, one for each
/// axis of an anamorphic lens, or two limits.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(untagged)]
pub enum PupilPlace {
    /// The same for both axes.
    Known(f64),
    /// One for each axis.
    Axes(PupilAxes),
    /// Somewhere in between.
    Between(PupilLimits),
}

/// A pupil position for each axis.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct PupilAxes {
    /// For rays fanning out sideways.
    pub horizontal_mm: f64,
    /// For rays fanning out up and down.
    pub vertical_mm: f64,
}

/// Limits of a pupil position.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct PupilLimits {
    /// Nearest to the rim.
    pub nearest_mm: f64,
    /// Farthest behind it.
    pub farthest_mm: f64,
}

impl PupilPlace {
    /// The limits of the pupil given at `path`.
    pub(crate) fn range(self, path: &str) -> Result<PupilRange, Refusal> {
        let length = |given: f64, field: &str| Length::new(given).at(&format!("{path}{field}"));
        Ok(match self {
            Self::Known(behind) => PupilRange::known(length(behind, "")?.into()),
            Self::Axes(axes) => PupilRange::known(PupilPosition {
                horizontal: length(axes.horizontal_mm, ".horizontalMm")?,
                vertical: length(axes.vertical_mm, ".verticalMm")?,
            }),
            Self::Between(limits) => {
                let nearest = length(limits.nearest_mm, ".nearestMm")?;
                let ahead = Bounds::LENGTH.from(nearest.millimetres());
                let field = format!("{path}.farthestMm");
                ahead.check(limits.farthest_mm).at(&field)?;
                PupilRange::between(nearest, length(limits.farthest_mm, ".farthestMm")?)
            }
        })
    }
}

/// tan θ at the edge of what the lens covers, or at the picture's corner where
/// that is not said.
pub(crate) fn covered(circle: Option<f64>, view: &View, path: &str) -> Result<f64, Refusal> {
    let at = format!("{path}imageCircleMm");
    match circle.map(Span::new).transpose().at(&at)? {
        Some(circle) => view.edge_of_circle(circle).at(&at),
        None => Ok(view.farthest_corner()),
    }
}

/// The limits of a pupil that is given, or else those its front gives; `None`
/// when neither is known. `path` is where the fields are, empty or ending in a
/// dot.
pub(crate) fn pupil_range(
    place: Option<PupilPlace>,
    (front, circle): (Option<f64>, Option<f64>),
    view: &View,
    f_number: Aperture,
    path: &str,
) -> Result<Option<PupilRange>, Refusal> {
    let at = format!("{path}frontDiameterMm");
    let front = front.map(Span::new).transpose().at(&at)?;
    let covered = covered(circle, view, path)?;
    match (place, front) {
        (Some(place), _) => place.range(&format!("{path}pupilBehindRimMm")).map(Some),
        (None, Some(front)) => from_front(front, covered, view, f_number).at(&at).map(Some),
        (None, None) => Ok(None),
    }
}
