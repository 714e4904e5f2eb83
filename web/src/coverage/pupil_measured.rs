//! Where the pupil is: by two cards, by a ring, by the front of the lens.

use super::ring_working::{picture, working as ring_working};
use crate::plain::refusal::{At, Refusal};
use crate::shapes::known_lens::card_reading;
use crate::shapes::pupil::covered;
use crate::shapes::sensor::{SensorRequest, ViewFields};
use crate::shapes::working::{TermName, TermReply, TermUnit, Working};
use glasscall_core::physics::pupil::{Card, CardError, two_cards};
use glasscall_core::physics::pupil_range::{from_front, from_ring};
use glasscall_core::quantity::{Aperture, Length, Span};
use glasscall_derive::read;
use glasscall_derive::{FromPlain, ToPlain};
use serde::{Deserialize, Serialize};
use tsify::Tsify;

/// Two cards ahead of the lens, each with its edge at the edge of the picture.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct PupilByTwoCardsRequest {
    /// The near card, ahead of the rim, mm.
    pub near_mm: f64,
    /// Its edge, from the lens axis, mm.
    pub near_height_mm: f64,
    /// The far card, ahead of the rim, mm.
    pub far_mm: f64,
    /// Its edge, from the lens axis, mm.
    pub far_height_mm: f64,
    /// How far each height may be misread, mm; ½ unless said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub reading_mm: Option<f64>,
    /// Whether to tell how it is worked out, where a few terms tell it whole.
    #[serde(default)]
    pub explain: bool,
}

/// The pupil and the field two cards show.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct PupilByTwoCardsReply {
    /// Tangent of the angle of the picture's edge from the axis.
    pub tan_half_field: f64,
    /// The pupil, behind the rim.
    pub pupil_behind_rim_mm: f64,
    /// How far off it may be when each height is misread by as much as it may be.
    pub spread_mm: f64,
    /// How it is worked out, term by term, where that was asked and can be told.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub working: Option<Vec<TermReply>>,
}

/// Answers `pupilByTwoCards`.
///
/// # Errors
///
/// `outOfRange`, also when the far card is not further or its edge not higher.
pub fn pupil_by_two_cards(
    request: &PupilByTwoCardsRequest,
) -> Result<PupilByTwoCardsReply, Refusal> {
    let near = Card {
        distance: read!(Length::new, request.near_mm)?,
        height: read!(Span::new, request.near_height_mm)?,
    };
    let far = Card {
        distance: read!(Length::new, request.far_mm)?,
        height: read!(Span::new, request.far_height_mm)?,
    };
    let off = card_reading(request.reading_mm, "readingMm")?;
    let found = two_cards(near, far).map_err(|error| match error {
        CardError::FarDistance(error) => Refusal::out_of_range("farMm", error),
        CardError::FarHeight(error) => Refusal::out_of_range("farHeightMm", error),
    })?;
    let mut told = PupilByTwoCardsReply {
        tan_half_field: found.tan_half_field,
        pupil_behind_rim_mm: found.behind_rim.millimetres(),
        spread_mm: found.spread_at(off),
        working: None,
    };
    if request.explain {
        told.working = cards_working(request, &told);
    }
    Ok(told)
}

const TWO_CARDS: &str = "a straight line through both edges; own derivation";

/// The terms of the pupil that two cards show.
fn cards_working(
    request: &PupilByTwoCardsRequest,
    reply: &PupilByTwoCardsReply,
) -> Option<Vec<TermReply>> {
    let mut working = Working::default();
    for (symbol, name, value, field) in [
        ("d", TermName::NearCard, request.near_mm, "nearMm"),
        (
            "y",
            TermName::NearEdge,
            request.near_height_mm,
            "nearHeightMm",
        ),
        ("e", TermName::FarCard, request.far_mm, "farMm"),
        ("h", TermName::FarEdge, request.far_height_mm, "farHeightMm"),
    ] {
        working.given(symbol, name, (value, TermUnit::Mm), field);
    }
    let off = (request.reading_mm.unwrap_or(0.5), TermUnit::Mm);
    (working.given("o", TermName::CardsUnsure, off, "readingMm"))
        .unless(request.reading_mm.is_some());
    let unsure = "o * (e - d) * (y + h)/(h - y) ^ 2";
    working.steps(&[
        (
            "t",
            TermName::FieldSlope,
            TermUnit::Number,
            "(h - y)/(e - d)",
            TWO_CARDS,
        ),
        (
            "p",
            TermName::PupilBehind,
            TermUnit::Mm,
            "y/t - d",
            TWO_CARDS,
        ),
        ("u", TermName::CardsUnsure, TermUnit::Mm, unsure, TWO_CARDS),
    ])?;
    let agrees = working.tells("t", reply.tan_half_field)
        && working.tells("p", reply.pupil_behind_rim_mm)
        && working.tells("u", reply.spread_mm);
    agrees.then(|| working.terms())
}

/// A ring moved out until the corners begin to darken.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct PupilByRingRequest {
    /// The active sensor area.
    pub sensor: SensorRequest,
    /// Anamorphic squeeze; 1 unless said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub squeeze: Option<f64>,
    /// Focal length, mm.
    pub focal_length_mm: f64,
    /// f-number it was looked at.
    pub f_number: f64,
    /// Clear diameter of the ring, mm.
    pub ring_diameter_mm: f64,
    /// Its front edge ahead of the rim when the corners begin to darken, mm.
    pub darkens_from_mm: f64,
    /// Whether to tell how it is worked out, where a few terms tell it whole.
    #[serde(default)]
    pub explain: bool,
}

/// The pupil that a ring shows.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct PupilByRingReply {
    /// If the corner had lost a third of a stop when it was seen to darken.
    pub pupil_behind_rim_mm: f64,
    /// If the first touch was seen.
    pub nearest_mm: f64,
    /// If it was seen only when the chief ray was stopped.
    pub farthest_mm: f64,
    /// How it is worked out, term by term, where that was asked and can be told.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub working: Option<Vec<TermReply>>,
}

/// Answers `pupilByRing`.
///
/// # Errors
///
/// `outOfRange`, also for a ring narrower than the pupil.
pub fn pupil_by_ring(request: &PupilByRingRequest) -> Result<PupilByRingReply, Refusal> {
    let view = ViewFields {
        sensor: request.sensor,
        squeeze: request.squeeze,
        shift_x_mm: None,
        shift_y_mm: None,
        focal_length_mm: request.focal_length_mm,
    }
    .view("")?;
    let f_number = read!(Aperture::engraved, request.f_number)?;
    let ring = read!(Span::new, request.ring_diameter_mm)?;
    let begins = read!(Length::new, request.darkens_from_mm)?;
    let found = from_ring(ring, begins, &view, f_number).at("ringDiameterMm")?;
    let mut told = PupilByRingReply {
        pupil_behind_rim_mm: found.likely.millimetres(),
        nearest_mm: found.nearest.millimetres(),
        farthest_mm: found.farthest.millimetres(),
        working: None,
    };
    if request.explain {
        told.working = ring_working(request, f_number, &told);
    }
    Ok(told)
}

/// What everyone knows of a lens.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct PupilByFrontRequest {
    /// The largest format the lens covers; the camera's gives wider limits.
    pub sensor: SensorRequest,
    /// Anamorphic squeeze; 1 unless said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub squeeze: Option<f64>,
    /// Focal length, mm.
    pub focal_length_mm: f64,
    /// Widest f-number.
    pub widest_f_number: f64,
    /// Clear front diameter, or the thread where only that is known, mm.
    pub front_diameter_mm: f64,
    /// Diameter of the picture the lens covers, its image circle, mm; the
    /// sensor’s corner counts unless said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub image_circle_mm: Option<f64>,
    /// Whether to tell how it is worked out, where a few terms tell it whole.
    #[serde(default)]
    pub explain: bool,
}

/// Limits of a pupil position.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct PupilByFrontReply {
    /// Nearest to the rim, mm.
    pub nearest_mm: f64,
    /// Farthest behind it, mm.
    pub farthest_mm: f64,
    /// How it is worked out, term by term, where that was asked and can be told.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub working: Option<Vec<TermReply>>,
}

/// Answers `pupilByFront`.
///
/// # Errors
///
/// `outOfRange`, also for a front narrower than the pupil.
pub fn pupil_by_front(request: &PupilByFrontRequest) -> Result<PupilByFrontReply, Refusal> {
    let view = ViewFields {
        sensor: request.sensor,
        squeeze: request.squeeze,
        shift_x_mm: None,
        shift_y_mm: None,
        focal_length_mm: request.focal_length_mm,
    }
    .view("")?;
    let widest = read!(Aperture::engraved, request.widest_f_number)?;
    let front = read!(Span::new, request.front_diameter_mm)?;
    let covered = covered(request.image_circle_mm, &view, "")?;
    let found = from_front(front, covered, &view, widest).at("frontDiameterMm")?;
    let mut told = PupilByFrontReply {
        nearest_mm: found.nearest.vertical.millimetres(),
        farthest_mm: found.farthest.vertical.millimetres(),
        working: None,
    };
    if request.explain {
        told.working = front_working(request, &told);
    }
    Ok(told)
}

const FRONT: &str = "the corner's ray comes in through the front; own derivation";
const TRACED: &str = "own traces: of thirty lenses the least is 0.32";

/// The terms of the limits that the front puts on the pupil.
fn front_working(
    request: &PupilByFrontRequest,
    reply: &PupilByFrontReply,
) -> Option<Vec<TermReply>> {
    let mut working = Working::default();
    let squeeze = request.squeeze.unwrap_or(1.0);
    picture(&mut working, request.sensor, request.focal_length_mm);
    let front = (request.front_diameter_mm, TermUnit::Mm);
    working.given("D", TermName::Front, front, "frontDiameterMm");
    let squeeze = (squeeze, TermUnit::Number);
    working.given("s", TermName::Squeeze, squeeze, "squeeze");
    let corner = "sqrt((s * w) ^ 2 + h ^ 2)/(2 * f)";
    let mut slope = corner.to_owned();
    if let Some(circle) = request.image_circle_mm {
        let circle = (circle, TermUnit::Mm);
        working.given("i", TermName::ImageCircle, circle, "imageCircleMm");
        slope = format!("i * {corner}/sqrt(w ^ 2 + h ^ 2)");
    }
    working.steps(&[
        ("t", TermName::FieldSlope, TermUnit::Number, &slope, FRONT),
        (
            "e",
            TermName::PupilFarthest,
            TermUnit::Mm,
            "D/(2 * t)",
            FRONT,
        ),
        (
            "n",
            TermName::PupilNearest,
            TermUnit::Mm,
            "min(0.25 * D, e)",
            TRACED,
        ),
    ])?;
    (working.tells("e", reply.farthest_mm) && working.tells("n", reply.nearest_mm))
        .then(|| working.terms())
}
