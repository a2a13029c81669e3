//! How fast the app is in a browser: medians, and ratios within this run.
//!
//! `cargo xtask bench browser` builds what this measures and runs it.
#![expect(clippy::print_stdout, reason = "a measurement is printed")]
#![expect(clippy::print_stderr, reason = "what failed is told as in the tests")]

#[path = "../browser/chromedriver.rs"]
mod chromedriver;
#[expect(dead_code, reason = "the tests use more of it")]
#[path = "../browser/harness.rs"]
mod harness;
#[expect(dead_code, reason = "the tests use more of it")]
#[path = "../browser/page.rs"]
mod page;
#[expect(dead_code, reason = "the tests use more of it")]
#[path = "../browser/pdf.rs"]
mod pdf;

use anyhow::{Context, Result, ensure};
use risemark::file;
use risemark_tests::{
    classes::{Class, wall_of},
    top, walls,
};
use serde_json::{Value, json};
use xtask::paths;

use harness::{View, browse, browse_in};
use page::Page;

/// The street wall of the workshop, the one with two windows.
const WALL: usize = 1;

/// How often the page is opened, and each act of it done.
const ROUNDS: usize = 15;

/// Times the functions for other pages: a third of the rounds warm up and are not counted.
///
/// Each round has a job of another name, so that nothing is known from the round before.
const CALLS: &str = "const [job, wall, rounds, done] = arguments; \
    let number = 0; \
    const timed = async act => { \
        const times = []; \
        for (let round = 0; round < rounds * 1.5; round++) { \
            job.job.name = `Job ${number++}`; \
            const start = performance.now(); await act(); times.push(performance.now() - start); \
        } \
        return times.slice(-rounds); \
    }; \
    import(new URL('app.js', document.baseURI)).then(async app => done({ \
        plan: await timed(() => app.plan(job, { order: false })), \
        sheet: await timed(() => app.sheet(job, wall, { order: false })), \
        both: await timed(async () => { \
            await app.plan(job, { order: false }); await app.sheet(job, wall, { order: false }); \
        }), \
    })).catch(error => done(String(error)));";

/// Times the plan of each of some jobs, once the functions are warm.
const PLANS: &str = "const [jobs, done] = arguments; \
    const timed = async (app, job) => { \
        const start = performance.now(); await app.plan(job, { order: false }); return performance.now() - start; \
    }; \
    import(new URL('app.js', document.baseURI)).then(async app => { \
        const times = []; \
        for (const job of jobs.slice(0, 10)) await timed(app, job); \
        for (const [number, job] of jobs.entries()) \
            times.push(await timed(app, { ...job, job: { ...job.job, name: `Job ${number}` } })); \
        done(times); \
    }).catch(error => done(String(error)));";

/// Times edits of the width, from the Enter key until the table of holes stands and the page is laid out.
const EDITS: &str = "const [field, texts, rounds, done] = arguments; \
    const input = document.querySelector(field); \
    const holes = () => document.querySelector('#holes').textContent; \
    const turn = () => new Promise(next => { \
        const channel = new MessageChannel(); \
        channel.port1.onmessage = next; channel.port2.postMessage(null); \
    }); \
    const edit = async text => { \
        const before = holes(); \
        input.value = text; \
        input.dispatchEvent(new InputEvent('input', { bubbles: true })); \
        const start = performance.now(); \
        input.dispatchEvent(new KeyboardEvent('keydown', { key: 'Enter', bubbles: true })); \
        while (holes() === before) { \
            if (performance.now() - start > 10000) throw new Error('the edit changed nothing'); \
            await turn(); \
        } \
        document.body.getBoundingClientRect(); \
        return performance.now() - start; \
    }; \
    (async () => { \
        const times = []; \
        for (let round = 0; round < rounds * 1.5; round++) times.push(await edit(texts[round % 2])); \
        return times.slice(-rounds); \
    })().then(done, error => done(String(error)));";

/// Notes how long each write takes from its beginning until the page hears that it is on the disk.
const WRITES: &str = "window.writes = []; \
    const begin = IDBDatabase.prototype.transaction; \
    IDBDatabase.prototype.transaction = function (...rest) { \
        const transaction = begin.apply(this, rest), start = performance.now(); \
        if (rest[1] === 'readwrite') \
            transaction.addEventListener('complete', () => window.writes.push(performance.now() - start)); \
        return transaction; \
    };";

/// Types into a field again and again, each time once the page is at rest.
const TYPE: &str = "const [field, texts, rounds, done] = arguments; \
    const input = document.querySelector(field); \
    const rest = () => new Promise(next => requestIdleCallback(() => setTimeout(next, 50))); \
    (async () => { \
        for (let round = 0; round < rounds; round++) { \
            input.value = texts[round % 2]; \
            input.dispatchEvent(new InputEvent('input', { bubbles: true })); \
            input.dispatchEvent(new KeyboardEvent('keydown', { key: 'Enter', bubbles: true })); \
            await rest(); \
        } \
        return window.writes.slice(-rounds); \
    })().then(done, error => done(String(error)));";

/// Notes when the first picture with the heading has been made, and when one with the fields of the job,
/// which come with the rest of the app.
const WATCH: &str = "const note = (name, selector) => new MutationObserver((_, watch) => { \
        if (!document.querySelector(selector)) return; \
        watch.disconnect(); \
        requestAnimationFrame(() => setTimeout(() => { window[name] = performance.now(); })); \
    }).observe(document, { childList: true, subtree: true }); \
    note('firstPicture', 'main h1'); note('firstFields', '#about input');";

/// Notes, for each move of the pointer that is followed, what the app itself took in its frame, how long
/// the frame was until it was painted, and how long that was after the pointer had moved, which waits for the frame.
const FOLLOW: &str = "window.followed = []; let start = 0, asked = false; \
    window.addEventListener('pointermove', () => requestAnimationFrame(() => { start ||= performance.now(); }), true); \
    window.addEventListener('pointermove', move => { \
        if (asked) return; asked = true; \
        requestAnimationFrame(() => { \
            const own = performance.now() - start; \
            const channel = new MessageChannel(); \
            channel.port1.onmessage = () => { \
                const now = performance.now(); \
                window.followed.push([own, now - start, now - move.timeStamp]); start = 0; asked = false; \
            }; \
            channel.port2.postMessage(null); \
        }); \
    });";

/// Notes how long it takes from a file's being chosen until the picture of its first walls is made, and
/// until the last of its walls is in the list.
const OPEN: &str = "const [first, last] = arguments; window.took = []; \
    const field = document.querySelector('#job-file'); \
    field.addEventListener('change', () => { \
        const start = performance.now(); \
        for (const id of [first, last]) { \
            new MutationObserver((_, watch) => { \
                if (!document.getElementById(id)) return; \
                watch.disconnect(); \
                requestAnimationFrame(() => { \
                    const channel = new MessageChannel(); \
                    channel.port1.onmessage = () => window.took.push(performance.now() - start); \
                    channel.port2.postMessage(null); \
                }); \
            }).observe(document, { childList: true, subtree: true }); \
        } \
    }, { capture: true, once: true });";

/// How often the pointer moves while something is dragged.
const MOVES: usize = 300;

/// How many walls of each class are planned.
const WALLS: u64 = 40;

/// As many walls as a large block of flats has.
const MANY: usize = 500;

/// In how many fresh browsers jobs are opened.
const FRESH: usize = 5;

fn main() -> Result<()> {
    browse(View::DESK, async |page| {
        calls(page).await?;
        classes(page).await?;
        edits(page).await?;
        drags(page).await
    })?;
    browse(View::DESK, async |page| writes(page).await)?;
    many_walls()?;
    // Both lie in one folder, so that one browser can open them by turns.
    browse_in(&paths::target(), View::DESK, async |page| first_pictures(page).await)
}

async fn calls(page: &Page) -> Result<()> {
    let text = std::fs::read_to_string(top().join("examples/workshop/job.json"))?;
    let mut job: Value = serde_json::from_str(&text)?;
    let wall = job["job"]["walls"][WALL].take();
    let id = wall["id"].clone();
    job["job"]["walls"] = json!([wall]);
    page.open("").await?;
    page.wait_for("main h1").await?;
    let times = page.driver().execute_async(CALLS, vec![job, id, json!(ROUNDS * 4)]).await?;
    let times = times.json();
    let (plan, sheet) = (median(&times["plan"])?, median(&times["sheet"])?);
    println!("in the browser, plan(job) of the two-window wall: {plan:.2} ms");
    println!("in the browser, sheet(job, wall), which plans too: {sheet:.2} ms");
    let both = median(&times["both"])?;
    println!("in the browser, plan and sheet, one after the other: {both:.2} ms (target 3 ms)");
    Ok(())
}

/// Plans walls of each class, with their fewest lines and the most even ones.
async fn classes(page: &Page) -> Result<()> {
    for class in Class::ALL {
        let jobs = (0..WALLS).map(|seed| -> Result<Value> {
            let text =
                file::write(&walls::job(wall_of(class, seed))).map_err(anyhow::Error::msg)?;
            Ok(serde_json::from_str(&text)?)
        });
        let jobs = jobs.collect::<Result<Vec<Value>>>()?;
        let times = page.driver().execute_async(PLANS, vec![json!(jobs)]).await?;
        let [half, most] = [50, 95].map(|of_hundred| percentile(times.json(), of_hundred));
        let target = if class == Class::Stress { 200 } else { 20 };
        println!(
            "in the browser, plan of a wall, {}: {:.1} ms, 95 of 100 within {:.1} ms (target {target} ms)",
            format!("{class:?}").to_lowercase(),
            half?,
            most?
        );
    }
    Ok(())
}

async fn edits(page: &Page) -> Result<()> {
    let took = one_edit(page, "workshop-street").await?;
    println!("in the browser, one edit until it is drawn: {took:.1} ms");
    Ok(())
}

/// How long an edit of a wall's width takes until it is drawn, in milliseconds.
async fn one_edit(page: &Page, wall: &str) -> Result<f64> {
    page.open(&format!("#/wall/{wall}")).await?;
    page.wait_for("#elevation [data-mark='1']").await?;
    page.wait_for("#group-size [name=width]").await?;
    page.run("document.querySelector('#group-size').open = true;", vec![]).await?;
    let texts = json!(["23' 0\"", "22' 0\""]);
    let field = json!("#group-size [name=width]");
    let times = page.driver().execute_async(EDITS, vec![field, texts, json!(ROUNDS)]).await?;
    median(times.json())
}

/// Writes a step again and again, on the page of the job and on that of a wall, which draw what has changed.
async fn writes(page: &Page) -> Result<()> {
    page.run_first(WRITES).await?;
    let pages = [
        ("#/job", "#about [name=place]", ["Lane 1", "Lane 2"]),
        ("#/wall/workshop-street", "#group-size [name=width]", ["23' 0\"", "22' 0\""]),
    ];
    for (address, field, texts) in pages {
        page.open(address).await?;
        page.wait_for(field).await?;
        page.wait_until("the page to rest", "3000 < performance.now()").await?;
        let asked = vec![json!(field), json!(texts), json!(ROUNDS * 8)];
        let times = page.driver().execute_async(TYPE, asked).await?;
        let (half, most) = (median(times.json())?, percentile(times.json(), 95)?);
        println!(
            "a step on the disk, at {address}: {half:.1} ms, 95 of 100 within {most:.1} ms (target 5 ms)"
        );
    }
    Ok(())
}

/// What a job takes to be opened and edited, in milliseconds.
#[derive(Default)]
struct Opened {
    shown: Vec<f64>,
    listed: Vec<f64>,
    edited: Vec<f64>,
}

/// Opens a job of one wall and one of many by turns, in a fresh browser each time, and edits a wall of each.
fn many_walls() -> Result<()> {
    let mut both = [(1, Opened::default()), (MANY, Opened::default())];
    for _ in 0..FRESH {
        for (n_walls, opened) in &mut both {
            browse(View::DESK, async |page| open_and_edit(page, *n_walls, opened).await)?;
        }
    }
    let [(_, one), (_, many)] = &both;
    let middle = |times: &[f64]| median(&json!(times));
    println!("in the browser, until all {MANY} walls are listed: {:.0} ms", middle(&many.listed)?);
    let kinds =
        [("opening", &one.shown, &many.shown, 3), ("one edit in", &one.edited, &many.edited, 1)];
    for (what, one, many, target) in kinds {
        let (one, many) = (middle(one)?, middle(many)?);
        println!(
            "in the browser, {what} a job of {MANY} walls: {many:.0} ms, {:.1} times that of one wall \
             (target {target})",
            many / one
        );
    }
    Ok(())
}

async fn open_and_edit(page: &Page, n_walls: usize, opened: &mut Opened) -> Result<()> {
    let text = std::fs::read_to_string(top().join("examples/workshop/job.json"))?;
    let mut job: Value = serde_json::from_str(&text)?;
    let wall = job["job"]["walls"][WALL].take();
    let walls = (0..n_walls).map(|number| {
        let mut wall = wall.clone();
        wall["id"] = json!(format!("{n_walls}-{number}"));
        wall
    });
    job["job"]["walls"] = walls.collect();
    let file = paths::target().join("walls.json");
    std::fs::write(&file, job.to_string())?;
    page.open("#/job").await?;
    let field = page.wait_for("#job-file").await?;
    // What the page begins with is done by then.
    page.wait_until("the page to rest", "3000 < performance.now()").await?;
    let [first, last] = [0, n_walls - 1].map(|number| format!("wall-{n_walls}-{number}"));
    page.run(OPEN, vec![json!(first), json!(last)]).await?;
    field.send_keys(file.to_string_lossy().as_ref()).await?;
    page.wait_until("the job to be listed", "window.took.length === 2").await?;
    let took = page.run("return window.took;", vec![]).await?;
    opened.shown.push(took[0].as_f64().context("a time")?);
    opened.listed.push(took[1].as_f64().context("a time")?);
    opened.edited.push(one_edit(page, &format!("{n_walls}-0")).await?);
    Ok(())
}

/// Drags a window along a wall of 40 ft with eight openings, and along one of the hardest class.
async fn drags(page: &Page) -> Result<()> {
    let text = std::fs::read_to_string(top().join("examples/workshop/job.json"))?;
    let mut job: Value = serde_json::from_str(&text)?;
    let mut wall = job["job"]["walls"][WALL].take();
    let mut window = wall["openings"][0].take();
    let openings = (0..8).map(|number| {
        window["left"] = json!(300 + number * 1500);
        window.clone()
    });
    wall["openings"] = openings.collect();
    wall["width"] = json!(12_192);
    // Only the wall itself stays of what lay about the openings of the example.
    wall["things"] = json!([]);
    wall["zones"] = json!([]);
    wall["id"] = json!("long");
    job["job"]["walls"] = json!([wall]);
    drag(page, "40 ft with 8 openings", &job.to_string(), 3).await?;
    let hard = (0..).map(|seed| wall_of(Class::Stress, seed)).find(|wall| 2 < wall.openings.len());
    let hard = walls::job(hard.context("a hard wall with openings")?);
    let hard = file::write(&hard).map_err(anyhow::Error::msg)?;
    drag(page, "a wall of the hardest class", &hard, 1).await
}

/// Opens a job of one wall and drags one of its openings.
async fn drag(page: &Page, what: &str, job: &str, opening: usize) -> Result<()> {
    let id: Value = serde_json::from_str(job)?;
    let id = id["job"]["walls"][0]["id"].as_str().context("a wall has an id")?.to_owned();
    let file = paths::target().join("dragged-wall.json");
    std::fs::write(&file, job)?;
    page.open("#/job").await?;
    page.wait_for("#job-file").await?.send_keys(file.to_string_lossy().as_ref()).await?;
    page.wait_for(&format!("#wall-{id}")).await?;
    page.open(&format!("#/wall/{id}")).await?;
    page.wait_for("#elevation .opening").await?;
    let place = "const r = document.querySelectorAll('#elevation .opening')[arguments[0]].getBoundingClientRect(); \
        return [r.left + r.width / 2, r.top + r.height / 2];";
    let place: [f64; 2] = serde_json::from_value(page.run(place, vec![json!(opening)]).await?)?;
    page.run(FOLLOW, vec![]).await?;
    mouse(page, "mousePressed", place, 0.0).await?;
    for step in 0..MOVES {
        let away = u32::try_from(step % 20)?;
        mouse(page, "mouseMoved", place, f64::from(away) * 2.0 - 20.0).await?;
    }
    mouse(page, "mouseReleased", place, 0.0).await?;
    let times = page.run("return window.followed;", vec![]).await?;
    let shares =
        ["its own share", "its frame until it is painted", "from the pointer's move until then"];
    for (column, name) in shares.into_iter().enumerate() {
        let column: Value =
            times.as_array().into_iter().flatten().map(|row| row[column].clone()).collect();
        let (half, most) = (percentile(&column, 50)?, percentile(&column, 95)?);
        println!("a drag on {what}, {name}: {half:.1} ms, 95 of 100 within {most:.1} ms");
    }
    Ok(())
}

async fn mouse(page: &Page, kind: &str, [x, y]: [f64; 2], right: f64) -> Result<()> {
    let buttons = u8::from(kind != "mouseReleased");
    let event = json!({
        "type": kind, "x": x + right, "y": y, "button": "left", "buttons": buttons, "clickCount": 1,
    });
    page.driver().cdp().send_raw("Input.dispatchMouseEvent", event).await?;
    Ok(())
}

/// Opens app and empty page by turns, each as on the first visit.
async fn first_pictures(page: &Page) -> Result<()> {
    let source = json!({ "source": WATCH });
    page.driver().cdp().send_raw("Page.addScriptToEvaluateOnNewDocument", source).await?;
    let (mut app, mut fields, mut empty) = (Vec::new(), Vec::new(), Vec::new());
    for _ in 0..ROUNDS {
        app.push(first(page, "firstPicture", &paths::app()).await?);
        fields.push(first(page, "firstFields", &paths::app()).await?);
        empty.push(first(page, "firstPicture", &paths::empty_page()).await?);
    }
    let (app, fields, empty) =
        (median(&json!(app))?, median(&json!(fields))?, median(&json!(empty))?);
    println!("first picture of an empty page of the framework: {empty:.0} ms");
    for (what, took) in [("picture", app), ("picture with fields to fill in", fields)] {
        println!("first {what}: {took:.0} ms, ratio {:.2} (target 1.5)", took / empty);
    }
    Ok(())
}

/// When a page noted something, in milliseconds since it was asked for.
async fn first(page: &Page, what: &str, dir: &std::path::Path) -> Result<Value> {
    let name = dir.file_name().context("a page has a folder")?.to_string_lossy();
    page.open(&format!("{name}/")).await?;
    page.wait_until(what, &format!("typeof window.{what} === 'number'")).await?;
    let time = page.run(&format!("return window.{what};"), vec![]).await?;
    // What the app keeps on the device would make the next visit another than the first.
    let origin = page.run("return location.origin;", vec![]).await?;
    let all = json!({ "origin": origin, "storageTypes": "all" });
    page.driver().cdp().send_raw("Storage.clearDataForOrigin", all).await?;
    Ok(time)
}

fn median(times: &Value) -> Result<f64> {
    percentile(times, 50)
}

/// The time that so many of a hundred keep within.
fn percentile(times: &Value, of_hundred: usize) -> Result<f64> {
    let list = times.as_array().with_context(|| format!("expected times, found {times}"))?;
    let mut times: Vec<f64> = list.iter().filter_map(Value::as_f64).collect();
    ensure!(!times.is_empty() && times.len() == list.len(), "expected times, found {list:?}");
    times.sort_by(f64::total_cmp);
    Ok(times[times.len() * of_hundred / 100])
}
