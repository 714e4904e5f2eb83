//! The exported functions, called with real JavaScript values.
//!
//! Runs in Node, and in Chromium when the runner is told so.

#![cfg(target_arch = "wasm32")]
#![expect(clippy::unwrap_used, reason = "a check may stop on the spot")]

use glasscall_web::bindings::{convert_density, exposure, open_up, read_text};
use js_sys::{JSON, Object, Reflect};
use wasm_bindgen::{JsCast as _, JsValue};
use wasm_bindgen_test::wasm_bindgen_test;

fn plain(json: &str) -> JsValue {
    JSON::parse(json).unwrap()
}

fn get(value: &JsValue, field: &str) -> JsValue {
    Reflect::get(value, &JsValue::from_str(field)).unwrap()
}

fn number(value: &JsValue, field: &str) -> f64 {
    get(value, field).as_f64().unwrap()
}

fn text(value: &JsValue, field: &str) -> String {
    get(value, field).as_string().unwrap_or_default()
}

const SETTINGS: &str = r#""exposureIndex":800,"frameRate":24,"shutterAngleDeg":180"#;

fn main_question(kit: &str) -> String {
    format!(
        r#"{{"reading":{{"aperture":16,{SETTINGS}}},"shot":{{"aperture":2.8,{SETTINGS}}},
        "kit":[{kit}],"rig":{{"slots":[{{"id":"1"}},{{"id":"2"}}]}}}}"#
    )
}

#[wasm_bindgen_test]
fn the_main_question_is_answered() {
    let kit = r#"{"id":"a","kind":"nd","density":0.9},{"id":"b","kind":"nd","density":0.6}"#;
    let reply = open_up(&plain(&main_question(kit))).unwrap();
    assert_eq!(number(&reply, "needStops"), 5.0);
    let best = get(&get(&reply, "stacks"), "0");
    assert_eq!(text(&best, "apertureLabel"), "T2.8");
    assert!((number(&best, "leftOverStops") - 0.017_108).abs() < 1e-6);
}

#[wasm_bindgen_test]
fn a_refusal_is_an_error_with_code_field_given_and_range() {
    let kit = r#"{"id":"a","kind":"nd","density":-0.3}"#;
    let thrown = open_up(&plain(&main_question(kit))).unwrap_err();
    assert!(thrown.is_instance_of::<js_sys::Error>());
    assert_eq!(text(&thrown, "code"), "outOfRange");
    assert_eq!(text(&thrown, "field"), "kit[0].density");
    assert_eq!(number(&thrown, "given"), -0.3);
    assert_eq!(
        (number(&thrown, "min"), number(&thrown, "max")),
        (0.0, 12.0)
    );
}

#[wasm_bindgen_test]
fn faults_of_shape_name_the_field() {
    for (request, code, field) in [
        (r#"{"density":0.3,"colour":1}"#, "unknownField", "colour"),
        (r#"{"density":"0.3"}"#, "wrongType", "density"),
        (r#"{}"#, "missing", "density"),
        (r#"{"density":0.3,"stops":1}"#, "oneTooMany", "stops"),
        ("[]", "wrongType", ""),
        ("3", "wrongType", ""),
        ("null", "wrongType", ""),
    ] {
        let thrown = convert_density(&plain(request)).unwrap_err();
        assert_eq!(
            (
                text(&thrown, "code").as_str(),
                text(&thrown, "field").as_str()
            ),
            (code, field)
        );
    }
}

#[wasm_bindgen_test]
fn numbers_that_are_none_are_refused_with_their_range() {
    for given in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
        let request = plain("{}");
        Reflect::set(&request, &"density".into(), &given.into()).unwrap();
        let thrown = convert_density(&request).unwrap_err();
        assert_eq!(text(&thrown, "code"), "outOfRange");
        assert_eq!(number(&thrown, "max"), 12.0);
    }
}

#[wasm_bindgen_test]
fn a_request_that_holds_itself_is_refused() {
    let request: Object = plain("{}").unchecked_into();
    Reflect::set(&request, &"density".into(), &request).unwrap();
    assert_eq!(
        text(&convert_density(&request).unwrap_err(), "code"),
        "tooDeep"
    );
}

#[wasm_bindgen_test]
fn five_hundred_pieces_and_duplicate_ids_are_refused() {
    let piece = |n: usize| format!(r#"{{"id":"{n}","kind":"nd","density":0.3}}"#);
    let many: Vec<String> = (0..500).map(piece).collect();
    let thrown = open_up(&plain(&main_question(&many.join(",")))).unwrap_err();
    assert_eq!(
        (text(&thrown, "code").as_str(), number(&thrown, "given")),
        ("tooMany", 500.0)
    );
    let twice = format!("{},{}", piece(1), piece(1));
    let thrown = open_up(&plain(&main_question(&twice))).unwrap_err();
    assert_eq!(text(&thrown, "code"), "duplicate");
    assert_eq!(text(&thrown, "field"), "kit[1].id");
}

#[wasm_bindgen_test]
fn an_ambiguous_text_offers_its_choices() {
    let thrown = read_text(&plain(r#"{"text":"ND2","as":"density"}"#)).unwrap_err();
    assert_eq!(text(&thrown, "code"), "ambiguous");
    let choices = get(&thrown, "choices");
    assert_eq!(number(&choices, "length"), 3.0);
    assert_eq!(text(&get(&choices, "2"), "unit"), "density");
}

#[wasm_bindgen_test]
fn exposure_solves_what_is_missing() {
    let light =
        r#"{"exposureIndex":100,"frameRate":24,"shutterSeconds":0.01,"ev100":14.643856189774723}"#;
    let reply = exposure(&plain(light)).unwrap();
    // Common practice, no source: number 16 in clear sun at t = 1/EI.
    assert!((number(&reply, "aperture") - 16.0).abs() < 1e-9);
    assert_eq!(text(&reply, "apertureLabel"), "T16");
}
