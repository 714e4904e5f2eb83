//! A day's set-ups and the glass at hand.

use crate::quantity::Stops;
use crate::setup::SlotSet;
use alloc::vec::Vec;

/// The most set-ups of a day.
pub const MAX_SET_UPS: usize = 64;

/// A piece that may go in.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OrderPiece {
    /// What it takes; never a gain.
    pub loss: Stops,
    /// The slots that take it.
    pub fits: SlotSet,
    /// How many copies there are.
    pub count: usize,
    /// Whether it may be in without being asked for.
    pub free: bool,
}

/// One set-up.
#[derive(Debug, Clone, PartialEq)]
pub struct SetUp {
    /// What the glass must take.
    pub need: Stops,
    /// How far off it may be, either way, ends included.
    pub tolerance: Stops,
    /// Pieces that must be in, a copy each.
    pub keep: Vec<usize>,
    /// Pieces of which exactly one must be in; `None` asks for none.
    pub one_of: Option<Vec<usize>>,
}

/// What to search.
#[derive(Debug, Clone, PartialEq)]
pub struct Problem<'a> {
    /// The pieces.
    pub pieces: &'a [OrderPiece],
    /// How many slots; empty at the start.
    pub slot_count: usize,
    /// Positions of the internal wheel; empty means none but clear. Turning it
    /// is no move.
    pub wheel: &'a [Stops],
    /// The set-ups, at most [`MAX_SET_UPS`].
    pub set_ups: &'a [SetUp],
}

impl Problem<'_> {
    pub(super) fn wheel_or_clear(&self) -> &[Stops] {
        if self.wheel.is_empty() {
            &[Stops::ZERO]
        } else {
            self.wheel
        }
    }
}
