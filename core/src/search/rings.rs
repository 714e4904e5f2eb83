//! Which rings join each lens to the filter, and what to buy, exactly.
//!
//! Paths of a network, one a lens, that share no ring: disjoint paths of least cost.
//! It would be a Steiner tree if a ring served several lenses at once; it stays on
//! one.

use super::budget::{Budget, Proof};
pub use super::ring::{
    ClearCone, Front, Lens, MAX_CHAIN, MAX_LENSES, MAX_RINGS, Path, Problem, Ring,
};
use super::ring_paths::best_owned;
use super::ring_settle::settle;
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
    /// where no ring reaches, or there are too few for all and others come
    /// first.
    pub settled: Vec<Option<Path>>,
    /// For each ring how many to buy.
    pub buy: Vec<usize>,
    /// What that costs, in hundredths.
    pub cost: u64,
    /// Whether nothing better exists; else the least cost not ruled out.
    pub proof: Proof,
}

/// The rings of each lens alone, and of all lenses with no ring shared.
///
/// The second settles as many lenses as can be; of those ways the one that
/// costs least, then has the fewest rings, then the least depth in all. See
/// `search::ring_settle`.
///
/// # Source
///
/// Own derivation; checked against enumeration of every choice of paths.
#[must_use]
pub fn fit_rings(problem: &Problem<'_>, budget: &mut Budget) -> Fitting {
    let alone: Vec<Option<Path>> = (problem.lenses.iter())
        .map(|lens| best_owned(problem, *lens))
        .collect();
    let (settled, proof) = settle(problem, budget);
    let buy = to_buy(problem, &settled);
    Fitting {
        clashes: clashes(problem, &alone),
        cost: (buy.iter().zip(problem.rings))
            .map(|(&count, ring)| count as u64 * ring.price.unwrap_or(0))
            .sum(),
        proof,
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

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests;
