//! `cargo xtask test`: the whole gate, from formatting to the browser.

use std::env;
use std::time::Instant;

use anyhow::{Context, Result};
use xtask::{paths, programs};

use crate::app::{self, Profile};
use crate::tools::{self, Axe};
use crate::{Subcommand, dist, runner, shell};

pub(crate) const SUBCOMMAND: Subcommand = Subcommand {
    name: "test",
    purpose: "Run the whole gate: format, lints, all tests",
    help: "Usage: cargo xtask test

Runs in this order and stops at the first failure: format, lints for this machine and for the browser,
tests on this machine, tests of the app in a browser, release build, its size, tests of the page in a
browser.
Installs what it needs where it can, otherwise it says what to install.",
    run,
};

/// A step of the gate: its heading and what it does.
type Step = (&'static str, fn() -> Result<()>);

const STEPS: [Step; 9] = [
    ("tools", prepare),
    ("format", || cargo(&["fmt", "--all", "--", "--check"])),
    ("lints, this machine", lint_native),
    ("lints, browser", lint_wasm),
    ("tests, this machine", test_native),
    ("tests, app in a browser", test_wasm),
    ("release build", || app::build(Profile::Release).map(drop)),
    ("size before the first picture", || dist::hold_budget(&paths::app())),
    ("tests, page in a browser", test_page),
];

/// The one package that is made for the browser; most of it is left out on this machine.
const APP: &str = "risemark-web";

fn run(mut args: lexopt::Parser) -> Result<()> {
    if let Some(arg) = args.next()? {
        return Err(arg.unexpected().into());
    }
    for (heading, step) in STEPS {
        println!("\n==> {heading}");
        let start = Instant::now();
        step().with_context(|| format!("the gate stopped at `{heading}`"))?;
        println!("    {:.1} s", start.elapsed().as_secs_f64());
    }
    Ok(())
}

fn prepare() -> Result<()> {
    tools::ensure_components()?;
    tools::ensure_wasm_target()?;
    tools::ensure_browser()?;
    if let Axe::Missing(reason) = tools::ensure_axe() {
        println!(
            "skipped: the accessibility checks, since their checker cannot be fetched: {reason:#}"
        );
    }
    Ok(())
}

fn cargo(args: &[&str]) -> Result<()> {
    shell::run(&mut shell::cargo(args))
}

fn lint_native() -> Result<()> {
    cargo(&["clippy", "--workspace", "--exclude", APP, "--all-targets", "--", "-D", "warnings"])?;
    // Cargo's "all targets" leaves out a test that `cargo test` leaves out.
    cargo(&["clippy", "--workspace", "--exclude", APP, "--test", "browser", "--", "-D", "warnings"])
}

fn lint_wasm() -> Result<()> {
    cargo(&[
        "clippy",
        "-p",
        APP,
        "--target",
        tools::WASM_TARGET,
        "--all-targets",
        "--features",
        "split",
        "--",
        "-D",
        "warnings",
    ])
}

/// The app's own tests of what needs no browser run here too: a browser runs only those made for it.
fn test_native() -> Result<()> {
    cargo(&["test", "--workspace", "--exclude", APP])?;
    cargo(&["test", "--package", APP, "--lib"])
}

fn test_wasm() -> Result<()> {
    let this = env::current_exe().context("cannot find this program's own file")?;
    let mut tests = shell::cargo(&["test", "--package", APP, "--target", tools::WASM_TARGET]);
    // Names this very program instead of letting cargo look for it and build it again.
    tests.env(
        "CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_RUNNER",
        format!("{} {}", this.display(), runner::NAME),
    );
    if let Some(driver) = programs::find(programs::DRIVER) {
        // Another browser's driver on the search path would be taken first.
        tests.env("CHROMEDRIVER", driver);
    }
    // The driver's own five seconds to start are short for a busy machine.
    shell::run(
        tests.env("WASM_BINDGEN_TEST_DRIVER_TIMEOUT", "60").env("WASM_BINDGEN_TEST_TIMEOUT", "120"),
    )
}

/// The same selection of packages as on this machine, so that cargo has nothing to build anew.
fn test_page() -> Result<()> {
    cargo(&["test", "--workspace", "--exclude", APP, "--test", "browser"])
}
