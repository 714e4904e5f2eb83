//! `depth` through the public interface: outside values, worked examples, refusals.

use glasscall_tests::{answered, check, near, number, refused};
use glasscall_web::Code;
use serde_json::{Value, json};

const INCH: f64 = 25.4;

#[test]
fn depths_agree_with_the_outside() {
    check("depth");
    check("depth_from_sensor");
}

#[test]
fn the_army_course_finds_the_hyperfocal_distance() {
    // US Army Signal course SS0507, learning event 10 (read): 2 in at f/8 with a
    // circle of 0.002 in reaches infinity from 20.8 ft, sharp from 10.4 ft. The
    // course leaves out the one focal length our law adds.
    let reply = answered(
        "depth",
        &json!({"focalLengthMm": 2.0 * INCH, "fNumber": 8, "circleMm": 0.002 * INCH,
            "focusMm": "infinity"}),
    );
    let feet = |millimetres: f64| millimetres / INCH / 12.0;
    let course = feet(number(&reply, "hyperfocalMm") - 2.0 * INCH);
    near("SS0507", "hyperfocal", course, 20.8, 0.05);
    near("SS0507", "near", course / 2.0, 10.4, 0.05);
}

#[test]
fn a_depth_wish_gives_the_stop_and_its_neighbours() {
    let request = json!({"focalLengthMm": 50, "focusMm": 2500, "wantedDepthMm": 600,
        "sensor": {"widthMm": 24.0, "heightMm": 18.0}, "neighbourStops": 1});
    let found = answered("depth", &request);
    // A 24 x 18 picture has a diagonal of 30; a 1500th of it is 0.02.
    near("wish", "circle", number(&found, "circleMm"), 0.02, 1e-15);
    assert_eq!(found["circleRule"], "partOfDiagonal");
    near("wish", "depth", number(&found, "depthMm"), 600.0, 1e-9);
    let neighbours = found["neighbours"].as_array().unwrap();
    assert_eq!(neighbours.len(), 2);
    for (neighbour, by) in neighbours.iter().zip([-1.0, 1.0]) {
        near("neighbour", "by", number(neighbour, "byStops"), by, 0.0);
        // Independent route: ask for that stop outright.
        let outright = answered(
            "depth",
            &json!({"focalLengthMm": 50, "focusMm": 2500, "circleMm": 0.02,
                "fNumber": neighbour["fNumber"]}),
        );
        for field in ["nearMm", "farMm", "backgroundBlurMm", "diffractionMm"] {
            let wanted = number(&outright, field);
            near("neighbour", field, number(neighbour, field), wanted, 1e-6);
        }
    }
    assert!(number(&neighbours[0], "depthMm") < 600.0);
    assert!(number(&neighbours[1], "depthMm") > 600.0);
}

#[test]
fn a_blur_wish_is_met_in_millimetres_and_as_a_share() {
    let with = |field: &str, value: f64| {
        let mut request = json!({"focalLengthMm": 85, "focusMm": 2000, "circleMm": 0.025,
            "sensor": {"widthMm": 36, "heightMm": 24}, "backgroundMm": 6000});
        request[field] = json!(value);
        answered("depth", &request)
    };
    let (disc, share) = (
        with("wantedBlurMm", 0.6),
        with("wantedBlurOfFrame", 0.6 / 24.0),
    );
    near(
        "blur",
        "fNumber",
        number(&disc, "fNumber"),
        number(&share, "fNumber"),
        1e-12,
    );
    near(
        "blur",
        "share",
        number(&disc, "backgroundBlurOfFrame"),
        0.025,
        1e-12,
    );
}

#[test]
fn two_places_are_just_sharp_however_they_are_measured() {
    for from in ["lens", "sensor"] {
        for far in [json!(5000), json!("infinity")] {
            let found = answered(
                "depth",
                &json!({"focalLengthMm": 35, "wantedNearMm": 1500, "wantedFarMm": far,
                    "circleMm": 0.02, "measuredFrom": from}),
            );
            near(from, "near", number(&found, "nearMm"), 1500.0, 1e-5);
            if let Some(far) = far.as_f64() {
                near(from, "far", number(&found, "farMm"), far, 1e-3);
            } else if found["farMm"] != "infinity" {
                // The limit is infinity to the last bit: rounding may leave it short.
                assert!(number(&found, "farMm") > 1e8, "{found}");
            }
        }
    }
}

#[test]
fn a_tape_from_the_sensor_counts_the_lens_in() {
    let ask = |from: &str, focus: f64| {
        answered(
            "depth",
            &json!({"focalLengthMm": 50, "fNumber": 4, "circleMm": 0.02, "focusMm": focus,
                "measuredFrom": from}),
        )
    };
    let (taped, lens) = (ask("sensor", 1000.0), ask("lens", 1000.0));
    assert!(number(&taped, "magnification") > number(&lens, "magnification"));
    near("tape", "focus", number(&taped, "focusMm"), 1000.0, 1e-9);
    // 1000 = s + 50·s/(s − 50): s = 947.21, by hand.
    let same = ask("lens", 947.213_595_5);
    for field in ["nearMm", "farMm"] {
        let image = 50.0 * 947.213_595_5 / (947.213_595_5 - 50.0);
        near(
            "tape",
            field,
            number(&taped, field),
            number(&same, field) + image,
            1e-4,
        );
    }
}

#[test]
fn a_lens_marked_in_t_stops_is_opened_by_what_it_loses() {
    let found = answered(
        "depth",
        &json!({"focalLengthMm": 50, "tNumber": 2.8, "lensLossStops": 1.0 / 3.0,
            "circleMm": 0.02, "focusMm": 2500, "neighbourStops": 1}),
    );
    assert_eq!(found["fNumberLabel"], "f/2⅔");
    assert_eq!(found["tNumberLabel"], "T2.8");
    assert_eq!(found["neighbours"][1]["tNumberLabel"], "T4");
    assert_eq!(found["neighbours"][1]["fNumberLabel"], "f/2.8⅔");
    near("T", "t", number(&found, "tNumber"), 8f64.sqrt(), 1e-12);
}

#[test]
fn what_depth_cannot_answer_is_refused_by_name() {
    let with = |change: &Value| {
        let mut request = json!({"focalLengthMm": 50, "fNumber": 4, "circleMm": 0.02,
            "focusMm": 2500});
        for (field, value) in change.as_object().unwrap() {
            if value.is_null() {
                request.as_object_mut().unwrap().remove(field);
            } else {
                request[field] = value.clone();
            }
        }
        refused("depth", &request)
    };
    for (change, code, field) in [
        (json!({"fNumber": null}), Code::Missing, "fNumber"),
        (json!({"circleMm": null}), Code::Missing, "circleMm"),
        (json!({"tNumber": 4}), Code::OneTooMany, "tNumber"),
        (json!({"focusMm": null}), Code::Missing, "focusMm"),
        (json!({"focusMm": 50}), Code::OutOfRange, "focusMm"),
        (
            json!({"focusMm": 150, "measuredFrom": "sensor"}),
            Code::OutOfRange,
            "focusMm",
        ),
        (
            json!({"diagonalParts": 1500}),
            Code::OneTooMany,
            "diagonalParts",
        ),
        (
            json!({"wantedDepthMm": 100, "wantedBlurMm": 0.1}),
            Code::OneTooMany,
            "wantedBlurMm",
        ),
        (json!({"wantedFarMm": 3000}), Code::Missing, "wantedNearMm"),
        (
            json!({"focusMm": null, "wantedNearMm": 3000, "wantedFarMm": 2000}),
            Code::OutOfRange,
            "wantedFarMm",
        ),
        (json!({"wantedBlurOfFrame": 0.1}), Code::Missing, "sensor"),
        (
            json!({"neighbourStops": 0}),
            Code::OutOfRange,
            "neighbourStops",
        ),
    ] {
        let refusal = with(&change);
        assert_eq!(
            (refusal.code, refusal.field.as_str()),
            (code, field),
            "{change}"
        );
    }
}

#[test]
fn a_wish_beyond_every_iris_says_what_could_be_had() {
    let ask = |depth: f64| json!({"focalLengthMm": 50, "focusMm": 2500, "circleMm": 0.02, "wantedDepthMm": depth});
    let refusal = refused("depth", &ask(1.0));
    assert_eq!(refusal.field, "wantedDepthMm");
    let least = refusal.min.expect("the least depth");
    // Just inside the range that was told there is an answer.
    answered("depth", &ask(least * 1.000_001));
    assert_eq!(refused("depth", &ask(least * 0.999)).code, Code::OutOfRange);
}
