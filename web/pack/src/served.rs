//! The page as it is served: few files, because each costs a request and is
//! compressed alone. Styles and what runs before the first paint stand in the
//! page itself: whatever else does not come, the page is seen and can say so.

use crate::embed;
use crate::files::{Files, integrity, text};
use crate::package::API;
use crate::page::{self, PAGE};
use crate::screens::{self, Apart};
use crate::script::{Chunk, PLACE, Scope};
use crate::single::{build_of, with_modules};
use crate::site::ENGINE;
use crate::wasm::FIRST;
use anyhow::{Result, ensure};
use sha2::{Digest as _, Sha256};
use std::collections::BTreeMap;
use std::fmt::Write as _;

/// The script of the page and the worker it starts; both find things beside the page.
const SCRIPT: &str = "app.js";
const SERVED_WORKER: &str = "worker.js";
const OFFLINE: &str = "sw.js";
/// A page without script.
const HELP: &str = "embed-help.html";

/// Everything `dist/` serves but the copies that stand on their own.
pub(crate) fn served(modules: &Files) -> Result<Files> {
    let entry = page::entry(modules, PAGE)?;
    let mut files: Files = (modules.iter())
        .filter(|(name, _)| {
            let is_part = name.ends_with(".js") || name.ends_with(".css");
            !is_part || name.starts_with("api/")
        })
        .map(|(name, bytes)| (name.clone(), bytes.clone()))
        .collect();
    embed::FRAMES
        .iter()
        .for_each(|name| drop(files.remove(*name)));
    files.insert(HELP.into(), help(modules)?.into());
    let own = BTreeMap::new();
    let scripts = placed(&Scope::new(modules, &own, &entry)?.chunks()?);
    let engine = modules[&format!("{ENGINE}{FIRST}")].as_slice();
    let build = build_of(&scripts[SCRIPT], &[(FIRST, engine)]);
    let apart = screens::apart(modules, &build)?;
    files.insert(
        PAGE.into(),
        page_of(modules, &apart, &scripts[SCRIPT])?.into(),
    );
    files.insert(apart.name, apart.screens.into());
    files.extend(
        scripts
            .into_iter()
            .map(|(name, script)| (name, script.into())),
    );
    let worker = with_modules(modules, &own)?;
    files.insert(SERVED_WORKER.into(), worker.into());
    let offline = with_asset_list(text(modules, OFFLINE)?, &files)?;
    files.insert(OFFLINE.into(), offline.into());
    Ok(files)
}

/// Scripts by the names they are served under. What is loaded later is named for
/// this build as well: a page that is open never gets another's.
fn placed(chunks: &[Chunk]) -> BTreeMap<String, String> {
    let mut of = Sha256::new();
    chunks.iter().for_each(|chunk| of.update(&chunk.script));
    let build: String = of
        .finalize()
        .iter()
        .take(4)
        .map(|b| format!("{b:02x}"))
        .collect();
    let name = |at: usize, entry: Option<&str>| match (at, entry) {
        (0, _) => SCRIPT.to_owned(),
        (_, None) => format!("shared-{build}.js"),
        (_, Some(entry)) => {
            let file = entry.rsplit('/').next().unwrap_or(entry);
            format!("{}-{build}.js", file.trim_end_matches(".js"))
        }
    };
    let names: Vec<(String, String)> = (chunks.iter().enumerate())
        .map(|(at, chunk)| {
            let entry = chunk.entry.as_deref();
            (
                format!("\"{PLACE}{}\"", entry.unwrap_or_default()),
                format!("\"./{}\"", name(at, entry)),
            )
        })
        .collect();
    (chunks.iter().enumerate())
        .map(|(at, chunk)| {
            let script = (names.iter()).fold(chunk.script.clone(), |script, (place, name)| {
                script.replace(place, name)
            });
            (name(at, chunk.entry.as_deref()), script)
        })
        .collect()
}

/// The page with its styles inside, and the module asked for before the script
/// that wants it. The script is this build's or none: one cut short, or of
/// another version, does not start.
fn page_of(modules: &Files, apart: &Apart, app: &str) -> Result<String> {
    let sheets = [&apart.before, &apart.between, &apart.behind];
    let of_styles: Vec<String> = (sheets.iter())
        .map(|sheet| format!("'{}'", integrity(sheet.as_bytes())))
        .collect();
    let early = page::early_scripts(modules, PAGE)?;
    let hashes: Vec<String> = (early.iter())
        .map(|script| format!("'{}'", integrity(script.as_bytes())))
        .collect();
    let mut made = String::with_capacity(2 * apart.page.len());
    for line in apart.page.lines() {
        let tag = line.trim();
        if tag.starts_with("<meta http-equiv=\"Content-Security-Policy\"") {
            let named = [
                ("script-src 'self'", hashes.join(" ")),
                ("style-src 'self'", of_styles.join(" ")),
            ];
            let mut line = line.to_owned();
            for (allowed, more) in named {
                ensure!(line.contains(allowed), "the policy has no {allowed}");
                line = line.replace(allowed, &format!("{allowed} {more}"));
            }
            writeln!(made, "{line}")?;
        } else if tag.starts_with("<link rel=\"stylesheet\"") || tag.starts_with("<script src=") {
            // Inside, below.
        } else if tag.starts_with("<script type=\"module\"") {
            writeln!(made, "<style>{}</style>", apart.before)?;
            writeln!(made, "<style>{}</style>", apart.behind)?;
            for script in &early {
                writeln!(made, "<script>{script}</script>")?;
            }
            writeln!(
                made,
                "<link rel=\"preload\" href=\"engine/first.wasm\" as=\"fetch\" crossorigin>"
            )?;
            writeln!(
                made,
                "<script type=\"module\" src=\"{SCRIPT}\" integrity=\"{}\"></script>",
                integrity(app.as_bytes())
            )?;
        } else {
            writeln!(made, "{line}")?;
        }
    }
    Ok(made)
}

/// The help with its styles inside, since they are served in no file of their
/// own, and what finds the look before the first paint.
fn help(modules: &Files) -> Result<String> {
    let style = page::styles(modules, HELP)?;
    let early = page::early_scripts(modules, HELP)?;
    let mut made = String::with_capacity(style.len());
    let mut policies = 0;
    for line in text(modules, HELP)?.lines() {
        if line.contains("style-src 'self'") {
            let mut line = line.replace("'self'; script-src", "'SHEET'; script-src");
            for script in &early {
                let hash = format!("script-src '{}'", integrity(script.as_bytes()));
                line = line.replace("script-src 'self'", &hash);
            }
            let sheet = integrity(style.as_bytes());
            writeln!(made, "{}", line.replace("SHEET", &sheet))?;
            policies += 1;
        } else if line.starts_with("<link rel=\"stylesheet\"") || line.starts_with("<script src=") {
            // Inside, below.
        } else if line == "</head>" {
            writeln!(made, "<style>{style}</style>")?;
            for script in &early {
                writeln!(made, "<script>{script}</script>")?;
            }
            writeln!(made, "{line}")?;
        } else {
            writeln!(made, "{line}")?;
        }
    }
    ensure!(
        policies == 1 && !style.is_empty() && early.len() == 1,
        "{HELP} has no policy, styles or script"
    );
    Ok(made)
}

/// Icons and pictures that a device asks for when it installs the page: once,
/// with a signal.
pub(crate) const FOR_INSTALL: &str = "install/";

/// Kept offline: all that the page may ask for. The module for other people's
/// scripts and what only an install wants are not.
fn is_kept(name: &str) -> bool {
    !name.starts_with(API) && !name.starts_with(FOR_INSTALL)
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
