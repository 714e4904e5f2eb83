//! How many bytes a visitor loads, held to a budget.

use crate::embed::is_copy;
use crate::package::API;
use crate::paths::dist;
use crate::served::FOR_INSTALL;
use anyhow::{Result, ensure};
use flate2::Compression;
use flate2::write::GzEncoder;
use std::fs;
use std::io::Write as _;
use std::path::Path;

/// Page and module as served, each file compressed by gzip. The aim is 200 kB.
const SERVED: usize = 729_700;
/// What of it comes before the first answer stands. The aim is 150 kB.
const FIRST: usize = 185_400;
const FIRST_FILES: [&str; 3] = ["index.html", "app.js", "engine/first.wasm"];
/// The single file as it lies on the disk. The aim is 400 kB.
const SINGLE: usize = 1_066_300;
/// The element for another page. The aim is 150 kB.
const ELEMENT: usize = 204_600;

/// What the page loads is counted; copies that stand on their own and the module
/// for other people's scripts are not.
fn is_loaded(name: &str) -> bool {
    let alone = ["glasscall.html", "embed-help.html"];
    !alone.contains(&name)
        && !is_copy(name)
        && !name.starts_with(API)
        && !name.starts_with(FOR_INSTALL)
}

/// Weighs `dist/`.
pub(crate) fn check() -> Result<()> {
    let mut served = 0;
    weigh(&dist(), "", &mut served)?;
    let single = fs::read(dist().join("glasscall.html"))?.len();
    println!("page and module, gzip: {served} of {SERVED} bytes");
    let mut first = 0;
    for name in FIRST_FILES {
        first += packed(&fs::read(dist().join(name))?)?;
    }
    println!("until the first answer, gzip: {first} of {FIRST} bytes");
    println!("single file: {single} of {SINGLE} bytes");
    let element = packed(&fs::read(dist().join("embed.js"))?)?;
    println!("element, gzip: {element} of {ELEMENT} bytes");
    ensure!(served <= SERVED, "page and module are over their budget");
    ensure!(first <= FIRST, "the start is over its budget");
    ensure!(single <= SINGLE, "the single file is over its budget");
    ensure!(element <= ELEMENT, "the element is over its budget");
    Ok(())
}

fn weigh(folder: &Path, prefix: &str, served: &mut usize) -> Result<()> {
    for entry in fs::read_dir(folder)? {
        let entry = entry?;
        let name = format!("{prefix}{}", entry.file_name().to_string_lossy());
        if entry.file_type()?.is_dir() {
            weigh(&entry.path(), &format!("{name}/"), served)?;
            continue;
        }
        let font = [".woff", ".woff2", ".ttf", ".otf"];
        ensure!(
            !font.iter().any(|end| name.ends_with(end)),
            "{name}: no font files"
        );
        if is_loaded(&name) {
            *served += packed(&fs::read(entry.path())?)?;
        }
    }
    Ok(())
}

fn packed(bytes: &[u8]) -> Result<usize> {
    let mut packer = GzEncoder::new(Vec::new(), Compression::best());
    packer.write_all(bytes)?;
    Ok(packer.finish()?.len())
}
