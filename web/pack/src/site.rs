//! Puts it all together: the page's modules, and from them the served page, the
//! single file and the copies for other people's pages.

use crate::embed;
use crate::files::{self, Files};
use crate::page;
use crate::paths::{dist, modules, www};
use crate::served::served;
use crate::single::{single_file, single_script};
use crate::wasm::{self, Engine};
use crate::words;
use anyhow::Result;

/// Where the page looks for its module.
const API: &str = "api/";

/// Says that the module is one, and where its types are.
const API_PACKAGE: &str = "{\n  \"name\": \"glasscall\",\n  \"private\": true,\n  \"type\": \"module\",\n  \"main\": \"glasscall.js\",\n  \"types\": \"glasscall.d.ts\"\n}\n";

/// Builds everything anew.
pub(crate) fn build() -> Result<()> {
    let engine = wasm::compile()?;
    let mut parts = files::read(&www())?;
    page::put_in_parts(&mut parts)?;
    page::add_charts(&mut parts)?;
    words::put_together(&mut parts)?;
    add_engine(&mut parts, &engine);
    parts.insert(embed::STYLES.into(), embed::styles(&parts)?.into_bytes());
    let mut made = served(&parts)?;
    // Copies that stand on their own are not part of the page kept offline.
    let single = single_file(&parts, page::PAGE, &engine.wasm)?;
    made.insert("glasscall.html".into(), single.into());
    let frame = single_file(&parts, "embed.html", &engine.wasm)?;
    made.insert("embed.html".into(), frame.into());
    let element = single_script(&parts, "embed/element.js", &engine.wasm)?;
    made.insert("embed.js".into(), element.into());
    files::write(&modules(), &parts)?;
    files::write(&dist(), &made)?;
    println!("dist/ holds {} files", made.len());
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
    // For a folder whose own says "commonjs", as many do.
    add("package.json", API_PACKAGE.into());
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
