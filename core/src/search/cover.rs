//! The cheapest set of pieces that serves every need, exactly.

use super::budget::{Budget, Proof};
use super::choices::{Choices, Kind, SLACK};
use super::copy_set::CopySet;
pub use super::copy_set::MAX_COPIES;
use super::purchase::{Purchase, cheapest};
use crate::quantity::Stops;
use crate::sorted::sort_by;
use alloc::vec::Vec;

/// The most needs a search looks at.
pub const MAX_NEEDS: usize = 128;
/// The dearest a copy may be, in hundredths.
pub const MAX_COST: u64 = 100_000_000_000;
/// The most ways to serve one need that are kept.
const MAX_WAYS: usize = 20_000;

/// A piece that can be bought.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ware {
    /// What one takes; never a gain.
    pub loss: Stops,
    /// What one costs, in hundredths, at most [`MAX_COST`].
    pub cost: u64,
    /// How many may be bought.
    pub most: usize,
}

/// A need and what may serve it.
#[derive(Debug, Clone, PartialEq)]
pub struct Need {
    /// What the glass must take.
    pub loss: Stops,
    /// How far off it may be, either way, ends included.
    pub tolerance: Stops,
    /// The most pieces at once.
    pub slots: usize,
    /// Wares that may be in.
    pub may: Vec<usize>,
    /// Wares of which exactly one must be in; `None` asks for none.
    pub one_of: Option<Vec<usize>>,
}

impl Need {
    fn asked(&self) -> &[usize] {
        self.one_of.as_deref().unwrap_or_default()
    }
}

/// What to buy and what it serves.
#[derive(Debug, Clone, PartialEq)]
pub struct Cover {
    /// For each ware how many.
    pub bought: Vec<usize>,
    /// In hundredths.
    pub cost: u64,
    /// Copies bought.
    pub pieces: usize,
    /// For each need the wares that serve it closest of those bought; `None`
    /// when the whole catalogue cannot.
    pub served: Vec<Option<Vec<usize>>>,
    /// Whether nothing cheaper exists; else the least cost not ruled out, in
    /// hundredths.
    pub proof: Proof,
}

/// The cheapest purchase that serves every need that can be served, and of
/// equally cheap ones one with the fewest pieces.
///
/// Needs are served one at a time, so a copy serves many. Each need becomes the
/// list of the smallest choices of copies within its tolerance; branch and
/// bound then buys or rules out one copy at a time.
///
/// # Source
///
/// Own derivation. The problem is a weighted hitting set over choices; see
/// `purchase.rs` for the bound. Checked against enumeration and
/// against an integer-programming library.
#[must_use]
pub fn cover(wares: &[Ware], needs: &[Need], budget: &mut Budget) -> Cover {
    let shelf = Shelf::new(wares, needs);
    let mut whole = true;
    let ways: Vec<Vec<CopySet>> = (needs.iter().enumerate())
        .map(|(at, need)| {
            let (ways, all) = shelf.ways(at, need, budget);
            whole &= all;
            ways
        })
        .collect();
    let open: Vec<Vec<CopySet>> = ways.iter().filter(|w| !w.is_empty()).cloned().collect();
    let Purchase { bought, proof } = cheapest(&shelf.prices, &open, budget);
    let mut counts = alloc::vec![0; wares.len()];
    for copy in bought.iter() {
        counts[shelf.copies[copy]] += 1;
    }
    let cost = (counts.iter().zip(wares))
        .map(|(&count, ware)| ware.cost * count as u64)
        .sum();
    let served = (needs.iter().zip(&ways).enumerate())
        .map(|(at, (need, ways))| {
            (!ways.is_empty())
                .then(|| shelf.closest(at, need, bought))
                .flatten()
        })
        .collect();
    Cover {
        pieces: counts.iter().sum(),
        bought: counts,
        cost,
        served,
        // Ways left out could only have made it cheaper.
        proof: if whole { proof } else { Proof::Bound(0) },
    }
}

/// Wares that differ in nothing but price stand together, cheapest copy first.
struct Shelf {
    /// The copies of each kind, cheapest first.
    kinds: Vec<Vec<usize>>,
    losses: Vec<f64>,
    /// For each need the kinds that may be in, and those of which one must be.
    may: Vec<Vec<usize>>,
    one_of: Vec<Vec<usize>>,
    /// The ware of each copy.
    copies: Vec<usize>,
    /// Cost and count of each copy as one number: cost · [`PIECE`] + 1.
    prices: Vec<u64>,
}

/// More copies than are ever bought: one cost unit outweighs them all.
const PIECE: u64 = 1024;

impl Shelf {
    fn new(wares: &[Ware], needs: &[Need]) -> Self {
        let most_slots = needs.iter().map(|need| need.slots).max().unwrap_or(0);
        let uses = |ware: usize| -> (u128, u128) {
            let bits = |list: fn(&Need) -> &[usize]| {
                (needs.iter().take(MAX_NEEDS).enumerate())
                    .filter(|(_, need)| list(need).contains(&ware))
                    .fold(0, |bits, (at, _)| bits | 1 << at)
            };
            (bits(|need| &need.may), bits(Need::asked))
        };
        let mut order: Vec<_> = (0..wares.len()).map(|ware| (ware, uses(ware))).collect();
        sort_by(&mut order, |(a, used_a), (b, used_b)| {
            (wares[*a].loss.stops().total_cmp(&wares[*b].loss.stops()))
                .then(used_a.cmp(used_b))
                .then(wares[*a].cost.cmp(&wares[*b].cost))
                .then(a.cmp(b))
        });
        let mut shelf = Self {
            kinds: Vec::new(),
            losses: Vec::new(),
            may: alloc::vec![Vec::new(); needs.len()],
            one_of: alloc::vec![Vec::new(); needs.len()],
            copies: Vec::new(),
            prices: Vec::new(),
        };
        let mut last = None;
        for (ware, uses) in order {
            let loss = wares[ware].loss;
            if last != Some((loss, uses)) {
                last = Some((loss, uses));
                let kind = shelf.kinds.len();
                shelf.kinds.push(Vec::new());
                shelf.losses.push(loss.stops());
                for (at, need) in needs.iter().enumerate() {
                    if need.may.contains(&ware) {
                        shelf.may[at].push(kind);
                    }
                    if need.asked().contains(&ware) {
                        shelf.one_of[at].push(kind);
                    }
                }
            }
            let Some(kind) = shelf.kinds.last_mut() else {
                continue;
            };
            // More copies than slots can never be in.
            let room = most_slots.saturating_sub(kind.len());
            for _ in 0..wares[ware].most.min(room) {
                if shelf.copies.len() < MAX_COPIES {
                    kind.push(shelf.copies.len());
                    shelf.copies.push(ware);
                    shelf.prices.push(wares[ware].cost * PIECE + 1);
                }
            }
        }
        shelf
    }

    /// Shows each choice of kinds that serves the need.
    fn each(
        &self,
        at: usize,
        need: &Need,
        available: impl Fn(usize) -> usize,
        budget: &mut Budget,
        visit: &mut impl FnMut(Option<usize>, &[usize], f64) -> bool,
    ) -> bool {
        let (middle, half) = (need.loss.stops(), need.tolerance.stops());
        let firsts: Vec<Option<usize>> = if need.one_of.is_none() {
            [None].into()
        } else {
            let held = self.one_of[at].iter().copied();
            held.filter(|&kind| available(kind) > 0).map(Some).collect()
        };
        for first in firsts {
            let taken = first.map_or(0.0, |kind| self.losses[kind]);
            let Some(slots) = need.slots.checked_sub(usize::from(first.is_some())) else {
                continue;
            };
            let choices = Choices::new(self.may[at].iter().map(|&kind| Kind {
                name: kind,
                loss: self.losses[kind],
                copies: available(kind).min(slots),
            }));
            let band = (middle - half - taken, middle + half - taken);
            for pieces in 0..=slots {
                let on = choices.each(pieces, band, budget, &mut |chosen, sum| {
                    visit(first, chosen, middle - taken - sum)
                });
                if !on {
                    return false;
                }
            }
        }
        true
    }

    /// The smallest sets of copies that serve a need, and whether these are all.
    fn ways(&self, at: usize, need: &Need, budget: &mut Budget) -> (Vec<CopySet>, bool) {
        let mut ways = Vec::new();
        let all = self.each(
            at,
            need,
            |kind| self.kinds[kind].len(),
            budget,
            &mut |first, chosen, left| {
                // Still within tolerance without its lightest piece: a smaller
                // choice serves, and this one is never needed.
                let lightest = chosen.last().map_or(0.0, |&kind| self.losses[kind]);
                let smaller = left + lightest <= need.tolerance.stops() + SLACK;
                if chosen.is_empty() || !smaller {
                    ways.push(self.copies_of(first, chosen));
                }
                ways.len() < MAX_WAYS
            },
        );
        (ways, all)
    }

    /// The cheapest copies of these kinds; the same kind stands together.
    fn copies_of(&self, first: Option<usize>, chosen: &[usize]) -> CopySet {
        let mut set = CopySet::EMPTY;
        if let Some(kind) = first {
            set = set.with(self.kinds[kind][0]);
        }
        let mut nth = 0;
        for (at, &kind) in chosen.iter().enumerate() {
            nth = if at > 0 && chosen[at - 1] == kind {
                nth + 1
            } else {
                0
            };
            set = set.with(self.kinds[kind][nth]);
        }
        set
    }

    /// The wares among those bought that leave the least of a need.
    fn closest(&self, at: usize, need: &Need, bought: CopySet) -> Option<Vec<usize>> {
        let mut best: Option<(f64, CopySet)> = None;
        let held = |kind: usize| {
            let copies = self.kinds[kind].iter();
            copies.filter(|&&copy| bought.holds(copy)).count()
        };
        self.each(
            at,
            need,
            held,
            &mut Budget::endless(),
            &mut |first, chosen, left| {
                // Fewer pieces come first and win a tie.
                if best.is_none_or(|(least, _)| left.abs() < least - SLACK) {
                    best = Some((left.abs(), self.copies_of(first, chosen)));
                }
                true
            },
        );
        best.map(|(_, set)| set.iter().map(|copy| self.copies[copy]).collect())
    }
}

impl Cover {
    /// The least cost not ruled out, in hundredths.
    #[must_use]
    pub const fn bound(&self) -> u64 {
        match self.proof {
            Proof::Proven => self.cost,
            Proof::Bound(price) => price / PIECE,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ware(loss: f64, cost: u64, most: usize) -> Ware {
        Ware {
            loss: Stops::computed(loss),
            cost,
            most,
        }
    }

    fn need(loss: f64, slots: usize, wares: &[Ware]) -> Need {
        Need {
            loss: Stops::computed(loss),
            tolerance: Stops::computed(0.25),
            slots,
            may: (0..wares.len()).collect(),
            one_of: None,
        }
    }

    #[test]
    fn two_pieces_serve_three_needs() {
        let wares = [ware(1.0, 10, 1), ware(2.0, 10, 1), ware(3.0, 15, 1)];
        let needs = [1.0, 2.0, 3.0].map(|loss| need(loss, 2, &wares));
        let best = cover(&wares, &needs, &mut Budget::endless());
        assert_eq!((best.cost, best.pieces), (20, 2));
        assert_eq!(best.bought, [1, 1, 0]);
        assert_eq!(best.served[2], Some([0, 1].into()));
        assert_eq!(best.proof, Proof::Proven);
    }

    #[test]
    fn a_second_copy_is_bought_where_it_is_cheaper() {
        let wares = [ware(1.0, 10, 2), ware(2.0, 11, 1)];
        let needs = [1.0, 2.0].map(|loss| need(loss, 2, &wares));
        let best = cover(&wares, &needs, &mut Budget::endless());
        assert_eq!((best.cost, best.bought), (20, [2, 0].into()));
    }

    #[test]
    fn a_need_out_of_reach_is_left_out() {
        let wares = [ware(1.0, 10, 1)];
        let needs = [need(1.0, 1, &wares), need(4.0, 3, &wares)];
        let best = cover(&wares, &needs, &mut Budget::endless());
        assert_eq!(best.cost, 10);
        assert_eq!(best.served, [Some([0].into()), None]);
    }

    #[test]
    fn no_need_costs_nothing() {
        let wares = [ware(1.0, 10, 1)];
        let best = cover(&wares, &[need(0.2, 0, &wares)], &mut Budget::endless());
        assert_eq!((best.cost, best.pieces), (0, 0));
        assert_eq!(best.served, [Some(Vec::new())]);
    }

    #[test]
    fn exactly_one_polarizer_goes_in_where_asked() {
        let wares = [ware(1.5, 30, 1), ware(1.0, 10, 1)];
        let mut asked = need(2.5, 2, &wares);
        asked.may = [1].into();
        asked.one_of = Some([0].into());
        let mut plain = need(1.5, 2, &wares);
        plain.may = [1].into();
        let best = cover(&wares, &[asked, plain], &mut Budget::endless());
        assert_eq!(best.served[0], Some([1, 0].into()));
        assert_eq!(best.served[1], None);
    }

    #[test]
    fn a_search_cut_short_says_so() {
        let wares: Vec<Ware> = (1..12)
            .map(|at| ware(f64::from(at) * 0.31, 10, 1))
            .collect();
        let needs: Vec<Need> = (1..12)
            .map(|at| need(f64::from(at) * 0.57, 3, &wares))
            .collect();
        let proven = cover(&wares, &needs, &mut Budget::endless());
        for steps in [0, 30, 300, 1000] {
            let cut = cover(&wares, &needs, &mut Budget::steps(steps));
            assert!(cut.bound() <= proven.cost);
            assert!(!cut.proof.is_proven() || cut.cost == proven.cost);
        }
        assert!(
            !cover(&wares, &needs, &mut Budget::steps(0))
                .proof
                .is_proven()
        );
    }

    /// A need that only one ware serves, which is bought for it.
    fn exactly(loss: f64, wares: &[Ware]) -> Need {
        Need {
            tolerance: Stops::computed(0.01),
            ..need(loss, 1, wares)
        }
    }

    #[test]
    fn of_what_is_bought_the_closest_serves() {
        for (near, far) in [(3.0, 2.8), (3.0, 3.2), (3.0625, 2.8)] {
            let wares = [ware(near, 10, 1), ware(far, 10, 1)];
            let needs = [
                need(3.0, 1, &wares),
                exactly(near, &wares),
                exactly(far, &wares),
            ];
            let best = cover(&wares, &needs, &mut Budget::endless());
            assert_eq!(best.bought, [1, 1]);
            assert_eq!(best.served[0], Some([0].into()), "{near} or {far}");
        }
    }

    #[test]
    fn of_two_equally_close_the_fewer_pieces_serve() {
        let wares = [ware(1.0, 10, 1), ware(2.0, 10, 1), ware(3.0, 10, 1)];
        let needs = [1.0, 2.0, 3.0].map(|loss| exactly(loss, &wares));
        let both = [&needs[..], &[need(3.0, 2, &wares)]].concat();
        let best = cover(&wares, &both, &mut Budget::endless());
        assert_eq!(best.served[3], Some([2].into()));
    }

    #[test]
    fn what_the_polarizer_takes_counts_once() {
        let wares = [
            ware(1.0, 30, 1),
            ware(3.0, 10, 1),
            ware(3.2, 10, 1),
            ware(1.0625, 30, 0),
        ];
        let with_polarizer = |loss| Need {
            may: [1, 2].into(),
            one_of: Some([0, 3].into()),
            ..need(loss, 2, &wares)
        };
        let needs = [
            with_polarizer(4.0),
            exactly(3.0, &wares),
            exactly(3.2, &wares),
        ];
        let best = cover(&wares, &needs, &mut Budget::endless());
        assert_eq!(best.served[0], Some([0, 1].into()));
        // 1 + 3 is a stop too much for 3.
        let best = cover(&wares, &[with_polarizer(3.0)], &mut Budget::endless());
        assert_eq!((best.cost, best.served), (0, [None].into()));
    }

    #[test]
    fn a_choice_that_serves_without_its_lightest_is_left_out() {
        // 1 is a quarter short of 1.25, the tolerance's very end.
        let wares = [ware(1.0, 10, 1), ware(0.25, 10, 1)];
        let needs = [need(1.25, 2, &wares)];
        let shelf = Shelf::new(&wares, &needs);
        let (ways, all) = shelf.ways(0, &needs[0], &mut Budget::endless());
        assert_eq!((ways.len(), all), (1, true));
    }

    #[test]
    fn twenty_thousand_ways_are_kept() {
        // 28 pieces of about a stop, any four of which serve: 20475 choices.
        let wares: Vec<Ware> = (0..28)
            .map(|at| ware(1.0 + 0.001 * f64::from(at), 10, 1))
            .collect();
        let needs = [need(4.05, 4, &wares)];
        let shelf = Shelf::new(&wares, &needs);
        let (ways, all) = shelf.ways(0, &needs[0], &mut Budget::endless());
        assert_eq!((ways.len(), all), (MAX_WAYS, false));
    }
}
