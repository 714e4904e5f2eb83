//! Rings, the lenses they go on, and the filter they lead to.

use crate::quantity::Length;
use alloc::vec::Vec;

/// Diameters nearer than this are the same thread or clamp: 0.1 mm.
///
/// Nominal threads are whole and half millimetres.
const SAME: f64 = 0.1;

/// The most lenses a search looks at.
pub const MAX_LENSES: usize = 60;
/// The most sorts of ring a search looks at.
pub const MAX_RINGS: usize = 200;
/// The most rings one behind the other.
pub const MAX_CHAIN: usize = 4;

/// Where something is fastened to a lens.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Front {
    /// A filter thread of this diameter.
    Thread(Length),
    /// No thread; clamped on the outside diameter.
    Outside(Length),
}

/// A sort of ring.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ring {
    /// The side towards the lens.
    pub from: Front,
    /// The thread towards the filter.
    pub to: Length,
    /// How far it moves the filter forward.
    pub depth: Length,
    /// The clear diameter it leaves.
    pub clear: Length,
    /// How many are owned.
    pub owned: usize,
    /// What one more costs, in hundredths; `None` when it cannot be bought.
    pub price: Option<u64>,
}

/// A lens.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lens {
    /// Where rings go on.
    pub front: Front,
    /// What the picture needs clear. Rings that step down are refused where it
    /// is not known.
    pub needs_clear: Option<ClearCone>,
}

/// The clear diameter a picture needs, ring by ring farther from the lens.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ClearCone {
    /// At the rim.
    pub at_rim: Length,
    /// How much more it is for each millimetre ahead of the rim.
    pub per_mm: f64,
    /// Whether it is computed of the lens's light. Then it decides about rings
    /// that narrow only: one as wide as the lens's own front is put on and its
    /// room told, for the model is not sure enough to forbid it.
    pub computed: bool,
}

impl ClearCone {
    /// The same diameter everywhere.
    #[must_use]
    pub const fn straight(diameter: Length) -> Self {
        Self {
            at_rim: diameter,
            per_mm: 0.0,
            computed: false,
        }
    }

    /// Room on every side in a ring whose front is so far ahead of the rim;
    /// millimetres, negative when the ring shades.
    #[must_use]
    pub fn room(&self, ring: &Ring, front: f64) -> f64 {
        let needed = self.at_rim.millimetres() + self.per_mm * front;
        0.5 * (ring.clear.millimetres() - needed)
    }

    /// How many rings like this, one on the other from so far ahead of the rim,
    /// leave so much room on every side; 40 at the most.
    ///
    /// # Units
    ///
    /// Millimetres. Light only spreads ahead of the rim, so the last decides.
    #[must_use]
    pub fn stackable(&self, ring: &Ring, from: f64, margin: f64) -> usize {
        let mut front = from;
        for count in 0..MAX_STACKED {
            front += ring.depth.millimetres();
            if self.room(ring, front) < margin {
                return count;
            }
        }
        MAX_STACKED
    }
}

/// More pieces than anyone screws together.
const MAX_STACKED: usize = 40;

/// What to search.
#[derive(Debug, Clone, PartialEq)]
pub struct Problem<'a> {
    /// The lenses, at most [`MAX_LENSES`].
    pub lenses: &'a [Lens],
    /// The filter's thread.
    pub filter: Length,
    /// The rings, at most [`MAX_RINGS`] sorts.
    pub rings: &'a [Ring],
    /// The most rings one behind the other, at most [`MAX_CHAIN`].
    pub chain: usize,
}

/// Rings by their place in [`Problem::rings`], from the lens outward.
pub type Path = Vec<usize>;

impl Ring {
    /// Whether the filter's side is narrower than the lens's, a clamp counted
    /// by what it holds.
    #[must_use]
    pub fn steps_down(&self) -> bool {
        let (Front::Thread(from) | Front::Outside(from)) = self.from;
        difference(self.to, from) < -SAME
    }
}

fn difference(one: Length, other: Length) -> f64 {
    one.millimetres() - other.millimetres()
}

/// Whether one goes on the other.
pub(super) fn same_front(one: Front, other: Front) -> bool {
    match (one, other) {
        (Front::Thread(a), Front::Thread(b)) | (Front::Outside(a), Front::Outside(b)) => {
            difference(a, b).abs() < SAME
        }
        _ => false,
    }
}

/// How far the rings of a path move the filter forward, in millimetres.
#[must_use]
pub(super) fn depth(problem: &Problem<'_>, path: &[usize]) -> f64 {
    (path.iter())
        .map(|&ring| problem.rings[ring].depth.millimetres())
        .sum()
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::*;

    fn mm(length: f64) -> Length {
        Length::new(length).unwrap()
    }

    fn ring(from: f64, to: f64) -> Ring {
        Ring {
            from: Front::Thread(mm(from)),
            to: mm(to),
            depth: mm(3.0),
            clear: mm(1.0),
            owned: 1,
            price: None,
        }
    }

    #[test]
    fn a_tenth_of_a_millimetre_apart_is_another_thread() {
        // 0.2 - 0.1 is 0.1 in binary as well.
        let thread = |diameter| Front::Thread(mm(diameter));
        assert!(!same_front(thread(0.2), thread(0.1)));
        assert!(same_front(thread(0.2), thread(0.11)));
        assert!(!ring(0.2, 0.1).steps_down());
        assert!(ring(0.2, 0.09).steps_down());
    }

    #[test]
    fn depths_add_up() {
        let rings = [ring(72.0, 77.0), ring(77.0, 82.0)];
        let problem = Problem {
            lenses: &[],
            filter: mm(82.0),
            rings: &rings,
            chain: 2,
        };
        assert_eq!(depth(&problem, &[0, 1]), 6.0);
    }
}
