//! `lineMotion`: what graduated filters cost while the shot moves.

use crate::plain::refusal::{At, Refusal};
use crate::shapes::grad::{FramePlace, GradRequest, lines_beside};
use crate::shapes::lens::{LensView, through_lens};
use glasscall_core::answer::motion::{MotionVerdict, Move, MovingShot, motion};
use glasscall_core::answer::sky_and_ground::Stacked;
use glasscall_core::quantity::{Angle, Bounds, Elevation, FocalLength, OutOfRange, Stops};
use glasscall_derive::read;
use glasscall_derive::{FromPlain, ToPlain};
use serde::{Deserialize, Serialize};
use tsify::Tsify;

/// The error on a subject that is taken when nobody says: a third of a stop.
const USUAL_ALLOWED: f64 = 1.0 / 3.0;

through_lens! {
    /// A lens, a graduated filter, a subject and a move.
    pub struct LineMotionRequest {
        /// The graduated filter, its line as at the marked pose.
        pub grad: GradRequest,
        /// Graduated filters that are in beside it, up to three, their lines as at
        /// the marked pose.
        #[serde(default, skip_serializing_if = "Vec::is_empty")]
        pub others: Vec<GradRequest>,
        /// The subject at the marked pose.
        pub subject: FramePlace,
        /// The move, from the marked pose.
        #[serde(default)]
        pub r#move: MoveRequest,
        /// How far the camera is tilted up at the marked pose.
        #[serde(default)]
        pub aim_elevation_deg: f64,
        /// The change of the subject that may be seen; ⅓ stop unless said.
        #[serde(default = "third")]
        pub allowed_stops: f64,
    }
}

const fn third() -> f64 {
    USUAL_ALLOWED
}

/// A move: all of it runs together, from start to end.
#[derive(Debug, Clone, Default, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields, default)]
pub struct MoveRequest {
    /// Tilt at the start, up from the marked pose.
    pub tilt_from_deg: f64,
    /// Tilt at the end.
    pub tilt_to_deg: f64,
    /// Pan at the start, right of the marked pose.
    pub pan_from_deg: f64,
    /// Pan at the end.
    pub pan_to_deg: f64,
    /// Focal length at the start; as marked unless said.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub focal_length_from_mm: Option<f64>,
    /// Focal length at the end; as marked unless said.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub focal_length_to_mm: Option<f64>,
}

/// The worst of the move.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct LineMotionReply {
    /// What the move allows.
    pub verdict: MotionVerdictName,
    /// Largest change on the subject; positive is darker than as marked.
    pub worst_stops: f64,
    /// Where in the move: 0 the start, 1 the end.
    pub worst_at: f64,
    /// The same when each filter is slid to follow a tilt.
    pub worst_sliding_stops: f64,
    /// Furthest slide down that following takes, in mm, 0 or less.
    pub slide_down_mm: f64,
    /// Furthest slide up that following takes, in mm, 0 or more.
    pub slide_up_mm: f64,
    /// How far each of the others is slid, as they were told.
    pub others: Vec<OtherSlide>,
    /// Whether the subject leaves the frame on the way.
    pub leaves_frame: bool,
}

/// How far another filter is slid to follow.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct OtherSlide {
    /// Furthest down, in mm, 0 or less.
    pub slide_down_mm: f64,
    /// Furthest up, in mm, 0 or more.
    pub slide_up_mm: f64,
}

/// What a move allows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase")]
pub enum MotionVerdictName {
    /// The filters may stay as they are.
    Free,
    /// Only if each filter is slid along.
    Slide,
    /// Keep the shot still, or take the filters out.
    StaticOnly,
}

/// Answers `lineMotion`.
///
/// # Errors
///
/// `outOfRange`, `missing`, `oneTooMany`, `tooMany`, `empty`.
pub fn line_motion(request: &LineMotionRequest) -> Result<LineMotionReply, Refusal> {
    let lens = request.lens()?;
    let line = request.grad.line(&lens, "grad")?;
    let shot = MovingShot {
        stacked: Stacked::new(line, lines_beside(&request.others, &lens)?),
        elevation: read!(Elevation::new, request.aim_elevation_deg)?,
        subject: request.subject.field(&lens.view, "subject")?,
    };
    let allowed = read!(Stops::new of Bounds::ALLOWED_CHANGE, request.allowed_stops)?;
    let found = motion(&shot, request.path(&lens)?, allowed).at("move.focalLengthToMm")?;
    let mut slides = (found.slides.iter()).map(|&[down, up]| OtherSlide {
        slide_down_mm: down,
        slide_up_mm: up,
    });
    // The one asked about comes first.
    let [slide_down_mm, slide_up_mm] = slides
        .next()
        .map_or([0.0; 2], |own| [own.slide_down_mm, own.slide_up_mm]);
    Ok(LineMotionReply {
        verdict: match found.verdict {
            MotionVerdict::Free => MotionVerdictName::Free,
            MotionVerdict::Slide => MotionVerdictName::Slide,
            MotionVerdict::StaticOnly => MotionVerdictName::StaticOnly,
        },
        worst_stops: found.worst.stops(),
        worst_at: found.worst_at,
        worst_sliding_stops: found.worst_sliding.stops(),
        slide_down_mm,
        slide_up_mm,
        others: slides.collect(),
        leaves_frame: found.leaves_frame,
    })
}

impl LineMotionRequest {
    fn path(&self, lens: &LensView) -> Result<Move, Refusal> {
        let request = &self.r#move;
        let tilt = |given: f64, field: &str| -> Result<Angle, Refusal> {
            // The camera may not tilt past straight up or down.
            let bounds = Bounds::ELEVATION.raised(-self.aim_elevation_deg);
            Angle::new(bounds.check(given).at(field)?).at(field)
        };
        let pan = |given: f64, field: &str| Angle::new(given).at(field);
        let focal_length = |given: Option<f64>, field: &str| -> Result<FocalLength, Refusal> {
            let Some(given) = given else {
                return Ok(lens.view.record().focal_length);
            };
            let seen = |length| -> Result<FocalLength, OutOfRange> {
                lens.view.with_focal_length(length).map(|_| length)
            };
            FocalLength::new(given).and_then(seen).at(field)
        };
        Ok(Move {
            tilt: [
                tilt(request.tilt_from_deg, "move.tiltFromDeg")?,
                tilt(request.tilt_to_deg, "move.tiltToDeg")?,
            ],
            pan: [
                pan(request.pan_from_deg, "move.panFromDeg")?,
                pan(request.pan_to_deg, "move.panToDeg")?,
            ],
            focal_length: [
                focal_length(request.focal_length_from_mm, "move.focalLengthFromMm")?,
                focal_length(request.focal_length_to_mm, "move.focalLengthToMm")?,
            ],
        })
    }
}
