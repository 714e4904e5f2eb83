//! An opening in its place, and how far a verdict on it is to be trusted.

use crate::physics::opening::{Opening, OpeningRecord, Shape};
use crate::quantity::Aperture;

/// An opening in its place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Placed {
    /// The opening.
    pub opening: Opening,
    /// Whether it must turn freely, as a stage for a polarizer does; it is then
    /// judged at its worst turn.
    pub turns: bool,
    /// What was seen through the lens; outranks what is computed.
    pub seen: Option<Seen>,
}

/// What somebody saw through the lens.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Seen {
    /// What it did to the picture.
    pub verdict: Verdict,
    /// The f-number it was seen at; the one at hand where nobody says.
    pub at: Option<Aperture>,
}

/// A look at an opening, wherever that stood.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Looked {
    /// The opening.
    pub opening: Opening,
    /// What was seen.
    pub verdict: Verdict,
    /// At which f-number.
    pub f_number: Aperture,
}

impl Placed {
    /// What was seen, where it still holds: what was clear stays clear when the
    /// iris closes, what shaded shades when it opens.
    pub(in crate::answer) fn seen_at(&self, f_number: Aperture) -> Option<Verdict> {
        let seen = self.seen?;
        let closed_by = seen.at.map_or(0.0, |at| f_number.index() - at.index());
        let holds = match seen.verdict {
            Verdict::Clear => closed_by >= -SAME_STOP,
            Verdict::Shades | Verdict::Clips => closed_by <= SAME_STOP,
            Verdict::Unknown => false,
        };
        holds.then_some(seen.verdict)
    }

    /// What was seen of it, as a fact about the lens.
    pub(in crate::answer) fn looked(&self, f_number: Aperture) -> Option<Looked> {
        let seen = self.seen?;
        Some(Looked {
            opening: self.judged(),
            verdict: seen.verdict,
            f_number: seen.at.unwrap_or(f_number),
        })
    }

    /// The opening a verdict is about: as it stands, or what it leaves free at
    /// every turn.
    ///
    /// A point passes a rectangle at every turn about its middle where it passes
    /// the largest circle in it.
    pub(in crate::answer) fn judged(&self) -> Opening {
        let record = *self.opening.record();
        match record.shape {
            Shape::Rectangle { width, height } if self.turns => Opening::new(OpeningRecord {
                shape: Shape::Circle {
                    diameter: if width.millimetres() < height.millimetres() {
                        width
                    } else {
                        height
                    },
                },
                ..record
            }),
            _ => self.opening,
        }
    }
}

/// Stops that are one stop.
pub(in crate::answer) const SAME_STOP: f64 = 1e-6;

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

/// How far to trust a verdict on an opening before anything can be computed.
pub(in crate::answer) fn trust_unseen(placed: &Placed, f_number: Aperture) -> Trust {
    match placed.seen_at(f_number) {
        Some(Verdict::Clear) => Trust::SureClear,
        Some(Verdict::Shades | Verdict::Clips) => Trust::SureClip,
        Some(Verdict::Unknown) | None => Trust::Unknown,
    }
}

/// Which of several openings a verdict is about: the one with the worst verdict,
/// and of equals the one with the least room.
///
/// `None` where no room is known, or nothing is in front. Whatever names an
/// opening beside a verdict names this one.
pub(in crate::answer) fn worst_of(
    all: impl Iterator<Item = (Verdict, Option<f64>)>,
) -> Option<usize> {
    (all.enumerate())
        .filter_map(|(at, (verdict, room))| Some((at, verdict, room?)))
        .min_by(|one, other| (other.1.cmp(&one.1)).then(one.2.total_cmp(&other.2)))
        .map(|(at, ..)| at)
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
