//! Holes of one's own, and what turns up at the wall.

use anyhow::{Context, Result, ensure};
use risemark_tests::top;
use serde_json::json;
use thirtyfour::Key;

use crate::harness::{View, browse};
use crate::page::Page;

/// The plain wall of the sample job: 16 ft, studs at 16 in on centre.
const PLAIN: &str = "workshop-north";

async fn open_wall(page: &Page) -> Result<()> {
    page.open(&format!("#/wall/{PLAIN}")).await?;
    page.wait_for("#elevation [data-mark='1']").await?;
    Ok(())
}

/// Marks and readings of every hole, as the table has them.
async fn holes(page: &Page) -> Result<Vec<Vec<String>>> {
    let cells = "return [...document.querySelectorAll('#holes tr[data-mark]')].map(row => \
         [...row.children].slice(0, 3).map(cell => cell.textContent.trim()));";
    Ok(serde_json::from_value(page.run(cells, vec![]).await?)?)
}

async fn open_details(page: &Page, css: &str) -> Result<()> {
    page.wait_for(css).await?;
    page.run("document.querySelector(arguments[0]).open = true;", vec![json!(css)]).await?;
    Ok(())
}

async fn choose(page: &Page, mark: usize) -> Result<()> {
    open_details(page, "#holes").await?;
    page.click(&format!("#holes tr[data-mark='{mark}'] button")).await?;
    page.wait_for_text("#hole-title", &format!("Hole {mark}")).await
}

async fn act(page: &Page, name: &str) -> Result<()> {
    page.click(&format!("[data-act='{name}']")).await
}

#[test]
fn a_hole_is_dragged_kept_and_given_back() -> Result<()> {
    browse(View::DESK, async |page| {
        open_wall(page).await?;
        page.wait_for_text_with("#wall-summary", "fewest possible").await?;
        let before = holes(page).await?;
        let script = "const r = document.querySelector(\"#elevation [data-mark='3']\").getBoundingClientRect(); \
             return [(r.left + r.right) / 2, (r.top + r.bottom) / 2];";
        let [x, y]: [f64; 2] = serde_json::from_value(page.run(script, vec![]).await?)?;
        for (kind, x, y) in [
            ("mousePressed", x, y),
            ("mouseMoved", x + 6.0, y - 10.0),
            ("mouseMoved", x + 9.0, y - 25.0),
        ] {
            let event = json!({ "type": kind, "x": x, "y": y, "button": "left", "buttons": 1, "clickCount": 1 });
            page.driver().cdp().send_raw("Input.dispatchMouseEvent", event).await?;
        }
        page.wait_for("#elevation .range").await?;
        page.screenshot("hole-dragged").await?;
        let event = json!({ "type": "mouseReleased", "x": x + 9.0, "y": y - 25.0, "button": "left", "buttons": 0, "clickCount": 1 });
        page.driver().cdp().send_raw("Input.dispatchMouseEvent", event).await?;
        page.wait_for("#elevation .hole-sign").await?;
        page.wait_for_text_with("#hole-why", "Set by hand.").await?;
        ensure!(holes(page).await? != before, "the hole has moved");
        act(page, "Give it back to the planner").await?;
        page.wait_until(
            "the planner's own plan again",
            "document.querySelector('#elevation .hole-sign') === null",
        )
        .await?;
        ensure!(holes(page).await? == before, "as it was");
        Ok(())
    })
}

#[test]
fn a_hole_is_moved_by_keys_alone() -> Result<()> {
    browse(View::DESK, async |page| {
        open_wall(page).await?;
        page.wait_for_text_with("#wall-summary", "fewest possible").await?;
        page.wait_for("#elevation").await?;
        page.run("document.querySelector('#elevation').focus();", vec![]).await?;
        page.press(Key::Right).await?;
        page.wait_for_text("#hole-title", "Hole 1").await?;
        let reading = "document.querySelector('#hole-across').textContent";
        let before = page.run(&format!("return {reading}"), vec![]).await?;
        page.press(Key::Enter).await?;
        page.wait_for_text_with("#hole-why", "Set by hand.").await?;
        page.press(Key::Right).await?;
        page.wait_until("it has moved", &format!("{reading} !== {before}")).await?;
        page.wait_for_text("#hole-title", "Hole 1").await
    })
}

#[test]
fn a_hole_left_out_is_a_finding_and_undo_brings_it_back() -> Result<()> {
    browse(View::PHONE, async |page| {
        open_wall(page).await?;
        let before = holes(page).await?;
        choose(page, 2).await?;
        act(page, "Leave it out").await?;
        page.wait_for_text_with("#findings", "at most").await?;
        ensure!(holes(page).await?.len() + 1 == before.len(), "one hole less");
        page.click("#undo").await?;
        let count = format!(
            "document.querySelectorAll('#holes tr[data-mark]').length === {}",
            before.len()
        );
        page.wait_until("the hole is back", &count).await?;
        Ok(())
    })
}

#[test]
fn what_turns_up_at_the_wall_changes_the_plan_only_there() -> Result<()> {
    browse(View::DESK, async |page| {
        open_wall(page).await?;
        let before = holes(page).await?;
        open_details(page, "#spaces").await?;
        page.click("#marks-on").await?;
        choose(page, 1).await?;
        page.wait_for_text_with("#hole-why", "Marked on the wall already.").await?;
        act(page, "It is drilled").await?;
        page.wait_for("#elevation .hole-dot").await?;
        // What stands where the button was must not answer the next key.
        page.wait_until("the focus on the heading", "document.activeElement.id === 'hole-title'")
            .await?;
        page.wait_for_text_with("#hole-may-move", "stays where it is").await?;
        // The wire stops at 40 in in the third space.
        page.type_into("#spaces tbody tr:nth-child(3) input[type=text]", "40\"").await?;
        page.press(Key::Enter).await?;
        page.wait_until(
            "a hole more",
            &format!("document.querySelectorAll('#holes tr[data-mark]').length > {}", before.len()),
        )
        .await?;
        let after = holes(page).await?;
        let kept = before.iter().filter(|hole| after.contains(hole)).count();
        ensure!(
            before.len() - kept <= 2,
            "only the bay with the block changes: {before:?} {after:?}"
        );
        let highest = before.len();
        let new: Vec<_> = after.iter().filter(|hole| !before.contains(hole)).collect();
        ensure!(!new.is_empty(), "there are new holes");
        for hole in new {
            let mark: usize = hole[0].parse().context("a number")?;
            ensure!(highest < mark, "hole {mark} takes no number that is on the wall");
        }
        page.screenshot("found-block").await?;
        Ok(())
    })
}

#[test]
fn a_chosen_hole_stays_chosen_when_others_take_its_number() -> Result<()> {
    browse(View::DESK, async |page| {
        open_wall(page).await?;
        choose(page, 1).await?;
        act(page, "Leave it out").await?;
        page.wait_until("a hole less", "!document.querySelector(\"#holes tr[data-mark='24']\")")
            .await?;
        choose(page, 5).await?;
        let across = page.wait_for("#hole-across").await?.text().await?;
        page.press(Key::Control + "z").await?;
        page.wait_for_text("#hole-title", "Hole 6").await?;
        page.wait_for_text("#hole-across", &across).await
    })
}

#[test]
fn a_probed_space_is_ticked_off() -> Result<()> {
    browse(View::PHONE, async |page| {
        open_wall(page).await?;
        open_details(page, "#spaces").await?;
        let signs = "document.querySelectorAll('#elevation .unprobed').length";
        let n_signs = page.run(&format!("return {signs};"), vec![]).await?;
        let n_signs = n_signs.as_u64().context("a count")?;
        page.click("#spaces tbody tr:nth-child(2) input[type=checkbox]").await?;
        page.wait_until("one sign less", &format!("{signs} === {}", n_signs - 1)).await?;
        page.screenshot("probed").await?;
        Ok(())
    })
}

#[test]
fn a_wall_of_brick_is_planned_round_what_is_drilled_and_says_what_is_left_open() -> Result<()> {
    browse(View::DESK, async |page| {
        page.open("#/job").await?;
        let file = top().join("examples/kiln-room/job.json").canonicalize()?;
        let picker = page.wait_for("#job-file").await?;
        picker.send_keys(file.to_string_lossy().as_ref()).await?;
        page.wait_for("#wall-kiln-yard").await?;
        page.open("#/wall/kiln-yard").await?;
        page.wait_for("#elevation [data-mark='1']").await?;
        // Between two leaves of brick stand no studs and no braces; what closes the space is blocks.
        let none = "!document.querySelector('#group-studs, [name=lumber], [data-kind=stud], [data-kind=brace]')";
        page.wait_until("no timber to be offered", none).await?;
        page.wait_for("#group-blocks, [data-kind=block]").await?;
        choose(page, 4).await?;
        act(page, "It is drilled").await?;
        page.wait_for("#elevation .hole-dot").await?;
        let drilled = holes(page).await?;
        choose(page, 9).await?;
        act(page, "Leave it out").await?;
        page.wait_for_text_with("#findings", "no hole reaches the air space").await?;
        let after = holes(page).await?;
        let hole = |holes: &[Vec<String>], mark: &str| {
            holes.iter().find(|hole| hole[0] == mark).map(|hole| hole[1..].to_vec())
        };
        ensure!(hole(&drilled, "4") == hole(&after, "4"), "the drilled hole stays: {after:?}");
        let gone = hole(&drilled, "9").context("the hole that is left out")?;
        ensure!(after.iter().all(|hole| hole[1..] != gone[..]), "none stands there: {after:?}");
        page.screenshot("brick-own-holes").await?;
        Ok(())
    })
}
