//! The best stacks of the pieces in the case, exactly: subset sums in order of how
//! near they come.

use super::assignment::fewest_moves;
use super::budget::{Budget, Proof};
pub use super::candidates::{Candidate, MAX_PIECES, Problem, Ranking, whole_thirds};
use super::choices::SLACK;
use super::pool::{Pool, Staying};
use super::ranking::Rank;
use crate::quantity::Stops;
use crate::setup::SlotSet;
use alloc::vec::Vec;
use core::cmp::Ordering;

/// The most stacks a search lists.
pub const MAX_LISTED: usize = 50;

/// One stack.
#[derive(Debug, Clone, PartialEq)]
pub struct Stack {
    /// For each slot, from the lens outward, the candidate in it.
    pub slots: Vec<Option<usize>>,
    /// The position of the wheel, an index into [`Problem::wheel`].
    pub wheel: Option<usize>,
    /// What is left of the need; positive is still over-exposed.
    pub left_over: Stops,
    /// Pieces in slots.
    pub pieces: usize,
    /// Slots whose content changes.
    pub moves: usize,
}

/// The stacks that serve the need best, best first.
///
/// Smallest left-over in whole iris-thirds, then fewest pieces, then fewest
/// moves, then smallest exact left-over; what [`Ranking`] asks for stands about
/// the thirds. The order is total and the search is exhaustive: it goes through
/// (rank, pieces) in rising order and leaves out only sums that bounds show to
/// miss the level. Pieces that differ in nothing
/// count as one choice. Empty when the kept pieces do not fit the slots.
///
/// # Source
///
/// Own derivation; checked against enumeration of every placing.
#[must_use]
pub fn best_stacks(problem: &Problem<'_>) -> Vec<Stack> {
    best_stacks_within(problem, &mut Budget::endless()).stacks
}

/// Stacks, and whether better ones exist.
#[derive(Debug, Clone, PartialEq)]
pub struct Found {
    /// The stacks, best first.
    pub stacks: Vec<Stack>,
    /// Whether they are proven best; else the least left-over not ruled out, in
    /// whole iris-thirds.
    pub proof: Proof,
}

/// As [`best_stacks`], in so many steps: stopped early it lists the best so
/// far, if only what must be in.
#[must_use]
pub fn best_stacks_within(problem: &Problem<'_>, budget: &mut Budget) -> Found {
    let pool = Pool::new(problem);
    let most = problem.slot_count.min(pool.count());
    let clear = [Stops::ZERO];
    let wheel = if problem.wheel.is_empty() {
        &clear[..]
    } else {
        problem.wheel
    };
    let mut found = Vec::new();
    let mut proof = Proof::Proven;
    let most_thirds = pool.most_thirds(wheel);
    let ranks = (problem.ranking.reaches().iter())
        .flat_map(|&exposed| (0..=most_thirds).map(move |thirds| (thirds, exposed)))
        .flat_map(|(thirds, exposed)| {
            let ranks = problem.ranking.of(thirds, exposed);
            ranks.into_iter().map(move |rank| (thirds, rank))
        });
    for (thirds, rank) in ranks {
        for pieces in pool.kept.len()..=most {
            if !proof.is_proven() && (!found.is_empty() || pieces > pool.kept.len()) {
                break;
            }
            let mut level = Level::new(&pool, pieces, rank, budget);
            // Fewest moves first: what comes later can soon be left out.
            for staying in pool.staying(pieces) {
                for (position, &in_wheel) in wheel.iter().enumerate() {
                    level.search(&staying, position, in_wheel);
                }
            }
            found.append(&mut level.hits);
            if found.len() >= problem.limit {
                found.truncate(problem.limit);
            }
            if budget.is_spent() && proof.is_proven() {
                proof = Proof::Bound(u64::from(thirds.unsigned_abs()));
            }
            if found.len() == problem.limit {
                return listed(problem, found, proof);
            }
        }
    }
    listed(problem, found, proof)
}

fn listed(problem: &Problem<'_>, hits: Vec<Hit>, proof: Proof) -> Found {
    Found {
        stacks: hits.into_iter().map(|hit| hit.stack(problem)).collect(),
        proof,
    }
}

/// A stack under comparison with others of its level.
#[derive(Debug, Clone)]
struct Hit {
    moves: usize,
    left: f64,
    wheel: usize,
    chosen: Vec<usize>,
    slots: Vec<Option<usize>>,
}

impl Hit {
    fn stack(self, problem: &Problem<'_>) -> Stack {
        Stack {
            slots: self.slots,
            wheel: (!problem.wheel.is_empty()).then_some(self.wheel),
            left_over: Stops::computed(self.left),
            pieces: self.chosen.len(),
            moves: self.moves,
        }
    }

    fn compare(&self, other: &Self) -> Ordering {
        self.moves
            .cmp(&other.moves)
            .then(self.left.abs().total_cmp(&other.left.abs()))
            // Ties are settled by what stands first in the case, for good.
            .then_with(|| self.wheel.cmp(&other.wheel))
            .then_with(|| self.chosen.cmp(&other.chosen))
    }
}

/// What is chosen so far takes of visible light and of infrared.
#[derive(Debug, Clone, Copy, Default)]
struct Sum {
    visible: f64,
    infrared: f64,
}

/// All stacks of one size and one rank.
struct Level<'a> {
    pool: &'a Pool<'a>,
    budget: &'a mut Budget,
    pieces: usize,
    rank: Rank,
    chosen: Vec<usize>,
    hits: Vec<Hit>,
    wheel: usize,
    /// No placing of what is being chosen takes fewer moves.
    least_moves: usize,
    /// What the free pieces would have to take for nothing to be left.
    target: f64,
    /// How much more visible light than infrared what is fixed takes.
    lean: f64,
}

impl<'a> Level<'a> {
    fn new(pool: &'a Pool<'a>, pieces: usize, rank: Rank, budget: &'a mut Budget) -> Self {
        Self {
            pool,
            budget,
            pieces,
            rank,
            chosen: Vec::with_capacity(pieces),
            hits: Vec::new(),
            wheel: 0,
            least_moves: 0,
            target: 0.0,
            lean: 0.0,
        }
    }

    fn search(&mut self, staying: &Staying, wheel: usize, in_wheel: Stops) {
        let in_place: f64 = staying.copies.iter().map(|copy| copy.loss).sum();
        self.wheel = wheel;
        self.least_moves = staying.least_moves;
        self.target =
            self.pool.problem.need.stops() - in_wheel.stops() - self.pool.kept_loss - in_place;
        self.chosen.clear();
        let fixed = self.pool.kept.iter().chain(&staying.copies);
        self.chosen.extend(fixed.map(|copy| copy.candidate));
        let problem = self.pool.problem;
        let through = |copy: &super::pool::Copy| problem.candidates[copy.candidate].infrared;
        let infrared: f64 = (self.pool.kept.iter().chain(&staying.copies))
            .map(|copy| through(copy).stops())
            .chain(problem.wheel_infrared.get(wheel).map(|wheel| wheel.stops()))
            .sum();
        self.lean = problem.need.stops() - self.target - infrared;
        for band in self.rank.bands(self.target) {
            if band.0 <= band.1 {
                self.choose(0, Sum::default(), band);
            }
        }
    }

    /// The part of a band that can still change the list.
    fn open_part(&self, band: (f64, f64)) -> (f64, f64) {
        if self.hits.len() < self.pool.problem.limit {
            return band;
        }
        let Some(worst) = self.hits.last() else {
            return band;
        };
        match self.least_moves.cmp(&worst.moves) {
            Ordering::Less => band,
            Ordering::Equal => {
                let most = worst.left.abs() + SLACK;
                (
                    band.0.max(self.target - most),
                    band.1.min(self.target + most),
                )
            }
            Ordering::Greater => (f64::INFINITY, f64::NEG_INFINITY),
        }
    }

    fn choose(&mut self, from: usize, so_far: Sum, band: (f64, f64)) {
        let wanted = self.pieces - self.chosen.len();
        let band = self.open_part(band);
        let sum = so_far.visible;
        if !self.may_hold(so_far, wanted, band) {
            return;
        }
        let free = &self.pool.free;
        if wanted == 0 {
            if sum >= band.0 && sum <= band.1 {
                self.try_hit(so_far);
            }
            return;
        }
        let sums = &self.pool.sums;
        let end = free.len();
        let lightest_others = sums[end] - sums[(end + 1).saturating_sub(wanted)];
        let mut at = from;
        if wanted == 1 {
            // Heaviest first: skip straight to the first that is not too heavy.
            at += free[from..].partition_point(|copy| sum + copy.loss > band.1);
        }
        while at + wanted <= end && self.budget.take(1) {
            let copy = free[at];
            let heaviest_from_here = sums[at + wanted] - sums[at];
            if sum + heaviest_from_here < band.0 - SLACK {
                break;
            }
            if sum + copy.loss + lightest_others <= band.1 + SLACK {
                self.chosen.push(copy.candidate);
                let infrared = self.pool.problem.candidates[copy.candidate].infrared;
                let with = Sum {
                    visible: sum + copy.loss,
                    infrared: so_far.infrared + infrared.stops(),
                };
                self.choose(at + 1, with, band);
                self.chosen.pop();
            }
            at += 1;
            while at < end && self.pool.alike(copy, free[at]) {
                at += 1;
            }
        }
    }

    /// Whether what is still to be chosen may end in this rank, by the infrared
    /// it takes at the most and at the least.
    fn may_hold(&self, so_far: Sum, wanted: usize, band: (f64, f64)) -> bool {
        let more = u32::try_from(wanted).map_or(f64::MAX, f64::from);
        let [least, most] = self.pool.infrared;
        self.rank.may_hold(
            self.lean + band.0 - so_far.infrared - more * most,
            self.lean + band.1 - so_far.infrared - more * least,
        )
    }

    fn try_hit(&mut self, sum: Sum) {
        let left = self.target - sum.visible;
        if !(self.rank).holds(left, self.lean + sum.visible - sum.infrared) {
            return;
        }
        let problem = self.pool.problem;
        if self.hits.len() == problem.limit
            && self
                .hits
                .last()
                .is_some_and(|worst| self.is_behind(worst, left))
        {
            return;
        }
        let pieces = || self.chosen.iter().map(|&c| &problem.candidates[c]);
        let fits: Vec<SlotSet> = pieces().map(|piece| piece.fits).collect();
        let stays: Vec<SlotSet> = pieces().map(|piece| piece.stays).collect();
        let Some(placing) = fewest_moves(&fits, &stays, problem.occupied, problem.slot_count)
        else {
            return;
        };
        let hit = Hit {
            moves: placing.moves,
            left,
            wheel: self.wheel,
            chosen: self.chosen.clone(),
            slots: placing
                .slots
                .into_iter()
                .map(|piece| piece.map(|piece| self.chosen[piece]))
                .collect(),
        };
        let at = self
            .hits
            .partition_point(|other| other.compare(&hit) != Ordering::Greater);
        self.hits.insert(at, hit);
        self.hits.truncate(problem.limit);
    }

    /// Whether the chosen pieces come after a hit, however they are placed.
    fn is_behind(&self, hit: &Hit, left: f64) -> bool {
        (self.least_moves.cmp(&hit.moves))
            .then(left.abs().total_cmp(&hit.left.abs()))
            .then_with(|| self.wheel.cmp(&hit.wheel))
            .then_with(|| self.chosen.cmp(&hit.chosen))
            .is_gt()
    }
}

#[cfg(test)]
mod tests;
