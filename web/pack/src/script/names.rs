//! Short names for variables.
//!
//! A variable of a whole module gets one that no other variable of any module
//! has. Variables within functions share a few: one name in a module becomes one
//! name everywhere in it, so that whatever hides whatever still does.

use super::module::Module;
use super::roles::{Role, is_keyword};
use std::collections::{BTreeMap, BTreeSet};

/// New names by old ones, of one module.
pub(crate) type Names = BTreeMap<String, String>;

/// Names for what each module declares; imports are not among them.
pub(crate) fn names(modules: &BTreeMap<String, Module>) -> BTreeMap<String, Names> {
    let mut taken = BTreeSet::new();
    for module in modules.values() {
        taken.extend(foreign(module));
    }
    let mut tops = (0..)
        .map(|nth| short(nth, &FIRST[..52], 2))
        .filter(|name| is_free(name, &taken));
    let few: Vec<String> = (0..FIRST.len())
        .map(|nth| short(nth, &FIRST, 1))
        .chain(
            (0..)
                .map(|nth| short(nth, &FIRST[52..], 2))
                .take(FIRST.len() * 6),
        )
        .filter(|name| is_free(name, &taken))
        .collect();
    modules
        .iter()
        .map(|(path, module)| {
            let mut names = Names::new();
            let together = (module.imports.iter()).filter_map(|(_, import)| import.all.as_deref());
            for top in module.declared.top.iter().copied().chain(together) {
                names.insert(top.to_owned(), tops.next().unwrap_or_default());
            }
            let imported: BTreeSet<&str> = (module.imports.iter())
                .flat_map(|(_, import)| import.names.keys().chain(&import.all))
                .map(String::as_str)
                .collect();
            let mut locals: BTreeMap<&str, usize> = (module.declared.local.iter())
                .filter(|name| !module.declared.top.contains(*name) && !imported.contains(*name))
                // What means something outside keeps its name inside.
                .filter(|name| !taken.contains(**name))
                .map(|name| (*name, 0))
                .collect();
            for (token, role) in &module.tokens {
                if *role != Role::Plain
                    && let Some(count) = locals.get_mut(token.text)
                {
                    *count += 1;
                }
            }
            let mut by_count: Vec<_> = locals.into_iter().collect();
            by_count.sort_by_key(|(name, count)| (std::cmp::Reverse(*count), *name));
            let pairs = by_count.into_iter().zip(&few);
            names.extend(pairs.map(|((name, _), short)| (name.to_owned(), short.clone())));
            (path.clone(), names)
        })
        .collect()
}

/// Variables of a module that it does not declare: the browser's.
fn foreign<'a>(module: &Module<'a>) -> impl Iterator<Item = &'a str> {
    module.tokens.iter().filter_map(|(token, role)| {
        let known = module.declared.top.contains(token.text)
            || module.declared.local.contains(token.text)
            || (module.imports.iter()).any(|(_, import)| {
                import.names.contains_key(token.text) || import.all.as_deref() == Some(token.text)
            });
        (*role != Role::Plain && !known).then_some(token.text)
    })
}

fn is_free(name: &str, taken: &BTreeSet<&str>) -> bool {
    !taken.contains(name) && !is_keyword(name) && !["as", "of"].contains(&name)
}

/// Letters that begin a name; the last two begin names of locals.
const FIRST: [char; 54] = {
    let letters = b"etnraoiscldupmhgfybvwkxqzjETNRAOISCLDUPMHGFYBVWKXQZJ_$";
    let mut signs = ['_'; 54];
    let mut at = 0;
    while at < 54 {
        signs[at] = letters[at] as char;
        at += 1;
    }
    signs
};

/// The n-th name of at least so many letters that begins with one of these.
fn short(nth: usize, first: &[char], least: usize) -> String {
    let mut name = String::from(first[nth % first.len()]);
    let mut rest = nth / first.len();
    while rest > 0 || name.len() < least {
        name.push(FIRST[rest % FIRST.len()]);
        rest /= FIRST.len();
    }
    name
}

#[cfg(test)]
mod tests {
    use super::{FIRST, short};
    use std::collections::BTreeSet;

    #[test]
    fn names_are_all_other_and_told_apart_by_their_begin() {
        let tops: BTreeSet<String> = (0..9000).map(|nth| short(nth, &FIRST[..52], 2)).collect();
        let ones: BTreeSet<String> = (0..54).map(|nth| short(nth, &FIRST, 1)).collect();
        let more: BTreeSet<String> = (0..300).map(|nth| short(nth, &FIRST[52..], 2)).collect();
        assert_eq!((tops.len(), ones.len(), more.len()), (9000, 54, 300));
        assert!(tops.is_disjoint(&ones) && tops.is_disjoint(&more) && ones.is_disjoint(&more));
    }
}
