//! Files on their way to `dist/`.

use anyhow::{Context as _, Result};
use base64::Engine as _;
use base64::prelude::BASE64_STANDARD;
use sha2::{Digest as _, Sha256};
use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

/// Files by their path, in one fixed order.
pub(crate) type Files = BTreeMap<String, Vec<u8>>;

/// A file that must be there, as text.
pub(crate) fn text<'a>(files: &'a Files, name: &str) -> Result<&'a str> {
    let bytes = files.get(name).with_context(|| format!("no file {name}"))?;
    Ok(std::str::from_utf8(bytes)?)
}

/// The integrity hash of a file, as browsers check it.
pub(crate) fn integrity(bytes: &[u8]) -> String {
    format!("sha256-{}", BASE64_STANDARD.encode(Sha256::digest(bytes)))
}

/// All files of a folder, by their path in it.
pub(crate) fn read(folder: &Path) -> Result<Files> {
    let mut files = Files::new();
    collect(folder, "", &mut files)?;
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

/// Writes a folder anew.
pub(crate) fn write(folder: &Path, files: &Files) -> Result<()> {
    if folder.exists() {
        fs::remove_dir_all(folder)?;
    }
    for (name, bytes) in files {
        let to = folder.join(name);
        if let Some(parent) = to.parent() {
            fs::create_dir_all(parent)?;
        }
        fs::write(&to, bytes).with_context(|| name.clone())?;
    }
    Ok(())
}
