use super::*;

fn ware(loss: f64, cost: u64, most: usize) -> Ware {
    Ware {
        loss: Stops::computed(loss),
        cost,
        most,
    }
}

fn need(loss: f64, slots: usize, wares: &[Ware]) -> Need {
    Need {
        loss: Stops::computed(loss),
        tolerance: Stops::computed(0.25),
        slots,
        may: (0..wares.len()).collect(),
        one_of: None,
        places: None,
    }
}

#[test]
fn what_finds_no_room_at_once_is_no_way_to_serve() {
    // 1 and 2 fit the first slot only; 3 either.
    let wares = [ware(1.0, 10, 1), ware(2.0, 10, 1), ware(3.0, 50, 1)];
    let mut asked = need(3.0, 2, &wares);
    asked.places = Some([0b01, 0b01, 0b11].into());
    let best = cover(&wares, &[asked.clone()], &mut Budget::endless());
    assert_eq!((best.cost, &best.served[0]), (50, &Some([2].into())));
    // With a slot each the two cheap ones do.
    asked.places = Some([0b01, 0b10, 0b11].into());
    let best = cover(&wares, &[asked], &mut Budget::endless());
    assert_eq!((best.cost, &best.served[0]), (20, &Some([0, 1].into())));
}

#[test]
fn two_pieces_serve_three_needs() {
    let wares = [ware(1.0, 10, 1), ware(2.0, 10, 1), ware(3.0, 15, 1)];
    let needs = [1.0, 2.0, 3.0].map(|loss| need(loss, 2, &wares));
    let best = cover(&wares, &needs, &mut Budget::endless());
    assert_eq!((best.cost, best.pieces), (20, 2));
    assert_eq!(best.bought, [1, 1, 0]);
    assert_eq!(best.served[2], Some([0, 1].into()));
    assert_eq!(best.proof, Proof::Proven);
}

#[test]
fn a_second_copy_is_bought_where_it_is_cheaper() {
    let wares = [ware(1.0, 10, 2), ware(2.0, 11, 1)];
    let needs = [1.0, 2.0].map(|loss| need(loss, 2, &wares));
    let best = cover(&wares, &needs, &mut Budget::endless());
    assert_eq!((best.cost, best.bought), (20, [2, 0].into()));
}

#[test]
fn a_need_out_of_reach_is_left_out() {
    let wares = [ware(1.0, 10, 1)];
    let needs = [need(1.0, 1, &wares), need(4.0, 3, &wares)];
    let best = cover(&wares, &needs, &mut Budget::endless());
    assert_eq!(best.cost, 10);
    assert_eq!(best.served, [Some([0].into()), None]);
}

#[test]
fn no_need_costs_nothing() {
    let wares = [ware(1.0, 10, 1)];
    let best = cover(&wares, &[need(0.2, 0, &wares)], &mut Budget::endless());
    assert_eq!((best.cost, best.pieces), (0, 0));
    assert_eq!(best.served, [Some(Vec::new())]);
}

#[test]
fn exactly_one_polarizer_goes_in_where_asked() {
    let wares = [ware(1.5, 30, 1), ware(1.0, 10, 1)];
    let mut asked = need(2.5, 2, &wares);
    asked.may = [1].into();
    asked.one_of = Some([0].into());
    let mut plain = need(1.5, 2, &wares);
    plain.may = [1].into();
    let best = cover(&wares, &[asked, plain], &mut Budget::endless());
    assert_eq!(best.served[0], Some([1, 0].into()));
    assert_eq!(best.served[1], None);
}

#[test]
fn a_search_cut_short_says_so() {
    let wares: Vec<Ware> = (1..12)
        .map(|at| ware(f64::from(at) * 0.31, 10, 1))
        .collect();
    let needs: Vec<Need> = (1..12)
        .map(|at| need(f64::from(at) * 0.57, 3, &wares))
        .collect();
    let proven = cover(&wares, &needs, &mut Budget::endless());
    for steps in [0, 30, 300, 1000] {
        let cut = cover(&wares, &needs, &mut Budget::steps(steps));
        assert!(cut.bound() <= proven.cost);
        assert!(!cut.proof.is_proven() || cut.cost == proven.cost);
    }
    assert!(
        !cover(&wares, &needs, &mut Budget::steps(0))
            .proof
            .is_proven()
    );
}

/// A need that only one ware serves, which is bought for it.
fn exactly(loss: f64, wares: &[Ware]) -> Need {
    Need {
        tolerance: Stops::computed(0.01),
        ..need(loss, 1, wares)
    }
}

#[test]
fn of_what_is_bought_the_closest_serves() {
    for (near, far) in [(3.0, 2.8), (3.0, 3.2), (3.0625, 2.8)] {
        let wares = [ware(near, 10, 1), ware(far, 10, 1)];
        let needs = [
            need(3.0, 1, &wares),
            exactly(near, &wares),
            exactly(far, &wares),
        ];
        let best = cover(&wares, &needs, &mut Budget::endless());
        assert_eq!(best.bought, [1, 1]);
        assert_eq!(best.served[0], Some([0].into()), "{near} or {far}");
    }
}

#[test]
fn of_two_equally_close_the_fewer_pieces_serve() {
    let wares = [ware(1.0, 10, 1), ware(2.0, 10, 1), ware(3.0, 10, 1)];
    let needs = [1.0, 2.0, 3.0].map(|loss| exactly(loss, &wares));
    let both = [&needs[..], &[need(3.0, 2, &wares)]].concat();
    let best = cover(&wares, &both, &mut Budget::endless());
    assert_eq!(best.served[3], Some([2].into()));
}

#[test]
fn what_the_polarizer_takes_counts_once() {
    let wares = [
        ware(1.0, 30, 1),
        ware(3.0, 10, 1),
        ware(3.2, 10, 1),
        ware(1.0625, 30, 0),
    ];
    let with_polarizer = |loss| Need {
        may: [1, 2].into(),
        one_of: Some([0, 3].into()),
        ..need(loss, 2, &wares)
    };
    let needs = [
        with_polarizer(4.0),
        exactly(3.0, &wares),
        exactly(3.2, &wares),
    ];
    let best = cover(&wares, &needs, &mut Budget::endless());
    assert_eq!(best.served[0], Some([0, 1].into()));
    // 1 + 3 is a stop too much for 3.
    let best = cover(&wares, &[with_polarizer(3.0)], &mut Budget::endless());
    assert_eq!((best.cost, best.served), (0, [None].into()));
}

#[test]
fn a_choice_that_serves_without_its_lightest_is_left_out() {
    // 1 is a quarter short of 1.25, the tolerance's very end.
    let wares = [ware(1.0, 10, 1), ware(0.25, 10, 1)];
    let needs = [need(1.25, 2, &wares)];
    let shelf = Shelf::new(&wares, &needs);
    let (ways, all) = shelf.ways(0, &needs[0], &mut Budget::endless());
    assert_eq!((ways.len(), all), (1, true));
}

#[test]
fn twenty_thousand_ways_are_kept() {
    // 28 pieces of about a stop, any four of which serve: 20475 choices.
    let wares: Vec<Ware> = (0..28)
        .map(|at| ware(1.0 + 0.001 * f64::from(at), 10, 1))
        .collect();
    let needs = [need(4.05, 4, &wares)];
    let shelf = Shelf::new(&wares, &needs);
    let (ways, all) = shelf.ways(0, &needs[0], &mut Budget::endless());
    assert_eq!((ways.len(), all), (MAX_WAYS, false));
}

#[test]
fn more_ways_than_are_kept_still_have_a_bound() {
    // Forty wares of some 0.3 to four slots make 91 390 ways; each costs
    // 100, so 1.1 stops cost four of them, and 3.6 a stop at the least.
    let wares: Vec<Ware> = (0..40)
        .map(|nth| ware(0.3 + f64::from(nth) * 1e-6, 100, 1))
        .collect();
    let need = Need {
        loss: Stops::computed(1.2),
        tolerance: Stops::computed(0.05),
        slots: 4,
        may: (0..40).collect(),
        one_of: None,
        places: None,
    };
    let found = cover(&wares, &[need], &mut Budget::endless());
    assert!(!found.proof.is_proven());
    assert_eq!(found.cost, 400);
    // 1.15 stops at 100 for 0.300039.
    assert_eq!(found.bound(), 383);
}
