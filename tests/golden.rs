//! Every example through every stage into golden text, and the schemas of the two formats.

use std::{fmt::Write, path::Path};

use risemark::{file, language::Speech, plan, pour, quantity::Units, shoot, wording};
use risemark_tests::{example_jobs, example_texts, golden, top};

fn golden_file(name: &str) -> std::path::PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("golden").join(name)
}

#[test]
fn the_plan_of_every_example_is_as_reviewed() {
    for (name, job) in example_jobs() {
        let report = {
            let plan = plan(&job);
            let poured = pour(&job, &plan);
            let shot = shoot(&job, &plan, &poured.product);
            file::report(&plan, &poured, Some(&shot))
        };
        let mut text = serde_json::to_string_pretty(&report).expect("a report fits into JSON");
        text.push('\n');
        golden(&golden_file(&format!("{name}.plan.json")), &text);
    }
}

#[test]
fn the_faults_of_the_faulty_example_are_all_said() {
    let mut said = String::new();
    for (name, text) in example_texts() {
        let Err(findings) = file::read(&text) else { continue };
        for finding in findings {
            writeln!(
                said,
                "{name}: {}",
                wording::line(&finding, Speech::english(Units::FeetInches))
            )
            .expect("a text grows");
        }
    }
    assert!(!said.is_empty(), "one example is full of faults");
    golden(&golden_file("faults.txt"), &said);
}

#[test]
fn the_schemas_are_current() {
    for (name, schema) in
        [("job.schema.json", file::job_schema()), ("plan.schema.json", file::plan_schema())]
    {
        let mut text = serde_json::to_string_pretty(&schema).expect("a schema is JSON");
        text.push('\n');
        golden(&top().join("examples").join(name), &text);
    }
}

#[test]
fn every_golden_file_belongs_to_an_example() {
    let names: Vec<String> = example_jobs().into_iter().map(|(name, _)| name).collect();
    let entries = std::fs::read_dir(golden_file("")).expect("the golden folder is readable");
    for entry in entries {
        let file = entry
            .expect("an entry of the golden folder")
            .file_name()
            .to_string_lossy()
            .into_owned();
        let known =
            file == "faults.txt" || names.iter().any(|name| file.starts_with(&format!("{name}.")));
        assert!(known, "{file} belongs to no example; remove it");
    }
}
