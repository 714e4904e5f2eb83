//! `fit` through the public interface.

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
pub fn request() -> Value {
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

pub fn with(change: impl FnOnce(&mut Value)) -> Value {
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
fn every_size_says_where_it_comes_from() {
    let sizes = answered("sizes", &json!({}));
    for list in ["threads", "panels", "sensors"] {
        let list = sizes[list].as_array().unwrap();
        assert!(list.len() > 8);
        for size in list {
            let source = size["source"].as_str().unwrap();
            let marked = ["published", "ISO ", "no source"]
                .iter()
                .any(|mark| source.contains(mark));
            assert!(marked, "{size}");
        }
    }
}
