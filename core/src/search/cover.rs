//! The cheapest set of pieces that serves every need, exactly: a weighted set
//! cover whose sets are stacks of pieces that can be bought.

use super::budget::{Budget, Proof};
use super::choices::{Choices, Kind, SLACK};
use super::copy_set::CopySet;
pub use super::copy_set::MAX_COPIES;
use super::places::{Places, find_room};
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
    /// Into which slots each ware goes, where those differ; `None` where any goes
    /// into any.
    pub places: Option<Vec<Places>>,
}

impl Need {
    fn asked(&self) -> &[usize] {
        self.one_of.as_deref().unwrap_or_default()
    }

    fn places_of(&self, ware: usize) -> Places {
        (self.places.as_ref()).map_or(Places::MAX, |places| places[ware])
    }

    /// Whether these wares find room at once, their number apart.
    pub(crate) fn takes_at_once(&self, wares: impl IntoIterator<Item = usize>) -> bool {
        (self.places.as_ref()).is_none_or(|places| find_room(wares.into_iter().map(|w| places[w])))
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
    let found: Vec<(Vec<CopySet>, bool)> = (needs.iter().enumerate())
        .map(|(at, need)| shelf.ways(at, need, budget))
        .collect();
    let whole = found.iter().all(|(_, all)| *all);
    let known = (found.iter()).filter(|(ways, all)| *all && !ways.is_empty());
    let known: Vec<Vec<CopySet>> = known.map(|(ways, _)| ways.clone()).collect();
    // A need nothing serves costs nothing: only those that something does.
    let cut: Vec<usize> = (found.iter().enumerate())
        .filter(|(_, (ways, all))| !all && !ways.is_empty())
        .map(|(at, _)| at)
        .collect();
    let ways: Vec<Vec<CopySet>> = found.into_iter().map(|(ways, _)| ways).collect();
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
        proof: if whole {
            proof
        } else {
            // Ways left out could only have made it cheaper: what is known of
            // the other needs, and of each cut one by itself, still holds.
            let by_known = shelf.least_for(&known, budget);
            let by_cut = cut.iter().map(|&at| shelf.least_alone(at, &needs[at]));
            Proof::Bound(by_cut.fold(by_known, u64::max))
        },
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
        let uses = |ware: usize| -> (u128, u128, Vec<Places>) {
            let bits = |list: fn(&Need) -> &[usize]| {
                (needs.iter().take(MAX_NEEDS).enumerate())
                    .filter(|(_, need)| list(need).contains(&ware))
                    .fold(0, |bits, (at, _)| bits | 1 << at)
            };
            let places = needs.iter().map(|need| need.places_of(ware));
            (bits(|need| &need.may), bits(Need::asked), places.collect())
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
            let like_this = Some((loss, uses));
            if last != like_this {
                last = like_this;
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
                    let kinds = first.iter().chain(chosen);
                    let wares = kinds.map(|&kind| self.copies[self.kinds[kind][0]]);
                    !need.takes_at_once(wares) || visit(first, chosen, middle - taken - sum)
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

    /// What serving these needs costs at the least, as prices count.
    fn least_for(&self, known: &[Vec<CopySet>], budget: &mut Budget) -> u64 {
        let Purchase { bought, proof } = cheapest(&self.prices, known, budget);
        match proof {
            Proof::Proven => bought.iter().map(|copy| self.prices[copy]).sum(),
            Proof::Bound(least) => least,
        }
    }

    /// What one need costs at the least: as much as it must take, at the best
    /// price a stop that any of its wares has.
    #[expect(
        clippy::cast_precision_loss,
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a bound may be a hair low: it is cut by a millionth"
    )]
    fn least_alone(&self, at: usize, need: &Need) -> u64 {
        let cheapest_of = |kind: &usize| Some(self.prices[*self.kinds[*kind].first()?] as f64);
        let a_stop = |kind: &usize| Some(cheapest_of(kind)? / self.losses[*kind].max(SLACK));
        let best = (self.may[at].iter().filter_map(a_stop)).fold(f64::INFINITY, f64::min);
        let missing = need.loss.stops() - need.tolerance.stops();
        let with = |taken: f64, price: f64| {
            let left = (missing - taken).max(0.0);
            price + if left > SLACK { left * best } else { 0.0 }
        };
        let least = if need.one_of.is_none() {
            with(0.0, 0.0)
        } else {
            (self.one_of[at].iter())
                .filter_map(|kind| Some(with(self.losses[*kind], cheapest_of(kind)?)))
                .fold(f64::INFINITY, f64::min)
        };
        if least.is_finite() {
            (least * (1.0 - 1e-6)) as u64
        } else {
            0
        }
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
mod tests;
