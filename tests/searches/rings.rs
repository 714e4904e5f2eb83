//! Rings against every choice of paths.

use glasscall_core::quantity::Length;
use glasscall_core::search::budget::Budget;
use glasscall_core::search::rings::{ClearCone, Front, Lens, Problem, Ring, fit_rings};
use proptest::prelude::*;

fn mm(length: f64) -> Length {
    Length::new(length).unwrap()
}

const THREADS: [f64; 5] = [67.0, 72.0, 77.0, 82.0, 86.0];

fn front_size(front: Front) -> f64 {
    let (Front::Thread(size) | Front::Outside(size)) = front;
    size.millimetres()
}

/// Every chain of distinct rings from the lens to the filter, by trial.
fn chains(problem: &Problem<'_>, lens: Lens) -> Vec<Vec<usize>> {
    let mut all: Vec<Vec<usize>> = vec![Vec::new()];
    let mut longest = all.clone();
    for _ in 0..problem.chain {
        longest = (longest.into_iter())
            .flat_map(|chain| {
                (0..problem.rings.len())
                    .filter(|ring| !chain.contains(ring))
                    .map(|ring| [chain.clone(), vec![ring]].concat())
                    .collect::<Vec<_>>()
            })
            .collect();
        all.extend(longest.clone());
    }
    let reaches = |chain: &Vec<usize>| {
        let mut front = lens.front;
        let mut ahead = 0.0;
        let joined = chain.iter().all(|&ring| {
            let ring = &problem.rings[ring];
            let joins = ring.from == front;
            front = Front::Thread(ring.to);
            ahead += ring.depth.millimetres();
            let down = ring.to.millimetres() < front_size(ring.from);
            let passes = match lens.needs_clear {
                Some(needed) => {
                    let wanted = needed.at_rim.millimetres() + needed.per_mm * ahead;
                    ring.clear.millimetres() >= wanted || (needed.computed && !down)
                }
                None => !down,
            };
            joins && passes && (ring.owned > 0 || ring.price.is_some())
        });
        joined && front == Front::Thread(problem.filter)
    };
    all.retain(reaches);
    all
}

/// Lenses left out, cost, rings, depth.
type Price = (usize, u64, usize, i64);

fn depth(problem: &Problem<'_>, chain: &[usize]) -> i64 {
    let depth: f64 = chain
        .iter()
        .map(|&r| problem.rings[r].depth.millimetres())
        .sum();
    #[expect(clippy::cast_possible_truncation, reason = "a few centimetres")]
    let depth = (depth * 1000.0).round() as i64;
    depth
}

/// The least price over every choice of one chain for each lens.
fn by_enumeration(problem: &Problem<'_>) -> Option<Price> {
    let mut plans: Vec<Vec<Option<Vec<usize>>>> = vec![Vec::new()];
    for &lens in problem.lenses {
        let chains: Vec<Option<Vec<usize>>> = (chains(problem, lens).into_iter())
            .map(Some)
            .chain(std::iter::once(None))
            .collect();
        plans = (plans.into_iter())
            .flat_map(|plan| {
                (chains.iter()).map(move |chain| [plan.clone(), vec![chain.clone()]].concat())
            })
            .collect();
    }
    let price = |plan: &Vec<Option<Vec<usize>>>| {
        let left_out = plan.iter().filter(|chain| chain.is_none()).count();
        let plan: Vec<Vec<usize>> = plan.iter().flatten().cloned().collect();
        let mut cost = 0;
        for (at, ring) in problem.rings.iter().enumerate() {
            let used = plan.iter().flatten().filter(|&&used| used == at).count();
            let bought = used.saturating_sub(ring.owned);
            if bought > 0 {
                cost += ring.price? * bought as u64;
            }
        }
        let rings = plan.iter().map(Vec::len).sum();
        Some((
            left_out,
            cost,
            rings,
            plan.iter().map(|chain| depth(problem, chain)).sum(),
        ))
    };
    plans.iter().filter_map(price).min()
}

prop_compose! {
    fn ring()(
        from in 0usize..5,
        to in 0usize..5,
        clamp in prop::bool::weighted(0.15),
        depth in 2u8..8,
        owned in 0usize..3,
        price in prop::option::of(1u64..9),
    ) -> Ring {
        let (from, to) = (THREADS[from], THREADS[to]);
        Ring {
            from: if clamp { Front::Outside(mm(from)) } else { Front::Thread(mm(from)) },
            to: mm(to),
            depth: mm(f64::from(depth)),
            clear: mm(from.min(to) - 2.0),
            owned,
            price,
        }
    }
}

prop_compose! {
    fn lens()(
        front in 0usize..5,
        outside in prop::bool::weighted(0.15),
        clear in prop::option::weighted(0.4, (60u8..80, prop::sample::select(vec![0.0, 0.7, 1.8]), any::<bool>())),
    ) -> Lens {
        let size = mm(THREADS[front]);
        Lens {
            front: if outside { Front::Outside(size) } else { Front::Thread(size) },
            needs_clear: clear.map(|(clear, per_mm, computed)| ClearCone { at_rim: mm(f64::from(clear)), per_mm, computed }),
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, ..ProptestConfig::default() })]

    #[test]
    fn no_choice_of_rings_is_cheaper(
        lenses in prop::collection::vec(lens(), 0..4),
        rings in prop::collection::vec(ring(), 0..6),
        filter in 0usize..5,
        chain in 0usize..4,
    ) {
        let filter = mm(THREADS[filter]);
        let problem = Problem { lenses: &lenses, filter, rings: &rings, chain };
        let found = fit_rings(&problem, &mut Budget::endless());
        prop_assert!(found.proof.is_proven());
        let best = by_enumeration(&problem);
        let settled: Vec<&Vec<usize>> = found.settled.iter().flatten().collect();
        // As many lenses as can be, then the least cost.
        let rings_on = settled.iter().map(|path| path.len()).sum();
        let depth_in_all = settled.iter().map(|path| depth(&problem, path)).sum();
        let price = (lenses.len() - settled.len(), found.cost, rings_on, depth_in_all);
        prop_assert_eq!(Some(price), best);
        for (lens, path) in lenses.iter().zip(&found.alone) {
            let owned = chains(&problem, *lens).into_iter()
                .filter(|chain| chain.iter().all(|&ring| rings[ring].owned > 0));
            let least = owned.map(|chain| (chain.len(), depth(&problem, &chain))).min();
            let own = path.as_ref().map(|path| (path.len(), depth(&problem, path)));
            prop_assert_eq!(own, least);
        }
    }
}
