//! Installs what the tests need and runs all of them.

use crate::budget;
use crate::paths::top;
use crate::{site, wasm};
use anyhow::{Context as _, Result, ensure};
use std::fmt;
use std::path::PathBuf;
use std::process::Command;
use std::time::Instant;

/// A target without a standard library: proof that `core` needs none.
const BARE_TARGET: &str = "thumbv7em-none-eabihf";
/// Debian's packages with the browsers that the tests drive, and a screen for
/// the one that cannot do without.
const BROWSER_PACKAGES: [&str; 7] = [
    "chromium",
    "chromium-headless-shell",
    "chromium-driver",
    "firefox-esr",
    "webkit2gtk-driver",
    "xvfb",
    "xauth",
];
/// Programs of these packages.
const BROWSER_PROGRAMS: [&str; 7] = [
    "chromium",
    "chromium-headless-shell",
    "chromedriver",
    "firefox-esr",
    "WebKitWebDriver",
    "xvfb-run",
    "xauth",
];

/// Runs every check in order and stops at the first that fails.
///
/// What is compiled is compiled once: the build tool and its many crates are
/// tested as they run here, in the profile `tool`.
pub(crate) fn verify() -> Result<()> {
    let steps = steps();
    let mut spent = Spent::default();
    println!(
        "{} checks; where nothing is built yet, on two cores, some {} minutes.",
        steps.len(),
        steps.iter().map(|step| step.minutes).sum::<u32>()
    );
    for (at, step) in steps.iter().enumerate() {
        let what = format!("{} of {}: {}", at + 1, steps.len(), step.name);
        println!(
            "\n== {what}: about {} min; {:.0} s so far",
            step.minutes,
            spent.seconds()
        );
        let held = (step.run)().with_context(|| what);
        spent.note(step.name);
        if held.is_err() {
            println!("\n{spent}");
        }
        held?;
    }
    println!("\nAll checks hold.\n{spent}");
    Ok(())
}

/// One check.
struct Check {
    name: &'static str,
    /// How long it takes where nothing is built yet.
    minutes: u32,
    run: fn() -> Result<()>,
}

fn steps() -> Vec<Check> {
    let step = |name, minutes, run| Check { name, minutes, run };
    vec![
        step("what the tests need", 1, install),
        step("format", 1, || cargo(&["fmt", "--all", "--check"])),
        step("lints", 2, || {
            cargo(&[
                "clippy",
                "--locked",
                "--workspace",
                "--all-targets",
                "--",
                "-D",
                "warnings",
            ])
        }),
        step("native tests", 4, || {
            cargo(&[
                "test",
                "--locked",
                "--workspace",
                "--exclude",
                "glasscall-pack",
            ])
        }),
        step("build tool", 1, || {
            cargo(&[
                "test",
                "--locked",
                "--profile",
                "tool",
                "--package",
                "glasscall-pack",
            ])
        }),
        step("docs", 1, || {
            let docs = [
                "doc",
                "--locked",
                "--no-deps",
                "--package",
                "glasscall-core",
                "--package",
                "glasscall-web",
            ];
            run(tool(env!("CARGO"), &docs).env("RUSTDOCFLAGS", "-D warnings"))
        }),
        step("core without std", 1, || {
            cargo(&[
                "build",
                "--locked",
                "--package",
                "glasscall-core",
                "--target",
                BARE_TARGET,
            ])
        }),
        step("core as a crate", 1, crate_of_its_own),
        step("page", 1, || site::build().and_then(|()| budget::check())),
        step("seam in Node", 1, || run(&mut seam())),
        step("seam in Chromium", 1, || run(in_chromium(&mut seam()))),
        step("page types", 1, || npm(&["run", "types"])),
        step("module", 2, || npm(&["run", "module"])),
        step("page in browsers", 10, || npm(&["run", "browser"])),
    ]
}

/// Time gone and work done by the processors, from step to step.
struct Spent {
    began: Instant,
    rows: Vec<(&'static str, f64, f64)>,
}

impl Default for Spent {
    fn default() -> Self {
        Self {
            began: Instant::now(),
            rows: Vec::new(),
        }
    }
}

impl Spent {
    fn seconds(&self) -> f64 {
        self.began.elapsed().as_secs_f64()
    }

    fn note(&mut self, name: &'static str) {
        self.rows.push((name, self.seconds(), work_of_children()));
    }
}

impl fmt::Display for Spent {
    fn fmt(&self, to: &mut fmt::Formatter<'_>) -> fmt::Result {
        writeln!(to, "{:24} {:>8} {:>12}", "step", "seconds", "CPU seconds")?;
        let (mut before, mut worked) = (0.0, 0.0);
        for (name, seconds, work) in &self.rows {
            writeln!(
                to,
                "{name:24} {:8.0} {:12.0}",
                seconds - before,
                work - worked
            )?;
            (before, worked) = (*seconds, *work);
        }
        write!(to, "{:24} {before:8.0} {worked:12.0}", "in all")
    }
}

/// Seconds that the processors worked for everything this program started and
/// waited for; zero where the system does not say (`man 5 proc`, fields 16 and
/// 17, in hundredths).
fn work_of_children() -> f64 {
    let stat = std::fs::read_to_string("/proc/self/stat").unwrap_or_default();
    // The program's name, in brackets, may hold anything.
    let after_name = stat.rsplit(')').next().unwrap_or_default();
    let fields: Vec<f64> = (after_name.split_whitespace().skip(13).take(2))
        .filter_map(|field| field.parse().ok())
        .collect();
    fields.iter().sum::<f64>() / 100.0
}

fn run(command: &mut Command) -> Result<()> {
    let status = command.status().with_context(|| format!("{command:?}"))?;
    ensure!(status.success(), "{command:?} ended with {status}");
    Ok(())
}

fn tool(program: &str, args: &[&str]) -> Command {
    let mut command = Command::new(program);
    command.current_dir(top()).args(args);
    command
}

fn cargo(args: &[&str]) -> Result<()> {
    run(&mut tool(env!("CARGO"), args))
}

fn npm(args: &[&str]) -> Result<()> {
    run(tool("npm", args).current_dir(top().join("tests")))
}

/// The tests of the seam.
fn seam() -> Command {
    tool(
        env!("CARGO"),
        &[
            "test",
            "--locked",
            "--package",
            "glasscall-web",
            "--target",
            wasm::TARGET,
        ],
    )
}

/// The same seam tests again, driven in a browser.
fn in_chromium(tests: &mut Command) -> &mut Command {
    tests
        .env("CHROMEDRIVER", found("chromedriver").unwrap_or_default())
        .env("WASM_BINDGEN_USE_BROWSER", "1")
}

fn install() -> Result<()> {
    wasm::add_target()?;
    run(&mut tool("rustup", &["target", "add", BARE_TARGET]))?;
    if (BROWSER_PROGRAMS.iter()).any(|program| found(program).is_none()) {
        println!("Browsers from Debian's packages");
        run(&mut tool("apt-get", &["update", "--quiet"]))?;
        let mut install = tool("apt-get", &["install", "--yes", "--quiet"]);
        run(install.args(BROWSER_PACKAGES))?;
    }
    // Those of other platforms too: their licences are read.
    cargo(&["fetch", "--locked"])?;
    npm(&["ci", "--no-audit", "--no-fund"])
}

/// What would be published of `core` is whole and compiles by itself. Nothing
/// leaves this machine.
fn crate_of_its_own() -> Result<()> {
    let package = ["package", "--allow-dirty", "--locked"];
    cargo(&[&package[..], &["--package", "glasscall-core"]].concat())
}

fn found(program: &str) -> Option<PathBuf> {
    let path = std::env::var_os("PATH")?;
    std::env::split_paths(&path)
        .map(|folder| folder.join(program))
        .find(|file| file.is_file())
}
