//! A page and all it needs in one HTML file, or a script in one file.

use crate::embed;
use crate::files::{Files, integrity, text};
use crate::page;
use crate::script::{Own, Scope};
use crate::wasm::{FIRST, REST};
use crate::words;
use anyhow::{Result, ensure};
use base64::Engine as _;
use base64::prelude::BASE64_STANDARD;
use flate2::Compression;
use flate2::write::GzEncoder;
use sha2::{Digest as _, Sha256};
use std::fmt::Write as _;
use std::io::Write as _;

/// What of the module a file holds: each half by its name.
pub(crate) type Halves<'a> = &'a [(&'a str, &'a [u8])];

/// The one module that finds the WebAssembly bytes; the file carries its own.
const BYTES: &str = "engine/bytes.js";
/// The one module that finds the words of another language; the file carries them.
const TABLE: &str = "language/table.js";
/// The one module that starts the worker of long questions; the file carries
/// the worker's text, for a page on disk may load no script from beside it.
const WORKER_STARTER: &str = "engine/worker-starter.js";
pub(crate) const WORKER: &str = "engine/worker.js";
/// What the worker loads, and how it says so.
const WORKER_LOADS: &str = "engine/ask.js";
const WORKER_IMPORT: &str = "import(\"./ask.js\")";
/// What a file holds compressed, by name: `glasscallPart("wasm")` is a response
/// with it. A loop takes a fifth of the time of `Uint8Array.from` with a function.
const UNPACK: &str = "function unpacked(text) {\n\
     if (Uint8Array.fromBase64) return Uint8Array.fromBase64(text);\n\
     const signs = atob(text), bytes = new Uint8Array(signs.length);\n\
     for (let at = 0; at < bytes.length; at += 1) bytes[at] = signs.charCodeAt(at);\n\
     return bytes;\n}\n\
     const glasscallPart = (name) => new Response(new Blob([unpacked(PARTS[name])]).stream().pipeThrough(new DecompressionStream(\"gzip\")));\n";
/// Starts the script that the file holds compressed; the policy names its hash,
/// so that the browser runs this text and no other.
const START: &str = "globalThis.glasscallPart = glasscallPart;\n\
     const policy = window.trustedTypes?.createPolicy(\"glasscall-file\", { createScript: (text) => text });\n\
     const text = await glasscallPart(\"app\").text();\n\
     const script = document.createElement(\"script\");\n\
     script.type = \"module\";\n\
     script.textContent = policy ? policy.createScript(text) : text;\n\
     document.head.append(script);\n";

/// Makes the single file of a page, its one script and its WebAssembly.
pub(crate) fn single_file(files: &Files, page_name: &str, engine: Halves<'_>) -> Result<String> {
    let entry = page::entry(files, page_name)?;
    let app = script(files, &entry)?;
    // What a copy does not say needs no other language.
    let told = embed::is_copy(page_name)
        .then(|| text(files, page_name).map(|page| format!("{app}{page}")))
        .transpose()?;
    let parts = parts(files, engine, Some(&app), told.as_deref())?;
    let start = format!("{parts}{START}");
    let style = page::styles(files, page_name)?;
    let early = page::early_scripts(files, page_name)?;
    let scripts: Vec<String> = (early.iter().chain([&start, &app]))
        .map(|script| format!("'{}'", integrity(script.as_bytes())))
        .collect();
    let policy = format!(
        "default-src 'none'; script-src {} 'wasm-unsafe-eval'; style-src '{}'; img-src data:; worker-src blob:; base-uri 'none'; form-action 'none'; require-trusted-types-for 'script'; trusted-types glasscall glasscall-file glasscall-worker",
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
        } else if tag == "<main>" {
            writeln!(page, "<main data-build=\"{}\">", build_of(&app, engine))?;
        } else if tag == "</head>" {
            writeln!(page, "<style>{style}</style>")?;
            for script in &early {
                writeln!(page, "<script>{script}</script>")?;
            }
            writeln!(page, "</head>")?;
        } else if tag == "</body>" {
            writeln!(page, "<script type=\"module\">{start}</script>\n</body>")?;
        } else {
            writeln!(page, "{line}")?;
        }
    }
    Ok(page)
}

/// Tells one build's answers from another's.
pub(crate) fn build_of(app: &str, engine: Halves<'_>) -> String {
    let mut of = Sha256::new();
    of.update(app);
    engine.iter().for_each(|(_, bytes)| of.update(bytes));
    (of.finalize().iter().take(4))
        .map(|byte| format!("{byte:02x}"))
        .collect()
}

/// A module and all it imports as one script, a classic one: other origins may
/// run it without asking, and it works as a module too.
pub(crate) fn single_script(files: &Files, entry: &str, engine: Halves<'_>) -> Result<String> {
    let script = script(files, entry)?;
    Ok(format!(
        "(async () => {{\n\"use strict\";\n{}{script}}})();\n",
        parts(files, engine, None, Some(&script))?
    ))
}

/// A module and all it imports, which finds bytes and words in its file.
fn script(files: &Files, entry: &str) -> Result<String> {
    let bytes =
        "export async function wasmBytes(half) {\nreturn glasscallPart(half).arrayBuffer();\n}\n";
    let table =
        "export async function wordsOf(language) {\nreturn glasscallPart(language).json();\n}\n";
    let own = [
        (BYTES, bytes.to_owned()),
        (TABLE, table.to_owned()),
        (WORKER_STARTER, worker_starter(files)?),
    ];
    let own: Own = own.into();
    let script = Scope::new(files, &own, entry)?.script()?;
    // The HTML parser must not see an end tag inside the script.
    ensure!(!script.contains("</script"), "a script holds an end tag");
    Ok(script)
}

/// The module, the words of all other languages, as far as they are `told`, and,
/// where it is packed too, the script, with what unpacks them.
fn parts(
    files: &Files,
    engine: Halves<'_>,
    app: Option<&str>,
    told: Option<&str>,
) -> Result<String> {
    let mut words = Vec::new();
    for language in words::languages(files) {
        let all = text(files, &format!("language/{language}.json"))?;
        let table = told.map_or(Ok(all.to_owned()), |told| words::told(all, told))?;
        words.push((language, table));
    }
    let mut parts = engine.to_vec();
    parts.extend(app.map(|app| ("app", app.as_bytes())));
    parts.extend(
        words
            .iter()
            .map(|(language, table)| (*language, table.as_bytes())),
    );
    let mut made = "const PARTS = {\n".to_owned();
    for (name, bytes) in parts {
        let mut packer = GzEncoder::new(Vec::new(), Compression::best());
        packer.write_all(bytes)?;
        let packed = BASE64_STANDARD.encode(packer.finish()?);
        writeln!(made, "\"{name}\": \"{packed}\",")?;
    }
    Ok(format!("{made}}};\n{UNPACK}"))
}

/// The module that starts the worker from its text and hands it the bytes, so
/// that the file holds them once.
fn worker_starter(files: &Files) -> Result<String> {
    let bytes = "export function wasmBytes(half) {\n\
         return new Promise((take) => addEventListener(\"message\", ({ data }) => data.half === half && take(data.wasm)));\n}\n";
    let worker = with_modules(files, &[(BYTES, bytes.to_owned())].into())?;
    // A page from disk has no origin, and browsers refuse such a page a worker
    // that is a module; a plain script knows no place of its own.
    let worker = worker.replace("import.meta.url", "location.href");
    let worker = serde_json::to_string(&worker)?;
    Ok(format!(
        "import {{ wasmBytes }} from \"../{BYTES}\";\n\
         const WORKER = URL.createObjectURL(new Blob([{worker}], {{ type: \"text/javascript\" }}));\n\
         const policy = window.trustedTypes?.createPolicy(\"glasscall-worker\", {{ createScriptURL: () => WORKER }});\n\
         export function makeWorker() {{\n\
         const worker = new Worker(policy ? policy.createScriptURL(\"\") : WORKER);\n\
         for (const half of [\"{FIRST}\", \"{REST}\"]) wasmBytes(half).then((wasm) => worker.postMessage({{ half, wasm }}));\n\
         return worker;\n}}\n"
    ))
}

/// The worker with what it loads inside.
pub(crate) fn with_modules(files: &Files, own: &Own) -> Result<String> {
    let worker = text(files, WORKER)?;
    ensure!(
        worker.matches(WORKER_IMPORT).count() == 1,
        "{WORKER} must hold {WORKER_IMPORT} once"
    );
    let loaded = Scope::new(files, own, WORKER_LOADS)?.expression()?;
    Ok(worker.replace(WORKER_IMPORT, &loaded))
}
