//! `openUp` with a lens behind the rig: stacks that shade, and what fits.

use glasscall_tests::{call, near, number};
use serde_json::{Value, json};

/// Six stops to take; tray 1 is near and clear, tray 2 far out and shades.
fn request() -> Value {
    let tray = |id: &str, distance: f64| {
        json!({"id": id, "size": "4x5.65", "opening": {
            "distanceFromRimMm": distance, "shape": "rectangle",
            "widthMm": 134, "heightMm": 95,
        }})
    };
    let piece = |id: &str, density: f64| json!({"id": id, "kind": "nd", "density": density, "size": "4x5.65"});
    json!({
        "reading": {"aperture": 22, "exposureIndex": 800, "frameRate": 24, "shutterAngleDeg": 180},
        "shot": {"aperture": 2.8, "exposureIndex": 800, "frameRate": 24, "shutterAngleDeg": 180},
        "kit": [piece("0.6", 0.6), piece("1.2", 1.2), piece("1.5", 1.5)],
        "rig": {"slots": [tray("tray 1", 15.0), tray("tray 2", 45.0)]},
        "fit": {
            "sensor": {"widthMm": 32, "heightMm": 24}, "focalLengthMm": 20, "fNumber": 2,
            "pupilBehindRimMm": 30,
        },
    })
}

fn answered(request: &Value) -> Value {
    call("openUp", request).unwrap_or_else(|refusal| panic!("{}", refusal.message()))
}

#[test]
fn a_stack_that_shades_is_marked_with_where_and_by_how_much() {
    let reply = answered(&request());
    let fit = &reply["stacks"][0]["fit"];
    // Up: 75·0.6 = 45 and the pupil of the stop to set, not of the stop wanted,
    // against 47.5.
    let radius = 10.0 / number(fit, "fNumber");
    assert!(radius < 5.0, "a left-over of 0.02 closes the iris");
    assert_eq!(
        (&fit["verdict"], &fit["worstSlot"]),
        (&json!("shades"), &json!("tray 2"))
    );
    near(
        "tray 2",
        "spareMm",
        number(fit, "spareMm"),
        2.5 - radius,
        1e-9,
    );
    // A radius of 2.5 would be clear: two stops down from f/2.
    near(
        "tray 2",
        "clean",
        number(fit, "cleanFromFNumber"),
        4.0,
        1e-9,
    );
    assert_eq!(fit["cleanFromLabel"], "4");
    assert!(number(fit, "cornerLossStops") > 0.05);
}

#[test]
fn its_room_is_as_well_known_as_fit_knows_it_at_the_stop_to_set() {
    let mut request = request();
    // By the front alone: the pupil between limits.
    let lens = request["fit"].as_object_mut().unwrap();
    lens.remove("pupilBehindRimMm");
    lens.insert("frontDiameterMm".into(), 77.into());
    lens.insert("widestFNumber".into(), 2.into());
    request["uncertainty"] = json!({"openingMm": 3});
    let told = answered(&request)["stacks"][0]["fit"].take();
    assert_eq!(told["worstSlot"], "tray 2");
    let mut alone = request["fit"].clone();
    alone["fNumber"] = (number(&told, "fNumber") * (1.0 + 1e-12)).into();
    alone["openings"] = json!([request["rig"]["slots"][1]["opening"]]);
    alone["uncertainty"] = request["uncertainty"].clone();
    let fit = call("fit", &alone).unwrap_or_else(|refusal| panic!("{}", refusal.message()));
    let (stack, opening) = (&told["spareKnown"], &fit["openings"][0]["spareKnown"]);
    near(
        "tray 2",
        "spareKnown",
        number(stack, "mm"),
        number(opening, "mm"),
        1e-6,
    );
    assert_eq!(stack["mostly"]["what"], opening["mostly"]["what"]);
    assert!(number(stack, "mm") > 1.0, "{stack}");
}

#[test]
fn the_alternative_keeps_to_slots_that_are_clear() {
    let reply = answered(&request());
    let fitting = &reply["fitting"];
    assert_eq!(fitting["slots"].as_array().unwrap().len(), 1);
    assert_eq!(fitting["slots"][0]["slot"], "tray 1");
    assert_eq!(fitting["slots"][0]["piece"], "1.5");
    assert_eq!(fitting["fit"]["verdict"], "clear");
}

#[test]
fn a_clear_stack_needs_no_alternative() {
    let mut request = request();
    request["fit"]["focalLengthMm"] = 50.into();
    let reply = answered(&request);
    assert_eq!(reply["stacks"][0]["fit"]["verdict"], "clear");
    assert!(reply["fitting"].is_null());
}

#[test]
fn without_a_lens_nothing_is_said_of_fit() {
    let mut request = request();
    request.as_object_mut().unwrap().remove("fit");
    let reply = answered(&request);
    assert!(reply["stacks"][0]["fit"].is_null() && reply["fitting"].is_null());
}

#[test]
fn what_is_always_there_is_named_and_leaves_no_alternative() {
    let mut request = request();
    request["rig"]["always"] = json!([{
        "name": "ring", "distanceFromRimMm": 5, "shape": "circle", "diameterMm": 60,
    }]);
    let reply = answered(&request);
    let fit = &reply["stacks"][0]["fit"];
    assert_eq!(
        (&fit["verdict"], &fit["worstAlways"]),
        (&json!("clips"), &json!("ring"))
    );
    assert!(reply["fitting"].is_null());
}

#[test]
fn an_opening_behind_the_pupil_is_refused_by_its_slot() {
    let mut request = request();
    request["rig"]["slots"][1]["opening"]["distanceFromRimMm"] = (-40).into();
    let refusal = call("openUp", &request).expect_err("40 behind the rim, the pupil at 30");
    assert_eq!(refusal.field, "rig.slots[1].opening.distanceFromRimMm");
    assert_eq!(refusal.min, Some(-30.0));
}

#[test]
fn the_shot_gives_the_f_number_where_none_is_said() {
    let mut request = request();
    request["fit"].as_object_mut().unwrap().remove("fNumber");
    let shot = answered(&request);
    request["fit"]["fNumber"] = 2.8.into();
    assert_eq!(shot, answered(&request));
}

#[test]
fn a_polarizer_is_judged_at_its_worst_turn() {
    // 47.5 less 80·|(12.45, 7)|/25 and half a pupil of 25/2.8: it must turn.
    let asked = json!({
        "reading": {"aperture": 8, "exposureIndex": 800, "frameRate": 24, "shutterAngleDeg": 180},
        "shot": {"aperture": 2.8, "exposureIndex": 800, "frameRate": 24, "shutterAngleDeg": 180},
        "kit": [{"id": "pol", "kind": "polarizer", "lossStops": 3, "size": "4x4"}],
        "keep": ["pol"],
        "rig": {"slots": [{"id": "stage", "size": "4x4", "rotates": true, "opening": {
            "distanceFromRimMm": 80, "shape": "rectangle", "widthMm": 95, "heightMm": 95}}]},
        "fit": {"sensor": {"widthMm": 24.9, "heightMm": 14}, "focalLengthMm": 25, "pupilBehindRimMm": 0},
    });
    let reply = answered(&asked);
    let fit = &reply["stacks"][0]["fit"];
    let radius = 25.0 / number(fit, "fNumber") / 2.0;
    let room = 47.5 - 80.0 * 12.45f64.hypot(7.0) / 25.0 - radius;
    near("stage", "spareMm", number(fit, "spareMm"), room, 1e-9);
    assert_eq!(fit["verdict"], "shades");
    assert_ne!(fit["trust"], "sureClear");
}

#[test]
fn a_stack_that_opens_the_iris_is_judged_there() {
    // Half a stop too much glass: the pupil of the stop to set is a fifth wider.
    let asked = json!({
        "reading": {"aperture": 4.757, "exposureIndex": 800, "frameRate": 24, "shutterAngleDeg": 180},
        "shot": {"aperture": 1.4, "exposureIndex": 800, "frameRate": 24, "shutterAngleDeg": 180},
        "kit": [{"id": "1.2", "kind": "nd", "density": 1.2, "size": "4x4"}],
        "keep": ["1.2"],
        "rig": {"slots": [{"id": "tray", "size": "4x4", "opening": {
            "distanceFromRimMm": 30, "shape": "rectangle", "widthMm": 70, "heightMm": 70}}]},
        "fit": {"sensor": {"widthMm": 24.9, "heightMm": 14}, "focalLengthMm": 50, "pupilBehindRimMm": 38},
    });
    let reply = answered(&asked);
    let stack = &reply["stacks"][0];
    let set = std::f64::consts::SQRT_2 * (number(stack, "leftOverStops") / 2.0).exp2();
    near(
        "fit",
        "fNumber",
        number(&stack["fit"], "fNumber"),
        set,
        1e-3,
    );
    assert!(number(&stack["fit"], "fNumber") < 1.25);
}
