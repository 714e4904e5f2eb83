//! Branch and bound for the cheapest set of copies: the weighted set cover.

use super::budget::{Budget, Proof};
use super::copy_set::CopySet;
use crate::sorted::sort_by_key;
use alloc::vec::Vec;

/// What to buy.
pub(super) struct Purchase {
    pub(super) bought: CopySet,
    pub(super) proof: Proof,
}

/// The cheapest set that holds at least one way of each need.
///
/// `prices[copy]` is never zero; every need has at least one way. A need with an
/// empty way is served by buying nothing and asks for nothing.
///
/// A node has copies bought and copies ruled out. Its bound hands each need, in
/// turn, a share of the prices still unspent: a share makes every way of that
/// need cost at least δ, shares of one copy never exceed its price, so whatever
/// is bought costs at least Σδ (a feasible solution of the dual of the linear
/// relaxation). A copy whose buying, or whose absence, lifts the bound to the
/// best known is settled without branching.
pub(super) fn cheapest(prices: &[u64], needs: &[Vec<CopySet>], budget: &mut Budget) -> Purchase {
    let all = greedy(prices, needs);
    let mut search = Search {
        prices,
        budget,
        best: cost(prices, all),
        bought: all,
        open: u64::MAX,
    };
    search.visit(Node {
        bought: CopySet::EMPTY,
        spent: 0,
        needs: with_bought(needs, CopySet::EMPTY),
    });
    let bound = search.open.min(search.best);
    Purchase {
        bought: search.bought,
        proof: if bound >= search.best {
            Proof::Proven
        } else {
            Proof::Bound(bound)
        },
    }
}

fn cost(prices: &[u64], set: CopySet) -> u64 {
    set.iter().map(|copy| prices[copy]).sum()
}

/// A purchase to begin with: again and again the cheapest way per need served.
fn greedy(prices: &[u64], needs: &[Vec<CopySet>]) -> CopySet {
    let mut bought = CopySet::EMPTY;
    loop {
        let cheapest = (needs.iter())
            .filter_map(|ways| {
                let missing = ways.iter().map(|way| way.without(bought));
                missing.min_by_key(|&missing| cost(prices, missing))
            })
            .filter(|missing| !missing.is_empty())
            .min_by_key(|&missing| cost(prices, missing));
        match cheapest {
            Some(missing) => bought = bought.or(missing),
            None => return bought,
        }
    }
}

/// What is bought, and what the ways of each open need still miss.
struct Node {
    bought: CopySet,
    spent: u64,
    needs: Vec<Vec<CopySet>>,
}

struct Search<'a> {
    prices: &'a [u64],
    budget: &'a mut Budget,
    best: u64,
    bought: CopySet,
    /// The least bound among nodes left unvisited.
    open: u64,
}

impl Search<'_> {
    fn visit(&mut self, mut node: Node) {
        self.buy_what_every_way_misses(&mut node);
        if node.spent >= self.best {
            return;
        }
        if node.needs.is_empty() {
            (self.best, self.bought) = (node.spent, node.bought);
            return;
        }
        let looks: usize = node.needs.iter().map(Vec::len).sum();
        let on = self.budget.take(looks as u64);
        let mut unspent = self.prices.to_vec();
        let bound = node.spent + dual_ascent(&node.needs, &mut unspent);
        if bound >= self.best {
            return;
        }
        if !on {
            self.open = self.open.min(bound);
            return;
        }
        if !self.rule_out(&mut node, &unspent, bound, CopySet::EMPTY) {
            return;
        }
        let copy = CopySet::EMPTY.with(self.branching_copy(&node));
        self.visit(Node {
            bought: node.bought.or(copy),
            spent: node.spent + cost(self.prices, copy),
            needs: with_bought(&node.needs, copy),
        });
        if self.rule_out(&mut node, &unspent, bound, copy) {
            self.visit(node);
        }
    }

    /// Rules out `also` and every copy too dear to be in anything better: what
    /// the bound leaves of its price its buying would add in full. False when
    /// nothing better is left.
    fn rule_out(&self, node: &mut Node, unspent: &[u64], bound: u64, also: CopySet) -> bool {
        let out = (0..self.prices.len())
            .filter(|&copy| bound + unspent[copy] >= self.best)
            .fold(also, CopySet::with);
        node.needs.iter_mut().all(|ways| {
            ways.retain(|way| way.and(out).is_empty());
            !ways.is_empty()
        })
    }

    fn buy_what_every_way_misses(&self, node: &mut Node) {
        loop {
            let forced = (node.needs.iter())
                .filter_map(|ways| ways.iter().copied().reduce(CopySet::and))
                .fold(CopySet::EMPTY, CopySet::or);
            if forced.is_empty() {
                return;
            }
            node.bought = node.bought.or(forced);
            node.spent += cost(self.prices, forced);
            node.needs = with_bought(&node.needs, forced);
            if node.spent >= self.best {
                return;
            }
        }
    }

    /// A copy of the cheapest way of the need with the fewest ways: the one that
    /// helps most needs.
    fn branching_copy(&self, node: &Node) -> usize {
        let narrowest = (node.needs.iter())
            .min_by_key(|ways| ways.len())
            .map_or(&[][..], Vec::as_slice);
        let cheapest = (narrowest.iter())
            .min_by_key(|&&way| cost(self.prices, way))
            .copied()
            .unwrap_or_default();
        let helped = |copy: usize| {
            let helps = |ways: &&Vec<CopySet>| ways.iter().any(|way| way.holds(copy));
            node.needs.iter().filter(helps).count()
        };
        cheapest
            .iter()
            .max_by_key(|&copy| helped(copy))
            .unwrap_or(0)
    }
}

/// The open needs after buying.
fn with_bought(needs: &[Vec<CopySet>], bought: CopySet) -> Vec<Vec<CopySet>> {
    (needs.iter())
        .filter_map(|ways| {
            let missing: Vec<CopySet> = ways.iter().map(|way| way.without(bought)).collect();
            (!missing.iter().any(|way| way.is_empty())).then_some(missing)
        })
        .collect()
}

/// Σδ of the bound; takes the shares off `unspent`.
fn dual_ascent(needs: &[Vec<CopySet>], unspent: &mut [u64]) -> u64 {
    let mut order: Vec<usize> = (0..needs.len()).collect();
    sort_by_key(&mut order, |&need| needs[need].len());
    order
        .into_iter()
        .map(|need| share(&needs[need], unspent))
        .sum()
}

/// The most that every way of one need can be made to cost, spending little.
fn share(ways: &[CopySet], unspent: &mut [u64]) -> u64 {
    let costs: Vec<u64> = ways.iter().map(|&way| cost(unspent, way)).collect();
    let least = costs.iter().copied().min().unwrap_or(0);
    if least == 0 {
        return 0;
    }
    let mut spare: Vec<u64> = costs.iter().map(|cost| cost - least).collect();
    let used = ways.iter().copied().fold(CopySet::EMPTY, CopySet::or);
    for copy in used.iter() {
        let holding = || (0..ways.len()).filter(|&way| ways[way].holds(copy));
        let give_back = holding().map(|way| spare[way]).min().unwrap_or(0);
        let give_back = give_back.min(unspent[copy]);
        for way in holding() {
            spare[way] -= give_back;
        }
        unspent[copy] = give_back;
    }
    least
}

#[cfg(test)]
mod tests {
    use super::{CopySet, cheapest};
    use crate::search::budget::{Budget, Proof};

    /// A way of these copies.
    fn way<const N: usize>(copies: [usize; N]) -> CopySet {
        copies.into_iter().fold(CopySet::EMPTY, CopySet::with)
    }

    #[test]
    fn a_need_served_by_nothing_asks_for_nothing() {
        // Beside it each pair of four copies: three are needed where the bound
        // sees two, so that the search has to branch.
        let pairs = [[1, 2], [1, 3], [1, 4], [2, 3], [2, 4], [3, 4]];
        let mut needs = pairs.map(|[a, b]| [way([a]), way([b])].into()).to_vec();
        needs.insert(0, [CopySet::EMPTY, way([0])].into());
        let purchase = cheapest(&[1, 2, 2, 2, 2], &needs, &mut Budget::endless());
        assert_eq!(purchase.bought.iter().count(), 3);
        assert!(!purchase.bought.holds(0));
        assert_eq!(purchase.proof, Proof::Proven);
    }
}
