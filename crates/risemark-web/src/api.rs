//! The functions for other pages: plain objects in, plain objects out.
//!
//! A job is what a job file holds; a plan is what the command line writes. Errors are thrown as an
//! `Error` whose `findings` are the same that the command line prints.

use std::{borrow::Cow, cell::RefCell};

use js_sys::{JSON, Object, Reflect};
use risemark::{
    Plan,
    drilling::Effort,
    file::{self, FindingReport, finding_report},
    finding::{Content, Finding, Place, Problem, Severity, Staged},
    foam::{PourPlan, pour_wall},
    job::{Job, ShotSpace},
    language::{Language, Speech},
    plan::WallPlan,
    plan_wall,
    quantity::Units,
    rules::Rules,
    shots::ShotPlan,
};
use risemark_sheets::{OfNoWall, Orientation, Paper, Sheet, SheetOptions, WallShots, sheets};
use serde::{Deserialize, Serialize, de::DeserializeOwned};
use serde_wasm_bindgen::Serializer;
use wasm_bindgen::prelude::{JsError, JsValue, wasm_bindgen};

use crate::rest::{Rest, rest};

/// The types of what goes in and out, for TypeScript.
pub const TYPES: &str = include_str!("api.d.ts");

#[wasm_bindgen(typescript_custom_section)]
const TYPES_SECTION: &str = include_str!("api.d.ts");

/// What other pages call; see [`plan()`].
///
/// # Errors
/// Throws what [`plan()`] throws, and an error where the rest of the app cannot be loaded.
#[wasm_bindgen(js_name = plan, skip_typescript)]
pub async fn plan_later(job: JsValue, options: JsValue) -> Result<JsValue, JsValue> {
    (loaded().await?.plan)(&job, &options)
}

/// What other pages call; see [`sheet`].
///
/// # Errors
/// Throws what [`sheet`] throws, and an error where the rest of the app cannot be loaded.
#[wasm_bindgen(js_name = sheet, skip_typescript)]
pub async fn sheet_later(
    job: JsValue,
    wall_id: String,
    options: JsValue,
) -> Result<JsValue, JsValue> {
    (loaded().await?.sheet)(&job, &wall_id, &options)
}

async fn loaded() -> Result<&'static Rest, JsValue> {
    rest().await.map_err(|missing| JsError::from(missing).into())
}

/// Plans a job, with the order of its shots unless the options leave it out.
///
/// # Errors
/// Throws everything that is wrong with the job or the options.
pub fn plan(job: &JsValue, options: &JsValue) -> Result<JsValue, JsValue> {
    let text = text(job)?;
    KNOWN.with_borrow_mut(|known| {
        let known = known_of(known, text)?;
        let options: PlanOptions =
            read(options, &["order"]).map_err(|findings| thrown(&findings, known.job.units))?;
        let with_order = is_wanted(options.order);
        let Whole { plan, pour, shot } = known.whole(with_order);
        out(&file::report(plan, pour, shot.as_ref().filter(|_| with_order)))
    })
}

/// Draws the sheets of one wall of a job.
///
/// # Errors
/// Throws everything that is wrong with the job or the options, and what stops the work on the wall
/// unless the options acknowledge it with a reason.
pub fn sheet(job: &JsValue, wall_id: &str, options: &JsValue) -> Result<JsValue, JsValue> {
    let text = text(job)?;
    KNOWN.with_borrow_mut(|known| {
        let known = known_of(known, text)?;
        let units = known.job.units;
        let thrown = |findings: Vec<Finding>| thrown(&findings, units);
        let names = ["paper", "orientation", "acknowledged", "language", "order"];
        let options: Options = read(options, &names).map_err(thrown)?;
        out(&drawn(known, wall_id, &options).map_err(thrown)?)
    })
}

/// The job that was asked for last. A page asks for the plan of a job and then for the sheets of its
/// walls, so that it is read once and planned once.
struct Known {
    text: String,
    job: Job,
    /// All of its plan, once that has been asked for.
    whole: Option<Whole>,
}

/// A job's walls, what is poured, and the order of the shots.
struct Whole {
    plan: Plan,
    pour: Staged<PourPlan>,
    /// The order, once that has been asked for.
    shot: Option<Staged<ShotPlan>>,
}

impl Known {
    fn read(text: String) -> Result<Self, JsValue> {
        let units = || file::units(&text).unwrap_or_default();
        let job = file::read(&text).map_err(|findings| thrown(&findings, units()))?;
        Ok(Self { text, job, whole: None })
    }

    /// The whole plan, with the order where that is wanted or known.
    fn whole(&mut self, with_order: bool) -> &Whole {
        let Self { job, whole, .. } = self;
        let whole = whole.get_or_insert_with(|| {
            let plan = risemark::plan(job);
            let pour = risemark::pour(job, &plan);
            Whole { plan, pour, shot: None }
        });
        if with_order && whole.shot.is_none() {
            whole.shot = Some(risemark::shoot(job, &whole.plan, &whole.pour.product));
        }
        whole
    }
}

thread_local! {
    static KNOWN: RefCell<Option<Known>> = const { RefCell::new(None) };
}

/// The order is part of everything unless it is left out.
fn is_wanted(order: Option<bool>) -> bool {
    order.unwrap_or(true)
}

/// How a job is planned, as another page says it.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Deserialize)]
#[serde(default)]
struct PlanOptions {
    /// Whether the order of the shots is planned too.
    order: Option<bool>,
}

/// How sheets are made, as another page says it.
#[derive(Debug, Clone, Default, PartialEq, Eq, Deserialize)]
#[serde(default)]
struct Options {
    paper: PaperName,
    orientation: OrientationName,
    acknowledged: Option<String>,
    language: LanguageName,
    /// Whether the sheets tell the turns of the shots; without them no other wall need be planned.
    order: Option<bool>,
}

#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
enum PaperName {
    #[default]
    Letter,
    Legal,
    Tabloid,
    A4,
    A3,
}

#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
enum OrientationName {
    #[default]
    Auto,
    Portrait,
    Landscape,
}

#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
enum LanguageName {
    #[default]
    En,
    Es,
}

/// One sheet as plain data.
#[derive(Debug, Clone, PartialEq, Serialize)]
struct SheetReport {
    number: usize,
    of: usize,
    width_mm: f64,
    height_mm: f64,
    svg: String,
}

impl Options {
    /// The reason that acknowledges what stops the work, if there is one.
    fn reason(&self) -> Option<&str> {
        self.acknowledged.as_deref().map(str::trim).filter(|reason| !reason.is_empty())
    }

    fn to_sheet_options(&self) -> SheetOptions {
        let paper = match self.paper {
            PaperName::Letter => Paper::Letter,
            PaperName::Legal => Paper::Legal,
            PaperName::Tabloid => Paper::Tabloid,
            PaperName::A4 => Paper::A4,
            PaperName::A3 => Paper::A3,
        };
        let orientation = match self.orientation {
            OrientationName::Auto => Orientation::Auto,
            OrientationName::Portrait => Orientation::Portrait,
            OrientationName::Landscape => Orientation::Landscape,
        };
        SheetOptions {
            paper,
            orientation,
            acknowledged: self.reason().map(str::to_owned),
            language: match self.language {
                LanguageName::En => Language::English,
                LanguageName::Es => Language::Spanish,
            },
            shots: WallShots::default(),
        }
    }
}

impl From<Sheet> for SheetReport {
    fn from(Sheet { number, of, width_mm, height_mm, svg }: Sheet) -> Self {
        Self { number, of, width_mm, height_mm, svg }
    }
}

fn drawn(
    known: &mut Known,
    wall_id: &str,
    options: &Options,
) -> Result<Vec<SheetReport>, Vec<Finding>> {
    let Some(idx) = known.job.walls.iter().position(|wall| wall.id == wall_id) else {
        let found = format!("“{wall_id}”");
        return Err(refused("wallId", found, "the id of a wall of the job"));
    };
    let with_order = is_wanted(options.order);
    if with_order {
        known.whole(true);
    }
    let Known { job, whole, .. } = &*known;
    let rules = Rules::of(job);
    let planned = whole.as_ref().and_then(|whole| whole.plan.walls.get(idx));
    // Without the order no other wall is planned for the sheets of this one.
    let plan = planned
        .map_or_else(|| Cow::Owned(plan_wall(job, idx, &rules, Effort::Thorough)), Cow::Borrowed);
    let stop = |finding: &&Finding| finding.problem.severity() == Severity::Stop;
    let stops: Vec<Finding> = plan.findings.iter().filter(stop).cloned().collect();
    if !stops.is_empty() && options.reason().is_none() {
        return Err(stops);
    }
    let shots = shots(known, idx, (&plan, &rules), with_order);
    let drawn = sheets(job, &plan, &rules, &SheetOptions { shots, ..options.to_sheet_options() });
    Ok(drawn.into_iter().map(SheetReport::from).collect())
}

/// What is shot through the holes of a wall. What is known of the whole job is told with the order
/// alone, so that sheets are the same whether or not all of the job was planned before.
fn shots(
    known: &Known,
    idx: usize,
    (plan, rules): (&WallPlan, &Rules),
    with_order: bool,
) -> WallShots {
    match &known.whole {
        Some(Whole { plan: all, pour, shot: Some(shot) }) if with_order => {
            let said: Vec<Finding> = pour.findings.iter().chain(&shot.findings).cloned().collect();
            let PourPlan { flow, walls, .. } = &pour.product;
            let of_no_wall = OfNoWall::at(idx, all);
            WallShots::of(flow, &walls[idx], Some((&shot.product, idx)))
                .with_findings(plan, &said, of_no_wall)
        }
        _ => {
            let poured = pour_wall(&known.job, &tested(known, rules), plan);
            let (flow, pour) = &poured.product;
            WallShots::of(flow, pour, None).with_findings(
                plan,
                &poured.findings,
                OfNoWall::Elsewhere,
            )
        }
    }
}

/// The plan of the walls that test shots were made in, or of all where that is known.
fn tested<'a>(Known { job, whole, .. }: &'a Known, rules: &Rules) -> Cow<'a, Plan> {
    if let Some(Whole { plan, .. }) = whole {
        return Cow::Borrowed(plan);
    }
    let is_tested = |id: &str| {
        let mut spaces = job.foam.test_shots.iter().map(|shot| &shot.space);
        spaces.any(|space| matches!(space, ShotSpace::Bay { wall, .. } if wall == id))
    };
    let here = (0..job.walls.len()).filter(|idx| is_tested(&job.walls[*idx].id));
    let walls = here.map(|idx| plan_wall(job, idx, rules, Effort::Quick)).collect();
    Cow::Owned(Plan { rules: rules.clone(), walls })
}

/// The job of a text: the one that is known already, or else it is read and known from now on.
fn known_of(known: &mut Option<Known>, text: String) -> Result<&mut Known, JsValue> {
    let same = known.take().filter(|known| known.text == text);
    let same = same.map_or_else(|| Known::read(text), Ok);
    same.map(|same| known.insert(same))
}

/// Options, or their defaults where there are none; `names` are those there are.
fn read<T: Default + DeserializeOwned>(
    options: &JsValue,
    names: &[&str],
) -> Result<T, Vec<Finding>> {
    if options.is_undefined() || options.is_null() {
        return Ok(T::default());
    }
    let expected = names.join(", ");
    if let Some(given) = Object::try_from(options) {
        let given = Object::keys(given);
        let mut given = given.iter().filter_map(|name| name.as_string());
        if let Some(unknown) = given.find(|name| !names.contains(&name.as_str())) {
            return Err(refused("options", format!("“{unknown}”"), &expected));
        }
    }
    serde_wasm_bindgen::from_value(options.clone())
        .map_err(|error| refused("options", error.to_string(), &expected))
}

fn refused(field: &'static str, found: String, expected: &str) -> Vec<Finding> {
    let (found, expected) = (Content::Written(found), Content::Written(expected.to_owned()));
    let problem = Problem::Unexpected { found, expected };
    vec![Finding::new(Place::default().field(field), problem)]
}

/// A job as the text of its file. The browser itself refuses objects that hold themselves, and the
/// reader limits the depth.
fn text(job: &JsValue) -> Result<String, JsValue> {
    let text = JSON::stringify(job).ok().and_then(|text| text.as_string());
    text.ok_or_else(|| {
        let found = Content::Written("something that is no plain object".to_owned());
        let problem = Problem::Unexpected { found, expected: Content::Job };
        thrown(&[Finding::new(Place::default(), problem)], Units::default())
    })
}

fn out(value: &impl Serialize) -> Result<JsValue, JsValue> {
    Ok(value.serialize(&Serializer::json_compatible())?)
}

fn thrown(findings: &[Finding], units: Units) -> JsValue {
    let speech = Speech::english(units);
    let lines: Vec<String> =
        findings.iter().map(|finding| risemark::wording::line(finding, speech)).collect();
    let error = js_sys::Error::new(&lines.join("\n"));
    let reports: Vec<FindingReport> =
        findings.iter().map(|finding| finding_report(finding, units)).collect();
    // An error without its findings still says everything in its message.
    if let Ok(reports) = out(&reports) {
        let _set = Reflect::set(&error, &"findings".into(), &reports);
    }
    error.into()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Every property that a schema names anywhere.
    fn properties(schema: &serde_json::Value, into: &mut Vec<String>) {
        match schema {
            serde_json::Value::Object(map) => {
                if let Some(serde_json::Value::Object(named)) = map.get("properties") {
                    into.extend(named.keys().cloned());
                }
                map.values().for_each(|value| properties(value, into));
            }
            serde_json::Value::Array(list) => list.iter().for_each(|value| properties(value, into)),
            _ => {}
        }
    }

    #[test]
    fn the_types_name_every_property_of_the_schemas() {
        let mut named = Vec::new();
        properties(&file::job_schema(), &mut named);
        properties(&file::plan_schema(), &mut named);
        assert!(50 < named.len(), "the schemas have properties: {named:?}");
        for name in named {
            let stands = [format!(" {name}:"), format!(" {name}?:")];
            assert!(stands.iter().any(|text| TYPES.contains(text)), "no type names `{name}`");
        }
    }
}
