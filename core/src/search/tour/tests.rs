//! Tours of one slot are coverings: each piece serves some set-ups, and the
//! fewest moves are the fewest pieces that serve all.

use super::super::day::{OrderPiece, Problem, SetUp};
use super::*;
use crate::quantity::Stops;
use crate::setup::SlotSet;

/// Set-ups that each take exactly one of the pieces listed for it.
fn set_ups<const N: usize>(served_by: [&[usize]; N]) -> [SetUp; N] {
    served_by.map(|pieces| SetUp {
        need: Stops::ZERO,
        tolerance: Stops::computed(50.0),
        keep: Vec::new(),
        one_of: Some(pieces.into()),
    })
}

/// The tour past the set-ups with so many steps, and what is left of them.
fn toured(set_ups: &[SetUp], steps: u64) -> (Tour, Budget) {
    with_day(set_ups, |day| {
        let mut budget = Budget::steps(steps);
        let tour = shortest_tour(day, &mut budget);
        (tour, budget)
    })
}

fn with_day<T>(set_ups: &[SetUp], of: impl FnOnce(&Day<'_>) -> T) -> T {
    let piece = OrderPiece {
        loss: Stops::computed(1.0),
        fits: SlotSet::all(1),
        count: 1,
        free: false,
    };
    let pieces = [piece; 93];
    let problem = Problem {
        pieces: &pieces,
        slot_count: 1,
        wheel: &[],
        set_ups,
    };
    let rack = Rack::new(&problem);
    let places: Vec<_> = (set_ups.iter())
        .map(|set_up| {
            let endless = &mut Budget::endless();
            rack.places(set_up, &problem, 100, endless).0
        })
        .collect();
    let can: Vec<usize> = (0..set_ups.len()).collect();
    of(&Day::new(&rack, &can, &places))
}

fn new_search<'a>(day: &'a Day<'a>) -> Search<'a> {
    Search {
        day,
        nodes: Vec::new(),
        met: alloc::vec![Vec::new(); day.places.len()],
        to_do: BTreeMap::new(),
        best: u32::MAX,
        end: None,
    }
}

/// The plane of seven points and seven lines: any two points share a line, so
/// the bound is one move; the three lines through one point take them all.
const SEVEN_POINTS: [&[usize]; 7] = [
    &[0, 1, 2],
    &[1, 3, 5],
    &[2, 3, 6],
    &[0, 3, 4],
    &[1, 4, 6],
    &[2, 4, 5],
    &[0, 5, 6],
];

#[test]
fn seven_points_take_three_lines() {
    let (tour, budget) = toured(&set_ups(SEVEN_POINTS), 10_000);
    assert_eq!(tour.proof, Proof::Proven);
    assert_eq!(tour.order.len(), 7);
    assert_eq!(budget, Budget::steps(10_000 - 8 * 58));
}

#[test]
fn a_tour_as_short_as_its_bound_is_looked_for_once() {
    // Two pieces, two moves: the start and the first stop either way.
    let (tour, budget) = toured(&set_ups([&[0], &[1]]), 100);
    assert_eq!(tour.proof, Proof::Proven);
    assert_eq!(budget, Budget::steps(100 - 3 * 3));
}

#[test]
fn cut_short_a_tour_stands_unproven() {
    // Eight places to look at each time. The start and seven lines: no tour yet.
    let given = [0, 1, 2, 3, 4, 5, 6];
    let through_a_point = [0, 3, 6, 1, 4, 2, 5];
    for (looks, order, proof) in [
        (8, given, Proof::Bound(1)),
        (9, through_a_point, Proof::Bound(1)),
        (51, through_a_point, Proof::Bound(2)),
        (57, through_a_point, Proof::Bound(2)),
        (58, through_a_point, Proof::Proven),
    ] {
        let (tour, _) = toured(&set_ups(SEVEN_POINTS), 8 * looks);
        assert_eq!((&tour.order[..], tour.proof), (&order[..], proof));
    }
}

#[test]
fn what_serves_most_is_gone_on_with_first() {
    // An eighth piece, the first in the case, serves two points only: after two
    // stops a pair of lines, which a third completes, comes before it.
    let served_by = [
        &[0, 1, 2, 3][..],
        &[0, 2, 4, 6],
        &[3, 4, 7],
        &[1, 4, 5],
        &[2, 5, 7],
        &[3, 5, 6],
        &[1, 6, 7],
    ];
    let (tour, _) = toured(&set_ups(served_by), 9 * 10);
    assert_eq!(tour.order, [0, 3, 6, 1, 4, 2, 5]);
}

#[test]
fn twelve_served_come_before_eleven() {
    // A piece for each two of fourteen set-ups, so that every bound is alike,
    // one for eleven and one for twelve: what these leave is a pair more.
    let mut pieces: Vec<Vec<usize>> = [
        (0..11).collect(),
        (0..13).filter(|&point| point != 10).collect(),
    ]
    .into();
    pieces.extend((0..14).flat_map(|a| (0..a).map(move |b| [a, b].into())));
    let served: Vec<Vec<usize>> = (0..14)
        .map(|point| {
            let serves = |piece: &usize| pieces[*piece].contains(&point);
            (0..pieces.len()).filter(serves).collect()
        })
        .collect();
    let served_by: [&[usize]; 14] = core::array::from_fn(|point| &served[point][..]);
    // Looks from the start and from the best first stop only.
    let (tour, _) = toured(&set_ups(served_by), 94 * 2);
    assert_eq!(tour.order, [0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 11, 12, 10, 13]);
}

#[test]
fn what_was_shot_before_stays_shot() {
    // Each two set-ups share a piece: two moves, shooting one of them twice.
    let (tour, _) = toured(&set_ups([&[0, 1], &[1, 2], &[0, 2]]), 1000);
    assert_eq!(tour.proof, Proof::Proven);
    assert_eq!(tour.order, [0, 2, 1]);
}

#[test]
fn a_way_with_as_few_moves_and_as_much_shot_replaces_another() {
    with_day(&set_ups([&[0]]), |day| {
        let mut search = new_search(day);
        search.meet(0, 0b01, 3);
        search.meet(0, 0b11, 3);
        assert_eq!(search.met[0], [(0b11, 3)]);
        // Fewer moves with less shot, and more moves with more: both stay.
        search.meet(0, 0b01, 1);
        search.meet(0, 0b111, 4);
        assert_eq!(search.met[0], [(0b11, 3), (0b01, 1), (0b111, 4)]);
    });
}

#[test]
fn of_set_ups_served_wherever_another_is_only_the_other_counts() {
    let core = |served: &[Shot], count| {
        let places = (0..).map(|mark| {
            let mut place = EMPTY;
            place[0] = mark;
            place
        });
        core_of(&places.zip(served.iter().copied()).collect(), count)
    };
    assert_eq!(core(&[0b011, 0b010, 0b100], 3), 0b101);
    assert_eq!(core(&[0b011, 0b001], 2), 0b10);
    // Of twins the first.
    assert_eq!(core(&[0b11, 0b11], 2), 0b01);
}

#[test]
fn of_too_many_places_those_that_serve_most_stay_and_one_for_each() {
    let two = core::iter::repeat_n((EMPTY, 0b11), MAX_PLACES);
    let one = [0b001, 0b100, 0b100].map(|shot| (EMPTY, shot));
    let kept = most_useful(one.into_iter().chain(two).collect());
    assert_eq!(kept.len(), MAX_PLACES + 1);
    assert_eq!(kept.last(), Some(&(EMPTY, 0b100)));
}
