//! What ranks stacks beside what they leave over.

use super::candidates::whole_thirds;
use crate::quantity::Stops;
use alloc::vec::Vec;

/// Numbers nearer than this are equal: sums taken in another order differ.
const HAIR: f64 = 1e-9;

/// What comes before the number of pieces, apart from whole thirds. Nothing of
/// it is the plain order: thirds, pieces, moves, exact left-over.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Ranking {
    /// How far the iris can open beyond the stop wanted, negative where it does
    /// not open that far: what is darker than that cannot be exposed and comes
    /// last. `None` where the lens is not known.
    pub room: Option<Stops>,
    /// Whether of equal thirds over comes before under: an iris can always
    /// close.
    pub over_first: bool,
    /// From which excess of visible light over infrared taken a stack needs a
    /// cut; of equal thirds those that need none come first.
    pub cut_from: Option<Stops>,
}

/// One rank of stacks with equal thirds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Rank {
    thirds: i32,
    /// Whether it can be exposed; `None` where nobody asks.
    exposed: Option<bool>,
    /// Whether it needs a cut; `None` where nobody asks.
    cut: Option<bool>,
    over: bool,
    under: bool,
    ranking: Ranking,
}

impl Ranking {
    /// First what can be exposed, then what cannot.
    pub(super) fn reaches(self) -> &'static [Option<bool>] {
        match self.room {
            None => &[None],
            Some(_) => &[Some(true), Some(false)],
        }
    }

    /// The ranks of some thirds, best first.
    pub(super) fn of(self, thirds: i32, exposed: Option<bool>) -> Vec<Rank> {
        let sides: &[(bool, bool)] = match (thirds, self.over_first) {
            // Within a sixth of a stop nobody tells over from under.
            (0, _) => &[(true, false)],
            (_, true) => &[(true, false), (false, true)],
            (_, false) => &[(true, true)],
        };
        let cuts: &[Option<bool>] = match self.cut_from {
            None => &[None],
            Some(_) => &[Some(false), Some(true)],
        };
        (cuts.iter())
            .flat_map(|&cut| {
                sides.iter().map(move |&(over, under)| Rank {
                    thirds,
                    exposed,
                    cut,
                    over,
                    under,
                    ranking: self,
                })
            })
            .collect()
    }

    /// Whether so much left over can be exposed with this lens.
    #[must_use]
    pub fn can_expose(self, left_over: Stops) -> bool {
        (self.room).is_none_or(|room| left_over.stops() >= -room.stops() - HAIR)
    }

    fn needs_cut(self, excess: f64) -> bool {
        // Marked densities of exactly the limit must reach it.
        (self.cut_from).is_some_and(|limit| excess >= limit.stops() - HAIR)
    }
}

impl Rank {
    /// The bands of sums that leave these thirds of a target, a little wide: the
    /// exact test decides at the end. An empty one has its ends crossed.
    pub(super) fn bands(self, target: f64) -> [(f64, f64); 2] {
        const EMPTY: (f64, f64) = (f64::INFINITY, f64::NEG_INFINITY);
        let middle = f64::from(self.thirds) / 3.0;
        let half = 1.0 / 6.0 + HAIR;
        // The brightest sum that can still be exposed.
        let edge = target + self.ranking.room.map_or(f64::INFINITY, Stops::stops);
        let within = |(low, high): (f64, f64)| match self.exposed {
            None => (low, high),
            Some(true) => (low, high.min(edge + 2.0 * HAIR)),
            Some(false) => (low.max(edge), high),
        };
        let over = (target - middle - half, target - middle + half);
        let under = (target + middle - half, target + middle + half);
        [
            if self.over { within(over) } else { EMPTY },
            if self.under { within(under) } else { EMPTY },
        ]
    }

    /// Whether a stack belongs here, by its left-over and excess.
    pub(super) fn holds(self, left: f64, excess: f64) -> bool {
        let left_over = Stops::computed(left);
        whole_thirds(left_over) == self.thirds
            && (self.exposed).is_none_or(|can| can == self.ranking.can_expose(left_over))
            && (self.cut).is_none_or(|cut| cut == self.ranking.needs_cut(excess))
    }

    /// Whether stacks of an excess between these two may belong here.
    pub(super) fn may_hold(self, least_excess: f64, most_excess: f64) -> bool {
        match self.cut {
            None => true,
            Some(true) => self.ranking.needs_cut(most_excess + 2.0 * HAIR),
            Some(false) => !self.ranking.needs_cut(least_excess - 2.0 * HAIR),
        }
    }
}

#[cfg(test)]
#[expect(clippy::panic, reason = "a test may stop on a bad value")]
mod tests {
    use super::{Ranking, Stops};

    #[test]
    fn the_plain_order_has_one_rank_for_each_third() {
        let plain = Ranking::default();
        assert_eq!(plain.reaches(), [None]);
        assert_eq!(plain.of(2, None).len(), 1);
    }

    #[test]
    fn over_comes_before_under_and_what_cannot_be_exposed_last() {
        let ranking = Ranking {
            room: Some(Stops::computed(1.0)),
            over_first: true,
            cut_from: None,
        };
        assert_eq!(ranking.reaches(), [Some(true), Some(false)]);
        let [over, under] = ranking.of(3, Some(true))[..] else {
            panic!("two sides");
        };
        assert!(over.holds(1.0, 0.0) && over.bands(5.0)[1].0 > over.bands(5.0)[1].1);
        // A stop under is all this lens can open; a hair more is too much.
        assert!(under.holds(-1.0, 0.0) && !under.holds(-1.001, 0.0));
        let last = ranking.of(3, Some(false))[1];
        assert!(last.holds(-1.001, 0.0) && !last.holds(-1.0, 0.0));
    }

    #[test]
    fn what_needs_no_cut_comes_first() {
        let ranking = Ranking {
            cut_from: Some(Stops::computed(5.0)),
            ..Ranking::default()
        };
        let [without, with] = ranking.of(0, None)[..] else {
            panic!("two ranks");
        };
        assert!(without.holds(0.0, 4.9) && !without.holds(0.0, 5.0));
        assert!(with.holds(0.0, 5.0) && !without.may_hold(5.5, 6.0));
    }
}
