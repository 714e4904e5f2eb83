//! The words of other languages: one folder for each, one file for each part of
//! the page, put together into one table.

use crate::files::{Files, text};
use crate::page::PAGE;
use anyhow::{Context as _, Result, ensure};
use serde_json::{Map, Value};
use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;

const FOLDER: &str = "language/";

/// Puts `language/de/*.json` together as `language/de.json`, and so for each language.
pub(crate) fn put_together(files: &mut Files) -> Result<()> {
    let mut tables: BTreeMap<String, Map<String, Value>> = BTreeMap::new();
    let parts: Vec<String> = (files.keys())
        .filter(|name| part_of(name).is_some())
        .cloned()
        .collect();
    for name in parts {
        let bytes = files.remove(&name).unwrap_or_default();
        let words: Map<String, Value> =
            serde_json::from_slice(&bytes).with_context(|| name.clone())?;
        let table = tables.entry(part_of(&name).unwrap_or_default().to_owned());
        let table = table.or_default();
        for (english, said) in words {
            let before = table.insert(english.clone(), said);
            ensure!(before.is_none(), "{name}: “{english}” stands twice");
        }
    }
    for (language, table) in tables {
        files.insert(
            format!("{FOLDER}{language}.json"),
            serde_json::to_vec(&table)?,
        );
    }
    Ok(())
}

/// Where the page lists what it speaks, and how.
const LISTED: [&str; 4] = [
    "language/say.js",
    "start/before-paint.js",
    "embed/before-paint.js",
    "storage/store.js",
];
const LIST: &str = "\"en\", \"de\"]";
const OPTION: &str =
    "          <option value=\"de\" lang=\"de\" translate=\"no\">Deutsch</option>\n";
/// What a table calls its own language.
const OWN_NAME: &str = "language|its own name";

/// A folder is all that a language needs: it is put wherever the page lists them.
pub(crate) fn list(files: &mut Files) -> Result<()> {
    let tags: Vec<String> = languages(files).map(str::to_owned).collect();
    let mut tagged = "\"en\"".to_owned();
    let mut options = String::new();
    for tag in &tags {
        write!(tagged, ", \"{tag}\"")?;
        let name = match table(files, tag)?.get(OWN_NAME) {
            Some(Value::String(name)) => name.clone(),
            _ if tag == "de" => "Deutsch".to_owned(),
            _ => tag.clone(),
        };
        writeln!(
            options,
            "          <option value=\"{tag}\" lang=\"{tag}\" translate=\"no\">{name}</option>"
        )?;
    }
    for name in LISTED {
        replace(files, name, LIST, &format!("{tagged}]"))?;
    }
    replace(files, PAGE, OPTION, &options)
}

fn replace(files: &mut Files, name: &str, from: &str, to: &str) -> Result<()> {
    let before = text(files, name)?;
    ensure!(before.contains(from), "{name} lists no languages");
    let after = before.replace(from, to);
    files.insert(name.to_owned(), after.into_bytes());
    Ok(())
}

fn table(files: &Files, language: &str) -> Result<Map<String, Value>> {
    Ok(serde_json::from_str(text(
        files,
        &format!("{FOLDER}{language}.json"),
    )?)?)
}

/// For each language the words that another one says and it does not.
pub(crate) fn unsaid(files: &Files) -> Result<BTreeMap<String, Vec<String>>> {
    let mut tables = BTreeMap::new();
    for language in languages(files) {
        tables.insert(language.to_owned(), table(files, language)?);
    }
    let all: BTreeSet<&String> = tables.values().flat_map(Map::keys).collect();
    let missing = |table: &Map<String, Value>| {
        let lacks = |word: &&&String| !table.contains_key(**word) && **word != OWN_NAME;
        all.iter()
            .filter(lacks)
            .map(|word| (*word).clone())
            .collect()
    };
    Ok((tables.iter())
        .map(|(language, table)| (language.clone(), missing(table)))
        .collect())
}

/// Of a table what stands in a script or a page, which says whole sentences as
/// the table has them.
pub(crate) fn told(table: &str, script: &str) -> Result<String> {
    let mut table: Map<String, Value> = serde_json::from_str(table)?;
    table.retain(|english, _| {
        let quoted = Value::from(english.as_str()).to_string();
        script.contains(english.as_str()) || script.contains(quoted.trim_matches('"'))
    });
    Ok(serde_json::to_string(&table)?)
}

/// The languages there are tables of.
pub(crate) fn languages(files: &Files) -> impl Iterator<Item = &str> {
    (files.keys()).filter_map(|name| name.strip_prefix(FOLDER)?.strip_suffix(".json"))
}

fn part_of(name: &str) -> Option<&str> {
    let (language, part) = name.strip_prefix(FOLDER)?.split_once('/')?;
    part.ends_with(".json").then_some(language)
}

#[cfg(test)]
mod tests {
    use super::{languages, put_together, told, unsaid};
    use crate::files::Files;

    fn files(parts: [(&str, &str); 2]) -> Files {
        parts
            .map(|(name, text)| (name.to_owned(), text.as_bytes().to_vec()))
            .into()
    }

    #[test]
    fn parts_become_one_table() -> anyhow::Result<()> {
        let parts = [
            ("language/de/a.json", r#"{"more":"mehr"}"#),
            ("language/de/b.json", r#"{"less":"weniger"}"#),
        ];
        let mut files = files(parts);
        put_together(&mut files)?;
        assert_eq!(languages(&files).collect::<Vec<_>>(), ["de"]);
        let table: serde_json::Value = serde_json::from_slice(&files["language/de.json"])?;
        assert_eq!(
            table,
            serde_json::json!({"less": "weniger", "more": "mehr"})
        );
        assert_eq!(files.len(), 1);
        Ok(())
    }

    #[test]
    fn what_another_language_says_is_missed() -> anyhow::Result<()> {
        let parts = [
            ("language/de/a.json", r#"{"more":"mehr","less":"weniger"}"#),
            ("language/xx/b.json", r#"{"less":"-"}"#),
        ];
        let mut files = files(parts);
        put_together(&mut files)?;
        let unsaid = unsaid(&files)?;
        assert_eq!(unsaid["xx"], ["more"]);
        assert!(unsaid["de"].is_empty());
        Ok(())
    }

    #[test]
    fn a_script_has_the_words_it_says() -> anyhow::Result<()> {
        let table = r#"{"a \"b\"":"1","a|more":"2","less":"3"}"#;
        assert_eq!(
            told(table, r#"say("a \"b\"");say("a|more")"#)?,
            r#"{"a \"b\"":"1","a|more":"2"}"#
        );
        Ok(())
    }

    #[test]
    fn a_word_stands_once() {
        let parts = [
            ("language/de/a.json", r#"{"more":"mehr"}"#),
            ("language/de/b.json", r#"{"more":"weitere"}"#),
        ];
        assert!(put_together(&mut files(parts)).is_err());
    }
}
