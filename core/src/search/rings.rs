//! Which rings join each lens to the filter, and what to buy, exactly.

use super::budget::{Budget, Proof};
pub use super::ring::{
    ClearCone, Front, Lens, MAX_CHAIN, MAX_LENSES, MAX_RINGS, Path, Problem, Ring,
};
use super::ring_paths::paths;
use crate::quantity::Length;
use crate::sorted::sort_by;
use alloc::vec::Vec;

/// Owned rings asked for by more lenses than there are.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Clash {
    /// The ring.
    pub ring: usize,
    /// The lenses whose own best path uses it.
    pub lenses: Vec<usize>,
}

/// The rings of each lens.
#[derive(Debug, Clone, PartialEq)]
pub struct Fitting {
    /// For each lens alone the best path of owned rings: fewest rings, then
    /// least depth. `None` when owned rings do not reach.
    pub alone: Vec<Option<Path>>,
    /// Rings that would have to move between lenses.
    pub clashes: Vec<Clash>,
    /// For each lens the rings that stay on it, bought ones included; `None`
    /// when no ring reaches.
    pub settled: Vec<Option<Path>>,
    /// For each ring how many to buy.
    pub buy: Vec<usize>,
    /// What that costs, in hundredths.
    pub cost: u64,
    /// Whether nothing cheaper exists; else the least cost not ruled out.
    pub proof: Proof,
}

/// The rings of each lens alone, and of all lenses with no ring shared.
///
/// The second costs least; of equally cheap ways it has the fewest rings, then
/// the least depth in all. Branch and bound takes lens by lens; its bound gives
/// every lens still open its cheapest path with the rings not yet used.
///
/// # Source
///
/// Own derivation; checked against enumeration of every choice of paths.
#[must_use]
pub fn fit_rings(problem: &Problem<'_>, budget: &mut Budget) -> Fitting {
    let every: Vec<Vec<Path>> = (problem.lenses.iter())
        .map(|lens| paths(problem, *lens))
        .collect();
    let alone: Vec<Option<Path>> = (every.iter())
        .map(|paths| {
            let owned = |path: &&Path| path.iter().all(|&ring| problem.rings[ring].owned > 0);
            let best = paths
                .iter()
                .filter(owned)
                .min_by_key(|path| size(problem, path));
            best.cloned()
        })
        .collect();
    let mut search = Search::new(problem, &every);
    search.settle(0, Price::default(), budget);
    let settled: Vec<Option<Path>> = (search.best_choice.iter().zip(&every))
        .map(|(choice, paths)| choice.and_then(|at| paths.get(at)).cloned())
        .collect();
    let buy = to_buy(problem, &settled);
    Fitting {
        clashes: clashes(problem, &alone),
        cost: (buy.iter().zip(problem.rings))
            .map(|(&count, ring)| count as u64 * ring.price.unwrap_or(0))
            .sum(),
        proof: search.proof(),
        alone,
        settled,
        buy,
    }
}

impl Fitting {
    /// The least cost not ruled out, in hundredths.
    #[must_use]
    pub const fn bound(&self) -> u64 {
        match self.proof {
            Proof::Proven => self.cost,
            Proof::Bound(cost) => cost,
        }
    }
}

/// Number of rings and their depth, in micrometres.
fn size(problem: &Problem<'_>, path: &Path) -> (usize, u64) {
    let depth = path
        .iter()
        .map(|&ring| micrometres(problem.rings[ring].depth));
    (path.len(), depth.sum())
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a length is at most 10⁹ mm, and a negative depth counts as none"
)]
fn micrometres(length: Length) -> u64 {
    libm::round(length.millimetres() * 1000.0).max(0.0) as u64
}

fn uses(paths: &[Option<Path>], ring: usize) -> Vec<usize> {
    (0..paths.len())
        .filter(|&lens| {
            paths[lens]
                .as_ref()
                .is_some_and(|path| path.contains(&ring))
        })
        .collect()
}

fn clashes(problem: &Problem<'_>, alone: &[Option<Path>]) -> Vec<Clash> {
    (0..problem.rings.len())
        .map(|ring| Clash {
            ring,
            lenses: uses(alone, ring),
        })
        .filter(|clash| clash.lenses.len() > problem.rings[clash.ring].owned)
        .collect()
}

fn to_buy(problem: &Problem<'_>, settled: &[Option<Path>]) -> Vec<usize> {
    (problem.rings.iter().enumerate())
        .map(|(at, ring)| uses(settled, at).len().saturating_sub(ring.owned))
        .collect()
}

/// Cost in hundredths, rings, depth in micrometres: less is better, in turn.
type Price = (u64, usize, u64);

fn sum(one: Price, other: Price) -> Price {
    (one.0 + other.0, one.1 + other.1, one.2 + other.2)
}

struct Search<'a> {
    problem: &'a Problem<'a>,
    paths: &'a [Vec<Path>],
    /// Lenses that can be reached, those with the fewest paths first.
    order: Vec<usize>,
    used: Vec<usize>,
    choice: Vec<Option<usize>>,
    best: Option<Price>,
    best_choice: Vec<Option<usize>>,
    /// The least bound left unvisited.
    open: Option<Price>,
}

impl<'a> Search<'a> {
    fn new(problem: &'a Problem<'a>, paths: &'a [Vec<Path>]) -> Self {
        let mut order: Vec<usize> = (0..paths.len())
            .filter(|&lens| !paths[lens].is_empty())
            .collect();
        // Lenses with the same paths stand together.
        sort_by(&mut order, |&a, &b| {
            (paths[a].len(), &paths[a]).cmp(&(paths[b].len(), &paths[b]))
        });
        Self {
            problem,
            paths,
            order,
            used: alloc::vec![0; problem.rings.len()],
            choice: alloc::vec![None; paths.len()],
            best: None,
            best_choice: alloc::vec![None; paths.len()],
            open: None,
        }
    }

    /// What a path adds with the rings used so far; `None` when a ring is
    /// neither left nor to be had.
    fn price(&self, path: &Path) -> Option<Price> {
        let mut cost = 0;
        for &ring in path {
            let sort = &self.problem.rings[ring];
            if self.used[ring] >= sort.owned {
                cost += sort.price?;
            }
        }
        let (rings, depth) = size(self.problem, path);
        Some((cost, rings, depth))
    }

    /// The least the lenses from `from` on can add.
    fn least(&self, from: usize) -> Option<Price> {
        let mut each = (self.order[from..].iter()).map(|&lens| {
            let prices = self.paths[lens].iter().filter_map(|path| self.price(path));
            prices.min()
        });
        each.try_fold(Price::default(), |all, one| Some(sum(all, one?)))
    }

    fn settle(&mut self, at: usize, spent: Price, budget: &mut Budget) {
        let Some(&lens) = self.order.get(at) else {
            if self.best.is_none_or(|best| spent < best) {
                self.best = Some(spent);
                self.best_choice.clone_from(&self.choice);
            }
            return;
        };
        let looks = self.order[at..].iter().map(|&l| self.paths[l].len() as u64);
        let on = budget.take(looks.sum());
        let Some(least) = self.least(at) else { return };
        let bound = sum(spent, least);
        if self.best.is_some_and(|best| bound >= best) {
            return;
        }
        // Without a first plan there is nothing to show: the way down goes on.
        if !on && self.best.is_some() {
            self.open = Some(self.open.map_or(bound, |open| open.min(bound)));
            return;
        }
        let mut options: Vec<(Price, usize)> = (self.paths[lens].iter().enumerate())
            .filter_map(|(path, rings)| Some((self.price(rings)?, path)))
            .collect();
        sort_by(&mut options, Ord::cmp);
        for (price, path) in options {
            if self.repeats(at, path) {
                continue;
            }
            self.put_on(lens, path);
            self.settle(at + 1, sum(spent, price), budget);
            self.take_off(lens, path);
        }
    }

    /// Of lenses with the same paths the later one takes no earlier path: the
    /// other way round is the same plan.
    fn repeats(&self, at: usize, path: usize) -> bool {
        let Some(before) = at.checked_sub(1).map(|before| self.order[before]) else {
            return false;
        };
        let same = self.paths[before] == self.paths[self.order[at]];
        same && self.choice[before].is_some_and(|other| other > path)
    }

    fn put_on(&mut self, lens: usize, path: usize) {
        for &ring in &self.paths[lens][path] {
            self.used[ring] += 1;
        }
        self.choice[lens] = Some(path);
    }

    fn take_off(&mut self, lens: usize, path: usize) {
        for &ring in &self.paths[lens][path] {
            self.used[ring] -= 1;
        }
        self.choice[lens] = None;
    }

    fn proof(&self) -> Proof {
        match (self.open, self.best) {
            (Some(open), Some(best)) if open < best => Proof::Bound(open.0),
            _ => Proof::Proven,
        }
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests;
