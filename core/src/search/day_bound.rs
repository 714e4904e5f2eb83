//! Moves that no plan of a day can do without.

use super::day::{Problem, SetUp};
use crate::sorted::sort_by;
use alloc::vec::Vec;

/// Sums taken in another order differ by less.
const HAIR: f64 = 1e-9;

/// The fewest moves that the set-ups ask for on their own, places unseen.
///
/// The greatest of three: pieces that must come in by name, once each; the
/// fewest pieces that one of the set-ups needs; and stacks that no two of some
/// set-ups can share, each of which takes a move, but for the empty one.
pub(super) fn least_moves(problem: &Problem<'_>, served: &[usize]) -> usize {
    let set_ups = || served.iter().map(|&at| &problem.set_ups[at]);
    let named = named_pieces(problem, served);
    let most = set_ups().map(|set_up| fewest_pieces(problem, set_up)).max();
    // With a wheel one stack serves many needs.
    let apart = if problem.wheel.len() > 1 {
        0
    } else {
        let with = |asked: bool| -> Vec<&SetUp> {
            set_ups().filter(|set_up| asks(set_up) == asked).collect()
        };
        stacks(problem, &with(false), true) + stacks(problem, &with(true), false)
    };
    named.max(most.unwrap_or(0)).max(apart)
}

fn asks(set_up: &SetUp) -> bool {
    set_up.one_of.is_some()
}

/// Copies that set-ups keep by name, and a polarizer where one is asked for and
/// none of those is kept.
fn named_pieces(problem: &Problem<'_>, served: &[usize]) -> usize {
    let kept =
        |set_up: &SetUp, piece: usize| set_up.keep.iter().filter(|&&kept| kept == piece).count();
    let by_name = |piece: usize| {
        let counts = served.iter().map(|&at| kept(&problem.set_ups[at], piece));
        counts.max().unwrap_or(0)
    };
    let copies: Vec<usize> = (0..problem.pieces.len()).map(by_name).collect();
    let one_more = (served.iter()).any(|&at| {
        let one_of = problem.set_ups[at].one_of.as_deref().unwrap_or_default();
        !one_of.is_empty() && one_of.iter().all(|&piece| copies[piece] == 0)
    });
    copies.iter().sum::<usize>() + usize::from(one_more)
}

/// What a set-up's glass must take at the least, the wheel at its densest.
fn least_loss(problem: &Problem<'_>, set_up: &SetUp) -> f64 {
    let wheel = problem
        .wheel
        .iter()
        .map(|stops| stops.stops())
        .fold(0.0, f64::max);
    set_up.need.stops() - set_up.tolerance.stops() - wheel
}

/// The fewest pieces, all as heavy as the heaviest, that take so much.
fn fewest_pieces(problem: &Problem<'_>, set_up: &SetUp) -> usize {
    let mut losses: Vec<f64> = (problem.pieces.iter())
        .flat_map(|piece| {
            core::iter::repeat_n(piece.loss.stops(), piece.count.min(problem.slot_count))
        })
        .collect();
    sort_by(&mut losses, |a, b| b.total_cmp(a));
    let mut missing = least_loss(problem, set_up);
    let by_loss = (losses.iter())
        .take_while(|&&loss| {
            let more = missing > HAIR;
            missing -= loss;
            more
        })
        .count();
    by_loss.max(set_up.keep.len() + usize::from(asks(set_up)))
}

/// How many stacks set-ups of one sort take between them: the most whose bands
/// of losses keep apart. Less one where nothing at all serves one of them.
fn stacks(problem: &Problem<'_>, set_ups: &[&SetUp], may_be_empty: bool) -> usize {
    let wheel = problem.wheel.first().map_or(0.0, |stops| stops.stops());
    let mut bands: Vec<(f64, f64)> = (set_ups.iter())
        .map(|set_up| {
            let (middle, half) = (set_up.need.stops() - wheel, set_up.tolerance.stops());
            (middle - half, middle + half)
        })
        .collect();
    // Earliest end first picks the most that keep apart.
    sort_by(&mut bands, |a, b| a.1.total_cmp(&b.1));
    let mut count = 0;
    let mut end = f64::NEG_INFINITY;
    for (low, high) in &bands {
        if *low > end + HAIR {
            count += 1;
            end = *high;
        }
    }
    let empty = (set_ups.iter().zip(set_ups.iter().map(|set_up| {
        (
            set_up.need.stops() - wheel - set_up.tolerance.stops(),
            set_up.need.stops() - wheel + set_up.tolerance.stops(),
        )
    })))
    .any(|(set_up, (low, high))| low <= HAIR && high >= -HAIR && set_up.keep.is_empty());
    count - usize::from(count > 0 && may_be_empty && empty)
}

#[cfg(test)]
mod tests {
    use super::super::day::OrderPiece;
    use super::*;
    use crate::quantity::Stops;
    use crate::setup::SlotSet;

    fn set_up(need: f64) -> SetUp {
        SetUp {
            need: Stops::computed(need),
            tolerance: Stops::computed(0.1),
            keep: Vec::new(),
            one_of: None,
        }
    }

    fn least(set_ups: &[SetUp]) -> usize {
        let pieces = [1.0, 2.0].map(|loss| OrderPiece {
            loss: Stops::computed(loss),
            fits: SlotSet::all(2),
            count: 1,
            free: true,
        });
        let problem = Problem {
            pieces: &pieces,
            slot_count: 2,
            wheel: &[],
            set_ups,
        };
        let served: Vec<usize> = (0..set_ups.len()).collect();
        least_moves(&problem, &served)
    }

    #[test]
    fn what_must_come_in_and_what_cannot_be_shared_is_counted() {
        // Three stops take both pieces.
        assert_eq!(least(&[set_up(3.0)]), 2);
        // Four stacks, one of them empty.
        assert_eq!(least(&[1.0, 0.0, 2.0, 3.0, 2.05].map(set_up)), 3);
        let kept = SetUp {
            keep: [0, 1].into(),
            ..set_up(3.0)
        };
        let asked = SetUp {
            one_of: Some([0].into()),
            ..set_up(1.0)
        };
        assert_eq!(least(core::slice::from_ref(&kept)), 2);
        assert_eq!(least(&[asked.clone(), set_up(0.0)]), 1);
        assert_eq!(least(&[]), 0);
    }
}
