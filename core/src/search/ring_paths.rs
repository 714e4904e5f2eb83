//! Every chain of rings from a lens to the filter.

use super::ring::{Front, Lens, Path, Problem, Ring, depth, same_front};
use alloc::vec::Vec;

/// The most paths kept for one lens.
const MAX_PATHS: usize = 4000;

/// Every path that reaches the filter, shortest first, none of which holds
/// another.
pub(super) fn paths(problem: &Problem<'_>, lens: Lens) -> Vec<Path> {
    let mut found: Vec<Path> = Vec::new();
    for rings in 0..=problem.chain {
        let mut walk = Walk {
            problem,
            lens,
            fronts: [lens.front].into(),
            path: Vec::new(),
            found: &mut found,
        };
        walk.go(rings);
    }
    found
}

struct Walk<'a> {
    problem: &'a Problem<'a>,
    lens: Lens,
    /// What was in front after each ring so far.
    fronts: Vec<Front>,
    path: Path,
    found: &'a mut Vec<Path>,
}

impl Walk<'_> {
    fn go(&mut self, left: usize) {
        let Some(&front) = self.fronts.last() else {
            return;
        };
        if left == 0 {
            let reaches = same_front(front, Front::Thread(self.problem.filter));
            let longer = |other: &Path| other.iter().all(|ring| self.path.contains(ring));
            if reaches && self.found.len() < MAX_PATHS && !self.found.iter().any(longer) {
                self.found.push(self.path.clone());
            }
            return;
        }
        for (at, ring) in self.problem.rings.iter().enumerate() {
            let next = Front::Thread(ring.to);
            let new = !self.fronts.iter().any(|&other| same_front(other, next));
            let to_be_had = ring.owned > 0 || ring.price.is_some();
            if to_be_had && new && same_front(ring.from, front) && self.clears(ring) {
                self.fronts.push(next);
                self.path.push(at);
                self.go(left - 1);
                self.path.pop();
                self.fronts.pop();
            }
        }
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
    fn four_thousand_paths_are_kept() {
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
        assert_eq!(paths(&problem, lens).len(), MAX_PATHS);
    }
}
