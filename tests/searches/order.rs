//! The fewest moves of a day against proven optima and against every plan.

use glasscall_core::quantity::{Density, Stops};
use glasscall_core::search::budget::{Budget, Proof};
use glasscall_core::search::order::{OrderPiece, Plan, Problem, Sequence, SetUp, fewest_moves};
use glasscall_core::setup::SlotSet;
use glasscall_tests::{Group, LawCase, law};
use proptest::prelude::*;
use serde_json::Value;

fn milli(value: &Value) -> Stops {
    let density = Density::new(value.as_f64().unwrap() / 1000.0);
    density.unwrap().stops()
}

fn day(case: &LawCase) -> (Vec<OrderPiece>, usize, Vec<SetUp>) {
    let slots = usize::try_from(case.given["slots"].as_u64().unwrap()).unwrap();
    let kit = case.given["kit"].as_array().unwrap();
    let pieces = (kit.iter())
        .map(|piece| OrderPiece {
            loss: milli(&piece["md"]),
            fits: SlotSet::all(slots),
            count: 1,
            free: piece["kind"] == "nd",
        })
        .collect();
    let polarizers: Vec<usize> = (0..kit.len())
        .filter(|&piece| kit[piece]["kind"] == "polarizer")
        .collect();
    let set_ups = (case.given["setups"].as_array().unwrap().iter())
        .map(|set_up| SetUp {
            need: milli(&set_up["need_md"]),
            tolerance: milli(&set_up["tol_md"]),
            keep: Vec::new(),
            one_of: (set_up["polarizer"] == true).then(|| polarizers.clone()),
        })
        .collect();
    (pieces, slots, set_ups)
}

/// Every case of a group, in so many steps altogether: what the search takes now
/// and a twentieth more. A bound that rules out less takes more.
fn check(group: Group, steps: u64) {
    let mut budget = Budget::steps(steps);
    for case in group.cases {
        let (pieces, slot_count, set_ups) = day(&case);
        let problem = Problem {
            pieces: &pieces,
            slot_count,
            wheel: &[],
            set_ups: &set_ups,
        };
        for (sequence, field) in [
            (Sequence::Fixed, "fixed_order_changes"),
            (Sequence::Free, "free_order_changes"),
        ] {
            let plan = fewest_moves(&problem, sequence, &mut budget);
            assert!(plan.proof.is_proven(), "{}", case.id);
            assert_eq!(plan.moves as u64, case.out[field], "{}: {field}", case.id);
            assert_holds(&case.id, &problem, &plan);
        }
    }
}

/// Every set-up once, each stack within tolerance, moves counted right.
fn assert_holds(id: &str, problem: &Problem<'_>, plan: &Plan) {
    let mut seen: Vec<usize> = plan.stages.iter().map(|stage| stage.set_up).collect();
    seen.extend(&plan.cannot);
    seen.sort_unstable();
    assert!(seen.into_iter().eq(0..problem.set_ups.len()), "{id}");
    let mut now = vec![None; problem.slot_count];
    let mut moves = 0;
    for stage in &plan.stages {
        let set_up = &problem.set_ups[stage.set_up];
        let changed = now.iter().zip(&stage.slots).filter(|(a, b)| a != b).count();
        assert_eq!(changed, stage.moves, "{id}");
        moves += changed;
        now.clone_from(&stage.slots);
        let wheel = stage.wheel.map_or(Stops::ZERO, |at| problem.wheel[at]);
        let glass = stage.slots.iter().flatten();
        let taken: Stops = glass.map(|&piece| problem.pieces[piece].loss).sum();
        let left = set_up.need - wheel - taken;
        assert!((left - stage.left_over).size().stops() < 1e-9, "{id}");
        assert!(
            left.size().stops() <= set_up.tolerance.stops() + 1e-8,
            "{id}"
        );
        assert!(is_allowed(problem, set_up, &stage.slots), "{id}: {stage:?}");
    }
    assert_eq!(moves, plan.moves, "{id}");
}

/// Whether the pieces may stand so for the set-up, its need left aside.
fn is_allowed(problem: &Problem<'_>, set_up: &SetUp, slots: &[Option<usize>]) -> bool {
    let mut asked_in = 0;
    let pieces_fit = problem.pieces.iter().enumerate().all(|(at, piece)| {
        let used = slots.iter().filter(|slot| **slot == Some(at)).count();
        let kept = set_up.keep.iter().filter(|&&kept| kept == at).count();
        let fits = (slots.iter().enumerate())
            .all(|(slot, content)| *content != Some(at) || piece.fits.holds(slot));
        let of_the_set = set_up
            .one_of
            .as_ref()
            .is_some_and(|one_of| one_of.contains(&at));
        if of_the_set {
            asked_in += used;
        }
        let most = if piece.free {
            piece.count
        } else {
            kept + usize::from(of_the_set)
        };
        fits && used >= kept && used <= most.min(piece.count)
    });
    pieces_fit && (set_up.one_of.is_none() || asked_in == 1)
}

#[test]
fn the_fewest_moves_are_the_proven_optimum() {
    check(law("search", "changes"), 15_900);
}

#[test]
fn twenty_set_ups_take_as_few_moves_as_proven_elsewhere() {
    check(law("search_large", "changes"), 249_800);
}

/// Fewest moves over every order wanted and every placing.
fn by_enumeration(problem: &Problem<'_>, sequence: Sequence) -> (usize, Vec<usize>) {
    let mut placings: Vec<Vec<Option<usize>>> = vec![Vec::new()];
    for _ in 0..problem.slot_count {
        placings = (placings.into_iter())
            .flat_map(|slots| {
                std::iter::once(None)
                    .chain((0..problem.pieces.len()).map(Some))
                    .map(move |content| [slots.clone(), vec![content]].concat())
            })
            .collect();
    }
    let clear = [Stops::ZERO];
    let wheel = if problem.wheel.is_empty() {
        &clear
    } else {
        problem.wheel
    };
    let serving: Vec<Vec<&Vec<Option<usize>>>> = (problem.set_ups.iter())
        .map(|set_up| {
            let serves = |slots: &&Vec<Option<usize>>| {
                let taken: Stops = slots
                    .iter()
                    .flatten()
                    .map(|&p| problem.pieces[p].loss)
                    .sum();
                let near = |w: &Stops| {
                    (set_up.need - *w - taken).size().stops() <= set_up.tolerance.stops() + 1e-9
                };
                is_allowed(problem, set_up, slots) && wheel.iter().any(near)
            };
            placings.iter().filter(serves).collect()
        })
        .collect();
    let (can, cannot): (Vec<usize>, Vec<usize>) =
        (0..serving.len()).partition(|&at| !serving[at].is_empty());
    let orders = match sequence {
        Sequence::Fixed => vec![can],
        Sequence::Free => orders(&can),
    };
    let moves = |order: Vec<usize>| {
        let empty = vec![None; problem.slot_count];
        let mut reached = vec![(&empty, 0)];
        for set_up in order {
            reached = (serving[set_up].iter())
                .map(|&slots| {
                    let from = reached.iter().map(|(before, moves)| {
                        moves + before.iter().zip(slots).filter(|(a, b)| a != b).count()
                    });
                    (slots, from.min().unwrap())
                })
                .collect();
        }
        reached.iter().map(|(_, moves)| *moves).min().unwrap()
    };
    (orders.into_iter().map(moves).min().unwrap(), cannot)
}

fn orders(set_ups: &[usize]) -> Vec<Vec<usize>> {
    if set_ups.is_empty() {
        return vec![Vec::new()];
    }
    (set_ups.iter())
        .flat_map(|&first| {
            let rest: Vec<usize> = set_ups.iter().copied().filter(|&s| s != first).collect();
            (orders(&rest).into_iter()).map(move |rest| [vec![first], rest].concat())
        })
        .collect()
}

prop_compose! {
    fn piece(slots: usize)(
        loss in 0u16..25,
        fits in prop::collection::vec(prop::bool::weighted(0.8), slots),
        count in 1usize..3,
        free in prop::bool::weighted(0.75),
    ) -> OrderPiece {
        OrderPiece {
            loss: Stops::new(f64::from(loss) * 0.2003).unwrap(),
            fits: (0..slots).filter(|&slot| fits[slot]).fold(SlotSet::EMPTY, SlotSet::with),
            count,
            free,
        }
    }
}

prop_compose! {
    fn any_day()(slots in 1usize..4)(
        slots in Just(slots),
        pieces in prop::collection::vec(piece(slots), 1..5),
        wheel in prop::collection::vec(0u8..3, 0..3),
        set_ups in prop::collection::vec((0u16..80, 1u16..8, prop::option::weighted(0.2, 0usize..5),
            prop::option::weighted(0.2, 0usize..5)), 0..5),
    ) -> (usize, Vec<OrderPiece>, Vec<Stops>, Vec<SetUp>) {
        let stops = |tenths: u16| Stops::new(f64::from(tenths) * 0.1003).unwrap();
        let wheel = wheel.into_iter().map(|w| Stops::new(f64::from(w) * 2.017).unwrap()).collect();
        let count = pieces.len();
        let set_ups = set_ups.into_iter().map(|(need, tolerance, keep, one)| SetUp {
            need: stops(need),
            tolerance: Stops::new(f64::from(tolerance) * 0.1003 + 0.05).unwrap(),
            keep: keep.filter(|&at| at < count).into_iter().collect(),
            // A number beyond the kit asks for what is not there.
            one_of: one.map(|at| {
                (at..=at).filter(|&at| at < count && !pieces[at].free && keep != Some(at)).collect()
            }),
        }).collect();
        (slots, pieces, wheel, set_ups)
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, ..ProptestConfig::default() })]

    #[test]
    fn no_plan_takes_fewer_moves((slot_count, pieces, wheel, set_ups) in any_day()) {
        let problem = Problem { pieces: &pieces, slot_count, wheel: &wheel, set_ups: &set_ups };
        for sequence in [Sequence::Fixed, Sequence::Free] {
            let plan = fewest_moves(&problem, sequence, &mut Budget::endless());
            prop_assert!(plan.proof.is_proven());
            let (moves, cannot) = by_enumeration(&problem, sequence);
            prop_assert_eq!((plan.moves, &plan.cannot), (moves, &cannot));
            assert_holds("generated", &problem, &plan);
            // Cut at once it bounds what is true, from below.
            let cut = fewest_moves(&problem, sequence, &mut Budget::steps(3));
            if cut.cannot == cannot {
                let least = match cut.proof {
                    Proof::Proven => cut.moves,
                    Proof::Bound(least) => usize::try_from(least).unwrap(),
                };
                prop_assert!(least <= moves && moves <= cut.moves, "{least} {moves} {cut:?}");
            }
        }
    }
}

#[test]
fn a_long_day_cut_short_is_no_worse_than_sorted_by_need() {
    // 45 set-ups, 24 pieces, three slots: 24 moves unproven with a bound of 0,
    // where the same list sorted takes 13.
    let mut dice = 11_u64;
    let mut next = |below: u64| {
        dice = dice.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1);
        (dice >> 33) % below
    };
    let density = |thousandths: u64| Density::new(thousandths as f64 / 1000.0).unwrap().stops();
    let pieces: Vec<OrderPiece> = (0..24)
        .map(|_| OrderPiece {
            loss: density(250 + next(1600)),
            fits: SlotSet::all(3),
            count: 1,
            free: true,
        })
        .collect();
    let set_ups: Vec<SetUp> = (0..45)
        .map(|_| SetUp {
            need: density(next(3600)),
            tolerance: Stops::new(1.0 / 3.0).unwrap(),
            keep: Vec::new(),
            one_of: None,
        })
        .collect();
    let mut sorted = set_ups.clone();
    sorted.sort_by(|a, b| a.need.stops().total_cmp(&b.need.stops()));
    let problem = |set_ups| Problem {
        pieces: &pieces,
        slot_count: 3,
        wheel: &[],
        set_ups,
    };
    let by_need = fewest_moves(&problem(&sorted), Sequence::Fixed, &mut Budget::endless());
    let free = fewest_moves(
        &problem(&set_ups),
        Sequence::Free,
        &mut Budget::steps(1_000_000),
    );
    assert_eq!(free.cannot.len(), by_need.cannot.len());
    assert!(
        free.moves <= by_need.moves,
        "{} for {}",
        free.moves,
        by_need.moves
    );
    let least = match free.proof {
        Proof::Proven => free.moves,
        Proof::Bound(least) => usize::try_from(least).unwrap(),
    };
    assert!(least >= 5, "{least} of {}", free.moves);
}
