//! What a page of `www` is made of and asks for.

use crate::charts;
use crate::files::{Files, text};
use crate::lean;
use crate::script;
use anyhow::{Context as _, Result, ensure};

/// The one page.
pub(crate) const PAGE: &str = "index.html";

/// The page's parts, each where its name stands in a comment.
pub(crate) fn put_in_parts(files: &mut Files) -> Result<()> {
    let page = files.remove(PAGE).context("www has no page")?;
    let mut whole = Vec::with_capacity(4 * page.len());
    for line in page.split_inclusive(|byte| *byte == b'\n') {
        let text = std::str::from_utf8(line)?.trim();
        let name = (text.strip_prefix("<!-- ")).and_then(|rest| rest.strip_suffix(" -->"));
        match name.filter(|name| name.ends_with(".html")) {
            Some(name) => whole.extend(files.remove(name).with_context(|| format!("no {name}"))?),
            None => whole.extend(line),
        }
    }
    files.insert(PAGE.into(), whole);
    Ok(())
}

/// Charts for when no script runs, where the page has a place for them.
pub(crate) fn add_charts(files: &mut Files) -> Result<()> {
    const PLACE: &str = "<!-- charts -->";
    let page = text(files, PAGE)?;
    ensure!(page.contains(PLACE), "the page has no place for charts");
    let page = page.replace(PLACE, &charts::section()?);
    files.insert(PAGE.into(), page.into_bytes());
    Ok(())
}

/// What runs before the first paint: classic scripts, few lines each.
pub(crate) fn early_scripts(files: &Files, page: &str) -> Result<Vec<String>> {
    (early_names(files, page)?.iter())
        .map(|name| script::lean(text(files, name)?))
        .collect()
}

pub(crate) fn early_names(files: &Files, page: &str) -> Result<Vec<String>> {
    (text(files, page)?.lines())
        .filter(|line| line.trim().starts_with("<script src="))
        .map(quoted_source)
        .collect()
}

/// The one module a page has.
pub(crate) fn entry(files: &Files, page: &str) -> Result<String> {
    let mut scripts = (text(files, page)?.lines())
        .filter(|line| line.trim().starts_with("<script type=\"module\""))
        .map(quoted_source);
    let only = scripts
        .next()
        .with_context(|| format!("{page} has no script"))?;
    ensure!(scripts.next().is_none(), "{page} may have one script");
    only
}

fn quoted_source(tag: &str) -> Result<String> {
    let source = tag.split("src=\"").nth(1);
    let source = source.and_then(|rest| rest.split('"').next());
    Ok(source
        .with_context(|| format!("no src in {tag}"))?
        .to_owned())
}

/// All its styles in their order.
pub(crate) fn styles(files: &Files, page: &str) -> Result<String> {
    Ok((sheets(files, page)?.into_iter())
        .map(|(_, sheet)| sheet)
        .collect())
}

/// Its style sheets in their order, by name.
pub(crate) fn sheets(files: &Files, page: &str) -> Result<Vec<(String, String)>> {
    let mut all = Vec::new();
    for line in text(files, page)?.lines() {
        if line.trim().starts_with("<link rel=\"stylesheet\"") {
            let name = line
                .split("href=\"")
                .nth(1)
                .and_then(|rest| rest.split('"').next());
            let name = name.with_context(|| format!("no href in {line}"))?;
            all.push((name.to_owned(), lean::style(text(files, name)?)));
        }
    }
    Ok(all)
}
