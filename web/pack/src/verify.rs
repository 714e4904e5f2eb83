//! Installs what the tests need and runs all of them.

use crate::budget;
use crate::paths::top;
use crate::{site, wasm};
use anyhow::{Context as _, Result, ensure};
use std::fmt;
use std::fs::File;
use std::path::PathBuf;
use std::process::{Child, Command};
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

/// Runs every check; a line of them stops at the first that fails.
///
/// The code and what is packed of it are checked side by side, since one core
/// alone would compile for half of the time. The browsers come last, with both
/// cores to themselves.
///
/// What is compiled is compiled once: the build tool and its many crates are
/// tested as they run here, in the profile `tool`.
pub(crate) fn verify() -> Result<()> {
    println!("Where nothing is built yet, on two cores, some 25 minutes.");
    in_order("before", &needed())?;
    let packed = Beside::start("packed")?;
    let held = in_order("code", &of_the_code());
    packed.end()?;
    held?;
    in_order("browsers", &in_the_browsers())?;
    let worked = work_of_children();
    println!("\nAll checks hold; {worked:.0} CPU seconds, compiling this program with them.");
    Ok(())
}

/// One line of the checks; `verify` starts it beside itself.
pub(crate) fn verify_line(name: &str) -> Result<()> {
    ensure!(name == "packed", "no such line of checks: {name}");
    in_order(name, &of_what_is_packed())
}

fn in_order(line: &str, steps: &[Check]) -> Result<()> {
    let mut spent = Spent::default();
    for (at, step) in steps.iter().enumerate() {
        let what = format!("{line} {} of {}: {}", at + 1, steps.len(), step.name);
        println!("\n== {what}; {:.0} s so far", spent.seconds());
        let held = (step.run)().with_context(|| what);
        spent.note(step.name);
        if held.is_err() {
            println!("\n{spent}");
        }
        held?;
    }
    println!("\n{spent}");
    Ok(())
}

/// A line of checks in a process of its own, whose words are told at its end:
/// two at once cannot be read.
struct Beside {
    name: &'static str,
    process: Child,
    words: PathBuf,
}

impl Beside {
    fn start(name: &'static str) -> Result<Self> {
        let words = top().join("target").join(format!("{name}.log"));
        let file = File::create(&words)?;
        let process = Command::new(std::env::current_exe()?)
            .args(["verify", name])
            .stdout(file.try_clone()?)
            .stderr(file)
            .spawn()?;
        Ok(Self {
            name,
            process,
            words,
        })
    }

    fn end(mut self) -> Result<()> {
        let status = self.process.wait()?;
        println!("\n{}", std::fs::read_to_string(&self.words)?);
        ensure!(status.success(), "{}: ended with {status}", self.name);
        Ok(())
    }
}

/// One check.
struct Check {
    name: &'static str,
    run: fn() -> Result<()>,
}

const fn check(name: &'static str, run: fn() -> Result<()>) -> Check {
    Check { name, run }
}

fn needed() -> Vec<Check> {
    vec![check("what the tests need", install)]
}

fn of_the_code() -> Vec<Check> {
    vec![
        check("format", || cargo("fmt --all --check")),
        check("lints", || {
            cargo("clippy --locked --workspace --all-targets -- -D warnings")
        }),
        check("native tests", || {
            cargo("test --locked --workspace --exclude glasscall-pack")
        }),
        check("build tool", || {
            cargo("test --locked --profile tool --package glasscall-pack")
        }),
        check("docs", || {
            let docs = "doc --locked --no-deps --package glasscall-core --package glasscall-web";
            run(tool(env!("CARGO"), docs).env("RUSTDOCFLAGS", "-D warnings"))
        }),
        check("core without std", || {
            cargo(&format!(
                "build --locked --package glasscall-core --target {BARE_TARGET}"
            ))
        }),
        // What would be published of it is whole and compiles by itself.
        // Nothing leaves this machine.
        check("core as a crate", || {
            cargo("package --allow-dirty --locked --package glasscall-core")
        }),
    ]
}

fn of_what_is_packed() -> Vec<Check> {
    vec![
        check("page", || site::build().and_then(|()| budget::check())),
        check("page types", || npm("run types")),
        check("module", || npm("run module")),
        check("seam in Node", || run(in_node(&mut seam()))),
        check("seam in Chromium", || run(in_chromium(&mut seam()))),
    ]
}

fn in_the_browsers() -> Vec<Check> {
    vec![check("page in browsers", || npm("run browser"))]
}

/// Time gone and work done by the processors, from step to step.
struct Spent {
    began: Instant,
    /// What was done before: cargo compiled this program, other lines ran.
    worked: f64,
    rows: Vec<(&'static str, f64, f64)>,
}

impl Default for Spent {
    fn default() -> Self {
        Self {
            began: Instant::now(),
            worked: work_of_children(),
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
        let (mut before, mut worked) = (0.0, self.worked);
        for (name, seconds, work) in &self.rows {
            writeln!(
                to,
                "{name:24} {:8.0} {:12.0}",
                seconds - before,
                work - worked
            )?;
            (before, worked) = (*seconds, *work);
        }
        let worked = worked - self.worked;
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

fn tool(program: &str, args: &str) -> Command {
    let mut command = Command::new(program);
    command.current_dir(top()).args(args.split(' '));
    command
}

fn cargo(args: &str) -> Result<()> {
    run(&mut tool(env!("CARGO"), args))
}

fn npm(args: &str) -> Result<()> {
    run(tool("npm", args).current_dir(top().join("tests")))
}

/// The tests of the seam.
fn seam() -> Command {
    let target = wasm::TARGET;
    tool(
        env!("CARGO"),
        &format!("test --locked --package glasscall-web --target {target}"),
    )
}

/// Without those that need a browser: a canvas, a worker.
fn in_node(tests: &mut Command) -> &mut Command {
    tests.env("WASM_BINDGEN_TEST_ONLY_NODE", "1")
}

/// All of them, driven in a browser.
fn in_chromium(tests: &mut Command) -> &mut Command {
    tests
        .env("CHROMEDRIVER", found("chromedriver").unwrap_or_default())
        .env("WASM_BINDGEN_USE_BROWSER", "1")
}

fn install() -> Result<()> {
    wasm::add_target()?;
    run(&mut tool("rustup", &format!("target add {BARE_TARGET}")))?;
    if (BROWSER_PROGRAMS.iter()).any(|program| found(program).is_none()) {
        println!("Browsers from Debian's packages");
        run(&mut tool("apt-get", "update --quiet"))?;
        run(tool("apt-get", "install --yes --quiet").args(BROWSER_PACKAGES))?;
    }
    // Those of other platforms too: their licences are read.
    cargo("fetch --locked")?;
    npm("ci --no-audit --no-fund")
}

fn found(program: &str) -> Option<PathBuf> {
    let path = std::env::var_os("PATH")?;
    std::env::split_paths(&path)
        .map(|folder| folder.join(program))
        .find(|file| file.is_file())
}
