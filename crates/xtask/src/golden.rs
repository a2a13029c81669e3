//! `cargo xtask golden`: takes today's output as what is expected from now on.

use std::process::Command;

use anyhow::Result;
use xtask::paths;

use crate::{Subcommand, shell};

pub(crate) const SUBCOMMAND: Subcommand = Subcommand {
    name: "golden",
    purpose: "Accept changed golden files",
    help: "Usage: cargo xtask golden

Reruns the golden tests and lets them overwrite the files that they compare with, then lists what
changed. Look at the difference before committing it.",
    run,
};

fn run(mut args: lexopt::Parser) -> Result<()> {
    if let Some(arg) = args.next()? {
        return Err(arg.unexpected().into());
    }
    let mut tests = shell::cargo(&[
        "test",
        "--package",
        "risemark-tests",
        "--test",
        "golden",
        "--test",
        "sheets",
    ]);
    shell::run(tests.env("RISEMARK_GOLDEN", "accept"))?;
    let mut status = Command::new("git");
    status.args(["status", "--short", "tests/golden", "examples"]).current_dir(paths::root());
    let changes = shell::output(&mut status)?;
    if changes.is_empty() {
        println!("no golden file changed");
        return Ok(());
    }
    println!("changed golden files, to be looked at and committed:\n{changes}");
    Ok(())
}
