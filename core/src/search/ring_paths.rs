//! Chains of rings from a lens to the filter.

use super::ring::{Front, Lens, Path, Problem, Ring, depth, same_front};
use super::ring_flow::micrometres;
use alloc::vec::Vec;

/// The most paths kept for one lens; a search that meets more says so.
const MAX_PATHS: usize = 4000;

/// The paths of one lens.
#[derive(Debug, Clone)]
pub(super) struct Paths {
    /// Shortest first.
    pub(super) list: Vec<Path>,
    /// Whether these are all.
    pub(super) all: bool,
}

/// Every path that reaches the filter, shortest first, none of which holds
/// another.
pub(super) fn paths(problem: &Problem<'_>, lens: Lens) -> Paths {
    let mut found = Paths {
        list: Vec::new(),
        all: true,
    };
    for rings in 0..=problem.chain {
        let mut walk = Walk::new(problem, lens);
        walk.go(rings, &mut |path: &Path| {
            let longer = |other: &Path| other.iter().all(|ring| path.contains(ring));
            if found.list.iter().any(longer) {
                return true;
            }
            if found.list.len() == MAX_PATHS {
                found.all = false;
                return false;
            }
            found.list.push(path.clone());
            true
        });
    }
    found
}

/// The best path of owned rings: fewest rings, then least depth, then first in
/// the list.
pub(super) fn best_owned(problem: &Problem<'_>, lens: Lens) -> Option<Path> {
    (0..=problem.chain).find_map(|rings| {
        let mut walk = Walk::new(problem, lens);
        walk.owned_only = true;
        let mut best: Option<(i64, Path)> = None;
        walk.least(rings, 0, &mut best);
        best.map(|(_, path)| path)
    })
}

/// Whether a chain of rings may stand on a lens and reaches the filter.
pub(super) fn stands_on(problem: &Problem<'_>, lens: Lens, path: &[usize]) -> bool {
    let mut walk = Walk::new(problem, lens);
    path.len() <= problem.chain && path.iter().all(|&ring| walk.put_on(ring)) && walk.reaches()
}

struct Walk<'a> {
    problem: &'a Problem<'a>,
    lens: Lens,
    owned_only: bool,
    /// What was in front after each ring so far.
    fronts: Vec<Front>,
    path: Path,
}

impl<'a> Walk<'a> {
    fn new(problem: &'a Problem<'a>, lens: Lens) -> Self {
        Self {
            problem,
            lens,
            owned_only: false,
            fronts: [lens.front].into(),
            path: Vec::new(),
        }
    }

    /// Shows every way on of so many rings; goes on while `visit` says so.
    fn go(&mut self, left: usize, visit: &mut impl FnMut(&Path) -> bool) -> bool {
        if left == 0 {
            return !self.reaches() || visit(&self.path);
        }
        for at in 0..self.problem.rings.len() {
            if self.put_on(at) {
                let on = self.go(left - 1, visit);
                self.take_off();
                if !on {
                    return false;
                }
            }
        }
        true
    }

    /// The way on of so many rings with the least depth.
    fn least(&mut self, left: usize, so_far: i64, best: &mut Option<(i64, Path)>) {
        // A depth is never below nothing.
        if best.as_ref().is_some_and(|(least, _)| so_far >= *least) {
            return;
        }
        if left == 0 {
            if self.reaches() {
                *best = Some((so_far, self.path.clone()));
            }
            return;
        }
        for at in 0..self.problem.rings.len() {
            if self.put_on(at) {
                let deeper = so_far + micrometres(self.problem.rings[at].depth);
                self.least(left - 1, deeper, best);
                self.take_off();
            }
        }
    }

    fn front(&self) -> Front {
        self.fronts.last().copied().unwrap_or(self.lens.front)
    }

    fn reaches(&self) -> bool {
        same_front(self.front(), Front::Thread(self.problem.filter))
    }

    /// Puts a ring in front of the others where it goes.
    fn put_on(&mut self, at: usize) -> bool {
        let ring = &self.problem.rings[at];
        let next = Front::Thread(ring.to);
        let new = !self.fronts.iter().any(|&other| same_front(other, next));
        let to_be_had = ring.owned > 0 || (!self.owned_only && ring.price.is_some());
        let goes = to_be_had && new && same_front(ring.from, self.front()) && self.clears(ring);
        if goes {
            self.fronts.push(next);
            self.path.push(at);
        }
        goes
    }

    fn take_off(&mut self) {
        self.fronts.pop();
        self.path.pop();
    }

    /// Whether the picture passes the ring, put on in front of the others.
    fn clears(&self, ring: &Ring) -> bool {
        let front = depth(self.problem, &self.path) + ring.depth.millimetres();
        match self.lens.needs_clear {
            Some(needed) if needed.computed && !ring.steps_down() => true,
            Some(needed) => needed.room(ring, front) >= 0.0,
            None => !ring.steps_down(),
        }
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::*;
    use crate::quantity::Length;

    #[test]
    #[cfg_attr(miri, ignore = "each path is held against all before it")]
    fn more_paths_than_are_kept_are_told_of() {
        // 64 rings to a thread between and 64 on: 4096 paths.
        let mm = |length| Length::new(length).unwrap();
        let ring = |from, to| Ring {
            from: Front::Thread(mm(from)),
            to: mm(to),
            depth: mm(3.0),
            clear: mm(60.0),
            owned: 1,
            price: None,
        };
        let rings = [[ring(72.0, 77.0); 64], [ring(77.0, 82.0); 64]].concat();
        let problem = Problem {
            lenses: &[],
            filter: mm(82.0),
            rings: &rings,
            chain: 2,
        };
        let lens = Lens {
            front: Front::Thread(mm(72.0)),
            needs_clear: None,
        };
        let found = paths(&problem, lens);
        assert_eq!((found.list.len(), found.all), (MAX_PATHS, false));
    }
}
