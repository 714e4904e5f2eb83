//! `line`: where a graduated filter's line falls and how it blends.

use super::line_working::working;
use crate::plain::refusal::{At, Refusal};
use crate::shapes::grad::{ProfileRequest, through_held_glass};
use crate::shapes::uncertainty::{self, UncertaintyReply, UncertaintyRequest, known};
use crate::shapes::working::TermReply;
use glasscall_core::answer::grad_edge::{
    self, Edge, EdgeFacts, EdgeQuestion, EdgeReason, USUAL_SKYLINE, USUAL_SOFT_RAMP_MM,
};
use glasscall_core::answer::line_known::{before_each, line_between, line_causes, line_known};
use glasscall_core::physics::line::Line;
use glasscall_core::quantity::{Bounds, Length};
use glasscall_core::setup::{Uncertainties, Uncertainty};
use glasscall_derive::{FromPlain, ToPlain, read};
use serde::{Deserialize, Serialize};
use tsify::Tsify;

/// Heights answered in one go.
const MAX_HEIGHTS: usize = 1001;
/// So many of them are told how well they are known: it takes four more sums
/// each.
const TOLD_UNCERTAINTIES: usize = 64;

through_held_glass! {
    /// A lens and a graduated filter in front of it.
    pub struct LineRequest {
        /// Density across the line.
        pub profile: ProfileRequest,
        /// Frame heights to answer for, at the middle of the width, 0 the bottom
        /// edge, 1 the top; every tenth unless said.
        #[serde(default = "tenths")]
        pub heights: Vec<f64>,
        /// What the edge advice chooses between.
        #[serde(default)]
        pub edges: EdgesRequest,
        /// How well inputs are known, where better than usual.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        pub uncertainty: Option<UncertaintyRequest>,
        /// Whether to tell how it is worked out, where a few terms tell it whole:
        /// the line, the blend and the first height.
        #[serde(default)]
        pub explain: bool,
    }
}

fn tenths() -> Vec<f64> {
    (0..=10).map(|nth| f64::from(nth) / 10.0).collect()
}

/// The edges to choose between, and the skyline.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields, default)]
pub struct EdgesRequest {
    /// Ramp of a hard edge in mm; 0 unless said.
    pub hard_ramp_mm: f64,
    /// Ramp of a soft edge in mm; 30 unless said.
    pub soft_ramp_mm: f64,
    /// How far the skyline strays from a straight line, as a share of the
    /// frame's height; 0.1 unless said.
    pub skyline_of_frame: f64,
}

impl Default for EdgesRequest {
    fn default() -> Self {
        Self {
            hard_ramp_mm: 0.0,
            soft_ramp_mm: USUAL_SOFT_RAMP_MM,
            skyline_of_frame: USUAL_SKYLINE,
        }
    }
}

/// What the filter does in this frame.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct LineReply {
    /// Stops lost at each height asked about.
    pub heights: Vec<HeightReply>,
    /// The whole change across the line as a share of the frame's height.
    pub blend_of_frame: f64,
    /// From 10 % to 90 % of the stops; absent for profiles that also fall.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub blend_stops_of_frame: Option<f64>,
    /// From 10 % to 90 % of the light taken.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub blend_light_of_frame: Option<f64>,
    /// Where the line is, or must be put, on the filter: mm from the lens axis.
    pub line_height_mm: f64,
    /// Where it crosses the frame at the middle; absent for an upright line.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub line_at_frame_height: Option<f64>,
    /// The least that `lineHeightMm` may be with all the lens may be; more of
    /// the lens known brings both together.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub line_height_from_mm: Option<f64>,
    /// The most.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub line_height_to_mm: Option<f64>,
    /// The least that `lineAtFrameHeight` may be.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub line_from_frame_height: Option<f64>,
    /// The most.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub line_to_frame_height: Option<f64>,
    /// mm to slide the filter up for each degree the camera tilts down.
    pub slide_per_degree_mm: f64,
    /// Stops the picture changes by at the line for a degree of tilt when
    /// nobody slides the filter.
    pub unslid_degree_stops: f64,
    /// Stops of the densest part.
    pub marked_stops: f64,
    /// Which edge suits; absent for a filter of no density.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub edge: Option<EdgeReply>,
    /// How it is worked out, term by term, where that was asked and can be told.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub working: Option<Vec<TermReply>>,
}

/// Stops at a height.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct HeightReply {
    /// Height of the frame, as asked.
    pub at: f64,
    /// Stops lost there.
    pub stops: f64,
    /// How well that is known; told for up to 64 heights in one go.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub uncertainty: Option<UncertaintyReply>,
}

/// Which edge suits this lens and stop.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct EdgeReply {
    /// The edge.
    pub suits: EdgeName,
    /// What decided.
    pub why: EdgeReasonCode,
    /// A hard edge here.
    pub hard: EdgeFactsReply,
    /// A soft edge here.
    pub soft: EdgeFactsReply,
    /// The ramp in mm that would blend just as wide as the skyline is uneven;
    /// 0 when the pupil alone does.
    pub fitting_ramp_mm: f64,
}

/// An edge.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase")]
pub enum EdgeName {
    /// Hard.
    Hard,
    /// Soft.
    Soft,
    /// Neither of the two.
    Neither,
}

/// What decided for an edge.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase")]
pub enum EdgeReasonCode {
    /// The pupil spreads even a hard edge as wide as the skyline needs.
    PupilBlendsEnough,
    /// A hard edge would show as a line.
    HardWouldShow,
    /// A hard edge would show, and a soft one is so spread that the frame sees
    /// too little of its strength.
    SoftNeverReaches,
}

/// What one edge does here.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct EdgeFactsReply {
    /// From 10 % to 90 % of its stops, as a share of the frame's height.
    pub blend_of_frame: f64,
    /// The share of its stops that the frame shows.
    pub reach: f64,
}

/// Answers `line`.
///
/// # Errors
///
/// `outOfRange`, `missing`, `oneTooMany`, `tooMany`, `empty`.
pub fn line(request: &LineRequest) -> Result<LineReply, Refusal> {
    let lens = request.lens()?;
    let profile = request.profile.profile("profile")?;
    let holder = request.holder();
    let line = holder.line(profile, &lens, "")?;
    let blend = line.blend();
    let held = (holder.held("")?, holder.place("")?);
    // Where some lens it may be would have its pupil ahead of the filter, the
    // figures alone stand.
    let each = before_each(&lens.known, lens.f_number, lens.view, line.profile(), held)
        .map_or_else(|_| Vec::new(), Vec::from);
    let (on_filter, in_frame) = line_between(&each);
    let known = known(request.uncertainty.as_ref())?;
    let told = LineReply {
        heights: heights((&line, &each), &request.heights, &known)?,
        line_height_from_mm: (!each.is_empty()).then_some(on_filter.0),
        line_height_to_mm: (!each.is_empty()).then_some(on_filter.1),
        line_from_frame_height: in_frame.map(|ends| ends.0).filter(|_| !each.is_empty()),
        line_to_frame_height: in_frame.map(|ends| ends.1).filter(|_| !each.is_empty()),
        blend_of_frame: line.whole_blend(),
        blend_stops_of_frame: blend.map(|blend| blend.in_stops),
        blend_light_of_frame: blend.map(|blend| blend.in_light),
        line_height_mm: line.height_millimetres(),
        line_at_frame_height: line.height_in_frame(),
        slide_per_degree_mm: line.slide_per_degree(),
        unslid_degree_stops: line.unslid_degree().stops(),
        marked_stops: line.profile().densest().stops().stops(),
        edge: edge_reply(&line, &request.edges)?,
        working: None,
    };
    let explained = request.explain.then(|| {
        let field = line
            .view()
            .tangents_of(0.5, told.heights.first().map_or(0.5, |height| height.at));
        let causes = line_causes(&line, field, &known, &each);
        let together = Uncertainty::of(causes).stops;
        working(request, &lens, &told, (causes.to_vec(), together))
    });
    Ok(LineReply {
        working: explained.flatten(),
        ..told
    })
}

fn heights(
    (line, each): (&Line, &[Line]),
    asked: &[f64],
    known: &Uncertainties,
) -> Result<Vec<HeightReply>, Refusal> {
    if asked.len() > MAX_HEIGHTS {
        return Err(Refusal::too_many("heights", asked.len(), MAX_HEIGHTS));
    }
    (asked.iter().enumerate())
        .map(|(nth, &at)| {
            let at = Bounds::IN_FRAME.check(at).at(&format!("heights[{nth}]"))?;
            let field = line.view().tangents_of(0.5, at);
            let told = (asked.len() <= TOLD_UNCERTAINTIES)
                .then(|| uncertainty::reply(line_known(line, field, known, each), &[]));
            Ok(HeightReply {
                at,
                stops: line.loss_towards(field).stops(),
                uncertainty: told,
            })
        })
        .collect()
}

fn edge_reply(line: &Line, edges: &EdgesRequest) -> Result<Option<EdgeReply>, Refusal> {
    let question = EdgeQuestion {
        hard_ramp: read!(Length::new of Bounds::RAMP, in edges.hard_ramp_mm)?,
        soft_ramp: read!(Length::new of Bounds::RAMP, in edges.soft_ramp_mm)?,
        skyline: read!(Bounds::IN_FRAME, in edges.skyline_of_frame)?,
    };
    let density = line.profile().densest();
    if density.density() <= 0.0 {
        return Ok(None);
    }
    // Both ramps are checked above, so nothing is left to refuse.
    Ok(grad_edge::edge_advice(line, density, question)
        .ok()
        .map(|advice| EdgeReply {
            suits: match advice.suits {
                Edge::Hard => EdgeName::Hard,
                Edge::Soft => EdgeName::Soft,
                Edge::Neither => EdgeName::Neither,
            },
            why: match advice.why {
                EdgeReason::PupilBlendsEnough => EdgeReasonCode::PupilBlendsEnough,
                EdgeReason::HardWouldShow => EdgeReasonCode::HardWouldShow,
                EdgeReason::SoftNeverReaches => EdgeReasonCode::SoftNeverReaches,
            },
            hard: facts(advice.hard),
            soft: facts(advice.soft),
            fitting_ramp_mm: advice.fitting_ramp,
        }))
}

const fn facts(facts: EdgeFacts) -> EdgeFactsReply {
    EdgeFactsReply {
        blend_of_frame: facts.blend,
        reach: facts.reach,
    }
}
