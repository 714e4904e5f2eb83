//! The stacks of a day with the fewest moves.

use crate::quantity::{Density, Stops};
use crate::search::budget::Budget;
use crate::search::order::{self, OrderPiece, Plan, Problem, Sequence};
use crate::setup::{Piece, PieceKind, Rig, SlotSet};
use alloc::vec::Vec;

/// One set-up of the day. Pieces are named by their place in the kit.
#[derive(Debug, Clone, PartialEq)]
pub struct SetUp {
    /// What the glass must take, all of it included.
    pub need: Stops,
    /// How far off it may be, either way.
    pub tolerance: Stops,
    /// How far the lens opens beyond the stop wanted, negative where it does not
    /// open that far: what is darker cannot be exposed. `None` where it is not
    /// known.
    pub room: Option<Stops>,
    /// Whether a polarizer is in.
    pub polarizer: bool,
    /// Pieces that must be in, a copy each.
    pub keep: Vec<usize>,
}

/// What is asked.
#[derive(Debug, Clone, PartialEq)]
pub struct Question<'a> {
    /// The set-ups in shooting order.
    pub set_ups: &'a [SetUp],
    /// The pieces in the case.
    pub kit: &'a [Piece],
    /// The slots, empty at the start.
    pub rig: &'a Rig,
    /// Positions of the internal wheel.
    pub wheel: &'a [Density],
    /// Whether set-ups may change places.
    pub sequence: Sequence,
}

/// The plan with the fewest moves.
///
/// # Source
///
/// Own derivation; see [`crate::search::order`].
#[must_use]
pub fn order_day(question: &Question<'_>, budget: &mut Budget) -> Plan {
    let wheel: Vec<Stops> = question.wheel.iter().map(|d| d.stops()).collect();
    let pieces: Vec<OrderPiece> = (question.kit.iter())
        .map(|piece| order_piece(question.rig, piece))
        .collect();
    let polarizers: Vec<usize> = (0..question.kit.len())
        .filter(|&at| question.kit[at].record().kind == PieceKind::Polarizer)
        .collect();
    let set_ups: Vec<order::SetUp> = (question.set_ups.iter())
        .map(|set_up| {
            // A polarizer that is kept by name is the polarizer that is in.
            let named = set_up.keep.iter().any(|piece| polarizers.contains(piece));
            let one_of = (set_up.polarizer && !named).then(|| polarizers.clone());
            let (middle, half) = set_up.band();
            order::SetUp {
                need: middle,
                tolerance: half,
                keep: set_up.keep.clone(),
                one_of,
            }
        })
        .collect();
    let problem = Problem {
        pieces: &pieces,
        slot_count: question.rig.slots.len(),
        wheel: &wheel,
        set_ups: &set_ups,
    };
    let mut plan = order::fewest_moves(&problem, question.sequence, budget);
    for stage in &mut plan.stages {
        let set_up = &question.set_ups[stage.set_up];
        stage.left_over = stage.left_over + (set_up.need - set_up.band().0);
    }
    plan
}

impl SetUp {
    /// Middle and half of what the glass may take: the tolerance either way, but
    /// no more than the lens can open for.
    fn band(&self) -> (Stops, Stops) {
        let (need, tolerance) = (self.need.stops(), self.tolerance.stops());
        let room = self.room.map_or(tolerance, Stops::stops);
        let most = need + room.min(tolerance);
        let least = most.min(need) - tolerance;
        (
            Stops::computed(f64::midpoint(least, most)),
            Stops::computed(0.5 * (most - least)),
        )
    }
}

fn order_piece(rig: &Rig, piece: &Piece) -> OrderPiece {
    let slots = rig.slots.iter().enumerate();
    OrderPiece {
        loss: piece.loss().stops,
        fits: slots
            .filter(|(_, slot)| slot.takes(piece.record()))
            .fold(SlotSet::EMPTY, |set, (at, _)| set.with(at)),
        count: usize::from(piece.record().count),
        // Glass that changes the picture goes in only when asked for.
        free: piece.record().kind == PieceKind::NeutralDensity,
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::*;
    use crate::setup::{PieceRecord, Slot};
    use alloc::string::String;

    fn piece(kind: PieceKind, density: f64) -> Piece {
        Piece::new(PieceRecord {
            id: String::new(),
            kind,
            marked: Density::new(density).ok(),
            measured: None,
            stated: None,
            size: String::new(),
            infrared: None,
            mired_shift: None,
            count: 1,
        })
        .unwrap()
    }

    fn set_up(density: f64) -> SetUp {
        SetUp {
            need: Density::new(density).unwrap().stops(),
            tolerance: Stops::computed(0.1),
            room: None,
            polarizer: false,
            keep: Vec::new(),
        }
    }

    #[test]
    fn the_day_is_sorted_so_that_glass_is_added() {
        let kit = [0.3, 0.6].map(|density| piece(PieceKind::NeutralDensity, density));
        let slot = |rotates| Slot {
            id: String::new(),
            size: String::new(),
            rotates,
        };
        let rig = Rig {
            slots: [slot(false), slot(true)].into(),
        };
        let set_ups = [set_up(0.9), set_up(0.3), set_up(0.0)];
        let mut question = Question {
            set_ups: &set_ups,
            kit: &kit,
            rig: &rig,
            wheel: &[],
            sequence: Sequence::Fixed,
        };
        let fixed = order_day(&question, &mut Budget::endless());
        assert_eq!(fixed.moves, 4);
        question.sequence = Sequence::Free;
        let free = order_day(&question, &mut Budget::endless());
        assert_eq!(free.moves, 2);
        let order: Vec<usize> = free.stages.iter().map(|stage| stage.set_up).collect();
        assert_eq!(order, [2, 1, 0]);
    }

    #[test]
    fn a_polarizer_that_is_not_in_the_case_cannot_be_asked_for() {
        let kit = [piece(PieceKind::NeutralDensity, 0.3)];
        let rig = Rig::default();
        let set_ups = [SetUp {
            polarizer: true,
            ..set_up(0.0)
        }];
        let question = Question {
            set_ups: &set_ups,
            kit: &kit,
            rig: &rig,
            wheel: &[],
            sequence: Sequence::Fixed,
        };
        let plan = order_day(&question, &mut Budget::endless());
        assert_eq!(plan.cannot, [0]);
    }

    #[test]
    fn what_the_lens_cannot_expose_is_no_way_to_serve_a_set_up() {
        // 2.9 stops wanted within a third: the 0.9 is 0.09 under, and this lens
        // stands wide open. The 0.8 is over.
        let kit = [0.9, 0.8].map(|density| piece(PieceKind::NeutralDensity, density));
        let rig = Rig {
            slots: [Slot {
                id: String::new(),
                size: String::new(),
                rotates: false,
            }]
            .into(),
        };
        let asked = |room: Option<f64>| {
            let set_ups = [SetUp {
                need: Stops::computed(2.9),
                tolerance: Stops::computed(1.0 / 3.0),
                room: room.map(Stops::computed),
                ..set_up(0.0)
            }];
            let question = Question {
                set_ups: &set_ups,
                kit: &kit,
                rig: &rig,
                wheel: &[],
                sequence: Sequence::Fixed,
            };
            let plan = order_day(&question, &mut Budget::endless());
            (plan.stages[0].slots[0], plan.stages[0].left_over.stops())
        };
        let (in_it, left) = asked(None);
        assert_eq!(in_it, Some(0));
        assert!((left + 0.089_735).abs() < 1e-6);
        let (in_it, left) = asked(Some(0.0));
        assert_eq!(in_it, Some(1));
        assert!((left - 0.242_457).abs() < 1e-6);
    }
}
