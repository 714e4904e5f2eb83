//! What a case says of a lens: all that was measured or stated of it.

use super::Record;
use super::checks::{named, positive};
use crate::plain::refusal::{At, Refusal};
use crate::shapes::planning::in_range;
use glasscall_core::quantity::{
    Aperture, Bounds, Distance, FocalLength, Length, PupilRatio, Span, Squeeze,
};
use glasscall_derive::{FromPlain, ToPlain};
use serde::{Deserialize, Serialize};
use tsify::Tsify;

/// A lens.
#[derive(Debug, Clone, Default, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct CaseLens {
    /// The owner's name for it, used once.
    pub id: String,
    /// Focal length, or the shortest of a zoom.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub focal_mm: Option<f64>,
    /// The longest of a zoom.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub focal_to_mm: Option<f64>,
    /// Widest T-number.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub t_number: Option<f64>,
    /// Widest f-number.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub f_number: Option<f64>,
    /// Diameter of the filter thread.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub thread_mm: Option<f64>,
    /// Outside diameter of a front without thread.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub outer_mm: Option<f64>,
    /// Clear diameter the picture needs in front.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub needs_clear_mm: Option<f64>,
    /// How far the entrance pupil lies behind the rim.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pupil_behind_rim_mm: Option<f64>,
    /// How that was got.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pupil_by: Option<PupilBy>,
    /// The same at the long end of a zoom.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub long_pupil_mm: Option<f64>,
    /// What was looked at to find it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pupil: Option<CasePupil>,
    /// The T-number above the f-number.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub loss_stops: Option<f64>,
    /// Anamorphic squeeze.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub squeeze: Option<f64>,
    /// The exit pupil against the entrance pupil.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pupil_ratio: Option<f64>,
    /// Whether it focuses near by moving out as a whole.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub moves_out: Option<bool>,
    /// Its closest setting, from the sensor.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub near_mm: Option<f64>,
    /// What it weighs.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub mass_g: Option<f64>,
}

/// How a pupil's place was got.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase")]
pub enum PupilBy {
    /// By two cards ahead of the lens.
    TwoCards,
    /// By a ring that begins to darken the corners.
    Ring,
    /// By the front of the lens.
    Front,
    /// From a data sheet.
    Stated,
}

/// What was looked at to find a pupil; what another way needs stays with it.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct CasePupil {
    /// The way that counts.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub by: Option<PupilWay>,
    /// How far the upright axis of a lens that squeezes has it behind the rim.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub vertical_mm: Option<f64>,
    /// The near card, ahead of the rim.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub near_mm: Option<f64>,
    /// Its edge, from the lens axis.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub near_height_mm: Option<f64>,
    /// The far card, ahead of the rim.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub far_mm: Option<f64>,
    /// Its edge, from the lens axis.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub far_height_mm: Option<f64>,
    /// The cards of the upright axis of a lens that squeezes.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub up: Option<CaseCards>,
    /// Clear diameter of the ring that was moved out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ring_diameter_mm: Option<f64>,
    /// Its front edge ahead of the rim when the corners began to darken.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub darkens_from_mm: Option<f64>,
    /// The f-number it was looked at.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ring_f_number: Option<f64>,
    /// Clear diameter of the front.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub front_diameter_mm: Option<f64>,
    /// Diameter of the picture the lens covers.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub image_circle_mm: Option<f64>,
}

/// How the place of a pupil is told.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase")]
pub enum PupilWay {
    /// By the figure.
    Figure,
    /// By two cards.
    Cards,
    /// By a ring.
    Ring,
    /// By the front.
    Front,
}

/// Two cards, of which one may be still to come.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct CaseCards {
    /// The near card, ahead of the rim.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub near_mm: Option<f64>,
    /// Its edge, from the lens axis.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub near_height_mm: Option<f64>,
    /// The far card, ahead of the rim.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub far_mm: Option<f64>,
    /// Its edge, from the lens axis.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub far_height_mm: Option<f64>,
}

/// A field that may be left out, against what it must be.
fn each<T, E>(
    fields: &[(Option<f64>, &str)],
    new: impl Fn(f64) -> Result<T, E>,
    path: &str,
) -> Result<(), Refusal>
where
    Result<Option<T>, E>: At<Option<T>>,
{
    (fields.iter()).try_for_each(|(given, field)| {
        let made = given.map(&new).transpose();
        made.at(&format!("{path}.{field}")).map(|_| ())
    })
}

impl Record for CaseLens {
    fn check(&self, path: &str) -> Result<(), Refusal> {
        let at = |field: &str| format!("{path}.{field}");
        named(&self.id, path)?;
        let focal = [(self.focal_mm, "focalMm"), (self.focal_to_mm, "focalToMm")];
        each(&focal, FocalLength::new, path)?;
        let spans = [
            (self.thread_mm, "threadMm"),
            (self.outer_mm, "outerMm"),
            (self.needs_clear_mm, "needsClearMm"),
        ];
        each(&spans, Span::new, path)?;
        if let (Some(from), Some(to)) = (self.focal_mm, self.focal_to_mm) {
            in_range(to, from, 10_000.0, &at("focalToMm"))?;
        }
        let stops = [(self.t_number, "tNumber"), (self.f_number, "fNumber")];
        each(&stops, Aperture::from_marking, path)?;
        for (given, field) in [
            (self.pupil_behind_rim_mm, "pupilBehindRimMm"),
            (self.long_pupil_mm, "longPupilMm"),
        ] {
            behind(given, &at(field))?;
        }
        positive(self.loss_stops, Bounds::LOSS.max, &at("lossStops"))?;
        each(&[(self.squeeze, "squeeze")], Squeeze::new, path)?;
        each(&[(self.pupil_ratio, "pupilRatio")], PupilRatio::new, path)?;
        each(&[(self.near_mm, "nearMm")], Distance::new, path)?;
        (self.pupil.as_ref()).map_or(Ok(()), |pupil| pupil.check(&at("pupil")))?;
        positive(self.mass_g, 1e6, &at("massG"))
    }

    fn name(&self) -> Option<String> {
        Some(self.id.clone())
    }
}

/// A pupil behind the rim, or ahead of it.
fn behind(given: Option<f64>, field: &str) -> Result<(), Refusal> {
    given.map_or(Ok(()), |given| {
        in_range(given, -10_000.0, 10_000.0, field).map(|_| ())
    })
}

impl CasePupil {
    fn check(&self, path: &str) -> Result<(), Refusal> {
        behind(self.vertical_mm, &format!("{path}.verticalMm"))?;
        cards(
            [
                self.near_mm,
                self.near_height_mm,
                self.far_mm,
                self.far_height_mm,
            ],
            path,
        )?;
        if let Some(up) = &self.up {
            let heights = [up.near_mm, up.near_height_mm, up.far_mm, up.far_height_mm];
            cards(heights, &format!("{path}.up"))?;
        }
        let spans = [
            (self.ring_diameter_mm, "ringDiameterMm"),
            (self.front_diameter_mm, "frontDiameterMm"),
            (self.image_circle_mm, "imageCircleMm"),
        ];
        each(&spans, Span::new, path)?;
        each(
            &[(self.darkens_from_mm, "darkensFromMm")],
            Length::new,
            path,
        )?;
        each(
            &[(self.ring_f_number, "ringFNumber")],
            Aperture::from_marking,
            path,
        )
    }
}

fn cards(
    [near, near_height, far, far_height]: [Option<f64>; 4],
    path: &str,
) -> Result<(), Refusal> {
    let fields = [
        (near, "nearMm"),
        (near_height, "nearHeightMm"),
        (far, "farMm"),
        (far_height, "farHeightMm"),
    ];
    each(&fields, Length::new, path)
}
