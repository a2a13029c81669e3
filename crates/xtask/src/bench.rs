//! `cargo xtask bench`: measures the planner, here and in a browser.

use anyhow::{Result, bail};

use crate::{Subcommand, app, shell, tools};

pub(crate) const SUBCOMMAND: Subcommand = Subcommand {
    name: "bench",
    purpose: "Measure the planner and the app in release builds",
    help: "Usage: cargo xtask bench [FILTER]

Prints medians, and ratios within the run. On this machine:

  wall      plan, and plan and sheets, of the two-window wall of the workshop example
  lines     holes, snap lines and the share that is proven fewest, by class of walls
  many      planning 10 and 1000 mixed walls, per wall
  edit      planning one wall of 1000 anew
  file      reading 1000 walls, and refusing what is too large
  shots     how near the order of the shots comes to its bound, by size of the job

and in headless Chromium, for which it builds the app and an empty page of its framework:

  browser   plan and sheets by the JavaScript API, one edit, a drag, a job of 500 walls
            against one of a single wall, and the first picture of the app against that of the empty page

  FILTER    run only the measurements whose name contains this",
    run,
};

/// Measurements of the program that runs on this machine, which knows them by these names.
const HERE: [&str; 6] = ["wall", "lines", "many", "edit", "file", "shots"];

const BROWSER: &str = "browser";

fn run(mut args: lexopt::Parser) -> Result<()> {
    let mut filter = String::new();
    while let Some(arg) = args.next()? {
        match arg {
            lexopt::Arg::Value(value) => filter = value.to_string_lossy().into_owned(),
            other => return Err(other.unexpected().into()),
        }
    }
    let here = HERE.iter().any(|name| name.contains(&filter));
    let browser = BROWSER.contains(&filter);
    if !here && !browser {
        bail!("no measurement has “{filter}” in its name; they are {}, {BROWSER}", HERE.join(", "));
    }
    if here {
        measure_here(&filter)?;
    }
    if browser {
        measure_in_browser()?;
    }
    Ok(())
}

fn measure_here(filter: &str) -> Result<()> {
    let program = ["run", "--release", "--package", "risemark-tests", "--bin", "measure", "--"];
    shell::run(shell::cargo(&program).arg(filter))
}

fn measure_in_browser() -> Result<()> {
    tools::ensure_browser()?;
    app::build(app::Profile::Release)?;
    app::build_empty_page()?;
    // What is measured runs in the page, so that the driver of it needs no release build; the same
    // selection of packages as in the gate leaves cargo nothing to build anew.
    let packages = ["--workspace", "--exclude", "risemark-web"];
    let mut bench = shell::cargo(&["bench", "--profile", "dev", "--bench", BROWSER]);
    shell::run(bench.args(packages))
}
