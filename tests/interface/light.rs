//! The Light functions of the public interface, against outside values where
//! there are any and against themselves where there are none.

use glasscall_tests::{answered, call, check, near, number, refused};
use serde_json::{Value, json};

#[test]
fn skies_agree() {
    check("sky");
}

#[test]
fn reflections_agree() {
    check("reflection");
}

#[test]
fn pairs_agree() {
    check("crossed_polarizers");
}

#[test]
fn a_pasted_place_is_read_and_shown_again() {
    let reply = answered("readPlace", &json!({"text": "51°30'N 3°15'W"}));
    near(
        "place",
        "latitude",
        number(&reply, "latitudeDeg"),
        51.5,
        1e-12,
    );
    assert_eq!(reply["label"], "51.5° N, 3.25° W");
    let again = answered("readPlace", &json!({"text": reply["label"]}));
    assert_eq!(again, reply);
    assert!(
        refused("readPlace", &json!({"text": "95, 3"}))
            .message()
            .contains("needs -90 to 90")
    );
    let nowhere = call("readPlace", &json!({"text": "somewhere"})).unwrap_err();
    assert_eq!(nowhere.code, glasscall_web::Code::NotUnderstood);
}

fn sky(changes: &Value) -> Value {
    let mut request = json!({
        "sunAzimuthDeg": 90, "sunElevationDeg": 20, "aimAzimuthDeg": 0, "aimElevationDeg": 25,
        "sensor": {"widthMm": 36, "heightMm": 24}, "focalLengthMm": 18,
    });
    for (field, value) in changes.as_object().unwrap() {
        request[field] = value.clone();
    }
    request
}

#[test]
fn a_wide_lens_across_the_sun_gets_a_band() {
    let reply = answered("sky", &sky(&json!({})));
    assert_eq!(reply["verdict"], "banded");
    let band = &reply["band"];
    assert!(number(band, "left") < number(band, "right"));
    // Turned to where it is darkest by name or by number is the same.
    let turned = sky(&json!({"polarizerDeg": reply["polarizerDeg"]}));
    assert_eq!(answered("sky", &turned), reply);
    let across = sky(&json!({"polarizerDeg": number(&reply, "polarizerDeg") + 90.0}));
    assert!(number(&answered("sky", &across), "darkeningStops") < 0.0);
}

#[test]
fn skies_that_cannot_be_are_refused_by_name() {
    assert!(
        refused("sky", &sky(&json!({"sunElevationDeg": 91})))
            .message()
            .starts_with("sunElevationDeg")
    );
    assert!(
        refused("sky", &sky(&json!({"maxPolarization": 1.2})))
            .message()
            .starts_with("maxPolarization")
    );
    assert!(
        refused("sky", &sky(&json!({"focalLengthMm": 0})))
            .message()
            .starts_with("focalLengthMm")
    );
    let flat = sky(&json!({"sensor": {"widthMm": 0, "heightMm": 24}}));
    assert!(
        refused("sky", &flat)
            .message()
            .starts_with("sensor.widthMm")
    );
}

#[test]
fn the_dial_is_dark_a_quarter_turn_from_a_low_sun() {
    let request = json!({"sunAzimuthDeg": 120, "sunElevationDeg": 0, "aimElevationDeg": 0});
    let reply = answered("skyAims", &request);
    let aims = reply["aims"].as_array().unwrap();
    let stops = |azimuth: usize| number(&aims[azimuth / 10], "darkeningStops");
    assert_eq!(aims.len(), 36);
    near("dial", "210°", stops(210), 2.0, 1e-9);
    near("dial", "30°", stops(30), 2.0, 1e-9);
    near("dial", "120°", stops(120), 0.0, 1e-9);
}

#[test]
fn the_strip_agrees_with_the_sun_and_the_sky() {
    let request = json!({
        "latitudeDeg": 52, "longitudeDeg": 5, "date": "2026-06-21", "offsetMinutes": 120,
        "aimAzimuthDeg": 10, "aimElevationDeg": 5,
    });
    let reply = answered("skyHours", &request);
    let hours = reply["hours"].as_array().unwrap();
    // From rise to set, about 16¾ hours.
    assert!((64..=68).contains(&hours.len()), "{}", hours.len());
    for hour in hours {
        let sun = answered(
            "sun",
            &json!({
                "latitudeDeg": 52, "longitudeDeg": 5, "time": hour["time"],
            }),
        );
        let sky = answered(
            "sky",
            &sky(&json!({
                "sunAzimuthDeg": sun["azimuthDeg"], "sunElevationDeg": sun["elevationDeg"],
                "aimAzimuthDeg": 10, "aimElevationDeg": 5,
            })),
        );
        let (found, wanted) = (
            number(hour, "darkeningStops"),
            number(&sky, "darkeningStops"),
        );
        near("strip", "darkening", found, wanted, 1e-9);
    }
}

#[test]
fn water_tells_where_to_stand() {
    let request = json!({"refractiveIndex": 1.333, "angleDeg": 53.1232, "lensHeightMm": 1500});
    let reply = answered("reflection", &request);
    near(
        "water",
        "distance",
        number(&reply, "brewsterDistanceMm"),
        1999.5,
        1e-6,
    );
    assert_eq!(reply["verdict"], "strong");
    let square = json!({"refractiveIndex": 1.333, "angleDeg": 5});
    assert_eq!(answered("reflection", &square)["verdict"], "move");
}

#[test]
fn a_sheet_that_leaks_leaves_more_of_a_reflection() {
    let at = |ratio: Option<f64>| {
        let mut request = json!({"refractiveIndex": 1.5, "angleDeg": 56.3, "surface": "pane"});
        if let Some(ratio) = ratio {
            request["extinctionRatio"] = json!(ratio);
        }
        number(&answered("reflection", &request), "leftByPolarizer")
    };
    assert!(at(None) < at(Some(1000.0)) && at(Some(1000.0)) < at(Some(50.0)));
}

#[test]
fn stops_and_angle_of_a_pair_lead_to_each_other() {
    let by_angle = answered("crossedPolarizers", &json!({"angleDeg": 70}));
    let by_stops = answered("crossedPolarizers", &json!({"stops": by_angle["stops"]}));
    near("pair", "angle", number(&by_stops, "angleDeg"), 70.0, 1e-9);
    // The assumed pair: 2⅓ stops parallel, 1000 to one.
    near(
        "pair",
        "loss",
        number(&by_angle, "lossStops"),
        7.0 / 3.0,
        1e-12,
    );
    near(
        "pair",
        "most",
        number(&by_angle, "mostStops"),
        7.0 / 3.0 + 1000f64.log2(),
        1e-12,
    );
}

#[test]
fn a_pair_refuses_what_it_cannot_do() {
    let both = json!({"angleDeg": 10, "stops": 4});
    assert_eq!(call("crossedPolarizers", &both).unwrap_err().field, "stops");
    assert_eq!(
        call("crossedPolarizers", &json!({})).unwrap_err().field,
        "angleDeg"
    );
    let dark = call("crossedPolarizers", &json!({"stops": 20})).unwrap_err();
    near(
        "pair",
        "max",
        dark.max.unwrap(),
        7.0 / 3.0 + 1000f64.log2(),
        1e-9,
    );
    near("pair", "min", dark.min.unwrap(), 7.0 / 3.0, 1e-9);
}

#[test]
fn an_iris_pull_is_matched_by_a_turn_as_long_as_it_can_be() {
    let request = json!({
        "angleDeg": 40, "lossStops": 1.5, "extinctionRatio": 500,
        "pull": {"fromAperture": 8, "toAperture": 2.8},
    });
    let reply = answered("crossedPolarizers", &request);
    let steps = reply["pull"].as_array().unwrap();
    assert_eq!(steps.len(), 10);
    let last = &steps[9];
    assert_eq!(last["apertureLabel"], "T2.8");
    near(
        "pull",
        "stops",
        number(last, "stops"),
        number(&reply, "stops") + 3.0,
        1e-9,
    );
    // The angle gives those stops back.
    let back = answered(
        "crossedPolarizers",
        &json!({
            "angleDeg": last["angleDeg"], "lossStops": 1.5, "extinctionRatio": 500,
        }),
    );
    near(
        "pull",
        "angle",
        number(&back, "stops"),
        number(last, "stops"),
        1e-9,
    );
}

#[test]
fn a_pair_at_sixty_degrees_needs_an_infrared_cut() {
    // By Malus two stops beyond its 2⅓, the leak of the usual ratio taken off;
    // two films of 0.05 D stop 0.1 D of infrared.
    let dark = answered("crossedPolarizers", &json!({"angleDeg": 60}));
    let leak = (0.25_f64 + 0.75 / 1000.0).log2();
    let excess = (7.0 / 3.0 - leak) * core::f64::consts::LOG10_2 - 0.1;
    near(
        "pair",
        "infraredExcessDensity",
        number(&dark, "infraredExcessDensity"),
        excess,
        1e-9,
    );
    assert_eq!(dark["infrared"], "cutNeeded");
    assert_eq!(dark["notes"], json!(["polarizersPassInfrared"]));
    let light = answered("crossedPolarizers", &json!({"angleDeg": 50}));
    assert_eq!(
        (&light["infrared"], &light["notes"]),
        (&json!("fine"), &json!([]))
    );
}

#[test]
fn a_pair_on_a_wide_lens_warns_of_a_cross() {
    let at = |focal: f64| {
        answered(
            "crossedPolarizers",
            &json!({
                "angleDeg": 84,
                "picture": {"sensor": {"widthMm": 24.9, "heightMm": 14}, "focalLengthMm": focal},
            }),
        )
    };
    assert_eq!(at(14.0)["verdict"], "cross");
    assert_eq!(at(200.0)["verdict"], "even");
}

#[test]
fn a_measured_polarizer_replaces_the_assumed_one() {
    // T = T0·(1 ± p): T0 of 1⅔ stops and p of ½, worked backwards.
    let stop = |share: f64| 16.0 * (2f64.powf(-5.0 / 3.0) * share).sqrt();
    let request = json!({
        "bareAperture": 16.0, "brightestAperture": stop(1.5), "darkestAperture": stop(0.5),
    });
    let reply = answered("measuredPolarizer", &request);
    near(
        "polarizer",
        "loss",
        number(&reply, "lossStops"),
        5.0 / 3.0,
        1e-9,
    );
    near("polarizer", "p", number(&reply, "polarization"), 0.5, 1e-9);
    let swapped = json!({"bareAperture": 16, "brightestAperture": 5.6, "darkestAperture": 8});
    assert!(
        refused("measuredPolarizer", &swapped)
            .message()
            .starts_with("darkestAperture")
    );
}

#[test]
fn daylight_states_its_spread_and_its_end() {
    let at = |elevation: f64| answered("daylight", &json!({"sunElevationDeg": elevation}));
    for (elevation, spread) in [(40.0, 1.0 / 3.0), (15.0, 0.5), (5.0, 1.5), (-10.0, 1.5)] {
        near(
            "daylight",
            "spread",
            number(&at(elevation), "spreadStops"),
            spread,
            1e-12,
        );
    }
    assert!(at(-1.0)["skyOnlyLux"].is_null());
    let night = call("daylight", &json!({"sunElevationDeg": -20})).unwrap_err();
    assert_eq!(
        (night.field.as_str(), night.min),
        ("sunElevationDeg", Some(-18.0))
    );
    // Clear sun is number 16 at 1/EI on a dome (common practice, no source):
    // a card that faces the sun and half of the sky agrees to half a stop.
    let card = number(&at(45.0), "facingSunLux") + number(&at(45.0), "skyOnlyLux") / 2.0;
    let ev = answered(
        "exposure",
        &json!({
            "illuminanceLux": card, "exposureIndex": 100, "frameRate": 24,
            "shutterSeconds": 0.01, "receptor": "dome",
        }),
    );
    let off = 2.0 * (number(&ev, "aperture") / 16.0).log2();
    near("daylight", "aperture", off, 0.0, 0.5);
}

fn flag(side: &str, light: &Value) -> Value {
    let mut request = json!({
        "sensor": {"widthMm": 24.9, "heightMm": 14}, "focalLengthMm": 35, "fNumber": 2.8,
        "pupilBehindRimMm": 40, "glass": {"widthMm": 140, "heightMm": 100,
        "distanceFromRimMm": 15},
        "flag": {"side": side, "hingeFromAxisMm": 75, "hingeFromRimMm": 60},
    });
    for (field, value) in light.as_object().unwrap() {
        request[field] = value.clone();
    }
    request
}

fn sun(azimuth: f64, elevation: f64) -> Value {
    json!({"sun": {"sunAzimuthDeg": azimuth, "sunElevationDeg": elevation,
        "aimAzimuthDeg": 0, "aimElevationDeg": 0}})
}

#[test]
fn a_flag_fits_is_impossible_or_is_not_needed() {
    let verdict = |side, light: &Value| answered("flag", &flag(side, light))["verdict"].clone();
    assert_eq!(verdict("top", &sun(0.0, 50.0)), "fits");
    assert_eq!(verdict("top", &sun(0.0, 20.0)), "impossible");
    assert_eq!(verdict("top", &sun(0.0, 5.0)), "sourceInPicture");
    assert_eq!(verdict("bottom", &sun(0.0, 50.0)), "wrongSide");
    assert_eq!(verdict("top", &sun(180.0, 30.0)), "notNeeded");
    assert_eq!(verdict("right", &sun(60.0, 0.0)), "fits");
    assert_eq!(verdict("left", &sun(60.0, 0.0)), "wrongSide");
}

#[test]
fn the_shortest_flag_by_hand() {
    // Slope tan(50° − 0.2666°), the sun's low limb; from the low edge −50 at 15 to
    // 75: (75 + 50)/slope ahead of 15, less the hinge at 60.
    let reply = answered("flag", &flag("top", &sun(0.0, 50.0)));
    let radius = 959.63_f64 / 3600.0;
    let wanted = 125.0 / (50.0 - radius).to_radians().tan() + 15.0 - 60.0;
    near(
        "flag",
        "shortest",
        number(&reply, "shortestMm"),
        wanted,
        1e-4,
    );
    // Sun straight ahead: the flag needs the glass's own width and, as far ahead
    // as the flag's end is, what half the disc moves the shadow by; at 50° up its
    // radius is more than that to the side.
    let way = wanted + 60.0 - 15.0;
    let limb = way * radius.to_radians().tan() / 50f64.to_radians().cos();
    near(
        "flag",
        "reach",
        number(&reply, "reachToMm"),
        70.0 + limb,
        1e-3,
    );
    near(
        "flag",
        "reach",
        number(&reply, "reachFromMm"),
        -70.0 - limb,
        1e-3,
    );
}

#[test]
fn a_flag_near_a_lamp_reaches_less_far_than_the_glass() {
    // The audit's case: a lamp half a metre ahead. The lines from both edges of
    // the glass meet in it, so that they are nearer to each other on the way.
    let lamp = json!({"lamp": {"rightMm": 100, "upMm": 700, "aheadMm": 515}});
    let reply = answered("flag", &flag("top", &lamp));
    let way = number(&reply, "shortestMm") + 60.0 - 15.0;
    for (edge, field) in [(-70.0, "reachFromMm"), (70.0, "reachToMm")] {
        let crosses = edge + (100.0 - edge) * way / 500.0;
        near("flag", "lamp", number(&reply, field), crosses, 1e-9);
    }
}

#[test]
fn a_flag_says_sure_for_all_a_lens_may_be() {
    let mut request = flag("top", &sun(0.0, 50.0));
    let told = answered("flag", &request);
    assert_eq!(told["trust"], "sureClear");
    assert!(number(&told, "sureLongestMm") < number(&told, "longestMm"));
    // Within the sure length no lens of the region is seen: two cards that put
    // the pupil where the region allows it agree.
    request["pupilBehindRimMm"] = json!({"nearestMm": 0, "farthestMm": 60});
    let ranged = answered("flag", &request);
    assert!(number(&ranged, "sureLongestMm") < number(&told, "sureLongestMm"));
    request["pupilBehindRimMm"] = json!(60);
    let deepest = answered("flag", &request);
    assert!(number(&ranged, "sureLongestMm") <= number(&deepest, "longestMm"));
}

#[test]
fn a_lamp_far_away_is_a_sun_to_a_flag() {
    let far = 1e8;
    let lamp = json!({"lamp": {"rightMm": 0, "upMm": far * 50f64.to_radians().tan(),
        "aheadMm": far}});
    let lamp = answered("flag", &flag("top", &lamp));
    let sun = answered("flag", &flag("top", &sun(0.0, 50.0)));
    near(
        "flag",
        "lamp",
        number(&lamp, "shortestMm"),
        // A lamp is a point and the sun's low limb is 0.2666° lower.
        125.0 / 50f64.to_radians().tan() - 45.0,
        1e-3,
    );
    assert!(number(&sun, "shortestMm") > number(&lamp, "shortestMm"));
    let both = flag(
        "top",
        &json!({"lamp": {"rightMm": 0, "upMm": 1, "aheadMm": 1},
        "sun": sun_request()}),
    );
    assert_eq!(call("flag", &both).unwrap_err().field, "lamp");
}

fn sun_request() -> Value {
    sun(0.0, 50.0)["sun"].clone()
}

#[test]
fn ghosts_say_where_and_how_bright() {
    let request = json!({
        "between": "plateAndSensor", "tiltDeg": 3, "focalLengthMm": 50, "lampMm": 4,
        "reflectances": [0.04, 0.1], "edgeMm": 12,
    });
    let reply = answered("ghost", &request);
    near(
        "ghost",
        "stops",
        number(&reply, "weakerByStops"),
        -(0.004f64).log2(),
        1e-9,
    );
    let turn = 6f64.to_radians();
    near(
        "ghost",
        "shift",
        number(&reply, "shiftMm"),
        50.0 * turn.tan(),
        1e-9,
    );
    let at = 50.0 * (turn - (4f64 / 50.0).atan()).tan();
    near("ghost", "at", number(&reply, "ghostMm"), at, 1e-9);
    // At −4.57° already; the edge at 13.5° that way is nearer.
    let tilt = ((4f64 / 50.0).atan() - (12f64 / 50.0).atan()).to_degrees() / 2.0;
    near(
        "ghost",
        "tilt",
        number(&reply, "tiltToClearDeg"),
        tilt,
        1e-9,
    );
    let plate = json!({"between": "facesOfOnePlate", "focalLengthMm": 50,
        "reflectances": [0.04, 0.04]});
    assert!(
        refused("ghost", &plate)
            .message()
            .starts_with("refractiveIndex")
    );
}
