//! The fewest moves over a day's set-ups, exactly: shot in order a shortest path,
//! in any order a travelling salesman path that may choose among the stacks of each
//! set-up (a generalized one).

use super::budget::{Budget, Proof};
pub use super::day::{MAX_SET_UPS, OrderPiece, Problem, SetUp};
use super::day_bound::least_moves;
use super::day_orders::{first_orders, improved};
use super::placement::{EMPTY, Left, Place, Rack};
use super::tour::{Day, shortest_tour};
use crate::quantity::Stops;
use crate::sorted::sort_by;
use alloc::vec::Vec;

/// The most places kept for one set-up.
const MAX_PLACES: usize = 20_000;

/// Whether set-ups may change places.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sequence {
    /// Shot in the order given.
    Fixed,
    /// Shot in the order with the fewest moves.
    Free,
}

/// The glass for one set-up.
#[derive(Debug, Clone, PartialEq)]
pub struct Stage {
    /// Which set-up.
    pub set_up: usize,
    /// For each slot the piece in it.
    pub slots: Vec<Option<usize>>,
    /// The position of the wheel.
    pub wheel: Option<usize>,
    /// What is left of the need; positive is still over-exposed.
    pub left_over: Stops,
    /// Slots whose content changes to get here.
    pub moves: usize,
}

/// The day in order.
#[derive(Debug, Clone, PartialEq)]
pub struct Plan {
    /// One for each set-up that can be served.
    pub stages: Vec<Stage>,
    /// Moves over the day.
    pub moves: usize,
    /// Set-ups no stack serves.
    pub cannot: Vec<usize>,
    /// Whether no plan has fewer moves; else the fewest not ruled out.
    pub proof: Proof,
}

/// The plan with the fewest moves; among the stacks that allow it in the order
/// shot, those that leave least in all.
///
/// A move is a slot whose content changes; a piece shifted from slot to slot
/// makes two. Nothing is counted after the last set-up. A fixed order is solved
/// from set-up to set-up over every way the glass can stand; a free one by a
/// best-first search over what is in and what is shot, with bounds; where that is
/// cut, plain orders and small changes to them are tried as well.
///
/// # Source
///
/// Own derivation: a shortest path through sets of places, a place being met as
/// often as it likes, with slot changes for a distance. Checked against
/// enumeration and against an integer-programming library.
#[must_use]
pub fn fewest_moves(problem: &Problem<'_>, sequence: Sequence, budget: &mut Budget) -> Plan {
    let rack = Rack::new(problem);
    let mut whole = true;
    let places: Vec<Vec<(Place, Left)>> = (problem.set_ups.iter())
        .map(|set_up| {
            let (places, all) = rack.places(set_up, problem, MAX_PLACES, budget);
            whole &= all;
            places
        })
        .collect();
    let (can, cannot): (Vec<usize>, Vec<usize>) =
        (0..places.len()).partition(|&at| !places[at].is_empty());
    let least = least_moves(problem, &can);
    let (order, proof) = match sequence {
        Sequence::Fixed => (can.clone(), Proof::Proven),
        Sequence::Free => {
            let day = Day::new(&rack, &can, &places);
            let tour = shortest_tour(&day, budget);
            (tour.order, tour.proof)
        }
    };
    let (mut stages, done) = in_order(&rack, problem, &order, &places, budget);
    let mut proof = if whole && done {
        proof
    } else {
        // Places left out could only have made it shorter.
        Proof::Bound(0)
    };
    if sequence == Sequence::Free && !proof.is_proven() {
        stages = shorter(&rack, problem, &can, &places, stages);
    }
    let moves = stages.iter().map(|stage| stage.moves).sum();
    if let Proof::Bound(open) = proof {
        let least = open.max(u64::try_from(least).unwrap_or(0));
        proof = if least >= u64::try_from(moves).unwrap_or(u64::MAX) {
            Proof::Proven
        } else {
            Proof::Bound(least)
        };
    }
    Plan {
        moves,
        stages,
        cannot,
        proof,
    }
}

/// Steps for orders tried when the search for the best one was cut: little
/// beside what a search takes, and there is always a plan that a person would
/// have found.
const STEPS_TO_TRY: u64 = 8_000_000;

/// The best of what a cut search left, of plain orders, and of what small
/// changes make of them.
fn shorter(
    rack: &Rack,
    problem: &Problem<'_>,
    can: &[usize],
    places: &[Vec<(Place, Left)>],
    found: Vec<Stage>,
) -> Vec<Stage> {
    let mut budget = Budget::steps(STEPS_TO_TRY);
    let moves = |stages: &[Stage]| -> usize { stages.iter().map(|stage| stage.moves).sum() };
    let set_ups = problem.set_ups;
    let need: Vec<f64> = set_ups.iter().map(|set_up| set_up.need.stops()).collect();
    let sort: Vec<bool> = set_ups
        .iter()
        .map(|set_up| set_up.one_of.is_some())
        .collect();
    let mut best = found;
    for order in first_orders(can, &need, &sort) {
        let (stages, _) = in_order(rack, problem, &order, places, &mut budget);
        if moves(&stages) < moves(&best) {
            best = stages;
        }
    }
    // Each round shortens it by a move at least.
    while !budget.is_spent() {
        let stops: Vec<(usize, Place)> = (best.iter())
            .map(|stage| (stage.set_up, rack.place_of(&stage.slots)))
            .collect();
        let Some(order) = improved(rack, &stops) else {
            break;
        };
        let (stages, _) = in_order(rack, problem, &order, places, &mut budget);
        if moves(&stages) >= moves(&best) {
            break;
        }
        best = stages;
    }
    best
}

/// The best stages for a given order, and whether the budget lasted.
fn in_order(
    rack: &Rack,
    problem: &Problem<'_>,
    order: &[usize],
    places: &[Vec<(Place, Left)>],
    budget: &mut Budget,
) -> (Vec<Stage>, bool) {
    let mut done = true;
    let mut layers: Vec<Vec<Step>> = Vec::with_capacity(order.len());
    let start = [(EMPTY, Step::START)];
    for (nth, &set_up) in order.iter().enumerate() {
        let mut before: Vec<(Place, Step)> = if nth == 0 {
            start.to_vec()
        } else {
            let places = places[order[nth - 1]].iter().map(|(place, _)| *place);
            places.zip(layers[nth - 1].iter().copied()).collect()
        };
        for (at, (_, step)) in before.iter_mut().enumerate() {
            step.from = at;
        }
        sort_by(&mut before, |(_, a), (_, b)| a.compare(b));
        if !done {
            // Out of steps: go on from the best place only.
            before.truncate(1);
        }
        let layer = (places[set_up].iter())
            .map(|(place, left)| best_step(rack, &before, place, *left, budget))
            .collect();
        layers.push(layer);
        done &= !budget.is_spent();
    }
    (trace(rack, problem, order, places, &layers), done)
}

/// How well a place can be reached.
#[derive(Debug, Clone, Copy)]
struct Step {
    moves: u32,
    /// Left-overs summed.
    left: f64,
    /// Index of the place before.
    from: usize,
}

impl Step {
    const START: Self = Self {
        moves: 0,
        left: 0.0,
        from: 0,
    };

    fn compare(&self, other: &Self) -> core::cmp::Ordering {
        self.moves
            .cmp(&other.moves)
            .then(self.left.total_cmp(&other.left))
    }
}

/// The best way to a place; `before` stands best first and names itself.
fn best_step(
    rack: &Rack,
    before: &[(Place, Step)],
    place: &Place,
    left: Left,
    budget: &mut Budget,
) -> Step {
    let mut best: Option<Step> = None;
    let mut looks = 0;
    for (from, step) in before {
        // Those behind cannot do better even without a move.
        if best.is_some_and(|best| step.moves > best.moves) {
            break;
        }
        looks += 1;
        let reached = Step {
            moves: step.moves + u32::from(rack.changes(from, place)),
            left: step.left + left.stops.abs(),
            from: step.from,
        };
        if best.is_none_or(|best| reached.compare(&best).is_lt()) {
            best = Some(reached);
        }
    }
    budget.take(looks);
    best.unwrap_or(Step::START)
}

/// The stages from the last back to the first, then with real slots.
fn trace(
    rack: &Rack,
    problem: &Problem<'_>,
    order: &[usize],
    places: &[Vec<(Place, Left)>],
    layers: &[Vec<Step>],
) -> Vec<Stage> {
    let mut path: Vec<usize> = Vec::with_capacity(order.len());
    let mut at = layers.last().and_then(|layer| {
        let indices = 0..layer.len();
        indices.min_by(|&a, &b| layer[a].compare(&layer[b]))
    });
    for layer in layers.iter().rev() {
        let Some(place) = at else { break };
        path.push(place);
        at = layer.get(place).map(|step| step.from);
    }
    path.reverse();
    let mut slots: Vec<Option<usize>> = alloc::vec![None; problem.slot_count];
    (order.iter().zip(path))
        .map(|(&set_up, at)| {
            let (place, left) = &places[set_up][at];
            let next = rack.arranged(&slots, place);
            let moves = slots.iter().zip(&next).filter(|(a, b)| a != b).count();
            slots.clone_from(&next);
            Stage {
                set_up,
                slots: next,
                wheel: (!problem.wheel.is_empty()).then_some(left.wheel),
                left_over: Stops::computed(left.stops),
                moves,
            }
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::setup::SlotSet;

    fn piece(loss: f64, slots: SlotSet, count: usize) -> OrderPiece {
        OrderPiece {
            loss: Stops::computed(loss),
            fits: slots,
            count,
            free: true,
        }
    }

    fn set_up(need: f64, tolerance: f64) -> SetUp {
        SetUp {
            need: Stops::computed(need),
            tolerance: Stops::computed(tolerance),
            keep: Vec::new(),
            one_of: None,
        }
    }

    fn place(mark: u16) -> Place {
        let mut place = EMPTY;
        place[0] = mark;
        place
    }

    #[test]
    fn a_place_is_reached_with_fewest_moves_then_least_left() {
        let pieces = [piece(1.0, SlotSet::all(1), 1)];
        let problem = Problem {
            pieces: &pieces,
            slot_count: 1,
            wheel: &[],
            set_ups: &[],
        };
        let rack = Rack::new(&problem);
        let step = |moves, left, from| Step { moves, left, from };
        // From the first one move; from the second, a move behind, none; the
        // third is two behind and not looked at.
        let before = [
            (place(0), step(0, 0.5, 4)),
            (place(1), step(1, 0.25, 7)),
            (place(1), step(2, 0.0, 9)),
        ];
        let left = Left {
            stops: -0.125,
            wheel: 0,
        };
        let mut budget = Budget::steps(10);
        let best = best_step(&rack, &before, &place(1), left, &mut budget);
        assert_eq!((best.moves, best.left, best.from), (1, 0.375, 7));
        assert_eq!(budget, Budget::steps(8));
    }

    #[test]
    fn a_given_order_cut_short_is_not_proven() {
        let pieces = [1.0, 2.0, 3.0].map(|loss| piece(loss, SlotSet::all(2), 1));
        let set_ups = [1.0, 3.0, 4.0, 2.0].map(|need| set_up(need, 0.1));
        let problem = Problem {
            pieces: &pieces,
            slot_count: 2,
            wheel: &[],
            set_ups: &set_ups,
        };
        let planned = |budget: &mut Budget| fewest_moves(&problem, Sequence::Fixed, budget);
        let mut budget = Budget::steps(1000);
        let whole = planned(&mut budget);
        let taken = (0..1000).find(|&steps| budget == Budget::steps(1000 - steps));
        // A step short it has the same plan and does not call it proven.
        let cut = planned(&mut Budget::steps(taken.unwrap_or(0) - 1));
        assert_eq!((whole.moves, whole.proof), (cut.moves, Proof::Proven));
        assert_eq!(cut.proof, Proof::Bound(4));
    }

    #[test]
    fn of_more_places_than_are_kept_the_pieces_that_must_come_in_prove_it() {
        // Four slots told apart by a piece each that is not there, and thirteen
        // pieces for any of them: 24024 ways to fill three or four.
        let all = SlotSet::all(4);
        let pieces: Vec<OrderPiece> = (0..13)
            .map(|at| piece(1.0 + 0.001 * f64::from(at), all, 1))
            .chain((0..4).map(|slot| piece(9.0, SlotSet::EMPTY.with(slot), 0)))
            .collect();
        let problem = Problem {
            pieces: &pieces,
            slot_count: 4,
            wheel: &[],
            set_ups: &[set_up(3.5, 0.6)],
        };
        let plan = fewest_moves(&problem, Sequence::Fixed, &mut Budget::endless());
        assert_eq!((plan.moves, plan.proof), (3, Proof::Proven));
    }
}
