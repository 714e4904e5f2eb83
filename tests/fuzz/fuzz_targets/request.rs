//! Any JSON as a request of any public function: `{"function", "request"}`.
//! The answer is finite, or a refusal.
#![no_main]

use glasscall_tests::{attempt, finite, functions};
use libfuzzer_sys::fuzz_target;
use serde_json::Value;

fuzz_target!(|text: &str| {
    let Ok(asked) = serde_json::from_str::<Value>(text) else {
        return;
    };
    let Some(name) = asked["function"].as_str() else {
        return;
    };
    if !functions().any(|known| known == name) || is_long(&asked["request"]) {
        return;
    }
    if let Some(Ok(reply)) = attempt(name, &asked["request"]) {
        assert!(finite(name, &reply), "{text} gives {reply}");
    }
});

/// Asks for more than a fuzzer has patience for, by right: steps of a search
/// and pixels of a map are the caller's to choose.
fn is_long(request: &Value) -> bool {
    let over = |field: &str, most: f64| request[field].as_f64().is_some_and(|n| n > most);
    over("steps", 1e5) || over("columns", 64.0) || over("rows", 64.0)
}
