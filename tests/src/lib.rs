//! Reads the outside check values and calls the public interface natively.

pub mod fuzzed;

use glasscall_web as web;
use glasscall_web::Refusal;
use serde::Serialize;
use serde::de::DeserializeOwned;
use serde_json::Value;
use std::path::PathBuf;

/// One group of cases of one law.
#[derive(Debug, Clone)]
pub struct Group {
    /// File and group, for messages.
    pub name: String,
    /// What the file says of tolerance.
    pub tolerance: Value,
    /// The cases.
    pub cases: Vec<LawCase>,
}

/// One case of a law.
#[derive(Debug, Clone)]
pub struct LawCase {
    /// File, group and id, for messages.
    pub id: String,
    /// What goes in.
    pub given: Value,
    /// What must come out.
    pub out: Value,
}

/// One case of the public interface.
#[derive(Debug, Clone)]
pub struct Case {
    /// File and row, for messages.
    pub id: String,
    /// The function.
    pub function: String,
    /// Its request.
    pub request: Value,
    /// Fields the reply must have.
    pub expect: Value,
    /// Tolerance by field name.
    pub tolerance: Value,
}

fn reference(path: &str) -> Value {
    let file = PathBuf::from(env!("CARGO_MANIFEST_DIR"))
        .join("reference")
        .join(path);
    let text = std::fs::read_to_string(&file).unwrap_or_else(|e| panic!("{path}: {e}"));
    serde_json::from_str(&text).unwrap_or_else(|e| panic!("{path}: {e}"))
}

fn list(value: &Value) -> &[Value] {
    value.as_array().map_or(&[], Vec::as_slice)
}

/// A number of a case, or a panic that names it.
///
/// # Panics
///
/// When the field is missing or no number.
#[must_use]
pub fn number(value: &Value, field: &str) -> f64 {
    value[field]
        .as_f64()
        .unwrap_or_else(|| panic!("no number {field} in {value}"))
}

/// The group `group` of `laws/<topic>.json`.
///
/// # Panics
///
/// When there is no such group or it holds no case.
#[must_use]
pub fn law(topic: &str, group: &str) -> Group {
    let file = reference(&format!("laws/{topic}.json"));
    let found = (list(&file["groups"]).iter())
        .find(|g| g["name"] == group)
        .unwrap_or_else(|| panic!("no group {group} in {topic}"));
    let case = |case: &Value| LawCase {
        id: format!("{topic}/{}", case["id"].as_str().unwrap_or(group)),
        given: case["in"].clone(),
        out: case["out"].clone(),
    };
    let cases: Vec<LawCase> = list(&found["cases"]).iter().map(case).collect();
    assert!(!cases.is_empty(), "{topic}/{group} has no cases");
    Group {
        name: format!("{topic}/{group}"),
        tolerance: found["tolerance"].clone(),
        cases,
    }
}

/// The cases of `<file>.json`.
///
/// # Panics
///
/// When the file holds no case.
#[must_use]
pub fn cases(file: &str) -> Vec<Case> {
    let read = reference(&format!("{file}.json"));
    let function = read["function"].as_str().unwrap_or_default().to_owned();
    let case = |(row, case): (usize, &Value)| Case {
        id: format!("{file}.json case {row}"),
        function: function.clone(),
        request: case["request"].clone(),
        expect: case["expect"].clone(),
        tolerance: case["tolerance"].clone(),
    };
    let cases: Vec<Case> = list(&read["cases"]).iter().enumerate().map(case).collect();
    assert!(!cases.is_empty(), "{file} has no cases");
    cases
}

fn run<Q: DeserializeOwned, A: Serialize>(
    request: &Value,
    answer: fn(&Q) -> Result<A, Refusal>,
) -> Option<Result<Value, Refusal>> {
    let request = serde_json::from_value(request.clone()).ok()?;
    Some(answer(&request).map(|reply| serde_json::to_value(reply).expect("a plain reply")))
}

/// Calls a function of the public interface.
///
/// # Errors
///
/// What the function refuses.
///
/// # Panics
///
/// When there is no such function, or the request has not its shape.
pub fn call(function: &str, request: &Value) -> Result<Value, Refusal> {
    attempt(function, request).expect("a request of the right shape")
}

/// Calls a function of the public interface, unless the request has not its
/// shape.
///
/// # Panics
///
/// When there is no such function.
#[must_use]
pub fn attempt(function: &str, request: &Value) -> Option<Result<Value, Refusal>> {
    match function {
        "readText" => run(request, web::read_text),
        "convertDensity" => run(request, web::convert_density),
        "exposure" => run(request, web::exposure),
        "openUp" => run(request, web::open_up),
        "readPlace" => run(request, web::read_place),
        "sun" => run(request, web::sun),
        "sunDay" => run(request, web::sun_day),
        "sky" => run(request, web::sky),
        "skyAims" => run(request, web::sky_aims),
        "skyHours" => run(request, web::sky_hours),
        "reflection" => run(request, web::reflection),
        "crossedPolarizers" => run(request, web::crossed_polarizers),
        "measuredPolarizer" => run(request, web::measured_polarizer),
        "daylight" => run(request, web::daylight),
        "drift" => run(request, web::drift),
        "flag" => run(request, web::flag),
        "ghost" => run(request, web::ghost),
        "line" => run(request, web::line),
        "skyAndGround" => run(request, web::sky_and_ground),
        "frameMap" => run(request, web::frame_map),
        "lineMotion" => run(request, web::line_motion),
        "coverKit" => run(request, web::cover_kit),
        "dayNeeds" => run(request, web::day_needs),
        "orderDay" => run(request, web::order_day),
        "rings" => run(request, web::rings),
        "drawCode" => run(request, web::draw_code),
        "weight" => run(request, web::weight),
        "writeCase" => run(request, web::write_case),
        "readCase" => run(request, web::read_case),
        "fit" => run(request, web::fit),
        "pupilByTwoCards" => run(request, web::pupil_by_two_cards),
        "pupilByRing" => run(request, web::pupil_by_ring),
        "pupilByFront" => run(request, web::pupil_by_front),
        "sizes" => run(request, web::sizes),
        "depth" => run(request, web::depth),
        "closeUp" => run(request, web::close_up),
        "behindLens" => run(request, web::behind_lens),
        "colour" => run(request, web::colour),
        "infrared" => run(request, web::infrared),
        "workingStop" => run(request, web::working_stop),
        "flicker" => run(request, web::flicker),
        "ramp" => run(request, web::ramp),
        _ => panic!("no function {function}"),
    }
}

/// The names of the public functions, as the seam exports them.
pub fn functions() -> impl Iterator<Item = &'static str> {
    let seam = include_str!("../../web/src/bindings.rs");
    let exported = seam.split_once("\nexport! {").map_or("", |(_, rest)| rest);
    let listed = (exported.lines())
        .take_while(|line| *line != "}")
        .filter_map(|line| line.strip_prefix("    \"")?.split('"').next());
    listed.chain(["frameMap"])
}

/// Whether every number of a reply is finite. JSON writes what is not as null,
/// and no reply has a null of its own but a map where it is clipped.
#[must_use]
pub fn finite(function: &str, reply: &Value) -> bool {
    match reply {
        Value::Null => function == "frameMap",
        Value::Array(items) => items.iter().all(|item| finite(function, item)),
        Value::Object(fields) => fields.values().all(|field| finite(function, field)),
        _ => true,
    }
}

/// Asserts that two numbers agree within `tolerance`.
///
/// # Panics
///
/// When they do not, naming the case.
pub fn near(id: &str, field: &str, found: f64, wanted: f64, tolerance: f64) {
    let off = (found - wanted).abs();
    assert!(
        off <= tolerance,
        "{id}: {field} is {found}, wanted {wanted} within {tolerance}"
    );
}

/// The reply of a function that must answer.
///
/// # Panics
///
/// When it refuses.
pub fn answered(function: &str, request: &Value) -> Value {
    call(function, request).unwrap_or_else(|refusal| panic!("{function}: {}", refusal.message()))
}

/// The refusal of a function that must refuse.
///
/// # Panics
///
/// When it answers.
#[must_use]
pub fn refused(function: &str, request: &Value) -> Refusal {
    match call(function, request) {
        Err(refusal) => refusal,
        Ok(reply) => panic!("{function} answered {reply}"),
    }
}

/// Holds every case of a reference file against the public interface.
///
/// # Panics
///
/// When a case is refused or a field is off.
pub fn check(file: &str) {
    for case in cases(file) {
        let reply = answered(&case.function, &case.request);
        expect_reply(&case.id, &reply, &case.expect, &case.tolerance);
    }
}

/// Asserts that every field of `expect` is in `reply`, numbers within the
/// tolerance of their field name, all else equal.
///
/// # Panics
///
/// When one is not, naming the case and the field.
pub fn expect_reply(id: &str, reply: &Value, expect: &Value, tolerance: &Value) {
    compare(id, "reply", reply, expect, tolerance, 0.0);
}

fn compare(id: &str, path: &str, reply: &Value, expect: &Value, all: &Value, tolerance: f64) {
    match expect {
        Value::Object(fields) => {
            for (name, wanted) in fields {
                let own = all[name].as_f64().unwrap_or(tolerance);
                compare(
                    id,
                    &format!("{path}.{name}"),
                    &reply[name],
                    wanted,
                    all,
                    own,
                );
            }
        }
        Value::Array(items) => {
            assert_eq!(list(reply).len(), items.len(), "{id}: length of {path}");
            for (at, wanted) in items.iter().enumerate() {
                compare(
                    id,
                    &format!("{path}[{at}]"),
                    &reply[at],
                    wanted,
                    all,
                    tolerance,
                );
            }
        }
        Value::Number(_) => {
            let wanted = expect.as_f64().unwrap_or(f64::NAN);
            let found = reply
                .as_f64()
                .unwrap_or_else(|| panic!("{id}: {path} is {reply}"));
            near(id, path, found, wanted, tolerance);
        }
        _ => assert_eq!(reply, expect, "{id}: {path}"),
    }
}
