//! A page and all it needs in one HTML file, or a script in one file.
//!
//! Each module becomes an async function whose result holds its exports, in the
//! order of its imports. That asks for a plain style in `www`: imports at the
//! top, named exports as declarations, no cycles. Anything else stops the build.

use crate::lean;
use crate::site::{Files, integrity};
use crate::words;
use anyhow::{Context as _, Result, bail, ensure};
use base64::Engine as _;
use base64::prelude::BASE64_STANDARD;
use flate2::Compression;
use flate2::write::GzEncoder;
use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::io::Write as _;

/// The one module that finds the WebAssembly bytes; the file carries its own.
const BYTES: &str = "api/bytes.js";
/// The one module that finds the words of another language; the file carries them.
const TABLE: &str = "words/table.js";
/// The one module that starts the worker of long questions; the file carries
/// the worker's text, for a page on disk may load no script from beside it.
const WORKER_STARTER: &str = "long-worker.js";
const WORKER: &str = "worker.js";
/// What the worker loads, and how it says so.
const WORKER_LOADS: &str = "engine.js";
const WORKER_IMPORT: &str = "import(\"./engine.js\")";

/// Makes the single file of a page, its one script and its WebAssembly.
pub(crate) fn single_file(files: &Files, page_name: &str, wasm: &[u8]) -> Result<String> {
    let entry = entry(files, page_name)?;
    let script = script(files, &entry, wasm)?;
    let style = styles(files, page_name)?;
    let early = early_scripts(files, page_name)?;
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

fn text<'a>(files: &'a Files, name: &str) -> Result<&'a str> {
    let bytes = files.get(name).with_context(|| format!("no file {name}"))?;
    Ok(std::str::from_utf8(bytes)?)
}

/// What runs before the first paint: classic scripts, few lines each.
fn early_scripts(files: &Files, page: &str) -> Result<Vec<String>> {
    (text(files, page)?.lines())
        .filter(|line| line.trim().starts_with("<script src="))
        .map(|line| lean::script(text(files, &quoted_source(line)?)?))
        .collect()
}

/// The one module a page has.
fn entry(files: &Files, page: &str) -> Result<String> {
    let mut scripts = (text(files, page)?.lines())
        .filter(|line| line.trim().starts_with("<script type=\"module\""))
        .map(quoted_source);
    let only = scripts
        .next()
        .with_context(|| format!("{page} has no script"))?;
    ensure!(scripts.next().is_none(), "{page} may have one script");
    only
}

fn quoted_source(tag: &str) -> Result<String> {
    let source = tag.split("src=\"").nth(1);
    let source = source.and_then(|rest| rest.split('"').next());
    Ok(source
        .with_context(|| format!("no src in {tag}"))?
        .to_owned())
}

/// A module and all it imports as one script, a classic one: other origins may
/// run it without asking, and it works as a module too.
pub(crate) fn single_script(files: &Files, entry: &str, wasm: &[u8]) -> Result<String> {
    Ok(format!(
        "(async () => {{\n\"use strict\";\n{}}})();\n",
        script(files, entry, wasm)?
    ))
}

fn styles(files: &Files, page: &str) -> Result<String> {
    let mut all = String::new();
    for line in text(files, page)?.lines() {
        if line.trim().starts_with("<link rel=\"stylesheet\"") {
            let name = line
                .split("href=\"")
                .nth(1)
                .and_then(|rest| rest.split('"').next());
            let name = name.with_context(|| format!("no href in {line}"))?;
            all.push_str(&lean::style(text(files, name)?));
        }
    }
    Ok(all)
}

fn script(files: &Files, entry: &str, wasm: &[u8]) -> Result<String> {
    let bytes = format!(
        "export async function wasmBytes() {{\nreturn {}.arrayBuffer();\n}}\n",
        unpacking(wasm)?
    );
    let starter = worker_starter(files)?;
    let own = [
        (BYTES, bytes),
        (TABLE, table(files)?),
        (WORKER_STARTER, starter),
    ];
    let mut bundle = Bundle::new(files, own.into());
    bundle.add(entry)?;
    // The HTML parser must not see an end tag inside the script.
    ensure!(
        !bundle.out.contains("</script"),
        "a script holds an end tag"
    );
    Ok(bundle.out)
}

/// An expression whose value is a response with these bytes, which stand in it
/// compressed.
fn unpacking(bytes: &[u8]) -> Result<String> {
    let mut packed = GzEncoder::new(Vec::new(), Compression::best());
    packed.write_all(bytes)?;
    let packed = BASE64_STANDARD.encode(packed.finish()?);
    Ok(format!(
        "new Response(new Blob([Uint8Array.from(atob(\"{packed}\"), (c) => c.charCodeAt(0))]).stream().pipeThrough(new DecompressionStream(\"gzip\")))"
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
        "export async function wordsOf(language) {{\n{cases}throw new Error(language);\n}}\n"
    ))
}

/// The module that starts the worker from its text and hands it the bytes, so
/// that the file holds them once.
fn worker_starter(files: &Files) -> Result<String> {
    let bytes = "export function wasmBytes() {\n\
         return new Promise((take) => addEventListener(\"message\", ({ data }) => data.wasm && take(data.wasm)));\n}\n";
    let mut bundle = Bundle::new(files, [(BYTES, bytes.to_owned())].into());
    let engine = bundle.add(WORKER_LOADS)?;
    let worker = text(files, WORKER)?;
    ensure!(
        worker.matches(WORKER_IMPORT).count() == 1,
        "{WORKER} must hold {WORKER_IMPORT} once"
    );
    let modules = format!("(async () => {{\n{}return {engine};\n}})()", bundle.out);
    // A page from disk has no origin, and browsers refuse such a page a worker
    // that is a module; a plain script knows no place of its own.
    let worker =
        (worker.replace(WORKER_IMPORT, &modules)).replace("import.meta.url", "location.href");
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

struct Bundle<'a> {
    files: &'a Files,
    /// Modules that are other in the file than beside the page.
    own: BTreeMap<&'static str, String>,
    done: BTreeMap<String, String>,
    open: Vec<String>,
    out: String,
}

impl<'a> Bundle<'a> {
    fn new(files: &'a Files, own: BTreeMap<&'static str, String>) -> Self {
        Self {
            files,
            own,
            done: BTreeMap::new(),
            open: Vec::new(),
            out: String::new(),
        }
    }

    /// Adds a module after its imports; gives the name of its exports.
    fn add(&mut self, path: &str) -> Result<String> {
        if let Some(done) = self.done.get(path) {
            return Ok(done.clone());
        }
        ensure!(
            !self.open.iter().any(|p| p == path),
            "{path} imports itself by way of {:?}",
            self.open
        );
        self.open.push(path.to_owned());
        let source = match self.own.get(path) {
            Some(own) => own.clone(),
            None => lean::script(text(self.files, path)?).with_context(|| path.to_owned())?,
        };
        let (mut body, mut exports) = (String::new(), Vec::new());
        let mut rest = source.as_str();
        while !rest.is_empty() {
            let (line, after) = rest.split_once('\n').unwrap_or((rest, ""));
            if starts_statement(line, "import") {
                let (statement, after) = statement(rest).with_context(|| path.to_owned())?;
                let import = self.import(path, statement)?;
                body.push_str(&import);
                rest = after;
            } else if let Some(list) = line.strip_prefix("export {") {
                export_list(list, &mut exports).with_context(|| path.to_owned())?;
                rest = after;
            } else if let Some(from) = line.strip_prefix("export * from ") {
                let name = self.add(&resolve(path, quoted(from)?)?)?;
                exports.push(format!("...{name}"));
                rest = after;
            } else {
                let line = match line.strip_prefix("export ") {
                    Some(declaration) => {
                        exports.push(declared(declaration).with_context(|| path.to_owned())?);
                        declaration
                    }
                    None => line,
                };
                writeln!(body, "{line}")?;
                rest = after;
            }
        }
        let name = format!("module{}", self.done.len());
        writeln!(
            self.out,
            "const {name} = await (async () => {{\n{body}return {{ {} }};\n}})();",
            exports.join(", ")
        )?;
        self.open.pop();
        self.done.insert(path.to_owned(), name.clone());
        Ok(name)
    }

    fn import(&mut self, path: &str, statement: &str) -> Result<String> {
        let (what, from) = statement["import".len()..]
            .split_once(" from ")
            .with_context(|| format!("{path}: {statement}"))?;
        let from = self.add(&resolve(path, quoted(from)?)?)?;
        let what = what.trim();
        if let Some(name) = what.strip_prefix("* as ") {
            return Ok(format!("const {name} = {from};\n"));
        }
        if what.starts_with('{') {
            return Ok(format!("const {} = {from};\n", what.replace(" as ", ": ")));
        }
        if let Some((default, named)) = what.split_once(", * as ") {
            return Ok(format!(
                "const {default} = {from}.default, {named} = {from};\n"
            ));
        }
        Ok(format!("const {what} = {from}.default;\n"))
    }
}

fn starts_statement(line: &str, word: &str) -> bool {
    line.strip_prefix(word)
        .is_some_and(|rest| rest.starts_with([' ', '{', '*']))
}

fn statement(source: &str) -> Result<(&str, &str)> {
    let end = source.find(';').context("an import without a semicolon")?;
    Ok((&source[..end], source[end + 1..].trim_start_matches('\n')))
}

fn quoted(source: &str) -> Result<&str> {
    let quotes: &[char] = &['"', '\''];
    source
        .split(quotes)
        .nth(1)
        .with_context(|| format!("no path in {source}"))
}

/// The declared name of `async function f(`, `const x =`, `class C {`.
fn declared(declaration: &str) -> Result<String> {
    let mut words = declaration.split(|c: char| !(c.is_alphanumeric() || c == '_' || c == '$'));
    let keyword = words
        .by_ref()
        .find(|word| *word != "async" && !word.is_empty());
    match keyword {
        Some("function" | "const" | "class") => {}
        other => bail!("cannot bundle export {other:?}"),
    }
    let name = words.find(|word| !word.is_empty());
    name.map(str::to_owned).context("an export without a name")
}

/// `a, b as c };` as properties of the module's result.
fn export_list(list: &str, exports: &mut Vec<String>) -> Result<()> {
    let (names, _) = list
        .split_once('}')
        .context("an export list over many lines")?;
    for name in names
        .split(',')
        .map(str::trim)
        .filter(|name| !name.is_empty())
    {
        exports.push(match name.split_once(" as ") {
            Some((inner, outer)) => format!("{outer}: {inner}"),
            None => name.to_owned(),
        });
    }
    Ok(())
}

fn resolve(from: &str, to: &str) -> Result<String> {
    ensure!(
        to.starts_with('.'),
        "{from}: only relative imports, not {to}"
    );
    let mut parts: Vec<&str> = from.split('/').collect();
    parts.pop();
    for part in to.split('/') {
        match part {
            "." => {}
            ".." => ensure!(parts.pop().is_some(), "{from}: {to} leaves the page"),
            name => parts.push(name),
        }
    }
    Ok(parts.join("/"))
}

#[cfg(test)]
mod tests {
    use super::{declared, resolve};

    #[test]
    fn paths_resolve_within_the_page() {
        assert_eq!(
            resolve("screens/now.js", "../engine.js").ok().as_deref(),
            Some("engine.js")
        );
        assert_eq!(
            resolve("app.js", "./parts/field.js").ok().as_deref(),
            Some("parts/field.js")
        );
        assert!(resolve("app.js", "../outside.js").is_err());
        assert!(resolve("app.js", "package").is_err());
    }

    #[test]
    fn declarations_give_their_name() {
        assert_eq!(
            declared("async function load() {").ok().as_deref(),
            Some("load")
        );
        assert_eq!(declared("const A = 1;").ok().as_deref(), Some("A"));
        assert!(declared("default 3").is_err());
        assert!(declared("let changing = 1;").is_err());
    }
}
