//! The command line of the planner: `risemark check`, `plan`, `foam`, `shots` and `sheets`.

mod args;
mod foam;
mod run;
mod shots;

use std::process::ExitCode;

fn main() -> ExitCode {
    match args::parse(std::env::args_os()) {
        Ok(command) => run::run(&command),
        Err(message) => run::refuse(&message),
    }
}
