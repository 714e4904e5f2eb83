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
