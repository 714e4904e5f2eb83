//! What must hold of any text whatever: the fuzzer makes millions of them, and
//! an ordinary test repeats those it found worth keeping.

use crate::{call, finite, functions};
use glasscall_web::{
    CaseForm, ReadCaseRequest, ReadPlaceRequest, ReadTextRequest, WriteCaseRequest, read_case,
    read_place, read_text, write_case,
};
use serde_json::{Value, json};

/// A folder in `fuzz/corpus` and what must hold of each text in it.
pub type Target = (&'static str, fn(&str));

/// All of them.
pub const TARGETS: [Target; 4] = [
    ("request", request),
    ("case_file", case_file),
    ("read_text", text),
    ("read_place", place),
];

/// Any JSON as a request of any public function, `{"function", "request"}`: the
/// answer is finite, or a refusal.
///
/// # Panics
///
/// When it is neither.
pub fn request(text: &str) {
    let Ok(asked) = serde_json::from_str::<Value>(text) else {
        return;
    };
    let Some(name) = asked["function"].as_str() else {
        return;
    };
    if !functions().any(|known| known == name) || is_long(&asked["request"]) {
        return;
    }
    if let Ok(reply) = call(name, &asked["request"]) {
        assert!(finite(name, &reply), "{text} gives {reply}");
    }
}

/// Asks for more than a fuzzer has patience for, by right: steps of a search
/// and pixels of a map are the caller's to choose.
fn is_long(request: &Value) -> bool {
    let over = |field: &str, most: f64| request[field].as_f64().is_some_and(|n| n > most);
    over("steps", 1e5) || over("columns", 64.0) || over("rows", 64.0)
}

/// Any text as a case file, whole or in part: what is read can be written in
/// both forms, and reads back as the same case.
///
/// # Panics
///
/// When it does not.
pub fn case_file(text: &str) {
    for take_part in [false, true] {
        let request = ReadCaseRequest {
            text: text.to_owned(),
            take_part,
        };
        let Ok(read) = read_case(&request) else {
            continue;
        };
        for form in [CaseForm::Json, CaseForm::Csv] {
            let request = WriteCaseRequest {
                case: read.case.clone(),
                form,
            };
            let text = write_case(&request).expect("a case that was read").text;
            let again = read_case(&ReadCaseRequest {
                text,
                take_part: false,
            });
            assert_eq!(again.expect("a case that was written").case, read.case);
        }
    }
}

/// Any text as any of the quantities: a finite value or a refusal.
///
/// # Panics
///
/// When it is neither.
pub fn text(text: &str) {
    for kind in [
        "aperture", "density", "shutter", "stops", "length", "angle", "number",
    ] {
        let request: ReadTextRequest =
            serde_json::from_value(json!({"text": text, "as": kind})).expect("a request");
        if let Ok(reply) = read_text(&request) {
            let value = reply.value;
            assert!(value.is_finite(), "{text:?} as {kind} is {value}");
        }
    }
}

/// Any text as a place: on the globe, or a refusal.
///
/// # Panics
///
/// When it is neither.
pub fn place(text: &str) {
    let request: ReadPlaceRequest =
        serde_json::from_value(json!({"text": text})).expect("a request");
    if let Ok(place) = read_place(&request) {
        assert!(place.latitude_deg.abs() <= 90.0 && place.longitude_deg.abs() <= 180.0);
    }
}
