use super::*;

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
fn a_path_is_measured_in_rings_then_micrometres() {
    let deep = |depth| Ring {
        depth: mm(depth),
        ..ring(72.0, 77.0, 1, None)
    };
    let rings = [deep(3.0), deep(2.5)];
    let problem = Problem {
        lenses: &[],
        filter: mm(82.0),
        rings: &rings,
        chain: 2,
    };
    assert_eq!(size(&problem, &[0, 1].into()), (2, 5500));
    assert_eq!(sum((1, 2, 3), (10, 20, 30)), (11, 22, 33));
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
    // Four paths at the root, then two for the second lens, twice.
    let mut budget = Budget::steps(8);
    let best = greed_is_dear(&mut budget);
    assert_eq!((best.cost, best.proof), (100, Proof::Proven));
    assert_eq!(best.settled, [Some([2].into()), Some([3, 0].into())]);
    assert_eq!(budget, Budget::steps(0));
}

#[test]
fn cut_short_it_tells_the_least_cost_still_open() {
    let cut = greed_is_dear(&mut Budget::steps(7));
    assert_eq!((cut.cost, cut.proof), (1000, Proof::Bound(100)));
    assert_eq!(cut.bound(), 100);
}

#[test]
fn of_equal_plans_the_first_stands_and_its_mirror_is_not_looked_at() {
    let rings = [ring(72.0, 82.0, 1, Some(700)), ring(72.0, 82.0, 1, None)];
    assert_eq!(fitted(&[lens(72.0)], &rings).settled, [Some([0].into())]);
    let problem = Problem {
        lenses: &[lens(72.0), lens(72.0)],
        filter: mm(82.0),
        rings: &rings,
        chain: 1,
    };
    let mut budget = Budget::steps(100);
    let best = fit_rings(&problem, &mut budget);
    assert_eq!(best.settled, [Some([0].into()), Some([1].into())]);
    // Root four, and two below each way of the first lens.
    assert_eq!(budget, Budget::steps(100 - 8));
}

#[test]
fn lenses_alike_are_not_tried_in_every_order() {
    // Three rings for three lenses; the bound, blind to sharing among those
    // still open, would let every order through.
    let rings = [1.0, 2.0, 3.0].map(|depth| Ring {
        depth: mm(depth),
        ..ring(72.0, 82.0, 1, None)
    });
    let problem = Problem {
        lenses: &[lens(72.0); 3],
        filter: mm(82.0),
        rings: &rings,
        chain: 1,
    };
    let mut budget = Budget::steps(100);
    let best = fit_rings(&problem, &mut budget);
    assert_eq!(best.settled, [0, 1, 2].map(|ring| Some([ring].into())));
    // Nine looks at the root, six for each first ring, three for each two in
    // rising order.
    assert_eq!(budget, Budget::steps(100 - 9 - 3 * 6 - 3 * 3));
}

#[test]
fn the_bound_is_the_cheapest_of_every_lens_added() {
    let rings = [
        ring(72.0, 82.0, 0, Some(300)),
        ring(67.0, 82.0, 0, Some(40)),
    ];
    let problem = Problem {
        lenses: &[lens(72.0), lens(67.0)],
        filter: mm(82.0),
        rings: &rings,
        chain: 1,
    };
    let every: Vec<Vec<Path>> = (problem.lenses.iter())
        .map(|lens| paths(&problem, *lens))
        .collect();
    let search = Search::new(&problem, &every);
    assert_eq!(search.least(0), Some((340, 2, 6000)));
}
