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
    // Up: 75·0.6 = 45 and a pupil radius of 5 against 47.5.
    assert_eq!(
        (&fit["verdict"], &fit["worstSlot"]),
        (&json!("shades"), &json!("tray 2"))
    );
    near("tray 2", "spareMm", number(fit, "spareMm"), -2.5, 1e-9);
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
