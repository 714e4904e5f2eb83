//! Puts it all together: the page's modules, and from them the served page, the
//! single file and the copies for other people's pages.

use crate::embed;
use crate::files::{self, Files};
use crate::package;
use crate::page;
use crate::paths::{dist, modules, www};
use crate::served::served;
use crate::single::{single_file, single_script};
use crate::wasm;
use crate::words;
use anyhow::{Context as _, Result};
use std::path::Path;

/// Where the page looks for the halves of its module.
pub(crate) const ENGINE: &str = "engine/";

/// Builds everything anew.
pub(crate) fn build() -> Result<()> {
    let (parts, made) = put_together(None)?;
    files::write(&modules(), &parts)?;
    files::write(&dist(), &made)?;
    println!("dist/ holds {} files", made.len());
    Ok(())
}

/// The same with one more language, `folder` named by its tag, into `out`.
pub(crate) fn build_with_language(folder: &Path, out: &Path) -> Result<()> {
    let (_, made) = put_together(Some(folder))?;
    files::write(out, &made)
}

/// The page's modules, and all that is served.
fn put_together(language: Option<&Path>) -> Result<(Files, Files)> {
    let engine = wasm::compile()?;
    let halves: [(&str, &[u8]); 2] = [(wasm::FIRST, &engine.first), (wasm::REST, &engine.rest)];
    // What shows no more than Now needs no more than what that asks.
    let element: [(&str, &[u8]); 1] = [(wasm::FIRST, &engine.element)];
    let wanted = |name| {
        if embed::is_more(name) {
            &halves[..]
        } else {
            &element[..]
        }
    };
    let mut parts = files::read(&www())?;
    if let Some(folder) = language {
        let tag = folder.file_name().context("a folder without a name")?;
        for (name, bytes) in files::read(folder)? {
            parts.insert(format!("language/{}/{name}", tag.display()), bytes);
        }
    }
    page::put_in_parts(&mut parts)?;
    page::add_charts(&mut parts)?;
    package::sign(&mut parts)?;
    words::put_together(&mut parts)?;
    words::list(&mut parts)?;
    for (language, words) in words::unsaid(&parts)? {
        if !words.is_empty() {
            println!("{language} does not say {}: {words:#?}", words.len());
        }
    }
    package::add_engine(&mut parts, &engine)?;
    embed::add_styles(&mut parts)?;
    for (name, bytes) in halves {
        parts.insert(format!("{ENGINE}{name}"), bytes.to_vec());
    }
    let mut made = served(&parts)?;
    package::complete(&mut made, &engine)?;
    // Copies that stand on their own are not part of the page kept offline.
    let single = single_file(&parts, page::PAGE, &halves)?;
    made.insert("glasscall.html".into(), single.into());
    for name in embed::FRAMES {
        let frame = single_file(&parts, name, wanted(name))?;
        made.insert(name.into(), frame.into());
    }
    for (name, entry) in embed::ELEMENTS {
        let element = single_script(&parts, entry, wanted(name))?;
        made.insert(
            name.into(),
            format!(
                "/*! Glasscall {} */\n{}",
                package::VERSION,
                embed::ascii(&element)
            )
            .into(),
        );
    }
    Ok((parts, made))
}
