//! Modules in one scope, in few files: what the page starts with, and what it
//! loads when it is wanted.

use super::module::Module;
use super::names::{Names, names};
use super::print::Printer;
use super::roles::Role;
use super::tokens::Kind;
use super::used::Unused;
use crate::files::{Files, text};
use anyhow::{Context as _, Result, bail, ensure};
use std::collections::{BTreeMap, BTreeSet};

/// Modules that are other in the bundle than beside the page.
pub(crate) type Own = BTreeMap<&'static str, String>;

/// One file of a bundle.
#[derive(Debug)]
pub(crate) struct Chunk {
    /// The module it is loaded for; nothing where it is shared.
    pub(crate) entry: Option<String>,
    /// Its script; [`PLACE`] with the entry of another stands for where that is.
    pub(crate) script: String,
}

/// All modules that an entry reaches.
pub(crate) struct Scope<'a> {
    pub(super) modules: BTreeMap<String, Module<'a>>,
    /// Each after those it imports.
    order: Vec<String>,
    names: BTreeMap<String, Names>,
    pub(super) entry: String,
}

/// Stands before the name of a file that is not known yet.
pub(crate) const PLACE: &str = "./placeOf:";

impl<'a> Scope<'a> {
    /// Reads an entry and all it imports or loads.
    ///
    /// # Errors
    ///
    /// When a module is missing, imports itself or is not in the plain style.
    pub(crate) fn new(files: &'a Files, own: &'a Own, entry: &str) -> Result<Self> {
        let mut reader = Reader {
            files,
            own,
            modules: BTreeMap::new(),
            order: Vec::new(),
            open: Vec::new(),
        };
        reader.add(entry)?;
        // Those that are loaded come last: they may import all others.
        let mut loaded = 0;
        while let Some(load) = reader.loads().into_iter().nth(loaded) {
            reader.add(&load)?;
            loaded += 1;
        }
        let scope = Self {
            names: names(&reader.modules),
            modules: reader.modules,
            order: reader.order,
            entry: entry.to_owned(),
        };
        scope.check_loads()?;
        scope.check_passed_on()?;
        Ok(scope)
    }

    /// What is loaded when it is wanted stands in a file of its own. Whoever
    /// imports it too wants it elsewhere, and its own would export what it has not.
    fn check_loads(&self) -> Result<()> {
        for (path, module) in &self.modules {
            for load in &module.loads {
                let importer = (self.modules.iter())
                    .find(|(_, other)| other.imports.iter().any(|(target, _)| target == load));
                if let Some((importer, _)) = importer {
                    bail!(
                        "{load} is loaded by {path} when it is wanted, and imported by {importer}"
                    );
                }
            }
        }
        Ok(())
    }

    /// Of two that a module passes on under one name only one would be found.
    fn check_passed_on(&self) -> Result<()> {
        for (path, module) in &self.modules {
            let mut homes: BTreeMap<String, String> = BTreeMap::new();
            for target in &module.passes_on {
                for name in self.all_exports(target)?.into_keys() {
                    let home = self.export(target, &name)?.0;
                    let other = homes.insert(name.clone(), home.clone());
                    if let Some(other) = other.filter(|other| *other != home)
                        && name != "default"
                        && !module.exports.contains_key(&name)
                    {
                        bail!("{path} passes on {name} of {other} and of {home}");
                    }
                }
            }
        }
        Ok(())
    }

    /// All in one script.
    pub(crate) fn script(&self) -> Result<String> {
        let mut printer = Printer::default();
        // What is loaded is there before it is wanted.
        let (mut order, mut seen) = (Vec::new(), BTreeSet::new());
        self.add_whole(&self.entry, &mut order, &mut seen);
        let unused = self.unused()?;
        for path in order {
            self.print(path, &unused, &mut printer, &|load| {
                Ok(format!("Promise.resolve({})", self.exports(load)?))
            })?;
        }
        Ok(printer.done())
    }

    /// The same as an expression: a promise of what the entry exports.
    pub(crate) fn expression(&self) -> Result<String> {
        let exports = self.exports(&self.entry)?;
        Ok(format!(
            "(async()=>{{{}return{exports}}})()",
            self.script()?
        ))
    }

    /// What is loaded when it is wanted in files of its own; the first is what
    /// the page starts with, the second, where there is one, what several share.
    pub(crate) fn chunks(&self) -> Result<Vec<Chunk>> {
        let mut first = BTreeSet::new();
        self.reach(&self.entry, &mut first);
        let loads: BTreeSet<&String> = (self.modules.values())
            .flat_map(|module| &module.loads)
            .collect();
        let mut wanted: BTreeMap<&str, usize> = BTreeMap::new();
        let mut own: BTreeMap<&String, BTreeSet<&str>> = BTreeMap::new();
        for load in loads {
            let mut all = BTreeSet::new();
            self.reach(load, &mut all);
            let all: BTreeSet<&str> = all.difference(&first).copied().collect();
            for path in &all {
                *wanted.entry(path).or_default() += 1;
            }
            own.insert(load, all);
        }
        let shared: BTreeSet<&str> = wanted
            .into_iter()
            .filter(|(_, count)| *count > 1)
            .map(|(path, _)| path)
            .collect();
        let mut parts = vec![(Some(self.entry.clone()), first)];
        if !shared.is_empty() {
            parts.push((None, shared.clone()));
        }
        for (load, all) in own {
            parts.push((
                Some(load.clone()),
                all.difference(&shared).copied().collect(),
            ));
        }
        let place: BTreeMap<&str, usize> = parts
            .iter()
            .enumerate()
            .flat_map(|(at, (_, paths))| paths.iter().map(move |path| (*path, at)))
            .collect();
        // What each part needs of each other.
        let mut needs: BTreeMap<(usize, usize), BTreeSet<String>> = BTreeMap::new();
        for (path, module) in &self.modules {
            let here = place[path.as_str()];
            for (target, import) in &module.imports {
                let of_all = if import.all.is_some() {
                    self.all_exports(target)?
                } else {
                    BTreeMap::new()
                };
                let names = import.names.values().map(|name| self.export(target, name));
                for found in names.chain(of_all.keys().map(|name| self.export(target, name))) {
                    let (home, name) = found?;
                    let there = place[home.as_str()];
                    if there != here {
                        needs.entry((here, there)).or_default().insert(name);
                    }
                }
            }
        }
        let mut chunks = Vec::new();
        for (at, (entry, paths)) in parts.iter().enumerate() {
            let mut printer = Printer::default();
            for ((_, there), names) in needs.range((at, 0)..(at + 1, 0)) {
                let from = parts[*there].0.as_deref().unwrap_or_default();
                let names: Vec<&str> = names.iter().map(String::as_str).collect();
                printer.written(&format!(
                    "import{{{}}}from\"{PLACE}{from}\";",
                    names.join(",")
                ));
            }
            for path in self
                .order
                .iter()
                .filter(|path| paths.contains(path.as_str()))
            {
                self.print(path, &Unused::new(), &mut printer, &|load| {
                    Ok(format!("import(\"{PLACE}{load}\")"))
                })?;
            }
            let mut given: Vec<String> = (needs.iter())
                .filter(|((_, there), _)| *there == at)
                .flat_map(|(_, names)| names.clone())
                .collect();
            if let Some(entry) = entry.as_ref().filter(|_| at > 0) {
                for outer in self.all_exports(entry)?.keys() {
                    given.push(format!("{} as {outer}", self.export(entry, outer)?.1));
                }
            }
            given.sort();
            given.dedup();
            if !given.is_empty() {
                printer.written(&format!("export{{{}}};", given.join(",")));
            }
            chunks.push(Chunk {
                entry: entry.clone(),
                script: printer.done(),
            });
        }
        Ok(chunks)
    }

    /// A module after all that it imports or loads.
    fn add_whole<'b>(
        &'b self,
        path: &'b str,
        order: &mut Vec<&'b str>,
        seen: &mut BTreeSet<&'b str>,
    ) {
        if seen.insert(path) {
            let module = &self.modules[path];
            let imports = module.imports.iter().map(|(target, _)| target);
            for target in imports.chain(&module.loads) {
                self.add_whole(target, order, seen);
            }
            order.push(path);
        }
    }

    /// All that a module imports, itself included.
    fn reach<'b>(&'b self, path: &'b str, found: &mut BTreeSet<&'b str>) {
        if found.insert(path) {
            for (target, _) in &self.modules[path].imports {
                self.reach(target, found);
            }
        }
    }

    /// Where an export of a module is declared, and its short name.
    fn export(&self, path: &str, name: &str) -> Result<(String, String)> {
        let (home, inner) = self.home(path, name)?;
        Ok((home.to_owned(), self.names[home][inner].clone()))
    }

    /// Where an export of a module is declared, and its name there.
    pub(super) fn home(&self, path: &str, name: &str) -> Result<(&str, &str)> {
        let (path, module) = (self.modules.get_key_value(path)).with_context(|| path.to_owned())?;
        if let Some(inner) = module.exports.get(name) {
            if self.names[path].contains_key(inner) {
                return Ok((path.as_str(), inner.as_str()));
            }
            for (target, import) in &module.imports {
                if let Some(theirs) = import.names.get(inner) {
                    return self.home(target, theirs);
                }
            }
        }
        let passed = module
            .passes_on
            .iter()
            .find_map(|target| self.home(target, name).ok());
        passed.with_context(|| format!("{path} does not export {name}"))
    }

    /// Short names of all that a module exports, by its own names.
    pub(super) fn all_exports(&self, path: &str) -> Result<BTreeMap<String, String>> {
        let module = &self.modules[path];
        let mut all = BTreeMap::new();
        for target in &module.passes_on {
            all.extend(
                self.all_exports(target)?
                    .into_iter()
                    .filter(|(name, _)| name != "default"),
            );
        }
        for name in module.exports.keys() {
            all.insert(name.clone(), self.export(path, name)?.1);
        }
        Ok(all)
    }

    /// All that a module exports as an object.
    fn exports(&self, path: &str) -> Result<String> {
        let pairs = self
            .all_exports(path)?
            .into_iter()
            .map(|(name, short)| format!("{name}:{short}"));
        Ok(format!("{{{}}}", pairs.collect::<Vec<_>>().join(",")))
    }

    fn print(
        &self,
        path: &str,
        unused: &Unused,
        printer: &mut Printer,
        load: &dyn Fn(&str) -> Result<String>,
    ) -> Result<()> {
        let module = &self.modules[path];
        let mut renamed = self.names[path].clone();
        for (target, import) in &module.imports {
            for (ours, theirs) in &import.names {
                renamed.insert(ours.clone(), self.export(target, theirs)?.1);
            }
            if let Some(all) = &import.all {
                // Only ever looked up by name, so an object of them will do.
                let object = self.exports(target)?;
                printer.written(&format!("const {}={object};", renamed[all.as_str()]));
            }
        }
        let mut loads = module.loads.iter();
        let mut at = 0;
        while let Some((token, role)) = module.tokens.get(at) {
            if let Some(end) = unused.get(&(path, at)) {
                at = *end;
                continue;
            }
            let is = |ahead: usize, sign: &str| {
                module
                    .tokens
                    .get(at + ahead)
                    .is_some_and(|(token, _)| token.is(sign))
            };
            if token.is_word("import") && is(1, ".") {
                // What a module finds beside itself it still finds there.
                printer.written(&format!("new URL(\"{path}\",import.meta.url)"));
                at += 5;
                continue;
            }
            let dynamic = module.tokens.get(at + 2).is_some_and(|(token, _)| {
                token.kind == Kind::Text && token.text.starts_with("\".")
            });
            if token.is_word("import") && is(1, "(") && dynamic {
                printer.written(&load(loads.next().context("a load that was not seen")?)?);
                at += 4;
                continue;
            }
            // `(a) => b` is `a => b`.
            let alone = token.is("(")
                && is(2, ")")
                && is(3, "=>")
                && module.tokens[at + 1].0.kind == Kind::Word;
            if alone {
                let (name, _) = module.tokens[at + 1];
                printer.token(name, renamed.get(name.text).map(String::as_str));
                at += 3;
                continue;
            }
            match (role, renamed.get(token.text)) {
                (Role::Variable, Some(short)) => printer.token(*token, Some(short)),
                (Role::Both, Some(short)) => {
                    printer.token(*token, Some(&format!("{}:{short}", token.text)))
                }
                _ => printer.token(*token, None),
            }
            at += 1;
        }
        // The next module begins a statement.
        printer.end();
        Ok(())
    }
}

struct Reader<'a> {
    files: &'a Files,
    own: &'a Own,
    modules: BTreeMap<String, Module<'a>>,
    order: Vec<String>,
    open: Vec<String>,
}

impl Reader<'_> {
    fn add(&mut self, path: &str) -> Result<()> {
        if self.modules.contains_key(path) {
            return Ok(());
        }
        ensure!(
            !self.open.iter().any(|open| open == path),
            "{path} imports itself by way of {:?}",
            self.open
        );
        self.open.push(path.to_owned());
        let source = match self.own.get(path) {
            Some(own) => own,
            None => text(self.files, path)?,
        };
        let module = Module::read(path, source).with_context(|| path.to_owned())?;
        for (target, _) in &module.imports {
            self.add(target)?;
        }
        self.open.pop();
        self.order.push(path.to_owned());
        self.modules.insert(path.to_owned(), module);
        Ok(())
    }

    /// What any module loads, in an order that only grows.
    fn loads(&self) -> Vec<String> {
        let mut loads: Vec<String> = Vec::new();
        for path in &self.order {
            for load in &self.modules[path].loads {
                if !loads.contains(load) {
                    loads.push(load.clone());
                }
            }
        }
        loads
    }
}

#[cfg(test)]
mod tests;
