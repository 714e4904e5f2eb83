use super::{Asked, Found, solve};

#[test]
fn a_dale_in_the_piece_at_an_end_is_gone_down_to() {
    // A parabola whose bottom lies in the last hundredth, and in the first.
    for bottom in [99.6, 0.3] {
        let found = solved(0.0, 100.0, |x| Some((x - bottom) * (x - bottom) - 0.04));
        let [one, other] = &found.met[..] else {
            unreachable!("two roots about {bottom}: {found:?}");
        };
        assert!((one.from - (bottom - 0.2)).abs() < 1e-9);
        assert!((other.from - (bottom + 0.2)).abs() < 1e-9);
        let upside = solved(0.0, 100.0, |x| Some(0.04 - (x - bottom) * (x - bottom)));
        assert_eq!(upside.met.len(), 2);
    }
}

fn solved(from: f64, to: f64, mut f: impl FnMut(f64) -> Option<f64>) -> Found {
    let asked = Asked {
        from,
        to,
        tolerance: 1e-9,
    };
    solve(asked, &mut f)
}

fn roots(found: &Found) -> Vec<f64> {
    found.met.iter().map(|met| met.from).collect()
}

use alloc::vec::Vec;

#[test]
fn one_several_and_none_are_answers() {
    let found = solved(0.0, 10.0, |x| Some(x * x - 2.0));
    assert_eq!(found.met.len(), 1);
    assert!((found.met[0].from - core::f64::consts::SQRT_2).abs() < 1e-15);
    assert!(found.complete && !found.met[0].steps);
    let found = solved(0.0, 10.0, |x| Some((x - 1.0) * (x - 2.5) * (x - 7.0)));
    let exact = [1.0, 2.5, 7.0];
    assert_eq!(found.met.len(), 3);
    for (root, exact) in roots(&found).iter().zip(exact) {
        assert!((root - exact).abs() < 1e-12, "{root}");
    }
    assert_eq!(found.at_least.len(), 2);
    assert!((found.at_least[0].1 - 2.5).abs() < 1e-12 && found.at_least[1].1 == 10.0);
    let found = solved(0.0, 10.0, |x| Some((x - 3.0) * (x - 3.0) + 1.0));
    assert!(found.met.is_empty());
    let (at, above) = found.nearest.unwrap();
    assert!((at - 3.0).abs() < 1e-6 && (above - 1.0).abs() < 1e-12);
    assert_eq!(found.at_least, [(0.0, 10.0)]);
}

#[test]
fn a_dale_between_two_places_is_gone_down_into() {
    // Both roots lie within one ninety-sixth of the range.
    let found = solved(0.0, 96.0, |x| Some((x - 41.4) * (x - 41.6)));
    assert_eq!(found.met.len(), 2, "{found:?}");
    assert!((found.met[0].from - 41.4).abs() < 1e-9);
    assert!((found.met[1].from - 41.6).abs() < 1e-9);
    assert_eq!(found.at_least.len(), 2);
}

#[test]
fn a_top_that_only_touches_is_met() {
    let found = solved(0.0, 10.0, |x| Some(-(x - 3.3) * (x - 3.3)));
    assert_eq!(found.met.len(), 1);
    assert!((found.met[0].from - 3.3).abs() < 1e-4);
}

#[test]
fn what_jumps_past_it_is_told_as_a_step() {
    let found = solved(0.0, 1.0, |x| Some(if x < 1.0 / 3.0 { -1.0 } else { 1.0 }));
    assert!(found.met[0].steps);
    assert!((found.met[0].from - 1.0 / 3.0).abs() < 1e-15);
    assert_eq!(found.at_least, [(found.met[0].from, 1.0)]);
}

#[test]
fn what_stands_still_is_met_from_one_end_to_the_other() {
    let found = solved(0.0, 10.0, |x| Some(x.clamp(2.25, 7.125) - 2.25));
    assert_eq!(found.met.len(), 1);
    assert_eq!(found.met[0].from, 0.0);
    assert!((found.met[0].to - 2.25).abs() < 1e-8);
    let found = solved(0.0, 10.0, |x| {
        Some((x - 2.25).min(0.0) + (x - 7.125).max(0.0))
    });
    assert!((found.met[0].from - 2.25).abs() < 1e-8, "{found:?}");
    assert!((found.met[0].to - 7.125).abs() < 1e-8);
}

#[test]
fn the_ends_of_an_answer_are_closed_in_on() {
    // √x − 1 is asked beside its domain too.
    let found = solved(-3.0, 7.0, |x| (x >= 0.0).then(|| x.sqrt()));
    assert_eq!(found.met.len(), 1, "{found:?}");
    assert!(found.met[0].from < 1e-15 && found.met[0].from >= 0.0);
    let found = solved(-3.0, 7.0, |x| (1.0..=2.0).contains(&x).then_some(x - 1.999));
    assert!((found.met[0].from - 1.999).abs() < 1e-12);
    assert_eq!(found.at_least[0].1, 2.0);
    assert_eq!(solved(0.0, 1.0, |_| None).nearest, None);
}

#[test]
fn both_ends_of_the_range_belong_to_it() {
    assert_eq!(roots(&solved(2.0, 3.0, |x| Some(x - 2.0))), [2.0]);
    assert_eq!(roots(&solved(2.0, 3.0, |x| Some(x - 3.0))), [3.0]);
}

#[test]
fn a_wide_range_is_looked_at_by_ratios() {
    for exact in [1e-8, 3.7e-3, 1.0, 4.2e5] {
        let found = solved(1e-9, 1e6, |x: f64| Some((x / exact).ln()));
        assert!((found.met[0].from / exact - 1.0).abs() < 1e-9);
    }
}

#[test]
fn a_round_number_that_means_another_is_no_step() {
    // As a ring is engraved: 22 and 29 stand for a little less or more.
    let meant = |x: f64| match x {
        22.0 => 22.627,
        29.0 => 28.509,
        other => other,
    };
    // Some lie within a thousandth of a piece of an end that is engraved.
    let near = [1e-2, 1e-4, 1e-6, 1e-8].map(|aside| [22.0 + aside, 29.0 - aside]);
    for wanted in [22.1, 22.5, 28.78, 28.95].into_iter().chain(near.concat()) {
        for (from, to) in [(22.0, 46.0), (16.0, 40.0), (29.0 - 16.0, 29.0)] {
            let found = solved(from, to, |x| Some(meant(x) - wanted));
            let smooth = found.met.iter().filter(|met| !met.steps);
            let roots: Vec<f64> = smooth.map(|met| met.from).collect();
            assert!(
                roots.len() == 1 && (roots[0] - wanted).abs() < 1e-9,
                "{wanted} from {from} to {to}: {found:?}"
            );
        }
    }
}

#[test]
fn it_ends_whatever_the_answer_is_like() {
    let mut looks = 0_u32;
    let found = solved(0.0, 1.0, |x| {
        looks += 1;
        // As rough as it gets.
        Some((x * 1e9).sin() + 0.5)
    });
    assert!(looks <= 1500);
    assert!(!found.met.is_empty());
}
