//! Which chosen piece goes in which slot with the fewest moves: an assignment
//! problem, which is a matching of least weight in a bipartite graph.

use crate::setup::{MAX_SLOTS, SlotSet};
use alloc::vec::Vec;

/// A placing of pieces in slots.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Placing {
    /// For each slot the index into the chosen pieces, if any.
    pub(super) slots: Vec<Option<usize>>,
    /// Slots whose content differs from what is in now.
    pub(super) moves: usize,
}

/// Places every chosen piece, or `None` when they do not all fit.
///
/// `fits[i]` are the slots that take chosen piece i; `stays[i]` are the slots
/// that hold the same piece now; `occupied` are the slots that hold anything.
/// Among placings with equally few moves the one that fills the slots nearest
/// the lens in the order given wins.
pub(super) fn fewest_moves(
    fits: &[SlotSet],
    stays: &[SlotSet],
    occupied: SlotSet,
    slot_count: usize,
) -> Option<Placing> {
    let mut search = Search {
        fits,
        stays,
        occupied,
        placed: Vec::with_capacity(fits.len()),
        best: None,
    };
    search.place(SlotSet::EMPTY, 0);
    let (moves, placed) = search.best?;
    let mut slots = alloc::vec![None; slot_count];
    for (piece, slot) in placed.into_iter().enumerate() {
        slots[slot] = Some(piece);
    }
    Some(Placing { slots, moves })
}

struct Search<'a> {
    fits: &'a [SlotSet],
    stays: &'a [SlotSet],
    occupied: SlotSet,
    placed: Vec<usize>,
    best: Option<(usize, Vec<usize>)>,
}

impl Search<'_> {
    fn place(&mut self, used: SlotSet, moves: usize) {
        // Moves so far only grow, so a branch that cannot win ends here.
        if self.best.as_ref().is_some_and(|(least, _)| moves >= *least) {
            return;
        }
        let next = self.placed.len();
        if next == self.fits.len() {
            // What is in now and was given no place comes out: a move each.
            let moves = moves + self.occupied.without(used).count();
            if self.best.as_ref().is_none_or(|(least, _)| moves < *least) {
                self.best = Some((moves, self.placed.clone()));
            }
            return;
        }
        // A slot the piece already sits in first: it costs nothing.
        let free = self.fits[next].without(used);
        let order = [
            self.stays[next],
            SlotSet::all(MAX_SLOTS).without(self.stays[next]),
        ];
        for group in order {
            for slot in (0..MAX_SLOTS).filter(|&s| free.and(group).holds(s)) {
                self.placed.push(slot);
                let cost = usize::from(!self.stays[next].holds(slot));
                self.place(used.with(slot), moves + cost);
                self.placed.pop();
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{SlotSet, fewest_moves};

    #[test]
    fn a_piece_that_is_in_stays_where_it_is() {
        let all = SlotSet::all(3);
        let second = SlotSet::EMPTY.with(1);
        let placing = fewest_moves(&[all, all], &[second, SlotSet::EMPTY], second, 3);
        let placing = placing.map(|p| (p.slots, p.moves));
        assert_eq!(placing, Some(([Some(1), Some(0), None].into(), 1)));
    }

    #[test]
    fn taking_out_counts_as_a_move() {
        let placing = fewest_moves(&[], &[], SlotSet::all(2), 2);
        assert_eq!(placing.map(|p| p.moves), Some(2));
    }

    #[test]
    fn two_pieces_for_one_slot_do_not_fit() {
        let first = SlotSet::EMPTY.with(0);
        let none = SlotSet::EMPTY;
        assert_eq!(fewest_moves(&[first, first], &[none, none], none, 3), None);
    }

    #[test]
    fn of_placings_with_equal_moves_the_nearest_to_the_lens_wins() {
        // One new piece; strangers in both slots come out.
        let all = SlotSet::all(2);
        let placing = fewest_moves(&[all], &[SlotSet::EMPTY], all, 2);
        let placing = placing.map(|p| (p.slots, p.moves));
        assert_eq!(placing, Some(([Some(0), None].into(), 2)));
    }
}
