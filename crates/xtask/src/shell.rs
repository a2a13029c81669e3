//! Other programs: how they are found, started and reported.

use std::env;
use std::path::PathBuf;
use std::process::{Command, Stdio};

use anyhow::{Context, Result, bail};
use xtask::paths;

/// A cargo command in the checkout, by the cargo that started this tool.
pub(crate) fn cargo(args: &[&str]) -> Command {
    let program = env::var_os("CARGO").unwrap_or_else(|| "cargo".into());
    let mut command = Command::new(program);
    command.args(args).current_dir(paths::root());
    command
}

/// Runs a command with its output shown; anything but success is an error.
pub(crate) fn run(command: &mut Command) -> Result<()> {
    let name = describe(command);
    let status = command.status().with_context(|| format!("cannot start `{name}`"))?;
    if !status.success() {
        bail!("`{name}` failed ({status})");
    }
    Ok(())
}

/// Whether a command can be started and succeeds; its output is not shown.
pub(crate) fn succeeds(command: &mut Command) -> bool {
    let silent = command.stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null());
    silent.status().is_ok_and(|status| status.success())
}

/// What a successful command printed, without the white space around it.
pub(crate) fn output(command: &mut Command) -> Result<String> {
    let name = describe(command);
    let output = command.output().with_context(|| format!("cannot start `{name}`"))?;
    if !output.status.success() {
        bail!("`{name}` failed ({}): {}", output.status, String::from_utf8_lossy(&output.stderr));
    }
    Ok(String::from_utf8_lossy(&output.stdout).trim().to_owned())
}

fn describe(command: &Command) -> String {
    let program = PathBuf::from(command.get_program());
    let mut text = program.file_name().unwrap_or(program.as_os_str()).display().to_string();
    for arg in command.get_args() {
        text += &format!(" {}", arg.display());
    }
    text
}
