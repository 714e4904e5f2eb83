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
    /// The clear diameter the picture needs. Rings that step down are refused
    /// where it is not known.
    pub needs_clear: Option<Length>,
}

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
