//! The copies a stack is chosen from.

use super::candidates::{Problem, whole_thirds};
use crate::quantity::Stops;
use crate::setup::SlotSet;
use crate::sorted::{sort_by, sort_by_key};
use alloc::vec::Vec;

/// One copy of a candidate.
#[derive(Debug, Clone, Copy)]
pub(super) struct Copy {
    pub(super) candidate: usize,
    pub(super) loss: f64,
}

/// The copies to choose from, heaviest first, with what bounds need.
pub(super) struct Pool<'a> {
    pub(super) problem: &'a Problem<'a>,
    pub(super) kept: Vec<Copy>,
    /// Candidates that are in now and how many more of each there are: few, no
    /// more than slots.
    in_place: Vec<(Copy, usize)>,
    pub(super) free: Vec<Copy>,
    /// `sums[i]` is what the first i free copies take together.
    pub(super) sums: Vec<f64>,
    pub(super) kept_loss: f64,
    /// What one free copy takes of infrared, at the least and at the most.
    pub(super) infrared: [f64; 2],
}

impl<'a> Pool<'a> {
    pub(super) fn new(problem: &'a Problem<'a>) -> Self {
        let mut kept = Vec::new();
        let mut in_place = Vec::new();
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
            if piece.fits == SlotSet::EMPTY {
                continue;
            }
            if piece.stays == SlotSet::EMPTY {
                free.extend(core::iter::repeat_n(copy, spare));
            } else {
                in_place.push((copy, spare));
            }
        }
        // Like copies stand together, so that like choices can be skipped.
        sort_by(&mut free, |a, b| {
            let (p, q) = (
                &problem.candidates[a.candidate],
                &problem.candidates[b.candidate],
            );
            b.loss
                .total_cmp(&a.loss)
                .then(p.fits.cmp(&q.fits))
                .then(p.infrared.stops().total_cmp(&q.infrared.stops()))
                .then(a.candidate.cmp(&b.candidate))
        });
        let sums = core::iter::once(0.0)
            .chain(free.iter().scan(0.0, |sum, copy| {
                *sum += copy.loss;
                Some(*sum)
            }))
            .collect();
        let through = |copy: &Copy| problem.candidates[copy.candidate].infrared.stops();
        let most = free.iter().map(through).fold(0.0, f64::max);
        let infrared = [free.iter().map(through).fold(most, f64::min), most];
        let kept_loss = kept.iter().map(|copy| copy.loss).sum();
        Self {
            problem,
            kept,
            in_place,
            free,
            sums,
            kept_loss,
            infrared,
        }
    }

    /// How many copies there are.
    pub(super) fn count(&self) -> usize {
        let in_place: usize = self.in_place.iter().map(|(_, spare)| spare).sum();
        self.kept.len() + in_place + self.free.len()
    }

    /// No stack can miss the need by more thirds than this.
    pub(super) fn most_thirds(&self, wheel: &[Stops]) -> i32 {
        let wheel = wheel.iter().map(|w| w.stops().abs()).fold(0.0, f64::max);
        let in_place: f64 = (self.in_place.iter())
            .flat_map(|&(copy, spare)| core::iter::repeat_n(copy.loss, spare))
            .sum();
        let free = self.sums.last().copied().unwrap_or(0.0);
        let all = free + in_place + self.kept_loss + wheel;
        whole_thirds(Stops::computed(self.problem.need.stops().abs() + all)) + 1
    }

    /// Whether two copies lead to the same stacks.
    pub(super) fn alike(&self, one: Copy, other: Copy) -> bool {
        if one.candidate == other.candidate {
            return true;
        }
        let (p, q) = (
            &self.problem.candidates[one.candidate],
            &self.problem.candidates[other.candidate],
        );
        // Free copies are in no slot now: their fit decides.
        p.loss == q.loss && p.fits == q.fits && p.infrared == q.infrared
    }

    /// Every choice among the candidates that are in now, those that can leave
    /// the fewest moves first.
    pub(super) fn staying(&self, pieces: usize) -> Vec<Staying> {
        let wanted = pieces - self.kept.len();
        let mut choices: Vec<Vec<Copy>> = [Vec::new()].into();
        for &(copy, spare) in &self.in_place {
            choices = (choices.into_iter())
                .flat_map(|chosen| {
                    let most = spare.min(wanted - chosen.len());
                    (0..=most).map(move |count| {
                        let more = core::iter::repeat_n(copy, count);
                        chosen.iter().copied().chain(more).collect()
                    })
                })
                .collect();
        }
        let mut all: Vec<Staying> = (choices.into_iter())
            .filter(|copies: &Vec<Copy>| wanted <= copies.len() + self.free.len())
            .map(|copies| Staying {
                least_moves: self.least_moves(&copies, pieces),
                copies,
            })
            .collect();
        sort_by_key(&mut all, |staying| staying.least_moves);
        all
    }

    /// No placing of so many pieces, these among them, takes fewer moves.
    fn least_moves(&self, in_place: &[Copy], pieces: usize) -> usize {
        let stay: usize = (self.problem.candidates.iter().enumerate())
            .map(|(at, piece)| {
                let chosen = self.kept.iter().chain(in_place);
                let copies = chosen.filter(|copy| copy.candidate == at).count();
                copies.min(piece.stays.count())
            })
            .sum();
        let occupied = self.problem.occupied.count();
        // What stays costs nothing; the rest of the occupied slots change, and
        // pieces beyond them go into empty slots.
        occupied.saturating_sub(stay) + pieces.saturating_sub(occupied.max(stay))
    }
}

/// Copies that are in now and may stay where they are.
pub(super) struct Staying {
    pub(super) copies: Vec<Copy>,
    pub(super) least_moves: usize,
}
