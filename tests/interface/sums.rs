//! Workings of sun, infrared, sky and ground, weight, ramps, lamps and flat glass.

use crate::derivations::{none, tells, with};
use crate::working::worked;
use glasscall_tests::{answered, call, number};
use serde_json::{Value, json};

#[test]
fn the_suns_place_is_worked_out_by_day_and_night_on_both_halves() {
    let (mut up, mut down) = (0, 0);
    for (latitude, longitude) in [(51.6, 3.7), (-33.9, 151.2), (69.6, 18.9), (0.0, -179.9)] {
        for month in [1, 4, 6, 9, 12] {
            for hour in [0, 5, 11, 17, 21] {
                let time = format!("20{}-{month:02}-21T{hour:02}:13:00Z", 20 + month);
                let request = json!({"latitudeDeg": latitude, "longitudeDeg": longitude, "time": time, "explain": true});
                tells(
                    "sun",
                    &request,
                    &[
                        ("A", "/azimuthDeg"),
                        ("h", "/elevationDeg"),
                        ("k", "/apparentElevationDeg"),
                    ],
                );
                let reply = answered("sun", &request);
                *(if reply["isUp"] == json!(true) {
                    &mut up
                } else {
                    &mut down
                }) += 1;
                // Air lifts a sun at 45 degrees by one minute, one at the horizon by
                // some half a degree: common almanac figures, from memory.
                let terms = worked(&time, &reply);
                let (height, lift) = (terms["h"], terms["r"]);
                assert!((height < 45.0 || lift < 1.1 / 60.0) && lift < 0.6);
            }
        }
    }
    assert!(up > 20 && down > 20, "{up} {down}");
    // Midsummer at noon by hand: 90 less the latitude and Earth's lean of 23.44.
    let noon = json!({"latitudeDeg": 51.6, "longitudeDeg": 0, "time": "2026-06-21T12:02:00Z", "explain": true});
    let terms = worked("noon", &answered("sun", &noon));
    assert!((terms["h"] - (90.0 - 51.6 + 23.44)).abs() < 0.01 && terms["H"].abs() < 0.5);
}

/// Minutes after midnight UTC of the day the working counts from.
fn minutes(moment: &Value, day: f64) -> f64 {
    let text = moment.as_str().unwrap();
    let part = |from: usize, to: usize| text[from..to].parse::<f64>().unwrap();
    let [year, month, date] = [part(0, 4), part(5, 7), part(8, 10)];
    // Days since 1 January 2000, after Fliegel and Van Flandern (1968).
    let a = ((month - 14.0) / 12.0).trunc();
    let julian = (1461.0 * (year + 4800.0 + a) / 4.0).trunc()
        + (367.0 * (month - 2.0 - 12.0 * a) / 12.0).trunc()
        - (3.0 * ((year + 4900.0 + a) / 100.0).trunc() / 4.0).trunc()
        + date
        - 32_075.0;
    (julian - 2_451_545.0 - day) * 1440.0 + part(11, 13) * 60.0 + part(14, 16) + part(17, 19) / 60.0
}

#[test]
fn noon_rise_and_set_are_worked_out_and_said_in_utc() {
    let mut told = 0;
    for (latitude, longitude, offset) in [
        (51.6, 3.7, 120),
        (-33.9, 151.2, 600),
        (69.6, 18.9, 60),
        (10.0, -179.9, -720),
    ] {
        for date in ["2026-03-21", "2026-06-21", "2026-09-05", "2031-12-21"] {
            let request = json!({"latitudeDeg": latitude, "longitudeDeg": longitude, "date": date, "offsetMinutes": offset, "explain": true});
            tells("sunDay", &request, &[("h", "/noonElevationDeg")]);
            let reply = answered("sunDay", &request);
            let terms = worked(date, &reply);
            for (symbol, field) in [("M", "noon"), ("R", "rise"), ("Z", "set")] {
                let Some(minute) = terms.get(symbol) else {
                    continue;
                };
                told += 1;
                // Texts hold whole seconds.
                let off = minutes(&reply[field], terms["d"]) - minute;
                assert!(off.abs() <= 0.51 / 60.0, "{latitude} {date} {field}: {off}");
            }
            // Up to the arctic circle the declination at noon tells a rise to minutes.
            if latitude < 60.0 {
                assert!(terms["o"].abs() < 1.0 && terms["e"].abs() < 1.0);
            } else if reply["kind"] != json!("ordinary") {
                assert!(terms["v"].abs() > 1.0);
            }
        }
    }
    assert!(told > 40, "{told}");
}

#[test]
fn infrared_is_added_up_apart() {
    let pieces = json!([{"id": "0.9", "kind": "nd", "density": 0.9}, {"id": "1.2 IR", "kind": "nd", "density": 1.2, "infraredDensity": 1.1},
        {"id": "pola", "kind": "polarizer"}, {"id": "cut", "kind": "infraredCut", "infraredDensity": 1.5}]);
    for more in [
        json!({}),
        json!({"wheelDensity": 0.6}),
        json!({"wheelDensity": 0.6, "wheelInfraredDensity": 0.6, "cutFromDensity": 2}),
    ] {
        let request = with(json!({ "pieces": pieces }), &more);
        tells(
            "infrared",
            &request,
            &[
                ("V", "/visibleStops"),
                ("I", "/infraredStops"),
                ("e", "/excessStops"),
                ("x", "/excessDensity"),
                ("c", "/cutFromDensity"),
            ],
        );
    }
    // By hand: 0.9 of visible alone, 0.6 short of the usual 1.5.
    let alone = json!({"pieces": [{"id": "0.9", "kind": "nd", "density": 0.9}], "explain": true});
    let terms = worked("alone", &answered("infrared", &alone));
    assert!((terms["x"] - 0.9).abs() < 1e-12 && (terms["k"] - 0.6).abs() < 1e-12);
    let nothing = json!({"pieces": [], "explain": true});
    tells("infrared", &nothing, &[("e", "/excessStops")]);
}

#[test]
fn what_a_grad_leaves_of_sky_and_ground_is_worked_out_at_each_place() {
    let base = json!({"sensor": {"widthMm": 24.89, "heightMm": 18.66}, "focalLengthMm": 35, "fNumber": 4,
        "pupilBehindRimMm": 40, "distanceFromRimMm": 36, "lineAtFrameHeight": 0.55, "allowedStops": 1});
    let read = json!({"bright": {"aperture": 16, "atFrameHeight": 0.9}, "dark": {"aperture": 5.6, "atFrameHeight": 0.1}});
    let apart = json!({"bright": {"atFrameHeight": 0.9}, "dark": {"atFrameHeight": 0.1}, "stopsApart": 2.5, "shiftYMm": 1});
    for edge in [
        json!({"kind": "hard", "density": 0.6}),
        json!({"kind": "soft", "density": 0.9, "rampMm": 30}),
        json!({"kind": "smooth", "density": 0.9, "rampMm": 20}),
    ] {
        for turn in [0, 12] {
            for places in [&read, &apart] {
                for subject in [json!({}), json!({"subject": {"atFrameHeight": 0.6}})] {
                    let grads = json!({"grads": [{"id": "none too weak", "profile": edge}], "rotationDeg": turn});
                    let request = with(with(with(base.clone(), places), &grads), &subject);
                    tells(
                        "skyAndGround",
                        &request,
                        &[
                            ("X", "/apartStops"),
                            ("G", "/grads/0/deliveredStops"),
                            ("L", "/grads/0/leftStops"),
                            ("k2", "/grads/0/darkLosesStops"),
                        ],
                    );
                    if subject["subject"].is_object() {
                        tells("skyAndGround", &request, &[("Q", "/grads/0/stolenStops")]);
                    }
                }
            }
        }
    }
    // By hand: T16 over T5.6 is three stops; far from a hard line 0.6 takes 0.6/log10 2.
    let request = with(
        with(base.clone(), &read),
        &json!({"grads": [{"id": "0.6", "profile": {"kind": "hard", "density": 0.6}}]}),
    );
    let terms = worked("by hand", &answered("skyAndGround", &request));
    assert!((terms["L"] - (3.0 - 0.6 / 2.0_f64.log10())).abs() < 1e-9);
    // Nothing in the case, nothing to work out.
    none(
        "skyAndGround",
        &with(with(base, &read), &json!({"grads": []})),
    );
}

#[test]
fn weight_moment_and_counterweight_are_worked_out() {
    let panel = json!({"name": "0.9", "size": "4x5.65", "thicknessMm": 4, "distanceFromRimMm": 30});
    let round = json!({"name": "77", "diameterMm": 77, "thicknessMm": 2, "material": "resin", "distanceFromRimMm": 5});
    let request = json!({"items": [{"name": "box", "massG": 650, "distanceFromRimMm": 45}], "stacks": [[round], [panel, round]],
        "pivotBehindRimMm": 120, "counterArmMm": 150, "explain": true});
    tells(
        "weight",
        &request,
        &[
            ("M", "/heaviest/massG"),
            ("T", "/heaviest/momentNm"),
            ("C", "/heaviest/counterweightG"),
        ],
    );
    let plain = json!({"items": [{"name": "box", "massG": 650, "distanceFromRimMm": 45}], "pivotBehindRimMm": 120, "explain": true});
    tells("weight", &plain, &[("M", "/massG"), ("T", "/momentNm")]);
    // 0.65 kg · 9.80665 · 0.165 m by hand.
    assert!(
        (worked("box", &answered("weight", &plain))["T"] - 0.65 * 9.80665 * 0.165).abs() < 1e-12
    );
    // What says too little of itself is left out of the sum as of the answer.
    let partly = json!({"items": [{"distanceFromRimMm": 1}, {"massG": 100, "distanceFromRimMm": 10}], "skipUnknown": true, "explain": true});
    tells("weight", &partly, &[("M", "/massG")]);
    none("weight", &json!({"items": [], "explain": true}));
}

#[test]
fn a_ramp_is_worked_out_whatever_holds_it() {
    let from =
        json!({"aperture": 5.6, "exposureIndex": 800, "frameRate": 24, "shutterAngleDeg": 90});
    let time =
        json!({"aperture": 5.6, "exposureIndex": 800, "frameRate": 24, "shutterSeconds": 0.01});
    let mut told = 0;
    for from in [&from, &time] {
        for to in [
            json!({"frameRate": 48}),
            json!({"frameRate": 30, "aperture": 4}),
            json!({"aperture": 8}),
            json!({"frameRate": 96}),
        ] {
            for (by, place) in [
                ("iris", "aperture"),
                ("angle", "shutterAngleDeg"),
                ("turn", "turnStops"),
            ] {
                let request =
                    json!({"from": from, "to": to, "by": by, "steps": 5, "explain": true});
                let last = answered("ramp", &request)["steps"]
                    .as_array()
                    .unwrap()
                    .len()
                    - 1;
                tells(
                    "ramp",
                    &request,
                    &[
                        ("x", &format!("/steps/{last}/{place}")),
                        ("R", &format!("/steps/{last}/frameRate")),
                    ],
                );
                told += 1;
            }
        }
    }
    assert_eq!(told, 24);
    // Twice the frames at the same angle are a stop, by hand.
    let request = json!({"from": from, "to": {"frameRate": 48}, "by": "turn", "explain": true});
    assert!((worked("turn", &answered("ramp", &request))["x"] + 1.0).abs() < 1e-12);
}

#[test]
fn lamps_on_the_mains_are_worked_out_with_their_bands() {
    for shutter in [
        json!({"shutterAngleDeg": 180}),
        json!({"shutterSeconds": 0.02}),
        json!({}),
    ] {
        for rate in [24.0, 23.976, 25.0, 150.0] {
            let mut request = with(shutter.clone(), &json!({ "frameRate": rate }));
            if rate > 100.0 && shutter["shutterSeconds"].is_number() {
                request["shutterSeconds"] = json!(0.005);
            }
            let mut figures = vec![("b0", "/mains/0/beatHz"), ("B1", "/mains/1/bands")];
            if shutter != json!({}) {
                figures.push(("y0", "/mains/0/given/ripple"));
            }
            let nearest = answered("flicker", &request)
                .pointer("/mains/1/given/nearestSafeDeg")
                .is_some();
            if nearest {
                figures.extend([
                    ("S1", "/mains/1/given/nearestSafeDeg"),
                    ("k1", "/mains/1/given/nearestLossStops"),
                ]);
            }
            tells("flicker", &request, &figures);
        }
    }
    // 24 fps at 180 degrees under 50 Hz: two pulses are 172.8 degrees, by hand.
    let request = json!({"frameRate": 24, "shutterAngleDeg": 180, "mainsHz": [50], "readoutSeconds": 0.016, "explain": true});
    let terms = worked("24", &answered("flicker", &request));
    assert!((terms["S0"] - 172.8).abs() < 1e-9 && (terms["B0"] - 1.6).abs() < 1e-12);
}

#[test]
fn flat_glass_behind_and_before_the_lens_is_worked_out() {
    let base = json!({"focalLengthMm": 50, "fNumber": 2.8, "circleMm": 0.025, "explain": true});
    let plates = json!({"behind": [{"thicknessMm": 2}, {"thicknessMm": 1, "refractiveIndex": 1.6}], "setFor": [{"thicknessMm": 1}],
        "wheel": [{"thicknessMm": 0}, {"thicknessMm": 1.5}], "wheelAt": 1, "inFront": [{"thicknessMm": 4}]});
    for more in [
        json!({}),
        json!({"focusMm": 900}),
        json!({"focusMm": 900, "measuredFrom": "sensor"}),
        json!({"measuredFrom": "sensor"}),
        json!({"wheelAt": 0, "wheelSetAt": 1, "behind": []}),
    ] {
        let request = with(with(base.clone(), &plates), &more);
        let mut figures = vec![
            ("Z", "/shiftMm"),
            ("R", "/depthOfFocusMm"),
            ("y", "/blurMm"),
            ("J", "/inFrontShiftMm"),
        ];
        let reply = answered("behindLens", &request);
        if reply["infinityReadsMm"].is_number() {
            figures.push(("F", "/infinityReadsMm"));
        }
        if reply["inFrontReadsMm"].is_number() {
            figures.push(("G", "/inFrontReadsMm"));
        }
        tells("behindLens", &request, &figures);
    }
    // 3 mm of 1.5 shift by a millimetre; infinity then reads 50 · 51 from the lens.
    let request = with(
        base,
        &json!({"behind": [{"thicknessMm": 3, "refractiveIndex": 1.5}]}),
    );
    let terms = worked("by hand", &answered("behindLens", &request));
    assert!((terms["Z"] - 1.0).abs() < 1e-12 && (terms["F"] - 2550.0).abs() < 1e-9);
}

#[test]
fn the_limits_that_a_front_puts_on_the_pupil_are_worked_out() {
    let told = [("n", "/nearestMm"), ("e", "/farthestMm")];
    for squeeze in [1.0, 1.8] {
        let request = json!({"sensor": {"widthMm": 24.89, "heightMm": 18.66}, "squeeze": squeeze, "focalLengthMm": 35, "widestFNumber": 1.5, "frontDiameterMm": 77, "explain": true});
        tells("pupilByFront", &request, &told);
        let covers = with(request, &json!({"imageCircleMm": 43.3}));
        tells("pupilByFront", &covers, &told);
    }
    let plain = json!({"sensor": {"widthMm": 24, "heightMm": 18}, "focalLengthMm": 30, "widestFNumber": 2, "frontDiameterMm": 60});
    let farthest = |circle: Value| {
        let request = with(plain.clone(), &circle);
        number(&answered("pupilByFront", &request), "farthestMm")
    };
    // Half a diagonal of 15 on 30: the ray rises one in two; 30/0.5.
    assert!((farthest(json!({})) - 60.0).abs() < 1e-9);
    // A circle of 45 is half as large again; one of 15 makes the limit wider.
    assert!((farthest(json!({"imageCircleMm": 45})) - 40.0).abs() < 1e-9);
    assert!((farthest(json!({"imageCircleMm": 15})) - 120.0).abs() < 1e-9);
    let far = with(plain.clone(), &json!({"imageCircleMm": 700}));
    let refusal = call("pupilByFront", &far).unwrap_err();
    assert_eq!(refusal.field, "imageCircleMm");
}
