//! The cheapest cover against proven optima and against every purchase.

use glasscall_core::quantity::{Density, Stops};
use glasscall_core::search::budget::Budget;
use glasscall_core::search::cover::{Cover, Need, Ware, cover};
use glasscall_tests::{Group, LawCase, law};
use proptest::prelude::*;
use serde_json::Value;

fn milli(value: &Value) -> Stops {
    let density = Density::new(value.as_f64().unwrap() / 1000.0);
    density.unwrap().stops()
}

fn whole(value: &Value) -> usize {
    usize::try_from(value.as_u64().unwrap()).unwrap()
}

fn problem(case: &LawCase) -> (Vec<Ware>, Vec<Need>) {
    let wares: Vec<Ware> = (case.given["catalogue"].as_array().unwrap().iter())
        .map(|ware| Ware {
            loss: milli(&ware["md"]),
            cost: ware["cost"].as_u64().unwrap(),
            most: whole(&ware["max"]),
        })
        .collect();
    let needs = (case.given["needs"].as_array().unwrap().iter())
        .map(|need| Need {
            loss: milli(&need["md"]),
            tolerance: milli(&need["tol_md"]),
            slots: whole(&need["slots"]),
            may: (0..wares.len()).collect(),
            one_of: None,
            places: None,
        })
        .collect();
    (wares, needs)
}

/// Every case of a group, in so many steps altogether: what the search takes now
/// and a twentieth more. A bound that rules out less takes more.
fn check(group: Group, steps: u64) {
    let mut budget = Budget::steps(steps);
    for case in group.cases {
        let (wares, needs) = problem(&case);
        let found = cover(&wares, &needs, &mut budget);
        assert!(found.proof.is_proven(), "{}", case.id);
        assert_eq!(found.cost, case.out["cost"], "{}: cost", case.id);
        assert_eq!(
            found.pieces as u64, case.out["pieces"],
            "{}: pieces",
            case.id
        );
        let cannot: Vec<usize> = (0..needs.len())
            .filter(|&need| found.served[need].is_none())
            .collect();
        assert_eq!(Value::from(cannot), case.out["cannot"], "{}", case.id);
        assert_serves(&case.id, &wares, &needs, &found);
    }
}

/// Each need is within tolerance, with pieces that were bought.
fn assert_serves(id: &str, wares: &[Ware], needs: &[Need], found: &Cover) {
    for (at, (need, served)) in needs.iter().zip(&found.served).enumerate() {
        let Some(served) = served else { continue };
        assert!(served.len() <= need.slots, "{id}: need {at}");
        for ware in served {
            let used = served.iter().filter(|other| *other == ware).count();
            assert!(used <= found.bought[*ware], "{id}: need {at}");
        }
        let taken: Stops = served.iter().map(|&ware| wares[ware].loss).sum();
        let off = (need.loss - taken).size().stops();
        assert!(off <= need.tolerance.stops() + 1e-9, "{id}: need {at}");
    }
}

#[test]
fn the_cheapest_cover_is_the_proven_optimum() {
    check(law("search", "cover"), 1_700);
}

#[test]
fn sixty_needs_are_covered_as_cheaply_as_proven_elsewhere() {
    check(law("search_large", "cover"), 170_600);
}

/// Least (cost, pieces) over every purchase, and the needs none serves.
fn by_enumeration(wares: &[Ware], needs: &[Need]) -> ((u64, usize), Vec<usize>) {
    let mut purchases: Vec<Vec<usize>> = vec![Vec::new()];
    for ware in wares {
        purchases = (purchases.into_iter())
            .flat_map(|bought| {
                (0..=ware.most).map(move |count| [bought.clone(), vec![count]].concat())
            })
            .collect();
    }
    let serves = |bought: &[usize], need: &Need| served_by(wares, need, bought, 0, 0.0, need.slots);
    let whole: Vec<usize> = wares.iter().map(|ware| ware.most).collect();
    let (can, cannot): (Vec<usize>, Vec<usize>) =
        (0..needs.len()).partition(|&at| serves(&whole, &needs[at]));
    let least = (purchases.iter())
        .filter(|bought| can.iter().all(|&at| serves(bought, &needs[at])))
        .map(|bought| {
            let cost = bought.iter().zip(wares).map(|(&n, w)| n as u64 * w.cost);
            (cost.sum(), bought.iter().sum())
        })
        .min()
        .unwrap();
    (least, cannot)
}

/// Whether some of the bought pieces from ware `at` on serve what is left.
fn served_by(
    wares: &[Ware],
    need: &Need,
    bought: &[usize],
    at: usize,
    taken: f64,
    slots: usize,
) -> bool {
    if at == wares.len() {
        return (need.loss.stops() - taken).abs() <= need.tolerance.stops() + 1e-9;
    }
    let most = if need.may.contains(&at) {
        bought[at].min(slots)
    } else {
        0
    };
    (0..=most).any(|count| {
        let more = count as f64 * wares[at].loss.stops();
        served_by(wares, need, bought, at + 1, taken + more, slots - count)
    })
}

prop_compose! {
    fn any_problem()(
        wares in prop::collection::vec((1u16..60, 0u64..9, 0usize..3), 1..6),
        needs in prop::collection::vec(
            (0u16..120, 0u16..9, 0usize..4, prop::collection::vec(prop::bool::weighted(0.8), 6)),
            0..6,
        ),
    ) -> (Vec<Ware>, Vec<Need>) {
        let stops = |tenths: u16| Stops::new(f64::from(tenths) * 0.1003).unwrap();
        let wares: Vec<Ware> = wares.into_iter()
            .map(|(loss, cost, most)| Ware { loss: stops(loss), cost, most })
            .collect();
        let needs = needs.into_iter().map(|(loss, tolerance, slots, may)| Need {
            loss: stops(loss),
            tolerance: Stops::new(f64::from(tolerance) * 0.1003 + 0.05).unwrap(),
            slots,
            may: (0..wares.len()).filter(|&ware| may[ware]).collect(),
            one_of: None,
            places: None,
        }).collect();
        (wares, needs)
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, ..ProptestConfig::default() })]

    #[test]
    fn no_purchase_is_cheaper((wares, needs) in any_problem()) {
        let found = cover(&wares, &needs, &mut Budget::endless());
        let (least, cannot) = by_enumeration(&wares, &needs);
        prop_assert_eq!((found.cost, found.pieces), least);
        let unserved: Vec<usize> = (0..needs.len())
            .filter(|&need| found.served[need].is_none())
            .collect();
        prop_assert_eq!(unserved, cannot);
        prop_assert!(found.proof.is_proven());
        assert_serves("generated", &wares, &needs, &found);
    }

    #[test]
    fn a_search_cut_short_never_claims_too_much(
        (wares, needs) in any_problem(),
        steps in 0u64..400,
    ) {
        let cut = cover(&wares, &needs, &mut Budget::steps(steps));
        let proven = cover(&wares, &needs, &mut Budget::endless());
        prop_assert!(cut.bound() <= proven.cost);
        if cut.proof.is_proven() {
            prop_assert_eq!((cut.cost, cut.pieces), (proven.cost, proven.pieces));
        }
    }
}
