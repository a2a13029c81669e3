//! The program that cargo starts for a compiled WebAssembly test, in place of the test itself.
//!
//! `.cargo/config.toml` names it; nobody types it.

use std::ffi::OsString;
use std::iter;

use anyhow::Result;
use wasm_bindgen_cli::wasm_bindgen_test_runner::run_cli_with_args;

/// The subcommand's name, known to `.cargo/config.toml` too.
pub(crate) const NAME: &str = "wasm-test-runner";

/// Runs the tests of the module that `args` begins with, in a headless browser where they ask for one.
pub(crate) fn run(args: Vec<OsString>) -> Result<()> {
    run_cli_with_args(iter::once(NAME.into()).chain(args))
}
