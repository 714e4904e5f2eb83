//! The module as others install it: an npm package that is ready to publish.

use crate::files::{Files, text};
use crate::paths::top;
use crate::wasm::Engine;
use anyhow::{Result, ensure};
use base64::Engine as _;
use base64::prelude::BASE64_STANDARD;
use std::fs;

/// Where it lies, and where the page looks for its module.
pub(crate) const API: &str = "api/";
/// What every file says of itself.
pub(crate) const VERSION: &str = env!("CARGO_PKG_VERSION");

/// The way in for browsers without a bundler, and for whoever names the file.
const BY_ADDRESS: &str = "glasscall.js";
/// The way in for Node: read before the import ends, so `require` may wait for it.
const IN_NODE: &str = "node.js";
/// The way in for bundlers: not all of them take along a file that is not a script.
const INSIDE: &str = "inside.js";

/// What the page needs of it too: engine, module, types, version.
pub(crate) fn add_engine(files: &mut Files, engine: &Engine) -> Result<()> {
    let mut add = |name: &str, bytes: Vec<u8>| files.insert(format!("{API}{name}"), bytes);
    add("engine.js", script(&engine.script)?.into_bytes());
    add("glasscall.wasm", engine.wasm.clone());
    add("glasscall.d.ts", types(&engine.types).into_bytes());
    add("version.js", version().into_bytes());
    // Says of a folder whose own says "commonjs", as many do, that this is a module.
    add("package.json", manifest().into_bytes());
    Ok(())
}

/// The rest of the package, which no page loads.
pub(crate) fn complete(dist: &mut Files, engine: &Engine) -> Result<()> {
    let names = functions(&engine.types);
    ensure!(!names.is_empty(), "the module answers no question");
    let exports = format!(
        "export {{ {} }} from \"./engine.js\";\nexport {{ version }} from \"./version.js\";\n",
        names.join(", ")
    );
    let by_address = format!("{API}{BY_ADDRESS}");
    let all = "export * from \"./engine.js\";\nexport { version } from \"./version.js\";\n";
    let start = text(dist, &by_address)?;
    ensure!(start.ends_with(all), "{by_address} ends otherwise");
    let named = start.replace(all, &exports);
    let licence = fs::read(top().join("LICENSE"))?;
    let questions = fs::read_to_string(top().join("web/API.md"))?;
    let mut add = |name: &str, bytes: Vec<u8>| dist.insert(format!("{API}{name}"), bytes);
    add(BY_ADDRESS, named.into());
    add(IN_NODE, in_node(&exports).into());
    add(INSIDE, inside(&engine.wasm, &exports).into());
    add("API.md", questions.into());
    add("LICENSE", licence);
    Ok(())
}

/// Generated: its types are checked where it is made, and stand in a file that
/// is named for the package.
fn script(bound: &str) -> Result<String> {
    const TYPES: &str = "/* @ts-self-types=\"./glasscall_web.d.ts\" */\n";
    ensure!(
        bound.contains(TYPES),
        "the binding names its types otherwise"
    );
    Ok(format!("// @ts-nocheck\n{}\n", bound.replace(TYPES, "")))
}

/// The types without what only the loader needs.
fn types(bound: &str) -> String {
    let loader = ["InitInput", "InitOutput", "SyncInitInput"];
    let public = bound
        .find("export type InitInput")
        .map_or(bound, |loader_starts| &bound[..loader_starts]);
    debug_assert!(loader.iter().all(|name| !public.contains(name)));
    format!(
        "{}\n\n/**\n * Version of the module, as its package has it.\n */\nexport const version: string;\n",
        public.trim_end()
    )
}

/// Every page says its version, to whoever looks at its source too.
pub(crate) fn sign(files: &mut Files) -> Result<()> {
    const CHARSET: &str = "<meta charset=\"utf-8\">\n";
    let pages: Vec<String> = (files.keys())
        .filter(|name| name.ends_with(".html"))
        .cloned()
        .collect();
    for name in pages {
        let page = text(files, &name)?;
        ensure!(page.contains(CHARSET), "{name} does not say its charset");
        let generator =
            format!("{CHARSET}<meta name=\"generator\" content=\"Glasscall {VERSION}\">\n");
        let signed = page
            .replace(CHARSET, &generator)
            .replace("%VERSION%", VERSION);
        files.insert(name, signed.into_bytes());
    }
    Ok(())
}

fn version() -> String {
    format!(
        "// @ts-check\n/** Of the page, its copies and the module alike. */\nexport const version = \"{VERSION}\";\n"
    )
}

/// Every function the types tell of, in their order.
fn functions(bound: &str) -> Vec<&str> {
    (bound.lines())
        .filter_map(|line| line.strip_prefix("export function "))
        .filter_map(|rest| rest.split('(').next())
        .filter(|name| *name != "initSync")
        .collect()
}

/// Conditions are tried in their order, so it is written as text. Bundlers know
/// "module"; what has all inside needs no leave to read in Deno. What starts the
/// engine must not be left out by a bundler.
fn manifest() -> String {
    format!(
        r#"{{
  "name": "glasscall",
  "version": "{VERSION}",
  "description": "Density, exposure and coverage of the glass in front of a camera lens",
  "keywords": ["camera", "exposure", "filter", "neutral-density", "polarizer", "vignetting", "webassembly"],
  "license": "MIT",
  "type": "module",
  "main": "{IN_NODE}",
  "types": "glasscall.d.ts",
  "exports": {{
    ".": {{
      "types": "./glasscall.d.ts",
      "module": "./{INSIDE}",
      "deno": "./{INSIDE}",
      "node": "./{IN_NODE}",
      "default": "./{BY_ADDRESS}"
    }},
    "./glasscall.wasm": "./glasscall.wasm",
    "./package.json": "./package.json"
  }},
  "sideEffects": ["./{BY_ADDRESS}", "./{IN_NODE}", "./{INSIDE}"],
  "files": ["*.js", "*.d.ts", "*.wasm", "API.md"],
  "engines": {{ "node": ">=20.16" }}
}}
"#
    )
}

fn in_node(exports: &str) -> String {
    format!(
        "// The module for Node, ready when it is read: `require` waits for no promise.\n\
         import {{ readFileSync }} from \"node:fs\";\n\
         import {{ initSync }} from \"./engine.js\";\n\n\
         initSync({{ module: readFileSync(new URL(\"glasscall.wasm\", import.meta.url)) }});\n\n\
         {exports}"
    )
}

fn inside(wasm: &[u8], exports: &str) -> String {
    format!(
        "// The module with its WebAssembly inside, for bundlers: no file beside it, no promise.\n\
         import {{ initSync }} from \"./engine.js\";\n\n\
         const TEXT = \"{}\";\n\n\
         initSync({{ module: Uint8Array.from(atob(TEXT), (sign) => sign.charCodeAt(0)) }});\n\n\
         {exports}",
        BASE64_STANDARD.encode(wasm)
    )
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::*;

    const BOUND: &str = "export function openUp(request: OpenUpRequest): OpenUpReply;\n\
        export function sun(request: SunRequest): SunReply;\n\
        export type InitInput = string;\nexport function initSync(module: InitInput): InitOutput;\n";

    #[test]
    fn the_loader_is_no_question() {
        assert_eq!(functions(BOUND), ["openUp", "sun"]);
        assert!(!types(BOUND).contains("Init"));
        assert!(types(BOUND).contains("export const version: string;"));
    }

    #[test]
    fn the_manifest_is_json() {
        let read: serde_json::Value = serde_json::from_str(&manifest()).unwrap();
        assert_eq!(read["version"], VERSION);
        assert_eq!(read["exports"]["."]["default"], "./glasscall.js");
    }

    #[test]
    fn a_bundler_meets_its_own_entry_first() {
        let manifest = manifest();
        let at = |condition: &str| manifest.find(&format!("\"{condition}\": \"./")).unwrap();
        assert!(at("types") < at("module"), "types come first");
        assert!(at("module") < at("node") && at("node") < at("default"));
    }
}
