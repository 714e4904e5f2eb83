//! Colour temperature against `laws/`.

use glasscall_core::physics::mired::{
    USUAL_CONVERSIONS, mired, seen_through, shift_between, shift_together, temperature_of,
};
use glasscall_core::physics::planckian::chromaticity;
use glasscall_core::quantity::{ColourTemperature, MiredShift};
use glasscall_tests::{law, near, number};
use serde_json::Value;

fn kelvin(value: &Value, field: &str) -> ColourTemperature {
    ColourTemperature::new(number(value, field)).unwrap()
}

#[test]
fn full_radiators_agree() {
    let group = law("mired", "planckian");
    for case in &group.cases {
        let light = kelvin(&case.given, "kelvin");
        let wanted = number(&case.out, "mired");
        // The file prints eight significant digits, fewer than its tolerance asks.
        let printed = 0.5e-7 * 10f64.powi(wanted.log10().floor() as i32);
        let tolerance = printed.max(number(&group.tolerance, "mired_rel") * wanted);
        near(&case.id, "mired", mired(light), wanted, tolerance);
        let back = temperature_of(mired(light)).unwrap().kelvin();
        near(
            &case.id,
            "back",
            back,
            light.kelvin(),
            1e-12 * light.kelvin(),
        );
        let colour = chromaticity(light);
        let tolerance = number(&group.tolerance, "xy_abs");
        near(&case.id, "x", colour.x, number(&case.out, "x"), tolerance);
        near(&case.id, "y", colour.y, number(&case.out, "y"), tolerance);
    }
}

#[test]
fn shifts_agree() {
    let group = law("mired", "shift");
    for case in &group.cases {
        let before = kelvin(&case.given, "before_kelvin");
        let after = kelvin(&case.given, "after_kelvin");
        let found = shift_between(before, after).mired();
        let wanted = number(&case.out, "shift_mired");
        let tolerance = number(&group.tolerance, "abs");
        near(&case.id, "shift", found, wanted, tolerance);
    }
}

#[test]
fn filters_in_series_agree() {
    let group = law("mired", "through_filters");
    let tolerance = number(&group.tolerance, "rel");
    for case in &group.cases {
        let shifts = case.given["shifts_mired"].as_array().unwrap();
        let shifts = shifts.iter().map(|shift| shift.as_f64().unwrap());
        let sum = shift_together(shifts.map(|shift| MiredShift::new(shift).unwrap())).unwrap();
        let wanted = number(&case.out, "sum_mired");
        near(
            &case.id,
            "sum",
            sum.mired(),
            wanted,
            tolerance * wanted.abs(),
        );
        let seen = seen_through(kelvin(&case.given, "before_kelvin"), sum);
        match case.out["after_kelvin"].as_f64() {
            None => assert_eq!(seen, None, "{}", case.id),
            Some(wanted) => {
                let seen = seen.unwrap_or_else(|| panic!("{}: no light", case.id));
                near(&case.id, "K", seen.kelvin(), wanted, tolerance * wanted);
            }
        }
    }
}

#[test]
fn usual_conversions_agree_with_what_the_trade_quotes() {
    let group = law("mired", "common_filters");
    for case in &group.cases {
        let before = kelvin(&case.given, "before_kelvin");
        let after = kelvin(&case.given, "after_kelvin");
        let found = shift_between(before, after).mired();
        for (field, tolerance) in [
            ("nominal_mired", "nominal_abs"),
            ("computed_mired", "computed_abs"),
        ] {
            let tolerance = number(&group.tolerance, tolerance);
            let wanted = number(&case.out, field);
            near(&case.id, field, found, wanted, tolerance);
        }
        let listed = (before.kelvin(), after.kelvin());
        assert!(
            USUAL_CONVERSIONS.contains(&listed),
            "{}: {listed:?} is not listed",
            case.id
        );
    }
}
