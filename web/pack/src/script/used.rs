//! What one script for all needs of its modules, and what it does not.

use super::roles::Role;
use super::scope::Scope;
use super::unused::droppable;
use anyhow::Result;
use std::collections::{BTreeMap, BTreeSet};
use std::ops::Range;

/// Declarations that nobody uses: where each ends, by module and begin.
pub(super) type Unused<'a> = BTreeMap<(&'a str, usize), usize>;

/// A name that a module declares.
type Declared<'a> = (&'a str, &'a str);

impl<'a> Scope<'a> {
    /// What neither runs by itself nor is used by what does.
    pub(super) fn unused(&self) -> Result<Unused<'_>> {
        let mut places: BTreeMap<Declared, Range<usize>> = BTreeMap::new();
        for (path, module) in &self.modules {
            let tokens: Vec<_> = module.tokens.iter().map(|(token, _)| *token).collect();
            for (name, place) in droppable(&tokens)? {
                // What loads a module is counted while it is written.
                if !tokens[place.clone()]
                    .iter()
                    .any(|token| token.is_word("import"))
                {
                    places.insert((path, name), place);
                }
            }
        }
        let mut used: BTreeSet<Declared> = BTreeSet::new();
        let mut open: Vec<Declared> = self.wanted()?;
        for (path, module) in &self.modules {
            let mut runs = vec![true; module.tokens.len()];
            for (_, place) in places
                .range((path.as_str(), "")..)
                .take_while(|(key, _)| key.0 == path)
            {
                runs[place.clone()].fill(false);
            }
            let runs = (0..runs.len()).filter(|at| runs[*at]);
            open.extend(self.uses(path, runs)?);
        }
        while let Some(name) = open.pop() {
            if let Some(place) = places.get(&name).filter(|_| used.insert(name)) {
                open.extend(self.uses(name.0, place.clone())?);
            }
        }
        Ok((places.into_iter())
            .filter(|(name, _)| !used.contains(name))
            .map(|((path, _), place)| ((path, place.start), place.end))
            .collect())
    }

    /// What whoever runs the script may ask for: exports of the entry, of what is
    /// loaded, and of what is imported together.
    fn wanted(&self) -> Result<Vec<Declared<'_>>> {
        let mut asked = vec![&self.entry];
        for module in self.modules.values() {
            asked.extend(&module.loads);
            let together = module
                .imports
                .iter()
                .filter(|(_, import)| import.all.is_some());
            asked.extend(together.map(|(target, _)| target));
        }
        let mut wanted = Vec::new();
        for path in asked {
            for name in self.all_exports(path)?.keys() {
                wanted.push(self.home(path, name)?);
            }
        }
        Ok(wanted)
    }

    /// What stands in some places of a module.
    fn uses(&self, path: &str, places: impl Iterator<Item = usize>) -> Result<Vec<Declared<'_>>> {
        let mut found = Vec::new();
        let Some((path, module)) = self.modules.get_key_value(path) else {
            return Ok(found);
        };
        for (token, role) in places.map(|at| &module.tokens[at]) {
            if *role == Role::Plain {
                continue;
            }
            if let Some(own) = module.declared.top.get(token.text) {
                found.push((path.as_str(), *own));
            }
            for (target, import) in &module.imports {
                if let Some(theirs) = import.names.get(token.text) {
                    found.push(self.home(target, theirs)?);
                }
            }
        }
        Ok(found)
    }
}
