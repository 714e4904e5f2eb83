//! Every way a set-up's glass can stand in the slots.

use super::budget::Budget;
use super::choices::{Choices, Kind};
use super::day::{OrderPiece, Problem, SetUp};
use crate::setup::{MAX_SLOTS, SlotSet};
use crate::sorted::{sort_by, sort_by_key};
use alloc::vec::Vec;

/// What stands in the slots, up to swapping slots that take the same pieces.
///
/// Slots are sorted into groups; inside a group the contents stand in falling
/// order, 0 for an empty slot, otherwise the kind + 1.
pub(super) type Place = [u16; MAX_SLOTS];

/// Nothing in any slot.
pub(super) const EMPTY: Place = [0; MAX_SLOTS];

/// Pieces that differ in nothing, and slots that differ in nothing.
pub(super) struct Rack {
    /// For each kind the pieces it stands for, as often as there are copies.
    pub(super) kinds: Vec<Vec<usize>>,
    /// The kind of each piece.
    kind_of: Vec<usize>,
    losses: Vec<f64>,
    fits: Vec<SlotSet>,
    /// Slots that take the same pieces, each group in slot order.
    pub(super) groups: Vec<Vec<usize>>,
    /// Kinds that may be in without being asked for.
    free: Vec<usize>,
}

impl Rack {
    pub(super) fn new(problem: &Problem<'_>) -> Self {
        let pieces = problem.pieces;
        let named: Vec<bool> = (0..pieces.len())
            .map(|piece| {
                let names = |set_up: &SetUp| {
                    let one_of = set_up.one_of.iter().flatten();
                    set_up
                        .keep
                        .iter()
                        .chain(one_of)
                        .any(|&named| named == piece)
                };
                problem.set_ups.iter().any(names)
            })
            .collect();
        let mut rack = Self {
            kinds: Vec::new(),
            kind_of: Vec::with_capacity(pieces.len()),
            losses: Vec::new(),
            fits: Vec::new(),
            groups: slot_groups(pieces, problem.slot_count),
            free: Vec::new(),
        };
        for (at, piece) in pieces.iter().enumerate() {
            // A piece some set-up names is its own kind.
            let like = |other: &usize| {
                let other = &pieces[*other];
                other.loss == piece.loss && other.fits == piece.fits && other.free == piece.free
            };
            let alike = (0..rack.kinds.len()).find(|&kind| {
                let first = rack.kinds[kind].first();
                !named[at] && first.is_some_and(|first| !named[*first] && like(first))
            });
            let copies = core::iter::repeat_n(at, piece.count.min(problem.slot_count));
            let kind = alike.unwrap_or(rack.kinds.len());
            rack.kind_of.push(kind);
            if alike.is_some() {
                rack.kinds[kind].extend(copies);
            } else {
                rack.kinds.push(copies.collect());
                rack.losses.push(piece.loss.stops());
                rack.fits.push(piece.fits);
                if piece.free {
                    rack.free.push(kind);
                }
            }
        }
        // The first in the case is taken first.
        for copies in &mut rack.kinds {
            copies.reverse();
        }
        rack
    }

    /// The fewest slots whose content differs.
    ///
    /// In a group every piece common to both stays where it is; what is new
    /// takes the slots of what goes first.
    pub(super) fn changes(&self, from: &Place, to: &Place) -> u8 {
        let mut start = 0;
        let mut changes = 0;
        for group in &self.groups {
            let end = start + group.len();
            changes += changes_in(&from[start..end], &to[start..end]);
            start = end;
        }
        changes
    }

    /// The places that serve a set-up, and whether these are all. Each comes
    /// with the least it can leave, over the positions of the wheel.
    pub(super) fn places(
        &self,
        set_up: &SetUp,
        problem: &Problem<'_>,
        most: usize,
        budget: &mut Budget,
    ) -> (Vec<(Place, Left)>, bool) {
        let mut found = Vec::new();
        let mut all = true;
        let firsts: Vec<Option<usize>> = match &set_up.one_of {
            None => [None].into(),
            Some(one_of) => one_of.iter().copied().map(Some).collect(),
        };
        for first in firsts {
            let asked: Vec<usize> = (set_up.keep.iter().copied().chain(first))
                .map(|piece| self.kind_of[piece])
                .collect();
            let held = |kind: usize| asked.iter().filter(|&&other| other == kind).count();
            let enough = |&kind: &usize| held(kind) <= self.kinds[kind].len();
            let Some(slots) = problem.slot_count.checked_sub(asked.len()) else {
                continue;
            };
            if !asked.iter().all(enough) {
                continue;
            }
            let choices = Choices::new(self.free.iter().map(|&kind| Kind {
                name: kind,
                loss: self.losses[kind],
                copies: (self.kinds[kind].len() - held(kind)).min(slots),
            }));
            let taken: f64 = asked.iter().map(|&kind| self.losses[kind]).sum();
            for (position, in_wheel) in problem.wheel_or_clear().iter().enumerate() {
                let middle = set_up.need.stops() - taken - in_wheel.stops();
                let half = set_up.tolerance.stops();
                for pieces in 0..=slots {
                    all &= choices.each(
                        pieces,
                        (middle - half, middle + half),
                        budget,
                        &mut |chosen, sum| {
                            let left = Left {
                                stops: middle - sum,
                                wheel: position,
                            };
                            let stack: Vec<usize> = asked.iter().chain(chosen).copied().collect();
                            self.each_place(stack, &mut |place| found.push((place, left)));
                            found.len() < most
                        },
                    );
                }
            }
        }
        sort_by(&mut found, |(a, left), (b, other)| {
            a.cmp(b)
                .then(left.stops.abs().total_cmp(&other.stops.abs()))
                .then(left.wheel.cmp(&other.wheel))
        });
        found.dedup_by_key(|(place, _)| *place);
        (found, all)
    }

    /// Real pieces in real slots for a place, what can stay staying.
    pub(super) fn arranged(&self, now: &[Option<usize>], place: &Place) -> Vec<Option<usize>> {
        let mut next = alloc::vec![None; now.len()];
        let mut unused = self.kinds.clone();
        let mut to_come: Vec<(usize, Vec<usize>)> = Vec::new();
        let mut start = 0;
        for (at, group) in self.groups.iter().enumerate() {
            let mut wanted: Vec<usize> = (place[start..start + group.len()].iter())
                .filter(|&&mark| mark > 0)
                .map(|&mark| usize::from(mark) - 1)
                .collect();
            start += group.len();
            for &slot in group {
                let Some(piece) = now[slot] else { continue };
                let kind = self.kind_of[piece];
                if let Some(found) = wanted.iter().position(|&other| other == kind) {
                    wanted.swap_remove(found);
                    take_out(&mut unused[kind], piece);
                    next[slot] = Some(piece);
                }
            }
            sort_by(&mut wanted, Ord::cmp);
            to_come.push((at, wanted));
        }
        for (group, wanted) in to_come {
            let is_free = |slot: &&usize| next[**slot].is_none();
            let mut free: Vec<usize> = self.groups[group].iter().filter(is_free).copied().collect();
            // Slots that change anyway come before empty ones.
            sort_by_key(&mut free, |&slot| (now[slot].is_none(), slot));
            for (slot, kind) in free.into_iter().zip(wanted) {
                next[slot] = unused[kind].pop();
            }
        }
        next
    }

    /// The place of real pieces in real slots.
    pub(super) fn place_of(&self, slots: &[Option<usize>]) -> Place {
        #[expect(clippy::cast_possible_truncation, reason = "at most 400 kinds")]
        let mark = |slot: &usize| slots[*slot].map(|piece| self.kind_of[piece] as u16 + 1);
        let into: Vec<Vec<u16>> = (self.groups.iter())
            .map(|group| group.iter().filter_map(mark).collect())
            .collect();
        self.place(&into)
    }

    fn each_place(&self, mut stack: Vec<usize>, visit: &mut impl FnMut(Place)) {
        sort_by(&mut stack, Ord::cmp);
        let room: Vec<usize> = self.groups.iter().map(Vec::len).collect();
        let mut into = alloc::vec![Vec::new(); self.groups.len()];
        self.put(&stack, 0, &room, &mut into, visit);
    }

    /// Puts the kinds of `stack` from the group `least` on, like kinds in
    /// rising groups so that no place comes twice.
    fn put(
        &self,
        stack: &[usize],
        least: usize,
        room: &[usize],
        into: &mut Vec<Vec<u16>>,
        visit: &mut impl FnMut(Place),
    ) {
        let Some((&kind, rest)) = stack.split_first() else {
            visit(self.place(into));
            return;
        };
        for group in least..self.groups.len() {
            if room[group] == 0 || !self.fits[kind].holds(self.groups[group][0]) {
                continue;
            }
            let mut left = room.to_vec();
            left[group] -= 1;
            #[expect(clippy::cast_possible_truncation, reason = "at most 400 kinds")]
            into[group].push(kind as u16 + 1);
            let next = if rest.first() == Some(&kind) {
                group
            } else {
                0
            };
            self.put(rest, next, &left, into, visit);
            into[group].pop();
        }
    }

    fn place(&self, into: &[Vec<u16>]) -> Place {
        let mut place = EMPTY;
        let mut start = 0;
        for (group, kinds) in self.groups.iter().zip(into) {
            let part = &mut place[start..start + group.len()];
            part[..kinds.len()].copy_from_slice(kinds);
            sort_by(part, |a, b| b.cmp(a));
            start += group.len();
        }
        place
    }
}

/// What a place leaves of the need, and the wheel's position for that.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Left {
    pub(super) stops: f64,
    pub(super) wheel: usize,
}

fn take_out(pieces: &mut Vec<usize>, piece: usize) {
    if let Some(at) = pieces.iter().position(|&other| other == piece) {
        pieces.remove(at);
    }
}

fn slot_groups(pieces: &[OrderPiece], slot_count: usize) -> Vec<Vec<usize>> {
    let takes = |slot: usize| pieces.iter().map(move |piece| piece.fits.holds(slot));
    let mut groups: Vec<Vec<usize>> = Vec::new();
    for slot in 0..slot_count {
        let like = groups
            .iter_mut()
            .find(|group| takes(group[0]).eq(takes(slot)));
        match like {
            Some(group) => group.push(slot),
            None => groups.push([slot].into()),
        }
    }
    groups
}

/// Changes inside one group: the larger of what goes and what comes.
fn changes_in(from: &[u16], to: &[u16]) -> u8 {
    let (mut at, mut other) = (0, 0);
    let (mut goes, mut comes) = (0, 0);
    // Both fall; zeros stand last and are no pieces.
    loop {
        let a = from.get(at).copied().unwrap_or(0);
        let b = to.get(other).copied().unwrap_or(0);
        match a.cmp(&b) {
            core::cmp::Ordering::Equal if a == 0 => return u8::max(goes, comes),
            core::cmp::Ordering::Equal => (at, other) = (at + 1, other + 1),
            core::cmp::Ordering::Greater => (at, goes) = (at + 1, goes + 1),
            core::cmp::Ordering::Less => (other, comes) = (other + 1, comes + 1),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::Stops;

    fn piece(loss: f64, count: usize) -> OrderPiece {
        OrderPiece {
            loss: Stops::computed(loss),
            fits: SlotSet::all(2),
            count,
            free: true,
        }
    }

    fn set_up(need: f64, tolerance: f64, keep: &[usize]) -> SetUp {
        SetUp {
            need: Stops::computed(need),
            tolerance: Stops::computed(tolerance),
            keep: keep.into(),
            one_of: None,
        }
    }

    fn problem<'a>(pieces: &'a [OrderPiece], set_ups: &'a [SetUp]) -> Problem<'a> {
        Problem {
            pieces,
            slot_count: 2,
            wheel: &[],
            set_ups,
        }
    }

    #[test]
    fn an_exchange_is_one_change() {
        assert_eq!(changes_in(&[3, 0], &[2, 0]), 1);
        assert_eq!(changes_in(&[3, 1], &[3, 0]), 1);
        assert_eq!(changes_in(&[0, 0], &[3, 3]), 2);
        assert_eq!(changes_in(&[3, 3], &[3, 0]), 1);
    }

    #[test]
    fn a_copy_that_must_be_in_is_not_there_twice() {
        let pieces = [piece(2.0, 1)];
        let set_ups = [set_up(4.0, 0.1, &[0]), set_up(2.0, 0.1, &[0])];
        let problem = problem(&pieces, &set_ups);
        let rack = Rack::new(&problem);
        let count = |at: usize| {
            let set_up = &set_ups[at];
            rack.places(set_up, &problem, 100, &mut Budget::endless())
                .0
                .len()
        };
        assert_eq!((count(0), count(1)), (0, 1));
    }

    #[test]
    fn places_beyond_the_most_are_left_out_and_told() {
        let pieces = [piece(1.0, 1), piece(1.1, 1), piece(1.2, 1)];
        let set_ups = [set_up(1.1, 0.2, &[])];
        let problem = problem(&pieces, &set_ups);
        let rack = Rack::new(&problem);
        let found = |most| {
            let (places, all) = rack.places(&set_ups[0], &problem, most, &mut Budget::endless());
            (places.len(), all)
        };
        assert_eq!(found(1), (1, false));
        assert_eq!(found(2), (2, false));
        assert_eq!(found(4), (3, true));
    }

    #[test]
    fn a_piece_that_stays_is_not_put_in_again() {
        // Two that differ in nothing, then both wanted.
        let pieces = [piece(2.0, 1), piece(2.0, 1)];
        let problem = problem(&pieces, &[]);
        let rack = Rack::new(&problem);
        let mut both = EMPTY;
        both[..2].fill(1);
        for stays in [0, 1] {
            let next = rack.arranged(&[Some(stays), None], &both);
            assert_eq!(next, [Some(stays), Some(1 - stays)]);
        }
    }
}
