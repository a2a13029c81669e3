//! The JSON Schemas of the job file and of the plan report, made from their types.

use schemars::{
    JsonSchema,
    generate::SchemaSettings,
    transform::{RecursiveTransform, Transform},
};
use serde_json::{Value, json};

use crate::{
    file::{JobFile, PlanReport},
    limits,
    quantity::to_mm,
};

/// The schema of the job file; lengths carry the range of the table of limits.
pub fn job_schema() -> Value {
    schema::<JobFile<'_>>("Risemark job file, version 1. Lengths are millimetres, angles degrees.")
}

/// The schema of the plan report.
pub fn plan_schema() -> Value {
    schema::<PlanReport>("Risemark plan report. Lengths are millimetres, angles degrees.")
}

fn schema<T: JsonSchema>(description: &str) -> Value {
    let settings = SchemaSettings::draft2020_12();
    let mut schema = settings.into_generator().into_root_schema_for::<T>();
    RecursiveTransform(|schema: &mut schemars::Schema| fill_in_limit(schema))
        .transform(&mut schema);
    schema.insert("description".to_owned(), json!(description));
    let mut schema = schema.to_value();
    // Whether JSON objects keep their order is for the whole build to say, not for us; sorted ones
    // are the same in every build.
    schema.sort_all_objects();
    schema
}

/// Replaces the name of a limit by its range, its default and its origin.
fn fill_in_limit(schema: &mut schemars::Schema) {
    let Some(Value::String(name)) = schema.remove("limit") else {
        return;
    };
    let range = range(&name);
    insert_range(schema, &range);
}

fn range(name: &str) -> Vec<(&'static str, Value)> {
    if let Some(limit) = limits::length(name) {
        let mut range = vec![
            ("title", json!(limit.name.english)),
            ("minimum", json!(to_mm(limit.min))),
            ("maximum", json!(to_mm(limit.max))),
        ];
        range.extend(limit.default.map(|default| ("default", json!(to_mm(default)))));
        range.extend(limit.default.map(|_| ("x-origin", json!(limit.origin.words().english))));
        return range;
    }
    let bounds = limits::bounds(name).map(|bounds| {
        vec![
            ("title", json!(bounds.name.english)),
            ("minimum", json!(bounds.min)),
            ("maximum", json!(bounds.max)),
        ]
    });
    bounds.unwrap_or_default()
}

/// The range of a list is the range of what stands in it.
fn insert_range(schema: &mut schemars::Schema, range: &[(&'static str, Value)]) {
    let mut innermost = schema.ensure_object();
    while innermost.get("items").is_some_and(Value::is_object) {
        let Some(Value::Object(items)) = innermost.get_mut("items") else {
            return;
        };
        innermost = items;
    }
    for (key, value) in range {
        innermost.insert((*key).to_owned(), value.clone());
    }
}
