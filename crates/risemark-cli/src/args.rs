//! Arguments as typed, checked, and ready to use.

use std::{
    ffi::{OsStr, OsString},
    path::PathBuf,
};

use lexopt::prelude::*;
use risemark::limits;
use risemark_sheets::Paper;

/// What the user asked for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Command {
    /// Print how to use the program.
    Help,
    /// Read a job and say what is wrong or worth knowing.
    Check {
        /// The job file.
        job: PathBuf,
    },
    /// Print the plan.
    Plan {
        /// The job file.
        job: PathBuf,
        /// As JSON, or as a summary.
        output: Output,
    },
    /// Print the foam, the seconds of each hole and what to buy.
    Foam {
        /// The job file.
        job: PathBuf,
        /// As text, or as a shopping list.
        output: Output,
    },
    /// Print the order of the shots as a list to be called out.
    Shots {
        /// The job file.
        job: PathBuf,
    },
    /// Write the marking sheets.
    Sheets {
        /// The job file.
        job: PathBuf,
        /// The folder to write into.
        out: PathBuf,
        /// The paper.
        paper: Paper,
        /// Why the sheets are wanted in spite of what stops the work.
        reason: Option<String>,
    },
}

/// How a plan is printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Output {
    /// A few lines a wall.
    Summary,
    /// The plan report.
    Json,
    /// A list for a spreadsheet.
    Csv,
}

/// How to use the program.
pub(crate) const USAGE: &str = "\
risemark check JOB                     read a job, print every finding
risemark plan JOB [--json]             print the plan
risemark foam JOB [--csv]              print seconds and kits, or the shopping list
risemark shots JOB                     print the order of the shots, to be called out
risemark sheets JOB --out DIR          write the marking sheets
                [--paper letter|a4|legal|tabloid|a3] [--format svg]
                [--i-know REASON]      of stopped walls too; the reason is printed on them

exit code: 0 good or known, 1 findings of severity stop, 2 unusable input
";

/// Reads the arguments, the program's name first.
///
/// # Errors
/// One line that says what was found and what is expected.
pub(crate) fn parse(args: impl IntoIterator<Item = OsString>) -> Result<Command, String> {
    let mut parser = lexopt::Parser::from_iter(args);
    let mut words: Vec<OsString> = Vec::new();
    let (mut output, mut out, mut paper) = (Output::Summary, None, Paper::Letter);
    let mut reason = None;
    while let Some(arg) = parser.next().map_err(|error| error.to_string())? {
        match arg {
            Short('h') | Long("help") => return Ok(Command::Help),
            Long("json") => output = Output::Json,
            Long("csv") => output = Output::Csv,
            Long("out") => out = Some(value(&mut parser)?),
            Long("paper") => paper = paper_of(&value(&mut parser)?)?,
            Long("i-know") => reason = Some(reason_of(&value(&mut parser)?)?),
            Long("format") => format_of(&value(&mut parser)?)?,
            Value(word) => words.push(word),
            other => return Err(other.unexpected().to_string()),
        }
    }
    let mut words = words.into_iter();
    let verb = words.next().unwrap_or_default();
    if verb.is_empty() || verb == "help" {
        return Ok(Command::Help);
    }
    let job =
        words.next().ok_or_else(|| "expected a job file after the command".to_owned())?.into();
    if let Some(extra) = words.next() {
        return Err(format!("found “{}”, expected nothing after the job file", extra.display()));
    }
    match verb.to_str() {
        Some("check") => Ok(Command::Check { job }),
        Some("plan") if output == Output::Csv => Err("found --csv, expected --json".to_owned()),
        Some("plan") => Ok(Command::Plan { job, output }),
        Some("foam") if output == Output::Json => {
            Err("found --json, expected --csv; plan --json holds the foam too".to_owned())
        }
        Some("foam") => Ok(Command::Foam { job, output }),
        Some("shots") => Ok(Command::Shots { job }),
        Some("sheets") => {
            let out = out
                .ok_or_else(|| "expected --out DIR, the folder for the sheets".to_owned())?
                .into();
            Ok(Command::Sheets { job, out, paper, reason })
        }
        _ => Err(format!(
            "found the command “{}”, expected check, plan, foam, shots or sheets",
            verb.display()
        )),
    }
}

fn value(parser: &mut lexopt::Parser) -> Result<OsString, String> {
    parser.value().map_err(|error| error.to_string())
}

fn paper_of(word: &OsString) -> Result<Paper, String> {
    match word.to_str() {
        Some("letter") => Ok(Paper::Letter),
        Some("a4") => Ok(Paper::A4),
        Some("legal") => Ok(Paper::Legal),
        Some("tabloid") => Ok(Paper::Tabloid),
        Some("a3") => Ok(Paper::A3),
        _ => Err(format!(
            "found the paper “{}”, expected letter, a4, legal, tabloid or a3",
            word.display()
        )),
    }
}

fn format_of(word: &OsString) -> Result<(), String> {
    if word == "svg" {
        return Ok(());
    }
    Err(format!("found the format “{}”, expected svg", word.display()))
}

/// A reason is printed, so it is held to what every printed text of a job is.
fn reason_of(word: &OsStr) -> Result<String, String> {
    let reason = word.to_str().unwrap_or_default().trim();
    let n_chars = reason.chars().count();
    if n_chars == 0 || limits::TEXT < n_chars || reason.chars().any(char::is_control) {
        return Err(format!(
            "found {n_chars} characters after --i-know, expected a reason of 1 to {} without line breaks",
            limits::TEXT
        ));
    }
    Ok(reason.to_owned())
}
