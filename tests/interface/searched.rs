//! Workings of what was searched, of a pupil by a ring, and of what the new ones
//! leave open.

use crate::derivations::{none, tells, with};
use crate::working::worked;
use glasscall_tests::{answered, call, cases, number};
use serde_json::{Value, json};

/// Proven, each with the steps that took.
fn proven(terms: &std::collections::BTreeMap<String, f64>) {
    assert_eq!(terms["x"], 0.0);
    assert!(terms["s"] > 0.0);
}

#[test]
fn a_cover_is_worked_out_need_by_need_and_piece_by_piece() {
    let mut told = 0;
    for case in cases("cover_kit") {
        let request = with(case.request.clone(), &json!({}));
        let reply = answered("coverKit", &request);
        if reply.get("working").is_none() {
            assert!(
                request["needs"].as_array().unwrap().len() > 16,
                "{}",
                case.id
            );
            continue;
        }
        told += 1;
        tells(
            "coverKit",
            &request,
            &[("C", "/cost"), ("Q", "/pieces"), ("b", "/leastCost")],
        );
        let terms = worked(&case.id, &reply);
        proven(&terms);
        for (nth, served) in reply["served"].as_array().unwrap().iter().enumerate() {
            if served["can"] == json!(true) {
                let left = terms[&format!("l{nth}")];
                assert!(
                    (left - number(served, "leftOverStops")).abs() < 1e-9,
                    "{}",
                    case.id
                );
            }
        }
    }
    assert!(told > 5, "{told}");
}

fn quay() -> Value {
    json!({"kit": [{"id": "0.3", "kind": "nd", "density": 0.3}, {"id": "0.9", "kind": "nd", "density": 0.9, "measuredDensity": 0.93},
        {"id": "pola", "kind": "polarizer"}], "rig": {"slots": [{"id": "1", "rotates": true}, {"id": "2"}]}, "wheel": [0, 0.6]})
}

#[test]
fn a_day_is_worked_out_stack_by_stack_and_move_by_move() {
    let set_ups = json!({"setUps": [{"id": "wide", "needStops": 3.1}, {"id": "close", "needStops": 5.1}, {"id": "sky", "needStops": 1.7, "polarizer": true}],
        "minutesPerMove": 0.5});
    for order in ["fixed", "free"] {
        let request = with(with(quay(), &set_ups), &json!({"order": order}));
        tells(
            "orderDay",
            &request,
            &[
                ("M", "/moves"),
                ("T", "/minutes"),
                ("b", "/leastMoves"),
                ("l0", "/stages/0/leftOverStops"),
                ("l1", "/stages/1/leftOverStops"),
                ("l2", "/stages/2/leftOverStops"),
            ],
        );
        proven(&worked(order, &answered("orderDay", &request)));
    }
    // Stopped at once, nothing is proven and the gap is told.
    let cut = with(
        with(quay(), &set_ups),
        &json!({"order": "free", "steps": 1}),
    );
    let reply = answered("orderDay", &cut);
    if reply["proven"] == json!(false) {
        let gap = number(&reply, "moves") - number(&reply, "leastMoves");
        assert_eq!(worked("cut", &reply)["x"], gap);
    }
}

#[test]
fn what_two_bodies_leave_is_worked_out_for_each() {
    let both = json!({"setUps": [{"id": "quay", "needStops": 3.1, "otherNeedStops": 5}]});
    let request = with(quay(), &both);
    tells(
        "twoBodies",
        &request,
        &[
            ("lf0", "/setUps/0/first/leftOverStops"),
            ("hf0", "/setUps/0/first/aloneLeftOverStops"),
            ("lo0", "/setUps/0/second/leftOverStops"),
            ("ho0", "/setUps/0/second/aloneLeftOverStops"),
        ],
    );
    // A case of nothing serves nobody's polarizer: there is no stack to tell.
    none(
        "twoBodies",
        &json!({"setUps": [{"id": "quay", "needStops": 3, "otherNeedStops": 3, "polarizer": true}], "explain": true}),
    );
}

#[test]
fn rings_are_worked_out_by_depth_room_and_cost() {
    let fit = json!({"sensor": {"widthMm": 24.89, "heightMm": 18.66}, "focalLengthMm": 35, "fNumber": 2.8, "pupilBehindRimMm": 40});
    let request = json!({"lenses": [{"id": "35", "threadMm": 77, "fit": fit}, {"id": "85", "threadMm": 67, "needsClearMm": 55}],
        "filterMm": 82, "owned": [{"fromMm": 67, "toMm": 72}, {"fromMm": 72, "toMm": 77}],
        "catalogue": [{"fromMm": 77, "toMm": 82, "cost": 12.5}, {"fromMm": 67, "toMm": 82, "cost": 40}], "explain": true});
    tells(
        "rings",
        &request,
        &[
            ("C", "/cost"),
            ("b", "/leastCost"),
            ("D0", "/settled/0/depthMm"),
            ("R0", "/settled/0/spareMm"),
            ("D1", "/settled/1/depthMm"),
            ("R1", "/settled/1/spareMm"),
        ],
    );
    let terms = worked("rings", &answered("rings", &request));
    proven(&terms);
    // Two rings of 12.50, three of 3 mm: by hand.
    assert_eq!((terms["C"], terms["D1"]), (25.0, 9.0));
}

#[test]
fn the_needs_of_a_day_are_worked_out_light_by_light() {
    let settings = |aperture: f64, rate: f64| json!({"aperture": aperture, "exposureIndex": 800, "frameRate": rate, "shutterAngleDeg": 180});
    let request = json!({"reading": settings(22.0, 24.0), "darkestAperture": 2, "stepStops": 2, "shot": settings(2.8, 24.0),
        "frameRates": [24, 48], "lenses": [{"id": "50", "widestAperture": 2}], "explain": true});
    let reply = answered("dayNeeds", &request);
    let terms = worked("needs", &reply);
    let needs = reply["needs"].as_array().unwrap();
    let dark = reply["tooDark"].as_array().unwrap();
    assert!(!dark.is_empty());
    for (nth, need) in needs.iter().chain(dark).enumerate() {
        assert!((terms[&format!("n{}", nth + 1)] - number(need, "stops")).abs() < 1e-9);
    }
    // T22 to T2.8 at the same settings is six stops, as engraved.
    assert!((terms[&format!("n{}", needs.len())] - 6.0).abs() < 1e-9);
}

#[test]
fn a_ring_shows_the_pupil_by_touch_by_a_third_and_by_the_chief_ray() {
    for (focal, stop, ring, begins) in [
        (35.0, 2.8, 77.0, 25.0),
        (18.0, 4.0, 95.0, 8.0),
        (85.0, 1.4, 114.0, 120.0),
    ] {
        let request = json!({"sensor": {"widthMm": 24.89, "heightMm": 18.66}, "focalLengthMm": focal, "fNumber": stop,
            "ringDiameterMm": ring, "darkensFromMm": begins, "explain": true});
        if call("pupilByRing", &request).is_err() {
            continue;
        }
        tells(
            "pupilByRing",
            &request,
            &[
                ("p", "/pupilBehindRimMm"),
                ("n", "/nearestMm"),
                ("e", "/farthestMm"),
            ],
        );
        let terms = worked("ring", &answered("pupilByRing", &request));
        assert!((terms["k"] - 1.0 / 3.0).abs() < 1e-9);
    }
    let request = json!({"sensor": {"widthMm": 24.89, "heightMm": 18.66}, "focalLengthMm": 35, "fNumber": 2.8,
        "ringDiameterMm": 77, "darkensFromMm": 25, "explain": true});
    let terms = worked("by hand", &answered("pupilByRing", &request));
    // 31.108 mm of diagonal over 70; 38.5/0.4444 and 25 less: by hand.
    assert!((terms["e"] - 61.63).abs() < 0.01, "{}", terms["e"]);
    none("pupilByRing", &with(request, &json!({"squeeze": 2})));
}

#[test]
fn the_sun_is_as_sure_as_clock_and_place() {
    let place = json!({"latitudeDeg": 51.6, "longitudeDeg": 3.7});
    let at = with(place.clone(), &json!({"time": "2026-06-21T13:00:00Z"}));
    // 60 s are a quarter of a degree, and a tenth: by hand.
    let terms = worked("usual", &answered("sun", &at));
    assert!((terms["u"] - (0.0625_f64 + 0.01).sqrt()).abs() < 1e-12);
    let known = with(
        at.clone(),
        &json!({"uncertainty": {"clockSeconds": 0, "placeDeg": 0.02}}),
    );
    assert_eq!(worked("known", &answered("sun", &known))["u"], 0.02);
    let said = with(at, &json!({"uncertainty": {"sunElevationDeg": 0.5}}));
    assert_eq!(worked("said", &answered("sun", &said))["u"], 0.5);
    let day = with(place, &json!({"date": "2026-06-21", "offsetMinutes": 120}));
    let reply = answered("sunDay", &day);
    let terms = worked("day", &reply);
    // Another place a tenth of a degree over the ground to the east: its noon.
    let east = with(
        day,
        &json!({"longitudeDeg": 3.7 + 0.1 / f64::to_radians(51.6).cos()}),
    );
    let moved = terms["M"] - worked("east", &answered("sunDay", &east))["M"];
    assert!((moved - terms["u"]).abs() < 0.01, "{moved} {}", terms["u"]);
}

#[test]
fn infrared_is_as_sure_as_its_marks_and_a_measured_polarizer_as_its_readings() {
    let pieces = json!([{"id": "0.9", "kind": "nd", "density": 0.9}, {"id": "1.2 IR", "kind": "nd", "density": 1.2, "infraredDensity": 1.1, "measuredDensity": 1.23}]);
    let request = json!({"pieces": pieces, "wheelDensity": 0.6, "explain": true});
    let terms = worked("infrared", &answered("infrared", &request));
    // A tenth over root three of each mark, 0.01 of a measured density: by hand.
    let of = |density: f64| density / 2_f64.log10() * 0.1 / 3_f64.sqrt();
    let by_hand = (of(0.9).powi(2) + of(0.6).powi(2) + (0.01 / 2_f64.log10()).powi(2)).sqrt();
    assert!(
        (terms["u"] - by_hand).abs() < 1e-9,
        "{} {by_hand}",
        terms["u"]
    );
    let read = |bare: f64, bright: f64, dark: f64| json!({"bareAperture": bare, "brightestAperture": bright, "darkestAperture": dark, "explain": true});
    let terms = worked(
        "polarizer",
        &answered("measuredPolarizer", &read(16.0, 9.1, 8.0)),
    );
    // Each reading moved by its deviation, an independent route.
    let moved = |nth: usize| {
        let at = |sign: f64| {
            let mut stops = [16.0, 9.1, 8.0];
            stops[nth] *= (sign * 1e-3_f64 / 2.0).exp2();
            number(
                &answered("measuredPolarizer", &read(stops[0], stops[1], stops[2])),
                "lossStops",
            )
        };
        (at(1.0) - at(-1.0)) / 2e-3 * terms["R"]
    };
    // Markings stand for engraved stops: numbers beside them are literal.
    let bare = terms["R"];
    let by_moving = (bare.powi(2) + moved(1).powi(2) + moved(2).powi(2)).sqrt();
    assert!(
        (terms["u"] / by_moving - 1.0).abs() < 1e-3,
        "{} {by_moving}",
        terms["u"]
    );
}

#[test]
fn what_a_grad_leaves_is_as_sure_as_readings_mark_edge_and_lens() {
    let base = json!({"sensor": {"widthMm": 24.89, "heightMm": 18.66}, "focalLengthMm": 35, "fNumber": 4, "pupilBehindRimMm": 40,
        "distanceFromRimMm": 36, "lineAtFrameHeight": 0.5, "allowedStops": 1, "grads": [{"id": "0.6", "profile": {"kind": "hard", "density": 0.6}}]});
    let read = with(
        base.clone(),
        &json!({"bright": {"aperture": 16, "atFrameHeight": 0.95}, "dark": {"aperture": 5.6, "atFrameHeight": 0.05}}),
    );
    tells("skyAndGround", &read, &[("u", "/uncertainty/stops")]);
    // Far from the line only two readings and the mark: by hand.
    let by_hand =
        (2.0 * 0.096_225_f64.powi(2) + (0.6 / 2_f64.log10() * 0.1 / 3_f64.sqrt()).powi(2)).sqrt();
    let terms = worked("read", &answered("skyAndGround", &read));
    assert!(
        (terms["u"] - by_hand).abs() < 1e-6,
        "{} {by_hand}",
        terms["u"]
    );
    let said = with(
        base,
        &json!({"bright": {"atFrameHeight": 0.95}, "dark": {"atFrameHeight": 0.05}, "stopsApart": 3}),
    );
    assert!(worked("said", &answered("skyAndGround", &said))["u"] < terms["u"]);
}
