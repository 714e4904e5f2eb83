//! `line`, `skyAndGround` and `lineMotion` as the public interface gives them.

use glasscall_tests::{call, cases, expect_reply, near, number};
use glasscall_web::Refusal;
use serde_json::{Value, json};

fn asked(function: &str, request: &Value) -> Value {
    call(function, request).unwrap_or_else(|refusal| panic!("{}", refusal.message()))
}

fn refused(function: &str, request: &Value) -> Refusal {
    call(function, request).expect_err("a refusal")
}

/// A 25 mm lens at f/4 with a line through the middle of the frame.
fn line_request() -> Value {
    json!({
        "sensor": {"widthMm": 24.9, "heightMm": 14.0},
        "focalLengthMm": 25, "fNumber": 4, "pupilBehindRimMm": 50,
        "distanceFromRimMm": 30,
        "profile": {"kind": "hard", "density": 0.6},
        "lineAtFrameHeight": 0.5
    })
}

fn with(mut request: Value, field: &str, value: Value) -> Value {
    request[field] = value;
    request
}

#[test]
fn stops_at_heights_agree_with_the_reference() {
    for case in cases("line") {
        let reply = asked(&case.function, &case.request);
        expect_reply(&case.id, &reply, &case.expect, &case.tolerance);
    }
}

#[test]
fn the_blend_is_the_pupil_seen_through_the_frame() {
    // f²/(N·z·H) = 25²/(4·80·14), by hand; a degree of tilt is 80·π/180 mm.
    let reply = asked("line", &line_request());
    near(
        "line",
        "blend",
        number(&reply, "blendOfFrame"),
        625.0 / 4480.0,
        1e-12,
    );
    let slide = number(&reply, "slidePerDegreeMm");
    near("line", "slide", slide, 80f64.to_radians(), 1e-12);
    near("line", "height", number(&reply, "lineHeightMm"), 0.0, 1e-12);
}

#[test]
fn a_long_lens_is_told_hard_and_a_wide_one_soft() {
    // Common practice, no source; computed here, never looked up.
    let suits = |focal: f64, number: f64| {
        let request = with(line_request(), "focalLengthMm", json!(focal));
        let reply = asked("line", &with(request, "fNumber", json!(number)));
        reply["edge"]["suits"].as_str().unwrap().to_owned()
    };
    assert_eq!(suits(100.0, 4.0), "hard");
    assert_eq!(suits(18.0, 8.0), "soft");
    // Stopping down hardens the line, until a hard edge shows.
    assert_eq!(
        (suits(32.0, 2.8).as_str(), suits(32.0, 16.0).as_str()),
        ("hard", "soft")
    );
}

#[test]
fn every_kind_of_profile_is_read() {
    for profile in [
        json!({"kind": "hard", "density": 0.9, "rampMm": 2}),
        json!({"kind": "soft", "density": 0.9, "rampMm": 30}),
        json!({"kind": "smooth", "density": 0.9, "rampMm": 30}),
        json!({"kind": "reverse", "density": 0.9, "rampMm": 30}),
        json!({"kind": "stripe", "density": 0.9, "rampMm": 10}),
        json!({"kind": "points", "points": [
            {"heightMm": -10, "density": 0.1}, {"heightMm": 10, "density": 0.9}]}),
    ] {
        let reply = asked("line", &with(line_request(), "profile", profile));
        let most = (reply["heights"].as_array().unwrap().iter())
            .map(|height| number(height, "stops"))
            .fold(0.0, f64::max);
        assert!(most > 0.9 && most <= number(&reply, "markedStops") + 1e-9);
        assert!(number(&reply, "blendOfFrame") > 0.0);
    }
}

#[test]
fn bad_input_is_refused_by_name_and_range() {
    for (field, value, named, code) in [
        (
            "distanceFromRimMm",
            json!(-60),
            "distanceFromRimMm",
            "outOfRange",
        ),
        ("fNumber", json!(0), "fNumber", "outOfRange"),
        (
            "sensor",
            json!({"widthMm": 0, "heightMm": 14}),
            "sensor.widthMm",
            "outOfRange",
        ),
        ("lineHeightMm", json!(3), "lineAtFrameHeight", "oneTooMany"),
        ("heights", json!([0.2, 1.2]), "heights[1]", "outOfRange"),
        (
            "profile",
            json!({"kind": "soft", "density": 0.6}),
            "profile.rampMm",
            "missing",
        ),
        (
            "profile",
            json!({"kind": "hard", "density": 13}),
            "profile.density",
            "outOfRange",
        ),
        (
            "profile",
            json!({"kind": "hard", "density": 1, "rampMm": -1}),
            "profile.rampMm",
            "outOfRange",
        ),
        (
            "profile",
            json!({"kind": "points", "points": []}),
            "profile.points",
            "empty",
        ),
        (
            "profile",
            json!({"kind": "points", "points": [
            {"heightMm": 1, "density": 0}, {"heightMm": 0, "density": 1}]}),
            "profile.points[1].heightMm",
            "outOfRange",
        ),
        (
            "profile",
            json!({"kind": "stripe", "density": 1, "rampMm": 3, "topDensity": 1}),
            "profile.topDensity",
            "oneTooMany",
        ),
    ] {
        let refusal = refused("line", &with(line_request(), field, value));
        assert_eq!(refusal.field, named);
        let found = serde_json::to_value(refusal.code).unwrap();
        assert_eq!(found, code, "{named}");
        if code == "outOfRange" {
            assert!(refusal.min < refusal.max, "{named} has no range");
        }
    }
}

/// The lens of [`line_request`], a bright sky and a dark ground.
fn contrast_request() -> Value {
    json!({
        "sensor": {"widthMm": 24.9, "heightMm": 14.0},
        "focalLengthMm": 25, "fNumber": 4, "pupilBehindRimMm": 50,
        "distanceFromRimMm": 30, "lineAtFrameHeight": 0.5,
        "bright": {"atFrameHeight": 0.9, "aperture": 16},
        "dark": {"atFrameHeight": 0.1, "aperture": 5.6},
        "allowedStops": 0.5,
        "subject": {"atFrameHeight": 0.45},
        "grads": [
            {"id": "three", "profile": {"kind": "hard", "density": 0.3}},
            {"id": "six", "profile": {"kind": "hard", "density": 0.6}},
            {"id": "nine", "profile": {"kind": "hard", "density": 0.9}}
        ]
    })
}

#[test]
fn three_stops_apart_take_the_nine() {
    let reply = asked("skyAndGround", &contrast_request());
    assert_eq!(
        (&reply["verdict"], &reply["grads"][0]["id"]),
        (&json!("meets"), &json!("nine"))
    );
    // 5.6 to 16 is three stops; both places are clear of the blend, so all of
    // 0.9/log10 2 arrives.
    near("case", "apart", number(&reply, "apartStops"), 3.0, 1e-12);
    let best = &reply["grads"][0];
    near(
        "case",
        "delivered",
        number(best, "deliveredStops"),
        0.9 / 2f64.log10(),
        1e-12,
    );
    assert!(number(best, "stolenStops") > 0.0);
}

#[test]
fn a_shirt_under_a_face_takes_it_upside_down() {
    let mut shirt = contrast_request();
    shirt["bright"]["atFrameHeight"] = json!(0.1);
    shirt["dark"]["atFrameHeight"] = json!(0.9);
    shirt["subject"] = json!({"atFrameHeight": 0.55});
    // Three stops apart: upright 0.3 takes its stop from the face, 3 and 1 are left;
    // upside down 0.9 takes its 2.99 from the shirt.
    let upright = asked("skyAndGround", &shirt);
    let left = |reply: &Value, id: &str| {
        let grads = reply["grads"].as_array().unwrap();
        number(
            grads.iter().find(|grad| grad["id"] == id).unwrap(),
            "leftStops",
        )
    };
    let stops = |density: f64| density / 2f64.log10();
    assert_eq!(upright["verdict"], "fallsShort");
    near(
        "upright",
        "left",
        left(&upright, "three"),
        3.0 + stops(0.3),
        1e-12,
    );
    assert_eq!(upright["remedies"]["upsideDown"], "nine");
    let over = asked("skyAndGround", &with(shirt, "invert", json!(true)));
    assert_eq!(
        (&over["verdict"], &over["grads"][0]["id"]),
        (&json!("meets"), &json!("nine"))
    );
    near("over", "left", left(&over, "nine"), 3.0 - stops(0.9), 1e-12);
}

#[test]
fn what_would_do_does() {
    let weak = with(
        contrast_request(),
        "grads",
        json!([{"id": "three", "profile": {"kind": "soft", "density": 0.3, "rampMm": 20}}]),
    );
    let reply = asked("skyAndGround", &weak);
    assert_eq!(reply["verdict"], "fallsShort");
    let density = number(&reply["remedies"], "density") + 1e-9;
    let profile = json!({"kind": "soft", "density": density, "rampMm": 20});
    let again = with(
        weak,
        "grads",
        json!([{"id": "borrowed", "profile": profile}]),
    );
    assert_eq!(asked("skyAndGround", &again)["verdict"], "meets");
}

#[test]
fn a_moved_shot_gets_a_computed_verdict() {
    let mut request = line_request();
    for field in ["distanceFromRimMm", "profile", "lineAtFrameHeight"] {
        let value = request.as_object_mut().unwrap().remove(field).unwrap();
        request["grad"][field] = value;
    }
    request["subject"] = json!({"atFrameHeight": 0.4});
    let verdict = |step: Value| {
        let reply = asked("lineMotion", &with(request.clone(), "move", step));
        reply["verdict"].as_str().unwrap().to_owned()
    };
    assert_eq!(verdict(json!({})), "free");
    assert_eq!(verdict(json!({"panToDeg": 10})), "free");
    assert_eq!(verdict(json!({"tiltToDeg": -6})), "slide");
    assert_eq!(verdict(json!({"focalLengthToMm": 120})), "staticOnly");
    let past = with(request.clone(), "move", json!({"tiltToDeg": 91}));
    assert_eq!(refused("lineMotion", &past).field, "move.tiltToDeg");
}

#[test]
fn a_map_agrees_with_the_line_and_the_openings() {
    let mut request = json!({
        "sensor": {"widthMm": 24.9, "heightMm": 14.0},
        "focalLengthMm": 25, "fNumber": 4, "pupilBehindRimMm": 50,
        "uniformStops": 2, "columns": 9, "rows": 5,
        "grad": {
            "distanceFromRimMm": 30, "lineAtFrameHeight": 0.5,
            "profile": {"kind": "hard", "density": 0.6}
        }
    });
    let map = asked("frameMap", &request);
    let stops = map.as_array().unwrap();
    assert_eq!(stops.len(), 45);
    // The middle of the top row lies at nine tenths of the height.
    let line = asked(
        "line",
        &with(line_request(), "heights", json!([0.9, 0.5, 0.1])),
    );
    for (row, nth) in [(0, 0), (2, 1), (4, 2)] {
        let wanted = 2.0 + number(&line["heights"][nth], "stops");
        near(
            "map",
            &format!("row {row}"),
            stops[row * 9 + 4].as_f64().unwrap(),
            wanted,
            1e-3,
        );
    }
    // A hole far to the side clips all of it: NaN, which JSON writes as null.
    request["openings"] = json!([{
        "name": "hole", "distanceFromRimMm": 20, "shape": "circle",
        "diameterMm": 30, "offsetXMm": 400
    }]);
    let clipped = asked("frameMap", &request);
    assert!(clipped.as_array().unwrap().iter().all(Value::is_null));
}

#[test]
fn a_map_and_a_line_bend_as_the_cards_say() {
    // Cards of a pupil 40 deep whose side is at tan θ 0.6 where the picture
    // says 12.45/25 = 0.498: δ = 0.6/0.498 − 1 there.
    let card = |ahead: f64| 0.6 * (40.0 + ahead);
    let mut request = line_request();
    request.as_object_mut().unwrap().remove("pupilBehindRimMm");
    request["cards"] = json!({"horizontal": {
        "nearMm": 20, "nearHeightMm": card(20.0), "farMm": 120, "farHeightMm": card(120.0)}});
    request["lineAtFrameHeight"] = json!(1.0);
    let reply = asked("line", &request);
    // The top is at 7/25 = 0.28, bent by (0.28/0.498)² of what the side is.
    let bent = 0.28 * (1.0 + (0.6 / 0.498 - 1.0) * (0.28f64 / 0.498).powi(2));
    let height = bent * 70.0;
    near(
        "line",
        "height",
        number(&reply, "lineHeightMm"),
        height,
        1e-9,
    );
    near("line", "at", number(&reply, "lineAtFrameHeight"), 1.0, 1e-9);
    let [from, to] = ["lineHeightFromMm", "lineHeightToMm"].map(|field| number(&reply, field));
    assert!(
        from < height && height < to && to - from < 1.0,
        "{from} {to}"
    );
    let heights = json!([0.98, 0.7, 0.5]);
    let line = asked("line", &with(request.clone(), "heights", heights));
    let lens = |request: &Value, fields: &[&str]| {
        let mut lens = request.clone();
        for field in fields {
            lens.as_object_mut().unwrap().remove(*field);
        }
        lens
    };
    let own = ["distanceFromRimMm", "profile", "lineAtFrameHeight"];
    let mut map = lens(&request, &own);
    map["grad"] = json!({"distanceFromRimMm": 30, "lineAtFrameHeight": 1.0,
        "profile": request["profile"]});
    for (field, value) in [("columns", 51), ("rows", 25)] {
        map[field] = json!(value);
    }
    let stops = asked("frameMap", &map);
    for (row, nth) in [(0, 0), (7, 1), (12, 2)] {
        let found = stops[row * 51 + 25].as_f64().unwrap();
        let wanted = number(&line["heights"][nth], "stops");
        near("map", &format!("row {row}"), found, wanted, 1e-3);
    }
    // Without pupil, cards or front nothing is drawn.
    map.as_object_mut().unwrap().remove("cards");
    assert_eq!(refused("frameMap", &map).field, "pupilBehindRimMm");
    // A front tells limits, and a picture is drawn through their middle.
    map["frontDiameterMm"] = json!(80);
    assert_eq!(asked("frameMap", &map).as_array().unwrap().len(), 51 * 25);
}

#[test]
fn two_filters_take_more_than_one_and_five_are_refused() {
    let mut request = json!({
        "sensor": {"widthMm": 24.9, "heightMm": 14.0},
        "focalLengthMm": 25, "fNumber": 4, "pupilBehindRimMm": 50,
        "columns": 3, "rows": 3
    });
    let grad = |at: f64, density: f64| {
        json!({"distanceFromRimMm": at, "lineAtFrameHeight": 0.4,
            "profile": {"kind": "hard", "density": density}})
    };
    request["grad"] = grad(30.0, 0.6);
    request["grads"] = json!([grad(36.0, 0.3)]);
    let both = asked("frameMap", &request);
    // Far above both lines: 0.9 of density is 0.9/log10 2 stops.
    near(
        "map",
        "top",
        both[1].as_f64().unwrap(),
        0.9 / 2f64.log10(),
        1e-3,
    );
    request["grads"] = json!(vec![grad(36.0, 0.3); 4]);
    assert_eq!(refused("frameMap", &request).field, "grads");
}

#[test]
fn a_map_darkens_the_sky_as_the_sky_law_says() {
    // Sun on the horizon to the right, camera level: the field stands upright
    // at the axis, p = 0.75, so the darkest turn takes log2 4 = 2 stops there.
    let request = json!({
        "sensor": {"widthMm": 24.9, "heightMm": 14.0},
        "focalLengthMm": 50, "fNumber": 4, "pupilBehindRimMm": 50,
        "columns": 3, "rows": 3,
        "sky": {
            "sunAzimuthDeg": 90, "sunElevationDeg": 0,
            "aimAzimuthDeg": 0, "aimElevationDeg": 0.001
        }
    });
    let map = asked("frameMap", &request);
    near("sky", "middle", map[4].as_f64().unwrap(), 2.0, 1e-3);
    near(
        "ground",
        "middle of the last row",
        map[7].as_f64().unwrap(),
        0.0,
        0.0,
    );
}

#[test]
fn the_horizon_tells_where_the_camera_points() {
    // A horizon a quarter of the frame below the middle of a 50 mm lens on
    // 14 mm: the axis points up by atan(3.5/50), by hand.
    let aimed = |field: &str, value: f64| {
        let mut request = json!({
            "sensor": {"widthMm": 24.9, "heightMm": 14.0},
            "focalLengthMm": 50, "fNumber": 4, "pupilBehindRimMm": 50,
            "columns": 8, "rows": 8,
            "sky": {"sunAzimuthDeg": 90, "sunElevationDeg": 20, "aimAzimuthDeg": 10}
        });
        request["sky"][field] = json!(value);
        asked("frameMap", &request)
    };
    let by_horizon = aimed("horizonAtFrameHeight", 0.25);
    assert_eq!(
        by_horizon,
        aimed("aimElevationDeg", (3.5f64 / 50.0).atan().to_degrees())
    );
    let stops = by_horizon.as_array().unwrap();
    assert!(stops[0].as_f64().unwrap() > 0.5 && stops[63].as_f64() == Some(0.0));
}

#[test]
fn a_map_too_large_or_of_nothing_is_refused() {
    let request = json!({
        "sensor": {"widthMm": 24.9, "heightMm": 14.0},
        "focalLengthMm": 25, "fNumber": 4, "pupilBehindRimMm": 50,
        "columns": 8192, "rows": 8192
    });
    assert_eq!(refused("frameMap", &request).field, "rows");
    let none = with(request.clone(), "columns", json!(0));
    assert_eq!(refused("frameMap", &none).field, "columns");
    let small = with(with(request, "columns", json!(2)), "rows", json!(2));
    let grad = json!({"distanceFromRimMm": 30, "profile": {"kind": "soft", "density": 1}});
    assert_eq!(
        refused("frameMap", &with(small.clone(), "grad", grad)).field,
        "grad.profile.rampMm"
    );
    let sky = json!({"sunAzimuthDeg": 0, "sunElevationDeg": 95, "aimAzimuthDeg": 0, "aimElevationDeg": 0});
    assert_eq!(
        refused("frameMap", &with(small, "sky", sky)).field,
        "sky.sunElevationDeg"
    );
}
