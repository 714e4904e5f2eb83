//! Scripts made small, and many made one.
//!
//! Only what is certain is done: comments and blanks go, and variables get short
//! names. A library that knows the whole language does the same and a twentieth
//! more; it would be a hundred crates and minutes of building.

mod declared;
mod module;
mod names;
mod print;
mod roles;
mod scope;
mod tokens;
mod unused;
mod used;

pub(crate) use scope::{Chunk, Own, PLACE, Scope};

use anyhow::Result;
use print::Printer;

/// A script that stands alone, without what only its readers need.
pub(crate) fn lean(source: &str) -> Result<String> {
    let mut printer = Printer::default();
    for token in tokens::tokens(source)? {
        printer.token(token, None);
    }
    Ok(printer.done())
}
