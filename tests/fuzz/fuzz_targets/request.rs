//! Any JSON as a request of any public function: see `fuzzed.rs`.
#![no_main]

use glasscall_tests::fuzzed;
use libfuzzer_sys::fuzz_target;

fuzz_target!(|text: &str| fuzzed::request(text));
