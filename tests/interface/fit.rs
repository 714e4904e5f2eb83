//! `fit` and the ways to find a pupil, through the public interface.

use glasscall_tests::{call, cases, expect_reply, law, near, number};
use glasscall_web::{Code, Given, Refusal};
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
fn openings_agree_with_polygon_areas() {
    for case in cases("fit") {
        let reply = answered(&case.function, &case.request);
        expect_reply(&case.id, &reply, &case.expect, &case.tolerance);
        let some_light = case.expect["cornerLossStops"].is_number();
        assert_eq!(
            reply["cornerLossStops"].is_number(),
            some_light,
            "{}: a loss is a number exactly where light is left",
            case.id
        );
    }
}

#[test]
fn limits_agree_with_closed_forms() {
    let group = law("coverage", "limits");
    for case in &group.cases {
        let given = &case.given;
        let mut opening = json!({"name": "only", "distanceFromRimMm": 0, "shape": given["shape"]});
        for (field, name) in [
            ("widthMm", "width_mm"),
            ("heightMm", "height_mm"),
            ("diameterMm", "diameter_mm"),
        ] {
            if given[name].is_number() {
                opening[field] = given[name].clone();
            }
        }
        // These numbers are literal, and 1.4 alone would be read as a label.
        let literal = number(given, "number") * (1.0 + 1e-12);
        let reply = answered(
            "fit",
            &json!({
                "sensor": {"widthMm": given["sensor_w_mm"], "heightMm": given["sensor_h_mm"]},
                "focalLengthMm": given["focal_mm"],
                "fNumber": literal,
                "pupilBehindRimMm": given["z_mm"],
                "openings": [opening],
            }),
        );
        let rel = number(&group.tolerance, "rel");
        let least = number(&group.tolerance, "abs");
        for (field, name) in [
            ("cleanFromFNumber", "clean_from_number"),
            ("widestFocalLengthMm", "widest_clear_focal_mm"),
        ] {
            match case.out[name].as_f64() {
                Some(wanted) => {
                    let off = least.max(rel * wanted);
                    near(&case.id, field, number(&reply, field), wanted, off);
                }
                None => assert!(reply[field].is_null(), "{}: {field}", case.id),
            }
        }
    }
}

/// tan θ = 1 at the corners; a pupil 5 mm across and 30 mm behind the rim.
fn request() -> Value {
    json!({
        "sensor": {"widthMm": 32, "heightMm": 24},
        "focalLengthMm": 20,
        "fNumber": 4,
        "pupilBehindRimMm": 30,
        "openings": [
            {"name": "ring", "distanceFromRimMm": 5, "shape": "circle", "diameterMm": 92},
            {"name": "tray", "distanceFromRimMm": 20, "shape": "rectangle",
             "widthMm": 95, "heightMm": 95},
        ],
    })
}

fn with(change: impl FnOnce(&mut Value)) -> Value {
    let mut request = request();
    change(&mut request);
    request
}

#[test]
fn each_opening_says_how_far_it_may_go() {
    let reply = answered("fit", &request());
    let (ring, tray) = (&reply["openings"][0], &reply["openings"][1]);
    // 46 − 35 − 2.5 and 47.5 − 50·0.8 − 2.5, by hand.
    near("ring", "spareMm", number(ring, "spareMm"), 8.5, 1e-9);
    near("tray", "spareMm", number(tray, "spareMm"), 5.0, 1e-9);
    near("ring", "clearToMm", number(ring, "clearToMm"), 13.5, 1e-9);
    near("tray", "clearToMm", number(tray, "clearToMm"), 26.25, 1e-9);
    // A wide of which only the pupil's place is known may bend further out.
    assert_eq!(reply["trust"], "look");
    let measured = answered(
        "fit",
        &with(|r| {
            r["distortion"] = 0.into();
            r["pupilGrowth"] = 0.into();
        }),
    );
    assert_eq!(measured["trust"], "sureClear");
    assert_eq!(tray["spareMm"], measured["openings"][1]["spareMm"]);
    assert_eq!(reply["pupil"], json!({"widthMm": 5, "heightMm": 5}));
    let corner = &tray["light"]["corners"][3];
    near("tray", "xMm", number(corner, "xMm"), 40.0, 1e-9);
    near("tray", "yMm", number(corner, "yMm"), 30.0, 1e-9);
}

#[test]
fn a_pupil_between_limits_answers_for_the_worse_one() {
    let limits = json!({"nearestMm": 10, "farthestMm": 36});
    let between = answered("fit", &with(|r| r["pupilBehindRimMm"] = limits));
    let farthest = answered("fit", &with(|r| r["pupilBehindRimMm"] = 36.into()));
    assert_eq!(
        between["openings"][1]["spareMm"],
        farthest["openings"][1]["spareMm"]
    );
    assert_eq!(between["trust"], "look");
}

#[test]
fn a_lens_of_which_nothing_is_known_is_not_guessed() {
    let pupil = |r: &mut Value| r.as_object_mut().unwrap().remove("pupilBehindRimMm");
    let unknown = answered("fit", &with(|r| drop(pupil(r))));
    assert_eq!(
        (&unknown["verdict"], &unknown["trust"]),
        (&json!("unknown"), &json!("unknown"))
    );
    assert!(unknown["openings"][0]["spareMm"].is_null() && unknown["cornerPassed"].is_null());
    // One look tells of its own opening, and not of the other.
    let looked = answered(
        "fit",
        &with(|r| {
            pupil(r);
            r["openings"][0]["seen"] = "clear".into();
        }),
    );
    assert_eq!(looked["openings"][0]["trust"], "sureClear");
    assert_eq!(looked["trust"], "unknown");
    // A front gives limits: chief rays of the corner (tan θ = 1) come in through it.
    let front = answered(
        "fit",
        &with(|r| {
            pupil(r);
            r["frontDiameterMm"] = 72.into();
        }),
    );
    let limits = json!({"nearestMm": 0, "farthestMm": 36});
    let between = answered("fit", &with(|r| r["pupilBehindRimMm"] = limits));
    assert_eq!(
        front["openings"][1]["spareMm"],
        between["openings"][1]["spareMm"]
    );
}

#[test]
fn the_same_pupil_for_both_axes_is_the_pupil() {
    let axes = json!({"horizontalMm": 30, "verticalMm": 30});
    let both = answered("fit", &with(|r| r["pupilBehindRimMm"] = axes));
    assert_eq!(both, answered("fit", &request()));
}

#[test]
fn the_clean_stop_is_marked_on_the_closed_side() {
    // The tray leaves the chief ray 7.5 mm at 50 ahead of the pupil and the ring
    // 11: clean from a pupil 15 across, f/1.333, whose next mark is 1⅔.
    let reply = answered("fit", &request());
    let clean = number(&reply, "cleanFromFNumber");
    near("clean", "cleanFromFNumber", clean, 4.0 / 3.0, 1e-9);
    let label = reply["cleanFromLabel"].as_str().unwrap();
    let marked = answered("readText", &json!({"text": label, "as": "aperture"}));
    let mark = number(&marked, "value");
    assert!(
        mark >= clean && mark < clean * 2f64.powf(1.0 / 6.0),
        "{label}"
    );
}

#[test]
fn a_t_number_has_the_pupil_of_its_f_number() {
    // T4 of a lens that loses a stop is f/2.8: a pupil √2 as wide.
    let reply = answered("fit", &with(|r| r["lensLossStops"] = 1.into()));
    let width = number(&reply["pupil"], "widthMm");
    near("T4", "widthMm", width, 5.0 * 2f64.sqrt(), 1e-9);
    let gain = with(|r| r["lensLossStops"] = (-1).into());
    assert_eq!(refused("fit", &gain).field, "lensLossStops");
}

#[test]
fn the_loss_map_is_clear_in_the_middle() {
    let request = with(|r| {
        r["openings"][0]["diameterMm"] = 60.into();
        r["lossMap"] = json!({"columns": 33, "rows": 25});
    });
    let reply = answered("fit", &request);
    let map = reply["lossMap"].as_array().unwrap();
    assert_eq!(map.len(), 33 * 25);
    assert_eq!(map[12 * 33 + 16], 0.0);
    assert!(map[0].is_null(), "the corner lies 34 out, the ring at 30");
    assert_eq!(map[0], map[33 * 25 - 1]);
}

#[test]
fn a_point_of_the_picture_tells_its_own_loss() {
    let place = |up: f64, across: f64| json!({"atFrameHeight": up, "acrossFrame": across});
    let request = with(|r| {
        r["openings"][0]["diameterMm"] = 70.into();
        r["points"] = json!([place(1.0, 1.0), place(0.5, 0.5), place(0.75, 0.75)]);
    });
    let reply = answered("fit", &request);
    let lost = |at: usize| number(&reply["points"][at], "lossStops");
    near(
        "corner",
        "lossStops",
        lost(0),
        number(&reply, "cornerLossStops"),
        1e-12,
    );
    near("middle", "lossStops", lost(1), 0.0, 0.0);
    near("halfway", "lossStops", lost(2), 0.0, 0.0);
    let outside = with(|r| r["points"] = json!([place(1.5, 0.5)]));
    assert_eq!(refused("fit", &outside).field, "points[0].atFrameHeight");
}

#[test]
fn a_size_that_would_not_shade_is_named_and_does_not() {
    let narrow = with(|r| {
        r["openings"][1]["widthMm"] = 79.into();
        r["openings"][1]["heightMm"] = 79.into();
    });
    let reply = answered("fit", &narrow);
    assert!(reply["openings"][0]["clearSize"].is_null());
    let panel = &reply["openings"][1]["clearSize"]["panel"];
    let sizes = answered("sizes", &json!({}));
    let list = sizes["panels"].as_array().unwrap();
    let size = list.iter().find(|size| size["name"] == *panel).unwrap();
    let taken = with(|r| {
        r["openings"][1]["widthMm"] = size["clearWidthMm"].clone();
        r["openings"][1]["heightMm"] = size["clearHeightMm"].clone();
    });
    assert_eq!(answered("fit", &taken)["openings"][1]["verdict"], "clear");
}

#[test]
fn impossible_fits_are_refused_by_field() {
    let cases = [
        // A field that nears a half turn.
        (with(|r| r["focalLengthMm"] = 1.5.into()), "focalLengthMm"),
        (with(|r| r["focalLengthMm"] = 0.into()), "focalLengthMm"),
        (with(|r| r["fNumber"] = 0.into()), "fNumber"),
        (
            with(|r| r["sensor"]["widthMm"] = 0.into()),
            "sensor.widthMm",
        ),
        (with(|r| r["squeeze"] = 9.into()), "squeeze"),
        (
            with(|r| r["openings"][1]["widthMm"] = 0.into()),
            "openings[1].widthMm",
        ),
        (
            with(|r| r["openings"][0]["diameterMm"] = (-1).into()),
            "openings[0].diameterMm",
        ),
        // Behind the pupil, and where another one stands.
        (
            with(|r| r["openings"][0]["distanceFromRimMm"] = (-31).into()),
            "openings[0].distanceFromRimMm",
        ),
        (
            with(|r| r["openings"][1]["distanceFromRimMm"] = 5.into()),
            "openings[1].distanceFromRimMm",
        ),
        (
            with(|r| r["openings"][0]["depthMm"] = 16.into()),
            "openings[1].distanceFromRimMm",
        ),
        (
            with(|r| r["pupilBehindRimMm"] = json!({"nearestMm": 10, "farthestMm": 9})),
            "pupilBehindRimMm.farthestMm",
        ),
        (
            with(|r| r["zoom"] = json!({"focalLengthMm": 1.5})),
            "zoom.focalLengthMm",
        ),
        (
            with(|r| r["lossMap"] = json!({"columns": 0, "rows": 9})),
            "lossMap.columns",
        ),
    ];
    for (request, field) in cases {
        let refusal = refused("fit", &request);
        assert_eq!(
            (refusal.code, refusal.field.as_str()),
            (Code::OutOfRange, field)
        );
        assert!(refusal.min.is_some() && refusal.max.is_some(), "{field}");
        assert!(matches!(refusal.given, Some(Given::Number(_))), "{field}");
    }
}

#[test]
fn a_shape_needs_its_own_sizes_and_no_others() {
    let missing = with(|r| {
        r["openings"][0]
            .as_object_mut()
            .unwrap()
            .remove("diameterMm");
    });
    let refusal = refused("fit", &missing);
    assert_eq!(refusal.code, Code::Missing);
    assert_eq!(refusal.field, "openings[0].diameterMm");
    let refusal = refused("fit", &with(|r| r["openings"][0]["widthMm"] = 9.into()));
    assert_eq!(refusal.code, Code::OneTooMany);
    assert_eq!(refusal.field, "openings[0].widthMm");
}

#[test]
fn the_focal_length_that_would_do_does() {
    let refusal = refused("fit", &with(|r| r["focalLengthMm"] = 1.5.into()));
    let least = refusal.min.unwrap() * (1.0 + 1e-9);
    answered("fit", &with(|r| r["focalLengthMm"] = least.into()));
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
    near("front", "nearestMm", number(&found, "nearestMm"), 0.0, 0.0);
    near(
        "front",
        "farthestMm",
        number(&found, "farthestMm"),
        38.5,
        1e-9,
    );
}

#[test]
fn every_size_says_where_it_comes_from() {
    let sizes = answered("sizes", &json!({}));
    for list in ["threads", "panels", "sensors"] {
        let list = sizes[list].as_array().unwrap();
        assert!(list.len() > 8);
        for size in list {
            let source = size["source"].as_str().unwrap();
            let marked = ["from memory", "no source"]
                .iter()
                .any(|mark| source.contains(mark));
            assert!(marked, "{size}");
        }
    }
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
