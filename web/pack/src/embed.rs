//! The page's own styles for a tree inside somebody else's page.

use crate::files::Files;
use anyhow::{Context as _, Result, ensure};

/// The module that holds them.
pub(crate) const STYLES: &str = "embed/styles.js";
/// What an embedded set-up is made of.
const SHEETS: [&str; 5] = [
    "styles/tokens.css",
    "styles/base.css",
    "parts/field.css",
    "parts/stack.css",
    "screens/day/day.css",
];
/// The tokens of the dark look stand behind this question of the browser's.
const DARK: &str = "@media (prefers-color-scheme: dark) {";

/// The sheets as a module, with one element in the place of the page: the host
/// decides between light and dark, so the browser is not asked.
pub(crate) fn styles(files: &Files) -> Result<String> {
    let mut all = String::new();
    for name in SHEETS {
        let bytes = files.get(name).with_context(|| format!("no {name}"))?;
        all.push_str(&inside(std::str::from_utf8(bytes)?)?);
    }
    all.push_str(".glass { display: block; padding: 0.5rem 0.75rem; background: var(--paper); }\n");
    Ok(format!(
        "// @ts-check\nexport const STYLES = {};\n",
        serde_json::to_string(&all)?
    ))
}

fn inside(sheet: &str) -> Result<String> {
    let sheet = match sheet.split_once(DARK) {
        None => sheet.to_owned(),
        Some((before, dark)) => {
            let tokens = dark
                .split_once('{')
                .and_then(|(_, rest)| rest.split_once('}'));
            let (tokens, after) = tokens.context("no dark tokens")?;
            let (_, after) = after.split_once('}').context("the dark look has no end")?;
            format!("{before}.glass[data-look=\"dark\"] {{{tokens}color-scheme: dark;\n}}\n{after}")
        }
    };
    let placed = sheet
        .replace(":root[", ".glass[")
        .replace(":root {", ".glass {")
        .replace("\nhtml {", "\n.glass {");
    ensure!(!placed.contains(":root"), "a style outside the tree");
    Ok(placed)
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::inside;

    #[test]
    fn looks_become_attributes_of_the_tree() {
        let sheet = ":root {\n  --ink: #000;\n}\n:root[data-look=\"sun\"] {\n}\n@media (prefers-color-scheme: dark) {\n  :root[data-look=\"system\"],\n  :root:not([data-look]) {\n    --ink: #fff;\n  }\n}\n.end {\n}\n";
        let placed = inside(sheet).unwrap();
        assert!(placed.starts_with(".glass {\n  --ink: #000;"));
        assert!(placed.contains(".glass[data-look=\"sun\"]"));
        assert!(placed.contains(".glass[data-look=\"dark\"] {\n    --ink: #fff;"));
        assert!(placed.ends_with(".end {\n}\n"));
        assert!(!placed.contains("@media"));
        assert!(inside("a :root(x) {}").is_err());
    }
}
