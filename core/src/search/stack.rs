//! The best stacks of the pieces in the case, exactly.

use super::assignment::fewest_moves;
use crate::quantity::Stops;
use crate::setup::MAX_SLOTS;
use alloc::vec::Vec;
use core::cmp::Ordering;

/// The most pieces a search looks at, counting each copy.
pub const MAX_PIECES: usize = 400;
/// The most stacks a search lists.
pub const MAX_LISTED: usize = 50;

/// A set of slots, slot 0 nearest the lens.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct SlotSet(u8);

impl SlotSet {
    /// No slot.
    pub const EMPTY: Self = Self(0);

    /// The first `count` slots.
    #[must_use]
    pub fn all(count: usize) -> Self {
        (0..count.min(MAX_SLOTS)).fold(Self::EMPTY, Self::with)
    }

    /// This set with one more slot.
    #[must_use]
    pub const fn with(self, slot: usize) -> Self {
        Self(self.0 | 1 << slot)
    }

    /// The slots of this set that are not in `other`.
    #[must_use]
    pub const fn without(self, other: Self) -> Self {
        Self(self.0 & !other.0)
    }

    /// The slots in both sets.
    #[must_use]
    pub const fn and(self, other: Self) -> Self {
        Self(self.0 & other.0)
    }

    /// Whether a slot is in the set.
    #[must_use]
    pub const fn holds(self, slot: usize) -> bool {
        self.0 & (1 << slot) != 0
    }

    /// How many slots are in the set.
    #[must_use]
    pub const fn count(self) -> usize {
        self.0.count_ones() as usize
    }
}

/// A piece that may go in.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Candidate {
    /// What it takes.
    pub loss: Stops,
    /// The slots that take it.
    pub fits: SlotSet,
    /// Slots that hold a copy of it now.
    pub stays: SlotSet,
    /// How many copies must be in.
    pub kept: usize,
    /// How many copies there are.
    pub count: usize,
}

/// What to search.
#[derive(Debug, Clone, PartialEq)]
pub struct Problem<'a> {
    /// What the glass must take.
    pub need: Stops,
    /// The pieces, at most [`MAX_PIECES`] with all copies.
    pub candidates: &'a [Candidate],
    /// How many slots, at most [`MAX_SLOTS`].
    pub slot_count: usize,
    /// Slots that hold something now, known to the case or not.
    pub occupied: SlotSet,
    /// Positions of the internal wheel; empty means none but clear.
    pub wheel: &'a [Stops],
    /// How many stacks to list, at most [`MAX_LISTED`].
    pub limit: usize,
}

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

/// The size of a left-over in whole iris-thirds: ⌊3·|left| + ½⌋.
#[must_use]
pub fn whole_thirds(left_over: Stops) -> i32 {
    left_over.size().iris_thirds().thirds
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
    let pool = Pool::new(problem);
    let most = problem.slot_count.min(pool.kept.len() + pool.free.len());
    let clear = [Stops::ZERO];
    let wheel = if problem.wheel.is_empty() {
        &clear[..]
    } else {
        problem.wheel
    };
    let mut found = Vec::new();
    for thirds in 0..=pool.most_thirds(wheel) {
        for pieces in pool.kept.len()..=most {
            let mut level = Level::new(&pool, pieces, thirds);
            for (position, &in_wheel) in wheel.iter().enumerate() {
                level.search(position, in_wheel);
            }
            found.append(&mut level.hits);
            if found.len() >= problem.limit {
                found.truncate(problem.limit);
                return found.into_iter().map(|hit| pool.stack(hit)).collect();
            }
        }
    }
    found.into_iter().map(|hit| pool.stack(hit)).collect()
}

/// One copy of a candidate.
#[derive(Debug, Clone, Copy)]
struct Copy {
    candidate: usize,
    loss: f64,
}

/// The copies to choose from, heaviest first, with what bounds need.
struct Pool<'a> {
    problem: &'a Problem<'a>,
    kept: Vec<Copy>,
    free: Vec<Copy>,
    /// `sums[i]` is what the first i free copies take together.
    sums: Vec<f64>,
    kept_loss: f64,
}

impl<'a> Pool<'a> {
    fn new(problem: &'a Problem<'a>) -> Self {
        let mut kept = Vec::new();
        let mut free = Vec::new();
        for (candidate, piece) in problem.candidates.iter().enumerate() {
            let copy = Copy {
                candidate,
                loss: piece.loss.stops(),
            };
            kept.extend(core::iter::repeat_n(copy, piece.kept));
            // More copies than slots can never be in.
            let spare = piece
                .count
                .saturating_sub(piece.kept)
                .min(problem.slot_count);
            if piece.fits != SlotSet::EMPTY {
                free.extend(core::iter::repeat_n(copy, spare));
            }
        }
        // Like copies stand together, so that like choices can be skipped.
        free.sort_by(|a, b| {
            let (p, q) = (
                &problem.candidates[a.candidate],
                &problem.candidates[b.candidate],
            );
            b.loss
                .total_cmp(&a.loss)
                .then(q.stays.0.cmp(&p.stays.0))
                .then(p.fits.0.cmp(&q.fits.0))
                .then(a.candidate.cmp(&b.candidate))
        });
        let sums = core::iter::once(0.0)
            .chain(free.iter().scan(0.0, |sum, copy| {
                *sum += copy.loss;
                Some(*sum)
            }))
            .collect();
        let kept_loss = kept.iter().map(|copy| copy.loss).sum();
        Self {
            problem,
            kept,
            free,
            sums,
            kept_loss,
        }
    }

    /// No stack can miss the need by more thirds than this.
    fn most_thirds(&self, wheel: &[Stops]) -> i32 {
        let wheel = wheel.iter().map(|w| w.stops().abs()).fold(0.0, f64::max);
        let all = self.sums.last().copied().unwrap_or(0.0) + self.kept_loss + wheel;
        whole_thirds(Stops::computed(self.problem.need.stops().abs() + all)) + 1
    }

    /// Whether two copies lead to the same stacks.
    fn alike(&self, one: Copy, other: Copy) -> bool {
        if one.candidate == other.candidate {
            return true;
        }
        let (p, q) = (
            &self.problem.candidates[one.candidate],
            &self.problem.candidates[other.candidate],
        );
        p.loss == q.loss && p.fits == q.fits && p.stays == SlotSet::EMPTY && p.stays == q.stays
    }

    fn stack(&self, hit: Hit) -> Stack {
        Stack {
            slots: hit.slots,
            wheel: (!self.problem.wheel.is_empty()).then_some(hit.wheel),
            left_over: Stops::computed(hit.left),
            pieces: hit.chosen.len(),
            moves: hit.moves,
        }
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
    pieces: usize,
    thirds: i32,
    chosen: Vec<usize>,
    hits: Vec<Hit>,
    wheel: usize,
    /// What the free pieces would have to take for nothing to be left.
    target: f64,
}

impl<'a> Level<'a> {
    fn new(pool: &'a Pool<'a>, pieces: usize, thirds: i32) -> Self {
        Self {
            pool,
            pieces,
            thirds,
            chosen: Vec::with_capacity(pieces),
            hits: Vec::new(),
            wheel: 0,
            target: 0.0,
        }
    }

    fn search(&mut self, wheel: usize, in_wheel: Stops) {
        self.wheel = wheel;
        self.target = self.pool.problem.need.stops() - in_wheel.stops() - self.pool.kept_loss;
        self.chosen.clear();
        let kept = self.pool.kept.iter().map(|copy| copy.candidate);
        self.chosen.extend(kept);
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

    fn choose(&mut self, from: usize, sum: f64, band: (f64, f64)) {
        let wanted = self.pieces - self.chosen.len();
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
        while at + wanted <= end {
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
        let full = self.hits.len() == problem.limit;
        let worst = self.hits.last().map(|hit| (hit.moves, hit.left.abs()));
        if full && worst.is_some_and(|worst| (self.fewest_moves(), left.abs()) > worst) {
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

    /// No placing of the chosen pieces takes fewer moves than this.
    fn fewest_moves(&self) -> usize {
        let problem = self.pool.problem;
        let stay = (self.chosen.iter())
            .filter(|&&c| problem.candidates[c].stays != SlotSet::EMPTY)
            .count();
        let occupied = problem.occupied.count();
        // What stays costs nothing; the rest of the occupied slots change, and
        // pieces beyond them go into empty slots.
        occupied.saturating_sub(stay) + self.chosen.len().saturating_sub(occupied.max(stay))
    }
}

/// Room for the rounding of sums taken in different orders.
const SLACK: f64 = 1e-9;

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
}
