//! A first plan in under a minute, studs as they are called out, walls of a room, what a job comes to.

use std::time::{Duration, Instant};

use anyhow::{Context, Result, anyhow, ensure};
use risemark::quantity::{Volume, round_to, to_board_feet, to_cubic_feet};
use risemark_tests::{example_jobs, top};
use serde_json::{Value, json};
use thirtyfour::Key;

use crate::harness::{View, browse};
use crate::page::Page;

/// Counts what the user does, from now on.
const COUNT: &str = "window.done = { taps: 0, keys: 0 }; \
     addEventListener('click', event => { if (event.isTrusted) done.taps += 1; }, true); \
     addEventListener('keydown', event => { if (event.isTrusted) done.keys += 1; }, true);";

/// Seconds that people need: 1.2 for a key by the slowest typist, 1.1 to point, 0.2 to tap, 1.35 to
/// think before each (Card, Moran, Newell: The keystroke-level model, 1980).
const A_KEY: f64 = 1.2;
const A_TAP: f64 = 1.1 + 0.2 + 1.35;

async fn open_details(page: &Page, id: &str) -> Result<()> {
    page.wait_for(id).await?;
    page.run("document.querySelector(arguments[0]).open = true;", vec![json!(id)]).await?;
    Ok(())
}

/// Starts an empty job, which is there once the job before it is kept.
async fn start_empty(page: &Page) -> Result<()> {
    page.click("#new-job").await?;
    let empty = "document.querySelectorAll('#walls li').length === 0";
    page.wait_until("the empty job", empty).await
}

/// Types into a field after it was brought to the middle of the view.
async fn fill(page: &Page, css: &str, text: &str) -> Result<()> {
    page.wait_for(css).await?;
    page.run(TO_MIDDLE, vec![json!(css)]).await?;
    page.type_into(css, text).await
}

const TO_MIDDLE: &str = "document.querySelector(arguments[0]).scrollIntoView({ block: 'center' });";

/// Taps an element after it was brought to the middle of the view, clear of what stays in sight.
async fn tap(page: &Page, css: &str) -> Result<()> {
    page.wait_for(css).await?;
    page.run(TO_MIDDLE, vec![json!(css)]).await?;
    page.click(css).await
}

async fn fits(page: &Page) -> Result<()> {
    let over =
        "return document.documentElement.scrollWidth - document.documentElement.clientWidth;";
    ensure!(page.run(over, vec![]).await? == json!(0), "the page is wider than the view");
    let faults = page.axe_violations().await?;
    ensure!(faults.is_empty(), "accessibility: {faults:#?}");
    Ok(())
}

#[test]
fn a_new_user_has_a_first_plan_in_under_a_minute() -> Result<()> {
    browse(View::PHONE, async |page| {
        page.open("").await?;
        page.wait_for("#new-job").await?;
        page.run(COUNT, vec![]).await?;
        let start = Instant::now();
        start_empty(page).await?;
        page.wait_for_text_with("main", "No walls yet").await?;
        page.screenshot("empty-job-phone").await?;
        fits(page).await?;
        for (name, answer) in [("width", "12'"), ("height", "8' 1"), ("depth", "3 1/2")] {
            fill(page, &format!("#add-wall [name={name}]"), answer).await?;
        }
        tap(page, "#add-wall [type=submit]").await?;
        page.wait_for("#elevation [data-mark='18']").await?;
        let took = start.elapsed();
        page.screenshot("first-plan-phone").await?;
        ensure!(took < Duration::from_secs(60), "it took {took:?}");
        let done = page.run("return [done.taps, done.keys];", vec![]).await?;
        let count = |idx: usize| done[idx].as_f64().context("a count");
        let (taps, keys) = (count(0)?, count(1)?);
        ensure!((5.0..7.0).contains(&taps), "one tap to start, one an answer, one to add: {done}");
        let seconds = taps * A_TAP + keys * A_KEY;
        ensure!(seconds < 60.0, "the slowest typist needs {seconds} s for {done}");
        Ok(())
    })
}

#[test]
fn an_answer_that_is_missing_or_bad_makes_no_wall() -> Result<()> {
    browse(View::DESK, async |page| {
        page.open("").await?;
        start_empty(page).await?;
        fill(page, "#add-wall [name=width]", "12'").await?;
        tap(page, "#add-wall [type=submit]").await?;
        page.wait_for_text_with("#add-wall", "must be given").await?;
        fill(page, "#add-wall [name=height]", "high").await?;
        tap(page, "#add-wall [type=submit]").await?;
        page.wait_for("#add-wall [name=height][aria-invalid=true]").await?;
        page.wait_for_text_with("main", "No walls yet").await?;
        Ok(())
    })
}

#[test]
fn studs_are_taken_as_they_are_called_out() -> Result<()> {
    browse(View::PHONE, async |page| {
        page.open("#/wall/workshop-north").await?;
        page.wait_for("#elevation [data-mark='1']").await?;
        open_details(page, "#group-studs").await?;
        open_details(page, "#found").await?;
        for key in [1, 6, 10, 11, 2, 20, 18] {
            // The keys 1, 4, 1/2, 7, 2, next and back.
            tap(page, &format!(".keys button:nth-child({key})")).await?;
        }
        page.wait_for_text("#found textarea", "14-1/2, 72").await?;
        let run = "16, 32, 49-1/8, 64  80; 96, 112, 128, 144, 160, 17x";
        page.type_into("#found textarea", run).await?;
        page.wait_for_text_with("#found-readings", "17x").await?;
        page.wait_for("#take-regular:disabled").await?;
        page.press(Key::Backspace).await?;
        page.press("6").await?;
        page.wait_for_text_with("#found-layout", "16\" on centre").await?;
        page.wait_for_text_with("#found-layout", "10 of 11").await?;
        page.wait_for_text_with("#found-readings", "1 1/8\" past 4' 0\"").await?;
        page.screenshot("found-phone").await?;
        fits(page).await?;
        tap(page, "#take-regular:enabled").await?;
        page.wait_for_text_with("#entry-stud-correction-1", "found at 4' 1 1/8\"").await?;
        page.run(
            "document.querySelector('#take-regular').scrollIntoView({ block: 'center' });",
            vec![],
        )
        .await?;
        page.screenshot("found-taken-phone").await?;
        page.click("#undo").await?;
        page.wait_until("one step back", "!document.querySelector('#entry-stud-correction-1')")
            .await?;
        tap(page, "#take-measured").await?;
        let listed = "document.querySelectorAll('#group-studs .points .point').length === 11";
        page.wait_until("eleven studs one by one", listed).await
    })
}

#[test]
fn the_walls_of_a_room_share_what_one_was_measured_with() -> Result<()> {
    browse(View::DESK, async |page| {
        page.open("#/wall/workshop-north").await?;
        open_details(page, "#group-depth").await?;
        open_details(page, "#group-size").await?;
        page.type_into("#group-depth [name=depth]", "5 1/2").await?;
        page.press(Key::Enter).await?;
        page.click("#give-to-room").await?;
        page.open("#/job").await?;
        open_details(page, "#group-walls").await?;
        page.wait_for_text_with("#group-walls", "Street wall\n5 1/2\"").await?;
        page.screenshot("job-settings-desk").await?;
        page.click("#undo").await?;
        page.wait_until(
            "the street wall is as it was",
            "!document.querySelector('#group-walls').innerText.includes('Street wall\\n5 1/2')",
        )
        .await?;
        page.wait_for_text_with("#group-walls", "North wall\n5 1/2\"").await
    })
}

#[test]
fn a_new_wall_is_another_of_its_room_and_of_its_lumber() -> Result<()> {
    browse(View::PHONE, async |page| {
        page.open("").await?;
        start_empty(page).await?;
        open_details(page, "#add-wall details").await?;
        for (name, answer) in [("width", "12'"), ("height", "8' 1"), ("room", "Kiln room")] {
            fill(page, &format!("#add-wall [name={name}]"), answer).await?;
        }
        page.run(
            "const list = document.querySelector('#add-wall [name=lumber]'); \
             list.value = '2'; list.dispatchEvent(new Event('change', { bubbles: true }));",
            vec![],
        )
        .await?;
        page.wait_for("#add-wall [name=depth][placeholder='3 5/8\"']").await?;
        tap(page, "#add-wall [type=submit]").await?;
        page.wait_for("#elevation [data-mark='1']").await?;
        page.open("#/sheets/wall-1").await?;
        page.wait_for_text_with(".set", "cavity depth: 3 5/8\"").await?;
        page.open("#/job").await?;
        page.wait_for_text("#add-wall [name=room]", "Kiln room").await?;
        page.wait_for_text("#add-wall [name=height]", "8' 1\"").await?;
        page.screenshot("second-wall-phone").await?;
        fill(page, "#add-wall [name=width]", "9'").await?;
        tap(page, "#add-wall [type=submit]").await?;
        page.wait_for_text_with("#wall-summary", "Kiln room").await?;
        open_details(page, "#group-depth").await?;
        page.wait_for("#group-depth [name=depth][placeholder='3 5/8\"']").await?;
        Ok(())
    })
}

#[test]
fn a_job_says_what_it_comes_to() -> Result<()> {
    let jobs = example_jobs().into_iter();
    let rooms = jobs.filter(|(name, _)| {
        ["workshop", "drying-room", "attic-gable", "kiln-room"].contains(&name.as_str())
    });
    let plans: Vec<_> = rooms.flat_map(|(_, job)| risemark::plan(&job).walls).collect();
    let holes: usize = plans.iter().map(|plan| plan.drill.holes.len()).sum();
    let lines: usize = plans.iter().map(|plan| plan.drill.snap_lines.len()).sum();
    let volume = plans.iter().fold(Volume::default(), |sum, plan| sum + plan.volume_to_fill());
    browse(View::DESK, async |page| {
        page.open("#/job").await?;
        let board_feet = round_to(to_board_feet(volume), 1.0);
        let cubic_feet = round_to(to_cubic_feet(volume), 10.0);
        let foam = format!("{board_feet} board feet ({cubic_feet} cu ft)");
        for part in [format!("Holes\n{holes}\n"), format!("Snap lines\n{lines}\n"), foam] {
            page.wait_for_text_with("#totals", &part).await?;
        }
        page.screenshot("job-desk").await?;
        fits(page).await
    })
}

#[test]
fn a_long_list_of_walls_is_drawn_and_counted_to_its_end() -> Result<()> {
    let text = std::fs::read_to_string(top().join("examples/workshop/job.json"))?;
    let mut job: Value = serde_json::from_str(&text)?;
    let street = job["job"]["walls"][1].take();
    let walls = (0..60).map(|number| {
        let mut wall = street.clone();
        wall["id"] = json!(format!("many-{number}"));
        wall
    });
    job["job"]["walls"] = walls.collect();
    let read = risemark::file::read(&job.to_string());
    let read = read.map_err(|findings| anyhow!("{findings:?}"))?;
    let rules = risemark::rules::Rules::of(&read);
    let plan = risemark::plan_wall(&read, 0, &rules, risemark::drilling::Effort::Quick);
    let holes = 60 * plan.drill.holes.len();
    let file = xtask::paths::target().join("many-walls.json");
    std::fs::write(&file, job.to_string())?;
    browse(View::DESK, async |page| {
        page.open("#/job").await?;
        page.wait_for("#job-file").await?.send_keys(file.to_string_lossy().as_ref()).await?;
        page.wait_for("#wall-many-59 .wall").await?;
        page.wait_for("#wall-many-59 .picture svg").await?;
        page.wait_for("#wall-many-59 .actions button:disabled").await?;
        page.wait_for_text_with("#totals", &format!("Holes\n{holes}\n")).await?;
        fits(page).await
    })
}

#[test]
fn rows_of_walls_follow_a_change_and_keep_the_focus() -> Result<()> {
    browse(View::DESK, async |page| {
        page.open("#/wall/workshop-street").await?;
        let name = "#group-size [name=name]";
        page.wait_for(name).await?;
        page.run("document.querySelector('#group-size').open = true;", vec![]).await?;
        page.type_into(name, "Wall to the street").await?;
        page.press(Key::Enter + "").await?;
        page.click("nav a[href='#/job']").await?;
        let copy = "#wall-workshop-street .copy";
        page.wait_for(copy).await?;
        page.wait_for_text_with("#wall-workshop-street", "Wall to the street").await?;
        // Nobody moves the focus, and the step is taken back by a key.
        page.run(&format!("document.querySelector({copy:?}).focus();"), vec![]).await?;
        page.press(Key::Control + "z").await?;
        let named = format!("!document.querySelector({copy:?}).ariaLabel.includes('Wall to')");
        page.wait_until("the button to name the wall as it is called now", &named).await?;
        let stayed = format!("document.activeElement.matches({copy:?})");
        page.wait_until("the focus where it was", &stayed).await
    })
}

#[test]
fn walls_are_put_in_order_by_dragging() -> Result<()> {
    browse(View::DESK, async |page| {
        page.open("#/job").await?;
        let first = page.wait_for("#walls > li:first-child .wall").await?;
        let second = page.wait_for("#walls > li:nth-child(2)").await?;
        let was = first.text().await?;
        page.driver().action_chain().drag_and_drop_element(&first, &second).perform().await?;
        page.wait_for_text_with("#walls > li:nth-child(2)", &was).await?;
        page.click("#undo").await?;
        page.wait_for_text_with("#walls > li:first-child", &was).await?;
        // Who removes walls by keys goes on from the next one, at the place where the list is.
        page.click("#walls > li:nth-child(2) .actions button:last-child").await?;
        let focused = "document.activeElement.matches('#walls > li:nth-child(2) .wall')";
        page.wait_until("the focus on the next wall", focused).await?;
        // And who moves one goes on moving it, as far as it goes.
        let moved = page.wait_for("#walls > li:first-child .wall").await?.text().await?;
        page.click("#walls > li:first-child .later").await?;
        page.wait_for_text_with("#walls > li:nth-child(2)", &moved).await?;
        let focused = "document.activeElement.matches('#walls > li:nth-child(2) .later')";
        page.wait_until("the focus on the button that moved it", focused).await
    })
}
