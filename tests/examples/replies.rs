//! Answers requests natively: one `{"function", "request"}` to a line in, one
//! reply or refusal to a line out. The module's test compares the two.

use glasscall_tests::call;
use serde_json::{Value, json};
use std::io::{BufRead as _, Write as _};

fn main() {
    let mut out = std::io::stdout().lock();
    for line in std::io::stdin().lock().lines() {
        let asked: Value = serde_json::from_str(&line.expect("a line")).expect("JSON");
        let function = asked["function"].as_str().expect("a function");
        let answer = match call(function, &asked["request"]) {
            Ok(reply) => json!({"reply": reply}),
            Err(refusal) => json!({"refused": refusal.field}),
        };
        writeln!(out, "{answer}").expect("a pipe");
    }
}
