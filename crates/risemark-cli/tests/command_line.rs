//! The command line as a user meets it: output, errors, exit codes.

use std::{
    fs,
    path::{Path, PathBuf},
    process::{Command, Output},
};

fn example(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples").join(name).join("job.json")
}

fn run(args: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_risemark")).args(args).output().expect("the program starts")
}

fn text(bytes: &[u8]) -> String {
    String::from_utf8(bytes.to_vec()).expect("the program writes UTF-8")
}

fn scratch(name: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
    fs::create_dir_all(&folder).expect("the folder can be made");
    folder
}

#[test]
fn a_good_job_is_good() {
    let job = example("plain-wall");
    let done = run(&["check", &job.to_string_lossy()]);
    assert_eq!(done.status.code(), Some(0), "{}", text(&done.stderr));
    // Of a plain wall there is nothing to say, and of its foam that nobody has tested it.
    let said = text(&done.stdout);
    assert_eq!(said.lines().count(), 1, "{said}");
    assert!(said.starts_with("note: job: no test shot yet"), "{said}");
}

#[test]
fn a_plan_is_printed_as_lines_or_as_json() {
    let job = example("plain-wall");
    let done = run(&["plan", &job.to_string_lossy()]);
    assert!(
        text(&done.stdout).starts_with("North wall: 24 holes in 12 compartments"),
        "{}",
        text(&done.stdout)
    );
    let done = run(&["plan", &job.to_string_lossy(), "--json"]);
    let report: serde_json::Value = serde_json::from_slice(&done.stdout).expect("the plan is JSON");
    assert_eq!(
        report["walls"][0]["holes"].as_array().map(Vec::len),
        Some(24),
        "holes in the report"
    );
}

#[test]
fn foam_is_printed_as_lines_or_as_a_shopping_list() {
    let job = example("workshop");
    let done = run(&["foam", &job.to_string_lossy()]);
    assert_eq!(done.status.code(), Some(0), "{}", text(&done.stderr));
    let said = text(&done.stdout);
    assert!(said.starts_with("flow: 51.1 cu in/s from 5 test shots"), "{said}");
    for part in ["North wall: ", "  hole 24: ", "  90 %: ", "work of 2 people together: "] {
        assert!(said.contains(part), "{part} in {said}");
    }
    let done = run(&["foam", &job.to_string_lossy(), "--csv"]);
    let list = text(&done.stdout);
    assert!(list.starts_with("item,quantity,price,cost\n\"foam kit, "), "{list}");
    assert!(list.lines().all(|line| line.split('"').count() % 2 == 1), "quotes in pairs: {list}");
    assert!(list.contains("\nplug,59,0.15,8.85\n"), "24 and 35 holes: {list}");
    for (verb, output) in [("plan", "--csv"), ("foam", "--json")] {
        let done = run(&[verb, &job.to_string_lossy(), output]);
        assert_eq!(done.status.code(), Some(2), "{verb} {output}");
    }
}

/// The drying room with old wiring in one of its bays, which stops the work.
fn stopped_job(folder: &Path) -> PathBuf {
    let job = fs::read_to_string(example("drying-room")).expect("the example is readable");
    let path = folder.join("job.json");
    fs::write(&path, job.replace("already-insulated", "knob-and-tube"))
        .expect("the job can be written");
    path
}

#[test]
fn a_stop_finding_is_exit_code_one() {
    let path = stopped_job(&scratch("stop"));
    let done = run(&["check", &path.to_string_lossy()]);
    assert_eq!(done.status.code(), Some(1), "{}", text(&done.stderr));
    assert!(text(&done.stdout).starts_with("stop: "), "the worst comes first");
}

#[test]
fn a_stopped_wall_has_sheets_only_for_a_reason_which_is_printed() {
    let folder = scratch("reason");
    let (job, out) = (stopped_job(&folder), folder.join("sheets"));
    let (job, out) = (job.to_string_lossy(), out.to_string_lossy());
    let done = run(&["sheets", &job, "--out", &out]);
    assert_eq!(done.status.code(), Some(1), "stopped");
    assert!(done.stdout.is_empty(), "no sheet: {}", text(&done.stdout));
    assert!(text(&done.stderr).contains("--i-know REASON"), "{}", text(&done.stderr));

    let done = run(&["sheets", &job, "--out", &out, "--i-know", " wires cut <off> & out "]);
    assert_eq!(done.status.code(), Some(0), "{}", text(&done.stderr));
    let written = text(&done.stdout);
    assert!(!written.is_empty(), "the sheets are written");
    let drawings: String =
        written.lines().map(|path| fs::read_to_string(path).expect("the sheet is there")).collect();
    assert!(drawings.contains("wires cut &lt;off&gt; &amp; out"), "the reason is on a sheet");

    for bad in ["", "  ", "two\nlines", &"long".repeat(51)] {
        let done = run(&["sheets", &job, "--out", &out, "--i-know", bad]);
        assert_eq!(done.status.code(), Some(2), "{bad:?} is no reason");
    }
}

#[test]
fn a_reason_is_not_printed_where_nothing_stops_the_work() {
    let (job, out) = (example("plain-wall"), scratch("no-reason"));
    let done = run(&[
        "sheets",
        &job.to_string_lossy(),
        "--out",
        &out.to_string_lossy(),
        "--i-know",
        "wires cut off",
    ]);
    assert_eq!(done.status.code(), Some(0), "{}", text(&done.stderr));
    for path in text(&done.stdout).lines() {
        let svg = fs::read_to_string(path).expect("the sheet is there");
        assert!(!svg.contains("wires cut off"), "{path} has nothing to be known");
    }
}

#[test]
fn unusable_input_is_exit_code_two_with_every_fault() {
    let job = example("full-of-faults");
    let done = run(&["plan", &job.to_string_lossy()]);
    assert_eq!(done.status.code(), Some(2), "unusable");
    assert!(10 < text(&done.stderr).lines().count(), "every fault has its line");
    assert!(done.stdout.is_empty(), "no plan of a faulty job");
    for args in [
        &["plan"][..],
        &["dig", "x"],
        &["plan", "no-such-file.json"],
        &["sheets", "x"],
        &["plan", "x", "y"],
        &["plan", "x", "--nope"],
    ] {
        assert_eq!(run(args).status.code(), Some(2), "{args:?}");
    }
}

#[test]
fn sheets_are_written_one_file_each() {
    let (job, out) = (example("workshop"), scratch("sheets"));
    let done =
        run(&["sheets", &job.to_string_lossy(), "--out", &out.to_string_lossy(), "--paper", "a4"]);
    assert_eq!(done.status.code(), Some(0), "{}", text(&done.stderr));
    let written = text(&done.stdout);
    assert!(2 <= written.lines().count(), "a sheet at least for each of two walls");
    for path in written.lines() {
        let svg = fs::read_to_string(path).expect("the sheet is there");
        assert!(svg.contains("<svg"), "{path} holds a drawing");
    }
}

#[test]
fn help_is_help() {
    for args in [&["--help"][..], &["help"], &[]] {
        let done = run(args);
        assert_eq!(done.status.code(), Some(0), "{args:?}");
        assert!(text(&done.stdout).contains("exit code"), "{args:?}");
    }
}
