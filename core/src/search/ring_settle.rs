//! All lenses at once, with no ring on two of them.

use super::budget::{Budget, Proof};
use super::ring::{Path, Problem};
use super::ring_flow::{Flow, Network, Price};
use super::ring_paths::{Paths, paths, stands_on};
use crate::sorted::sort_by;
use alloc::vec::Vec;

/// The best rings for every lens, and whether they are proven best.
///
/// Seen as a network of threads the question is a flow, which is solved
/// outright; where its ways may stand on the lenses they start from it is the
/// answer. Else branch and bound takes a lens that got no such way and tries
/// each of its own, the flow of the others being the bound.
pub(super) fn settle(problem: &Problem<'_>, budget: &mut Budget) -> (Vec<Option<Path>>, Proof) {
    let mut search = Search::new(problem);
    search.visit(Price::default(), budget);
    let proof = search.proof();
    let plan = search
        .best
        .map_or_else(|| alloc::vec![None; problem.lenses.len()], |(_, plan)| plan);
    (plan, proof)
}

struct Search<'a> {
    problem: &'a Problem<'a>,
    network: Network<'a>,
    /// For each lens, its ways; looked for when first asked.
    ways: Vec<Option<Paths>>,
    /// For each lens, what was decided; the inner is `None` where left out.
    fixed: Vec<Option<Option<Path>>>,
    /// Lenses in the order they were decided, with the number of the way.
    trail: Vec<(usize, usize)>,
    used: Vec<usize>,
    best: Option<(Price, Vec<Option<Path>>)>,
    /// The least bound left unvisited.
    open: Option<Price>,
}

impl<'a> Search<'a> {
    fn new(problem: &'a Problem<'a>) -> Self {
        let lenses = problem.lenses.len();
        Self {
            problem,
            network: Network::new(problem),
            ways: alloc::vec![None; lenses],
            fixed: alloc::vec![None; lenses],
            trail: Vec::new(),
            used: alloc::vec![0; problem.rings.len()],
            best: None,
            open: None,
        }
    }

    fn visit(&mut self, spent: Price, budget: &mut Budget) {
        let on = budget.take(self.work());
        if !on && self.best.is_some() {
            // What stands open costs at least what is spent.
            self.leave_open(spent);
            return;
        }
        let mut starting = alloc::vec![0; self.network.nodes()];
        for lens in self.undecided() {
            starting[self.network.starts[lens]] += 1;
        }
        let flow = self.network.least(&starting, &self.used);
        let bound = spent.plus(flow.price);
        if self.no_better(bound) {
            return;
        }
        let (mut plan, stuck) = self.handed_out(flow);
        let Some(&lens) = stuck.first() else {
            self.best = Some((bound, plan));
            return;
        };
        self.complete(&mut plan, &stuck);
        if self.no_better(bound) {
            return;
        }
        if !on {
            self.leave_open(bound);
            return;
        }
        self.branch(lens, spent, bound, budget);
    }

    fn branch(&mut self, lens: usize, spent: Price, bound: Price, budget: &mut Budget) {
        let asked = self.problem.lenses[lens];
        let ways = self.ways[lens].take();
        let ways = ways.unwrap_or_else(|| paths(self.problem, asked));
        if !ways.all {
            self.leave_open(bound);
        }
        let mut options: Vec<(Price, usize)> = (ways.list.iter().enumerate())
            .filter_map(|(nth, path)| Some((self.price(path)?, nth)))
            .collect();
        sort_by(&mut options, Ord::cmp);
        for (price, nth) in options {
            if self.repeats(lens, nth) {
                continue;
            }
            let path = &ways.list[nth];
            for &ring in path {
                self.used[ring] += 1;
            }
            self.decide(lens, nth, Some(path.clone()));
            self.visit(spent.plus(price), budget);
            self.undecide(lens);
            for &ring in path {
                self.used[ring] -= 1;
            }
        }
        // Left out comes after every way of its own.
        self.decide(lens, usize::MAX, None);
        self.visit(spent.plus(Price::LEFT_OUT), budget);
        self.undecide(lens);
        self.ways[lens] = Some(ways);
    }

    fn decide(&mut self, lens: usize, nth: usize, path: Option<Path>) {
        self.fixed[lens] = Some(path);
        self.trail.push((lens, nth));
    }

    fn undecide(&mut self, lens: usize) {
        self.fixed[lens] = None;
        self.trail.pop();
    }

    /// Of lenses that are alike the later decided takes no earlier way: the
    /// other way round is the same plan.
    fn repeats(&self, lens: usize, nth: usize) -> bool {
        let alike = |other: usize| self.problem.lenses[other] == self.problem.lenses[lens];
        (self.trail.iter().rev())
            .find(|(other, _)| alike(*other))
            .is_some_and(|&(_, before)| before > nth)
    }

    fn undecided(&self) -> impl Iterator<Item = usize> + '_ {
        (0..self.fixed.len()).filter(|&lens| self.fixed[lens].is_none())
    }

    /// The ways of a flow given to lenses that they may stand on, and the
    /// lenses for which none is left that may though one was meant.
    fn handed_out(&self, mut flow: Flow) -> (Vec<Option<Path>>, Vec<usize>) {
        let mut plan: Vec<Option<Path>> = (self.fixed.iter())
            .map(|fixed| fixed.clone().flatten())
            .collect();
        let mut stuck = Vec::new();
        for node in 0..self.network.nodes() {
            let mut ways: Vec<Path> = (0..flow.reached[node])
                .filter_map(|_| self.network.way_from(node, &mut flow.on))
                .collect();
            let here = self
                .undecided()
                .filter(|&lens| self.network.starts[lens] == node);
            let mut without: Vec<usize> = Vec::new();
            for lens in here {
                let stands = |way: &Path| stands_on(self.problem, self.problem.lenses[lens], way);
                match ways.iter().position(stands) {
                    Some(at) => plan[lens] = Some(ways.swap_remove(at)),
                    None => without.push(lens),
                }
            }
            // As many are stuck as ways are left; the others are left out.
            stuck.extend(without.into_iter().take(ways.len()));
        }
        (plan, stuck)
    }

    /// Makes a plan of what was handed out: who is stuck takes the cheapest way
    /// that is left, if any. A first plan, seldom the last.
    fn complete(&mut self, plan: &mut [Option<Path>], stuck: &[usize]) {
        let before = self.used.clone();
        let own = core::mem::take(&mut self.used);
        self.used = alloc::vec![0; own.len()];
        for path in plan.iter().flatten() {
            for &ring in path {
                self.used[ring] += 1;
            }
        }
        for &lens in stuck {
            let asked = self.problem.lenses[lens];
            let ways = self.ways[lens].take();
            let ways = ways.unwrap_or_else(|| paths(self.problem, asked));
            let best = (ways.list.iter())
                .filter_map(|path| Some((self.price(path)?, path)))
                .min_by(|a, b| a.0.cmp(&b.0));
            if let Some((_, path)) = best {
                for &ring in path {
                    self.used[ring] += 1;
                }
                plan[lens] = Some(path.clone());
            }
            self.ways[lens] = Some(ways);
        }
        self.used = before;
        let price = self.price_of(plan);
        if !self.no_better(price) {
            self.best = Some((price, plan.to_vec()));
        }
    }

    fn price_of(&self, plan: &[Option<Path>]) -> Price {
        let mut used = alloc::vec![0; self.used.len()];
        let mut price = Price::default();
        for path in plan {
            let Some(path) = path else {
                price = price.plus(Price::LEFT_OUT);
                continue;
            };
            for &ring in path {
                let sort = &self.problem.rings[ring];
                let bought = used[ring] >= sort.owned;
                used[ring] += 1;
                price = price.plus(Price::of_ring(sort, bought).unwrap_or_default());
            }
        }
        price
    }

    /// What a path adds with the rings used so far; `None` when a ring is
    /// neither left nor to be had.
    fn price(&self, path: &Path) -> Option<Price> {
        (path.iter()).try_fold(Price::default(), |price, &ring| {
            let sort = &self.problem.rings[ring];
            let bought = self.used[ring] >= sort.owned;
            Some(price.plus(Price::of_ring(sort, bought)?))
        })
    }

    fn no_better(&self, price: Price) -> bool {
        (self.best.as_ref()).is_some_and(|(best, _)| price >= *best)
    }

    fn leave_open(&mut self, bound: Price) {
        self.open = Some(self.open.map_or(bound, |open| open.min(bound)));
    }

    /// Looks at arcs that one flow takes, about: a way for every lens, each
    /// relaxed a few times.
    fn work(&self) -> u64 {
        let size = |length: usize| u64::try_from(length).unwrap_or(u64::MAX);
        let open = size(self.undecided().count()) + 1;
        open.saturating_mul(4 * size(self.problem.rings.len()) + 2)
    }

    fn proof(&self) -> Proof {
        match (self.open, &self.best) {
            (Some(open), Some((best, _))) if open < *best => {
                // Fewer left out may cost more; no less than nothing.
                let cost = if open.0[0] == best.0[0] { open.0[1] } else { 0 };
                Proof::Bound(u64::try_from(cost).unwrap_or(0))
            }
            _ => Proof::Proven,
        }
    }
}
