//! Builds, serves and checks Glasscall: the only build tool.

mod budget;
mod charts;
mod embed;
mod files;
mod halves;
mod lean;
mod package;
mod page;
mod paths;
mod release;
mod screens;
mod script;
mod serve;
mod served;
mod single;
mod site;
mod verify;
mod wasm;
mod words;

use anyhow::{Result, bail};

fn main() -> Result<()> {
    let mut args = std::env::args();
    let program = args.next().unwrap_or_default();
    match args.next().as_deref() {
        Some("build") => site::build(),
        Some("serve") => {
            site::build()?;
            serve::serve(args.next().as_deref())
        }
        Some("release") => {
            site::build()?;
            release::release()
        }
        // What the tests start: a module to compare with, and what is built served.
        Some("scalar") => match args.next() {
            Some(folder) => wasm::write_without_vectors(folder.as_ref()),
            None => bail!("scalar needs a folder"),
        },
        Some("speak") => match (args.next(), args.next()) {
            (Some(language), Some(out)) => {
                site::build_with_language(language.as_ref(), out.as_ref())
            }
            _ => bail!("speak needs the folder of a language and one to build into"),
        },
        Some("weigh") => budget::check(),
        Some("host") => serve::serve(args.next().as_deref()),
        Some("verify") => match args.next() {
            Some(line) => verify::verify_line(&line),
            None => verify::verify(),
        },
        Some("runner") => wasm_bindgen_cli::wasm_bindgen_test_runner::run_cli_with_args(
            std::iter::once(program).chain(args),
        ),
        _ => bail!("one of: build, serve [port], release, weigh, verify, runner"),
    }
}
