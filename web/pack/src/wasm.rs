//! Compiles `web` to WebAssembly and makes its JavaScript and types.

use crate::halves::{Links, cut, without};
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
    /// The WebAssembly bytes, whole.
    pub(crate) wasm: Vec<u8>,
    /// Those that answer what the first screen asks.
    pub(crate) first: Vec<u8>,
    /// Those that answer all else, over the first.
    pub(crate) rest: Vec<u8>,
    /// Those that answer what the element shows, by themselves.
    pub(crate) element: Vec<u8>,
    /// The ES module that loads and calls them.
    pub(crate) script: String,
    /// TypeScript types of every request, reply and function.
    pub(crate) types: String,
}

/// What the shipped module is compiled with: four numbers at once.
const VECTORS: &str = "+simd128";
/// For browsers that lack it; only the tests compare the two.
const NO_VECTORS: &str = "-simd128";

/// How much a function may weigh, in LLVM's own measure, to be put where it is
/// called: of 10, 20, 25, 28, 50, 75 and 150 the one that makes the module least.
const INLINED: u32 = 25;

/// The files of the two halves.
pub(crate) const FIRST: &str = "first.wasm";
pub(crate) const REST: &str = "rest.wasm";

/// Joins the second half to the first: one memory, one set of functions.
const JOIN: &str = "
export async function join(bytes) {
const imports = { ...__wbg_get_imports(), first: wasm };
const { instance } = await __wbg_load(await bytes, imports);
wasm = { ...wasm, ...instance.exports };
}
";

/// What the bound script calls the module.
const NAME: &str = "glasscall_web";

/// What Now's answer and its keys ask: the first half answers it.
const ASKED_FIRST: [&str; 4] = ["openUp", "readText", "workingStop", "infrared"];
/// What the element asks, which shows the stack as a card and has no second half
/// to wait for: what tells the pupil of its lens, too.
const ASKED_BY_ELEMENT: [&str; 9] = [
    "openUp",
    "readText",
    "infrared",
    "colour",
    "flicker",
    "workingStop",
    "pupilByTwoCards",
    "pupilByRing",
    "pupilByFront",
];

const RUST_FLAGS: &str = "CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_RUSTFLAGS";

/// Adds the target, compiles and binds.
pub(crate) fn compile() -> Result<Engine> {
    compile_with(VECTORS, "target")
}

/// Writes the module that does one number at a time, with its script, into a
/// folder.
pub(crate) fn write_without_vectors(folder: &Path) -> Result<()> {
    // Beside the other, whose parts cargo would throw away for it.
    let engine = compile_with(NO_VECTORS, "target/scalar")?;
    fs::create_dir_all(folder)?;
    fs::write(folder.join("engine.js"), engine.script)?;
    fs::write(folder.join("glasscall.wasm"), engine.wasm)?;
    Ok(())
}

fn compile_with(feature: &str, target: &str) -> Result<Engine> {
    add_target()?;
    let mut build = Command::new(env!("CARGO"));
    build
        .current_dir(top())
        .args(["rustc", "--quiet", "--locked", "--release"])
        // An rlib beside it would keep the linker from optimizing.
        .args(["--lib", "--crate-type", "cdylib"])
        .args(["--target", TARGET, "--package", "glasscall-web"])
        .args(["--target-dir", target])
        .env(RUST_FLAGS, rust_flags(feature));
    let status = build.status()?;
    ensure!(status.success(), "the WebAssembly build failed");
    let compiled = top()
        .join(target)
        .join(TARGET)
        .join("release/glasscall_web.wasm");
    let linked = fs::read(compiled)?;
    let mut made = Bindgen::new()
        .input_bytes(NAME, without(&linked)?)
        .web(true)?
        .typescript(true)
        .omit_default_module_path(true)
        .demangle(false)
        .remove_producers_section(true)
        .generate_output()?;
    let bound = made.wasm_mut().emit_wasm();
    let links = Links::of(&linked)?;
    let halves = cut(&bound, &links, &ASKED_FIRST)?;
    let element = cut(&bound, &links, &ASKED_BY_ELEMENT)?.first;
    Ok(Engine {
        script: format!("{}{JOIN}", made.js()),
        types: made.ts().context("bindgen made no types")?.to_owned(),
        wasm: halves.whole,
        first: halves.first,
        rest: halves.rest,
        element,
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
    // The cut needs to know what leads to what.
    let links = "-C link-arg=--emit-relocs";
    format!("-C target-feature={feature} {links} -C llvm-args=-inline-threshold={INLINED}{maps}")
}
