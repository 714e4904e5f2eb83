//! Installs what the tests need and runs all of them.

use crate::budget;
use crate::paths::top;
use crate::{site, wasm};
use anyhow::{Context as _, Result, ensure};
use std::path::PathBuf;
use std::process::Command;

/// A target without a standard library: proof that `core` needs none.
const BARE_TARGET: &str = "thumbv7em-none-eabihf";
/// Debian's packages with the browsers that the tests drive, and a screen for
/// the one that cannot do without.
const BROWSER_PACKAGES: [&str; 6] = [
    "chromium",
    "chromium-driver",
    "firefox-esr",
    "webkit2gtk-driver",
    "xvfb",
    "xauth",
];
/// Programs of these packages.
const BROWSER_PROGRAMS: [&str; 6] = [
    "chromium",
    "chromedriver",
    "firefox-esr",
    "WebKitWebDriver",
    "xvfb-run",
    "xauth",
];

/// Runs every check in order and stops at the first that fails.
pub(crate) fn verify() -> Result<()> {
    install()?;
    step("format", cargo(&["fmt", "--all", "--check"]))?;
    let lint = [
        "clippy",
        "--locked",
        "--workspace",
        "--all-targets",
        "--",
        "-D",
        "warnings",
    ];
    step("lints", cargo(&lint))?;
    step("native tests", cargo(&["test", "--locked", "--workspace"]))?;
    let docs = [
        "doc",
        "--locked",
        "--no-deps",
        "--package",
        "glasscall-core",
        "--package",
        "glasscall-web",
    ];
    let mut docs = cargo(&docs);
    docs.env("RUSTDOCFLAGS", "-D warnings");
    step("docs", docs)?;
    let bare = [
        "build",
        "--locked",
        "--package",
        "glasscall-core",
        "--target",
        BARE_TARGET,
    ];
    step("core without std", cargo(&bare))?;
    step("page", site::build)?;
    step("bytes", budget::check)?;
    let seam = [
        "test",
        "--locked",
        "--package",
        "glasscall-web",
        "--target",
        "wasm32-unknown-unknown",
    ];
    step("seam in Node", cargo(&seam))?;
    step("seam in Chromium", in_chromium(cargo(&seam)))?;
    step("page types", npm(&["run", "types"]))?;
    step("module and page", npm(&["test"]))?;
    Ok(())
}

/// Something that can be run as a step.
trait Step {
    fn run(self) -> Result<()>;
}

impl Step for Command {
    fn run(mut self) -> Result<()> {
        let status = self.status().with_context(|| format!("{self:?}"))?;
        ensure!(status.success(), "{self:?} ended with {status}");
        Ok(())
    }
}

impl<F: FnOnce() -> Result<()>> Step for F {
    fn run(self) -> Result<()> {
        self()
    }
}

fn step(name: &str, action: impl Step) -> Result<()> {
    println!("\n== {name}");
    action.run().with_context(|| name.to_owned())
}

fn cargo(args: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO"));
    command.current_dir(top()).args(args);
    command
}

fn npm(args: &[&str]) -> Command {
    let mut command = Command::new("npm");
    command.current_dir(top().join("tests")).args(args);
    command
}

/// The same seam tests again, driven in a browser.
fn in_chromium(mut tests: Command) -> Command {
    tests
        .env("CHROMEDRIVER", found("chromedriver").unwrap_or_default())
        .env("WASM_BINDGEN_USE_BROWSER", "1");
    tests
}

fn install() -> Result<()> {
    wasm::add_target()?;
    let target = Command::new("rustup")
        .args(["target", "add", BARE_TARGET])
        .status();
    ensure!(
        target.is_ok_and(|status| status.success()),
        "cannot add {BARE_TARGET}"
    );
    if (BROWSER_PROGRAMS.iter()).any(|program| found(program).is_none()) {
        let mut update = Command::new("apt-get");
        update.args(["update", "--quiet"]);
        step("package list", update)?;
        let mut install = Command::new("apt-get");
        install
            .args(["install", "--yes", "--quiet"])
            .args(BROWSER_PACKAGES);
        step("browsers", install)?;
    }
    // Those of other platforms too: their licences are read.
    step("crates", cargo(&["fetch", "--locked"]))?;
    step(
        "page test packages",
        npm(&["ci", "--no-audit", "--no-fund"]),
    )
}

fn found(program: &str) -> Option<PathBuf> {
    let path = std::env::var_os("PATH")?;
    std::env::split_paths(&path)
        .map(|folder| folder.join(program))
        .find(|file| file.is_file())
}
