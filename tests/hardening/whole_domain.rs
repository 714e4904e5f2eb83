//! Every number of a sound request, over the whole range its refusal names: no
//! refusal contradicts the range it names, both ends included, and every answer
//! is finite.

use glasscall_tests::{call, examples, finite, functions};
use glasscall_web::{Code, Given};
use serde_json::{Value, json};
use std::collections::BTreeSet;
use std::path::PathBuf;

/// Farther out than any range goes.
const OUTSIDE: f64 = 1e300;
/// Steps along a range, and decades down from its ends towards nothing.
const STEPS: u32 = 24;
const DECADES: i32 = 12;
/// Work that is the caller's to choose; its cost grows with it, by right.
const CHOSEN_WORK: [&str; 3] = ["steps", "columns", "rows"];

/// The seeds of a function that are answered.
fn sound(function: &str) -> Vec<Value> {
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("fuzz/corpus/request");
    let mut files: Vec<PathBuf> = (std::fs::read_dir(folder).unwrap())
        .map(|entry| entry.unwrap().path())
        .filter(|file| file.extension().is_some_and(|end| end == "json"))
        .collect();
    files.sort();
    let kept = (files.iter())
        .map(|file| serde_json::from_str(&std::fs::read_to_string(file).unwrap()).unwrap())
        .filter(|asked: &Value| asked["function"] == function)
        .map(|asked| asked["request"].clone());
    let example = examples().find(|(name, _)| *name == function);
    example
        .map(|(_, request)| request)
        .into_iter()
        .chain(kept)
        .map(small)
        .filter(|request| call(function, request).is_ok())
        .collect()
}

/// The same request with little of the work that is the caller's to choose.
fn small(mut request: Value) -> Value {
    for (field, most) in [("steps", 1e3), ("columns", 4.0), ("rows", 4.0)] {
        if request[field].as_f64().is_some_and(|given| given > most) {
            request[field] = json!(most);
        }
    }
    request
}

/// JSON pointers of the numbers of a tree.
fn numbers(tree: &Value, path: &str, found: &mut Vec<String>) {
    match tree {
        Value::Number(_) => found.push(path.into()),
        Value::Array(items) => {
            for (at, item) in items.iter().enumerate() {
                numbers(item, &format!("{path}/{at}"), found);
            }
        }
        Value::Object(fields) => {
            for (name, field) in fields {
                numbers(field, &format!("{path}/{name}"), found);
            }
        }
        _ => {}
    }
}

/// The path without places in lists: fields that mean the same.
fn meaning(path: &str) -> String {
    let steps = path.split('/').map(|step| {
        if step.parse::<usize>().is_ok() {
            "*"
        } else {
            step
        }
    });
    steps.collect::<Vec<_>>().join("/")
}

/// Evenly between the ends, and by decades towards zero from both.
fn along(min: f64, max: f64) -> Vec<f64> {
    let even = (0..=STEPS).map(|step| min + (max - min) * f64::from(step) / f64::from(STEPS));
    let decades = (0..=2 * DECADES).map(|half| 10f64.powf(-f64::from(half) / 2.0));
    let down = decades.flat_map(|share| [min * share, max * share, 1.0 * share, -share]);
    let mut values: Vec<f64> = even
        .chain(down)
        .chain([min, max, 0.0])
        .filter(|value| (min..=max).contains(value))
        .collect();
    values.sort_by(f64::total_cmp);
    values.dedup();
    values
}

/// What a sweep of one number met.
#[derive(Default)]
struct Met {
    ranges: usize,
    answers: usize,
    faults: Vec<String>,
}

impl Met {
    fn sweep(&mut self, function: &str, request: &Value, path: &str) {
        let with = |value: f64| {
            let mut bent = request.clone();
            *bent.pointer_mut(path).unwrap() = json!(value);
            call(function, &bent)
        };
        // A count or anything else that has no range of numbers is refused
        // without one, or is no number of that shape at all.
        let Err(refusal) = with(OUTSIDE) else {
            return;
        };
        let (Some(min), Some(max), Code::OutOfRange) = (refusal.min, refusal.max, refusal.code)
        else {
            return;
        };
        self.ranges += 1;
        for value in along(min, max) {
            match with(value) {
                Ok(reply) if finite(function, &reply) => self.answers += 1,
                Ok(reply) => {
                    self.faults
                        .push(format!("{function}{path} = {value:e} gives {reply}"));
                }
                // A law may refuse what this number makes of it, and a narrower
                // range may follow from the other fields; never may the range
                // that is named hold what is refused.
                Err(other)
                    if other.code == Code::OutOfRange
                        && other.given == Some(Given::Number(value))
                        && other.min.is_some_and(|min| value >= min)
                        && other.max.is_some_and(|max| value <= max) =>
                {
                    self.faults
                        .push(format!("{function}{path} = {value:e} is refused inside"));
                }
                _ => {}
            }
        }
    }
}

#[test]
fn every_number_is_answered_over_its_whole_range() {
    let mut met = Met::default();
    for function in functions() {
        let mut swept: BTreeSet<String> = BTreeSet::new();
        for request in sound(function) {
            let mut paths = Vec::new();
            numbers(&request, "", &mut paths);
            for path in paths {
                let name = path.rsplit('/').next().unwrap_or_default();
                if !CHOSEN_WORK.contains(&name) && swept.insert(meaning(&path)) {
                    met.sweep(function, &request, &path);
                }
            }
        }
    }
    assert!(
        met.faults.is_empty(),
        "{} faults, such as {:#?}",
        met.faults.len(),
        &met.faults[..met.faults.len().min(20)]
    );
    // A sweep that no longer reaches the laws would prove nothing.
    assert!(
        met.ranges > 150 && met.answers > 8000,
        "{} ranges, {} answers",
        met.ranges,
        met.answers
    );
}
