//! The best stacks of the pieces in the case, exactly.

use super::assignment::fewest_moves;
use super::budget::{Budget, Proof};
pub use super::candidates::{Candidate, MAX_PIECES, Problem, whole_thirds};
use super::choices::SLACK;
use super::pool::{Pool, Staying};
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
/// moves, then smallest exact left-over. The order is total and the search is
/// exhaustive: it goes through (thirds, pieces) in rising order and leaves out
/// only sums that bounds show to miss the level. Pieces that differ in nothing
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
    for thirds in 0..=pool.most_thirds(wheel) {
        for pieces in pool.kept.len()..=most {
            if !proof.is_proven() && (!found.is_empty() || pieces > pool.kept.len()) {
                break;
            }
            let mut level = Level::new(&pool, pieces, thirds, budget);
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

/// All stacks of one size that miss the need by one number of thirds.
struct Level<'a> {
    pool: &'a Pool<'a>,
    budget: &'a mut Budget,
    pieces: usize,
    thirds: i32,
    chosen: Vec<usize>,
    hits: Vec<Hit>,
    wheel: usize,
    /// No placing of what is being chosen takes fewer moves.
    least_moves: usize,
    /// What the free pieces would have to take for nothing to be left.
    target: f64,
}

impl<'a> Level<'a> {
    fn new(pool: &'a Pool<'a>, pieces: usize, thirds: i32, budget: &'a mut Budget) -> Self {
        Self {
            pool,
            budget,
            pieces,
            thirds,
            chosen: Vec::with_capacity(pieces),
            hits: Vec::new(),
            wheel: 0,
            least_moves: 0,
            target: 0.0,
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
        // The band of sums is a little wide: the exact test decides at the end.
        let middle = f64::from(self.thirds) / 3.0;
        let half = 1.0 / 6.0 + 1e-9;
        let over = (self.target - middle - half, self.target - middle + half);
        let under = (self.target + middle - half, self.target + middle + half);
        self.choose(0, 0.0, over);
        if self.thirds > 0 {
            self.choose(0, 0.0, under);
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

    fn choose(&mut self, from: usize, sum: f64, band: (f64, f64)) {
        let wanted = self.pieces - self.chosen.len();
        let band = self.open_part(band);
        let free = &self.pool.free;
        if wanted == 0 {
            if sum >= band.0 && sum <= band.1 {
                self.try_hit(sum);
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
                self.choose(at + 1, sum + copy.loss, band);
                self.chosen.pop();
            }
            at += 1;
            while at < end && self.pool.alike(copy, free[at]) {
                at += 1;
            }
        }
    }

    fn try_hit(&mut self, sum: f64) {
        let left = self.target - sum;
        if whole_thirds(Stops::computed(left)) != self.thirds {
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
mod tests {
    use super::*;

    fn stops(stops: f64) -> Stops {
        Stops::computed(stops)
    }

    fn piece(loss: f64, slots: usize) -> Candidate {
        Candidate {
            loss: stops(loss),
            fits: SlotSet::all(slots),
            stays: SlotSet::EMPTY,
            kept: 0,
            count: 1,
        }
    }

    fn problem(need: f64, candidates: &[Candidate], slot_count: usize) -> Problem<'_> {
        Problem {
            need: stops(need),
            candidates,
            slot_count,
            occupied: SlotSet::EMPTY,
            wheel: &[],
            limit: 5,
        }
    }

    #[test]
    fn five_stops_are_a_three_and_a_two() {
        let kit = [piece(1.0, 2), piece(2.0, 2), piece(3.0, 2)];
        let best = best_stacks(&problem(5.0, &kit, 2));
        assert_eq!(best[0].slots, [Some(2), Some(1)]);
        assert_eq!(best[0].left_over, Stops::ZERO);
        assert_eq!(best[0].moves, 2);
    }

    #[test]
    fn no_need_is_served_by_nothing() {
        let kit = [piece(1.0, 1)];
        let best = best_stacks(&problem(0.0, &kit, 1));
        assert_eq!(best[0].pieces, 0);
        assert_eq!(best[1].pieces, 1);
        assert_eq!(best.len(), 2);
    }

    #[test]
    fn a_kept_piece_is_in_every_stack() {
        let mut kit = [piece(1.0, 2), piece(4.0, 2), piece(3.0, 2)];
        kit[0].kept = 1;
        let best = best_stacks(&problem(4.0, &kit, 2));
        assert!(best.iter().all(|stack| stack.slots.contains(&Some(0))));
        assert_eq!(best[0].left_over, Stops::ZERO);
    }

    #[test]
    fn kept_pieces_without_room_leave_no_stack() {
        let mut kit = [piece(1.0, 0), piece(4.0, 2)];
        kit[0].kept = 1;
        assert!(best_stacks(&problem(4.0, &kit, 2)).is_empty());
    }

    #[test]
    fn the_wheel_is_no_piece_and_no_move() {
        let kit = [piece(2.0, 1)];
        let wheel = [stops(0.0), stops(2.0), stops(4.0)];
        let best = best_stacks(&Problem {
            wheel: &wheel,
            ..problem(4.0, &kit, 1)
        });
        assert_eq!(
            (best[0].wheel, best[0].pieces, best[0].moves),
            (Some(2), 0, 0)
        );
        assert_eq!((best[1].wheel, best[1].pieces), (Some(1), 1));
    }

    #[test]
    fn what_is_in_is_left_alone_where_that_serves() {
        let mut kit = [piece(2.0, 2), piece(2.0, 2), piece(1.0, 2)];
        kit[1].stays = SlotSet::EMPTY.with(1);
        let best = best_stacks(&Problem {
            occupied: SlotSet::EMPTY.with(1),
            ..problem(3.0, &kit, 2)
        });
        assert_eq!(best[0].slots, [Some(2), Some(1)]);
        assert_eq!(best[0].moves, 1);
    }

    #[test]
    fn two_copies_can_both_go_in() {
        let mut kit = [piece(2.0, 2)];
        kit[0].count = 2;
        let best = best_stacks(&problem(4.0, &kit, 2));
        assert_eq!(best[0].slots, [Some(0), Some(0)]);
    }

    #[test]
    fn no_stack_is_listed_twice() {
        // Too little and nothing at all: 3 and 6 thirds left.
        let kit = [piece(1.0, 1)];
        let best = best_stacks(&problem(2.0, &kit, 1));
        let pieces: Vec<usize> = best.iter().map(|stack| stack.pieces).collect();
        assert_eq!(pieces, [1, 0]);
    }

    #[test]
    fn pieces_that_differ_in_nothing_are_one_choice() {
        let kit = [piece(1.0, 1), piece(1.0, 1)];
        let best = best_stacks(&problem(1.0, &kit, 1));
        let slots: Vec<_> = best.into_iter().map(|stack| stack.slots).collect();
        assert_eq!(slots, [[Some(0)], [None]]);
    }

    #[test]
    fn of_two_equally_far_off_the_first_in_the_case_is_listed() {
        // An eighth of a stop over and under, both exact in binary.
        let kit = [piece(1.875, 1), piece(2.125, 1)];
        let best = best_stacks(&Problem {
            limit: 1,
            ..problem(2.0, &kit, 1)
        });
        assert_eq!(best[0].slots, [Some(0)]);
    }

    #[test]
    fn without_a_step_only_what_must_be_in_is_listed() {
        let mut kit = [piece(1.0, 3), piece(4.0, 3), piece(3.0, 3)];
        kit[0].kept = 1;
        kit[2].stays = SlotSet::EMPTY.with(2);
        let within = |steps| {
            let problem = Problem {
                occupied: SlotSet::EMPTY.with(2),
                ..problem(4.0, &kit, 3)
            };
            best_stacks_within(&problem, &mut Budget::steps(steps))
        };
        let cut = within(0);
        assert_eq!(cut.proof, Proof::Bound(0));
        assert_eq!(cut.stacks.len(), 1);
        assert_eq!(cut.stacks[0].left_over, stops(3.0));
        let whole = within(1000);
        assert_eq!(whole.proof, Proof::Proven);
        assert_eq!(whole.stacks[0].left_over, Stops::ZERO);
    }

    #[test]
    fn every_choice_is_listed_once_at_the_ends_of_the_bands_too() {
        // Sixths of a stop end a band of thirds, give or take the rounding.
        let kit = [1.0, 2.0, 3.0, 5.0, 8.0].map(|sixths: f64| piece(sixths / 6.0, 5));
        for sixths in -4..24 {
            let best = best_stacks(&Problem {
                limit: 50,
                ..problem(f64::from(sixths) / 6.0, &kit, 5)
            });
            let mut chosen: Vec<_> = best.iter().map(|stack| in_order(&stack.slots)).collect();
            crate::sorted::sort_by(&mut chosen, Ord::cmp);
            chosen.dedup();
            assert_eq!((best.len(), chosen.len()), (32, 32), "{sixths}");
        }
    }

    fn in_order(slots: &[Option<usize>]) -> Vec<usize> {
        let mut chosen: Vec<usize> = slots.iter().flatten().copied().collect();
        crate::sorted::sort_by(&mut chosen, Ord::cmp);
        chosen
    }
}
