//! The stack search on small cases.

use super::*;

fn stops(stops: f64) -> Stops {
    Stops::computed(stops)
}

fn piece(loss: f64, slots: usize) -> Candidate {
    Candidate {
        infrared: Stops::ZERO,
        loss: stops(loss),
        fits: SlotSet::all(slots),
        stays: SlotSet::EMPTY,
        kept: 0,
        count: 1,
    }
}

fn problem(need: f64, candidates: &[Candidate], slot_count: usize) -> Problem<'_> {
    Problem {
        need: stops(need),
        candidates,
        slot_count,
        occupied: SlotSet::EMPTY,
        wheel: &[],
        wheel_infrared: &[],
        ranking: Ranking::default(),
        limit: 5,
    }
}

#[test]
fn five_stops_are_a_three_and_a_two() {
    let kit = [piece(1.0, 2), piece(2.0, 2), piece(3.0, 2)];
    let best = best_stacks(&problem(5.0, &kit, 2));
    assert_eq!(best[0].slots, [Some(2), Some(1)]);
    assert_eq!(best[0].left_over, Stops::ZERO);
    assert_eq!(best[0].moves, 2);
}

#[test]
fn no_need_is_served_by_nothing() {
    let kit = [piece(1.0, 1)];
    let best = best_stacks(&problem(0.0, &kit, 1));
    assert_eq!(best[0].pieces, 0);
    assert_eq!(best[1].pieces, 1);
    assert_eq!(best.len(), 2);
}

#[test]
fn a_kept_piece_is_in_every_stack() {
    let mut kit = [piece(1.0, 2), piece(4.0, 2), piece(3.0, 2)];
    kit[0].kept = 1;
    let best = best_stacks(&problem(4.0, &kit, 2));
    assert!(best.iter().all(|stack| stack.slots.contains(&Some(0))));
    assert_eq!(best[0].left_over, Stops::ZERO);
}

#[test]
fn kept_pieces_without_room_leave_no_stack() {
    let mut kit = [piece(1.0, 0), piece(4.0, 2)];
    kit[0].kept = 1;
    assert!(best_stacks(&problem(4.0, &kit, 2)).is_empty());
}

#[test]
fn the_wheel_is_no_piece_and_no_move() {
    let kit = [piece(2.0, 1)];
    let wheel = [stops(0.0), stops(2.0), stops(4.0)];
    let best = best_stacks(&Problem {
        wheel: &wheel,
        ..problem(4.0, &kit, 1)
    });
    assert_eq!(
        (best[0].wheel, best[0].pieces, best[0].moves),
        (Some(2), 0, 0)
    );
    assert_eq!((best[1].wheel, best[1].pieces), (Some(1), 1));
}

#[test]
fn what_is_in_is_left_alone_where_that_serves() {
    let mut kit = [piece(2.0, 2), piece(2.0, 2), piece(1.0, 2)];
    kit[1].stays = SlotSet::EMPTY.with(1);
    let best = best_stacks(&Problem {
        occupied: SlotSet::EMPTY.with(1),
        ..problem(3.0, &kit, 2)
    });
    assert_eq!(best[0].slots, [Some(2), Some(1)]);
    assert_eq!(best[0].moves, 1);
}

#[test]
fn two_copies_can_both_go_in() {
    let mut kit = [piece(2.0, 2)];
    kit[0].count = 2;
    let best = best_stacks(&problem(4.0, &kit, 2));
    assert_eq!(best[0].slots, [Some(0), Some(0)]);
}

#[test]
fn no_stack_is_listed_twice() {
    // Too little and nothing at all: 3 and 6 thirds left.
    let kit = [piece(1.0, 1)];
    let best = best_stacks(&problem(2.0, &kit, 1));
    let pieces: Vec<usize> = best.iter().map(|stack| stack.pieces).collect();
    assert_eq!(pieces, [1, 0]);
}

#[test]
fn pieces_that_differ_in_nothing_are_one_choice() {
    let kit = [piece(1.0, 1), piece(1.0, 1)];
    let best = best_stacks(&problem(1.0, &kit, 1));
    let slots: Vec<_> = best.into_iter().map(|stack| stack.slots).collect();
    assert_eq!(slots, [[Some(0)], [None]]);
}

#[test]
fn of_two_equally_far_off_the_first_in_the_case_is_listed() {
    // An eighth of a stop over and under, both exact in binary.
    let kit = [piece(1.875, 1), piece(2.125, 1)];
    let best = best_stacks(&Problem {
        limit: 1,
        ..problem(2.0, &kit, 1)
    });
    assert_eq!(best[0].slots, [Some(0)]);
}

#[test]
fn without_a_step_only_what_must_be_in_is_listed() {
    let mut kit = [piece(1.0, 3), piece(4.0, 3), piece(3.0, 3)];
    kit[0].kept = 1;
    kit[2].stays = SlotSet::EMPTY.with(2);
    let within = |steps| {
        let problem = Problem {
            occupied: SlotSet::EMPTY.with(2),
            ..problem(4.0, &kit, 3)
        };
        best_stacks_within(&problem, &mut Budget::steps(steps))
    };
    let cut = within(0);
    assert_eq!(cut.proof, Proof::Bound(0));
    assert_eq!(cut.stacks.len(), 1);
    assert_eq!(cut.stacks[0].left_over, stops(3.0));
    let whole = within(1000);
    assert_eq!(whole.proof, Proof::Proven);
    assert_eq!(whole.stacks[0].left_over, Stops::ZERO);
}

#[test]
fn every_choice_is_listed_once_at_the_ends_of_the_bands_too() {
    // Sixths of a stop end a band of thirds, give or take the rounding.
    let kit = [1.0, 2.0, 3.0, 5.0, 8.0].map(|sixths: f64| piece(sixths / 6.0, 5));
    for sixths in -4..24 {
        let best = best_stacks(&Problem {
            limit: 50,
            ..problem(f64::from(sixths) / 6.0, &kit, 5)
        });
        let mut chosen: Vec<_> = best.iter().map(|stack| in_order(&stack.slots)).collect();
        crate::sorted::sort_by(&mut chosen, Ord::cmp);
        chosen.dedup();
        assert_eq!((best.len(), chosen.len()), (32, 32), "{sixths}");
    }
}

fn in_order(slots: &[Option<usize>]) -> Vec<usize> {
    let mut chosen: Vec<usize> = slots.iter().flatten().copied().collect();
    crate::sorted::sort_by(&mut chosen, Ord::cmp);
    chosen
}
