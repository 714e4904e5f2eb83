//! `infrared`: visible and infrared light through a stack, kept apart.

use super::infrared_working::working;
use crate::plain::refusal::{At, Refusal};
use crate::shapes::piece::PieceRequest;
use crate::shapes::uncertainty::{UncertaintyRequest, known};
use crate::shapes::working::TermReply;
use glasscall_core::physics::infrared::{Limits, Verdict, balance};
use glasscall_core::quantity::{Bounds, Density, Stops};
use glasscall_core::search::stack::MAX_PIECES;
use glasscall_core::setup::{Piece, PieceKind, WheelPosition};
use glasscall_derive::read;
use glasscall_derive::{FromPlain, ToPlain, Twin};
use serde::{Deserialize, Serialize};
use tsify::Tsify;

/// The pieces of a stack, each once, whatever its count.
#[derive(Debug, Clone, Default, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct InfraredRequest {
    /// The pieces.
    pub pieces: Vec<PieceRequest>,
    /// Density of the internal wheel's position behind them.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wheel_density: Option<f64>,
    /// Infrared density of that position; none unless said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wheel_infrared_density: Option<f64>,
    /// Excess density from which to warn; 1.2 unless said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub watch_from_density: Option<f64>,
    /// Excess density from which an infrared cut is needed; 1.5 unless said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cut_from_density: Option<f64>,
    /// How well inputs are known, where better than usual.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub uncertainty: Option<UncertaintyRequest>,
    /// Whether to tell how it is worked out, where a few terms tell it whole.
    #[serde(default)]
    pub explain: bool,
}

/// What the stack takes of each.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct InfraredReply {
    /// Visible light taken.
    pub visible_stops: f64,
    /// Infrared taken.
    pub infrared_stops: f64,
    /// How much less infrared than visible light is taken.
    pub excess_stops: f64,
    /// The same as a density; negative when more infrared is taken.
    pub excess_density: f64,
    /// Density of the neutral glass not known to stop infrared.
    pub ordinary_density: f64,
    /// Whether neutral glass that stops infrared stands with some that does not.
    pub mixed: bool,
    /// What the excess asks for.
    pub verdict: InfraredVerdict,
    /// What to know before trusting it.
    pub notes: Vec<InfraredNote>,
    /// The limit that was used.
    pub watch_from_density: f64,
    /// The limit that was used.
    pub cut_from_density: f64,
    /// How it is worked out, term by term, where that was asked and can be told.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub working: Option<Vec<TermReply>>,
}

/// What to know before trusting a sum.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase")]
pub enum InfraredNote {
    /// A polarizer's infrared density is not said: film stops hardly any, 0.05.
    PolarizerAssumed,
    /// Two polarizers: what they take when turned against each other is visible
    /// light only, and `infrared` does not count it.
    PolarizersPassInfrared,
    /// Neutral glass of unknown infrared density is taken to stop none.
    OrdinaryAssumed,
    /// So is the wheel.
    WheelAssumed,
}

/// What an infrared excess asks for.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, Serialize, ToPlain, Deserialize, FromPlain, Tsify, Twin,
)]
#[serde(rename_all = "camelCase")]
#[twin(from Verdict)]
pub enum InfraredVerdict {
    /// Too little to show.
    Fine,
    /// May show: look at a picture.
    Watch,
    /// Shows: put an infrared cut in.
    CutNeeded,
}

/// Answers `infrared`.
///
/// # Errors
///
/// As for the pieces of `openUp`; `outOfRange` when the cut is needed before the
/// warning.
pub fn infrared(request: &InfraredRequest) -> Result<InfraredReply, Refusal> {
    if request.pieces.len() > MAX_PIECES {
        return Err(Refusal::too_many(
            "pieces",
            request.pieces.len(),
            MAX_PIECES,
        ));
    }
    let pieces = (request.pieces.iter().enumerate())
        .map(|(at, piece)| piece.piece(&format!("pieces[{at}]")))
        .collect::<Result<Vec<_>, _>>()?;
    let limits = limits(request)?;
    let wheel = wheel(request)?;
    let known = known(request.uncertainty.as_ref())?;
    let sum = wheel.map_or_else(|| balance(&pieces), |at| balance(&pieces).behind(at));
    let excess = sum.excess();
    let mut told = InfraredReply {
        visible_stops: sum.visible.stops(),
        infrared_stops: sum.infrared.stops(),
        excess_stops: excess.stops(),
        excess_density: sum.excess_density(),
        ordinary_density: sum.ordinary_density(),
        mixed: sum.mixed,
        verdict: limits.verdict(excess).into(),
        notes: notes(&pieces, wheel),
        watch_from_density: limits.watch.density(),
        cut_from_density: limits.cut.density(),
        working: None,
    };
    if request.explain {
        told.working = working(request, (&pieces, wheel), &told, &known);
    }
    Ok(told)
}

fn wheel(request: &InfraredRequest) -> Result<Option<WheelPosition>, Refusal> {
    let density = |given: Option<f64>, field: &str| given.map(Density::new).transpose().at(field);
    let infrared = density(request.wheel_infrared_density, "wheelInfraredDensity")?;
    Ok(density(request.wheel_density, "wheelDensity")?
        .map(|density| WheelPosition { density, infrared }))
}

fn notes(pieces: &[Piece], wheel: Option<WheelPosition>) -> Vec<InfraredNote> {
    let of = |kind: PieceKind| {
        pieces
            .iter()
            .filter(move |piece| piece.record().kind == kind)
    };
    let is_assumed = |piece: &&Piece| piece.record().infrared.is_none();
    let mut notes = Vec::new();
    if of(PieceKind::Polarizer).any(|piece| is_assumed(&piece)) {
        notes.push(InfraredNote::PolarizerAssumed);
    }
    if of(PieceKind::Polarizer).count() > 1 {
        notes.push(InfraredNote::PolarizersPassInfrared);
    }
    if of(PieceKind::NeutralDensity).any(|piece| is_assumed(&piece)) {
        notes.push(InfraredNote::OrdinaryAssumed);
    }
    if wheel.is_some_and(|at| at.infrared.is_none() && at.stops() > Stops::ZERO) {
        notes.push(InfraredNote::WheelAssumed);
    }
    notes
}

fn limits(request: &InfraredRequest) -> Result<Limits, Refusal> {
    let usual = Limits::USUAL;
    let watch = read!(Density::new, request.watch_from_density?)?.unwrap_or(usual.watch);
    let from_watch = Bounds::DENSITY.from(watch.density());
    let cut = read!(Density::new of from_watch, request.cut_from_density else usual.cut.density())?;
    Ok(Limits { watch, cut })
}
