//! The functions for other pages, in a browser: the same plans as outside it, and the same findings.

use js_sys::{JSON, Reflect};
use risemark::file;
use risemark_web::api;
use serde_json::Value;
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_test::{wasm_bindgen_test, wasm_bindgen_test_configure};

wasm_bindgen_test_configure!(run_in_browser);

const WORKSHOP: &str = include_str!("../../../examples/workshop/job.json");
const DRYING_ROOM: &str = include_str!("../../../examples/drying-room/job.json");

fn object(text: &str) -> JsValue {
    JSON::parse(text).expect("the text is JSON")
}

fn value(object: &JsValue) -> Value {
    let text = JSON::stringify(object).ok().and_then(|text| text.as_string());
    serde_json::from_str(&text.expect("a plain object")).expect("JSON of the browser")
}

fn thrown(outcome: Result<JsValue, JsValue>) -> Value {
    let error = outcome.expect_err("it throws");
    assert!(error.is_instance_of::<js_sys::Error>(), "an error of the language");
    value(&Reflect::get(&error, &"findings".into()).expect("a property"))
}

#[wasm_bindgen_test]
fn a_plan_holds_what_the_command_line_writes() {
    for (job, golden) in [
        (WORKSHOP, include_str!("../../../tests/golden/workshop.plan.json")),
        (DRYING_ROOM, include_str!("../../../tests/golden/drying-room.plan.json")),
    ] {
        let found = value(&api::plan(&object(job), &JsValue::UNDEFINED).expect("a plan"));
        // Both through the browser, which writes a whole number without its point.
        assert_eq!(found, value(&object(golden)), "the plan in the browser");
        let order = found["shots"]["order"].as_array();
        assert!(order.is_some_and(|order| !order.is_empty()), "the order of the shots");
        for part in ["foam", "kits"] {
            assert!(found[part].is_object(), "{part}");
        }
    }
}

#[wasm_bindgen_test]
fn the_order_of_the_shots_may_be_left_out() {
    let (job, options) = (object(WORKSHOP), object(r#"{ "order": false }"#));
    let found = value(&api::plan(&job, &options).expect("a plan"));
    assert!(found["shots"].is_null() && found["foam"].is_object(), "all but the order");
    let found = value(&api::plan(&job, &JsValue::UNDEFINED).expect("a plan"));
    assert!(found["shots"].is_object(), "the same job, now with its order");
    let findings = thrown(api::plan(&job, &object(r#"{ "order": "by hand" }"#)));
    assert_eq!(findings[0]["place"], "options", "{findings}");
}

#[wasm_bindgen_test]
fn an_object_of_the_page_needs_no_text() {
    let job = object(WORKSHOP);
    Reflect::set(&job, &"nothing".into(), &JsValue::UNDEFINED).expect("an object");
    assert!(
        api::plan(&job, &JsValue::UNDEFINED).is_ok(),
        "a property that is undefined is not there"
    );
}

#[wasm_bindgen_test]
fn errors_carry_the_findings_of_the_reader() {
    let broken = WORKSHOP.replacen("\"width\": 4876.8", "\"width\": 1, \"colour\": 3", 1);
    let expected = file::read(&broken).expect_err("two faults");
    let codes: Vec<_> = expected.iter().map(|finding| finding.problem.code()).collect();
    let found = thrown(api::plan(&object(&broken), &JsValue::UNDEFINED));
    let found: Vec<_> =
        found.as_array().into_iter().flatten().map(|finding| finding["code"].clone()).collect();
    assert_eq!(found, codes, "every finding, in order");
    assert!(!codes.is_empty(), "there is something to say");
}

#[wasm_bindgen_test]
fn what_is_no_job_is_refused() {
    let round = object("{}");
    Reflect::set(&round, &"job".into(), &round).expect("an object");
    for job in
        [JsValue::UNDEFINED, JsValue::NULL, JsValue::from_f64(3.0), JsValue::from_str("x"), round]
    {
        let findings = thrown(api::plan(&job, &JsValue::UNDEFINED));
        assert_eq!(findings[0]["severity"], "stop", "{findings}");
    }
}

#[wasm_bindgen_test]
fn sheets_are_drawn_on_the_paper_that_is_asked_for() {
    let options = object(r#"{ "paper": "a4", "orientation": "portrait" }"#);
    let sheets = value(&api::sheet(&object(WORKSHOP), "workshop-north", &options).expect("sheets"));
    let first = &sheets[0];
    // ISO 216: A4 is 210 by 297 mm.
    assert_eq!((&first["width_mm"], &first["height_mm"]), (&210.into(), &297.into()), "A4 upright");
    assert!(first["svg"].as_str().is_some_and(|svg| svg.starts_with("<svg")), "a drawing");
}

#[wasm_bindgen_test]
fn sheets_tell_turns_unless_they_are_left_out() {
    let drawn = |options: &str| {
        let sheets = api::sheet(&object(WORKSHOP), "workshop-north", &object(options));
        value(&sheets.expect("sheets")).to_string()
    };
    let (with, without) = (drawn("{}"), drawn(r#"{ "order": false }"#));
    assert!(with.contains(">turn<") && !without.contains(">turn<"), "a column of turns");
    assert_eq!(drawn(r#"{ "order": true }"#), with, "as when nothing is said of it");
}

#[wasm_bindgen_test]
fn unknown_walls_and_options_are_refused() {
    let job = object(WORKSHOP);
    let findings = thrown(api::sheet(&job, "nowhere", &JsValue::UNDEFINED));
    assert!(findings[0]["message"].to_string().contains("nowhere"), "{findings}");
    let findings = thrown(api::sheet(&job, "workshop-north", &object(r#"{ "paper": "b5" }"#)));
    assert!(findings[0]["message"].to_string().contains("b5"), "{findings}");
    let findings = thrown(api::sheet(&job, "workshop-north", &object(r#"{ "papier": "a4" }"#)));
    assert!(findings[0]["message"].to_string().contains("papier"), "{findings}");
    let findings = thrown(api::plan(&job, &object(r#"{ "orders": false }"#)));
    assert!(findings[0]["message"].to_string().contains("orders"), "{findings}");
}

#[wasm_bindgen_test]
fn what_stops_the_work_stops_the_sheets_until_it_is_acknowledged() {
    let wall = "\"id\": \"workshop-north\",";
    let bay = "\"bays\": [{ \"at\": 200, \"skip\": \"knob-and-tube\" }],";
    let job = object(&WORKSHOP.replacen(wall, &format!("{wall}{bay}"), 1));
    let findings = thrown(api::sheet(&job, "workshop-north", &JsValue::UNDEFINED));
    assert_eq!(findings[0]["severity"], "stop", "{findings}");
    let blank = object(r#"{ "acknowledged": "  " }"#);
    assert!(api::sheet(&job, "workshop-north", &blank).is_err(), "blanks are no reason");
    let known = object(r#"{ "acknowledged": "cleared by an electrician" }"#);
    let sheets = value(&api::sheet(&job, "workshop-north", &known).expect("sheets"));
    assert!(sheets.to_string().contains("cleared by an electrician"), "the reason is printed");
}
