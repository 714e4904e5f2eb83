//! Two bodies that shoot at once out of one case.

use super::budget::{Budget, Proof};
use super::candidates::{Candidate, Problem, whole_thirds};
use super::stack::{MAX_LISTED, Stack, best_stacks_within};
use alloc::vec::Vec;

/// What each body takes, and what both wanted.
#[derive(Debug, Clone, PartialEq)]
pub struct Shared {
    /// For each body its stack; `None` where both cannot be served at once.
    pub stacks: Option<[Stack; 2]>,
    /// What each would take were the case its own; `None` where what must be in
    /// finds no room.
    pub alone: [Option<Stack>; 2],
    /// Candidates of which those two want more copies than there are.
    pub clashes: Vec<usize>,
    /// Whether nothing better exists; else the least left-over of the worse body
    /// that is not ruled out, in whole iris-thirds.
    pub proof: Proof,
}

/// The two stacks that serve both bodies best: least left-over of the worse one
/// in whole iris-thirds, then of both together, then
/// fewest pieces as far as each one's own ranking goes by them.
///
/// Both problems name the same candidates in the same order, and tell apart by
/// `infrared` what the other one's slots tell apart; of what one body
/// takes the other has so many copies fewer. A stack of the first leaves no more
/// to the second than a case of its own, so stacks of the first that are worse
/// than the best pair with the second alone are left out.
///
/// # Source
///
/// Own derivation; checked against every pair of placings.
#[must_use]
pub fn share(first: &Problem<'_>, second: &Problem<'_>, budget: &mut Budget) -> Shared {
    let one = |problem: &Problem<'_>, budget: &mut Budget| {
        let only = Problem {
            limit: 1,
            ..problem.clone()
        };
        best_stacks_within(&only, budget).stacks.into_iter().next()
    };
    let alone = [one(first, budget), one(second, budget)];
    let clashes = clashes(first.candidates, &alone);
    let mut shared = Shared {
        stacks: None,
        alone,
        clashes,
        proof: Proof::Proven,
    };
    let [Some(mine), Some(other)] = &shared.alone else {
        return shared;
    };
    if shared.clashes.is_empty() {
        shared.stacks = Some([mine.clone(), other.clone()]);
        return shared;
    }
    let listed = best_stacks_within(
        &Problem {
            limit: MAX_LISTED,
            ..first.clone()
        },
        budget,
    );
    let other = whole_thirds(other.left_over);
    let mut best: Option<(Key, [Stack; 2])> = None;
    let mut ruled_out = listed.proof.is_proven() && listed.stacks.len() < MAX_LISTED;
    for stack in listed.stacks {
        let thirds = whole_thirds(stack.left_over);
        if (best.as_ref()).is_some_and(|(key, _)| key.beats(thirds, other)) {
            ruled_out = true;
            break;
        }
        let Some(fewer) = without(second.candidates, &stack) else {
            continue;
        };
        let rest = Problem {
            candidates: &fewer,
            ..second.clone()
        };
        let Some(found) = one(&rest, budget) else {
            continue;
        };
        let key = Key::of(&stack, &found);
        if (best.as_ref()).is_none_or(|(least, _)| key < *least) {
            best = Some((key, [stack, found]));
        }
    }
    if !ruled_out || budget.is_spent() {
        shared.proof = Proof::Bound(u64::from(other.unsigned_abs()));
    }
    shared.stacks = best.map(|(_, stacks)| stacks);
    if shared.costs_nothing() {
        shared.clashes.clear();
    }
    shared
}

impl Shared {
    /// Whether each has as good a stack as with a case of its own: of pieces that
    /// are alike each has one.
    fn costs_nothing(&self) -> bool {
        (self.stacks.iter().flatten())
            .zip(self.alone.iter().flatten())
            .map(|(stack, alone)| {
                let thirds = |one: &Stack| whole_thirds(one.left_over);
                thirds(stack) == thirds(alone) && stack.pieces == alone.pieces
            })
            .fold(self.stacks.is_some(), |all, one| all && one)
    }
}

/// What pairs are ranked by.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct Key {
    worse: i32,
    both: i32,
    pieces: usize,
}

impl Key {
    fn of(one: &Stack, other: &Stack) -> Self {
        let thirds = [one, other].map(|stack| whole_thirds(stack.left_over));
        Self {
            worse: thirds[0].max(thirds[1]),
            both: thirds[0] + thirds[1],
            pieces: one.pieces + other.pieces,
        }
    }

    /// Whether no pair with at least these thirds can come before.
    fn beats(self, thirds: i32, other: i32) -> bool {
        (self.worse, self.both) < (thirds.max(other), thirds + other)
    }
}

/// How many copies a stack takes of a candidate.
fn taken(stack: &Stack, candidate: usize) -> usize {
    let slots = stack.slots.iter().flatten();
    slots.filter(|&&one| one == candidate).count()
}

/// Candidates of which both want more than there are.
fn clashes(candidates: &[Candidate], alone: &[Option<Stack>; 2]) -> Vec<usize> {
    let wanted = |at: usize| -> usize {
        let stacks = alone.iter().flatten();
        stacks.map(|stack| taken(stack, at)).sum()
    };
    (0..candidates.len())
        .filter(|&at| wanted(at) > candidates[at].count)
        .collect()
}

/// What a stack leaves in the case; `None` where something that must be in is
/// gone.
fn without(candidates: &[Candidate], stack: &Stack) -> Option<Vec<Candidate>> {
    (candidates.iter().enumerate())
        .map(|(at, candidate)| {
            let count = candidate.count.saturating_sub(taken(stack, at));
            (count >= candidate.kept).then_some(Candidate {
                count,
                ..*candidate
            })
        })
        .collect()
}
