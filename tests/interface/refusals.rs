//! What a refusal says: the field that was given, what was given for it, and a
//! range that holds what it names.

use glasscall_tests::{answered, call, examples, refused};
use glasscall_web::Given;
use glasscall_web::questions::QUESTIONS;
use serde_json::{Value, json};

/// A sound request of a function with some fields changed.
fn with(function: &str, changes: &Value) -> Value {
    let (_, mut request) = examples()
        .find(|(name, _)| *name == function)
        .expect("an example");
    for (pointer, value) in changes.as_object().unwrap() {
        match request.pointer_mut(pointer) {
            Some(place) => *place = value.clone(),
            None => request[pointer.trim_start_matches('/')] = value.clone(),
        }
    }
    request
}

/// Requests refused for a number that was worked out from the one named: the
/// refusal must name the one that was given, and both its ends must be answered.
#[test]
fn a_refusal_names_what_was_given_and_both_its_ends_are_answered() {
    for (function, field, pointer, given, changes) in [
        (
            "workingStop",
            "aperture",
            "/aperture",
            22.0,
            json!({"/extender": 8, "/magnification": 100}),
        ),
        (
            "workingStop",
            "magnification",
            "/magnification",
            1e4,
            json!({}),
        ),
        ("fit", "lensLossStops", "/lensLossStops", 30.0, json!({})),
        (
            "pupilByTwoCards",
            "farHeightMm",
            "/farHeightMm",
            800.001,
            json!({"/nearMm": 20, "/nearHeightMm": 800, "/farMm": 6497}),
        ),
        (
            "daylight",
            "sunElevationDeg",
            "/sunElevationDeg",
            -91.0,
            json!({}),
        ),
        (
            "crossedPolarizers",
            "lossStops",
            "/lossStops",
            -0.5,
            json!({}),
        ),
        ("frameMap", "shiftXMm", "/shiftXMm", 1e9, json!({})),
        ("sky", "focalLengthMm", "/focalLengthMm", 1.0, json!({})),
        ("depth", "lensLossStops", "/lensLossStops", -1.0, json!({})),
    ] {
        let mut request = with(function, &changes);
        request[field] = json!(given);
        let refusal = refused(function, &request);
        let told = refusal.message();
        assert_eq!(refusal.field, field, "{function}: {told}");
        assert_eq!(
            refusal.given,
            Some(Given::Number(given)),
            "{function}: {told}"
        );
        let (min, max) = (refusal.min.unwrap(), refusal.max.unwrap());
        assert!(
            min <= max && !(min..=max).contains(&given),
            "{function}: {told}"
        );
        // The end that was missed is taken once it is given.
        let end = if given < min { min } else { max };
        *request.pointer_mut(pointer).unwrap() = json!(end);
        if let Err(again) = call(function, &request) {
            assert_ne!(
                again.field,
                field,
                "{function} at {end}: {}",
                again.message()
            );
        }
    }
}

#[test]
fn a_range_that_would_mislead_is_left_unsaid() {
    let wish = |near: f64, far: f64| {
        refused(
            "depth",
            &json!({"focalLengthMm": 50, "circleMm": 0.02, "wantedNearMm": near, "wantedFarMm": far}),
        )
    };
    let inside = wish(2.0, 3.0);
    assert_eq!(inside.field, "wantedNearMm");
    assert!(inside.min.unwrap() > 2.0);
    // The focus would lie inside the lens, whatever the stop.
    let near = wish(26.0, 27.0);
    assert_eq!(near.field, "wantedFarMm");
    assert!(near.min.is_none_or(|min| min > 27.0), "{}", near.message());
}

#[test]
fn a_wheel_that_is_not_there_is_missing() {
    let mut request = with("behindLens", &json!({"/wheelAt": 2}));
    request["wheel"] = json!([]);
    let refusal = refused("behindLens", &request);
    assert_eq!(refusal.message(), "wheel: missing");
}

#[test]
fn a_case_is_checked_by_the_same_ranges_and_the_same_calendar() {
    let lens = |field: &str, value: Value| json!({"case": {"lenses": [{"id": "a", (field): value}]}, "as": "json"});
    for field in [
        "focalMm",
        "focalToMm",
        "threadMm",
        "outerMm",
        "needsClearMm",
    ] {
        let refusal = refused("writeCase", &lens(field, json!(0)));
        assert_eq!(refusal.field, format!("lenses[0].{field}"));
        assert!(refusal.min.unwrap() > 0.0);
    }
    let piece = |day: &str| json!({"case": {"pieces": [{"id": "a", "kind": "nd", "density": 0.3, "measuredOn": day}]}, "as": "json"});
    for day in ["2023-02-29", "2100-02-29", "2023-13-01", "yesterday"] {
        let refusal = refused("writeCase", &piece(day));
        assert_eq!(
            refusal.message(),
            format!("pieces[0].measuredOn: notUnderstood, given “{day}”")
        );
    }
    answered("writeCase", &piece("2024-02-29"));
}

#[test]
fn a_fault_is_told_alike_whether_a_case_is_read_or_written() {
    for id in [json!(5), json!(true), json!(null), json!(["a"])] {
        let case = json!({"lenses": [{"id": id}]});
        let written = refused("writeCase", &json!({"case": case, "as": "json"}));
        let text =
            json!({"format": "glasscall-case", "version": 1, "lenses": [{"id": id}]}).to_string();
        let read = refused("readCase", &json!({"text": text}));
        assert_eq!(written.field, format!("case.{}", read.field));
        assert_eq!(
            (written.code, &written.given),
            (read.code, &read.given),
            "{id}"
        );
    }
}

#[test]
fn a_wrong_word_is_answered_with_the_words_that_would_do() {
    let refusal = refused("readText", &json!({"text": "1", "as": "volume"}));
    assert_eq!(
        refusal.message(),
        "as: wrongType, given “volume”, needs one of aperture, engravedAperture, density, shutter, stops, length, angle, number"
    );
}

/// `web/API.md` lists every question as the table has it. With
/// `GLASSCALL_WRITE=1` this writes the list.
#[test]
fn the_list_of_questions_is_the_table() {
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../web/API.md");
    let page = std::fs::read_to_string(&path).unwrap();
    let rows = QUESTIONS.iter().map(|question| {
        let beside = question.asks.replace(", ", "`, `");
        format!(
            "| `{}` | `{beside}` | `{}` | {} |\n",
            question.name, question.replies, question.about
        )
    });
    let list: String = rows.collect();
    let (before, rest) = page
        .split_once("| --- | --- | --- | --- |\n")
        .expect("the list of questions");
    let (listed, after) = rest
        .split_once("\n\n")
        .map_or((rest, ""), |(rows, after)| (rows, after));
    if std::env::var_os("GLASSCALL_WRITE").is_some() {
        let text = format!("{before}| --- | --- | --- | --- |\n{list}\n{after}");
        std::fs::write(&path, text).unwrap();
        return;
    }
    assert_eq!(format!("{listed}\n"), list, "GLASSCALL_WRITE=1 writes it");
}
