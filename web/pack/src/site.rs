//! Puts `dist/` together: the served page, the single file and the module.

use crate::bundle;
use crate::charts;
use crate::embed;
use crate::place::{dist, www};
use crate::wasm::{self, Engine};
use crate::words;
use anyhow::{Context as _, Result, ensure};
use base64::Engine as _;
use base64::prelude::BASE64_STANDARD;
use sha2::{Digest as _, Sha256};
use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

/// Files by their path in `dist/`, in one fixed order.
pub(crate) type Files = BTreeMap<String, Vec<u8>>;

/// Where the page looks for its module.
const API: &str = "api/";

/// Builds everything anew.
pub(crate) fn build() -> Result<()> {
    let engine = wasm::compile()?;
    let mut files = hand_written()?;
    put_in_parts(&mut files)?;
    add_charts(&mut files)?;
    words::put_together(&mut files)?;
    add_engine(&mut files, &engine);
    files.insert(embed::STYLES.into(), embed::styles(&files)?.into_bytes());
    let single = bundle::single_file(&files, "index.html", &engine.wasm)?;
    let frame = bundle::single_file(&files, "embed.html", &engine.wasm)?;
    let element = bundle::single_script(&files, "embed/element.js", &engine.wasm)?;
    files.remove("embed.html");
    let worker = files.remove("sw.js").context("www has no sw.js")?;
    let worker = with_asset_list(&String::from_utf8(worker)?, &files)?;
    files.insert("sw.js".into(), worker.into_bytes());
    // Copies that stand on their own are not part of the page kept offline.
    files.insert("glasscall.html".into(), single.into_bytes());
    files.insert("embed.html".into(), frame.into_bytes());
    files.insert("embed.js".into(), element.into_bytes());
    write(&files)?;
    println!("dist/ holds {} files", files.len());
    Ok(())
}

/// The page's parts, each where its name stands in a comment.
fn put_in_parts(files: &mut Files) -> Result<()> {
    let page = files.remove("index.html").context("www has no page")?;
    let mut whole = Vec::with_capacity(4 * page.len());
    for line in page.split_inclusive(|byte| *byte == b'\n') {
        let text = std::str::from_utf8(line)?.trim();
        let name = (text.strip_prefix("<!-- ")).and_then(|rest| rest.strip_suffix(" -->"));
        match name.filter(|name| name.ends_with(".html")) {
            Some(name) => whole.extend(files.remove(name).with_context(|| format!("no {name}"))?),
            None => whole.extend(line),
        }
    }
    files.insert("index.html".into(), whole);
    Ok(())
}

/// Charts for when no script runs, where the page has a place for them.
fn add_charts(files: &mut Files) -> Result<()> {
    const PLACE: &str = "<!-- charts -->";
    let page = files.get_mut("index.html").context("www has no page")?;
    let text = std::str::from_utf8(page)?;
    ensure!(text.contains(PLACE), "the page has no place for charts");
    *page = text.replace(PLACE, &charts::section()?).into_bytes();
    Ok(())
}

fn hand_written() -> Result<Files> {
    let mut files = Files::new();
    collect(&www(), "", &mut files)?;
    Ok(files)
}

fn collect(folder: &Path, prefix: &str, files: &mut Files) -> Result<()> {
    for entry in fs::read_dir(folder)? {
        let entry = entry?;
        let name = format!("{prefix}{}", entry.file_name().to_string_lossy());
        if entry.file_type()?.is_dir() {
            collect(&entry.path(), &format!("{name}/"), files)?;
        } else {
            files.insert(name, fs::read(entry.path())?);
        }
    }
    Ok(())
}

fn add_engine(files: &mut Files, engine: &Engine) {
    let mut add = |name: &str, bytes: Vec<u8>| files.insert(format!("{API}{name}"), bytes);
    // Generated: its types are checked where it is made.
    add(
        "engine.js",
        format!("// @ts-nocheck\n{}", engine.script).into_bytes(),
    );
    add("glasscall.wasm", engine.wasm.clone());
    add("glasscall.d.ts", types(&engine.types).into_bytes());
}

/// The types without what only the loader needs.
fn types(bound: &str) -> String {
    let loader = ["InitInput", "InitOutput", "SyncInitInput"];
    let public = bound
        .find("export type InitInput")
        .map_or(bound, |loader_starts| &bound[..loader_starts]);
    debug_assert!(loader.iter().all(|name| !public.contains(name)));
    format!("{}\n", public.trim_end())
}

/// The integrity hash of a file, as browsers check it.
pub(crate) fn integrity(bytes: &[u8]) -> String {
    format!("sha256-{}", BASE64_STANDARD.encode(Sha256::digest(bytes)))
}

/// The worker with the list of every file and a version made from it.
fn with_asset_list(worker: &str, files: &Files) -> Result<String> {
    let list: BTreeMap<&str, String> = (files.iter())
        .filter(|(name, _)| !name.ends_with(".d.ts"))
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

fn write(files: &Files) -> Result<()> {
    if dist().exists() {
        fs::remove_dir_all(dist())?;
    }
    for (name, bytes) in files {
        let to = dist().join(name);
        if let Some(folder) = to.parent() {
            fs::create_dir_all(folder)?;
        }
        fs::write(&to, bytes).with_context(|| name.clone())?;
    }
    Ok(())
}
