//! The public interface against outside values, file by file.

use glasscall_tests::{answered, call, cases, check, near, number};
use glasscall_web::Code;
use serde_json::{Value, json};

#[test]
fn densities_convert() {
    check("convert_density");
}

#[test]
fn exposures_agree() {
    check("exposure_ev");
}

#[test]
fn the_first_stack_is_the_best_by_enumeration() {
    for case in cases("open_up") {
        let reply = answered(&case.function, &case.request);
        let first = &reply["stacks"][0];
        let left = number(first, "leftOverStops").abs();
        let pieces = first["slots"].as_array().map_or(0, Vec::len);
        let need = number(&case.tolerance, "needStops");
        near(
            &case.id,
            "needStops",
            number(&reply, "needStops"),
            number(&case.expect, "needStops"),
            need,
        );
        let thirds = (3.0 * left + 0.5).floor();
        near(
            &case.id,
            "thirds",
            thirds,
            number(&case.expect, "bestThirds"),
            0.0,
        );
        assert_eq!(
            pieces as u64, case.expect["bestPieces"],
            "{}: pieces",
            case.id
        );
        let least = number(&case.expect, "smallestLeftOver");
        assert!(
            left >= least - 1e-6,
            "{}: {left} beats the proven {least}",
            case.id
        );
    }
}

#[test]
fn a_glass_tells_the_shutter_through_it_and_the_shutter_the_glass() {
    let asked = |request: Value| answered("convertDensity", &request);
    // 180° at 24 is 1/48 s; six stops lengthen it 64 times: 4/3 s, by hand.
    let reply = asked(json!({"stops": 6, "frameRate": 24, "shutterAngleDeg": 180}));
    let through = &reply["through"];
    near(
        "six stops",
        "shutterSeconds",
        number(through, "shutterSeconds"),
        4.0 / 3.0,
        1e-12,
    );
    // It outlasts the frame: there is no such angle.
    assert_eq!(through["shutterAngleDeg"], Value::Null);
    // One stop turns 90° into 180°, by hand.
    let reply = asked(json!({"factor": 2, "frameRate": 25, "shutterAngleDeg": 90}));
    near(
        "one stop",
        "shutterAngleDeg",
        number(&reply["through"], "shutterAngleDeg"),
        180.0,
        1e-9,
    );
    let reply = asked(json!({"throughSeconds": 1, "shutterSeconds": 0.125}));
    near("1/8 to 1 s", "stops", number(&reply, "stops"), 3.0, 1e-12);
    let refused = |request: Value| {
        let refusal = call("convertDensity", &request).unwrap_err();
        (refusal.code, refusal.field.clone())
    };
    let at = |code, field: &str| (code, field.to_owned());
    assert_eq!(
        refused(json!({"throughSeconds": 1})),
        at(Code::Missing, "shutterSeconds")
    );
    assert_eq!(
        refused(json!({"throughSeconds": 0.1, "shutterSeconds": 1})),
        at(Code::OutOfRange, "throughSeconds")
    );
    assert_eq!(
        refused(json!({"stops": 1, "shutterAngleDeg": 180})),
        at(Code::Missing, "frameRate")
    );
    assert_eq!(
        refused(json!({"throughSeconds": 1, "stops": 1, "shutterSeconds": 1})),
        at(Code::OneTooMany, "throughSeconds")
    );
}

#[test]
fn clear_sun_stands_for_a_light_and_gain_for_an_index() {
    let asked = |request: Value| answered("exposure", &request);
    // Common practice, no source: number 16 at a time of one over the index.
    let sun = asked(json!({"exposureIndex": 800, "shutterSeconds": 1.0 / 800.0, "clearSun": true}));
    near("sun", "aperture", number(&sun, "aperture"), 16.0, 1e-9);
    // 20·log10 4 dB are two stops, by the definition of the decibel: number 32.
    let gain = 20.0 * 4f64.log10();
    let gained = asked(json!({
        "exposureIndex": 800, "gainDb": gain, "shutterSeconds": 1.0 / 800.0, "clearSun": true,
    }));
    near("gain", "aperture", number(&gained, "aperture"), 32.0, 1e-9);
    near(
        "gain",
        "index",
        number(&gained, "exposureIndex"),
        800.0,
        0.0,
    );
    let solved = asked(json!({
        "aperture": 32, "gainDb": gain, "shutterSeconds": 1.0 / 800.0, "clearSun": true,
    }));
    near(
        "gain",
        "index solved",
        number(&solved, "exposureIndex"),
        800.0,
        1e-6,
    );
    let both = json!({"aperture": 16, "exposureIndex": 800, "ev100": 12, "clearSun": true});
    let refusal = call("exposure", &both).unwrap_err();
    assert_eq!(
        (refusal.code, refusal.field.as_str()),
        (Code::OneTooMany, "clearSun")
    );
}
