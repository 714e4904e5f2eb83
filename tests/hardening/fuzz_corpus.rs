//! Every text the fuzzer found worth keeping, once more.

use glasscall_tests::fuzzed::TARGETS;
use std::path::PathBuf;

#[test]
fn what_was_found_by_fuzzing_still_holds() {
    for (target, holds) in TARGETS {
        let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR"))
            .join("fuzz/corpus")
            .join(target);
        let mut texts = 0;
        for entry in std::fs::read_dir(folder).unwrap() {
            let file = entry.unwrap().path();
            // The fuzzer, too, passes over what is no text.
            if let Ok(text) = String::from_utf8(std::fs::read(&file).unwrap()) {
                println!("{}", file.display());
                holds(&text);
                texts += 1;
            }
        }
        assert!(texts > 20, "{target} has {texts} texts");
    }
}
