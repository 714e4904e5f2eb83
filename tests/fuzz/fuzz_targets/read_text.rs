//! Any text as a quantity: see `fuzzed.rs`.
#![no_main]

use glasscall_tests::fuzzed;
use libfuzzer_sys::fuzz_target;

fuzz_target!(|text: &str| fuzzed::text(text));
