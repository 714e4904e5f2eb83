//! The page's own styles for a tree inside somebody else's page.

use crate::files::{Files, text};
use crate::lean;
use anyhow::{Context as _, Result, ensure};
use std::fmt::Write as _;

/// Modules that hold them: what Now is made of, and what the other screens need
/// besides.
const STYLES: [(&str, &str, &[&str]); 2] = [
    (
        "embed/styles.js",
        "STYLES",
        &[
            "embed/element.css",
            "styles/tokens.css",
            "styles/base.css",
            "parts/field.css",
            "parts/stack.css",
            "screens/day/day.css",
            "embed/element-end.css",
        ],
    ),
    (
        "embed/more-styles.js",
        "MORE_STYLES",
        &["screens/frame/frame.css", "embed/more.css"],
    ),
];
/// The tokens of the dark look stand behind this question of the browser's.
const DARK: &str = "@media (prefers-color-scheme: dark) {";

/// The copies for other people's pages: each frame, and each element with the
/// module it begins with.
pub(crate) const FRAMES: [&str; 2] = ["embed.html", "embed-more.html"];
pub(crate) const ELEMENTS: [(&str, &str); 2] = [
    ("embed.js", "embed/element.js"),
    ("embed-more.js", "embed/element-more.js"),
];

/// Whether a copy shows other screens than Now.
pub(crate) fn is_more(name: &str) -> bool {
    name.contains("-more.")
}

/// Whether a file is one of those copies.
pub(crate) fn is_copy(name: &str) -> bool {
    FRAMES.contains(&name) || ELEMENTS.iter().any(|(element, _)| *element == name)
}

/// The sheets as modules, with one element in the place of the page: the host
/// decides between light and dark, so the browser is not asked.
pub(crate) fn add_styles(files: &mut Files) -> Result<()> {
    for (module, constant, sheets) in STYLES {
        let mut all = String::new();
        for name in sheets {
            all.push_str(&inside(&lean::style(text(files, name)?))?);
        }
        let text = serde_json::to_string(&all)?;
        let made = format!("// @ts-check\nexport const {constant} = {text};\n");
        files.insert(module.into(), made.into_bytes());
    }
    Ok(())
}

/// A script that reads the same whatever a host says of its signs: one without a
/// charset takes the page's, and some pages have an old one. Signs beyond ASCII
/// stand only in texts and patterns, which know these escapes.
pub(crate) fn ascii(script: &str) -> String {
    let mut made = String::with_capacity(script.len());
    for sign in script.chars() {
        if sign.is_ascii() {
            made.push(sign);
        } else {
            for half in sign.encode_utf16(&mut [0; 2]) {
                let _ = write!(made, "\\u{half:04x}");
            }
        }
    }
    made
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
    Ok(own_size(&placed))
}

/// Lengths in the tree's own `rem`, but for questions about the window or a box,
/// which mean the reader's size anyway.
fn own_size(sheet: &str) -> String {
    let mut made = String::with_capacity(sheet.len());
    for (at, part) in sheet.split("rem").enumerate() {
        if at > 0 {
            let digits = made
                .trim_end_matches(|sign: char| sign.is_ascii_digit() || sign == '.' || sign == '-')
                .len();
            let asks = made[..digits]
                .rfind(['{', '}', ';'])
                .map_or(0, |end| end + 1);
            if digits == made.len() || made[asks..].trim_start().starts_with('@') {
                made.push_str("rem");
            } else {
                let number = made.split_off(digits);
                let _ = write!(made, "calc({number}*var(--glass-rem))");
            }
        }
        made.push_str(part);
    }
    made
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::{ascii, inside, own_size};

    #[test]
    fn signs_beyond_ascii_are_escaped_as_scripts_do() {
        assert_eq!(ascii("a \u{2212}\u{2153}"), "a \\u2212\\u2153");
        assert_eq!(ascii("\u{1f600}"), "\\ud83d\\ude00");
    }

    #[test]
    fn lengths_are_the_trees_own() {
        let sheet =
            "@media (min-width:56rem){.a{margin:-.5rem 1rem}}.b{font:600 .9rem/1.2 premier}";
        let own = "@media (min-width:56rem){.a{margin:calc(-.5*var(--glass-rem)) calc(1*var(--glass-rem))}}.b{font:600 calc(.9*var(--glass-rem))/1.2 premier}";
        assert_eq!(own_size(sheet), own);
    }

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
