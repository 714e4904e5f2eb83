use super::*;
use crate::quantity::Length;

fn mm(length: f64) -> Length {
    Length::new(length).unwrap()
}

fn ring(from: f64, to: f64, owned: usize, price: Option<u64>) -> Ring {
    Ring {
        from: Front::Thread(mm(from)),
        to: mm(to),
        depth: mm(3.0),
        clear: mm(from.min(to) - 2.0),
        owned,
        price,
    }
}

fn lens(thread: f64) -> Lens {
    Lens {
        front: Front::Thread(mm(thread)),
        needs_clear: None,
    }
}

fn fitted(lenses: &[Lens], rings: &[Ring]) -> Fitting {
    let problem = Problem {
        lenses,
        filter: mm(82.0),
        rings,
        chain: 3,
    };
    fit_rings(&problem, &mut Budget::endless())
}

#[test]
fn the_filters_own_thread_needs_no_ring() {
    let found = fitted(&[lens(82.0)], &[]);
    assert_eq!(found.alone, [Some(Vec::new())]);
    assert_eq!((found.cost, found.proof), (0, Proof::Proven));
}

#[test]
fn one_ring_is_better_than_two() {
    let rings = [
        ring(72.0, 77.0, 1, None),
        ring(77.0, 82.0, 1, None),
        ring(72.0, 82.0, 1, None),
    ];
    assert_eq!(fitted(&[lens(72.0)], &rings).alone, [Some([2].into())]);
}

#[test]
fn two_lenses_that_want_one_ring_clash_and_the_cheaper_way_out_is_bought() {
    let rings = [
        ring(72.0, 82.0, 1, Some(3000)),
        ring(72.0, 77.0, 0, Some(500)),
        ring(77.0, 82.0, 1, Some(900)),
    ];
    let found = fitted(&[lens(72.0), lens(72.0)], &rings);
    assert_eq!(found.clashes[0].lenses, [0, 1]);
    assert_eq!(found.buy, [0, 1, 0]);
    assert_eq!(found.cost, 500);
}

#[test]
fn a_ring_that_steps_down_waits_for_a_known_clear_diameter() {
    let rings = [ring(95.0, 82.0, 1, None)];
    assert_eq!(fitted(&[lens(95.0)], &rings).alone, [None]);
    let known = |clear| Lens {
        needs_clear: Some(ClearCone::straight(mm(clear))),
        ..lens(95.0)
    };
    assert_eq!(fitted(&[known(79.0)], &rings).alone, [Some([0].into())]);
    assert_eq!(fitted(&[known(81.0)], &rings).alone, [None]);
}

#[test]
fn a_lens_without_thread_takes_a_clamp_of_its_size() {
    let clamp = Ring {
        from: Front::Outside(mm(95.0)),
        ..ring(95.0, 82.0, 1, None)
    };
    let outside = |outer| Lens {
        front: Front::Outside(mm(outer)),
        needs_clear: Some(ClearCone::straight(mm(70.0))),
    };
    assert_eq!(fitted(&[outside(95.0)], &[clamp]).alone, [Some([0].into())]);
    assert_eq!(fitted(&[outside(94.0)], &[clamp]).alone, [None]);
}

#[test]
fn a_lens_nothing_reaches_is_named() {
    let found = fitted(&[lens(58.0), lens(82.0)], &[]);
    assert_eq!(found.settled, [None, Some(Vec::new())]);
}

#[test]
fn a_ring_nobody_wants_clashes_with_nobody() {
    let rings = [ring(72.0, 82.0, 1, None), ring(58.0, 67.0, 0, Some(500))];
    assert_eq!(fitted(&[lens(72.0)], &rings).clashes, []);
}

/// The first lens has a free way, but its last ring is worth more on the
/// second: buying 100 spares 1000.
fn greed_is_dear(budget: &mut Budget) -> Fitting {
    let rings = [
        ring(77.0, 82.0, 1, None),
        ring(67.0, 77.0, 1, None),
        ring(67.0, 82.0, 0, Some(100)),
        ring(72.0, 77.0, 1, None),
        ring(72.0, 82.0, 0, Some(1000)),
    ];
    let problem = Problem {
        lenses: &[lens(67.0), lens(72.0)],
        filter: mm(82.0),
        rings: &rings,
        chain: 3,
    };
    fit_rings(&problem, budget)
}

#[test]
fn a_ring_is_bought_to_free_one_that_is_worth_more() {
    let best = greed_is_dear(&mut Budget::endless());
    assert_eq!((best.cost, best.proof), (100, Proof::Proven));
    assert_eq!(best.settled, [Some([2].into()), Some([3, 0].into())]);
}

#[test]
fn one_hopeless_lens_does_not_empty_the_plan() {
    // 77 to 95 once; the third lens has that thread itself.
    let rings = [ring(77.0, 95.0, 1, None)];
    let problem = Problem {
        lenses: &[lens(77.0), lens(77.0), lens(95.0)],
        filter: mm(95.0),
        rings: &rings,
        chain: 3,
    };
    let found = fit_rings(&problem, &mut Budget::endless());
    let settled = found.settled.iter().flatten().count();
    assert_eq!((settled, found.cost, found.proof), (2, 0, Proof::Proven));
    assert_eq!(found.settled[2], Some(Vec::new()));
}

#[test]
fn of_more_paths_than_are_kept_the_cheapest_is_found_all_the_same() {
    // Eight rings to each of four steps, 4096 paths; the last of each costs 1.
    let threads = [62.0, 67.0, 72.0, 77.0, 82.0];
    let price = |nth| Some(if nth == 7 { 1 } else { 100 });
    let rings: Vec<Ring> = threads
        .windows(2)
        .flat_map(|pair| (0..8).map(move |nth| ring(pair[0], pair[1], 0, price(nth))))
        .collect();
    let problem = Problem {
        lenses: &[lens(62.0)],
        filter: mm(82.0),
        rings: &rings,
        chain: 4,
    };
    let found = fit_rings(&problem, &mut Budget::endless());
    assert_eq!((found.cost, found.proof), (4, Proof::Proven));
    // And of owned ones the flattest, wherever it stands in the list.
    let owned: Vec<Ring> = (rings.iter().enumerate())
        .map(|(at, ring)| Ring {
            owned: 1,
            depth: mm(if at % 8 == 7 { 2.0 } else { 3.0 }),
            ..*ring
        })
        .collect();
    let problem = Problem {
        rings: &owned,
        ..problem
    };
    let found = fit_rings(&problem, &mut Budget::endless());
    assert_eq!(found.alone, [Some([7, 15, 23, 31].into())]);
}

#[test]
fn cut_short_it_tells_the_least_cost_still_open() {
    // Two rings in a row at most, which the flow does not see: it takes three
    // free ones, and the plan at hand must buy.
    let rings = [
        ring(67.0, 72.0, 1, None),
        ring(72.0, 77.0, 1, None),
        ring(77.0, 82.0, 1, None),
        ring(67.0, 82.0, 0, Some(300)),
        ring(67.0, 77.0, 0, Some(200)),
    ];
    let problem = Problem {
        lenses: &[lens(67.0)],
        filter: mm(82.0),
        rings: &rings,
        chain: 2,
    };
    let cut = fit_rings(&problem, &mut Budget::steps(0));
    assert_eq!(
        (cut.cost, cut.proof, cut.bound()),
        (200, Proof::Bound(0), 0)
    );
    let whole = fit_rings(&problem, &mut Budget::endless());
    assert_eq!((whole.cost, whole.proof), (200, Proof::Proven));
}

#[test]
fn fifteen_lenses_and_a_hundred_and_fifty_rings_take_few_steps() {
    // Threads of 49 to 95 mm, three rings owned of every other sort: what took
    // 7.8 s. A step is some tens of nanoseconds: far under 2 s.
    let threads = [
        49.0, 52.0, 55.0, 58.0, 62.0, 67.0, 72.0, 77.0, 82.0, 86.0, 95.0,
    ];
    let mut dice = 7_u64;
    let mut next = |below: u64| {
        dice = dice.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1);
        (dice >> 33) % below
    };
    let at = |nth: u64| threads[usize::try_from(nth).unwrap_or(0)];
    let rings: Vec<Ring> = (0..150)
        .map(|_| {
            let from = next(10);
            let to = from + 1 + next(10 - from);
            let owned = usize::from(next(2) == 0);
            let price = (next(4) > 0).then(|| 500 + next(40) * 50);
            Ring {
                depth: mm(2.0 + f64::from(u32::try_from(next(30)).unwrap_or(0)) / 10.0),
                ..ring(at(from), at(to), owned, price)
            }
        })
        .collect();
    let lenses: Vec<Lens> = (0..15).map(|_| lens(at(next(9)))).collect();
    let problem = Problem {
        lenses: &lenses,
        filter: mm(95.0),
        rings: &rings,
        chain: 3,
    };
    let found = fit_rings(&problem, &mut Budget::steps(20_000_000));
    assert_eq!(found.proof, Proof::Proven);
    assert!(found.settled.iter().flatten().count() >= 14);
}
