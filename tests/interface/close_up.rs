//! `closeUp` and `behindLens`: flat and curved glass against outside values.

use glasscall_tests::{answered, check, near, number, refused};
use glasscall_web::Code;
use serde_json::{Value, json};

/// `reply.path` as a number.
fn at(reply: &Value, path: &str) -> f64 {
    let value = reply.pointer(path).unwrap_or(&Value::Null);
    value
        .as_f64()
        .unwrap_or_else(|| panic!("{path} is {value} in {reply}"))
}

#[test]
fn close_up_and_flat_glass_agree_with_the_outside() {
    check("close_up");
    check("behind_lens");
}

#[test]
fn close_up_lenses_focus_where_their_power_says() {
    // Common knowledge of every handbook: 1, 2 and 3 dioptres on a lens at
    // infinity focus at 1, ½ and ⅓ m, whatever the lens (from memory).
    for (power, far) in [(1.0, 1000.0), (2.0, 500.0), (3.0, 1000.0 / 3.0)] {
        let found = answered("closeUp", &json!({"dioptres": [power], "lensNearMm": 600}));
        near("close-up", "far", number(&found, "farMm"), far, 1e-9);
    }
    let two = answered(
        "closeUp",
        &json!({"dioptres": [1, 2], "lensNearMm": 600, "focalLengthMm": 100, "split": true,
            "sensor": {"widthMm": 36, "heightMm": 24}, "subjectMm": 250,
            "aheadOfPupilMm": 50}),
    );
    near("two", "power", number(&two, "dioptres"), 3.0, 0.0);
    assert_eq!(two["beside"]["farMm"], "infinity");
    // 1/250 − 3/1000 = 1/1000: the lens is set to a metre.
    near("two", "setting", at(&two, "/at/settingMm"), 1000.0, 1e-9);
    // m = (100/250)/(1 − 100/1000) = 4/9, by hand.
    near(
        "two",
        "size",
        at(&two, "/at/magnification"),
        4.0 / 9.0,
        1e-12,
    );
    near("two", "width", at(&two, "/at/fieldWidthMm"), 81.0, 1e-9);
    near("two", "field", number(&two, "fieldFactor"), 0.85, 1e-12);
    let in_parts = answered(
        "closeUp",
        &json!({"dioptres": [1, 2], "lensNearMm": 600, "pupilBehindRimMm": 38,
            "distanceFromRimMm": 12}),
    );
    near(
        "parts",
        "field",
        number(&in_parts, "fieldFactor"),
        0.85,
        1e-12,
    );
    // Reach ends at 1/3 m with both, and begins at 0.6 m without.
    near("two", "gap", at(&two, "/gap/fromMm"), 1000.0 / 3.0, 1e-9);
    near("two", "gap", at(&two, "/gap/toMm"), 600.0, 0.0);
    let far = refused(
        "closeUp",
        &json!({"dioptres": [2], "lensNearMm": 600, "subjectMm": 800}),
    );
    assert_eq!(far.field, "subjectMm");
    assert_eq!(far.max, Some(500.0));
    let none = refused("closeUp", &json!({"dioptres": [], "lensNearMm": 600}));
    assert_eq!(
        (none.code, none.field.as_str()),
        (Code::Missing, "dioptres")
    );
}

#[test]
fn glass_behind_the_lens_moves_infinity_on_the_scale() {
    let found = answered(
        "behindLens",
        &json!({"focalLengthMm": 50, "fNumber": 2, "circleMm": 0.02,
            "behind": [{"thicknessMm": 1, "refractiveIndex": 1.5}]}),
    );
    // A third of its thickness, t·(1 − 1/n) with n 1.5.
    near(
        "behind",
        "shift",
        number(&found, "shiftMm"),
        1.0 / 3.0,
        1e-12,
    );
    assert_eq!(found["verdict"], "beyond");
    near(
        "behind",
        "mark",
        number(&found, "infinityReadsMm"),
        7550.0,
        1e-6,
    );
    assert_eq!(found["sharpAtMm"], "beyondInfinity");
    near("behind", "blur", number(&found, "blurMm"), 1.0 / 6.0, 1e-12);
    // In front nothing moves at infinity.
    assert_eq!(found["inFrontReadsMm"], "infinity");
}

#[test]
fn wheel_positions_of_like_glass_keep_focus_and_an_empty_one_does_not() {
    let wheel = json!([{"thicknessMm": 2}, {"thicknessMm": 2}, {"thicknessMm": 0}]);
    let request = json!({"focalLengthMm": 35, "fNumber": 2.8, "circleMm": 0.02,
        "focusMm": 3000, "wheel": wheel, "wheelAt": 1,
        "inFront": [{"thicknessMm": 4, "refractiveIndex": 1.5}]});
    let found = answered("behindLens", &request);
    near("wheel", "shift", number(&found, "shiftMm"), 0.0, 1e-15);
    near(
        "wheel",
        "scale",
        number(&found, "scaleReadsMm"),
        3000.0,
        1e-6,
    );
    let positions = found["wheel"].as_array().unwrap();
    assert_eq!(positions[1]["verdict"], "within");
    assert_eq!(positions[2]["verdict"], "beyond");
    assert!(number(&positions[2], "shiftMm") < 0.0);
    // Glass taken away: infinity lies past its mark.
    assert_eq!(positions[2]["infinityReadsMm"], "beyondInfinity");
    // 4·(1 − 1/1.5) nearer through the glass in front.
    near(
        "wheel",
        "in front",
        number(&found, "inFrontReadsMm"),
        3000.0 - 4.0 / 3.0,
        1e-9,
    );
    let mut nowhere = request.clone();
    nowhere["wheelAt"] = json!(3);
    let refusal = refused("behindLens", &nowhere);
    assert_eq!(
        (refusal.field.as_str(), refusal.max),
        ("wheelAt", Some(2.0))
    );
    let mut thick = request;
    thick["behind"] = json!([{"thicknessMm": 1}, {"thicknessMm": -1}]);
    assert_eq!(refused("behindLens", &thick).field, "behind[1].thicknessMm");
}
