//! The words of other languages: one folder for each, one file for each part of
//! the page, put together into one table.

use crate::files::Files;
use anyhow::{Context as _, Result, ensure};
use serde_json::{Map, Value};
use std::collections::BTreeMap;

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
    use super::{languages, put_together};
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
    fn a_word_stands_once() {
        let parts = [
            ("language/de/a.json", r#"{"more":"mehr"}"#),
            ("language/de/b.json", r#"{"more":"weitere"}"#),
        ];
        assert!(put_together(&mut files(parts)).is_err());
    }
}
