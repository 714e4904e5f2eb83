//! `drift` against hand-worked light and against itself.

use glasscall_tests::{answered, near, number, refused};
use serde_json::{Value, json};

fn drift(changes: &Value) -> Value {
    let mut request = json!({
        "readings": [
            {"time": "2026-06-21T18:00:00Z", "aperture": 11},
            {"time": "2026-06-21T18:30:00Z", "aperture": 9.51365692002177},
            {"time": "2026-06-21T19:00:00Z", "aperture": 8},
        ],
        "shot": {"aperture": 4, "exposureIndex": 800, "frameRate": 24, "shutterAngleDeg": 180},
        "lens": {"widestAperture": 2},
        "kit": [
            {"id": "3", "kind": "nd", "density": 0.3},
            {"id": "6", "kind": "nd", "density": 0.6},
        ],
        "rig": {"slots": [{"id": "a"}, {"id": "b"}]},
        "until": "2026-06-22T05:00:00Z",
    });
    for (field, value) in changes.as_object().unwrap() {
        request[field] = value.clone();
    }
    request
}

#[test]
fn a_stop_an_hour_swaps_down_to_clear_and_wide_open() {
    let reply = answered("drift", &drift(&json!({})));
    assert_eq!(reply["model"], "straight");
    near("drift", "rate", number(&reply, "stopsPerHour"), -1.0, 0.01);
    near("drift", "need", number(&reply, "needStops"), 2.0, 0.02);
    let first = &reply["start"]["slots"][0];
    assert_eq!(
        (&first["slot"], &first["piece"]),
        (&json!("a"), &json!("6"))
    );
    let swaps = reply["swaps"].as_array().unwrap();
    assert_eq!(swaps.len(), 2);
    assert_eq!(swaps[0]["from"], reply["start"]["slots"]);
    assert_eq!(swaps[0]["to"], swaps[1]["from"]);
    assert_eq!(swaps[1]["to"], json!([]));
    // Two stops of need and two of iris after 19:00.
    assert!(
        reply["endsAt"]
            .as_str()
            .unwrap()
            .starts_with("2026-06-21T2")
    );
}

#[test]
fn a_reading_through_glass_or_at_other_settings_is_the_same_light() {
    let plain = answered("drift", &drift(&json!({})));
    let other = drift(&json!({"readings": [
        {"time": "2026-06-21T18:00:00Z", "aperture": 8, "exposureIndex": 400},
        {"time": "2026-06-21T18:30:00Z", "aperture": 9.51365692002177},
        {"time": "2026-06-21T21:00:00+02:00", "aperture": 8},
    ]}));
    assert_eq!(answered("drift", &other), plain);
    let through = drift(&json!({"readings": [
        {"time": "2026-06-21T18:00:00Z", "aperture": 11, "through": ["3"]},
        {"time": "2026-06-21T19:00:00Z", "aperture": 8, "through": ["3"]},
    ]}));
    let brighter = number(&answered("drift", &through), "needStops");
    let stop = 0.3 / std::f64::consts::LOG10_2;
    near("drift", "through", brighter, 2.0 + stop, 1e-9);
}

#[test]
fn with_a_place_dusk_falls_ever_faster() {
    let request = drift(&json!({
        "readings": [{"time": "2026-06-21T19:00:00Z", "aperture": 8}],
        "place": {"latitudeDeg": 45, "longitudeDeg": 0},
    }));
    let reply = answered("drift", &request);
    assert_eq!(reply["model"], "clearSky");
    assert!(reply["stopsPerHourInterval"].is_null());
    // At 19:00 the sun is near 7° up; within half an hour of set light falls by
    // stops, so the end comes long before a straight line's.
    let straight = answered("drift", &drift(&json!({})));
    assert!(reply["endsAt"].as_str() < straight["endsAt"].as_str());
}

#[test]
fn drifts_that_cannot_be_are_refused_by_name() {
    let one = json!([{"time": "2026-06-21T18:00:00Z", "aperture": 11}]);
    assert!(
        refused("drift", &drift(&json!({"readings": one})))
            .message()
            .starts_with("readings[1]")
    );
    let twice = json!([one[0], one[0]]);
    assert!(
        refused("drift", &drift(&json!({"readings": twice})))
            .message()
            .starts_with("readings[1].time")
    );
    let early = drift(&json!({"until": "2026-06-21T10:00:00Z"}));
    assert!(refused("drift", &early).message().starts_with("until"));
    let lost = drift(&json!({"place": {"latitudeDeg": 95, "longitudeDeg": 0}}));
    assert!(
        refused("drift", &lost)
            .message()
            .starts_with("place.latitudeDeg")
    );
    let dark = json!([{"time": "2026-06-21T18:00:00Z", "aperture": 0}, one[0]]);
    assert!(
        refused("drift", &drift(&json!({"readings": dark})))
            .message()
            .starts_with("readings[0].aperture")
    );
}
