//! The same job gives the same bytes in the browser as on the machine that wrote the golden files.

use std::fmt::Write;

use risemark::{
    file,
    finding::Staged,
    language::{Language, Speech},
    plan, pour,
    quantity::Units,
    shoot, wording,
};
use risemark_sheets::{OfNoWall, Orientation, Paper, SheetOptions, WallShots, sheets};
use wasm_bindgen_test::{wasm_bindgen_test, wasm_bindgen_test_configure};

wasm_bindgen_test_configure!(run_in_browser);

macro_rules! example {
    ($name:literal) => {
        (
            include_str!(concat!("../../../examples/", $name, "/job.json")),
            include_str!(concat!("../../../tests/golden/", $name, ".plan.json")),
            include_str!(concat!("../../../tests/golden/", $name, ".wall-1.sheet-1.svg")),
        )
    };
}

/// Job, golden plan, golden first sheet of the first wall.
const EXAMPLES: [(&str, &str, &str); 4] = [
    example!("plain-wall"),
    example!("workshop"),
    example!("attic-gable"),
    example!("drying-room"),
];

#[wasm_bindgen_test]
fn plans_are_the_same_bytes() {
    for (job, golden, _) in EXAMPLES {
        let job = file::read(job).expect("an example");
        let plan = plan(&job);
        let poured = pour(&job, &plan);
        // The order of the shots too: its search is by seed and count, not by clock.
        let shot = shoot(&job, &plan, &poured.product);
        let report = file::report(&plan, &poured, Some(&shot));
        let text = serde_json::to_string_pretty(&report).expect("a report fits into JSON");
        assert!(text + "\n" == golden, "the plan of “{}” differs in the browser", job.name);
    }
}

#[wasm_bindgen_test]
fn sheets_are_the_same_bytes() {
    for (job, _, golden) in EXAMPLES {
        let job = file::read(job).expect("an example");
        let plan = plan(&job);
        let Staged { product: poured, mut findings } = pour(&job, &plan);
        let order = shoot(&job, &plan, &poured);
        findings.extend(order.findings);
        let shots = WallShots::of(&poured.flow, &poured.walls[0], Some((&order.product, 0)));
        let options = SheetOptions {
            paper: Paper::Letter,
            orientation: Orientation::Auto,
            acknowledged: None,
            language: Language::English,
            shots: shots.with_findings(&plan.walls[0], &findings, OfNoWall::at(0, &plan)),
        };
        let drawn = sheets(&job, &plan.walls[0], &plan.rules, &options);
        assert!(drawn[0].svg == golden, "the sheet of “{}” differs in the browser", job.name);
    }
}

#[wasm_bindgen_test]
fn faults_are_said_in_the_same_words() {
    let golden = include_str!("../../../tests/golden/faults.txt");
    let mut said = String::new();
    for (name, text) in [
        ("crossed-openings", include_str!("../../../examples/crossed-openings/job.json")),
        ("full-of-faults", include_str!("../../../examples/full-of-faults/job.json")),
    ] {
        for finding in file::read(text).expect_err("a faulty example") {
            let line = wording::line(&finding, Speech::english(Units::FeetInches));
            writeln!(said, "{name}: {line}").expect("a text grows");
        }
    }
    assert_eq!(said, golden, "the faults");
}
