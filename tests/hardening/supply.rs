//! What the product is made of: licences, sources, the table in DEVELOPERS.md.

use serde_json::Value;
use std::path::PathBuf;
use std::process::Command;

fn top() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("..")
}

fn read(path: &str) -> String {
    std::fs::read_to_string(top().join(path)).unwrap_or_else(|e| panic!("{path}: {e}"))
}

fn packages() -> Vec<Value> {
    let told = Command::new(env!("CARGO"))
        .args(["metadata", "--format-version", "1", "--locked", "--offline"])
        .current_dir(top())
        .output()
        .expect("cargo");
    assert!(
        told.status.success(),
        "{}",
        String::from_utf8_lossy(&told.stderr)
    );
    let all: Value = serde_json::from_slice(&told.stdout).unwrap();
    all["packages"].as_array().unwrap().clone()
}

/// Licences that ask for no more than their text beside the product.
const PERMISSIVE: [&str; 10] = [
    "MIT",
    "Apache-2.0",
    "Apache-2.0 WITH LLVM-exception",
    "BSD-2-Clause",
    "BSD-3-Clause",
    "Zlib",
    "0BSD",
    "ISC",
    "Unlicense",
    "Unicode-3.0",
];
/// Whether one licence of each choice is permissive. The operators of SPDX, and
/// the stroke that older packages write for OR; AND binds tighter.
fn is_permissive(licence: &str) -> bool {
    let fine = |one: &str| {
        let one = one.trim().trim_matches(['(', ')']).trim();
        PERMISSIVE.contains(&one)
    };
    licence
        .replace('/', " OR ")
        .split(" AND ")
        .all(|group| group.split(" OR ").any(fine))
}

#[test]
fn every_dependency_has_a_permissive_licence() {
    assert!(!is_permissive("GPL-3.0-only") && !is_permissive("MIT AND GPL-2.0"));
    let packages = packages();
    assert!(packages.len() > 20);
    let others: Vec<String> = (packages.iter())
        .filter(|one| !is_permissive(one["license"].as_str().unwrap_or("none")))
        .map(|one| format!("{} {}", one["name"], one["license"]))
        .collect();
    assert!(others.is_empty(), "{others:?}");
}

#[test]
fn every_dependency_comes_from_the_registry_with_its_checksum() {
    let lock = read("Cargo.lock");
    let entries: Vec<&str> = lock.split("[[package]]").skip(1).collect();
    assert!(entries.len() > 20);
    for entry in entries {
        let is_ours = entry.contains("name = \"glasscall-");
        let pinned = entry
            .contains("source = \"registry+https://github.com/rust-lang/crates.io-index\"")
            && entry.contains("checksum = ");
        assert!(is_ours != pinned, "{entry}");
    }
    let modules: Value = serde_json::from_str(&read("tests/package-lock.json")).unwrap();
    for (name, module) in modules["packages"].as_object().unwrap() {
        assert!(name.is_empty() || module["integrity"].is_string(), "{name}");
    }
}

#[test]
fn every_direct_dependency_is_justified() {
    let page = read("DEVELOPERS.md");
    let (_, table) = page.split_once("## Dependencies").expect("the section");
    let justified = |name: &str| table.contains(&format!("`{name}`"));
    for one in packages().iter().filter(|one| one["source"].is_null()) {
        for dependency in one["dependencies"].as_array().unwrap() {
            let name = dependency["name"].as_str().unwrap();
            let why = name.starts_with("glasscall-") || justified(name);
            assert!(why, "{name}, used by {}, is not in the table", one["name"]);
        }
    }
    let page_tests: Value = serde_json::from_str(&read("tests/package.json")).unwrap();
    for kind in ["dependencies", "devDependencies"] {
        for name in page_tests[kind]
            .as_object()
            .into_iter()
            .flat_map(|list| list.keys())
        {
            assert!(justified(name), "{name} is not in the table");
        }
    }
}

#[test]
fn the_lock_file_rules_every_build() {
    for line in read(".cargo/config.toml").lines() {
        let runs = line.contains("\"run\"");
        assert!(!runs || line.contains("\"--locked\""), "{line}");
    }
    let verify = read("web/pack/src/verify.rs");
    for command in ["\"clippy\"", "\"test\"", "\"build\"", "\"doc\""] {
        for (at, _) in verify
            .match_indices(command)
            .filter(|(at, _)| !verify[..*at].ends_with("npm(&[\"run\", "))
        {
            let near = &verify[at..(at + 60).min(verify.len())];
            assert!(
                near.contains("--locked") || verify[..at].ends_with("npm(&["),
                "{near}"
            );
        }
    }
}
