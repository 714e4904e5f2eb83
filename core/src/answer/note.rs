//! What to know before trusting a stack.

use crate::physics::infrared;
use crate::quantity::Stops;
use crate::search::stack::{Ranking, Stack, whole_thirds};
use crate::setup::{LossOrigin, Piece, PieceKind};
use alloc::vec::Vec;

/// A left-over under this is shown and ignored: a twentieth of a stop.
///
/// Common practice, no source.
pub const IGNORED_LEFT_OVER: f64 = 0.05;

/// What to know before trusting a stack.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Note {
    /// The left-over is too small to act on.
    LeftOverSmall,
    /// The left-over lies within what is known: nothing to do about it.
    WithinUncertainty,
    /// At the stop wanted the picture is brighter than wanted by a third of a
    /// stop or more.
    StillOver,
    /// At the stop wanted the picture is darker than wanted by a third of a stop
    /// or more.
    StillUnder,
    /// The stop to set has the left-over in it: nothing is to be closed or
    /// opened beyond it.
    StopTakesItUp,
    /// The stop to set is wider than the lens opens.
    WiderThanLens,
    /// Without the polarizer the lens could expose it.
    TakePolarizerOut,
    /// A polarizer's loss is assumed, not measured.
    PolarizerAssumed,
    /// Marked densities are taken at their word.
    MarkedDensity,
    /// Ordinary glass may let infrared show.
    InfraredWatch,
    /// Ordinary glass this dense needs an infrared cut.
    InfraredCutNeeded,
    /// Two polarizers stop visible light only: an infrared cut is needed however
    /// little else is in.
    PolarizersPassInfrared,
}

/// The notes of one stack.
pub(super) fn notes(
    ranking: Ranking,
    stack: &Stack,
    pieces: &[&Piece],
    [infrared_excess, known_to]: [Stops; 2],
) -> Vec<Note> {
    let can_expose = ranking.can_expose(stack.left_over);
    let mut notes = left_over_notes(stack.left_over, can_expose);
    if stack.left_over.size() <= known_to {
        notes.push(Note::WithinUncertainty);
    }
    if !can_expose {
        notes.push(Note::WiderThanLens);
        let polarizers = (pieces.iter())
            .filter(|piece| piece.record().kind == PieceKind::Polarizer)
            .map(|piece| piece.loss().stops);
        let without = stack.left_over + polarizers.clone().sum();
        if polarizers.count() > 0 && ranking.can_expose(without) {
            notes.push(Note::TakePolarizerOut);
        }
    }
    let any = |kind, origin| {
        let known_so =
            |piece: &&Piece| piece.record().kind == kind && piece.loss().origin == origin;
        pieces.iter().any(known_so)
    };
    if any(PieceKind::Polarizer, LossOrigin::Assumed) {
        notes.push(Note::PolarizerAssumed);
    }
    if any(PieceKind::NeutralDensity, LossOrigin::Marked) {
        notes.push(Note::MarkedDensity);
    }
    notes.extend(infrared_note(infrared_excess));
    let polarizers = (pieces.iter()).filter(|piece| {
        piece.record().kind == PieceKind::Polarizer && piece.record().infrared.is_none()
    });
    if polarizers.count() > 1 {
        notes.push(Note::PolarizersPassInfrared);
    }
    notes
}

fn left_over_notes(left_over: Stops, can_expose: bool) -> Vec<Note> {
    let note = if left_over.size().stops() < IGNORED_LEFT_OVER {
        Note::LeftOverSmall
    } else if whole_thirds(left_over) == 0 {
        return Vec::new();
    } else if left_over > Stops::ZERO {
        Note::StillOver
    } else {
        Note::StillUnder
    };
    let taken_up = can_expose && note != Note::LeftOverSmall;
    core::iter::once(note)
        .chain(taken_up.then_some(Note::StopTakesItUp))
        .collect()
}

fn infrared_note(excess: Stops) -> Option<Note> {
    match infrared::Limits::USUAL.verdict(excess) {
        infrared::Verdict::Fine => None,
        infrared::Verdict::Watch => Some(Note::InfraredWatch),
        infrared::Verdict::CutNeeded => Some(Note::InfraredCutNeeded),
    }
}
