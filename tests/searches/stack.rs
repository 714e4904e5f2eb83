//! The stack search against proven optima and against every placing.

use glasscall_core::quantity::{Density, Stops};
use glasscall_core::search::budget::Budget;
use glasscall_core::search::stack::{
    Candidate, Problem, Ranking, Stack, best_stacks, best_stacks_within, whole_thirds,
};
use glasscall_core::setup::SlotSet;
use glasscall_tests::{Group, LawCase, law, near, number};
use proptest::prelude::*;
use serde_json::Value;

fn milli(value: &Value) -> Stops {
    Density::new(value.as_f64().unwrap() / 1000.0)
        .unwrap()
        .stops()
}

fn candidates(case: &LawCase, slots: usize) -> Vec<Candidate> {
    let in_place = case.given["in_place"]
        .as_array()
        .cloned()
        .unwrap_or_default();
    let holds = |id: &Value| {
        (in_place.iter().enumerate())
            .filter(|(_, there)| *there == id)
            .fold(SlotSet::EMPTY, |set, (slot, _)| set.with(slot))
    };
    let kit = case.given["kit"].as_array().unwrap();
    (kit.iter())
        .map(|piece| Candidate {
            loss: milli(&piece["md"]),
            infrared: Stops::ZERO,
            fits: piece["fits"]
                .as_array()
                .map_or(SlotSet::all(slots), |fits| {
                    (fits.iter()).fold(SlotSet::EMPTY, |set, slot| {
                        set.with(usize::try_from(slot.as_u64().unwrap()).unwrap())
                    })
                }),
            stays: holds(&piece["id"]),
            kept: 0,
            count: 1,
        })
        .collect()
}

#[test]
fn the_best_stack_is_the_proven_optimum() {
    check(law("search", "stack"), 1_363);
}

#[test]
fn the_best_of_two_hundred_measured_pieces_is_the_proven_optimum() {
    check(law("search_large", "stack"), 500);
}

/// Every case of a group, in so many steps altogether: what the search takes now
/// and a twentieth more. A bound that rules out less takes more.
fn check(group: Group, steps: u64) {
    let mut budget = Budget::steps(steps);
    for case in group.cases {
        let slots = usize::try_from(case.given["slots"].as_u64().unwrap()).unwrap();
        let wheel = case.given["wheel_md"]
            .as_array()
            .cloned()
            .unwrap_or_default();
        let wheel: Vec<Stops> = wheel.iter().map(milli).collect();
        let in_place = case.given["in_place"]
            .as_array()
            .cloned()
            .unwrap_or_default();
        let occupied = (in_place.iter().enumerate())
            .filter(|(_, there)| !there.is_null())
            .fold(SlotSet::EMPTY, |set, (slot, _)| set.with(slot));
        let kit = candidates(&case, slots);
        let problem = Problem {
            need: Stops::new(number(&case.given, "need_md") / 1000.0 / std::f64::consts::LOG10_2)
                .unwrap(),
            candidates: &kit,
            slot_count: slots,
            occupied,
            wheel: &wheel,
            wheel_infrared: &[],
            ranking: Ranking::default(),
            limit: 3,
        };
        let best = best_stacks_within(&problem, &mut budget);
        assert!(best.proof.is_proven(), "{}", case.id);
        let best = best.stacks;
        let best = &best[0];
        let left = best.left_over.size().stops() * std::f64::consts::LOG10_2 * 1000.0;
        let thirds = f64::from(whole_thirds(best.left_over));
        near(&case.id, "thirds", thirds, number(&case.out, "thirds"), 0.0);
        near(
            &case.id,
            "pieces",
            best.pieces as f64,
            number(&case.out, "pieces"),
            0.0,
        );
        near(
            &case.id,
            "moves",
            best.moves as f64,
            number(&case.out, "moves"),
            0.0,
        );
        near(&case.id, "left", left, number(&case.out, "left_md"), 1e-6);
    }
}

/// Cannot be exposed, thirds, needs a cut, under, pieces, moves, billionths left.
type Rank = (bool, i32, bool, bool, usize, usize, i64);

/// What a stack is ranked by, told anew from the words of the ranking.
fn rank(problem: &Problem<'_>, slots: &[Option<usize>], wheel: Option<usize>) -> Rank {
    let pieces = || slots.iter().flatten().map(|&p| problem.candidates[p]);
    let in_wheel = wheel.map_or(0.0, |at| problem.wheel[at].stops());
    let infrared_of_wheel = wheel
        .and_then(|at| problem.wheel_infrared.get(at))
        .map_or(0.0, |stops| stops.stops());
    let taken = in_wheel + pieces().map(|piece| piece.loss.stops()).sum::<f64>();
    let infrared = infrared_of_wheel + pieces().map(|piece| piece.infrared.stops()).sum::<f64>();
    let left = problem.need.stops() - taken;
    let thirds = whole_thirds(Stops::new(left).unwrap());
    let ranking = problem.ranking;
    let moves = (slots.iter().enumerate())
        .filter(|(slot, content)| match content {
            Some(piece) => !problem.candidates[*piece].stays.holds(*slot),
            None => problem.occupied.holds(*slot),
        })
        .count();
    // A billionth of a stop: sums taken in another order must compare equal.
    #[expect(
        clippy::cast_possible_truncation,
        reason = "a few stops times 10⁹ fit i64"
    )]
    let billionths = (left.abs() * 1e9).round() as i64;
    (
        ranking.room.is_some_and(|room| left < -room.stops() - 1e-7),
        thirds,
        ranking
            .cut_from
            .is_some_and(|from| taken - infrared >= from.stops() - 1e-7),
        ranking.over_first && thirds > 0 && left < 0.0,
        pieces().count(),
        moves,
        billionths,
    )
}

/// The best rank over every way to fill the slots, by plain enumeration.
fn by_enumeration(problem: &Problem<'_>) -> Option<Rank> {
    fn fill(problem: &Problem<'_>, slots: &mut Vec<Option<usize>>, best: &mut Option<Rank>) {
        if slots.len() < problem.slot_count {
            for choice in std::iter::once(None).chain((0..problem.candidates.len()).map(Some)) {
                slots.push(choice);
                fill(problem, slots, best);
                slots.pop();
            }
            return;
        }
        let allowed = (problem.candidates.iter().enumerate()).all(|(at, piece)| {
            let used = slots.iter().filter(|s| **s == Some(at)).count();
            let fits = (slots.iter().enumerate())
                .all(|(slot, content)| *content != Some(at) || piece.fits.holds(slot));
            used >= piece.kept && used <= piece.count.max(piece.kept) && fits
        });
        if !allowed {
            return;
        }
        let positions: Vec<Option<usize>> = if problem.wheel.is_empty() {
            vec![None]
        } else {
            (0..problem.wheel.len()).map(Some).collect()
        };
        for position in positions {
            let found = rank(problem, slots, position);
            if best.is_none_or(|best| found < best) {
                *best = Some(found);
            }
        }
    }
    let mut best = None;
    fill(problem, &mut Vec::new(), &mut best);
    best
}

fn rank_of(problem: &Problem<'_>, stack: &Stack) -> Rank {
    rank(problem, &stack.slots, stack.wheel)
}

prop_compose! {
    fn candidate(slots: usize)(
        loss in 0u16..30,
        fits in prop::collection::vec(prop::bool::weighted(0.8), slots),
        kept in prop::bool::weighted(0.1),
        count in 1usize..3,
        stopping in 0u16..3,
        place in prop::option::weighted(0.3, 0..slots),
    ) -> (Candidate, Option<usize>) {
        let fits = (0..slots).filter(|&s| fits[s]).fold(SlotSet::EMPTY, SlotSet::with);
        // Losses off the sixth-of-a-stop grid, so that no rounding is in doubt.
        let infrared = Stops::new(f64::from(loss * stopping) * 0.053).unwrap();
        let loss = Stops::new(f64::from(loss) * 0.11).unwrap();
        (Candidate { loss, infrared, fits, stays: SlotSet::EMPTY, kept: usize::from(kept), count }, place)
    }
}

prop_compose! {
    fn any_problem()(slots in 1usize..4)(
        slots in Just(slots),
        pieces in prop::collection::vec(candidate(slots), 0..6),
        wheel in prop::collection::vec(0u8..3, 0..3),
        need in -20i16..90,
        room in prop::option::of(-8i16..20),
        over_first in prop::bool::ANY,
        cut_from in prop::option::of(1u16..40),
    ) -> (usize, Vec<Candidate>, SlotSet, Vec<Stops>, Stops, Ranking) {
        let mut occupied = SlotSet::EMPTY;
        let candidates = pieces.into_iter().map(|(mut piece, place)| {
            if let Some(slot) = place.filter(|&slot| !occupied.holds(slot)) {
                piece.stays = SlotSet::EMPTY.with(slot);
                occupied = occupied.with(slot);
            }
            piece
        }).collect();
        let wheel = wheel.into_iter().map(|w| Stops::new(f64::from(w) * 2.017).unwrap()).collect();
        // Off every other grid, so that no comparison hangs on a rounding.
        let ranking = Ranking {
            room: room.map(|room| Stops::new(f64::from(room) * 0.3137).unwrap()),
            over_first,
            cut_from: cut_from.map(|from| Stops::new(f64::from(from) * 0.2171).unwrap()),
        };
        (slots, candidates, occupied, wheel, Stops::new(f64::from(need) * 0.1003).unwrap(), ranking)
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 600, ..ProptestConfig::default() })]

    #[test]
    fn no_placing_beats_the_first_stack(
        (slots, candidates, occupied, wheel, need, ranking) in any_problem()
    ) {
        // Every second position stops infrared as well.
        let wheel_infrared: Vec<Stops> = (wheel.iter().enumerate())
            .map(|(at, &stops)| if at % 2 == 0 { Stops::ZERO } else { stops })
            .collect();
        let problem = Problem {
            need,
            candidates: &candidates,
            slot_count: slots,
            occupied,
            wheel: &wheel,
            wheel_infrared: &wheel_infrared,
            ranking,
            limit: 4,
        };
        let found = best_stacks(&problem);
        let ranks: Vec<_> = found.iter().map(|stack| rank_of(&problem, stack)).collect();
        prop_assert_eq!(ranks.first().copied(), by_enumeration(&problem));
        prop_assert!(ranks.is_sorted(), "{:?}", ranks);
    }
}
