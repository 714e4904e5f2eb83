//! Reflection, polarizer pairs and daylight against `laws/`.

use glasscall_core::physics::daylight::{clear_sky, parts};
use glasscall_core::physics::fresnel::{Reflectance, brewster_angle, pane, surface};
use glasscall_core::physics::polarizer_pair::PolarizerPair;
use glasscall_core::physics::sheet::Sheet;
use glasscall_core::quantity::{
    Angle, Elevation, ExtinctionRatio, Incidence, RefractiveIndex, Stops,
};
use glasscall_core::setup::Aim;
use glasscall_tests::{LawCase, law, near, number};

fn index(case: &LawCase) -> RefractiveIndex {
    RefractiveIndex::new(number(&case.given, "n")).unwrap()
}

fn incidence(case: &LawCase) -> Incidence {
    Incidence::new(number(&case.given, "angle_deg")).unwrap()
}

fn reflectances_agree(case: &LawCase, found: Reflectance, tolerance: f64) {
    for (field, found) in [
        ("rs", found.across),
        ("rp", found.along),
        ("mean", found.mean()),
    ] {
        near(&case.id, field, found, number(&case.out, field), tolerance);
    }
}

/// `variable_nd.json`: relative, and an absolute floor.
fn pair_near(case: &LawCase, field: &str, found: f64) {
    let wanted = number(&case.out, field);
    near(&case.id, field, found, wanted, 1e-10 * wanted.abs() + 1e-11);
}

#[test]
fn one_surface_reflects_by_fresnels_equations() {
    for case in law("fresnel", "surface").cases {
        let found = surface(index(&case), incidence(&case));
        reflectances_agree(&case, found, 1e-11);
        let left = found.left_by_polarizer();
        near(
            &case.id,
            "left",
            left,
            number(&case.out, "left_by_polarizer"),
            1e-11,
        );
        let weaker = found.weaker_by().unwrap().stops();
        let wanted = number(&case.out, "weaker_by_stops");
        near(
            &case.id,
            "weaker",
            weaker,
            wanted,
            1e-6 * wanted.abs() + 1e-11,
        );
        for (field, through) in [
            ("through_polarizer_best", found.along / 2.0),
            ("through_polarizer_worst", found.across / 2.0),
        ] {
            near(&case.id, field, through, number(&case.out, field), 1e-11);
        }
    }
}

#[test]
fn brewsters_angle_agrees() {
    for case in law("fresnel", "brewster").cases {
        let brewster = brewster_angle(index(&case));
        near(
            &case.id,
            "angle",
            brewster,
            number(&case.out, "brewster_deg"),
            1e-10,
        );
        let there = surface(index(&case), Incidence::new(brewster).unwrap());
        near(
            &case.id,
            "rs",
            there.across,
            number(&case.out, "rs_there"),
            1e-10,
        );
    }
}

#[test]
fn a_pane_reflects_from_both_faces() {
    for case in law("fresnel", "pane").cases {
        reflectances_agree(&case, pane(index(&case), incidence(&case)), 1e-9);
    }
}

#[test]
fn an_ideal_pair_follows_malus() {
    let pair = PolarizerPair::ideal(Stops::ZERO);
    for case in law("variable_nd", "ideal").cases {
        let theta = number(&case.given, "theta_deg");
        let taken = pair.taken_at(theta).map(Stops::stops);
        if case.out["stops_from_parallel"].is_null() {
            assert!(taken.is_none(), "{}: light in the dark", case.id);
            assert!(pair.slope_at(theta).is_none(), "{}: slope", case.id);
            continue;
        }
        pair_near(&case, "stops_from_parallel", taken.unwrap());
        pair_near(&case, "relative", (-taken.unwrap()).exp2());
        pair_near(&case, "stops_per_deg", pair.slope_at(theta).unwrap());
    }
}

#[test]
fn a_real_pair_follows_its_sheets() {
    for case in law("variable_nd", "real").cases {
        let given = |field| number(&case.given, field);
        // Parallel sheets pass the mean of squares, crossed ones the product.
        let (along, across) = (given("k1"), given("k2"));
        let passed = f64::midpoint(along * along, across * across);
        let ratio = ExtinctionRatio::new(passed / (along * across)).unwrap();
        let pair = PolarizerPair::new(Stops::new(-passed.log2()).unwrap(), ratio);
        let theta = given("theta_deg");
        let taken = pair.taken_at(theta).unwrap().stops();
        let most = pair.most().unwrap().stops();
        let loss = pair.loss.stops();
        pair_near(&case, "loss_stops", loss);
        pair_near(&case, "pair_ratio", (most - loss).exp2());
        pair_near(&case, "most_stops_from_parallel", most - loss);
        pair_near(&case, "stops_total", taken);
        pair_near(&case, "stops_from_parallel", taken - loss);
        pair_near(&case, "transmittance", (-taken).exp2());
        pair_near(&case, "stops_per_deg", pair.slope_at(theta).unwrap());
    }
}

#[test]
fn the_angle_for_a_density_agrees() {
    for case in law("variable_nd", "inverse").cases {
        let ratio = ExtinctionRatio::new(number(&case.given, "pair_ratio")).unwrap();
        let pair = PolarizerPair::new(Stops::ZERO, ratio);
        let stops = Stops::new(number(&case.given, "stops_from_parallel")).unwrap();
        let theta = pair.angle_for(stops).unwrap();
        near(
            &case.id,
            "theta",
            theta,
            number(&case.out, "theta_deg"),
            1e-8,
        );
    }
}

#[test]
fn a_pair_is_uneven_across_a_wide_frame() {
    let zero = Angle::new(0.0).unwrap();
    let aim = Aim::new(zero, Elevation::new(0.0).unwrap(), zero);
    let pair = PolarizerPair::ideal(Stops::ZERO);
    for case in law("variable_nd", "across_frame").cases {
        let given = |field| number(&case.given, field);
        let sheets = [given("psi1_deg"), given("psi2_deg")].map(|psi| Sheet::new(aim, psi));
        let right = given("sensor_w_mm") / 2.0 / given("focal_mm");
        let up = given("sensor_h_mm") / 2.0 / given("focal_mm");
        for (field, x, y) in [
            ("centre", 0.0, 0.0),
            ("right", right, 0.0),
            ("top", 0.0, up),
            ("top_right", right, up),
            ("top_left", -right, up),
        ] {
            let taken = pair.taken_from(aim.ray(x, y), sheets).unwrap().stops();
            near(&case.id, field, taken, number(&case.out, field), 1e-8);
        }
    }
}

fn altitude(case: &LawCase) -> Elevation {
    Elevation::new(number(&case.given, "altitude_deg")).unwrap()
}

#[test]
fn the_clear_sky_agrees_with_the_supplement() {
    for case in law("daylight", "supplement").cases {
        let lux = clear_sky(altitude(&case)).unwrap().lux();
        let wanted = number(&case.out, "lux");
        near(&case.id, "lux", lux, wanted, 1e-9 * wanted);
        near(
            &case.id,
            "log10",
            lux.log10(),
            number(&case.out, "log10_lux"),
            1e-9,
        );
    }
}

#[test]
fn sun_and_sky_agree_with_the_recommended_practice() {
    for case in law("daylight", "ies").cases {
        let found = parts(altitude(&case)).unwrap();
        for (field, found) in [
            ("sun_lux", found.sun),
            ("sky_lux", found.sky),
            ("total_lux", found.sun + found.sky),
            ("sun_normal_lux", found.facing_sun),
        ] {
            let wanted = number(&case.out, field);
            near(&case.id, field, found, wanted, 1e-9 * wanted);
        }
    }
}

#[test]
fn twilight_lies_in_the_published_ranges() {
    for case in law("daylight", "twilight_ranges").cases {
        let lux = clear_sky(altitude(&case)).unwrap().lux();
        let wanted = number(&case.out, "supplement_lux");
        near(&case.id, "lux", lux, wanted, 1e-9 * wanted);
        // The glossary rounds to one figure: half of its last place.
        let (low, high) = (number(&case.out, "low_lux"), number(&case.out, "high_lux"));
        let slack = if low == high { 0.1 * low } else { 0.0 };
        assert!(
            (low - slack..=high + slack).contains(&lux),
            "{}: {lux} outside {low} to {high}",
            case.id
        );
    }
}
