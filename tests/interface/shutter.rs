//! `workingStop`, `flicker` and `ramp`: outside values and worked examples.

use glasscall_tests::{answered, check, near, number, refused};
use glasscall_web::Code;
use serde_json::{Value, json};

/// `reply.path` as a number.
fn at(reply: &Value, path: &str) -> f64 {
    let value = reply.pointer(path).unwrap_or(&Value::Null);
    value
        .as_f64()
        .unwrap_or_else(|| panic!("{path} is {value} in {reply}"))
}

#[test]
fn lamps_agree_with_a_sum_over_the_exposure() {
    check("flicker");
}

const INCH: f64 = 25.4;

#[test]
fn a_drawn_out_bellows_costs_what_the_courses_say() {
    // US Army courses SS0511 and SS0512 (read): a 6 in lens at 12 in takes four
    // times the exposure, a 12 in lens at 18 in 2¼ times. A photography textbook,
    // doi 10.4324/9780080494012-22 (abstract read): half life size, 2¼ times.
    for (focal, extension, factor) in [(6.0, 12.0, 4.0), (12.0, 18.0, 2.25)] {
        let size = extension / focal - 1.0;
        let found = answered(
            "workingStop",
            &json!({"focalLengthMm": focal * INCH, "aperture": 8, "magnification": size}),
        );
        let taken = 2f64.powf(number(&found, "closeFocusLossStops"));
        near("bellows", "factor", taken, factor, 1e-12);
    }
}

#[test]
fn extender_and_close_focus_add_up() {
    let found = answered(
        "workingStop",
        &json!({"focalLengthMm": 100, "aperture": 4, "extender": 2, "focusMm": 200}),
    );
    near("both", "focal", number(&found, "focalLengthMm"), 200.0, 0.0);
    near("both", "size", number(&found, "magnification"), 2.0, 1e-12);
    near("both", "loss", number(&found, "lossStops"), 4.0, 1e-12);
    near(
        "both",
        "working",
        number(&found, "workingAperture"),
        16.0,
        1e-12,
    );
    near(
        "both",
        "pupil",
        number(&found, "pupilDiameterMm"),
        25.0,
        1e-12,
    );
    // Life size of the lens alone: two of the four stops.
    near(
        "both",
        "at infinity",
        number(&found, "atInfinityForAsked"),
        2.0,
        1e-12,
    );
    near("both", "set", number(&found, "setForAsked"), 1.0, 1e-12);
    assert_eq!(found["workingLabel"], "16");
    let twice = refused(
        "workingStop",
        &json!({"focalLengthMm": 100, "aperture": 4, "focusMm": 200, "magnification": 1}),
    );
    assert_eq!(twice.code, Code::OneTooMany);
}

#[test]
fn flicker_safe_angles_are_those_of_the_trade() {
    // Common practice, no source: 172.8° at 50 Hz, 144° at 60 Hz, for 24 frames;
    // at 25 frames 180° and 150°.
    for (fps, hertz, safe) in [
        (24.0, 50.0, 172.8),
        (24.0, 60.0, 144.0),
        (25.0, 50.0, 180.0),
        (25.0, 60.0, 150.0),
        (30.0, 60.0, 180.0),
    ] {
        let found = answered(
            "flicker",
            &json!({"frameRate": fps, "mainsHz": [hertz], "shutterAngleDeg": safe}),
        );
        let mains = &found["mains"][0];
        let angles = mains["safeAnglesDeg"].as_array().unwrap();
        assert!(
            angles
                .iter()
                .any(|a| (a.as_f64().unwrap() - safe).abs() < 1e-9),
            "{fps} {hertz} {angles:?}"
        );
        assert_eq!(mains["given"]["safe"], true);
    }
    let both = answered("flicker", &json!({"frameRate": 24, "shutterAngleDeg": 180}));
    let fifty = &both["mains"][0]["given"];
    assert_eq!(fifty["safe"], false);
    near(
        "50",
        "nearest",
        number(fifty, "nearestSafeDeg"),
        172.8,
        1e-9,
    );
    near(
        "50",
        "loss",
        number(fifty, "nearestLossStops"),
        0.058_894,
        1e-6,
    );
    // 24 frames under 60 Hz hold five pulses: no beat, whatever the angle.
    near("60", "beat", at(&both, "/mains/1/beatHz"), 0.0, 1e-12);
    near("50", "beat", at(&both, "/mains/0/beatHz"), 4.0, 1e-12);
    let fast = answered(
        "flicker",
        &json!({"frameRate": 240, "shutterSeconds": 0.002}),
    );
    assert_eq!(fast["mains"][0]["safeAnglesDeg"], json!([]));
    assert_eq!(fast["mains"][0]["given"].get("nearestSafeDeg"), None);
}

fn ramp(to: &Value, by: &str) -> Value {
    answered(
        "ramp",
        &json!({"from": {"aperture": 5.6, "exposureIndex": 800, "frameRate": 24,
            "shutterAngleDeg": 90}, "to": to, "by": by, "steps": 5, "widestAperture": 2.8}),
    )
}

fn effects(reply: &Value) -> Vec<&str> {
    let effects = reply["sideEffects"].as_array().unwrap();
    effects
        .iter()
        .map(|e| e["effect"].as_str().unwrap())
        .collect()
}

#[test]
fn a_ramp_names_what_else_changes() {
    let speed = json!({"frameRate": 48});
    let by_angle = ramp(&speed, "angle");
    assert_eq!(effects(&by_angle), ["motionBlur"]);
    near(
        "angle",
        "end",
        at(&by_angle, "/steps/4/shutterAngleDeg"),
        180.0,
        1e-9,
    );
    let by_iris = ramp(&speed, "iris");
    assert_eq!(effects(&by_iris), ["depthOfField", "flicker"]);
    assert_eq!(by_iris["steps"][4]["apertureLabel"], "T4");
    let by_turn = ramp(&speed, "turn");
    assert_eq!(effects(&by_turn), ["flicker", "variableDensity"]);
    near(
        "turn",
        "end",
        at(&by_turn, "/steps/4/turnStops"),
        -1.0,
        1e-12,
    );
}

#[test]
fn a_ramp_says_where_its_control_runs_out() {
    let angle = ramp(&json!({"frameRate": 120}), "angle");
    near("angle", "stuck", at(&angle, "/stuck/at"), 1.0, 0.0);
    near("angle", "most", at(&angle, "/stuck/max"), 360.0, 0.0);
    let iris = ramp(&json!({"frameRate": 192}), "iris");
    near(
        "iris",
        "widest",
        at(&iris, "/stuck/min"),
        8f64.sqrt(),
        1e-12,
    );
    let steps = iris["steps"].as_array().unwrap();
    assert!(
        steps
            .iter()
            .all(|s| number(s, "aperture") > 8f64.sqrt() - 1e-9)
    );
    let refused = refused(
        "ramp",
        &json!({"from": {"aperture": 4, "exposureIndex": 800, "frameRate": 24,
            "shutterAngleDeg": 90}, "to": {"frameRate": -1}, "by": "iris"}),
    );
    assert_eq!(refused.field, "to.frameRate");
}

#[test]
fn a_sensor_that_reads_line_by_line_draws_a_band_for_each_pulse() {
    let request = |more: Value| {
        let mut request = json!({"frameRate": 25, "shutterAngleDeg": 90, "mainsHz": [50]});
        (request.as_object_mut().unwrap()).extend(more.as_object().unwrap().clone());
        answered("flicker", &request)["mains"][0].clone()
    };
    // 100 pulses a second: four in a frame of 25, one and a half in 15 ms, by hand.
    assert_eq!(number(&request(json!({})), "bands"), 4.0);
    assert!((number(&request(json!({"readoutSeconds": 0.015})), "bands") - 1.5).abs() < 1e-12);
    assert_eq!(number(&request(json!({})), "beatHz"), 0.0);
    let late = refused("flicker", &json!({"frameRate": 25, "readoutSeconds": 0.05}));
    assert_eq!(late.field, "readoutSeconds");
}
