//! What is measured of a lens, and what `fit` makes of it.

use crate::fit::{request, with};
use glasscall_tests::{call, near, number};
use glasscall_web::Refusal;
use serde_json::{Value, json};

fn answered(function: &str, request: &Value) -> Value {
    call(function, request).unwrap_or_else(|refusal| panic!("{function}: {}", refusal.message()))
}

fn refused(function: &str, request: &Value) -> Refusal {
    match call(function, request) {
        Err(refusal) => refusal,
        Ok(reply) => panic!("{function} answered {reply}"),
    }
}

#[test]
fn two_cards_find_the_pupil_of_a_known_chief_ray() {
    // The chief ray of `request`: 30 behind the rim, tan θ = 1.
    let cards = json!({"nearMm": 15, "nearHeightMm": 45, "farMm": 95, "farHeightMm": 125});
    let found = answered("pupilByTwoCards", &cards);
    near("cards", "tan", number(&found, "tanHalfField"), 1.0, 1e-12);
    near(
        "cards",
        "pupil",
        number(&found, "pupilBehindRimMm"),
        30.0,
        1e-9,
    );
    let wrong = json!({"nearMm": 95, "nearHeightMm": 45, "farMm": 15, "farHeightMm": 125});
    assert_eq!(refused("pupilByTwoCards", &wrong).field, "farMm");
    let level = json!({"nearMm": 15, "nearHeightMm": 45, "farMm": 95, "farHeightMm": 45});
    assert_eq!(refused("pupilByTwoCards", &level).field, "farHeightMm");
}

#[test]
fn a_ring_at_the_limit_that_fit_names_gives_the_pupil_back() {
    let reply = answered("fit", &request());
    let ring = json!({
        "sensor": {"widthMm": 32, "heightMm": 24}, "focalLengthMm": 20, "fNumber": 4,
        "ringDiameterMm": 92, "darkensFromMm": reply["openings"][0]["clearToMm"],
    });
    let found = answered("pupilByRing", &ring);
    near("ring", "nearestMm", number(&found, "nearestMm"), 30.0, 1e-8);
    assert!(number(&found, "farthestMm") > number(&found, "pupilBehindRimMm"));
}

#[test]
fn the_front_of_the_lens_bounds_the_pupil() {
    let front = json!({
        "sensor": {"widthMm": 32, "heightMm": 24}, "focalLengthMm": 20,
        "widestFNumber": 2.8, "frontDiameterMm": 77,
    });
    let found = answered("pupilByFront", &front);
    near(
        "front",
        "nearestMm",
        number(&found, "nearestMm"),
        19.25,
        1e-9,
    );
    near(
        "front",
        "farthestMm",
        number(&found, "farthestMm"),
        38.5,
        1e-9,
    );
}

/// Inputs on which earlier models were falsely sure, with what traces say.
fn wide() -> Value {
    json!({
        "sensor": {"widthMm": 22.084, "heightMm": 16.563}, "focalLengthMm": 14.42,
        "fNumber": 4, "pupilBehindRimMm": 19.841,
        "openings": [{"distanceFromRimMm": 60, "shape": "circle", "diameterMm": 162.55}],
    })
}

#[test]
fn a_wide_whose_picture_bends_is_not_called_clear() {
    // Our own trace at this corner: 2.42 mm short.
    let reply = answered("fit", &wide());
    near(
        "wide",
        "spareMm",
        number(&reply["openings"][0], "spareMm"),
        3.05,
        0.01,
    );
    assert_eq!(reply["trust"], "look");
    let mut other = wide();
    other["sensor"] = json!({"widthMm": 19.659, "heightMm": 14.744});
    other["focalLengthMm"] = 18.5.into();
    other["fNumber"] = 3.6.into();
    other["pupilBehindRimMm"] = 18.573.into();
    other["openings"][0]["diameterMm"] = 115.61.into();
    assert_eq!(answered("fit", &other)["trust"], "look");
}

#[test]
fn two_cards_tell_the_wide_shades() {
    // The traced chief ray of the picture's side (tangent 0.7986 where height over
    // focal length gives 0.7657): read without a fault, the corner's figures come
    // within a millimetre of the trace.
    let mut asked = wide();
    asked.as_object_mut().unwrap().remove("pupilBehindRimMm");
    let (pupil, tangent) = (20.33, 0.765_74 * (1.0 + 0.0435 * 0.64));
    let height = |z: f64| (pupil + z) * tangent;
    asked["cards"] = json!({"horizontal": {
        "nearMm": 20, "nearHeightMm": height(20.0), "farMm": 140, "farHeightMm": height(140.0),
    }});
    asked["pupilGrowth"] = 0.85.into();
    let reply = answered("fit", &asked);
    let told = &reply["openings"][0];
    near("cards", "spareMm", number(told, "spareMm"), -2.42, 1.0);
    assert!(number(told, "spareLeastMm") < -2.42 && number(told, "spareMostMm") > -2.42);
    assert_eq!(told["verdict"], "shades");
}

#[test]
fn a_long_lens_is_clear_where_its_front_holds_the_light() {
    // 47.5 less half a front of 76 and 20 mm at 18/200: the light cannot be
    // further out, whatever the pupil says.
    let mut asked = json!({
        "sensor": {"widthMm": 36, "heightMm": 24}, "focalLengthMm": 200, "fNumber": 2.8,
        "pupilBehindRimMm": 180,
        "openings": [{"distanceFromRimMm": 20, "shape": "rectangle", "widthMm": 95, "heightMm": 95}],
    });
    assert_ne!(answered("fit", &asked)["trust"], "sureClip");
    asked["frontDiameterMm"] = 76.into();
    let reply = answered("fit", &asked);
    near(
        "200 mm",
        "spareMm",
        number(&reply["openings"][0], "spareMm"),
        7.7,
        1e-9,
    );
    assert_eq!(
        (&reply["verdict"], &reply["trust"]),
        (&json!("clear"), &json!("sureClear"))
    );
    // The same of two fast ones, pupil by the front.
    for (focal, number_, front, ahead, width, height) in [
        (85, 1.4, 73, 40, 134, 95),
        (135, 2.0, 73, 30, 95, 95),
        (85, 1.4, 73, 20, 95, 95),
    ] {
        let reply = answered(
            "fit",
            &json!({
                "sensor": {"widthMm": 36, "heightMm": 24}, "focalLengthMm": focal, "fNumber": number_,
                "frontDiameterMm": front,
                "openings": [{"distanceFromRimMm": ahead, "shape": "rectangle",
                              "widthMm": width, "heightMm": height}],
            }),
        );
        assert_eq!(reply["trust"], "sureClear", "{focal} mm");
    }
}

#[test]
fn an_anamorphic_lens_needs_cards_for_each_axis() {
    let pair = json!({"nearMm": 20, "nearHeightMm": 40, "farMm": 120, "farHeightMm": 100});
    let squeezed = with(|r| {
        r.as_object_mut().unwrap().remove("pupilBehindRimMm");
        r["squeeze"] = 2.into();
        r["cards"] = json!({"horizontal": pair});
    });
    assert_eq!(refused("fit", &squeezed).field, "cards.vertical");
    let mut both = squeezed;
    both["cards"]["vertical"] =
        json!({"nearMm": 20, "nearHeightMm": 30, "farMm": 120, "farHeightMm": 80});
    let light = &answered("fit", &both)["openings"][0]["light"]["corners"][3];
    // Across: a pupil 46.667 behind the rim at a tangent of 0.6; up: 40 at 0.5.
    near("corner", "xMm", number(light, "xMm"), 31.0, 1e-9);
    near("corner", "yMm", number(light, "yMm"), 22.5, 1e-9);
}
