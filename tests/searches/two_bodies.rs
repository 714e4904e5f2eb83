//! Two bodies out of one case, against every pair of placings.

use glasscall_core::quantity::Stops;
use glasscall_core::search::budget::Budget;
use glasscall_core::search::stack::{Candidate, Problem, Ranking, whole_thirds};
use glasscall_core::search::two_bodies::share;
use glasscall_core::setup::SlotSet;
use proptest::prelude::*;

const SLOTS: usize = 2;

/// Every way to fill two slots: nothing or a candidate in each.
fn placings(candidates: &[Candidate]) -> Vec<Vec<usize>> {
    let mut all = vec![Vec::new()];
    for one in 0..candidates.len() {
        all.push(vec![one]);
        for other in one..candidates.len() {
            all.push(vec![one, other]);
        }
    }
    let fits = |placed: &Vec<usize>| match placed[..] {
        [] => true,
        [one] => candidates[one].fits != SlotSet::EMPTY,
        [one, other] => (0..SLOTS)
            .any(|slot| candidates[one].fits.holds(slot) && candidates[other].fits.holds(1 - slot)),
        _ => false,
    };
    let kept = |placed: &Vec<usize>| {
        (candidates.iter().enumerate()).all(|(at, candidate)| {
            let copies = placed.iter().filter(|&&one| one == at).count();
            copies >= candidate.kept && copies <= candidate.count
        })
    };
    all.retain(|placed| fits(placed) && kept(placed));
    all
}

fn thirds(candidates: &[Candidate], placed: &[usize], need: f64) -> i32 {
    let taken: f64 = placed.iter().map(|&at| candidates[at].loss.stops()).sum();
    whole_thirds(Stops::new(need - taken).unwrap())
}

fn piece() -> impl Strategy<Value = (f64, u8, u8, usize)> {
    (1..=12_u8, 1..=3_u8, 1..=3_u8, 1..=2_usize)
        .prop_map(|(thirds, one, other, count)| (f64::from(thirds) / 3.0, one, other, count))
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    #[test]
    fn no_pair_of_placings_serves_both_better(
        pieces in prop::collection::vec(piece(), 1..6),
        needs in [0.0..8.0_f64, 0.0..8.0_f64],
        kept in prop::option::of(0..5_usize),
    ) {
        let slots = |bits: u8| (0..SLOTS).filter(|slot| bits & (1 << slot) != 0)
            .fold(SlotSet::EMPTY, SlotSet::with);
        let body = |second: bool| -> Vec<Candidate> {
            (pieces.iter().enumerate()).map(|(at, &(loss, one, other, count))| Candidate {
                loss: Stops::new(loss).unwrap(),
                // As the other's slots tell them apart.
                infrared: Stops::new(f64::from(if second { one } else { other })).unwrap(),
                fits: slots(if second { other } else { one }),
                stays: SlotSet::EMPTY,
                kept: usize::from(kept == Some(at)),
                count,
            }).collect()
        };
        let lists = [body(false), body(true)];
        let problem = |at: usize| Problem {
            need: Stops::new(needs[at]).unwrap(),
            candidates: &lists[at],
            slot_count: SLOTS,
            occupied: SlotSet::EMPTY,
            wheel: &[],
            wheel_infrared: &[],
            ranking: Ranking::default(),
            limit: 1,
        };
        let found = share(&problem(0), &problem(1), &mut Budget::endless());
        let mut best: Option<(i32, i32, usize)> = None;
        for mine in placings(&lists[0]) {
            for other in placings(&lists[1]) {
                let enough = (0..pieces.len()).all(|at| {
                    let copies = |placed: &Vec<usize>| placed.iter().filter(|&&one| one == at).count();
                    copies(&mine) + copies(&other) <= pieces[at].3
                });
                if !enough { continue; }
                let both = [thirds(&lists[0], &mine, needs[0]), thirds(&lists[1], &other, needs[1])];
                let key = (both[0].max(both[1]), both[0] + both[1], mine.len() + other.len());
                if best.is_none_or(|least| key < least) { best = Some(key); }
            }
        }
        let told = found.stacks.as_ref().map(|[mine, other]| {
            let both = [whole_thirds(mine.left_over), whole_thirds(other.left_over)];
            (both[0].max(both[1]), both[0] + both[1], mine.pieces + other.pieces)
        });
        prop_assert!(found.proof.is_proven());
        prop_assert_eq!(told, best, "{:?}", found);
        if let Some(stacks) = &found.stacks {
            for (at, piece) in pieces.iter().enumerate() {
                let copies: usize = stacks.iter().map(|stack| stack.slots.iter().flatten().filter(|&&one| one == at).count()).sum();
                prop_assert!(copies <= piece.3);
            }
        }
    }
}
