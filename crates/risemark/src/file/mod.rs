//! Job files and plan reports: the only place that knows JSON.
//!
//! A job file is read strictly: everything that is wrong with it is said at once, each with its
//! place, what was found and what is expected. What is read is written back the same.

mod form;
mod notation;
mod report;
mod schema;
mod strict;
mod tree;
mod typed;

use std::{borrow::Cow, ops::Range};

use serde::{Deserialize, Serialize};

use crate::{
    check::check,
    finding::{Content, Finding, Place, Problem},
    job::{Job, Wall},
    limits,
    quantity::Units,
};

pub use notation::{mm, points};
pub use report::{
    ChanceReport, ChoiceReport, CompartmentReport, FindingReport, FoamReport, HoleReport,
    KitCountReport, KitsReport, MemberReport, OpeningReport, PlanReport, RuleReport, ShotReport,
    ShotsReport, SlopeReport, SprayedReport, WallReport, finding_report, report,
};
pub use schema::{job_schema, plan_schema};

use tree::Tree;

/// What stands in a job file.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct JobFile<'a> {
    /// Names the format.
    pub format: Format,
    /// The version of the format.
    #[schemars(extend("const" = 1))]
    pub version: u32,
    /// The job.
    pub job: Cow<'a, Job>,
}

/// The name of the format.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, schemars::JsonSchema)]
pub enum Format {
    /// A job file of this program.
    #[serde(rename = "risemark-job")]
    RisemarkJob,
}

/// The version of the format that is written.
pub const VERSION: u32 = 1;

/// What a line of a wall begins with in the file of its job.
const WALL_LINE: &str = "\n      ";

/// Reads a job file.
///
/// # Errors
/// Everything that is wrong with it, as findings of severity stop; never an empty list.
pub fn read(text: &str) -> Result<Job, Vec<Finding>> {
    if limits::FILE_BYTES < text.len() {
        let problem = Problem::FileTooLarge { found: text.len(), most: limits::FILE_BYTES };
        return Err(vec![Finding::new(Place::default(), problem)]);
    }
    from_tree(parsed(text).map_err(|error| vec![not_json(&error)])?)
}

/// In which units the people speak who wrote a job file, good or bad; `None` where it does not say.
///
/// What is wrong with a file is told in its own units.
pub fn units(text: &str) -> Option<Units> {
    let tree = parsed(text).ok()?;
    let Tree::Text(word) = tree.field("job")?.field("units")? else { return None };
    typed::typed(Tree::Text(word.clone())).ok()
}

/// Reads a job file that is part of the program and known to be sound; `None` when it is none.
///
/// Nothing is looked for that could be wrong with it, which would take most of the time.
pub fn read_sound(text: &str) -> Option<Job> {
    typed::typed(parsed(text).ok()?).ok().map(|file: JobFile<'_>| file.job.into_owned())
}

/// Reads a job file from any serde source, such as an object of the browser.
///
/// # Errors
/// Everything that is wrong with it, as findings of severity stop; never an empty list.
pub fn read_from<'de, D: serde::Deserializer<'de>>(source: D) -> Result<Job, Vec<Finding>> {
    let unexpected = |error: D::Error| {
        let found = Content::Written(error.to_string());
        let problem = Problem::Unexpected { found, expected: Content::Job };
        vec![Finding::new(Place::default(), problem)]
    };
    from_tree(Tree::deserialize(source).map_err(unexpected)?)
}

/// Writes a job file, one property a line.
///
/// # Errors
/// When the job does not fit into JSON; no job that was read or checked does that.
pub fn write(job: &Job) -> Result<String, String> {
    let file = JobFile { format: Format::RisemarkJob, version: VERSION, job: Cow::Borrowed(job) };
    let mut text = serde_json::to_string_pretty(&file).map_err(|error| error.to_string())?;
    text.push('\n');
    Ok(text)
}

/// Writes one wall as it stands in the file of its job.
///
/// # Errors
/// As [`write`].
pub fn write_wall(wall: &Wall) -> Result<String, String> {
    let text = serde_json::to_string_pretty(wall).map_err(|error| error.to_string())?;
    // A break within a text is written as a sign, so that each of these begins a line of the file.
    Ok(text.replace('\n', WALL_LINE))
}

/// Where the text of a wall lies that has a place in the text of its job's file, as [`write()`] writes it.
pub fn wall_around(text: &str, at: usize) -> Option<Range<usize>> {
    // Nothing else in a file is an object that begins and ends so far from the edge.
    let from = text.get(..at)?.rfind("\n      {\n")? + WALL_LINE.len();
    let last = at + text.get(at..)?.find("\n      }")?;
    Some(from..last + WALL_LINE.len() + "}".len())
}

fn parsed(text: &str) -> serde_json::Result<Tree<'_>> {
    serde_json::from_str(text.trim_start_matches('\u{feff}'))
}

fn from_tree(tree: Tree<'_>) -> Result<Job, Vec<Finding>> {
    if let Some(found) = newer(&tree) {
        let place = Place::default().field("version");
        return Err(vec![Finding::new(place, Problem::NewerFile { found, latest: VERSION })]);
    }
    let findings = strict::compare(&tree);
    if !findings.is_empty() {
        return Err(findings);
    }
    // The tree fits the schema, so that what is left to go wrong is a slip between the two.
    let file: JobFile<'_> = typed::typed(tree).map_err(|slip| {
        let problem = Problem::Unexpected {
            found: Content::Written(slip.to_string()),
            expected: Content::Job,
        };
        vec![Finding::new(Place::default(), problem)]
    })?;
    let job = file.job.into_owned();
    let findings = check(&job);
    if findings.is_empty() { Ok(job) } else { Err(findings) }
}

/// The version of a job file that is later than this program's: nothing else that may be wrong with it
/// is a fault.
fn newer(tree: &Tree<'_>) -> Option<f64> {
    let is_job = tree.field("format") == Some(&Tree::Text(Cow::Borrowed("risemark-job")));
    match tree.field("version") {
        Some(Tree::Number(version)) if is_job && f64::from(VERSION) < *version => Some(*version),
        _ => None,
    }
}

fn not_json(error: &serde_json::Error) -> Finding {
    let what = error.to_string();
    // The parser repeats the place behind its message.
    let what = what.split(" at line ").next().unwrap_or("no JSON").to_owned();
    Finding::new(
        Place::default(),
        Problem::NotJson { what, line: error.line(), column: error.column() },
    )
}
