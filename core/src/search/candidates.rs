//! What a stack is chosen from.

pub use super::ranking::Ranking;
use crate::quantity::Stops;
use crate::setup::SlotSet;

/// The most pieces a search looks at, counting each copy.
pub const MAX_PIECES: usize = 400;

/// A piece that may go in.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Candidate {
    /// What it takes.
    pub loss: Stops,
    /// What it takes of infrared; looked at where the ranking asks.
    pub infrared: Stops,
    /// The slots that take it.
    pub fits: SlotSet,
    /// Slots that hold a copy of it now.
    pub stays: SlotSet,
    /// How many copies must be in.
    pub kept: usize,
    /// How many copies there are.
    pub count: usize,
}

/// What to search.
#[derive(Debug, Clone, PartialEq)]
pub struct Problem<'a> {
    /// What the glass must take.
    pub need: Stops,
    /// The pieces, at most [`MAX_PIECES`] with all copies.
    pub candidates: &'a [Candidate],
    /// How many slots, at most [`MAX_SLOTS`](crate::setup::MAX_SLOTS).
    pub slot_count: usize,
    /// Slots that hold something now, known to the case or not.
    pub occupied: SlotSet,
    /// Positions of the internal wheel; empty means none but clear.
    pub wheel: &'a [Stops],
    /// What each takes of infrared; nothing where the list ends.
    pub wheel_infrared: &'a [Stops],
    /// What ranks stacks before their pieces.
    pub ranking: Ranking,
    /// How many stacks to list, at most [`MAX_LISTED`](super::stack::MAX_LISTED).
    pub limit: usize,
}

/// The size of a left-over in whole iris-thirds: ⌊3·|left| + ½⌋.
///
/// # Examples
///
/// ```
/// use glasscall_core::search::stack::whole_thirds;
/// use glasscall_core::quantity::Stops;
///
/// assert_eq!(whole_thirds(Stops::new(-0.08)?), 0);
/// assert_eq!(whole_thirds(Stops::new(0.7)?), 2);
/// # Ok::<(), glasscall_core::quantity::OutOfRange>(())
/// ```
#[must_use]
pub fn whole_thirds(left_over: Stops) -> i32 {
    left_over.size().iris_thirds().thirds
}
