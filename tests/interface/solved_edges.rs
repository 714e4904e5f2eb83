//! `solve` where there are several answers, words, open ranges and refusals.

use crate::solved::LEFT;
use glasscall_tests::{answered, call, near, number, refused};
use glasscall_web::Code;
use serde_json::{Value, json};

#[test]
fn the_sun_comes_to_a_height_twice_a_day() {
    let day = json!({"latitudeDeg": 51.6, "longitudeDeg": 3.7, "time": "2031-06-21T00:00:00Z"});
    let reply = answered(
        "solve",
        &json!({"question": "sun", "request": day, "unknown": {"path": "time"},
        "wanted": {"path": "elevationDeg", "is": 20}}),
    );
    let met = reply["met"].as_array().unwrap();
    assert_eq!(met.len(), 2, "{reply}");
    for one in met {
        let mut then = day.clone();
        then["time"] = one["time"].clone();
        // A whole second is 0.004° at most.
        near(
            "then",
            "elevation",
            number(&answered("sun", &then), "elevationDeg"),
            20.0,
            0.004,
        );
        assert_eq!(one["steps"], false);
    }
    // The span between them is the day's light above it.
    assert_eq!(reply["atLeast"].as_array().unwrap().len(), 1);
    let high = answered(
        "solve",
        &json!({"question": "sun", "request": day, "unknown": {"path": "time"},
        "wanted": {"path": "elevationDeg", "is": 80}}),
    );
    assert_eq!(high["met"].as_array().unwrap().len(), 0);
    // Noon of midsummer is 90 − 51.6 + 23.44, by hand.
    near(
        "noon",
        "nearest",
        number(&high["nearest"], "gives"),
        61.84,
        0.01,
    );
}

#[test]
fn a_word_is_asked_for_too() {
    let request = json!({"sensor": {"widthMm": 24.89, "heightMm": 18.66}, "focalLengthMm": 24, "fNumber": 2.8,
        "pupilBehindRimMm": 40, "openings": [{"name": "tray", "distanceFromRimMm": 40,
        "shape": "rectangle", "widthMm": 100, "heightMm": 78}]});
    let reply = answered(
        "solve",
        &json!({"question": "fit", "request": request,
        "unknown": {"path": "focalLengthMm", "from": 10, "to": 150}, "wanted": {"path": "verdict", "is": "clear"}}),
    );
    let from = number(&reply["atLeast"][0], "from");
    let widest = number(&answered("fit", &request), "widestFocalLengthMm");
    // By two routes: the room's own root, and where the verdict turns.
    near("widest", "focal length", from, widest, 1e-6 * widest);
    assert_eq!(number(&reply["atLeast"][0], "to"), 150.0);
}

#[test]
fn the_range_is_the_questions_own_where_none_is_given() {
    let reply = answered(
        "solve",
        &json!({"question": "convertDensity", "request": {},
        "unknown": {"path": "density"}, "wanted": {"path": "stops", "is": 3}}),
    );
    assert_eq!((number(&reply, "from"), number(&reply, "to")), (0.0, 12.0));
    // 3·log10 2, by hand.
    near(
        "density",
        "from",
        number(&reply["met"][0], "from"),
        0.903_089_986_991_943_6,
        1e-9,
    );
    // Both ends of the domain are answers.
    for (stops, density) in [
        (0.0, 0.0),
        (
            number(
                &answered("convertDensity", &json!({"density": 12})),
                "stops",
            ),
            12.0,
        ),
    ] {
        let reply = answered(
            "solve",
            &json!({"question": "convertDensity", "request": {},
            "unknown": {"path": "density"}, "wanted": {"path": "stops", "is": stops}}),
        );
        near(
            "end",
            "from",
            number(&reply["met"][0], "from"),
            density,
            1e-9,
        );
    }
}

#[test]
fn what_cannot_be_asked_names_its_field() {
    let asked = |question: &str, request: Value, unknown: Value, path: &str| {
        let wanted = json!({"path": path, "is": 1});
        let refusal = call(
            "solve",
            &json!({"question": question, "request": request, "unknown": unknown, "wanted": wanted}),
        );
        refusal
            .map_err(|refusal| (refusal.code, refusal.field.clone()))
            .unwrap_err()
    };
    let density = json!({"path": "density"});
    let refused = |code, field: &str| (code, field.to_owned());
    assert_eq!(
        asked("solve", json!({}), density.clone(), "stops"),
        refused(Code::WrongType, "question")
    );
    assert_eq!(
        asked("orderDay", json!({}), density.clone(), "moves"),
        refused(Code::WrongType, "question")
    );
    assert_eq!(
        asked("convertDensity", json!({}), density.clone(), "st[ops"),
        refused(Code::NotUnderstood, "wanted.path")
    );
    assert_eq!(
        asked("convertDensity", json!({}), density.clone(), "angle"),
        refused(Code::Missing, "wanted.path")
    );
    assert_eq!(
        asked(
            "convertDensity",
            json!({"colour": 1}),
            json!({"path": "density", "from": 0, "to": 1}),
            "stops"
        ),
        refused(Code::UnknownField, "request.colour")
    );
    assert_eq!(
        asked(
            "convertDensity",
            json!({}),
            json!({"path": "density", "from": 2, "to": 1}),
            "stops"
        ),
        refused(Code::OutOfRange, "unknown.to")
    );
    assert_eq!(
        asked(
            "convertDensity",
            json!({}),
            json!({"path": "weight"}),
            "stops"
        ),
        refused(Code::Missing, "unknown.from")
    );
    let kit: Vec<Value> = (0..13)
        .map(|id| json!({"id": id.to_string(), "kind": "nd", "density": 0.3}))
        .collect();
    assert_eq!(
        asked("openUp", json!({"kit": kit}), density, LEFT),
        refused(Code::TooMany, "request.kit")
    );
}

#[test]
fn a_sky_by_place_and_time_is_the_sky_of_that_sun_and_its_hour_is_found() {
    let place = json!({"latitudeDeg": 51.6, "longitudeDeg": 3.7});
    let time = "2031-05-04T17:30:00Z";
    let mut asked = place.clone();
    asked["time"] = json!(time);
    let sun = answered("sun", &asked);
    let lens = json!({"aimAzimuthDeg": 340, "aimElevationDeg": 10, "sensor": {"widthMm": 24.89, "heightMm": 18.66}, "focalLengthMm": 35});
    let with = |more: &Value| {
        let mut request = lens.clone();
        (request.as_object_mut().unwrap()).extend(more.as_object().unwrap().clone());
        request
    };
    let by_time = with(&asked);
    let by_sun =
        with(&json!({"sunAzimuthDeg": sun["azimuthDeg"], "sunElevationDeg": sun["elevationDeg"]}));
    let reply = answered("sky", &by_time);
    let darkening = number(&reply, "darkeningStops");
    assert!((darkening - number(&answered("sky", &by_sun), "darkeningStops")).abs() < 1e-9);
    // The hour for that darkening: back at the time it was asked for.
    let mut from_noon = by_time.clone();
    from_noon["time"] = json!("2031-05-04T12:00:00Z");
    let found = answered(
        "solve",
        &json!({"question": "sky", "request": from_noon,
        "unknown": {"path": "time", "from": 0, "to": 480}, "wanted": {"path": "darkeningStops", "is": darkening}}),
    );
    let met = found["met"].as_array().unwrap();
    assert!(
        met.iter()
            .any(|met| (number(met, "from") - 330.0).abs() < 1e-3),
        "{found}"
    );
    let mut both = by_time;
    both["sunAzimuthDeg"] = json!(10);
    assert_eq!(refused("sky", &both).field, "sunAzimuthDeg");
    assert_eq!(refused("sky", &with(&place)).field, "sunAzimuthDeg");
}

/// Each event of each reference day: on which day the sun is so low at that hour
/// is asked for, a hundred days before and after, and the day comes back.
#[test]
fn the_day_of_a_sunset_at_an_hour_is_found() {
    let events = [
        ("rise", -0.8333),
        ("set", -0.8333),
        ("civilDawn", -6.0),
        ("civilDusk", -6.0),
    ];
    let mut tried = 0;
    for case in glasscall_tests::cases("sun_day") {
        let place = &case.request;
        for (event, height) in events {
            let Some(time) = case.expect[event].as_str() else {
                continue;
            };
            let asked = |days: f64| {
                json!({"latitudeDeg": place["latitudeDeg"], "longitudeDeg": place["longitudeDeg"],
                "time": time, "daysLater": days})
            };
            let at = |days: f64| number(&answered("sun", &asked(days)), "elevationDeg");
            // Where the sun of the next day is elsewhere by more than the
            // reference is known, the hour tells the day.
            let (before, on, after) = (at(-1.0), at(0.0), at(1.0));
            near(event, "height", on, height, 0.3);
            if (before - on).abs() < 0.1 || (after - on).abs() < 0.1 {
                continue;
            }
            let reply = answered(
                "solve",
                &json!({"question": "sun", "request": asked(0.0),
                "unknown": {"path": "daysLater", "from": -100, "to": 100},
                "wanted": {"path": "elevationDeg", "is": height}}),
            );
            let met = reply["met"].as_array().unwrap();
            let comes_back = met.iter().any(|one| number(one, "from").abs() <= 1.0);
            assert!(comes_back, "{event} of {place}: {reply}");
            tried += 1;
        }
    }
    assert!(tried >= 10, "only {tried}");
}

#[test]
fn days_later_are_whole_days_within_a_year() {
    let sun = |time: &str, days: Value| json!({"latitudeDeg": 51.6, "longitudeDeg": 3.7, "time": time, "daysLater": days});
    let then = answered("sun", &sun("2031-05-04T17:30:00Z", json!(58.4)));
    // 27 days are left of May, 30 of June: the first of July.
    let same = answered("sun", &sun("2031-07-01T17:30:00Z", json!(0)));
    for field in ["azimuthDeg", "elevationDeg"] {
        near(
            "then",
            field,
            number(&then, field),
            number(&same, field),
            1e-9,
        );
    }
    for days in [-367.0, 367.0] {
        let refusal = refused("sun", &sun("2031-05-04T17:30:00Z", json!(days)));
        assert_eq!(refusal.field, "daysLater");
        assert_eq!((refusal.min, refusal.max), (Some(-366.0), Some(366.0)));
    }
}
