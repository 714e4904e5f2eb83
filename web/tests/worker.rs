//! The module in a worker, where the page asks what takes long.

#![cfg(target_arch = "wasm32")]
#![expect(clippy::unwrap_used, reason = "a check may stop on the spot")]

use glasscall_web::bindings::{convert_density, cover_kit};
use js_sys::{JSON, Reflect};
use wasm_bindgen::{JsCast as _, JsValue};
use wasm_bindgen_test::{wasm_bindgen_test, wasm_bindgen_test_configure};
use web_sys::DedicatedWorkerGlobalScope;

wasm_bindgen_test_configure!(run_in_dedicated_worker);

fn get(value: &JsValue, field: &str) -> JsValue {
    Reflect::get(value, &JsValue::from_str(field)).unwrap()
}

#[wasm_bindgen_test]
fn a_worker_answers_and_refuses_as_the_page_does() {
    assert!(js_sys::global().is_instance_of::<DedicatedWorkerGlobalScope>());
    assert!(web_sys::window().is_none());
    let asked = JSON::parse(
        r#"{"needs":[{"stops":3,"slots":2},{"stops":5,"slots":2}],"catalogue":[
        {"id":"0.6","kind":"nd","density":0.6,"cost":60},
        {"id":"0.9","kind":"nd","density":0.9,"cost":65},
        {"id":"1.5","kind":"nd","density":1.5,"cost":90}]}"#,
    )
    .unwrap();
    // 0.9 for three stops, with 0.6 for five, by hand: 125; 1.5 beside 0.9 costs 155.
    assert_eq!(
        get(&cover_kit(&asked).unwrap(), "cost").as_f64(),
        Some(125.0)
    );
    let thrown = convert_density(&JSON::parse(r#"{"density":-1}"#).unwrap()).unwrap_err();
    assert_eq!(get(&thrown, "code").as_string().unwrap(), "outOfRange");
}
