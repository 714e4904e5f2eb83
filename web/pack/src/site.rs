//! Puts it all together: the page's modules, and from them the served page, the
//! single file and the copies for other people's pages.

use crate::embed;
use crate::files;
use crate::package;
use crate::page;
use crate::paths::{dist, modules, www};
use crate::served::served;
use crate::single::{single_file, single_script};
use crate::wasm;
use crate::words;
use anyhow::Result;

/// Builds everything anew.
pub(crate) fn build() -> Result<()> {
    let engine = wasm::compile()?;
    let mut parts = files::read(&www())?;
    page::put_in_parts(&mut parts)?;
    page::add_charts(&mut parts)?;
    words::put_together(&mut parts)?;
    package::add_engine(&mut parts, &engine)?;
    embed::add_styles(&mut parts)?;
    let mut made = served(&parts)?;
    package::complete(&mut made, &engine)?;
    // Copies that stand on their own are not part of the page kept offline.
    let single = single_file(&parts, page::PAGE, &engine.wasm)?;
    made.insert("glasscall.html".into(), single.into());
    for name in embed::FRAMES {
        let frame = single_file(&parts, name, &engine.wasm)?;
        made.insert(name.into(), frame.into());
    }
    for (name, entry) in embed::ELEMENTS {
        let element = single_script(&parts, entry, &engine.wasm)?;
        made.insert(name.into(), embed::ascii(&element).into());
    }
    files::write(&modules(), &parts)?;
    files::write(&dist(), &made)?;
    println!("dist/ holds {} files", made.len());
    Ok(())
}
