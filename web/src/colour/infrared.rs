//! `infrared`: visible and infrared light through a stack, kept apart.

use crate::plain::refusal::{At, Refusal};
use crate::shapes::piece::PieceRequest;
use glasscall_core::physics::infrared::{Limits, Verdict, balance};
use glasscall_core::quantity::{Bounds, Density};
use glasscall_core::search::stack::MAX_PIECES;
use serde::{Deserialize, Serialize};
use tsify::Tsify;

/// The pieces of a stack, each once, whatever its count.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct InfraredRequest {
    /// The pieces.
    pub pieces: Vec<PieceRequest>,
    /// Excess density from which to warn; 1.2 unless said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub watch_from_density: Option<f64>,
    /// Excess density from which an infrared cut is needed; 1.5 unless said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cut_from_density: Option<f64>,
}

/// What the stack takes of each.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, Tsify)]
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
    /// The limit that was used.
    pub watch_from_density: f64,
    /// The limit that was used.
    pub cut_from_density: f64,
}

/// What an infrared excess asks for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
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
    let sum = balance(&pieces);
    let excess = sum.excess();
    Ok(InfraredReply {
        visible_stops: sum.visible.stops(),
        infrared_stops: sum.infrared.stops(),
        excess_stops: excess.stops(),
        excess_density: sum.excess_density(),
        ordinary_density: sum.ordinary_density(),
        mixed: sum.mixed,
        verdict: match limits.verdict(excess) {
            Verdict::Fine => InfraredVerdict::Fine,
            Verdict::Watch => InfraredVerdict::Watch,
            Verdict::CutNeeded => InfraredVerdict::CutNeeded,
        },
        watch_from_density: limits.watch.density(),
        cut_from_density: limits.cut.density(),
    })
}

fn limits(request: &InfraredRequest) -> Result<Limits, Refusal> {
    let usual = Limits::usual().at("watchFromDensity")?;
    let watch = (request.watch_from_density.map(Density::new).transpose())
        .at("watchFromDensity")?
        .unwrap_or(usual.watch);
    let cut = request.cut_from_density.unwrap_or(usual.cut.density());
    let from_watch = Bounds {
        min: watch.density(),
        ..Bounds::DENSITY
    };
    let cut = Density::new(from_watch.check(cut).at("cutFromDensity")?).at("cutFromDensity")?;
    Ok(Limits { watch, cut })
}
