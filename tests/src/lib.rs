//! Reads the outside check values and calls the public interface natively.

pub mod before_traced;
pub mod fuzzed;
pub mod ray_trace;

use glasscall_web::questions::QUESTIONS;
use glasscall_web::{Refusal, Tree};
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

/// Calls a function of the public interface, from plain value to plain value as
/// the module does: the reader that ships reads the request.
///
/// # Errors
///
/// What the function refuses, a request of the wrong shape included.
///
/// # Panics
///
/// When there is no such function.
pub fn call(function: &str, request: &Value) -> Result<Value, Refusal> {
    let question = (QUESTIONS.iter())
        .find(|question| question.name == function)
        .unwrap_or_else(|| panic!("no function {function}"));
    question.answer(&tree(request)).map(|reply| json(&reply))
}

/// The names of the public functions.
pub fn functions() -> impl Iterator<Item = &'static str> {
    QUESTIONS.iter().map(|question| question.name)
}

/// The example of every public function.
pub fn examples() -> impl Iterator<Item = (&'static str, Value)> {
    QUESTIONS.iter().map(|question| {
        let request = serde_json::from_str(question.example);
        (
            question.name,
            request.unwrap_or_else(|e| panic!("example of {}: {e}", question.name)),
        )
    })
}

/// JSON as JavaScript would hand it over.
#[must_use]
pub fn tree(value: &Value) -> Tree {
    match value {
        Value::Null => Tree::Nothing,
        Value::Bool(yes) => Tree::Bool(*yes),
        Value::Number(number) => Tree::Number(number.as_f64().unwrap_or(f64::NAN)),
        Value::String(text) => Tree::Text(text.clone()),
        Value::Array(items) => Tree::List(items.iter().map(tree).collect()),
        Value::Object(fields) => Tree::Record(
            (fields.iter())
                .map(|(name, field)| (name.clone(), tree(field)))
                .collect(),
        ),
    }
}

/// A reply as JSON; what is no number is null, what is nothing is left out.
#[must_use]
pub fn json(tree: &Tree) -> Value {
    match tree {
        Tree::Nothing => Value::Null,
        Tree::Bool(yes) => Value::from(*yes),
        Tree::Number(number) => written(*number),
        Tree::Text(text) => Value::from(text.as_str()),
        Tree::List(items) => items.iter().map(json).collect(),
        Tree::Record(fields) => (fields.iter())
            .filter(|(_, field)| *field != Tree::Nothing)
            .map(|(name, field)| (name.clone(), json(field)))
            .collect(),
    }
}

/// A number as JavaScript writes it: a whole one without a point.
fn written(number: f64) -> Value {
    #[expect(clippy::cast_possible_truncation, reason = "whole and below 2⁵³")]
    if number % 1.0 == 0.0 && number.abs() < 9_007_199_254_740_992.0 && number.is_sign_positive() {
        return Value::from(number as i64);
    }
    Value::from(number)
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

/// The lenses of `traced_lenses.json`.
///
/// # Panics
///
/// When the file holds none.
#[must_use]
pub fn traced_lenses() -> Vec<Value> {
    let lenses = list(&reference("traced_lenses.json")["lenses"]).to_vec();
    assert!(lenses.len() >= 20, "too few traced lenses");
    lenses
}

/// The lenses of `prescriptions.json`.
///
/// # Panics
///
/// When the file holds none.
#[must_use]
pub fn prescriptions() -> Vec<Value> {
    let lenses = list(&reference("prescriptions.json")["lenses"]).to_vec();
    assert!(lenses.len() >= 10, "too few prescriptions");
    lenses
}
