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

/// A clear evening at a place, read three times with the sun some 15° up: what
/// the module's own sky says, as stops read at EI 800, 24 and 180°.
fn evening(times: &[&str]) -> Vec<Value> {
    let lux = |time: &str| {
        let place = json!({"latitudeDeg": 51.6, "longitudeDeg": 3.7, "time": time});
        let sun = number(&answered("sun", &place), "elevationDeg");
        number(
            &answered("daylight", &json!({"sunElevationDeg": sun})),
            "illuminanceLux",
        )
    };
    let first = lux(times[0]);
    (times.iter())
        .map(|time| {
            let aperture = 11.0 * (lux(time) / first).sqrt();
            json!({"time": time, "aperture": aperture})
        })
        .collect()
}

#[test]
fn an_evening_is_no_straight_line() {
    // A line through these three ended three quarters of an hour after the sky does.
    let times = [
        "2031-05-04T18:00:00Z",
        "2031-05-04T18:10:00Z",
        "2031-05-04T18:20:00Z",
    ];
    let place = json!({"latitudeDeg": 51.6, "longitudeDeg": 3.7});
    let changes =
        json!({"readings": evening(&times), "place": place, "until": "2031-05-04T23:00:00Z"});
    let sky = answered("drift", &drift(&changes));
    assert_eq!(sky["model"], "clearSky");
    let mut line = changes;
    line["model"] = json!("straight");
    let line = answered("drift", &drift(&line));
    assert!(line["endsAt"].as_str() > Some("2031-05-04T20:00"), "{line}");
    assert!(sky["endsAt"].as_str() < Some("2031-05-04T19:20"), "{sky}");
    // The line says how far it may be trusted, the sky how sure the end is.
    assert!(line["lineHoldsUntil"].as_str() < Some("2031-05-04T18:50"));
    assert!(number(&sky, "endsGiveOrTakeMinutes") > 5.0);
}

#[test]
fn a_low_sun_is_never_known_to_two_minutes() {
    // One reading at 14.4°: the swap at 1.6° was told to 2.2 minutes, a fifth of
    // a stop, where clear skies differ by a stop and a half.
    let changes = json!({
        "readings": [{"time": "2031-05-04T17:30:00Z", "aperture": 11}],
        "place": {"latitudeDeg": 51.6, "longitudeDeg": 3.7},
        "until": "2031-05-04T21:00:00Z",
    });
    let reply = answered("drift", &drift(&changes));
    let last = reply["swaps"].as_array().unwrap().last().unwrap();
    assert!(number(last, "giveOrTakeMinutes") > 8.0, "{last}");
}

#[test]
fn while_the_light_is_not_known_two_more_readings_are_asked_for() {
    let noisy = json!({"place": null, "readings": [
        {"time": "2026-06-21T18:00:00Z", "aperture": 11},
        {"time": "2026-06-21T18:05:00Z", "aperture": 10},
        {"time": "2026-06-21T18:10:00Z", "aperture": 11},
    ]});
    let mut request = drift(&noisy);
    request.as_object_mut().unwrap().remove("place");
    assert_eq!(answered("drift", &request)["readingsNeeded"], 2);
    assert_eq!(answered("drift", &drift(&json!({})))["readingsNeeded"], 0);
}

#[test]
fn a_reading_through_the_wheel_is_opened_by_it() {
    let mut readings = drift(&json!({}))["readings"].clone();
    let plain = number(&answered("drift", &drift(&json!({}))), "needStops");
    for reading in readings.as_array_mut().unwrap() {
        reading["wheelDensity"] = json!(1.2);
    }
    let through = number(
        &answered("drift", &drift(&json!({"readings": readings}))),
        "needStops",
    );
    near(
        "drift",
        "wheel",
        through - plain,
        1.2 / std::f64::consts::LOG10_2,
        1e-9,
    );
}
