//! The program that steers the browser, one for each test.

use std::io::{BufRead, BufReader};
use std::path::Path;
use std::process::{Child, ChildStdout, Command, Stdio};

use anyhow::{Context, Result};
use xtask::programs;

/// A running `chromedriver`; it and the browser it started end when this is dropped.
#[derive(Debug)]
pub(crate) struct ChromeDriver {
    process: Child,
    /// Kept open, since a program whose output has no reader is ended by its next line.
    _output: BufReader<ChildStdout>,
    port: u16,
}

/// What the program says where it has picked a port of one kind of address that another program has of
/// the other kind.
const PORT_TAKEN: &str = "port not available";

/// How often it may pick again.
const N_TRIES: usize = 5;

impl ChromeDriver {
    /// Starts the program on a port that it picks itself.
    pub(crate) fn start() -> Result<Self> {
        let driver = programs::find(programs::DRIVER)
            .context("there is no chromedriver; `cargo xtask test` installs it or says how")?;
        let mut started = Self::start_once(&driver);
        for _ in 1..N_TRIES {
            match &started {
                Err(error) if error.to_string().contains(PORT_TAKEN) => {
                    started = Self::start_once(&driver);
                }
                _ => break,
            }
        }
        started
    }

    fn start_once(driver: &Path) -> Result<Self> {
        let mut process = command(driver)
            .arg("--port=0")
            .stdin(Stdio::null())
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .with_context(|| format!("cannot start {}", driver.display()))?;
        let output = process.stdout.take().context("chromedriver has no output")?;
        let mut output = BufReader::new(output);
        let port = match announced_port(&mut output) {
            Ok(port) => port,
            Err(error) => {
                end(&mut process);
                return Err(error);
            }
        };
        Ok(Self { process, _output: output, port })
    }

    /// Where it takes commands.
    pub(crate) fn url(&self) -> String {
        format!("http://127.0.0.1:{}", self.port)
    }
}

impl Drop for ChromeDriver {
    fn drop(&mut self) {
        end(&mut self.process);
    }
}

/// With `setpriv` the kernel ends the program together with the test's thread, however the test ends.
///
/// Elsewhere it ends by `Drop`, or by the interrupt that the terminal sends to it as well.
fn command(driver: &Path) -> Command {
    if programs::find(&["setpriv"]).is_none() {
        return Command::new(driver);
    }
    let mut command = Command::new("setpriv");
    command.args(["--pdeathsig", "KILL"]).arg(driver);
    command
}

/// The program says on its output which port it took, or ends with a reason.
fn announced_port(output: &mut impl BufRead) -> Result<u16> {
    let mut said = String::new();
    while output.read_line(&mut said)? > 0 {
        let last = said.lines().last().unwrap_or_default();
        let Some((_, port)) = last.split_once("started successfully on port ") else {
            continue;
        };
        return port.trim_end_matches('.').parse().with_context(|| format!("no port in `{last}`"));
    }
    anyhow::bail!("chromedriver ended at once and said: {said}")
}

fn end(process: &mut Child) {
    // Fails only for a process that has ended already. The browser hangs on a pipe to the driver and
    // ends with it.
    let _ = process.kill();
    let _ = process.wait();
}
