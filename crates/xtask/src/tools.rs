//! What a step needs beside cargo, and how it gets here when it is missing.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use anyhow::{Context, Result, bail, ensure};
use xtask::paths;

use crate::shell;

/// The target that the app is compiled for.
pub(crate) const WASM_TARGET: &str = "wasm32-unknown-unknown";

/// The accessibility checker; it is used in tests only and never shipped, so it is fetched, not committed.
const AXE: &str = "axe-core@4.14.1";

/// A Python package that carries the same checker, for machines without npm.
const AXE_IN_PYTHON: &str = "axe-playwright-python==0.1.8";

/// Programs of the browser tests that must be on the search path.
const BROWSER_PROGRAMS: [&str; 4] = ["chromium", "chromedriver", "pdftoppm", "pdftotext"];

/// The Debian packages with those programs, and a font so that text has a shape.
const DEBIAN_PACKAGES: [&str; 4] =
    ["chromium", "chromium-driver", "poppler-utils", "fonts-dejavu-core"];

/// Whether the accessibility checks can be made.
#[derive(Debug)]
pub(crate) enum Axe {
    /// The checker's script is in its place.
    Ready,
    /// It could not be fetched, for this reason.
    Missing(anyhow::Error),
}

/// Makes sure that the standard library for the browser is installed.
pub(crate) fn ensure_wasm_target() -> Result<()> {
    let libraries = shell::output(Command::new("rustc").args([
        "--print",
        "target-libdir",
        "--target",
        WASM_TARGET,
    ]))?;
    if Path::new(&libraries).is_dir() {
        return Ok(());
    }
    rustup(&["target", "add", WASM_TARGET])
        .with_context(|| format!("install the Rust standard library for {WASM_TARGET}"))
}

/// Makes sure that cargo can format and lint.
pub(crate) fn ensure_components() -> Result<()> {
    for component in ["fmt", "clippy"] {
        if shell::succeeds(&mut shell::cargo(&[component, "--version"])) {
            continue;
        }
        rustup(&["component", "add", "rustfmt", "clippy"])
            .context("install rustfmt and clippy for this Rust toolchain")?;
    }
    Ok(())
}

/// Makes sure that the browser, its driver and the PDF readers of the browser tests are installed.
pub(crate) fn ensure_browser() -> Result<()> {
    let missing = missing_programs();
    if missing.is_empty() {
        return Ok(());
    }
    let advice = format!(
        "the browser tests need {}; install Chromium, ChromeDriver and poppler-utils (Debian: apt-get install {})",
        missing.join(", "),
        DEBIAN_PACKAGES.join(" ")
    );
    if !is_root_on_debian() {
        bail!(advice);
    }
    println!("installing what the browser tests need: {}", missing.join(", "));
    shell::run(Command::new("apt-get").args(["update", "-qq"])).context(advice.clone())?;
    let mut install = Command::new("apt-get");
    install.args(["install", "--yes", "-qq", "--no-install-recommends"]).args(DEBIAN_PACKAGES);
    shell::run(install.env("DEBIAN_FRONTEND", "noninteractive")).context(advice.clone())?;
    ensure!(missing_programs().is_empty(), advice);
    Ok(())
}

/// Fetches the accessibility checker unless it is there already.
pub(crate) fn ensure_axe() -> Axe {
    if paths::axe().is_file() {
        return Axe::Ready;
    }
    match fetch_axe() {
        Ok(()) => Axe::Ready,
        Err(reason) => Axe::Missing(reason),
    }
}

fn rustup(args: &[&str]) -> Result<()> {
    ensure!(shell::find("rustup").is_some(), "there is no rustup to install it");
    shell::run(Command::new("rustup").args(args).current_dir(paths::root()))
}

fn missing_programs() -> Vec<&'static str> {
    BROWSER_PROGRAMS.into_iter().filter(|program| shell::find(program).is_none()).collect()
}

fn is_root_on_debian() -> bool {
    let debian = Path::new("/etc/debian_version").exists() && shell::find("apt-get").is_some();
    debian && shell::output(Command::new("id").arg("-u")).is_ok_and(|user| user == "0")
}

fn fetch_axe() -> Result<()> {
    let script = paths::axe();
    let dir = script.parent().context("the checker's script has no folder")?;
    fs::create_dir_all(dir)?;
    let fetched = if shell::find("npm").is_some() { fetch_by_npm(dir) } else { fetch_by_pip(dir) }?;
    fs::copy(&fetched, &script)
        .with_context(|| format!("{} holds no checker", fetched.display()))?;
    Ok(())
}

fn fetch_by_npm(dir: &Path) -> Result<PathBuf> {
    let mut npm = Command::new("npm");
    npm.args([
        "install",
        "--no-save",
        "--no-audit",
        "--no-fund",
        "--ignore-scripts",
        "--fetch-retries=1",
    ]);
    shell::output(npm.arg("--prefix").arg(dir).arg(AXE))?;
    Ok(dir.join("node_modules/axe-core/axe.min.js"))
}

fn fetch_by_pip(dir: &Path) -> Result<PathBuf> {
    ensure!(shell::find("python3").is_some(), "there is neither npm nor python3 to fetch it");
    let mut pip = Command::new("python3");
    pip.args(["-m", "pip", "install", "--quiet", "--no-deps", "--upgrade"]);
    shell::output(pip.arg("--target").arg(dir).arg(AXE_IN_PYTHON))?;
    Ok(dir.join("axe_playwright_python/axe.min.js"))
}
