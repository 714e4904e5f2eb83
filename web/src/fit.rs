//! `fit`: whether the glass in front of this lens shades this picture.

use crate::opening::{OpeningRequest, VerdictName};
use crate::refusal::{At, Code, Refusal};
use crate::view::{SensorRequest, ViewFields};
use glasscall_core::answer::fit::{
    Answer, Crossing, FitError, MAX_OPENINGS, OpeningAnswer, Question, Trust, fit as core_answer,
};
use glasscall_core::answer::{Arc, FARTHEST_MM, Placed, Reading, ZoomEnd, loss_map};
use glasscall_core::physics::passed::loss;
use glasscall_core::physics::pupil::PupilPosition;
use glasscall_core::physics::pupil_range::PupilRange;
use glasscall_core::quantity::{Aperture, Bounds, FocalLength, Length, Stops};
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
    /// Where the entrance pupil is.
    pub pupil_behind_rim_mm: PupilPlace,
    /// The openings.
    #[serde(default)]
    pub openings: Vec<OpeningRequest>,
    /// The other end of a zoom lens.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub zoom: Option<ZoomRequest>,
    /// Asks for the loss over the picture.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub loss_map: Option<MapSize>,
}

/// How far the entrance pupil is behind the rim, mm: one figure, one for each
/// axis of an anamorphic lens, or two limits.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, Tsify)]
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
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct PupilAxes {
    /// For rays fanning out sideways.
    pub horizontal_mm: f64,
    /// For rays fanning out up and down.
    pub vertical_mm: f64,
}

/// Limits of a pupil position.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct PupilLimits {
    /// Nearest to the rim.
    pub nearest_mm: f64,
    /// Farthest behind it.
    pub farthest_mm: f64,
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

/// What the openings do.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct FitReply {
    /// Each opening, in the order of the request.
    pub openings: Vec<OpeningReply>,
    /// The worst verdict.
    pub verdict: VerdictName,
    /// How far to trust it.
    pub trust: TrustName,
    /// Share of the pupil left at the worst corner by all openings.
    pub corner_passed: f64,
    /// The same in stops; absent when nothing is left.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub corner_loss_stops: Option<f64>,
    /// Shortest clear focal length with the pupil kept in place, a hint; absent
    /// when none is clear or nothing is in front.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub widest_focal_length_mm: Option<f64>,
    /// Smallest clear f-number, which may be one that no lens has; absent when
    /// no stop helps or nothing is in front.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub clean_from_f_number: Option<f64>,
    /// The third-stop mark at or just beyond it, as `2.8⅓`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub clean_from_label: Option<String>,
    /// The entrance pupil.
    pub pupil: PupilSize,
    /// The rest of the zoom.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub zoom: Option<ZoomReply>,
    /// Stops lost, row by row from the top; no number where nothing passes.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub loss_map: Option<Vec<Option<f64>>>,
}

/// What one opening does.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct OpeningReply {
    /// Its name.
    pub name: String,
    /// What was seen, otherwise what is computed.
    pub verdict: VerdictName,
    /// What is computed.
    pub computed: VerdictName,
    /// How far to trust the verdict.
    pub trust: TrustName,
    /// Least room at the worst corner, mm; negative when it shades.
    pub spare_mm: f64,
    /// Share of the pupil left at the worst corner.
    pub corner_passed: f64,
    /// The same in stops; absent when nothing is left.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub corner_loss_stops: Option<f64>,
    /// How far ahead of the rim it may stand and stay clear, mm; absent when it
    /// is clear nowhere.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub clear_to_mm: Option<f64>,
    /// Whether it stays clear as far as is looked at, a metre.
    pub clear_anywhere: bool,
    /// Turns at which it shades, where it can be turned.
    pub shading_arcs: Vec<ArcReply>,
    /// Where the light crosses its rear face.
    pub light: CrossingReply,
    /// Where the light crosses its front face, where it is deep.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub light_in_front: Option<CrossingReply>,
}

/// How far to trust a verdict.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub enum TrustName {
    /// Clear by 3 mm or more for every place the pupil may have, or seen to be.
    SureClear,
    /// Too close to call: look through the lens.
    Look,
    /// Shades by more than the model's error, or seen to.
    SureClip,
}

/// Turns of an opening, counter-clockwise.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct ArcReply {
    /// From here, 0 to 360.
    pub from_deg: f64,
    /// To here; beyond 360 when it passes the top.
    pub to_deg: f64,
}

/// A point in the plane of an opening, from the lens axis.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct PointReply {
    /// To the right, mm.
    pub x_mm: f64,
    /// Upward, mm.
    pub y_mm: f64,
}

/// Where bundles cross a plane: their middles.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct CrossingReply {
    /// The middle of the picture.
    pub centre: PointReply,
    /// Bottom left, bottom right, top left, top right of the picture.
    pub corners: Vec<PointReply>,
}

/// The entrance pupil.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct PupilSize {
    /// Width, mm.
    pub width_mm: f64,
    /// Height, mm.
    pub height_mm: f64,
}

/// A zoom between its ends.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct ZoomReply {
    /// Its other end.
    pub other: ZoomReading,
    /// Its worst setting, ends included.
    pub worst: ZoomReading,
}

/// One setting of a zoom.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct ZoomReading {
    /// Focal length, mm.
    pub focal_length_mm: f64,
    /// The worst verdict.
    pub verdict: VerdictName,
    /// Least room, mm; absent when nothing is in front.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub spare_mm: Option<f64>,
    /// Loss at the worst corner; absent when nothing is left.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub corner_loss_stops: Option<f64>,
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
    let pupil = request.pupil_behind_rim_mm.range("pupilBehindRimMm")?;
    let zoom = (request.zoom.as_ref())
        .map(|zoom| zoom.end(f_number, pupil))
        .transpose()?;
    let openings = openings(&request.openings)?;
    let question = Question {
        view,
        f_number,
        pupil,
        openings: &openings,
        zoom,
    };
    let answer = core_answer(&question).map_err(refusal)?;
    let map = request.loss_map.map(MapSize::checked).transpose()?;
    Ok(FitReply {
        loss_map: map.map(|MapSize { columns, rows }| {
            let map = loss_map(&question, columns, rows);
            map.into_iter().map(|loss| loss.map(Stops::stops)).collect()
        }),
        ..reply(request, &answer)
    })
}

/// The f-number behind a T-number.
pub(crate) fn without_loss(
    number: Aperture,
    loss: Option<f64>,
    field: &str,
) -> Result<Aperture, Refusal> {
    let loss = Stops::new(loss.unwrap_or(0.0)).at(field)?;
    if loss < Stops::ZERO {
        let bounds = Bounds {
            min: 0.0,
            ..Bounds::STOPS
        };
        bounds.check(loss.stops()).at(field)?;
    }
    number.closed_by(Stops::ZERO - loss).at(field)
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
                let ahead = Bounds {
                    min: nearest.millimetres(),
                    ..Bounds::LENGTH
                };
                let field = format!("{path}.farthestMm");
                ahead.check(limits.farthest_mm).at(&field)?;
                PupilRange::between(nearest, length(limits.farthest_mm, ".farthestMm")?)
            }
        })
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
            Err(Refusal {
                code: Code::OutOfRange,
                min: Some(1.0),
                ..Refusal::too_many(field, given, MAX_MAP_SIDE)
            })
        };
        side(self.columns, "lossMap.columns")?;
        side(self.rows, "lossMap.rows")?;
        Ok(self)
    }
}

fn reply(request: &FitRequest, answer: &Answer) -> FitReply {
    let named = request.openings.iter().zip(&answer.openings);
    let (half_width, half_height) = answer.half_pupil;
    FitReply {
        openings: named
            .map(|(asked, found)| opening_reply(asked, found))
            .collect(),
        verdict: answer.verdict.into(),
        trust: answer.trust.into(),
        corner_passed: answer.corner_passed,
        corner_loss_stops: loss(answer.corner_passed).map(Stops::stops),
        widest_focal_length_mm: answer.widest_focal_length,
        clean_from_f_number: answer.clean_from,
        clean_from_label: answer.clean_from.and_then(label_at_or_beyond),
        pupil: PupilSize {
            width_mm: 2.0 * half_width,
            height_mm: 2.0 * half_height,
        },
        zoom: answer.zoom.map(|zoom| ZoomReply {
            other: zoom.other.into(),
            worst: zoom.worst.into(),
        }),
        loss_map: None,
    }
}

/// A mark that is rounded to the wide side would not be clear.
pub(crate) fn label_at_or_beyond(f_number: f64) -> Option<String> {
    let aperture = Aperture::from_number(f_number).ok()?;
    let thirds = (3.0 * aperture.index() - 1e-9).ceil();
    let mark = Aperture::from_index(thirds / 3.0).ok()?;
    Some(mark.label().to_string())
}

fn opening_reply(asked: &OpeningRequest, found: &OpeningAnswer) -> OpeningReply {
    let clear_to = found.clear_to.map(Length::millimetres);
    let depth = asked.depth_mm.unwrap_or(0.0);
    OpeningReply {
        name: asked.name.clone(),
        verdict: found.verdict.into(),
        computed: found.computed.into(),
        trust: found.trust.into(),
        spare_mm: found.spare.millimetres(),
        corner_passed: found.corner_passed,
        corner_loss_stops: loss(found.corner_passed).map(Stops::stops),
        clear_to_mm: clear_to,
        clear_anywhere: clear_to.is_some_and(|to| to + depth >= FARTHEST_MM),
        shading_arcs: found.shading_arcs.iter().map(ArcReply::from).collect(),
        light: found.light.into(),
        light_in_front: found.light_in_front.map(CrossingReply::from),
    }
}

impl From<Trust> for TrustName {
    fn from(trust: Trust) -> Self {
        match trust {
            Trust::SureClear => Self::SureClear,
            Trust::Look => Self::Look,
            Trust::SureClip => Self::SureClip,
        }
    }
}

impl From<&Arc> for ArcReply {
    fn from(arc: &Arc) -> Self {
        Self {
            from_deg: arc.from,
            to_deg: arc.to,
        }
    }
}

impl From<Crossing> for CrossingReply {
    fn from(crossing: Crossing) -> Self {
        let point = |(x_mm, y_mm)| PointReply { x_mm, y_mm };
        Self {
            centre: point(crossing.centre),
            corners: crossing.corners.map(point).to_vec(),
        }
    }
}

impl From<Reading> for ZoomReading {
    fn from(reading: Reading) -> Self {
        Self {
            focal_length_mm: reading.focal_length,
            verdict: reading.verdict.into(),
            spare_mm: Some(reading.spare).filter(|spare| spare.is_finite()),
            corner_loss_stops: reading.corner_loss.map(Stops::stops),
        }
    }
}
