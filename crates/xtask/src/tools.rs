//! What a step needs beside cargo, and how it gets here when it is missing.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use anyhow::{Context, Result, bail, ensure};
use xtask::{paths, programs};

use crate::shell;

/// The target that the app is compiled for.
pub(crate) const WASM_TARGET: &str = "wasm32-unknown-unknown";

/// The accessibility checker; it is used in tests only and never shipped, so it is fetched, not committed.
const AXE: &str = "axe-core@4.14.1";

/// A Python package that carries the same checker, for machines without npm.
const AXE_IN_PYTHON: &str = "axe-playwright-python==0.1.8";

/// A program of the browser tests, by what people call it and by the names that its file may have.
type Wanted = (&'static str, &'static [&'static str]);

/// Programs of the browser tests that must be on the search path.
const BROWSER_PROGRAMS: [Wanted; 5] = [
    ("Chromium", programs::BROWSER),
    ("ChromeDriver", programs::DRIVER),
    ("pdftoppm", &["pdftoppm"]),
    ("pdftotext", &["pdftotext"]),
    ("pdftocairo", &["pdftocairo"]),
];

/// The packages of a system with those programs, and a font so that text has a shape.
type Packages = [&'static str; 4];

const DEBIAN_PACKAGES: Packages =
    ["chromium", "chromium-driver", "poppler-utils", "fonts-dejavu-core"];

const UBUNTU_PACKAGES: Packages =
    ["chromium-browser", "chromium-chromedriver", "poppler-utils", "fonts-dejavu-core"];

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
}

/// Makes sure that cargo can format and lint.
pub(crate) fn ensure_components() -> Result<()> {
    let works = |command: &str| shell::succeeds(&mut shell::cargo(&[command, "--version"]));
    let components = [("fmt", "rustfmt"), ("clippy", "clippy")].into_iter();
    let missing = components.filter(|(command, _)| !works(command)).map(|(_, component)| component);
    let mut command = vec!["component", "add"];
    command.extend(missing);
    if command.len() == 2 { Ok(()) } else { rustup(&command) }
}

/// Makes sure that the browser, its driver and the PDF readers of the browser tests are installed.
pub(crate) fn ensure_browser() -> Result<()> {
    let missing = missing_programs();
    if missing.is_empty() {
        return Ok(());
    }
    let packages = packages(&fs::read_to_string("/etc/os-release").unwrap_or_default());
    let advice = advice(&missing, packages);
    if !is_root_on_debian() {
        bail!(advice);
    }
    println!("installing what the browser tests need: {}", missing.join(", "));
    shell::run(Command::new("apt-get").args(["update", "-qq"])).context(advice.clone())?;
    let mut install = Command::new("apt-get");
    install.args(["install", "--yes", "-qq", "--no-install-recommends"]).args(packages);
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

/// Has rustup add a part of Rust; the error names the command in any case.
fn rustup(args: &[&str]) -> Result<()> {
    ensure!(
        programs::find(&["rustup"]).is_some(),
        "a part of Rust is missing: install rustup from https://rustup.rs, then run `rustup {}`",
        args.join(" ")
    );
    shell::run(Command::new("rustup").args(args).current_dir(paths::root()))
}

fn missing_programs() -> Vec<&'static str> {
    missing(|names| programs::find(names).is_some())
}

fn missing(is_there: impl Fn(&[&str]) -> bool) -> Vec<&'static str> {
    let programs = BROWSER_PROGRAMS.into_iter();
    programs.filter(|(_, names)| !is_there(names)).map(|(program, _)| program).collect()
}

/// What to install on a system, from the text with which it describes itself.
fn packages(os_release: &str) -> Packages {
    let is_ubuntu = os_release.lines().any(|line| line == "ID=ubuntu");
    if is_ubuntu { UBUNTU_PACKAGES } else { DEBIAN_PACKAGES }
}

fn advice(missing: &[&str], packages: Packages) -> String {
    format!(
        "the browser tests need {}; on Debian or Ubuntu run `apt-get install {}` as root, elsewhere install Chromium or Chrome, ChromeDriver and poppler-utils",
        missing.join(", "),
        packages.join(" ")
    )
}

fn is_root_on_debian() -> bool {
    let debian =
        Path::new("/etc/debian_version").exists() && programs::find(&["apt-get"]).is_some();
    debian && shell::output(Command::new("id").arg("-u")).is_ok_and(|user| user == "0")
}

fn fetch_axe() -> Result<()> {
    let script = paths::axe();
    let dir = script.parent().context("the checker's script has no folder")?;
    fs::create_dir_all(dir)?;
    let fetched =
        if programs::find(&["npm"]).is_some() { fetch_by_npm(dir) } else { fetch_by_pip(dir) }?;
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
    ensure!(programs::find(&["python3"]).is_some(), "there is neither npm nor python3 to fetch it");
    let mut pip = Command::new("python3");
    pip.args(["-m", "pip", "install", "--quiet", "--no-deps", "--upgrade"]);
    shell::output(pip.arg("--target").arg(dir).arg(AXE_IN_PYTHON))?;
    Ok(dir.join("axe_playwright_python/axe.min.js"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_missing_is_named_with_the_command_that_installs_it() {
        let nothing = missing(|_| false);
        assert_eq!(
            nothing,
            ["Chromium", "ChromeDriver", "pdftoppm", "pdftotext", "pdftocairo"],
            "all of it"
        );
        let no_driver = missing(|names| !names.contains(&"chromedriver"));
        let advice = advice(&no_driver, DEBIAN_PACKAGES);
        assert!(advice.starts_with("the browser tests need ChromeDriver;"), "{advice}");
        let command = "`apt-get install chromium chromium-driver poppler-utils fonts-dejavu-core`";
        assert!(advice.contains(command) && !advice.contains('\n'), "one line: {advice}");
        assert!(missing(|_| true).is_empty(), "nothing is missing");
    }

    #[test]
    fn each_system_has_its_own_packages() {
        assert_eq!(
            packages("NAME=\"Ubuntu\"\nID=ubuntu\nID_LIKE=debian\n"),
            UBUNTU_PACKAGES,
            "Ubuntu"
        );
        assert_eq!(packages("ID=debian\nVERSION_ID=\"12\"\n"), DEBIAN_PACKAGES, "Debian");
        assert_eq!(packages(""), DEBIAN_PACKAGES, "a system that says nothing");
    }
}
