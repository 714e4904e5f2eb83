//! Compiles `web` to WebAssembly and makes its JavaScript and types.

use crate::paths::top;
use anyhow::{Context as _, Result, ensure};
use std::fs;
use std::path::Path;
use std::process::Command;
use wasm_bindgen_cli_support::Bindgen;

/// What the page runs.
pub(crate) const TARGET: &str = "wasm32-unknown-unknown";

/// The compiled module with its glue.
pub(crate) struct Engine {
    /// The WebAssembly bytes.
    pub(crate) wasm: Vec<u8>,
    /// The ES module that loads and calls them.
    pub(crate) script: String,
    /// TypeScript types of every request, reply and function.
    pub(crate) types: String,
}

/// What the shipped module is compiled with: four numbers at once.
const VECTORS: &str = "+simd128";
/// For browsers that lack it; only the tests compare the two.
const NO_VECTORS: &str = "-simd128";

const RUST_FLAGS: &str = "CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_RUSTFLAGS";

/// Adds the target, compiles and binds.
pub(crate) fn compile() -> Result<Engine> {
    compile_with(VECTORS)
}

/// Writes the module that does one number at a time, with its script, into a
/// folder.
pub(crate) fn write_without_vectors(folder: &Path) -> Result<()> {
    let engine = compile_with(NO_VECTORS)?;
    fs::create_dir_all(folder)?;
    fs::write(folder.join("engine.js"), engine.script)?;
    fs::write(folder.join("glasscall.wasm"), engine.wasm)?;
    Ok(())
}

fn compile_with(feature: &str) -> Result<Engine> {
    add_target()?;
    let mut build = Command::new(env!("CARGO"));
    build
        .current_dir(top())
        .args(["build", "--quiet", "--locked", "--release"])
        .args(["--target", TARGET, "--package", "glasscall-web"])
        .env(RUST_FLAGS, rust_flags(feature));
    let status = build.status()?;
    ensure!(status.success(), "the WebAssembly build failed");
    let compiled = top()
        .join("target")
        .join(TARGET)
        .join("release/glasscall_web.wasm");
    let mut made = Bindgen::new()
        .input_path(compiled)
        .web(true)?
        .typescript(true)
        .omit_default_module_path(true)
        .remove_name_section(true)
        .remove_producers_section(true)
        .generate_output()?;
    Ok(Engine {
        script: made.js().to_owned(),
        types: made.ts().context("bindgen made no types")?.to_owned(),
        wasm: made.wasm_mut().emit_wasm(),
    })
}

/// Adding a target that is there does nothing.
pub(crate) fn add_target() -> Result<()> {
    let status = Command::new("rustup")
        .args(["target", "add", TARGET])
        .status();
    // Without rustup the toolchain came with its targets, or the build says so.
    ensure!(
        status.map_or(true, |status| status.success()),
        "cannot add {TARGET}"
    );
    Ok(())
}

/// Paths of this machine are mapped away, so that every machine makes the same
/// bytes.
fn rust_flags(feature: &str) -> String {
    let home = std::env::var("CARGO_HOME").unwrap_or_else(|_| {
        let user = std::env::var("HOME").unwrap_or_default();
        format!("{user}/.cargo")
    });
    let here = top().canonicalize().unwrap_or_else(|_| top());
    let mut paths = vec![
        (home.clone(), "cargo".to_owned()),
        (here.display().to_string(), "glasscall".to_owned()),
    ];
    // The folder of a registry is named by where it is fetched from. The last
    // that fits counts.
    if let Ok(registries) = fs::read_dir(format!("{home}/registry/src")) {
        let mut folders: Vec<_> = registries
            .flatten()
            .map(|entry| entry.path().display().to_string())
            .collect();
        folders.sort();
        paths.extend(folders.into_iter().map(|from| (from, "crates".to_owned())));
    }
    let maps: String = (paths.iter())
        .map(|(from, to)| format!(" --remap-path-prefix={from}={to}"))
        .collect();
    format!("-C target-feature={feature}{maps}")
}
