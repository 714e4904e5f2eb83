//! Compiles `web` to WebAssembly and makes its JavaScript and types.

use crate::place::top;
use anyhow::{Context as _, Result, ensure};
use std::process::Command;
use wasm_bindgen_cli_support::Bindgen;

const TARGET: &str = "wasm32-unknown-unknown";

/// The compiled module with its glue.
pub(crate) struct Engine {
    /// The WebAssembly bytes.
    pub(crate) wasm: Vec<u8>,
    /// The ES module that loads and calls them.
    pub(crate) script: String,
    /// TypeScript types of every request, reply and function.
    pub(crate) types: String,
}

/// Adds the target, compiles and binds.
pub(crate) fn compile() -> Result<Engine> {
    add_target()?;
    let status = Command::new(env!("CARGO"))
        .current_dir(top())
        .args(["build", "--quiet", "--locked", "--release"])
        .args(["--target", TARGET, "--package", "glasscall-web"])
        .env(
            "CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_RUSTFLAGS",
            rust_flags(),
        )
        .status()?;
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
fn rust_flags() -> String {
    let home = std::env::var("CARGO_HOME").unwrap_or_else(|_| {
        let user = std::env::var("HOME").unwrap_or_default();
        format!("{user}/.cargo")
    });
    let here = top().canonicalize().unwrap_or_else(|_| top());
    format!(
        "-C target-feature=+simd128 --remap-path-prefix={home}=cargo --remap-path-prefix={}=glasscall",
        here.display()
    )
}
