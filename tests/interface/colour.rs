//! `colour` and `infrared`: outside values, worked examples, trade limits.

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
fn colours_agree_with_a_reference_library() {
    check("colour");
}

#[test]
fn an_encyclopedia_counts_the_same_mireds() {
    // HandWiki, Mired (read): 25 000 K is 40, 5000 K is 200, daylight 5700 K to
    // tungsten 3200 K takes about −137.
    for (kelvin, mired) in [(25_000.0, 40.0), (5000.0, 200.0)] {
        let found = answered("colour", &json!({"lightKelvin": kelvin}));
        near("mired", "mired", at(&found, "/light/mired"), mired, 1e-9);
        let back = answered("colour", &json!({"lightMired": mired}));
        near("mired", "kelvin", at(&back, "/light/kelvin"), kelvin, 1e-6);
    }
    let lamp = answered(
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
    let found = answered(
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
    let none = answered(
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
        let refused = refused("colour", &request);
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
        let found = answered("infrared", &json!({"pieces": pieces}));
        assert_eq!(found["verdict"], verdict, "{found}");
    }
    let mixed = answered(
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
    let own_limits = answered(
        "infrared",
        &json!({"pieces": [nd("a", 0.9, None)], "watchFromDensity": 0.6,
            "cutFromDensity": 0.9}),
    );
    assert_eq!(own_limits["verdict"], "cutNeeded");
    let crossed = refused(
        "infrared",
        &json!({"pieces": [], "watchFromDensity": 1.5, "cutFromDensity": 0.9}),
    );
    assert_eq!(
        (crossed.field.as_str(), crossed.min),
        ("cutFromDensity", Some(1.5))
    );
}

#[test]
fn the_wheel_and_two_polarizers_let_infrared_through() {
    // The audit's case: a wheel of 1.8 with nothing known of it is as much as a
    // piece of 1.8; two film polarizers at six stops, 1.8 D, stop 0.1 of it.
    let bare = answered("infrared", &json!({"pieces": [], "wheelDensity": 1.8}));
    near(
        "infrared",
        "wheel",
        number(&bare, "excessDensity"),
        1.8,
        1e-9,
    );
    assert_eq!(
        (&bare["verdict"], &bare["notes"]),
        (&json!("cutNeeded"), &json!(["wheelAssumed"]))
    );
    let known = json!({"pieces": [], "wheelDensity": 1.8, "wheelInfraredDensity": 1.75});
    let known = answered("infrared", &known);
    near(
        "infrared",
        "wheel",
        number(&known, "excessDensity"),
        0.05,
        1e-9,
    );
    assert_eq!(known["notes"], json!([]));
    let polarizer = |id: &str| json!({"id": id, "kind": "polarizer"});
    let two = json!({"pieces": [polarizer("p"), polarizer("q")]});
    let notes = &answered("infrared", &two)["notes"];
    assert_eq!(
        notes,
        &json!(["polarizerAssumed", "polarizersPassInfrared"])
    );
    let pair = answered("crossedPolarizers", &json!({"stops": 6}));
    let excess = 6.0 * 2f64.log10() - 0.1;
    near(
        "pair",
        "excess",
        number(&pair, "infraredExcessDensity"),
        excess,
        1e-9,
    );
    assert_eq!(pair["infrared"], "cutNeeded");
    assert_eq!(
        answered("crossedPolarizers", &json!({"stops": 3}))["infrared"],
        "fine"
    );
}
