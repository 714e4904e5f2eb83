//! Depth, close-up, flat glass, colour, infrared, working stop, flicker and ramps
//! through the public interface: outside values, worked examples, refusals.

use glasscall_tests::{call, cases, expect_reply, near, number};
use glasscall_web::{Code, Refusal};
use serde_json::{Value, json};

fn reply(function: &str, request: &Value) -> Value {
    call(function, request).unwrap_or_else(|refusal| panic!("{function}: {}", refusal.message()))
}

fn refusal(function: &str, request: &Value) -> Refusal {
    call(function, request).expect_err("a refusal")
}

/// `reply.path` as a number.
fn at(reply: &Value, path: &str) -> f64 {
    let value = reply.pointer(path).unwrap_or(&Value::Null);
    value
        .as_f64()
        .unwrap_or_else(|| panic!("{path} is {value} in {reply}"))
}

#[test]
fn depths_agree_with_the_outside() {
    check("depth");
    check("depth_from_sensor");
}

fn check(file: &str) {
    for case in cases(file) {
        let reply = reply(&case.function, &case.request);
        expect_reply(&case.id, &reply, &case.expect, &case.tolerance);
    }
}

#[test]
fn close_up_and_flat_glass_agree_with_the_outside() {
    check("close_up");
    check("behind_lens");
}

#[test]
fn colours_agree_with_a_reference_library() {
    check("colour");
}

#[test]
fn lamps_agree_with_a_sum_over_the_exposure() {
    check("flicker");
}

const INCH: f64 = 25.4;

#[test]
fn the_army_course_finds_the_hyperfocal_distance() {
    // US Army Signal course SS0507, learning event 10 (read): 2 in at f/8 with a
    // circle of 0.002 in reaches infinity from 20.8 ft, sharp from 10.4 ft. The
    // course leaves out the one focal length our law adds.
    let reply = reply(
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
    let found = reply("depth", &request);
    // A 24 x 18 picture has a diagonal of 30; a 1500th of it is 0.02.
    near("wish", "circle", number(&found, "circleMm"), 0.02, 1e-15);
    assert_eq!(found["circleRule"], "partOfDiagonal");
    near("wish", "depth", number(&found, "depthMm"), 600.0, 1e-9);
    let neighbours = found["neighbours"].as_array().unwrap();
    assert_eq!(neighbours.len(), 2);
    for (neighbour, by) in neighbours.iter().zip([-1.0, 1.0]) {
        near("neighbour", "by", number(neighbour, "byStops"), by, 0.0);
        // Independent route: ask for that stop outright.
        let outright = reply(
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
        reply("depth", &request)
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
            let found = reply(
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
        reply(
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
    let found = reply(
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
        refusal("depth", &request)
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
    let refused = refusal("depth", &ask(1.0));
    assert_eq!(refused.field, "wantedDepthMm");
    let least = refused.min.expect("the least depth");
    // Just inside the range that was told there is an answer.
    reply("depth", &ask(least * 1.000_001));
    assert_eq!(refusal("depth", &ask(least * 0.999)).code, Code::OutOfRange);
}

#[test]
fn close_up_lenses_focus_where_their_power_says() {
    // Common knowledge of every handbook: 1, 2 and 3 dioptres on a lens at
    // infinity focus at 1, ½ and ⅓ m, whatever the lens (from memory).
    for (power, far) in [(1.0, 1000.0), (2.0, 500.0), (3.0, 1000.0 / 3.0)] {
        let found = reply("closeUp", &json!({"dioptres": [power], "lensNearMm": 600}));
        near("close-up", "far", number(&found, "farMm"), far, 1e-9);
    }
    let two = reply(
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
    let in_parts = reply(
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
    let far = refusal(
        "closeUp",
        &json!({"dioptres": [2], "lensNearMm": 600, "subjectMm": 800}),
    );
    assert_eq!(far.field, "subjectMm");
    assert_eq!(far.max, Some(500.0));
    let none = refusal("closeUp", &json!({"dioptres": [], "lensNearMm": 600}));
    assert_eq!(
        (none.code, none.field.as_str()),
        (Code::Missing, "dioptres")
    );
}

#[test]
fn glass_behind_the_lens_moves_infinity_on_the_scale() {
    let found = reply(
        "behindLens",
        &json!({"focalLengthMm": 50, "fNumber": 2, "circleMm": 0.02,
            "behind": [{"thicknessMm": 1, "refractiveIndex": 1.5}]}),
    );
    // A third of its thickness (Smith, Modern Optical Engineering, from memory).
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
    let found = reply("behindLens", &request);
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
    let refused = refusal("behindLens", &nowhere);
    assert_eq!(
        (refused.field.as_str(), refused.max),
        ("wheelAt", Some(2.0))
    );
    let mut thick = request;
    thick["behind"] = json!([{"thicknessMm": 1}, {"thicknessMm": -1}]);
    assert_eq!(refusal("behindLens", &thick).field, "behind[1].thicknessMm");
}

#[test]
fn an_encyclopedia_counts_the_same_mireds() {
    // HandWiki, Mired (read): 25 000 K is 40, 5000 K is 200, daylight 5700 K to
    // tungsten 3200 K takes about −137.
    for (kelvin, mired) in [(25_000.0, 40.0), (5000.0, 200.0)] {
        let found = reply("colour", &json!({"lightKelvin": kelvin}));
        near("mired", "mired", at(&found, "/light/mired"), mired, 1e-9);
        let back = reply("colour", &json!({"lightMired": mired}));
        near("mired", "kelvin", at(&back, "/light/kelvin"), kelvin, 1e-6);
    }
    let lamp = reply(
        "colour",
        &json!({"lightKelvin": 3200, "balanceKelvin": 5700}),
    );
    let wanted = at(&lamp, "/cast/wantedShiftMired");
    near("mired", "filter", wanted, -137.0, 0.5);
    assert_eq!(lamp["cast"]["lean"], "warm");
    // Best of the usual conversions first: the blue one for 3200 K to 5500 K.
    let first = &lamp["cast"]["conversions"][0];
    assert_eq!(first["colour"], "blue");
    near("mired", "first", number(first, "toKelvin"), 5500.0, 0.0);
}

#[test]
fn a_stack_shifts_by_the_sum_of_its_pieces() {
    let found = reply(
        "colour",
        &json!({"lightKelvin": 5500, "shiftsMired": [131, -10, 10], "balanceKelvin": 3200,
            "otherBalanceKelvin": 3350}),
    );
    near("stack", "sum", number(&found, "sumMired"), 131.0, 1e-12);
    assert_eq!(found["cast"]["lean"], "even");
    // 10⁶/3350 − 10⁶/3200 = −13.99, by hand.
    near(
        "stack",
        "body",
        at(&found, "/otherBody/mismatchMired"),
        -13.993,
        1e-3,
    );
    assert_eq!(found["otherBody"]["lean"], "cool");
    let none = reply(
        "colour",
        &json!({"lightKelvin": 10_000, "shiftsMired": [-131]}),
    );
    assert_eq!(none["seen"], "none");
    for (request, code, field) in [
        (json!({}), Code::Missing, "lightKelvin"),
        (
            json!({"lightKelvin": 5600, "lightMired": 180}),
            Code::OneTooMany,
            "lightMired",
        ),
        (json!({"lightMired": 0}), Code::OutOfRange, "lightMired"),
        (
            json!({"lightKelvin": 5600, "shiftsMired": [1, 2000]}),
            Code::OutOfRange,
            "shiftsMired[1]",
        ),
        (
            json!({"lightKelvin": 5600, "otherBalanceKelvin": 5600}),
            Code::Missing,
            "balanceKelvin",
        ),
    ] {
        let refused = refusal("colour", &request);
        assert_eq!((refused.code, refused.field.as_str()), (code, field));
    }
}

fn nd(id: &str, density: f64, infrared: Option<f64>) -> Value {
    let mut piece = json!({"id": id, "kind": "nd", "density": density});
    if let Some(infrared) = infrared {
        piece["infraredDensity"] = json!(infrared);
    }
    piece
}

#[test]
fn infrared_is_watched_from_twelve_tenths_and_cut_from_fifteen() {
    // Common practice, no source.
    for (pieces, verdict) in [
        (vec![nd("a", 0.9, None)], "fine"),
        (vec![nd("a", 1.2, None)], "watch"),
        (vec![nd("a", 0.9, None), nd("b", 0.6, None)], "cutNeeded"),
        (vec![nd("a", 1.8, Some(1.8))], "fine"),
        (
            vec![
                nd("a", 1.8, None),
                json!({"id": "c", "kind": "infraredCut"}),
            ],
            "fine",
        ),
    ] {
        let found = reply("infrared", &json!({"pieces": pieces}));
        assert_eq!(found["verdict"], verdict, "{found}");
    }
    let mixed = reply(
        "infrared",
        &json!({"pieces": [nd("a", 1.2, None), nd("b", 0.6, Some(0.6))]}),
    );
    assert_eq!(mixed["mixed"], true);
    assert_eq!(mixed["verdict"], "watch");
    near(
        "mixed",
        "visible",
        number(&mixed, "visibleStops"),
        5.979_470,
        1e-6,
    );
    near(
        "mixed",
        "infrared",
        number(&mixed, "infraredStops"),
        1.993_157,
        1e-6,
    );
    let own_limits = reply(
        "infrared",
        &json!({"pieces": [nd("a", 0.9, None)], "watchFromDensity": 0.6,
            "cutFromDensity": 0.9}),
    );
    assert_eq!(own_limits["verdict"], "cutNeeded");
    let crossed = refusal(
        "infrared",
        &json!({"pieces": [], "watchFromDensity": 1.5, "cutFromDensity": 0.9}),
    );
    assert_eq!(
        (crossed.field.as_str(), crossed.min),
        ("cutFromDensity", Some(1.5))
    );
}

#[test]
fn a_drawn_out_bellows_costs_what_the_courses_say() {
    // US Army courses SS0511 and SS0512 (read): a 6 in lens at 12 in takes four
    // times the exposure, a 12 in lens at 18 in 2¼ times. A photography textbook,
    // doi 10.4324/9780080494012-22 (abstract read): half life size, 2¼ times.
    for (focal, extension, factor) in [(6.0, 12.0, 4.0), (12.0, 18.0, 2.25)] {
        let size = extension / focal - 1.0;
        let found = reply(
            "workingStop",
            &json!({"focalLengthMm": focal * INCH, "aperture": 8, "magnification": size}),
        );
        let taken = 2f64.powf(number(&found, "closeFocusLossStops"));
        near("bellows", "factor", taken, factor, 1e-12);
    }
}

#[test]
fn extender_and_close_focus_add_up() {
    let found = reply(
        "workingStop",
        &json!({"focalLengthMm": 100, "aperture": 4, "extender": 2, "focusMm": 200}),
    );
    near("both", "focal", number(&found, "focalLengthMm"), 200.0, 0.0);
    near("both", "size", number(&found, "magnification"), 2.0, 1e-12);
    near("both", "loss", number(&found, "lossStops"), 4.0, 1e-12);
    near(
        "both",
        "working",
        number(&found, "workingAperture"),
        16.0,
        1e-12,
    );
    near(
        "both",
        "pupil",
        number(&found, "pupilDiameterMm"),
        25.0,
        1e-12,
    );
    // Life size of the lens alone: two of the four stops.
    near(
        "both",
        "at infinity",
        number(&found, "atInfinityForAsked"),
        2.0,
        1e-12,
    );
    near("both", "set", number(&found, "setForAsked"), 1.0, 1e-12);
    assert_eq!(found["workingLabel"], "16");
    let twice = refusal(
        "workingStop",
        &json!({"focalLengthMm": 100, "aperture": 4, "focusMm": 200, "magnification": 1}),
    );
    assert_eq!(twice.code, Code::OneTooMany);
}

#[test]
fn flicker_safe_angles_are_those_of_the_trade() {
    // Common practice, no source: 172.8° at 50 Hz, 144° at 60 Hz, for 24 frames;
    // at 25 frames 180° and 150°.
    for (fps, hertz, safe) in [
        (24.0, 50.0, 172.8),
        (24.0, 60.0, 144.0),
        (25.0, 50.0, 180.0),
        (25.0, 60.0, 150.0),
        (30.0, 60.0, 180.0),
    ] {
        let found = reply(
            "flicker",
            &json!({"frameRate": fps, "mainsHz": [hertz], "shutterAngleDeg": safe}),
        );
        let mains = &found["mains"][0];
        let angles = mains["safeAnglesDeg"].as_array().unwrap();
        assert!(
            angles
                .iter()
                .any(|a| (a.as_f64().unwrap() - safe).abs() < 1e-9),
            "{fps} {hertz} {angles:?}"
        );
        assert_eq!(mains["given"]["safe"], true);
    }
    let both = reply("flicker", &json!({"frameRate": 24, "shutterAngleDeg": 180}));
    let fifty = &both["mains"][0]["given"];
    assert_eq!(fifty["safe"], false);
    near(
        "50",
        "nearest",
        number(fifty, "nearestSafeDeg"),
        172.8,
        1e-9,
    );
    near(
        "50",
        "loss",
        number(fifty, "nearestLossStops"),
        0.058_894,
        1e-6,
    );
    // 24 frames under 60 Hz hold five pulses: no beat, whatever the angle.
    near("60", "beat", at(&both, "/mains/1/beatHz"), 0.0, 1e-12);
    near("50", "beat", at(&both, "/mains/0/beatHz"), 4.0, 1e-12);
    let fast = reply(
        "flicker",
        &json!({"frameRate": 240, "shutterSeconds": 0.002}),
    );
    assert_eq!(fast["mains"][0]["safeAnglesDeg"], json!([]));
    assert_eq!(fast["mains"][0]["given"].get("nearestSafeDeg"), None);
}

fn ramp(to: &Value, by: &str) -> Value {
    reply(
        "ramp",
        &json!({"from": {"aperture": 5.6, "exposureIndex": 800, "frameRate": 24,
            "shutterAngleDeg": 90}, "to": to, "by": by, "steps": 5, "widestAperture": 2.8}),
    )
}

fn effects(reply: &Value) -> Vec<&str> {
    let effects = reply["sideEffects"].as_array().unwrap();
    effects
        .iter()
        .map(|e| e["effect"].as_str().unwrap())
        .collect()
}

#[test]
fn a_ramp_names_what_else_changes() {
    let speed = json!({"frameRate": 48});
    let by_angle = ramp(&speed, "angle");
    assert_eq!(effects(&by_angle), ["motionBlur"]);
    near(
        "angle",
        "end",
        at(&by_angle, "/steps/4/shutterAngleDeg"),
        180.0,
        1e-9,
    );
    let by_iris = ramp(&speed, "iris");
    assert_eq!(effects(&by_iris), ["depthOfField", "flicker"]);
    assert_eq!(by_iris["steps"][4]["apertureLabel"], "T4");
    let by_turn = ramp(&speed, "turn");
    assert_eq!(effects(&by_turn), ["flicker", "variableDensity"]);
    near(
        "turn",
        "end",
        at(&by_turn, "/steps/4/turnStops"),
        -1.0,
        1e-12,
    );
}

#[test]
fn a_ramp_says_where_its_control_runs_out() {
    let angle = ramp(&json!({"frameRate": 120}), "angle");
    near("angle", "stuck", at(&angle, "/stuck/at"), 1.0, 0.0);
    near("angle", "most", at(&angle, "/stuck/max"), 360.0, 0.0);
    let iris = ramp(&json!({"frameRate": 192}), "iris");
    near(
        "iris",
        "widest",
        at(&iris, "/stuck/min"),
        8f64.sqrt(),
        1e-12,
    );
    let steps = iris["steps"].as_array().unwrap();
    assert!(
        steps
            .iter()
            .all(|s| number(s, "aperture") > 8f64.sqrt() - 1e-9)
    );
    let refused = refusal(
        "ramp",
        &json!({"from": {"aperture": 4, "exposureIndex": 800, "frameRate": 24,
            "shutterAngleDeg": 90}, "to": {"frameRate": -1}, "by": "iris"}),
    );
    assert_eq!(refused.field, "to.frameRate");
}
