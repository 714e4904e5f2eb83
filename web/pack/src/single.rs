//! A page and all it needs in one HTML file, or a script in one file.

use crate::bundle;
use crate::files::{Files, integrity, text};
use crate::page;
use crate::words;
use anyhow::{Result, ensure};
use base64::Engine as _;
use base64::prelude::BASE64_STANDARD;
use flate2::Compression;
use flate2::write::GzEncoder;
use std::fmt::Write as _;
use std::io::Write as _;

/// The one module that finds the WebAssembly bytes; the file carries its own.
const BYTES: &str = "api/bytes.js";
/// The one module that finds the words of another language; the file carries them.
const TABLE: &str = "words/table.js";
/// The one module that starts the worker of long questions; the file carries
/// the worker's text, for a page on disk may load no script from beside it.
const WORKER_STARTER: &str = "long-worker.js";
pub(crate) const WORKER: &str = "worker.js";
/// What the worker loads, and how it says so.
const WORKER_LOADS: &str = "engine.js";
const WORKER_IMPORT: &str = "import(\"./engine.js\")";
/// A loop takes a fifth of the time of `Uint8Array.from` with a function.
const UNPACKED: &str = "function unpacked(text) {\n\
     if (Uint8Array.fromBase64) return Uint8Array.fromBase64(text);\n\
     const signs = atob(text), bytes = new Uint8Array(signs.length);\n\
     for (let at = 0; at < bytes.length; at += 1) bytes[at] = signs.charCodeAt(at);\n\
     return bytes;\n}\n";

/// Makes the single file of a page, its one script and its WebAssembly.
pub(crate) fn single_file(files: &Files, page_name: &str, wasm: &[u8]) -> Result<String> {
    let entry = page::entry(files, page_name)?;
    let script = script(files, &entry, wasm)?;
    let style = page::styles(files, page_name)?;
    let early = page::early_scripts(files, page_name)?;
    let scripts: Vec<String> = (early.iter().chain([&script]))
        .map(|script| format!("'{}'", integrity(script.as_bytes())))
        .collect();
    let policy = format!(
        "default-src 'none'; script-src {} 'wasm-unsafe-eval'; style-src '{}'; img-src data:; worker-src blob:; base-uri 'none'; form-action 'none'; require-trusted-types-for 'script'; trusted-types glasscall glasscall-worker",
        scripts.join(" "),
        integrity(style.as_bytes())
    );
    let mut page = String::new();
    for line in text(files, page_name)?.lines() {
        let tag = line.trim();
        if tag.starts_with("<meta http-equiv=\"Content-Security-Policy\"") {
            writeln!(
                page,
                "<meta http-equiv=\"Content-Security-Policy\" content=\"{policy}\">"
            )?;
        } else if tag.starts_with("<link rel=\"stylesheet\"") {
            // All styles stand in the one element below.
        } else if tag.starts_with("<link rel=\"icon\"") {
            let icon = BASE64_STANDARD.encode(text(files, "icon.svg")?);
            writeln!(
                page,
                "<link rel=\"icon\" href=\"data:image/svg+xml;base64,{icon}\">"
            )?;
        } else if tag.starts_with("<link rel=\"manifest\"")
            || tag.starts_with("<link rel=\"apple-touch-icon\"")
            || tag.starts_with("<link rel=\"modulepreload\"")
        {
            // A file on disk is not installed and has nothing to preload.
        } else if tag.starts_with("<script ") {
            // One that must run before the first paint stands in the head, the
            // module at the end of the body.
        } else if tag == "</head>" {
            writeln!(page, "<style>{style}</style>")?;
            for script in &early {
                writeln!(page, "<script>{script}</script>")?;
            }
            writeln!(page, "</head>")?;
        } else if tag == "</body>" {
            writeln!(page, "<script type=\"module\">{script}</script>\n</body>")?;
        } else {
            writeln!(page, "{line}")?;
        }
    }
    Ok(page)
}

/// A module and all it imports as one script, a classic one: other origins may
/// run it without asking, and it works as a module too.
pub(crate) fn single_script(files: &Files, entry: &str, wasm: &[u8]) -> Result<String> {
    Ok(format!(
        "(async () => {{\n\"use strict\";\n{}}})();\n",
        script(files, entry, wasm)?
    ))
}

fn script(files: &Files, entry: &str, wasm: &[u8]) -> Result<String> {
    let bytes = format!(
        "{UNPACKED}export async function wasmBytes() {{\nreturn {}.arrayBuffer();\n}}\n",
        unpacking(wasm)?
    );
    let starter = worker_starter(files)?;
    let own = [
        (BYTES, bytes),
        (TABLE, table(files)?),
        (WORKER_STARTER, starter),
    ];
    bundle::script(files, entry, own.into())
}

/// An expression whose value is a response with these bytes, which stand in it
/// compressed.
fn unpacking(bytes: &[u8]) -> Result<String> {
    let mut packed = GzEncoder::new(Vec::new(), Compression::best());
    packed.write_all(bytes)?;
    let packed = BASE64_STANDARD.encode(packed.finish()?);
    Ok(format!(
        "new Response(new Blob([unpacked(\"{packed}\")]).stream().pipeThrough(new DecompressionStream(\"gzip\")))"
    ))
}

/// The words of all other languages.
fn table(files: &Files) -> Result<String> {
    let mut cases = String::new();
    for language in words::languages(files) {
        let words = text(files, &format!("words/{language}.json"))?;
        writeln!(
            cases,
            "if (language === \"{language}\") return {}.json();",
            unpacking(words.as_bytes())?
        )?;
    }
    Ok(format!(
        "{UNPACKED}export async function wordsOf(language) {{\n{cases}throw new Error(language);\n}}\n"
    ))
}

/// The module that starts the worker from its text and hands it the bytes, so
/// that the file holds them once.
fn worker_starter(files: &Files) -> Result<String> {
    let bytes = "export function wasmBytes() {\n\
         return new Promise((take) => addEventListener(\"message\", ({ data }) => data.wasm && take(data.wasm)));\n}\n";
    let worker = with_modules(files, [(BYTES, bytes.to_owned())].into())?;
    // A page from disk has no origin, and browsers refuse such a page a worker
    // that is a module; a plain script knows no place of its own.
    let worker = worker.replace("import.meta.url", "location.href");
    let worker = serde_json::to_string(&worker)?;
    Ok(format!(
        "import {{ wasmBytes }} from \"./{BYTES}\";\n\
         const WORKER = URL.createObjectURL(new Blob([{worker}], {{ type: \"text/javascript\" }}));\n\
         const policy = window.trustedTypes?.createPolicy(\"glasscall-worker\", {{ createScriptURL: () => WORKER }});\n\
         export function makeWorker() {{\n\
         const worker = new Worker(policy ? policy.createScriptURL(\"\") : WORKER);\n\
         wasmBytes().then((wasm) => worker.postMessage({{ wasm }}));\n\
         return worker;\n}}\n"
    ))
}

/// The worker with what it loads inside.
pub(crate) fn with_modules(files: &Files, own: bundle::Own) -> Result<String> {
    let worker = text(files, WORKER)?;
    ensure!(
        worker.matches(WORKER_IMPORT).count() == 1,
        "{WORKER} must hold {WORKER_IMPORT} once"
    );
    Ok(worker.replace(WORKER_IMPORT, &bundle::exports(files, WORKER_LOADS, own)?))
}
