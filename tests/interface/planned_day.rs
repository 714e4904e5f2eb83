//! Needs of a day, rings that the fit allows, and weights by size, through the
//! public interface.

use glasscall_tests::{call, near, number};
use serde_json::{Value, json};

fn answered(function: &str, request: &Value) -> Value {
    call(function, request).unwrap_or_else(|refusal| panic!("{request}: {}", refusal.message()))
}

fn settings(aperture: f64, frame_rate: f64) -> Value {
    json!({"aperture": aperture, "exposureIndex": 800, "frameRate": frame_rate, "shutterAngleDeg": 180})
}

#[test]
fn a_range_of_light_by_two_rates_needs_whole_stops() {
    // T16 down to T4 for T2.8: 5, 4, 3, 2, 1; at twice the rate a stop less.
    let reply = answered(
        "dayNeeds",
        &json!({"reading": settings(16.0, 24.0), "darkestAperture": 4, "shot": settings(2.8, 24.0),
            "frameRates": [24, 48]}),
    );
    let needs = reply["needs"].as_array().unwrap();
    let stops: Vec<f64> = needs.iter().map(|need| number(need, "stops")).collect();
    assert_eq!(stops.len(), 6);
    for (at, stops) in stops.iter().enumerate() {
        near("needs", "stops", *stops, at as f64, 1e-9);
    }
    assert_eq!(needs[3]["ways"].as_array().unwrap().len(), 2);
    assert_eq!(reply["tooDark"], json!([]));
}

#[test]
fn each_need_is_what_the_main_question_says() {
    let reply = answered(
        "dayNeeds",
        &json!({"reading": settings(22.0, 25.0), "darkestAperture": 1.4, "stepStops": 0.7,
            "shot": settings(4.0, 25.0), "frameRates": [25, 60, 120], "wanted": [2, 5.6],
            "lenses": [{"id": "fast"}, {"id": "slow", "widestAperture": 2.9}]}),
    );
    let mut ways = 0;
    for need in ["needs", "tooDark"]
        .iter()
        .flat_map(|list| reply[list].as_array().unwrap())
    {
        for way in need["ways"].as_array().unwrap() {
            let asked = answered(
                "openUp",
                &json!({"reading": settings(number(way, "lightAperture"), 25.0),
                    "shot": settings(number(way, "aperture"), number(way, "frameRate"))}),
            );
            // Alike needs stand together to a thousandth of a stop.
            near(
                "way",
                "stops",
                number(need, "stops"),
                number(&asked, "needStops"),
                0.001,
            );
            assert!(way["lens"] == "fast" || number(way, "aperture") >= 2.9);
            ways += 1;
        }
    }
    // 8 stops in steps of 0.7 are 12 lights and the end; 3 rates, 2 stops, 2 lenses.
    assert_eq!(ways, 13 * 3 * 2 * 2);
    assert!(!reply["tooDark"].as_array().unwrap().is_empty());
}

#[test]
fn impossible_days_are_refused_by_field() {
    let refused = |change: &dyn Fn(&mut Value)| {
        let mut request = json!({"reading": settings(16.0, 24.0), "shot": settings(2.8, 24.0)});
        change(&mut request);
        call("dayNeeds", &request)
            .expect_err("a refusal")
            .field
            .clone()
    };
    assert_eq!(
        refused(&|r| r["darkestAperture"] = json!(22)),
        "darkestAperture"
    );
    assert_eq!(
        refused(&|r| {
            r["darkestAperture"] = json!(2);
            r["stepStops"] = json!(0);
        }),
        "stepStops"
    );
    assert_eq!(refused(&|r| r["wanted"] = json!([2, -1])), "wanted[1]");
    assert_eq!(refused(&|r| r["frameRates"] = json!([0])), "frameRates[0]");
    assert_eq!(refused(&|r| r["lights"] = json!(vec![8; 101])), "lights");
    let lens = json!([{"id": "a", "widestAperture": 0}]);
    assert_eq!(
        refused(&|r| r["lenses"] = lens.clone()),
        "lenses[0].widestAperture"
    );
}

/// A full-frame lens of 35 mm at f/2 whose pupil lies 30 mm behind its rim.
fn lens() -> Value {
    json!({"sensor": {"widthMm": 36, "heightMm": 24}, "focalLengthMm": 35, "fNumber": 2,
        "pupilBehindRimMm": 30})
}

#[test]
fn a_ring_that_narrows_is_used_exactly_when_the_fit_passes() {
    for clear in [60.0, 62.0, 65.0, 70.0, 80.0] {
        let rings = answered(
            "rings",
            &json!({"lenses": [{"id": "a", "threadMm": 95, "fit": lens()}], "filterMm": 82,
                "catalogue": [], "owned": [{"fromMm": 95, "toMm": 82, "clearMm": clear, "depthMm": 4}]}),
        );
        let mut fit = lens();
        fit["openings"] =
            json!([{"distanceFromRimMm": 0, "depthMm": 4, "shape": "circle", "diameterMm": clear}]);
        let fit = answered("fit", &fit);
        let path = &rings["lenses"][0];
        assert_eq!(
            path["reaches"] == true,
            fit["verdict"] == "clear",
            "{clear}"
        );
        if path["reaches"] == true {
            let spare = number(&fit["openings"][0], "spareMm");
            near("ring", "spareMm", number(path, "spareMm"), spare, 1e-9);
        }
    }
}

#[test]
fn a_panel_weighs_what_its_size_thickness_and_material_say() {
    // 4 × 5.65 in of 4 mm float glass: 10.16 · 14.351 · 0.4 cm³ · 2.5 g/cm³.
    let weigh = |size: &str, material: &str| {
        let item =
            json!({"size": size, "thicknessMm": 4, "material": material, "distanceFromRimMm": 0});
        number(&answered("weight", &json!({"items": [item]})), "massG")
    };
    near(
        "panel",
        "massG",
        weigh("4x5.65", "glass"),
        10.16 * 14.351 * 0.4 * 2.5,
        1e-9,
    );
    // 100 × 100 × 4 mm of resin: 40 cm³ · 1.31.
    near("resin", "massG", weigh("100 × 100", "resin"), 52.4, 1e-9);
    let round = std::f64::consts::PI / 4.0 * 7.7 * 7.7 * 0.4 * 2.5;
    near("round", "massG", weigh("77", "glass"), round, 1e-9);
    let unread = call(
        "weight",
        &json!({"items": [{"size": "big", "thicknessMm": 4, "distanceFromRimMm": 0}]}),
    );
    assert_eq!(unread.expect_err("a refusal").field, "items[0].size");
}
