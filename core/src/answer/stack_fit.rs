//! Which slots of a rig this lens sees, and what that makes of a stack.

use super::fit::light::Light;
use super::fit::limits::clean_from;
use super::fit::placed::{trust_of, trust_unseen};
use super::fit::question::check_places;
use super::fit::size::clear_size;
use super::fit::{FitError, Placed, Trust, UsualSize, Verdict};
use crate::physics::opening::Opening;
use crate::physics::passed::loss;
use crate::physics::pupil_range::PupilRange;
use crate::physics::spare::spare;
use crate::quantity::{Aperture, Stops};
use crate::setup::{SlotSet, View};
use alloc::vec::Vec;

/// A lens and the openings of the rig in front of it.
#[derive(Debug, Clone, PartialEq)]
pub struct LensFit {
    /// Sensor, focal length, squeeze, shift.
    pub view: View,
    /// The f-number of the shot.
    pub f_number: Aperture,
    /// Where the pupil is; `None` when nobody knows.
    pub pupil: Option<PupilRange>,
    /// The opening each slot has when a piece is in it, as long as the rig.
    pub slots: Vec<Option<Placed>>,
    /// Openings that are there whatever is in: rings, a mask, a hood.
    pub always: Vec<Placed>,
}

/// Where the worst opening of a stack is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Where {
    /// A slot, by its place in the rig.
    Slot(usize),
    /// An opening that is always there, by its place in the list.
    Always(usize),
}

/// What a stack does to the picture.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StackFit {
    /// The worst verdict of its openings.
    pub verdict: Verdict,
    /// How far to trust it.
    pub trust: Trust,
    /// The opening with the least room, and that room in millimetres; `None`
    /// when nothing has an opening.
    pub worst: Option<(Where, f64)>,
    /// The smallest usual size that would be clear in the worst one's place;
    /// looked for where it shades.
    pub clear_size: Option<UsualSize>,
    /// What the worst corner loses; `None` when nothing passes.
    pub corner_loss: Option<Stops>,
    /// The smallest f-number at which it is clear; `None` when no stop helps.
    pub clean_from: Option<f64>,
}

impl LensFit {
    fn light(&self) -> Option<Light> {
        (self.pupil).map(|pupil| Light::new(&self.view, self.f_number, pupil))
    }

    /// Refuses openings behind the pupil and openings where another one stands.
    ///
    /// # Errors
    ///
    /// [`FitError`], and where the opening is.
    pub fn check(&self) -> Result<(), (Where, FitError)> {
        let all = self.placed(SlotSet::all(self.slots.len()));
        let openings: Vec<Opening> = all.iter().map(|(_, placed)| placed.opening).collect();
        check_places(self.pupil.into_iter(), &openings).map_err(|error| {
            let at = match error {
                FitError::BehindPupil(at, _) | FitError::Overlap(at, _) => at,
                FitError::ZoomField(_) => 0,
            };
            (
                all.get(at).map_or(Where::Always(0), |(place, _)| *place),
                error,
            )
        })
    }

    /// The openings in front of the lens with these slots filled.
    fn placed(&self, filled: SlotSet) -> Vec<(Where, Placed)> {
        let of_slots = (self.slots.iter().enumerate())
            .filter(|(slot, _)| filled.holds(*slot))
            .filter_map(|(slot, placed)| placed.map(|placed| (Where::Slot(slot), placed)));
        (self.always.iter().enumerate())
            .map(|(at, placed)| (Where::Always(at), *placed))
            .chain(of_slots)
            .collect()
    }

    /// What a stack with these slots filled does to the picture.
    #[must_use]
    pub fn of(&self, filled: SlotSet) -> StackFit {
        let placed = self.placed(filled);
        let Some(light) = self.light() else {
            return only_seen(&placed);
        };
        let openings: Vec<Opening> = placed.iter().map(|(_, placed)| placed.opening).collect();
        let room = |at: usize| light.least(&placed[at].1.opening, spare);
        let worst = (0..placed.len())
            .map(|at| (at, room(at)))
            .min_by(|one, other| one.1.total_cmp(&other.1));
        StackFit {
            verdict: (placed.iter())
                .map(|(_, placed)| verdict_of(Some(light), placed))
                .max()
                .unwrap_or(Verdict::Clear),
            trust: trust_of(placed.iter().map(|(_, placed)| light.trust(placed))),
            worst: worst.map(|(at, room)| (placed[at].0, room)),
            clear_size: worst
                .filter(|(_, room)| *room < 0.0)
                .and_then(|(at, _)| clear_size(light, &openings[at])),
            corner_loss: loss(light.passed(&openings)),
            clean_from: clean_from(light, self.f_number, &openings),
        }
    }

    /// The slots that leave the whole picture clear; none when an opening that
    /// is always there does not.
    #[must_use]
    pub fn clear_slots(&self) -> SlotSet {
        let light = self.light();
        let is_clear = |placed: &Placed| verdict_of(light, placed) == Verdict::Clear;
        if !self.always.iter().all(is_clear) {
            return SlotSet::EMPTY;
        }
        (self.slots.iter().enumerate())
            .filter(|(_, placed)| placed.as_ref().is_none_or(is_clear))
            .fold(SlotSet::EMPTY, |set, (slot, _)| set.with(slot))
    }
}

fn verdict_of(light: Option<Light>, placed: &Placed) -> Verdict {
    let computed = || light.map_or(Verdict::Unknown, |light| light.verdict(&placed.opening));
    placed.seen.unwrap_or_else(computed)
}

/// What a stack does where nobody knows the pupil: what was seen.
fn only_seen(placed: &[(Where, Placed)]) -> StackFit {
    StackFit {
        verdict: (placed.iter())
            .map(|(_, placed)| verdict_of(None, placed))
            .max()
            .unwrap_or(Verdict::Clear),
        trust: trust_of(placed.iter().map(|(_, placed)| trust_unseen(placed))),
        worst: None,
        clear_size: None,
        corner_loss: None,
        clean_from: None,
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::super::fit::answer::tests::{question, ring};
    use super::*;

    /// Rings whose room is 5, −3 and 15 mm; see `fit`'s own tests.
    fn lens(always: Vec<Placed>) -> LensFit {
        let asked = question(&[]);
        LensFit {
            view: asked.view,
            f_number: asked.f_number,
            pupil: asked.pupil,
            slots: alloc::vec![Some(ring(100.0, 10.0)), Some(ring(104.0, 20.0)), None],
            always,
        }
    }

    #[test]
    fn a_stack_is_as_good_as_its_worst_slot() {
        let lens = lens(Vec::new());
        let both = lens.of(SlotSet::all(3));
        assert_eq!(both.verdict, Verdict::Shades);
        let (place, room) = both.worst.unwrap();
        assert_eq!(place, Where::Slot(1));
        assert!((room + 3.0).abs() < 1e-9);
        // The chief ray leaves 2 mm where the pupil has a radius of 5 at f/2.
        assert!((both.clean_from.unwrap() - 5.0).abs() < 1e-9);
        assert_eq!(lens.of(SlotSet::EMPTY.with(0)).verdict, Verdict::Clear);
        assert_eq!(lens.of(SlotSet::EMPTY).worst, None);
    }

    #[test]
    fn only_clear_slots_are_offered() {
        let clear = lens(Vec::new()).clear_slots();
        assert_eq!(clear, SlotSet::EMPTY.with(0).with(2));
        let small = lens(alloc::vec![ring(60.0, 5.0)]);
        assert_eq!(small.clear_slots(), SlotSet::EMPTY);
        assert_eq!(small.of(SlotSet::EMPTY).worst.unwrap().0, Where::Always(0));
    }

    #[test]
    fn a_slot_seen_to_be_clear_is_offered() {
        let mut lens = lens(Vec::new());
        lens.slots[1] = Some(Placed {
            seen: Some(Verdict::Clear),
            ..ring(104.0, 20.0)
        });
        assert_eq!(lens.clear_slots(), SlotSet::all(3));
    }
}
