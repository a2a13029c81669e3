//! Does what was asked: reads files, writes files, chooses the exit code.

use std::{
    fs,
    io::{self, Write},
    path::Path,
    process::ExitCode,
};

use risemark::{
    Plan, WallPlan, file,
    finding::{Finding, Severity, Staged},
    job::Job,
    language::{Language, Speech},
    plan, pour,
    quantity::Units,
    shoot, tape, wording,
};
use risemark_sheets::{OfNoWall, Orientation, Paper, SheetOptions, WallShots, sheets};

use crate::{
    args::{Command, Output, USAGE},
    foam, shots,
};

/// Everything is in order.
const GOOD: u8 = 0;
/// The plan has findings of severity stop.
const STOPPED: u8 = 1;
/// The input cannot be used.
const UNUSABLE: u8 = 2;

/// Runs a command; errors go to the standard error output, one a line.
pub(crate) fn run(command: &Command) -> ExitCode {
    let done = match command {
        Command::Help => print(USAGE).map(|()| GOOD),
        Command::Check { job } => with_plan(job, |job, plan| print(&findings(job, plan))),
        Command::Plan { job, output } => {
            with_plan(job, |job, plan| print(&printed(job, plan, *output)?))
        }
        Command::Foam { job, output } => {
            with_plan(job, |job, plan| print(&foam::printed(job, plan, *output)))
        }
        Command::Shots { job } => with_plan(job, |job, plan| print(&shots::printed(job, plan))),
        Command::Sheets { job, out, paper, reason } => {
            let done = with_plan(job, |job, plan| {
                write_sheets(job, plan, (out, *paper), reason.as_deref())
            });
            // Who gives a reason has read what stops the work.
            done.map(|code| if reason.is_some() { GOOD } else { code })
        }
    };
    match done {
        Ok(code) => code.into(),
        Err(message) => refuse(&message),
    }
}

/// Says why the input cannot be used.
pub(crate) fn refuse(message: &str) -> ExitCode {
    // Nothing is left to tell about a standard error output that is closed.
    let _ = writeln!(io::stderr(), "{}", message.trim_end());
    UNUSABLE.into()
}

fn with_plan(
    path: &Path,
    act: impl FnOnce(&Job, &Plan) -> Result<(), String>,
) -> Result<u8, String> {
    let text = fs::read(path).map_err(|error| format!("{}: {error}", path.display()))?;
    let text =
        String::from_utf8(text).map_err(|_| format!("{}: expected UTF-8 text", path.display()))?;
    let units = || file::units(&text).unwrap_or_default();
    let job = file::read(&text).map_err(|found| lines(&found, units()))?;
    let plan = plan(&job);
    act(&job, &plan)?;
    let stopped = plan.walls.iter().any(WallPlan::is_stopped);
    Ok(if stopped { STOPPED } else { GOOD })
}

fn print(text: &str) -> Result<(), String> {
    match io::stdout().write_all(text.as_bytes()) {
        // A reader that has seen enough, such as `head`, is no fault.
        Err(error) if error.kind() == io::ErrorKind::BrokenPipe => Ok(()),
        done => done.map_err(|error| format!("standard output: {error}")),
    }
}

fn findings(job: &Job, plan: &Plan) -> String {
    let poured = pour(job, plan);
    let shot = shoot(job, plan, &poured.product);
    let of_walls = plan.walls.iter().flat_map(|wall| &wall.findings);
    let found = of_walls.chain(&poured.findings).chain(&shot.findings);
    let marked = found.map(|finding| {
        let speech = Speech::english(plan.rules.units);
        let severity = wording::severity(finding.problem.severity()).of(speech.language);
        format!("{severity}: {}\n", wording::line(finding, speech))
    });
    let text: String = marked.collect();
    if text.is_empty() { "no findings\n".to_owned() } else { text }
}

fn lines(found: &[Finding], units: Units) -> String {
    let speech = Speech::english(units);
    let lines: Vec<String> = found.iter().map(|finding| wording::line(finding, speech)).collect();
    lines.join("\n")
}

fn printed(job: &Job, plan: &Plan, output: Output) -> Result<String, String> {
    match output {
        Output::Summary | Output::Csv => {
            Ok(plan.walls.iter().map(|wall| summary(wall, plan.rules.units)).collect())
        }
        Output::Json => {
            let poured = pour(job, plan);
            let shot = shoot(job, plan, &poured.product);
            let text = serde_json::to_string_pretty(&file::report(plan, &poured, Some(&shot)))
                .map_err(|error| error.to_string())?;
            Ok(text + "\n")
        }
    }
}

fn summary(wall: &WallPlan, units: Units) -> String {
    let heights: Vec<String> =
        wall.drill.snap_lines.iter().map(|line| tape::reading(*line, units)).collect();
    format!(
        "{}: {} holes in {} compartments, snap lines at {}\n",
        wall.wall.name,
        wall.drill.holes.len(),
        wall.compartments.len(),
        heights.join(", ")
    )
}

/// Writes the sheets of every wall, but of a wall that is stopped only for a reason.
fn write_sheets(
    job: &Job,
    plan: &Plan,
    (out, paper): (&Path, Paper),
    reason: Option<&str>,
) -> Result<(), String> {
    fs::create_dir_all(out).map_err(|error| fault(out, &error))?;
    let Staged { product: poured, findings: mut found } = pour(job, plan);
    let order = shoot(job, plan, &poured);
    found.extend(order.findings);
    for (idx, wall) in plan.walls.iter().enumerate() {
        if wall.is_stopped() && reason.is_none() {
            say_stopped(wall, plan.rules.units);
            continue;
        }
        let shots = WallShots::of(&poured.flow, &poured.walls[idx], Some((&order.product, idx)));
        let acknowledged = reason.filter(|_| wall.is_stopped()).map(str::to_owned);
        let options = SheetOptions {
            paper,
            orientation: Orientation::Auto,
            acknowledged,
            language: Language::English,
            shots: shots.with_findings(wall, &found, OfNoWall::at(idx, plan)),
        };
        for sheet in sheets(job, wall, &plan.rules, &options) {
            // Ids are the user's own text, and not every text is a file name.
            let path = out.join(format!("wall-{:02}-sheet-{}.svg", idx + 1, sheet.number));
            fs::write(&path, &sheet.svg).map_err(|error| fault(&path, &error))?;
            print(&format!("{}\n", path.display()))?;
        }
    }
    Ok(())
}

fn fault(path: &Path, error: &io::Error) -> String {
    format!("{}: {error}", path.display())
}

/// Says on the standard error output why a wall has no sheets, and what would give it some.
fn say_stopped(wall: &WallPlan, units: Units) {
    let stops = wall.findings.iter().filter(|found| found.problem.severity() == Severity::Stop);
    let speech = Speech::english(units);
    let mut text: String =
        stops.map(|stop| format!("stop: {}\n", wording::line(stop, speech))).collect();
    text += "no sheets of this wall; if you know and go on, say why with --i-know REASON\n";
    // Nothing is left to tell about a standard error output that is closed.
    let _ = io::stderr().write_all(text.as_bytes());
}
