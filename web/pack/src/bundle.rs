//! A module and all it imports as one script.
//!
//! Each module becomes an async function whose result holds its exports, in the
//! order of its imports. That asks for a plain style in `www`: imports at the
//! top, named exports as declarations, no cycles. Anything else stops the build.

use crate::files::{Files, text};
use crate::lean;
use anyhow::{Context as _, Result, bail, ensure};
use std::collections::BTreeMap;
use std::fmt::Write as _;

/// Modules that are other in the bundle than beside the page.
pub(crate) type Own = BTreeMap<&'static str, String>;

/// The module and all it imports, in place of the file of its name.
pub(crate) fn script(files: &Files, entry: &str, own: Own) -> Result<String> {
    let mut bundle = Bundle::new(files, own);
    bundle.add(entry)?;
    // The HTML parser must not see an end tag inside the script.
    ensure!(
        !bundle.out.contains("</script"),
        "a script holds an end tag"
    );
    Ok(bundle.out)
}

/// The same as an expression: a promise of what the module exports.
pub(crate) fn exports(files: &Files, entry: &str, own: Own) -> Result<String> {
    let mut bundle = Bundle::new(files, own);
    let entry = bundle.add(entry)?;
    Ok(format!(
        "(async () => {{\n{}return {entry};\n}})()",
        bundle.out
    ))
}

/// Where a module stands.
const HERE: &str = "import.meta.url";

struct Bundle<'a> {
    files: &'a Files,
    own: Own,
    done: BTreeMap<String, String>,
    open: Vec<String>,
    out: String,
}

impl<'a> Bundle<'a> {
    fn new(files: &'a Files, own: Own) -> Self {
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
            // What a module finds beside itself it still finds there.
            None => lean::script(text(self.files, path)?)
                .with_context(|| path.to_owned())?
                .replace(HERE, &format!("new URL(\"{path}\", {HERE})")),
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
            resolve("screens/now/now.js", "../../engine/ask.js")
                .ok()
                .as_deref(),
            Some("engine/ask.js")
        );
        assert_eq!(
            resolve("start.js", "./parts/field.js").ok().as_deref(),
            Some("parts/field.js")
        );
        assert!(resolve("start.js", "../outside.js").is_err());
        assert!(resolve("start.js", "package").is_err());
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
