//! `cargo xtask bench`: measures the planner.

use anyhow::Result;

use crate::{Subcommand, shell};

pub(crate) const SUBCOMMAND: Subcommand = Subcommand {
    name: "bench",
    purpose: "Measure the planner in a release build",
    help: "Usage: cargo xtask bench [FILTER]

  FILTER   run only the measurements whose name contains this",
    run,
};

fn run(mut args: lexopt::Parser) -> Result<()> {
    let mut bench = shell::cargo(&["bench", "--package", "risemark-tests", "--benches", "--"]);
    while let Some(arg) = args.next()? {
        match arg {
            lexopt::Arg::Value(filter) => bench.arg(filter),
            other => return Err(other.unexpected().into()),
        };
    }
    shell::run(&mut bench)
}
