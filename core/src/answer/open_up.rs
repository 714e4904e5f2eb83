//! From a reading to the glass: the main answer.

use super::note::notes;
pub use super::note::{IGNORED_LEFT_OVER, Note};
use super::stack_fit::{Filled, LensFit, StackFit};
use super::trim::trims;
use super::{Trim, Verdict};
use crate::physics::exposure::change_but_iris;
use crate::physics::infrared;
use crate::quantity::{Aperture, OutOfRange, Stops};
use crate::search::budget::{Budget, Proof};
use crate::search::stack::{Candidate, Problem, Ranking, Stack, best_stacks, best_stacks_within};
use crate::setup::{
    Contribution, Origin, Piece, PieceKind, Rig, Settings, SlotSet, Uncertainties, Uncertainty,
    WheelPosition,
};
use alloc::vec::Vec;

/// What is asked. Pieces are named by their place in `kit`.
#[derive(Debug, Clone, PartialEq)]
pub struct Question<'a> {
    /// Settings the light was read for.
    pub reading: Settings,
    /// Pieces the light was read through; none for a bare reading.
    pub through: &'a [usize],
    /// Settings to shoot at.
    pub shot: Settings,
    /// The widest aperture of the lens's own ring, where known.
    pub widest: Option<Aperture>,
    /// What stands between that ring and the shot's stop: an extender's loss,
    /// negative for a reducer.
    pub behind_ring: Stops,
    /// The pieces in the case.
    pub kit: &'a [Piece],
    /// The slots.
    pub rig: &'a Rig,
    /// Positions of the internal wheel.
    pub wheel: &'a [WheelPosition],
    /// What is in each slot now, as long as the rig.
    pub in_place: &'a [Option<usize>],
    /// Pieces that must be in, a copy each.
    pub keep: &'a [usize],
    /// The lens behind the rig, where the fit is to be told.
    pub fit: Option<&'a LensFit>,
    /// How many stacks to list.
    pub limit: usize,
    /// How well each input is known.
    pub known: Uncertainties,
}

/// The need and the stacks that serve it, best first.
#[derive(Debug, Clone, PartialEq)]
pub struct Answer {
    /// What the glass must take; negative when there is too little light.
    pub need: Stops,
    /// How well that is known.
    pub need_known: Uncertainty,
    /// Whether light is missing by more than a third of a stop.
    pub light_missing: bool,
    /// The stacks.
    pub stacks: Vec<Offer>,
    /// Whether they are proven best; else the least left-over not ruled out, in
    /// whole iris-thirds.
    pub proof: Proof,
    /// The best stack that leaves the picture clear, where the first does not.
    pub fitting: Option<Offer>,
}

/// One stack and what it means for the camera.
#[derive(Debug, Clone, PartialEq)]
pub struct Offer {
    /// The placing, wheel position, pieces, moves and left-over.
    pub stack: Stack,
    /// What the stack takes, wheel included.
    pub taken: Stops,
    /// The stop to set so that nothing is left over; `None` beyond any iris.
    pub aperture_to_set: Option<Aperture>,
    /// What the lens's own ring must show for it, which is less where an
    /// extender stands behind; `None` beyond any iris.
    pub ring_to_set: Option<Aperture>,
    /// Whether the lens opens that far; so taken where it is not known.
    pub can_be_exposed: bool,
    /// How much more visible light than infrared the stack takes.
    pub infrared_excess: Stops,
    /// How well the left-over, and so the stop to set, is known.
    pub known: Uncertainty,
    /// Other ways to take up the left-over.
    pub trims: Vec<Trim>,
    /// What it does to the picture of this lens, where that was asked.
    pub fit: Option<StackFit>,
    /// What to know before trusting it.
    pub notes: Vec<Note>,
}

/// A third of a stop: what rings and meters tell.
const ONE_THIRD: f64 = 1.0 / 3.0;

/// The stack among `offers` that takes the fewest moves and leaves what another
/// one leaves, to half a third; the first of equals.
#[must_use]
pub fn quickest(offers: &[Offer], leaves: Stops) -> Option<usize> {
    let alike = |at: &usize| {
        let apart = offers[*at].stack.left_over - leaves;
        apart.size().stops() <= ONE_THIRD / 2.0
    };
    (0..offers.len())
        .filter(alike)
        .min_by_key(|&at| offers[at].stack.moves)
}

/// Answers the question.
///
/// # Units
///
/// need = k(reading) + Σ through + log2(t1/t0) + log2(EI1/EI0) − k(shot), in
/// stops, k being the stop index.
///
/// # Errors
///
/// [`OutOfRange`] for a time outside the range of [`crate::quantity::Seconds`].
///
/// # Source
///
/// The exposure equation, ISO 2720:1974; see
/// [`change_but_iris`].
///
/// # Examples
///
/// ```
/// use glasscall_core::answer::open_up::{Question, open_up};
/// use glasscall_core::quantity::{
///     Aperture, Density, ExposureIndex, FrameRate, OutOfRange, ShutterAngle, Stops,
/// };
/// use glasscall_core::setup::{
///     Piece, PieceKind, PieceRecord, Rig, Settings, Shutter, Slot, Uncertainties,
/// };
///
/// let settings = |number| -> Result<Settings, OutOfRange> {
///     Ok(Settings {
///         aperture: Aperture::from_marking(number)?,
///         exposure_index: ExposureIndex::constant(800.0),
///         frame_rate: FrameRate::constant(24.0),
///         shutter: Shutter::Angle(ShutterAngle::constant(180.0)),
///     })
/// };
/// let kit = [0.6, 0.9].map(|marked| {
///     Piece::new(PieceRecord {
///         id: format!("{marked}"),
///         kind: PieceKind::NeutralDensity,
///         marked: Some(Density::constant(marked)),
///         measured: None,
///         stated: None,
///         size: String::new(),
///         infrared: None,
///         mired_shift: None,
///         count: 1,
///     })
///     .unwrap()
/// });
/// let slot = |id: &str| Slot {
///     id: id.to_owned(),
///     size: String::new(),
///     rotates: false,
/// };
/// let answer = open_up(&Question {
///     reading: settings(16.0)?,
///     through: &[],
///     shot: settings(2.8)?,
///     widest: None,
///     behind_ring: Stops::ZERO,
///     kit: &kit,
///     rig: &Rig { slots: vec![slot("tray 1"), slot("tray 2")] },
///     wheel: &[],
///     in_place: &[None, None],
///     keep: &[],
///     fit: None,
///     limit: 3,
///     known: Uncertainties::default(),
/// })?;
/// assert_eq!(answer.need.stops(), 5.0);
/// // Both are in, and 0.017 of a stop is left over.
/// let best = &answer.stacks[0].stack;
/// assert_eq!((best.pieces, best.slots.len()), (2, 2));
/// assert!((best.left_over.stops() - 0.017).abs() < 0.001);
/// # Ok::<(), OutOfRange>(())
/// ```
pub fn open_up(question: &Question<'_>) -> Result<Answer, OutOfRange> {
    open_up_within(question, &mut Budget::endless())
}

/// As [`open_up`], in so many steps.
///
/// # Errors
///
/// As [`open_up`].
pub fn open_up_within(question: &Question<'_>, budget: &mut Budget) -> Result<Answer, OutOfRange> {
    let bare = question.reading.aperture.index()
        + question
            .through
            .iter()
            .map(|&piece| question.kit[piece].loss().stops.stops())
            .sum::<f64>();
    let change = change_but_iris(question.reading, question.shot)?;
    let need = Stops::computed(bare + change.stops() - question.shot.aperture.index());
    let [wheel, infrared] = wheel_stops(question);
    let candidates = candidates(question);
    let problem = problem(question, need, &candidates, [&wheel, &infrared]);
    let found = best_stacks_within(&problem, budget);
    let stacks: Vec<Offer> = (found.stacks.into_iter())
        .map(|stack| offer(question, need, stack))
        .collect();
    let first = stacks.first().and_then(|offer| offer.fit);
    let fitting = (question.fit)
        .filter(|_| first.is_some_and(|fit| fit.verdict != Verdict::Clear))
        .and_then(|lens| fitting_stack(question, &problem, lens, budget))
        .map(|stack| offer(question, need, stack));
    Ok(Answer {
        need,
        need_known: question.known_of(&[], None),
        light_missing: need.stops() < -ONE_THIRD,
        stacks,
        fitting,
        proof: found.proof,
    })
}

/// The best stacks for a need, however it became known.
pub(super) fn stacks_for(question: &Question<'_>, need: Stops) -> Vec<Stack> {
    let ([wheel, infrared], candidates) = (wheel_stops(question), candidates(question));
    best_stacks(&problem(question, need, &candidates, [&wheel, &infrared]))
}

/// What each position takes of visible light and of infrared.
fn wheel_stops(question: &Question<'_>) -> [Vec<Stops>; 2] {
    let positions = || question.wheel.iter().copied();
    [
        positions().map(WheelPosition::stops).collect(),
        positions().map(WheelPosition::infrared).collect(),
    ]
}

impl Question<'_> {
    /// How stacks are ranked: first what this lens can expose; of equal thirds
    /// first what needs no infrared cut, then over before under.
    pub(super) fn ranking(&self) -> Ranking {
        Ranking {
            room: self.room(),
            over_first: true,
            cut_from: Some(infrared::Limits::USUAL.cut.stops()),
        }
    }

    /// How well what is left behind these pieces is known, to first order.
    ///
    /// A piece that the light was read through and that is in again adds
    /// nothing: what is wrong about it goes into both sides.
    fn known_of(&self, pieces: &[usize], wheel: Option<usize>) -> Uncertainty {
        Uncertainty::of(self.causes(pieces, wheel))
    }

    /// What makes that unsure: the reading first, then each piece of the kit.
    #[must_use]
    pub fn causes(&self, pieces: &[usize], wheel: Option<usize>) -> Vec<Contribution> {
        let reading = Contribution {
            from: Origin::Reading,
            stops: self.known.reading,
        };
        let mut causes = self.glass_causes(pieces, wheel);
        causes.insert(0, reading);
        causes
    }

    /// What the glass adds to that.
    pub(super) fn glass_causes(&self, pieces: &[usize], wheel: Option<usize>) -> Vec<Contribution> {
        let times = |list: &[usize], piece| {
            let count = list.iter().filter(|&&one| one == piece).count();
            u32::try_from(count).map_or(f64::MAX, f64::from)
        };
        let of_pieces = self.kit.iter().enumerate().map(|(at, piece)| {
            let net = times(self.through, at) - times(pieces, at);
            let one = self.known.of_piece(piece).stops();
            Contribution {
                from: Origin::Piece(at, piece.loss().origin),
                stops: Stops::computed(libm::fabs(net) * one),
            }
        });
        let wheel = wheel.map(|at| Contribution {
            from: Origin::Wheel,
            stops: self.known.of_wheel(self.wheel[at]),
        });
        of_pieces.chain(wheel).collect()
    }

    /// What a stack puts in front of the lens, and the stop to set with it.
    fn filled(&self, stack: &Stack) -> Filled {
        Filled {
            slots: slots_where(&stack.slots, Option::is_some),
            turning: slots_where(&stack.slots, |piece| {
                piece.is_some_and(|piece| turns(&self.kit[piece]))
            }),
            closed_by: self.set_from(stack.left_over),
        }
    }

    /// By how much the iris is closed for a left-over; it opens no further than
    /// the lens does.
    fn set_from(&self, left_over: Stops) -> Stops {
        let least = self.room().map(|room| -room);
        least.map_or(
            left_over,
            |least| if left_over < least { least } else { left_over },
        )
    }

    /// How far the iris opens beyond the stop wanted, extender counted; `None`
    /// where the widest stop is not known.
    #[must_use]
    pub fn room(&self) -> Option<Stops> {
        let widest = self.widest?;
        Some(widest.stops_to(self.shot.aperture) - self.behind_ring)
    }
}

fn problem<'a>(
    question: &Question<'_>,
    need: Stops,
    candidates: &'a [Candidate],
    [wheel, wheel_infrared]: [&'a [Stops]; 2],
) -> Problem<'a> {
    Problem {
        need,
        candidates,
        slot_count: question.rig.slots.len(),
        occupied: slots_where(question.in_place, Option::is_some),
        wheel,
        wheel_infrared,
        ranking: question.ranking(),
        limit: question.limit,
    }
}

/// Whether a piece is turned until the picture is right.
fn turns(piece: &Piece) -> bool {
    piece.record().kind == PieceKind::Polarizer
}

/// The best stack that fills only slots this lens does not see. The frame is
/// clear exactly where each opening alone leaves it clear, so the same search
/// with fewer slots finds it. What is clear depends on the stop to set: where
/// the stack found opens the iris further than was thought, it is looked for
/// again at that stop.
fn fitting_stack(
    question: &Question<'_>,
    problem: &Problem<'_>,
    lens: &LensFit,
    budget: &mut Budget,
) -> Option<Stack> {
    let all = SlotSet::all(question.rig.slots.len());
    let mut closed_by = Stops::ZERO;
    for _ in 0..MOST_TRIES {
        let [still, turned] = [SlotSet::EMPTY, all].map(|turn| lens.clear_slots(turn, closed_by));
        let within = |(at, piece): (usize, &Candidate)| Candidate {
            fits: piece.fits.and(if turns(&question.kit[at]) {
                turned
            } else {
                still
            }),
            ..*piece
        };
        let candidates: Vec<Candidate> =
            problem.candidates.iter().enumerate().map(within).collect();
        let fewer = Problem {
            candidates: &candidates,
            limit: 1,
            ..problem.clone()
        };
        let stack = best_stacks_within(&fewer, budget)
            .stacks
            .into_iter()
            .next()?;
        let filled = question.filled(&stack);
        if lens.of(filled).verdict == Verdict::Clear {
            return Some(stack);
        }
        if filled.closed_by >= closed_by {
            return None;
        }
        closed_by = filled.closed_by;
    }
    None
}

/// How often a fitting stack is looked for at a wider stop.
const MOST_TRIES: usize = 3;

fn slots_where<T>(slots: &[T], is: impl Fn(&T) -> bool) -> SlotSet {
    let holding = slots.iter().enumerate().filter(|(_, content)| is(content));
    holding.fold(SlotSet::EMPTY, |set, (slot, _)| set.with(slot))
}

fn candidates(question: &Question<'_>) -> Vec<Candidate> {
    let copies_in = |list: &[usize], piece| list.iter().filter(|&&p| p == piece).count();
    (question.kit.iter().enumerate())
        .map(|(piece, part)| {
            let kept = copies_in(question.keep, piece);
            // Glass that changes the picture goes in only when asked for.
            let only_density = part.record().kind == PieceKind::NeutralDensity;
            Candidate {
                loss: part.loss().stops,
                infrared: infrared::taken(part),
                fits: slots_where(&question.rig.slots, |slot| slot.takes(part.record())),
                stays: slots_where(question.in_place, |content| *content == Some(piece)),
                kept,
                count: if only_density {
                    usize::from(part.record().count)
                } else {
                    kept
                },
            }
        })
        .collect()
}

fn offer(question: &Question<'_>, need: Stops, stack: Stack) -> Offer {
    let chosen: Vec<usize> = stack.slots.iter().flatten().copied().collect();
    let pieces: Vec<&Piece> = chosen.iter().map(|&piece| &question.kit[piece]).collect();
    let wheel = stack.wheel.map(|at| question.wheel[at]);
    let aperture_to_set = question.shot.aperture.closed_by(stack.left_over).ok();
    let infrared_excess =
        infrared::excess(pieces.iter().copied()) + wheel.map_or(Stops::ZERO, WheelPosition::excess);
    let ring_to_set = aperture_to_set.and_then(|set| set.closed_by(-question.behind_ring).ok());
    let known = question.known_of(&chosen, stack.wheel);
    let can_be_exposed = question.ranking().can_expose(stack.left_over);
    Offer {
        taken: need - stack.left_over,
        aperture_to_set,
        ring_to_set,
        can_be_exposed,
        infrared_excess,
        fit: (question.fit).map(|lens| lens.of(question.filled(&stack))),
        trims: trims(question.shot, stack.left_over, question.room()),
        notes: notes(
            question.ranking(),
            &stack,
            &pieces,
            [infrared_excess, known.stops],
        ),
        known,
        stack,
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests;
