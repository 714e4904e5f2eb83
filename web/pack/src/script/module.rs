//! One module: its tokens, what it imports and exports, what its words are.
//!
//! That asks for a plain style in `www`: imports at the top, named exports as
//! declarations, no cycles. Anything else stops the build.

use super::declared::{Declared, declared};
use super::roles::{Role, roles};
use super::tokens::{Kind, Token, tokens};
use anyhow::{Context as _, Result, bail, ensure};
use std::collections::BTreeMap;

/// What a module imports from another, by the name it has here.
#[derive(Debug, Default)]
pub(crate) struct Import {
    /// Names of exports by names here.
    pub(crate) names: BTreeMap<String, String>,
    /// The name here of all of them together.
    pub(crate) all: Option<String>,
}

/// A module.
#[derive(Debug)]
pub(crate) struct Module<'a> {
    /// What remains to be written, with the role of each.
    pub(crate) tokens: Vec<(Token<'a>, Role)>,
    /// What it declares.
    pub(crate) declared: Declared<'a>,
    /// Whom it imports from, in order; each one path, resolved.
    pub(crate) imports: Vec<(String, Import)>,
    /// Modules all of whose exports it passes on.
    pub(crate) passes_on: Vec<String>,
    /// Names here by names of exports.
    pub(crate) exports: BTreeMap<String, String>,
    /// Modules it loads when they are wanted.
    pub(crate) loads: Vec<String>,
}

impl<'a> Module<'a> {
    /// Reads a module that stands at a path.
    ///
    /// # Errors
    ///
    /// When it is not written in the plain style.
    pub(crate) fn read(path: &str, source: &'a str) -> Result<Self> {
        let all = tokens(source)?;
        let mut found = Self {
            tokens: Vec::with_capacity(all.len()),
            declared: Declared::default(),
            imports: Vec::new(),
            passes_on: Vec::new(),
            exports: BTreeMap::new(),
            loads: Vec::new(),
        };
        let mut kept = Vec::with_capacity(all.len());
        let (mut at, mut depth) = (0, 0_i32);
        while let Some(token) = all.get(at) {
            let next = all.get(at + 1);
            let is_statement = depth == 0 && !next.is_some_and(|next| next.is("(") || next.is("."));
            if token.is_word("import") && is_statement {
                at = found.import(path, &all, at)?;
                continue;
            }
            if token.is_word("export") && is_statement {
                at = found.export(path, &all, at)?;
                continue;
            }
            if token.is_word("import") && next.is_some_and(|next| next.is("(")) {
                let target = all.get(at + 2).filter(|token| token.kind == Kind::Text);
                // Others, of a name that is computed or of Node, stay.
                if let Some(target) = target.filter(|token| token.text.starts_with("\".")) {
                    found.loads.push(resolve(path, quoted(target)?)?);
                }
            }
            depth += i32::from(token.is("{") || token.is("(") || token.is("["));
            depth -= i32::from(token.is("}") || token.is(")") || token.is("]"));
            kept.push(*token);
            at += 1;
        }
        found.declared = declared(&kept)?;
        found.no_name_twice(path)?;
        let roles = roles(&kept);
        found.tokens = kept.into_iter().zip(roles).collect();
        for inner in found.exports.values() {
            let is_imported = found
                .imports
                .iter()
                .any(|(_, import)| import.names.contains_key(inner));
            ensure!(
                found.declared.top.contains(inner.as_str()) || is_imported,
                "{inner} is exported and not declared"
            );
        }
        Ok(found)
    }

    /// One name is one thing. In one scope for all modules a second would silently
    /// be the first, where a browser refuses the module.
    fn no_name_twice(&self, path: &str) -> Result<()> {
        let twice = self.declared.twice.first();
        ensure!(
            twice.is_none(),
            "{path}: {} is declared twice",
            twice.copied().unwrap_or_default()
        );
        let own = self.declared.top.iter().map(|name| (*name, path));
        let mut homes: BTreeMap<&str, &str> = own.collect();
        for (target, import) in &self.imports {
            for name in import.names.keys().chain(&import.all) {
                if let Some(other) = homes.insert(name, target) {
                    bail!("{path}: {name} is imported from {target}, and one is from {other}");
                }
            }
        }
        Ok(())
    }

    /// `import a, { b as c } from "d";` from its first word to behind its end.
    fn import(&mut self, path: &str, all: &[Token], from: usize) -> Result<usize> {
        let end = statement(all, from)?;
        let (target, what) = all[from + 1..end]
            .split_last()
            .context("an import of nothing")?;
        let target = resolve(path, quoted(target)?)?;
        let mut import = Import::default();
        let mut at = 0;
        while let Some(token) = what.get(at) {
            if token.is("*") {
                import.all = what.get(at + 2).map(|token| token.text.to_owned());
                at += 3;
            } else if token.is("{") {
                let (names, length) = list(&what[at..])?;
                for (theirs, ours) in names {
                    let other = import.names.insert(ours, theirs);
                    ensure!(
                        other.is_none(),
                        "{path}: two of {target} get one name, one is its {}",
                        other.unwrap_or_default()
                    );
                }
                at += length;
            } else {
                if token.kind == Kind::Word && !token.is_word("from") {
                    import
                        .names
                        .insert(token.text.to_owned(), "default".to_owned());
                }
                at += 1;
            }
        }
        self.imports.push((target, import));
        Ok(end + 1)
    }

    /// What an `export` says; behind it, where a declaration follows, or behind
    /// its end.
    fn export(&mut self, path: &str, all: &[Token], from: usize) -> Result<usize> {
        let next = all.get(from + 1).context("an export of nothing")?;
        if next.is("*") {
            let end = statement(all, from)?;
            let target = resolve(path, quoted(&all[end - 1])?)?;
            self.imports.push((target.clone(), Import::default()));
            self.passes_on.push(target);
            return Ok(end + 1);
        }
        if next.is("{") {
            let (names, length) = list(&all[from + 1..])?;
            let end = from + 1 + length;
            ensure!(
                all.get(end).is_some_and(|token| token.is(";")),
                "only own names may be listed"
            );
            self.exports
                .extend(names.into_iter().map(|(inner, outer)| (outer, inner)));
            return Ok(end + 1);
        }
        let mut at = from + 1 + usize::from(next.is_word("async"));
        match all.get(at).map(|token| token.text) {
            Some("function") => {
                at += 1 + usize::from(all.get(at + 1).is_some_and(|token| token.is("*")))
            }
            Some("const" | "class") => at += 1,
            other => bail!("cannot bundle export {other:?}"),
        }
        let name = all.get(at).filter(|token| token.kind == Kind::Word);
        let name = name.context("an export without a name")?.text.to_owned();
        self.exports.insert(name.clone(), name);
        Ok(from + 1)
    }
}

fn statement(all: &[Token], from: usize) -> Result<usize> {
    let length = all[from..].iter().position(|token| token.is(";"));
    Ok(from + length.context("an import or export without a semicolon")?)
}

/// `{ a, b as c }` as pairs of names, and its length.
fn list(all: &[Token]) -> Result<(Vec<(String, String)>, usize)> {
    let end = all
        .iter()
        .position(|token| token.is("}"))
        .context("a list without end")?;
    let names = all[1..end].split(|token| token.is(",")).filter_map(|part| {
        let (first, last) = (part.first()?, part.last()?);
        Some((first.text.to_owned(), last.text.to_owned()))
    });
    Ok((names.collect(), end + 1))
}

fn quoted<'a>(token: &Token<'a>) -> Result<&'a str> {
    let text = token.text.get(1..token.text.len() - 1);
    text.filter(|_| token.kind == Kind::Text)
        .with_context(|| format!("no path: {}", token.text))
}

pub(crate) fn resolve(from: &str, to: &str) -> Result<String> {
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
    use super::{Module, resolve};

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
    fn imports_and_exports_are_read() -> anyhow::Result<()> {
        let module = Module::read(
            "a/b.js",
            "import c, { d, e as f } from \"./g.js\";\nimport * as h from \"../i.js\";\nexport * from \"./j.js\";\nexport const k = import(\"./l.js\");\nexport async function m() {}\nexport { k as n };\n",
        )?;
        let from: Vec<&str> = module
            .imports
            .iter()
            .map(|(from, _)| from.as_str())
            .collect();
        assert_eq!(from, ["a/g.js", "i.js", "a/j.js"]);
        let names = &module.imports[0].1.names;
        assert_eq!((names["c"].as_str(), names["f"].as_str()), ("default", "e"));
        assert_eq!(module.imports[1].1.all.as_deref(), Some("h"));
        assert_eq!(module.exports["n"], "k");
        assert!(module.exports.contains_key("m"));
        assert_eq!(module.loads, ["a/l.js"]);
        Ok(())
    }

    #[test]
    fn a_name_that_stands_twice_is_refused_with_both_places() {
        for (source, told) in [
            (
                "const b = 1;\nfunction b() {}\n",
                "a.js: b is declared twice",
            ),
            (
                "import { b } from \"./c.js\";\nexport class b {}\n",
                "a.js: b is imported from c.js, and one is from a.js",
            ),
            (
                "import { b } from \"./c.js\";\nimport { e as b } from \"./d.js\";\n",
                "a.js: b is imported from d.js, and one is from c.js",
            ),
            (
                "import { b, e as b } from \"./c.js\";\n",
                "a.js: two of c.js get one name, one is its b",
            ),
        ] {
            let refused = Module::read("a.js", source).map(|_| ());
            let said = refused.err().map(|fault| fault.to_string());
            assert_eq!(said.as_deref(), Some(told));
        }
        // Each in a block of its own.
        let apart = "{ const b = 1; }\nconst c = () => { const b = 2; return b; };\nfor (const b of c) b();\n";
        assert!(Module::read("a.js", apart).is_ok());
    }

    #[test]
    fn another_style_is_refused() {
        for source in ["export default 3;", "export let a = 1;", "export { a };"] {
            assert!(Module::read("a.js", source).is_err(), "{source}");
        }
    }
}
