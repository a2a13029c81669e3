//! Spoils the example jobs at random for a while and hands them to the reader and the planner.
//!
//! Nothing may panic or take long; what is accepted must come back the same from its own file.
//! The same seed spoils the same way.
#![expect(clippy::print_stdout, reason = "a search tells what it found")]

mod spoil;

use std::{
    fs,
    panic::{self, AssertUnwindSafe},
    process::ExitCode,
    time::{Duration, Instant},
};

use risemark::{file, plan, pour};
use risemark_tests::{example_texts, top};
use spoil::Spoiler;

/// What the search has seen so far.
#[derive(Debug, Default)]
struct Tally {
    n_inputs: u64,
    n_accepted: u64,
    slowest: Duration,
    faults: Vec<String>,
}

/// Longer than any spoilt job takes on a busy machine without optimisation, and still felt as soon.
const MOST_TIME: Duration = Duration::from_secs(3);

/// After so many faults there is enough to mend.
const MOST_FAULTS: usize = 10;

fn main() -> ExitCode {
    let mut numbers = std::env::args().skip(1).map(|arg| arg.parse().ok());
    let mut number = |default: u64| numbers.next().flatten().unwrap_or(default);
    let (seconds, seed) = (number(60), number(1911));
    // A panic is caught and told with its input; the usual report would only repeat it.
    panic::set_hook(Box::new(|_| ()));
    let tally = search(Duration::from_secs(seconds), seed);
    println!(
        "{} inputs, {} accepted, the slowest took {:.0} ms",
        tally.n_inputs,
        tally.n_accepted,
        tally.slowest.as_secs_f64() * 1e3
    );
    if tally.faults.is_empty() { ExitCode::SUCCESS } else { ExitCode::FAILURE }
}

fn search(time: Duration, seed: u64) -> Tally {
    let examples: Vec<String> = example_texts().into_iter().map(|(_, text)| text).collect();
    let mut spoiler = Spoiler::new(examples, seed);
    let mut tally = Tally::default();
    let start = Instant::now();
    while start.elapsed() < time && tally.faults.len() < MOST_FAULTS {
        let text = spoiler.next_text();
        let began = Instant::now();
        let outcome = panic::catch_unwind(AssertUnwindSafe(|| try_out(&text)));
        let took = began.elapsed();
        tally.n_inputs += 1;
        tally.slowest = tally.slowest.max(took);
        let fault = match outcome {
            Ok(Ok(accepted)) => {
                tally.n_accepted += u64::from(accepted);
                (MOST_TIME < took).then(|| format!("took {:.1} s", took.as_secs_f64()))
            }
            Ok(Err(fault)) => Some(fault),
            Err(panic) => Some(format!("panicked: {}", said(panic.as_ref()))),
        };
        if let Some(fault) = fault {
            keep(&mut tally, &text, fault);
        }
    }
    tally
}

/// Whether a text is accepted; what is wrong with the program when it does not treat it rightly.
fn try_out(text: &str) -> Result<bool, String> {
    let job = match file::read(text) {
        Ok(job) => job,
        Err(findings) if findings.is_empty() => return Err("refused without a reason".to_owned()),
        Err(_) => return Ok(false),
    };
    let written = file::write(&job)?;
    let again = file::read(&written).map_err(|_| "does not read what it wrote".to_owned())?;
    if again != job || file::write(&again)? != written {
        return Err("reads something else than it wrote".to_owned());
    }
    let plan = plan(&job);
    serde_json::to_string(&file::report(&plan, &pour(&job, &plan), None))
        .map_err(|error| error.to_string())?;
    Ok(true)
}

fn keep(tally: &mut Tally, text: &str, fault: String) {
    let folder = top().join("target/fuzz");
    let path = folder.join(format!("fault-{}.json", tally.faults.len() + 1));
    let kept = fs::create_dir_all(&folder).and_then(|()| fs::write(&path, text));
    let place = kept.map_or_else(|error| error.to_string(), |()| path.display().to_string());
    println!("input {}: {fault} ({place})", tally.n_inputs);
    tally.faults.push(fault);
}

fn said(panic: &(dyn std::any::Any + Send)) -> String {
    let text = panic.downcast_ref::<&str>().map(|text| (*text).to_owned());
    text.or_else(|| panic.downcast_ref::<String>().cloned()).unwrap_or_default()
}
