//! What is handed out: a folder that anyone can host or copy, and the same in
//! one archive, with check sums and the licences of what is inside.

use crate::embed::is_copy;
use crate::files::{self, Files};
use crate::paths::{dist, top};
use anyhow::{Context as _, Result, ensure};
use flate2::{Compression, GzBuilder};
use serde_json::Value;
use sha2::{Digest as _, Sha256};
use std::collections::BTreeSet;
use std::fmt::Write as _;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

const LICENCES: &str = "LICENCES.txt";
const SUMS: &str = "SHA256SUMS";
/// What needs no host, as the copies for other people's pages do not either;
/// everything else of `dist/` is the page to host.
const ALONE: &str = "glasscall.html";

/// Puts what has been built into `target/release-folder`, and an archive of it
/// beside that.
///
/// # Errors
/// Files that cannot be read or written, or a crate in the module that comes
/// without the text of its licence.
pub(crate) fn release() -> Result<()> {
    let name = format!("glasscall-{}", env!("CARGO_PKG_VERSION"));
    let mut handed = arranged(files::read(&dist())?);
    handed.insert("LICENSE".into(), fs::read(top().join("LICENSE"))?);
    handed.insert(LICENCES.into(), licences()?.into());
    handed.insert(
        "CHANGELOG.md".into(),
        fs::read(top().join("core/CHANGELOG.md"))?,
    );
    for (name, bytes) in published()? {
        handed.insert(name, bytes);
    }
    handed.insert(SUMS.into(), sums(&handed).into());
    let parent = top().join("target/release-folder");
    files::write(&parent.join(&name), &handed)?;
    let archive = parent.join(format!("{name}.tar.gz"));
    fs::write(&archive, packed(&name, &handed)?)?;
    println!(
        "{} holds {} files; the same in {}",
        parent.join(&name).display(),
        handed.len(),
        archive.display()
    );
    Ok(())
}

/// The package and the crate as registries take them; nothing is sent to any.
fn published() -> Result<Files> {
    let folder = top().join("target/package");
    fs::create_dir_all(&folder)?;
    let pack = ["pack", "--silent", "--pack-destination"];
    let status = Command::new("npm")
        .args(pack)
        .arg(&folder)
        .current_dir(dist().join("api"))
        .status();
    // Whoever has no Node hands out the rest; the folder of the package is in it.
    let is_packed = status.is_ok_and(|status| status.success());
    let status = Command::new(env!("CARGO"))
        .args(["package", "--quiet", "--allow-dirty", "--no-verify"])
        .args(["--locked", "--package", "glasscall-core"])
        .current_dir(top())
        .status()?;
    ensure!(status.success(), "cargo package: {status}");
    let version = env!("CARGO_PKG_VERSION");
    let mut made = vec![format!("glasscall-core-{version}.crate")];
    if is_packed {
        made.push(format!("glasscall-{version}.tgz"));
    } else {
        println!("no npm here: the package is left out of the folder; it stands in page/api");
    }
    made.into_iter()
        .map(|name| Ok((name.clone(), fs::read(folder.join(name))?)))
        .collect()
}

/// The page in a folder of its own, beside it what needs no host.
fn arranged(built: Files) -> Files {
    let mut handed = Files::new();
    for (name, bytes) in built {
        if name == ALONE || is_copy(&name) {
            handed.insert(name.clone(), bytes.clone());
        }
        // The page's help points to the copies for other pages, so they stay with it.
        if name != ALONE {
            handed.insert(format!("page/{name}"), bytes);
        }
    }
    handed
}

/// One line for each file, as `sha256sum --check` reads it.
fn sums(handed: &Files) -> String {
    handed
        .iter()
        .fold(String::new(), |mut lines, (name, bytes)| {
            let sum = Sha256::digest(bytes);
            for byte in sum {
                let _ = write!(lines, "{byte:02x}");
            }
            let _ = writeln!(lines, "  {name}");
            lines
        })
}

/// An archive without clocks and owners in it: the same files give the same bytes.
fn packed(folder: &str, handed: &Files) -> Result<Vec<u8>> {
    let gzip = GzBuilder::new()
        .mtime(0)
        .write(Vec::new(), Compression::best());
    let mut archive = tar::Builder::new(gzip);
    for (name, bytes) in handed {
        let mut header = tar::Header::new_ustar();
        header.set_size(bytes.len().try_into()?);
        header.set_mode(0o644);
        archive.append_data(&mut header, format!("{folder}/{name}"), bytes.as_slice())?;
    }
    Ok(archive.into_inner()?.finish()?)
}

/// The licence texts of every crate that is compiled into the module.
fn licences() -> Result<String> {
    let told = Command::new(env!("CARGO"))
        .args(["metadata", "--format-version", "1", "--locked"])
        .args(["--filter-platform", "wasm32-unknown-unknown"])
        .current_dir(top())
        .output()?;
    ensure!(told.status.success(), "cargo metadata: {}", told.status);
    let metadata: Value = serde_json::from_slice(&told.stdout)?;
    let mut text = String::new();
    for package in inside(&metadata, "glasscall-web") {
        let (name, version) = (&package["name"], &package["version"]);
        let manifest = PathBuf::from(package["manifest_path"].as_str().unwrap_or_default());
        let folder = manifest.parent().context("a manifest without a folder")?;
        let licence = licence_of(folder).with_context(|| format!("the licence of {name}"))?;
        writeln!(
            text,
            "{name} {version}, {}\n\n{licence}\n",
            package["license"]
        )?;
    }
    Ok(text)
}

/// What `root` is compiled from, but for what only builds, tests or the compiler
/// itself want and what is ours.
fn inside<'a>(metadata: &'a Value, root: &str) -> Vec<&'a Value> {
    let list = |value: &'a Value| value.as_array().map_or(&[][..], Vec::as_slice);
    let packages = list(&metadata["packages"]);
    let nodes = list(&metadata["resolve"]["nodes"]);
    let id_of = |package: &'a Value| package["id"].as_str().unwrap_or_default();
    let mut found = BTreeSet::new();
    let mut open: Vec<&str> = (packages.iter())
        .filter(|package| package["name"] == root)
        .map(id_of)
        .collect();
    let is_macro = |package: &'a Value| {
        let mut kinds = list(&package["targets"])
            .iter()
            .flat_map(|target| list(&target["kind"]));
        kinds.any(|kind| kind == "proc-macro")
    };
    // What a macro is made with runs in the compiler too.
    let macros: BTreeSet<&str> = (packages.iter())
        .filter(|one| is_macro(one))
        .map(id_of)
        .collect();
    while let Some(id) = open.pop() {
        if !macros.contains(id) && found.insert(id) {
            let node = nodes.iter().find(|node| node["id"] == id);
            for dependency in node.into_iter().flat_map(|node| list(&node["deps"])) {
                let compiled_in = list(&dependency["dep_kinds"])
                    .iter()
                    .any(|kind| kind["kind"].is_null());
                if compiled_in {
                    open.extend(dependency["pkg"].as_str());
                }
            }
        }
    }
    (packages.iter())
        .filter(|package| found.contains(id_of(package)) && !package["source"].is_null())
        .collect()
}

/// Every file of a crate that begins like a licence, one after the other; where
/// there is none, the comment its source opens with.
fn licence_of(folder: &Path) -> Result<String> {
    let mut files: Vec<PathBuf> = fs::read_dir(folder)?
        .filter_map(|entry| Some(entry.ok()?.path()))
        .filter(|path| path.is_file())
        .collect();
    files.sort();
    let named = |path: &&PathBuf, starts: &[&str]| {
        let name = path.file_name().unwrap_or_default().to_string_lossy();
        starts
            .iter()
            .any(|start| name.to_lowercase().starts_with(start))
    };
    let texts: Result<Vec<String>, _> = (files.iter())
        .filter(|path| named(path, &["licen", "copying"]))
        .map(fs::read_to_string)
        .collect();
    let texts = texts?;
    if !texts.is_empty() {
        return Ok(texts.join("\n"));
    }
    let source = fs::read_to_string(folder.join("src/lib.rs"))?;
    opening_comment(&source)
        .filter(|text| text.contains("Permission is hereby granted"))
        .context("no text of a licence")
}

/// The comment a source file opens with, its stars and white space taken off.
fn opening_comment(source: &str) -> Option<String> {
    let (_, rest) = source.split_once("/*")?;
    let (comment, _) = rest.split_once("*/")?;
    let lines = comment
        .lines()
        .map(|line| line.trim().trim_start_matches(['*', ' ']));
    Some(lines.collect::<Vec<_>>().join("\n").trim().to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn built() -> Files {
        [
            ("index.html", "page"),
            ("glasscall.html", "one"),
            ("embed.js", "element"),
        ]
        .map(|(name, text)| (name.to_owned(), text.as_bytes().to_vec()))
        .into()
    }

    #[test]
    fn the_page_has_a_folder_and_copies_stand_beside_it() {
        let names: Vec<String> = arranged(built()).into_keys().collect();
        assert_eq!(
            names,
            [
                "embed.js",
                "glasscall.html",
                "page/embed.js",
                "page/index.html"
            ]
        );
    }

    #[test]
    fn the_same_files_make_the_same_archive() -> Result<()> {
        let one = packed("a", &built())?;
        assert_eq!(one, packed("a", &built())?);
        let mut archive = tar::Archive::new(flate2::read::GzDecoder::new(one.as_slice()));
        let names: Result<Vec<String>> = (archive.entries()?)
            .map(|entry| Ok(entry?.path()?.display().to_string()))
            .collect();
        assert_eq!(names?, ["a/embed.js", "a/glasscall.html", "a/index.html"]);
        Ok(())
    }

    #[test]
    fn a_licence_may_be_the_comment_that_opens_the_source() {
        let source = "/* \n * Permission is hereby granted.\n * No warranty.\n */\n//! Docs";
        let text = opening_comment(source);
        assert_eq!(
            text.as_deref(),
            Some("Permission is hereby granted.\nNo warranty.")
        );
    }

    #[test]
    fn what_only_the_compiler_runs_is_not_inside() {
        let package = |id: &str, kind: &str| serde_json::json!({"id": id, "name": id, "source": "registry", "targets": [{"kind": [kind]}]});
        let needs = |id: &str, deps: &[(&str, Option<&str>)]| {
            let deps: Vec<Value> = (deps.iter())
                .map(|(pkg, kind)| serde_json::json!({"pkg": pkg, "dep_kinds": [{"kind": kind}]}))
                .collect();
            serde_json::json!({"id": id, "deps": deps})
        };
        let metadata = serde_json::json!({
            "packages": [package("page", "lib"), package("sums", "lib"), package("derive", "proc-macro"), package("parser", "lib"), package("check", "lib")],
            "resolve": {"nodes": [
                needs("page", &[("sums", None), ("derive", None), ("check", Some("dev"))]),
                needs("derive", &[("parser", None)]),
            ]},
        });
        let names: Vec<&str> = (inside(&metadata, "page").iter())
            .filter_map(|package| package["name"].as_str())
            .collect();
        assert_eq!(names, ["page", "sums"]);
    }

    // FIPS 180-4's own example of a digest, from memory: "abc".
    #[test]
    fn sums_are_those_of_the_standard() {
        let files: Files = [("abc.txt".to_owned(), b"abc".to_vec())].into();
        assert_eq!(
            sums(&files),
            "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad  abc.txt\n"
        );
    }
}
