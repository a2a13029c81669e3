//! `cargo xtask serve`: the app on this machine.

use std::thread;

use anyhow::{Context, Result};
use lexopt::ValueExt;
use xtask::server::Server;

use crate::Subcommand;
use crate::app::{self, Profile};

pub(crate) const SUBCOMMAND: Subcommand = Subcommand {
    name: "serve",
    purpose: "Build the app and serve it to this machine",
    help: "Usage: cargo xtask serve [--port N] [--dev]

Prints the address to open in a browser, and serves until it is interrupted.

  --port N   the port to listen on; 8080 unless told, 0 picks a free one
  --dev      compile quickly and without optimisation",
    run,
};

/// What the command line asks for.
struct Options {
    port: u16,
    profile: Profile,
}

fn run(args: lexopt::Parser) -> Result<()> {
    let options = parse(args)?;
    let app = app::build(options.profile)?;
    let server = Server::start(&app, options.port).with_context(|| {
        format!("cannot listen on port {}; try another with --port", options.port)
    })?;
    println!("Risemark is at {}", server.url());
    loop {
        // Only an interrupt ends this command; a parked thread may wake without cause, hence the loop.
        thread::park();
    }
}

fn parse(mut args: lexopt::Parser) -> Result<Options> {
    let mut options = Options { port: 8080, profile: Profile::Release };
    while let Some(arg) = args.next()? {
        match arg {
            lexopt::Arg::Long("port") => options.port = args.value()?.parse()?,
            lexopt::Arg::Long("dev") => options.profile = Profile::Dev,
            other => return Err(other.unexpected().into()),
        }
    }
    Ok(options)
}
