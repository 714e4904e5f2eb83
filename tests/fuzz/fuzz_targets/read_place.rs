//! Any text as a place: on the globe, or a refusal.
#![no_main]

use glasscall_web::{ReadPlaceRequest, read_place};
use libfuzzer_sys::fuzz_target;
use serde_json::json;

fuzz_target!(|text: &str| {
    let request: ReadPlaceRequest =
        serde_json::from_value(json!({"text": text})).expect("a request");
    if let Ok(place) = read_place(&request) {
        assert!(place.latitude_deg.abs() <= 90.0 && place.longitude_deg.abs() <= 180.0);
    }
});
