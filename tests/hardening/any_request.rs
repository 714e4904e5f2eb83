//! Whatever is asked of the public interface, it answers with finite numbers or
//! refuses by naming a field; it never panics and never takes long.
//!
//! Sound requests of every function (the examples of the table of questions and
//! the seeds in `fuzz/corpus/request`) are bent in ways people, programs and enemies bend them.

use glasscall_tests::{call, examples, finite};
use glasscall_web::Code;
use serde_json::{Map, Value, json};
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::PathBuf;
use std::time::{Duration, Instant};

/// Bent requests of each seed; the fuzzer makes millions.
const BENDS: usize = 150;
/// Bends at once.
const MOST_AT_ONCE: usize = 3;
/// No answer of a small request takes as long, unoptimised and on a busy machine.
const PATIENCE: Duration = Duration::from_secs(20);

/// The same dice every run (Lehmer, modulus 2^31 − 1).
struct Dice(u64);

impl Dice {
    fn roll(&mut self, below: usize) -> usize {
        self.0 = self.0 * 48271 % 2_147_483_647;
        usize::try_from(self.0).unwrap() % below
    }
}

fn seeds() -> Vec<(String, Value)> {
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("fuzz/corpus/request");
    let mut files: Vec<PathBuf> = (std::fs::read_dir(folder).unwrap())
        .map(|entry| entry.unwrap().path())
        .filter(|file| file.extension().is_some_and(|end| end == "json"))
        .collect();
    files.sort();
    let read = |file: &PathBuf| {
        let asked: Value = serde_json::from_str(&std::fs::read_to_string(file).unwrap()).unwrap();
        (
            asked["function"].as_str().unwrap().to_owned(),
            asked["request"].clone(),
        )
    };
    let examples = examples().map(|(name, request)| (name.to_owned(), request));
    examples.chain(files.iter().map(read)).collect()
}

/// Values that are wrong in most places, and at the ends of ranges in others.
fn odd(dice: &mut Dice) -> Value {
    let numbers = [
        0.0,
        -0.0,
        -1.0,
        1.0,
        0.5,
        90.0,
        180.0,
        360.0,
        -90.0,
        1e-9,
        1e-300,
        5e-324,
        1e9,
        1e18,
        1e308,
        -1e308,
        4_294_967_296.0,
        9_007_199_254_740_993.0,
        1.797_693_134_862_315_7e308,
    ];
    match dice.roll(12) {
        0 => Value::Null,
        1 => json!(dice.roll(2) == 0),
        2 => json!(""),
        3 => json!("\u{0}\u{202e}0.9\u{7f}</script><img onerror=x>"),
        4 => json!("9".repeat(5000)),
        5 => json!([]),
        6 => json!({}),
        7 => json!([[[[[[[[[[[[1]]]]]]]]]]]]),
        _ => json!(numbers[dice.roll(numbers.len())]),
    }
}

/// Bends one place of a tree.
fn bend(tree: &mut Value, dice: &mut Dice) {
    match tree {
        Value::Object(fields) if !fields.is_empty() && dice.roll(5) > 0 => {
            let name = fields.keys().nth(dice.roll(fields.len())).unwrap().clone();
            match dice.roll(12) {
                0 => drop(fields.remove(&name)),
                1 => drop(fields.insert("__proto__".into(), json!(1))),
                _ => bend(&mut fields[&name], dice),
            }
        }
        Value::Array(items) if !items.is_empty() && dice.roll(5) > 0 => {
            let at = dice.roll(items.len());
            match dice.roll(8) {
                0 => drop(items.remove(at)),
                1 => items.push(items[at].clone()),
                2 => {
                    let again = items[at].clone();
                    items.extend(std::iter::repeat_n(again, 40));
                }
                _ => bend(&mut items[at], dice),
            }
        }
        Value::Number(number) if dice.roll(3) == 0 => {
            let factors = [-1.0, 0.0, 0.1, 0.999, 1.001, 10.0, 1e6, 1e-6];
            *tree = json!(number.as_f64().unwrap() * factors[dice.roll(factors.len())]);
        }
        _ => *tree = odd(dice),
    }
}

/// Work that is the caller's to choose is kept short.
fn shortened(mut request: Value) -> Value {
    for (field, most) in [("steps", 1e4), ("columns", 24.0), ("rows", 24.0)] {
        if request[field].as_f64().is_some_and(|n| n > most) {
            request[field] = json!(most);
        }
    }
    if let Some(lists) = request.as_object_mut()
        && (lists.contains_key("setUps") || lists.contains_key("catalogue"))
    {
        lists.entry("steps").or_insert(json!(1e4));
    }
    request
}

/// How a request fares.
enum Fate {
    Misshapen,
    Answered,
    Refused,
    Fault(String),
}

fn fate(function: &str, request: &Value) -> Fate {
    let began = Instant::now();
    let Ok(answer) = catch_unwind(AssertUnwindSafe(|| call(function, request))) else {
        return Fate::Fault("panics".into());
    };
    let took = began.elapsed();
    match answer {
        _ if took > PATIENCE => Fate::Fault(format!("takes {took:?}")),
        Ok(reply) if !finite(function, &reply) => Fate::Fault(format!("gives {reply}")),
        Ok(_) => Fate::Answered,
        Err(refusal) if refusal.message().len() > 2000 => {
            Fate::Fault(format!("refuses in {} bytes", refusal.message().len()))
        }
        Err(refusal) if [Code::WrongType, Code::UnknownField].contains(&refusal.code) => {
            Fate::Misshapen
        }
        Err(_) => Fate::Refused,
    }
}

#[test]
fn the_example_of_every_function_is_answered() {
    let refused: Vec<String> = examples()
        .filter_map(|(function, request)| {
            let refusal = call(function, &request).err()?;
            Some(format!("{function}: {}", refusal.message()))
        })
        .collect();
    assert!(refused.is_empty(), "{refused:#?}");
    // As many as there were; a question may be added, never taken away.
    assert!(examples().count() >= 44);
}

#[test]
fn bent_requests_are_answered_or_refused() {
    let mut dice = Dice(2026);
    let (mut answered, mut refused, mut misshapen) = (0, 0, 0);
    let mut faults: Map<String, Value> = Map::new();
    for (function, seed) in seeds() {
        for _ in 0..BENDS {
            let mut request = seed.clone();
            for _ in 0..=dice.roll(MOST_AT_ONCE) {
                bend(&mut request, &mut dice);
            }
            let request = shortened(request);
            match fate(&function, &request) {
                Fate::Misshapen => misshapen += 1,
                Fate::Answered => answered += 1,
                Fate::Refused => refused += 1,
                Fate::Fault(fault) => {
                    let asked: String = request.to_string().chars().take(500).collect();
                    faults.insert(format!("{function} {asked}"), json!(fault));
                }
            }
        }
    }
    assert!(
        faults.is_empty(),
        "{} faults: {:#}",
        faults.len(),
        Value::Object(faults)
    );
    // The bends are worth something only while many still get to the laws.
    assert!(
        answered > 1000 && refused > 1000 && misshapen > 1000,
        "{answered} {refused} {misshapen}"
    );
}
