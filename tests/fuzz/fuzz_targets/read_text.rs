//! Any text as any of the six quantities: a finite value or a refusal.
#![no_main]

use glasscall_web::{ReadTextRequest, read_text};
use libfuzzer_sys::fuzz_target;
use serde_json::json;

fuzz_target!(|text: &str| {
    for kind in ["aperture", "density", "shutter", "stops", "length", "angle"] {
        let request: ReadTextRequest =
            serde_json::from_value(json!({"text": text, "as": kind})).expect("a request");
        if let Ok(reply) = read_text(&request) {
            assert!(reply.value.is_finite(), "{text:?} as {kind} is {}", reply.value);
        }
    }
});
