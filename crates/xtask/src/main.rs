//! Builds, serves, tests and measures the project: `cargo xtask --help`.
#![allow(
    clippy::print_stdout,
    clippy::print_stderr,
    reason = "a command line tool speaks to its user through these"
)]

mod app;
mod arrange;
mod bench;
mod dist;
mod fuzz;
mod golden;
mod join;
mod precache;
mod runner;
mod serve;
mod shell;
mod split;
mod test;
mod tools;

use std::env;
use std::ffi::OsString;
use std::process::ExitCode;

use anyhow::Result;

/// One subcommand: its line in the overview, its own help, and what it does.
struct Subcommand {
    name: &'static str,
    purpose: &'static str,
    help: &'static str,
    run: fn(lexopt::Parser) -> Result<()>,
}

/// All subcommands in the order of the overview.
const SUBCOMMANDS: [&Subcommand; 7] = [
    &serve::SUBCOMMAND,
    &test::SUBCOMMAND,
    &golden::SUBCOMMAND,
    &bench::SUBCOMMAND,
    &fuzz::SUBCOMMAND,
    &app::SUBCOMMAND,
    &dist::SUBCOMMAND,
];

fn main() -> ExitCode {
    let args: Vec<OsString> = env::args_os().skip(1).collect();
    match dispatch(args) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("error: {error:#}");
            ExitCode::FAILURE
        }
    }
}

fn dispatch(mut args: Vec<OsString>) -> Result<()> {
    if args.is_empty() {
        println!("{}", overview());
        return Ok(());
    }
    let name = args.remove(0);
    if name == runner::NAME {
        return runner::run(args);
    }
    if ["--help", "-h", "help"].iter().any(|help| name == *help) {
        println!("{}", overview());
        return Ok(());
    }
    let Some(subcommand) = SUBCOMMANDS.iter().find(|subcommand| name == subcommand.name) else {
        anyhow::bail!("unknown subcommand `{}`; `cargo xtask --help` lists all", name.display());
    };
    if args.iter().any(|arg| arg == "--help" || arg == "-h") {
        println!("{}\n\n{}", subcommand.purpose, subcommand.help);
        return Ok(());
    }
    (subcommand.run)(lexopt::Parser::from_args(args))
}

fn overview() -> String {
    let mut text = "Usage: cargo xtask SUBCOMMAND [OPTIONS]\n\n".to_owned();
    for subcommand in SUBCOMMANDS {
        text += &format!("  {:<8}{}\n", subcommand.name, subcommand.purpose);
    }
    text + "\n`cargo xtask SUBCOMMAND --help` tells more about one of them."
}
