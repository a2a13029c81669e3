//! `cargo xtask fuzz`: hands spoilt job files to the reader and the planner.

use anyhow::Result;
use lexopt::ValueExt;

use crate::{Subcommand, shell};

pub(crate) const SUBCOMMAND: Subcommand = Subcommand {
    name: "fuzz",
    purpose: "Hand spoilt job files to the reader and the planner",
    help: "Usage: cargo xtask fuzz [--seconds N] [--seed N]

Spoils the example jobs at random: bits, stretches, tokens, nesting, numbers. Fails when an input makes
the program panic or take long, or when an accepted job does not come back the same from its own file,
and leaves such inputs in target/fuzz.

  --seconds N   how long to go on; 60 unless told
  --seed N      spoils in another way; 1911 unless told",
    run,
};

fn run(mut args: lexopt::Parser) -> Result<()> {
    let (mut seconds, mut seed): (u64, u64) = (60, 1911);
    while let Some(arg) = args.next()? {
        match arg {
            lexopt::Arg::Long("seconds") => seconds = args.value()?.parse()?,
            lexopt::Arg::Long("seed") => seed = args.value()?.parse()?,
            other => return Err(other.unexpected().into()),
        }
    }
    // With the assertions of the dev profile, so that a sum that overflows is a panic.
    let mut fuzz = shell::cargo(&["run", "--package", "risemark-tests", "--bin", "fuzz", "--"]);
    shell::run(fuzz.args([seconds.to_string(), seed.to_string()]))
}
