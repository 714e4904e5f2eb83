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
            order::SetUp {
                need: set_up.need,
                tolerance: set_up.tolerance,
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
    order::fewest_moves(&problem, question.sequence, budget)
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
}
