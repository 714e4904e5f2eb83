//! Which slots of a rig this lens sees, and what that makes of a stack.

use super::fit::known::room_known;
use super::fit::light::Light;
use super::fit::limits::clean_from;
use super::fit::placed::{trust_of, trust_unseen, worst_of};
use super::fit::question::check_places;
use super::fit::size::clear_size;
use super::fit::sure::{Sure, verdict_of};
use super::fit::{Close, FitError, Looked, Placed, RoomKnown, Trust, UsualSize, Verdict};
use crate::physics::known_lens::KnownLens;
use crate::physics::opening::Opening;
use crate::physics::passed::loss;
use crate::physics::spare::spare;
use crate::quantity::{Aperture, Stops};
use crate::setup::{SlotSet, Uncertainties, View};
use alloc::vec::Vec;
use core::cmp::Ordering;

/// A lens and the openings of the rig in front of it.
#[derive(Debug, Clone, PartialEq)]
pub struct LensFit {
    /// Sensor, focal length, squeeze, shift.
    pub view: View,
    /// The f-number at the stop wanted; a stack is told at the stop it asks for.
    pub f_number: Aperture,
    /// What is known of the lens; `None` when nothing is.
    pub lens: Option<KnownLens>,
    /// The same lens focused close, where it breathes or its pupil moves.
    pub close: Option<Close>,
    /// Looks at openings that are not in this rig.
    pub looks: Vec<Looked>,
    /// The opening each slot has when a piece is in it, as long as the rig.
    pub slots: Vec<Option<Placed>>,
    /// Openings that are there whatever is in: rings, a mask, a hood.
    pub always: Vec<Placed>,
    /// How well inputs are known.
    pub known: Uncertainties,
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
    /// What is computed for the opening it is about, where that is known.
    pub computed: Verdict,
    /// How far to trust it.
    pub trust: Trust,
    /// The opening the verdict is about, and its room in millimetres; `None`
    /// when nothing has an opening.
    pub worst: Option<(Where, f64)>,
    /// The least and the most room any of them may have, in millimetres.
    pub room: Option<(f64, f64)>,
    /// How well the room of the worst is known. The stop adds nothing: it is the
    /// one to set, and what the light is off by moves no ring.
    pub room_known: Option<RoomKnown>,
    /// The smallest usual size that would be clear in the worst one's place;
    /// looked for where it shades.
    pub clear_size: Option<UsualSize>,
    /// What the worst corner loses; `None` when nothing passes.
    pub corner_loss: Option<Stops>,
    /// The smallest f-number at which it is clear; `None` when no stop helps.
    pub clean_from: Option<f64>,
    /// The f-number it is told for.
    pub f_number: Aperture,
}

/// What is in the slots, and the iris with it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Filled {
    /// Slots that hold a piece.
    pub slots: SlotSet,
    /// Those of them whose piece must turn freely, as a polarizer must.
    pub turning: SlotSet,
    /// By how much the iris is then closed from the stop wanted; negative when
    /// it is opened.
    pub closed_by: Stops,
}

impl LensFit {
    /// The lens at the stop that a stack asks for.
    fn f_number_at(&self, closed_by: Stops) -> Aperture {
        // Beyond any aperture's range the stop wanted stands.
        self.f_number.closed_by(closed_by).unwrap_or(self.f_number)
    }

    /// What it is known as, far and close.
    fn known(&self) -> impl Iterator<Item = (View, KnownLens)> + '_ {
        let far = self.lens.map(|lens| (self.view, lens));
        // Without a lens there is none close either.
        let close = far.and(self.close).map(|close| (close.view, close.lens));
        far.into_iter().chain(close)
    }

    /// Refuses openings behind the pupil and openings where another one stands.
    ///
    /// # Errors
    ///
    /// [`FitError`], and where the opening is.
    pub fn check(&self) -> Result<(), (Where, FitError)> {
        let all = self.placed(SlotSet::all(self.slots.len()), SlotSet::EMPTY);
        let openings: Vec<Opening> = all.iter().map(|(_, placed)| placed.opening).collect();
        let pupils = self.known().map(|(_, lens)| lens.pupil());
        check_places(pupils, &openings).map_err(|error| {
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
    fn placed(&self, filled: SlotSet, turning: SlotSet) -> Vec<(Where, Placed)> {
        let of_slots = (self.slots.iter().enumerate())
            .filter(|(slot, _)| filled.holds(*slot))
            .filter_map(|(slot, placed)| {
                let placed = (*placed)?;
                let turns = placed.turns || turning.holds(slot);
                Some((Where::Slot(slot), Placed { turns, ..placed }))
            });
        (self.always.iter().enumerate())
            .map(|(at, placed)| (Where::Always(at), *placed))
            .chain(of_slots)
            .collect()
    }

    /// Looks of every kind.
    fn all_looks(&self, f_number: Aperture) -> Vec<Looked> {
        let slots = self.slots.iter().flatten();
        let placed = slots.chain(&self.always);
        let seen = placed.filter_map(|placed| placed.looked(f_number));
        self.looks.iter().copied().chain(seen).collect()
    }

    /// What a stack with these slots filled does to the picture.
    #[must_use]
    pub fn of(&self, filled: Filled) -> StackFit {
        let f_number = self.f_number_at(filled.closed_by);
        let placed = self.placed(filled.slots, filled.turning);
        let looks = self.all_looks(self.f_number);
        (self.known())
            .map(|(view, lens)| self.stack_fit((&view, &lens), f_number, &looks, &placed))
            .reduce(StackFit::worse_of)
            .unwrap_or_else(|| only_seen(&placed, f_number))
    }

    /// The slots that leave the whole picture clear, `turning` ones at every
    /// turn and the iris closed by so much; none when an opening that is always
    /// there does not.
    #[must_use]
    pub fn clear_slots(&self, turning: SlotSet, closed_by: Stops) -> SlotSet {
        let f_number = self.f_number_at(closed_by);
        let lights: Vec<Light> = (self.known())
            .map(|(view, lens)| Light::new(&view, f_number, &lens))
            .collect();
        let is_clear = |placed: &Placed| {
            let verdict = |light: &Light| verdict_of(*light, placed, f_number);
            let seen = placed.seen_at(f_number);
            let worst = lights.iter().map(verdict).max().or(seen);
            worst == Some(Verdict::Clear)
        };
        if !self.always.iter().all(is_clear) {
            return SlotSet::EMPTY;
        }
        (self.slots.iter().enumerate())
            .filter(|(slot, placed)| {
                placed.is_none_or(|placed| {
                    let turns = placed.turns || turning.holds(*slot);
                    is_clear(&Placed { turns, ..placed })
                })
            })
            .fold(SlotSet::EMPTY, |set, (slot, _)| set.with(slot))
    }

    /// What it does through the lens as it is known far or close.
    fn stack_fit(
        &self,
        (view, lens): (&View, &KnownLens),
        f_number: Aperture,
        looks: &[Looked],
        placed: &[(Where, Placed)],
    ) -> StackFit {
        let light = Light::new(view, f_number, lens);
        let sure = Sure::new(view, f_number, lens, looks);
        let judged: Vec<Opening> = placed.iter().map(|(_, placed)| placed.judged()).collect();
        let turned: Vec<Opening> = (placed.iter())
            .map(|(_, placed)| light.worst_turn(placed))
            .collect();
        let found: Vec<(Verdict, f64)> = (placed.iter().zip(&judged))
            .map(|((_, placed), opening)| {
                let verdict = verdict_of(light, placed, f_number);
                (verdict, light.least(opening, spare))
            })
            .collect();
        let worst = worst_of(found.iter().map(|&(verdict, room)| (verdict, Some(room))))
            .map(|at| (at, found[at].1));
        let rooms: Vec<(f64, f64)> = judged.iter().map(|opening| sure.room(opening)).collect();
        let known = |(at, room): (usize, f64)| {
            let told = (room, rooms[at]);
            room_known(lens, (view, f_number), &judged[at], told, &self.known)
        };
        StackFit {
            verdict: (found.iter())
                .map(|(verdict, _)| *verdict)
                .max()
                .unwrap_or(Verdict::Clear),
            computed: worst.map_or(Verdict::Clear, |(at, _)| light.verdict(&judged[at])),
            trust: trust_of(placed.iter().map(|(_, placed)| sure.trust(placed))),
            worst: worst.map(|(at, room)| (placed[at].0, room)),
            room_known: worst.map(known),
            room: (rooms.iter().copied())
                .reduce(|one, other| (one.0.min(other.0), one.1.min(other.1))),
            clear_size: worst
                .filter(|(_, room)| *room < 0.0)
                .and_then(|(at, _)| clear_size(light, &placed[at].1)),
            corner_loss: loss(light.passed(&turned)),
            clean_from: clean_from(light, f_number, &judged),
            f_number,
        }
    }
}

impl StackFit {
    /// The worse of the same lens focused far and close.
    fn worse_of(self, close: Self) -> Self {
        let spare = |fit: &Self| fit.worst.map_or(f64::INFINITY, |(_, room)| room);
        let verdict = self.verdict.max(close.verdict);
        let trust = trust_of([self.trust, close.trust].into_iter());
        let room = self.room.zip(close.room);
        let room = room.map(|(far, close)| (far.0.min(close.0), far.1.min(close.1)));
        let corner_loss = (self.corner_loss.zip(close.corner_loss))
            .map(|(far, close)| if far > close { far } else { close });
        let clean_from = self.clean_from.zip(close.clean_from).map(|(a, b)| a.max(b));
        let is_worse = match close.verdict.cmp(&self.verdict) {
            Ordering::Equal => spare(&close) < spare(&self),
            other => other.is_gt(),
        };
        let worse = if is_worse { close } else { self };
        Self {
            verdict,
            trust,
            room,
            corner_loss,
            clean_from,
            ..worse
        }
    }
}

/// What a stack does where nobody knows the lens: what was seen.
fn only_seen(placed: &[(Where, Placed)], f_number: Aperture) -> StackFit {
    let verdict = |placed: &Placed| placed.seen_at(f_number).unwrap_or(Verdict::Unknown);
    StackFit {
        verdict: (placed.iter())
            .map(|(_, placed)| verdict(placed))
            .max()
            .unwrap_or(Verdict::Clear),
        computed: Verdict::Unknown,
        trust: trust_of(
            placed
                .iter()
                .map(|(_, placed)| trust_unseen(placed, f_number)),
        ),
        worst: None,
        room: None,
        room_known: None,
        clear_size: None,
        corner_loss: None,
        clean_from: None,
        f_number,
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::super::fit::answer::tests::{question, ring};
    use super::super::fit::known::tests::drawn;
    use super::super::fit::{RoomFrom, Seen};
    use super::*;
    use crate::physics::pupil_range::PupilRange;
    use crate::quantity::{FocalLength, Length};
    use crate::setup::ViewRecord;

    const fn still(slots: SlotSet) -> Filled {
        Filled {
            slots,
            turning: SlotSet::EMPTY,
            closed_by: Stops::ZERO,
        }
    }

    /// Rings whose room is 5, −3 and 15 mm; see `fit`'s own tests.
    fn lens(always: Vec<Placed>) -> LensFit {
        let asked = question(&[]);
        LensFit {
            view: asked.view,
            f_number: asked.f_number,
            lens: asked.lens,
            close: None,
            looks: Vec::new(),
            slots: alloc::vec![Some(ring(100.0, 10.0)), Some(ring(104.0, 20.0)), None],
            always,
            known: Uncertainties::default(),
        }
    }

    #[test]
    fn a_stack_is_as_good_as_its_worst_slot() {
        let lens = lens(Vec::new());
        let both = lens.of(still(SlotSet::all(3)));
        assert_eq!(both.verdict, Verdict::Shades);
        let (place, room) = both.worst.unwrap();
        assert_eq!(place, Where::Slot(1));
        assert!((room + 3.0).abs() < 1e-9);
        // The chief ray leaves 2 mm where the pupil has a radius of 5 at f/2.
        assert!((both.clean_from.unwrap() - 5.0).abs() < 1e-9);
        assert_eq!(
            lens.of(still(SlotSet::EMPTY.with(0))).verdict,
            Verdict::Clear
        );
        assert_eq!(lens.of(still(SlotSet::EMPTY)).worst, None);
    }

    #[test]
    fn its_room_is_as_well_known_as_a_hundred_thousand_draws_scatter() {
        let at = |mm: f64| Length::new(mm).unwrap();
        // Closed by four stops, as the stack asks for, and not at its own f/2.
        let closed = Filled {
            closed_by: Stops::new(4.0).unwrap(),
            ..still(SlotSet::all(3))
        };
        let mut asked = lens(Vec::new());
        let fast = Some(asked.f_number);
        // At 45° what distortion and depth do goes with their product, which the
        // first order tells as more than it is.
        for (focal_length, within) in [(40.0, 0.05), (20.0, 0.13)] {
            asked.view = View::new(ViewRecord {
                focal_length: FocalLength::new(focal_length).unwrap(),
                ..*asked.view.record()
            })
            .unwrap();
            let known = KnownLens {
                widest: fast,
                ..KnownLens::somewhere(PupilRange::between(at(20.0), at(32.0)))
            };
            asked.lens = Some(known);
            let fit = asked.of(closed);
            assert_eq!(fit.worst.unwrap().0, Where::Slot(1));
            let told = fit.room_known.unwrap().millimetres;
            let opening = ring(104.0, 20.0).opening;
            let drawn = drawn(&known, (&asked.view, fit.f_number), &opening);
            let share = told / drawn;
            assert!((0.95..1.0 + within).contains(&share), "{told} for {drawn}");
        }
        // Places of openings that are worse known make it less sure.
        let mut loose = asked.clone();
        loose.known.opening_mm = 50.0;
        let told = loose.of(closed).room_known.unwrap();
        assert_eq!(told.mostly.unwrap().0, RoomFrom::OpeningPlace);
        assert_eq!(asked.of(still(SlotSet::EMPTY)).room_known, None);
    }

    #[test]
    fn only_clear_slots_are_offered() {
        let clear = lens(Vec::new()).clear_slots(SlotSet::EMPTY, Stops::ZERO);
        assert_eq!(clear, SlotSet::EMPTY.with(0).with(2));
        let small = lens(alloc::vec![ring(60.0, 5.0)]);
        assert_eq!(
            small.clear_slots(SlotSet::EMPTY, Stops::ZERO),
            SlotSet::EMPTY
        );
        assert_eq!(
            small.of(still(SlotSet::EMPTY)).worst.unwrap().0,
            Where::Always(0)
        );
    }

    #[test]
    fn a_slot_seen_to_be_clear_is_offered() {
        let mut lens = lens(Vec::new());
        lens.slots[1] = Some(Placed {
            seen: Some(Seen {
                verdict: Verdict::Clear,
                at: None,
            }),
            ..ring(104.0, 20.0)
        });
        assert_eq!(
            lens.clear_slots(SlotSet::EMPTY, Stops::ZERO),
            SlotSet::all(3)
        );
    }
}
