//! `fit`: whether the glass in front of this lens shades this picture.

use crate::coverage::fit_reply::{FitReply, reply};
use crate::plain::refusal::{At, Refusal};
use crate::shapes::grad::FramePlace;
use crate::shapes::lens::without_loss;
use crate::shapes::opening::OpeningRequest;
use crate::shapes::pupil::{PupilPlace, pupil_range};
use crate::shapes::sensor::{SensorRequest, ViewFields};
use glasscall_core::answer::fit::{FitError, MAX_OPENINGS, Question, fit as core_answer};
use glasscall_core::answer::{Placed, ZoomEnd, loss_map};
use glasscall_core::physics::pupil_range::PupilRange;
use glasscall_core::quantity::{Aperture, FocalLength, Stops};
use serde::{Deserialize, Serialize};
use tsify::Tsify;

/// The most columns, and the most rows, of a loss map.
const MAX_MAP_SIDE: usize = 200;

/// A camera, a lens, and what stands in front of it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct FitRequest {
    /// The active sensor area.
    pub sensor: SensorRequest,
    /// Anamorphic squeeze; 1 unless said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub squeeze: Option<f64>,
    /// How far right of the lens axis the middle of the picture is, mm at the
    /// sensor.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub shift_x_mm: Option<f64>,
    /// The same upward.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub shift_y_mm: Option<f64>,
    /// Focal length, mm; of an anamorphic lens the vertical one.
    pub focal_length_mm: f64,
    /// f-number; a label such as 2.8 stands for its exact value.
    pub f_number: f64,
    /// By how much the number is a T-number of a lens that loses light; the pupil
    /// is that of the f-number, wider by so many stops.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lens_loss_stops: Option<f64>,
    /// Where the entrance pupil is; left out, the front gives its limits, and
    /// without that every verdict is `unknown` but what was seen.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pupil_behind_rim_mm: Option<PupilPlace>,
    /// Clear front diameter, or the thread where only that is known, mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub front_diameter_mm: Option<f64>,
    /// The openings.
    #[serde(default)]
    pub openings: Vec<OpeningRequest>,
    /// The other end of a zoom lens.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub zoom: Option<ZoomRequest>,
    /// Points of the picture whose loss is asked for, up to 200.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub points: Vec<FramePlace>,
    /// Asks for the loss over the picture.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub loss_map: Option<MapSize>,
}

/// The other end of a zoom lens.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct ZoomRequest {
    /// Focal length there, mm.
    pub focal_length_mm: f64,
    /// f-number there; the same unless said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub f_number: Option<f64>,
    /// Pupil there; the same unless said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pupil_behind_rim_mm: Option<PupilPlace>,
}

/// How fine a loss map is, up to 200 each way.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct MapSize {
    /// Fields across.
    pub columns: usize,
    /// Fields down.
    pub rows: usize,
}

/// Answers `fit`.
///
/// # Errors
///
/// `outOfRange` (a size of nothing, a field near a half turn, an opening behind
/// the pupil or where another one stands), `missing`, `oneTooMany`, `tooMany`.
pub fn fit(request: &FitRequest) -> Result<FitReply, Refusal> {
    let view = ViewFields {
        sensor: request.sensor,
        squeeze: request.squeeze,
        shift_x_mm: request.shift_x_mm,
        shift_y_mm: request.shift_y_mm,
        focal_length_mm: request.focal_length_mm,
    }
    .view("")?;
    let f_number = Aperture::from_marking(request.f_number).at("fNumber")?;
    let f_number = without_loss(f_number, request.lens_loss_stops, "lensLossStops")?;
    let (place, front) = (request.pupil_behind_rim_mm, request.front_diameter_mm);
    let pupil = pupil_range(place, front, &view, f_number, "")?;
    let zoom = (request.zoom.as_ref().zip(pupil))
        .map(|(zoom, pupil)| zoom.end(f_number, pupil))
        .transpose()?;
    let openings = openings(&request.openings)?;
    if request.points.len() > MAX_MAP_SIDE {
        return Err(Refusal::too_many(
            "points",
            request.points.len(),
            MAX_MAP_SIDE,
        ));
    }
    let points = (request.points.iter().enumerate())
        .map(|(at, point)| point.field(&view, &format!("points[{at}]")))
        .collect::<Result<Vec<_>, Refusal>>()?;
    let question = Question {
        view,
        f_number,
        pupil,
        openings: &openings,
        zoom,
        points: &points,
    };
    let answer = core_answer(&question).map_err(refusal)?;
    let map = request.loss_map.map(MapSize::checked).transpose()?;
    Ok(FitReply {
        loss_map: map.and_then(|MapSize { columns, rows }| {
            let map = loss_map(&question, columns, rows)?;
            Some(map.into_iter().map(|loss| loss.map(Stops::stops)).collect())
        }),
        ..reply(&request.openings, &answer)
    })
}

fn openings(given: &[OpeningRequest]) -> Result<Vec<Placed>, Refusal> {
    if given.len() > MAX_OPENINGS {
        return Err(Refusal::too_many("openings", given.len(), MAX_OPENINGS));
    }
    (given.iter().enumerate())
        .map(|(at, opening)| opening.placed(&format!("openings[{at}]")))
        .collect()
}

fn refusal(error: FitError) -> Refusal {
    match error {
        FitError::BehindPupil(at, error) | FitError::Overlap(at, error) => {
            Refusal::out_of_range(&format!("openings[{at}].distanceFromRimMm"), error)
        }
        FitError::ZoomField(error) => Refusal::out_of_range("zoom.focalLengthMm", error),
    }
}

impl ZoomRequest {
    fn end(&self, f_number: Aperture, pupil: PupilRange) -> Result<ZoomEnd, Refusal> {
        let own = (self.f_number.map(Aperture::from_marking).transpose()).at("zoom.fNumber")?;
        let place = (self.pupil_behind_rim_mm)
            .map(|place| place.range("zoom.pupilBehindRimMm"))
            .transpose()?;
        Ok(ZoomEnd {
            focal_length: FocalLength::new(self.focal_length_mm).at("zoom.focalLengthMm")?,
            f_number: own.unwrap_or(f_number),
            pupil: place.unwrap_or(pupil),
        })
    }
}

impl MapSize {
    fn checked(self) -> Result<Self, Refusal> {
        let side = |given: usize, field: &str| {
            if (1..=MAX_MAP_SIDE).contains(&given) {
                return Ok(());
            }
            Err(Refusal::count_outside(field, given, 1, MAX_MAP_SIDE))
        };
        side(self.columns, "lossMap.columns")?;
        side(self.rows, "lossMap.rows")?;
        Ok(self)
    }
}
