//! The page as it is served: few files, because each costs a request and is
//! compressed alone.

use crate::bundle;
use crate::files::{Files, integrity, text};
use crate::page::{self, PAGE};
use crate::single::{WORKER, with_modules};
use anyhow::{Context as _, Result};
use sha2::{Digest as _, Sha256};
use std::collections::BTreeMap;
use std::fmt::Write as _;

const STYLES: &str = "styles.css";
/// The script of the page and the worker it starts; both find things beside the page.
const SCRIPT: &str = "app.js";
const SERVED_WORKER: &str = "worker.js";
const OFFLINE: &str = "sw.js";

/// Everything `dist/` serves but the copies that stand on their own.
pub(crate) fn served(modules: &Files) -> Result<Files> {
    let entry = page::entry(modules, PAGE)?;
    let early = page::early_names(modules, PAGE)?;
    let mut files: Files = (modules.iter())
        .filter(|(name, _)| {
            let is_part = name.ends_with(".js") || name.ends_with(".css");
            !is_part || early.contains(name) || name.starts_with("api/")
        })
        .map(|(name, bytes)| (name.clone(), bytes.clone()))
        .collect();
    files.remove("embed.html");
    files.insert(PAGE.into(), with_few_links(text(modules, PAGE)?)?.into());
    files.insert(STYLES.into(), page::styles(modules, PAGE)?.into());
    let app = bundle::script(modules, &entry, BTreeMap::new())?;
    files.insert(SCRIPT.into(), app.into());
    let worker = with_modules(modules, BTreeMap::new())?;
    files.insert(SERVED_WORKER.into(), worker.into());
    let offline = with_asset_list(text(modules, OFFLINE)?, &files)?;
    files.insert(OFFLINE.into(), offline.into());
    Ok(files)
}

/// One style sheet, and the module asked for before the script that wants it.
fn with_few_links(page: &str) -> Result<String> {
    let mut made = String::with_capacity(page.len());
    let mut linked = false;
    for line in page.lines() {
        if line.trim().starts_with("<script type=\"module\"") {
            writeln!(made, "<script type=\"module\" src=\"{SCRIPT}\"></script>")?;
        } else if !line.trim().starts_with("<link rel=\"stylesheet\"") {
            writeln!(made, "{line}")?;
        } else if !linked {
            linked = true;
            writeln!(made, "<link rel=\"stylesheet\" href=\"{STYLES}\">")?;
            writeln!(
                made,
                "<link rel=\"preload\" href=\"api/glasscall.wasm\" as=\"fetch\" crossorigin>"
            )?;
        }
    }
    linked.then_some(made).context("a page without styles")
}

/// Icons and pictures that a device asks for when it installs the page: once,
/// with a signal.
pub(crate) const FOR_INSTALL: &str = "install/";

/// Kept offline: all that the page may ask for. The module for other people's
/// scripts and what only an install wants are not.
fn is_kept(name: &str) -> bool {
    let for_others = name.starts_with("api/") && !name.ends_with(".wasm");
    !for_others && !name.starts_with(FOR_INSTALL)
}

/// The worker with the list of every file kept offline and a version made from it.
fn with_asset_list(worker: &str, files: &Files) -> Result<String> {
    let list: BTreeMap<&str, String> = (files.iter())
        .filter(|(name, _)| is_kept(name))
        .map(|(name, bytes)| (name.as_str(), integrity(bytes)))
        .collect();
    let list = serde_json::to_string_pretty(&list)?;
    let mut of = Sha256::new();
    of.update(worker);
    of.update(&list);
    let version: String = of
        .finalize()
        .iter()
        .take(8)
        .map(|b| format!("{b:02x}"))
        .collect();
    Ok(format!(
        "const VERSION = \"{version}\";\nconst ASSETS = {list};\n{worker}"
    ))
}
