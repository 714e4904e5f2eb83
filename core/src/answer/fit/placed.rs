//! An opening in its place, and how far a verdict on it is to be trusted.

use crate::physics::opening::Opening;

/// An opening in its place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Placed {
    /// The opening.
    pub opening: Opening,
    /// Whether it can be turned, as a stage for a polarizer can.
    pub turns: bool,
    /// What was seen through the lens; outranks what is computed.
    pub seen: Option<Verdict>,
}

/// What an opening does to the picture, worst last.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Verdict {
    /// The whole pupil passes everywhere.
    Clear,
    /// Nobody said where the pupil is, and nobody looked.
    Unknown,
    /// Some point of the picture loses part of the pupil, none its chief ray.
    Shades,
    /// Some chief ray is stopped.
    Clips,
}

/// How far a verdict is to be trusted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Trust {
    /// Clear with room for the model's error, or seen to be.
    SureClear,
    /// Too close to call: look through the lens.
    Look,
    /// Nothing is known that could tell.
    Unknown,
    /// Shades by more than the model's error, or seen to.
    SureClip,
}

/// A computed fit with less room than this asks for a look through the lens.
///
/// The fixed pupil put the edge of the light up to 2.3 mm too near the axis
/// against five ray-traced lenses (`laws/coverage.json`, `real_trace`); rounded
/// up, and not a promise for a sixth.
pub const LOOK_BELOW_MM: f64 = 3.0;

/// A computed shading by less than this asks for a look too: the same lenses had
/// their light up to 4.1 mm nearer the axis than the fixed pupil says.
pub const LOOK_ABOVE_MM: f64 = -4.5;

/// How far to trust a verdict on an opening before anything can be computed.
pub(in crate::answer) fn trust_unseen(placed: &Placed) -> Trust {
    match placed.seen {
        Some(Verdict::Clear) => Trust::SureClear,
        Some(Verdict::Shades | Verdict::Clips) => Trust::SureClip,
        Some(Verdict::Unknown) | None => Trust::Unknown,
    }
}

/// How far to trust several openings together: one that is sure to shade decides.
pub(in crate::answer) fn trust_of(all: impl Iterator<Item = Trust>) -> Trust {
    all.fold(Trust::SureClear, |so_far, trust| match (so_far, trust) {
        (Trust::SureClip, _) | (_, Trust::SureClip) => Trust::SureClip,
        (Trust::Unknown, _) | (_, Trust::Unknown) => Trust::Unknown,
        (Trust::Look, _) | (_, Trust::Look) => Trust::Look,
        (Trust::SureClear, Trust::SureClear) => Trust::SureClear,
    })
}
