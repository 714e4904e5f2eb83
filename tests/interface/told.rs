//! What replies tell so that a page need not work it out.

use glasscall_tests::{answered, near, number, refused};
use serde_json::{Value, json};

fn sensor() -> Value {
    json!({"widthMm": 24.89, "heightMm": 18.66})
}

#[test]
fn a_polarizer_is_turned_to_darken_as_another_day_did() {
    let ask = |turn: Value, azimuth: f64| {
        answered(
            "sky",
            &json!({"sunAzimuthDeg": 90, "sunElevationDeg": 20, "aimAzimuthDeg": azimuth,
                "aimElevationDeg": 10, "sensor": sensor(), "focalLengthMm": 50, "polarizerDeg": turn}),
        )
    };
    let then = ask(json!(30), 20.0);
    let now = ask(json!({"darkeningStops": then["darkeningStops"]}), 340.0);
    let stops = |reply: &Value| number(reply, "darkeningStops");
    near("likeSky", "stops", stops(&now), stops(&then), 1e-9);
    let quarter = ask(json!(number(&now, "polarizerDeg") + 90.0), 340.0);
    let apart = stops(&now) - stops(&quarter);
    near(
        "quarter",
        "stops",
        number(&now, "quarterTurnStops"),
        apart,
        1e-9,
    );
}

#[test]
fn the_sun_is_up_until_its_upper_limb_is_down() {
    let place = json!({"latitudeDeg": 51.6, "longitudeDeg": 3.7, "date": "2031-05-04", "offsetMinutes": 120});
    let set = answered("sunDay", &place)["set"]
        .as_str()
        .unwrap()
        .to_owned();
    let up = |minute: &str| {
        let time = format!("{}{minute}:00Z", &set[..14]);
        answered(
            "sun",
            &json!({"latitudeDeg": 51.6, "longitudeDeg": 3.7, "time": time}),
        )["isUp"]
            .as_bool()
            .unwrap()
    };
    let minute: u8 = set[14..16].parse().unwrap();
    // A minute either side of the set that `sunDay` tells.
    assert!(up(&format!("{:02}", minute - 1)) && !up(&format!("{:02}", minute + 1)));
}

#[test]
fn the_sky_of_a_day_is_read_hour_by_hour() {
    let sky = json!({"latitudeDeg": 51.6, "longitudeDeg": 3.7, "date": "2031-05-04",
        "offsetMinutes": 120, "fromHour": 10, "toHour": 12.5, "facing": "sun"});
    let settings =
        json!({"aperture": 4, "exposureIndex": 800, "frameRate": 24, "shutterAngleDeg": 180});
    let request = json!({"reading": settings, "shot": settings, "sky": sky});
    let reply = answered("dayNeeds", &request);
    let lights = reply["lights"].as_array().unwrap();
    let times: Vec<&str> = lights
        .iter()
        .map(|light| light["time"].as_str().unwrap())
        .collect();
    let utc =
        ["08:00:00Z", "09:00:00Z", "10:00:00Z", "10:30:00Z"].map(|t| format!("2031-05-04T{t}"));
    assert_eq!(times, utc);
    // The same by the three questions a page used to ask.
    let sun = answered(
        "sun",
        &json!({"latitudeDeg": 51.6, "longitudeDeg": 3.7, "time": times[3]}),
    );
    let light = answered(
        "daylight",
        &json!({"sunElevationDeg": sun["elevationDeg"], "facing": "sun"}),
    );
    let read = answered(
        "exposure",
        &json!({"exposureIndex": 800, "frameRate": 24,
        "shutterAngleDeg": 180, "illuminanceLux": light["facingLux"]}),
    );
    near(
        "sky",
        "aperture",
        number(&lights[3], "aperture"),
        number(&read, "aperture"),
        1e-9,
    );
    let mut wrong = request.clone();
    wrong["sky"]["toHour"] = json!(25);
    assert_eq!(refused("dayNeeds", &wrong).field, "sky.toHour");
    wrong["sky"]["latitudeDeg"] = json!(95);
    assert_eq!(refused("dayNeeds", &wrong).field, "sky.latitudeDeg");
}

#[test]
fn the_heaviest_stack_is_named_and_what_says_no_weight_is_told() {
    let request = json!({
        "items": [{"massG": 600, "distanceFromRimMm": 50}],
        "stacks": [[], [{"massG": 90, "distanceFromRimMm": 20}, {"massG": 80, "distanceFromRimMm": 30}],
            [{"massG": 150, "distanceFromRimMm": 90}]],
        "pivotBehindRimMm": 10, "counterArmMm": 200,
    });
    let reply = answered("weight", &request);
    let heaviest = &reply["heaviest"];
    assert_eq!(
        (heaviest["stack"].as_u64(), heaviest["massG"].as_f64()),
        (Some(1), Some(770.0))
    );
    // (600·60 + 90·30 + 80·40) g·mm · 9.80665, by hand.
    near(
        "heaviest",
        "moment",
        number(heaviest, "momentNm"),
        41_900.0 * 9.806_65e-6,
        1e-12,
    );
    near(
        "heaviest",
        "counter",
        number(heaviest, "counterweightG"),
        41_900.0 / 200.0,
        1e-9,
    );
    assert_eq!(reply["partly"], false);
    let mut unknown = request;
    unknown["stacks"][2][0] = json!({"distanceFromRimMm": 90});
    assert_eq!(refused("weight", &unknown).field, "stacks[2][0].massG");
    unknown["skipUnknown"] = json!(true);
    assert_eq!(answered("weight", &unknown)["partly"], true);
}

#[test]
fn the_quickest_change_leaves_what_the_stack_left() {
    let settings = |aperture: f64| json!({"aperture": aperture, "exposureIndex": 800, "frameRate": 24, "shutterAngleDeg": 180});
    let piece = |id: &str, density: f64| json!({"id": id, "kind": "nd", "density": density});
    let request = json!({
        "reading": settings(8.0), "shot": settings(4.0),
        "kit": [piece("0.3", 0.3), piece("0.3 b", 0.3), piece("0.6", 0.6), piece("1.2", 1.2)],
        "rig": {"slots": [{"id": "a"}, {"id": "b"}]},
        "inPlace": [{"slot": "a", "piece": "0.3"}, {"slot": "b", "piece": "1.2"}],
        "quickestLeavingStops": 0, "limit": 50,
    });
    let reply = answered("openUp", &request);
    let to = &reply["stacks"][usize::try_from(reply["quickest"].as_u64().unwrap()).unwrap()];
    // The other 0.3 in the place of the 1.2: one move, where 0.6 alone takes two.
    assert_eq!(to["moves"], 1);
    assert!(number(to, "leftOverStops").abs() <= 1.0 / 6.0);
    assert_eq!(reply["lightMissing"], false);
    let mut dark = request;
    dark["reading"]["aperture"] = json!(2.8);
    assert_eq!(answered("openUp", &dark)["lightMissing"], true);
    assert!(answered("openUp", &dark)["quickest"].is_null());
}

#[test]
fn a_verdict_the_look_and_the_room_are_of_one_opening() {
    let ring = |name: &str, distance: f64, diameter: f64| json!({"name": name, "distanceFromRimMm": distance, "shape": "circle", "diameterMm": diameter});
    let ask = |openings: Value| {
        answered(
            "fit",
            &json!({"sensor": sensor(), "focalLengthMm": 25, "fNumber": 2.8, "frontDiameterMm": 77,
                "openings": openings}),
        )
    };
    let reply = ask(json!([ring("near", 10.0, 82.0), ring("far", 40.0, 118.0)]));
    let worst = usize::try_from(reply["worst"].as_u64().unwrap()).unwrap();
    assert_eq!(reply["openings"][worst]["spareMm"], reply["spareMm"]);
    assert_eq!(reply["openings"][worst]["verdict"], reply["verdict"]);
    // One that was seen to be clear, whatever the figures say of it, is not what
    // a verdict that shades is about.
    let mut openings = json!([ring("seen", 10.0, 50.0), ring("far", 40.0, 70.0)]);
    openings[0]["seen"] = json!("clear");
    let reply = ask(openings);
    assert_eq!(
        (
            reply["verdict"].as_str().unwrap() == "clear",
            &reply["worst"]
        ),
        (false, &json!(1))
    );
    assert_eq!(reply["openings"][0]["seen"], true);
}

#[test]
fn a_turning_stage_says_how_far_it_may_turn() {
    let reply = answered(
        "fit",
        &json!({"sensor": sensor(), "focalLengthMm": 25, "fNumber": 2.8, "pupilBehindRimMm": 20,
            "openings": [{"name": "stage", "distanceFromRimMm": 45, "shape": "rectangle",
                "widthMm": 100, "heightMm": 80, "turns": true}]}),
    );
    let opening = &reply["openings"][0];
    let turn = &opening["clearTurn"];
    assert_eq!(turn["upright"], true);
    let arcs = opening["shadingArcs"].as_array().unwrap();
    // As far as the nearest arc that shades.
    let nearest = arcs
        .iter()
        .map(|arc| number(arc, "fromDeg"))
        .fold(f64::MAX, f64::min);
    near("turn", "by", number(turn, "byDeg"), nearest, 0.05);
    // The corner's ray is 24.26 by 32.35 mm out, the pupil's half 4.42: turned by t the
    // long side has 24.26 cos t + 32.35 sin t = 40 - 4.42 at 24.76 degrees, by hand.
    near("turn", "by hand", nearest, 24.76, 0.02);
    // At any turn it needs 40.44 + 4.42 mm each way from the axis, 89.7 in all: the least
    // of the usual sizes that passes so much.
    let sizes = answered("sizes", &json!({}));
    let clear = |size: &&Value| {
        number(size, "clearWidthMm").min(number(size, "clearHeightMm")) >= 2.0 * (40.44 + 4.42)
    };
    let least = (sizes["panels"].as_array().unwrap().iter()).find(clear);
    assert_eq!(opening["clearSize"]["panel"], least.unwrap()["name"]);
}

#[test]
fn a_colour_names_the_piece_at_hand_that_brings_it_nearest() {
    let reply = answered(
        "colour",
        &json!({"lightKelvin": 5600, "balanceKelvin": 3200, "ownShiftsMired": [20, 112, -131]}),
    );
    // 10⁶/3200 − 10⁶/5600 = 133.9 mired wanted.
    assert_eq!(reply["cast"]["nearestOwn"], 1);
    assert_eq!(reply["shifts"], false);
    let shifted = answered(
        "colour",
        &json!({"lightKelvin": 5600, "shiftsMired": [0.5]}),
    );
    assert_eq!(shifted["shifts"], true);
}

#[test]
fn the_dial_names_its_best_aims_and_the_day_its_best_hour() {
    let aims = answered(
        "skyAims",
        &json!({"sunAzimuthDeg": 90, "sunElevationDeg": 0, "aimElevationDeg": 0}),
    );
    assert_eq!(aims["bestDeg"], json!([0, 180]));
    let hours = answered(
        "skyHours",
        &json!({"latitudeDeg": 51.6, "longitudeDeg": 3.7,
        "date": "2031-05-04", "offsetMinutes": 120, "aimAzimuthDeg": 340, "aimElevationDeg": 10}),
    );
    let best = usize::try_from(hours["best"].as_u64().unwrap()).unwrap();
    let stops = |hour: &Value| number(hour, "darkeningStops");
    let list = hours["hours"].as_array().unwrap();
    assert!(list.iter().all(|hour| stops(hour) <= stops(&list[best])));
}

#[test]
fn an_engraved_stop_is_literal_where_the_pupil_is_meant() {
    let read = |text: &str, kind: &str| {
        let reply = answered("readText", &json!({"text": text, "as": kind}));
        number(&reply, "value")
    };
    assert_eq!(
        [read("f/1.2", "aperture"), read("1.2", "engravedAperture")],
        [1.2, 1.2]
    );
    near(
        "ring",
        "1.2",
        read("1.2", "aperture"),
        2f64.powf(1.0 / 3.0),
        1e-12,
    );
    // 50 mm at 1.2: a pupil of 41.7 mm, not 39.7.
    let working = answered(
        "workingStop",
        &json!({"focalLengthMm": 50, "aperture": 1.2}),
    );
    near(
        "pupil",
        "mm",
        number(&working, "pupilDiameterMm"),
        50.0 / 1.2,
        1e-9,
    );
    // Hyperfocal f²/(N·c) + f, by hand.
    let depth = answered(
        "depth",
        &json!({"focalLengthMm": 50, "fNumber": 1.2, "focusMm": 3000, "circleMm": 0.025}),
    );
    near(
        "depth",
        "hyperfocal",
        number(&depth, "hyperfocalMm"),
        2500.0 / (1.2 * 0.025) + 50.0,
        1e-6,
    );
    let behind = |number_: f64| {
        let reply = answered(
            "behindLens",
            &json!({"focalLengthMm": 50, "fNumber": number_, "circleMm": 0.025, "behind": [{"thicknessMm": 2}]}),
        );
        number(&reply, "depthOfFocusMm")
    };
    near(
        "behind",
        "depthOfFocus",
        behind(1.2) / behind(2.0),
        0.6,
        1e-9,
    );
    let list = answered("readList", &json!({"text": "50 T1.2 82"}));
    assert_eq!(
        list["entries"][0]["listed"]["lens"]["tNumber"], 1.2,
        "{list}"
    );
}
