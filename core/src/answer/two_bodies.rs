//! What two bodies take out of one case, set-up by set-up.

use crate::quantity::{Density, Stops};
use crate::search::budget::Budget;
use crate::search::stack::{Candidate, Problem, Ranking};
use crate::search::two_bodies::{Shared, share};
use crate::setup::{Piece, PieceKind, Rig, SlotSet};
use alloc::vec::Vec;

/// What one body is shot with.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Body<'a> {
    /// Its slots.
    pub rig: &'a Rig,
    /// Positions of its internal wheel.
    pub wheel: &'a [Density],
}

/// What one body needs in one set-up.
#[derive(Debug, Clone, PartialEq)]
pub struct Wants {
    /// What its glass must take.
    pub need: Stops,
    /// Pieces that must be in, a copy each, by their place in the kit.
    pub keep: Vec<usize>,
    /// Whether a polarizer must be in.
    pub polarizer: bool,
}

/// What both take at once, and which pieces both wanted.
///
/// Where a polarizer must be in, each of the case is tried for each body.
#[must_use]
pub fn at_once(
    kit: &[Piece],
    bodies: [Body<'_>; 2],
    wants: &[Wants; 2],
    budget: &mut Budget,
) -> Shared {
    let wheels = bodies
        .map(|body| -> Vec<Stops> { body.wheel.iter().map(|density| density.stops()).collect() });
    let options = wants.each_ref().map(|wants| options(kit, wants));
    let mut best: Option<Shared> = None;
    for mine in &options[0] {
        for other in &options[1] {
            let counted = counted(kit, [mine, other]);
            let lists = [(0, mine), (1, other)].map(|(at, keep): (usize, &Vec<usize>)| {
                candidates(kit, [bodies[at].rig, bodies[1 - at].rig], keep, &counted)
            });
            let problem = |at: usize| Problem {
                need: wants[at].need,
                candidates: &lists[at],
                slot_count: bodies[at].rig.slots.len(),
                occupied: SlotSet::EMPTY,
                wheel: &wheels[at],
                wheel_infrared: &[],
                ranking: Ranking {
                    over_first: true,
                    ..Ranking::default()
                },
                limit: 1,
            };
            let found = share(&problem(0), &problem(1), budget);
            let better = (best.as_ref()).is_none_or(|best| cost(&found) < cost(best));
            if better {
                best = Some(found);
            }
        }
    }
    best.unwrap_or_else(|| Shared {
        stacks: None,
        alone: [None, None],
        clashes: Vec::new(),
        proof: crate::search::budget::Proof::Proven,
    })
}

/// What must be in, for each polarizer that may be.
fn options(kit: &[Piece], wants: &Wants) -> Vec<Vec<usize>> {
    let is_polarizer = |at: usize| kit[at].record().kind == PieceKind::Polarizer;
    let named = wants.keep.iter().any(|&at| is_polarizer(at));
    if !wants.polarizer || named {
        return Vec::from([wants.keep.clone()]);
    }
    (0..kit.len())
        .filter(|&at| is_polarizer(at))
        .map(|at| {
            let mut keep = wants.keep.clone();
            keep.push(at);
            keep
        })
        .collect()
}

/// Pairs that serve both first, then those with fewer clashes, then the least
/// left over by the worse body.
fn cost(shared: &Shared) -> (bool, i32, usize) {
    let thirds = (shared.stacks.iter().flatten())
        .map(|stack| stack.left_over.size().iris_thirds().thirds)
        .max();
    (
        shared.stacks.is_none(),
        thirds.unwrap_or(0),
        shared.clashes.len(),
    )
}

/// How many copies of each piece both may take: what changes the picture goes in
/// only where it must.
fn counted(kit: &[Piece], keeps: [&Vec<usize>; 2]) -> Vec<usize> {
    (kit.iter().enumerate())
        .map(|(at, piece)| {
            let there = usize::from(piece.record().count);
            let kept = keeps.into_iter().flatten().filter(|&&one| one == at);
            if piece.record().kind == PieceKind::NeutralDensity {
                there
            } else {
                there.min(kept.count())
            }
        })
        .collect()
}

/// Pieces that the other body's slots tell apart are told apart by `infrared`,
/// which this ranking does not look at.
fn candidates(
    kit: &[Piece],
    [rig, other]: [&Rig; 2],
    keep: &[usize],
    counted: &[usize],
) -> Vec<Candidate> {
    let taking = |rig: &Rig, piece: &Piece| {
        let slots = rig.slots.iter().enumerate();
        slots
            .filter(|(_, slot)| slot.takes(piece.record()))
            .fold(SlotSet::EMPTY, |set, (at, _)| set.with(at))
    };
    (kit.iter().enumerate())
        .map(|(at, piece)| {
            let told = |before: &Piece| taking(other, before) == taking(other, piece);
            let first = kit.iter().position(told).unwrap_or(at);
            Candidate {
                loss: piece.loss().stops,
                infrared: Stops::computed(u32::try_from(first).map_or(0.0, f64::from)),
                fits: taking(rig, piece),
                stays: SlotSet::EMPTY,
                kept: keep.iter().filter(|&&one| one == at).count(),
                count: counted[at],
            }
        })
        .collect()
}
