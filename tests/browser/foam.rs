//! The place for foam: test shots, kits, prices, the order of shots.

use anyhow::{Context, Result, ensure};
use serde_json::json;
use thirtyfour::Key;

use crate::harness::{View, browse};
use crate::page::Page;

async fn open_foam(page: &Page) -> Result<()> {
    page.open("#/foam").await?;
    page.wait_for("#foam-walls tbody tr").await?;
    Ok(())
}

async fn text(page: &Page, css: &str) -> Result<String> {
    let script = "const e = document.querySelector(arguments[0]); return e.value ?? e.textContent;";
    let text = page.run(script, vec![json!(css)]).await?;
    text.as_str().map(str::to_owned).with_context(|| format!("`{css}` has no text"))
}

/// Notes seconds and rise of a test shot and records it.
async fn record_test_shot(page: &Page, number: usize, (seconds, rise): (&str, &str)) -> Result<()> {
    page.type_into("#new-test-shot [name=seconds]", seconds).await?;
    page.type_into("#new-test-shot [name=rise]", rise).await?;
    page.click("#add-test-shot").await?;
    page.wait_for(&format!("#test-shot-{number} [name=width]")).await?;
    Ok(())
}

#[test]
fn test_shots_change_the_seconds_and_undo_brings_them_back() -> Result<()> {
    browse(View::DESK, async |page| {
        open_foam(page).await?;
        // The plain wall: its lines are the best from the start.
        let row = "document.querySelector('#foam-walls tbody tr').textContent";
        let before = text(page, "#foam-walls tbody tr").await?;
        // What is not known is not taken for granted.
        page.type_into("#new-test-shot [name=seconds]", "30").await?;
        page.click("#add-test-shot").await?;
        page.wait_for_text_with("#new-test-shot > .message", "rise").await?;
        record_test_shot(page, 1, ("30", "20\"")).await?;
        page.wait_for(".plot .point").await?;
        page.wait_until("other seconds", &format!("{row} !== {}", json!(before))).await?;
        page.wait_until(
            "an empty form",
            "document.querySelector('#new-test-shot [name=rise]').value === ''",
        )
        .await?;
        page.screenshot("foam-tested").await?;
        page.click("#undo").await?;
        page.wait_until("the seconds of before", &format!("{row} === {}", json!(before))).await
    })
}

#[test]
fn the_order_is_found_and_a_shot_is_found_on_the_wall() -> Result<()> {
    browse(View::DESK, async |page| {
        open_foam(page).await?;
        page.wait_for_text_with("#order-summary", "of the best possible").await?;
        page.wait_until(
            "the search is over",
            "document.querySelector('#order-searching') === null",
        )
        .await?;
        page.click("#shot-list tbody tr:nth-child(4) button").await?;
        page.wait_for("#threads .stop.chosen").await?;
        let size = |part: &str| {
            format!("document.querySelector('.threaded {part}').getBoundingClientRect()")
        };
        let alike = format!(
            "(() => {{ const [a, b] = [{}, {}]; return 200 < a.width && Math.abs(a.width - b.width) < 1 }})()",
            size(".ground svg"),
            size(".thread")
        );
        page.wait_until("the wall under its thread", &alike).await?;
        page.wait_for("#timeline .shot.chosen").await?;
        let number = text(page, "#threads .stop.chosen text").await?;
        ensure!(number == "4", "the fourth shot on the wall: {number}");
        let width = "document.querySelector('#timeline svg').getBoundingClientRect().width";
        let narrow = page.run(&format!("return {width};"), vec![]).await?;
        let narrow = narrow.as_f64().context("a width")?;
        page.click("#time-in").await?;
        page.wait_until("a longer line of time", &format!("{width} > {narrow}")).await?;
        page.screenshot("foam-order").await?;
        Ok(())
    })
}

#[test]
fn the_sheets_tell_the_turns_once_the_order_is_found() -> Result<()> {
    browse(View::DESK, async |page| {
        page.open("#/sheets/workshop-north").await?;
        page.wait_for(".sheet svg").await?;
        let heads =
            "[...document.querySelectorAll('.sheet text')].filter(t => t.textContent === 'turn')";
        page.wait_until("a column of turns", &format!("0 < {heads}.length")).await?;
        page.wait_until("and no search", "document.querySelector('#order-searching') === null")
            .await?;
        page.screenshot("sheets-turns").await?;
        Ok(())
    })
}

/// Watches what the page asks of its workers, and keeps back the end of an order while `held` is set.
const WATCHED: &str = r"
    window.asked = 0; window.lines = 0; window.ended = 0; window.held = false;
    window.Worker = class extends Worker {
      constructor(...args) {
        super(...args);
        this.addEventListener('message', () => { if (this.searchesLines) window.lines -= 1; });
      }
      postMessage(data) {
        this.searchesLines = typeof data === 'string';
        if (this.searchesLines) window.lines += 1; else window.asked += 1;
        super.postMessage(data);
      }
      set onmessage(hear) {
        const isEnd = ({ data }) => !this.searchesLines && data[1] === 1;
        super.onmessage = hear && (event => { if (!(window.held && isEnd(event))) hear(event); });
      }
      terminate() { window.ended += 1; super.terminate(); }
    };";

const SEARCHED: &str = "document.querySelector('#order-searching') === null \
     && document.querySelector('#shot-list tbody tr') !== null";

const LIST: &str = "document.querySelector('#shot-list tbody').textContent";

#[test]
fn the_order_is_searched_by_a_worker_and_as_well_without_one() -> Result<()> {
    browse(View::DESK, async |page| {
        page.run_first(WATCHED).await?;
        open_foam(page).await?;
        let settled = format!("window.lines === 0 && window.asked > 0 && {SEARCHED}");
        page.wait_until("the best lines and their order", &settled).await?;
        let found = page.run(&format!("return {LIST};"), vec![]).await?;
        let within = text(page, "#order-summary").await?;
        page.run_first("window.Worker = function () { throw new Error('none'); };").await?;
        page.driver().refresh().await?;
        page.wait_for("#foam-walls tbody tr").await?;
        page.wait_until("the same order", &format!("{SEARCHED} && {LIST} === {found}")).await?;
        page.wait_for_text("#order-summary", &within).await
    })
}

#[test]
fn a_search_that_is_stopped_keeps_its_order_and_a_change_begins_anew() -> Result<()> {
    browse(View::DESK, async |page| {
        page.run_first(&format!("{WATCHED} window.held = true;")).await?;
        open_foam(page).await?;
        page.wait_until("the best lines", "window.lines === 0 && window.asked > 0").await?;
        page.wait_for("#shot-list tbody tr").await?;
        let ended = page.run("return window.ended;", vec![]).await?;
        page.click("#stop-search").await?;
        page.wait_until("the worker is ended", &format!("window.ended === {ended} + 1")).await?;
        page.wait_until("the order stays", SEARCHED).await?;
        let asked = page.run("window.held = false; return window.asked;", vec![]).await?;
        page.click("#walls-in-turn").await?;
        page.wait_for("#free-walls").await?;
        page.wait_until("a new search", &format!("{asked} < window.asked && {SEARCHED}")).await
    })
}

#[test]
fn the_beginning_and_the_walls_can_be_fixed() -> Result<()> {
    browse(View::DESK, async |page| {
        open_foam(page).await?;
        page.wait_until("the search is over", "document.querySelector('#order-searching') === null && document.querySelector('#shot-list') !== null").await?;
        let hole = "[...document.querySelectorAll('#shot-list tbody tr:nth-child(1) td')].slice(0, 2).map(cell => cell.textContent).join(' ')";
        let second = hole.replace("nth-child(1)", "nth-child(2)");
        let wanted = page.run(&format!("return {second};"), vec![]).await?;
        page.click("#shot-list tbody tr:nth-child(2) button").await?;
        page.click("#begin-here").await?;
        page.wait_for("#free-beginning").await?;
        page.wait_until("the order begins with it", &format!("{hole} === {wanted}")).await?;
        page.click("#walls-in-turn").await?;
        page.wait_for("#free-walls").await?;
        // Each wall is left for good before the next begins.
        let changes = "[...document.querySelectorAll('#shot-list tbody tr')].map(row => row.children[1].textContent)\
             .filter((wall, at, all) => wall !== all[at - 1]).length";
        let walls = "document.querySelectorAll('#foam-walls tbody tr').length";
        page.wait_until("one wall after the other", &format!("{changes} === {walls}")).await
    })
}

/// Chooses an option of a list, as a person does.
async fn choose(page: &Page, css: &str, idx: usize) -> Result<()> {
    page.wait_for(css).await?.scroll_into_view().await?;
    let script = "const list = document.querySelector(arguments[0]); \
         list.selectedIndex = arguments[1]; \
         list.dispatchEvent(new Event('change', { bubbles: true }));";
    page.run(script, vec![json!(css), json!(idx)]).await?;
    Ok(())
}

#[test]
fn a_test_shot_can_rise_in_a_bay_of_the_job() -> Result<()> {
    browse(View::PHONE, async |page| {
        open_foam(page).await?;
        record_test_shot(page, 1, ("30", "30\"")).await?;
        let flow = "document.querySelector('#flow').textContent";
        let of_box = text(page, "#flow").await?;
        choose(page, "#test-shot-1 [name=space]", 1).await?;
        page.wait_for("#test-shot-1 [name=bay]").await?;
        page.wait_until(
            "no free width",
            "document.querySelector('#test-shot-1 [name=width]') === null",
        )
        .await?;
        // The narrowest bay takes less foam for the same rise.
        let narrowest = "const width = option => parseInt(option.textContent.split(': ')[1]); \
             const all = [...document.querySelector('#test-shot-1 [name=bay]').options]; \
             return all.indexOf(all.reduce((a, b) => width(b) < width(a) ? b : a));";
        let narrowest = page.run(narrowest, vec![]).await?.as_u64().context("a position")?;
        choose(page, "#test-shot-1 [name=bay]", usize::try_from(narrowest)?).await?;
        page.wait_until("another flow", &format!("{flow} !== {}", json!(of_box))).await?;
        let of_bay = text(page, "#flow").await?;
        page.screenshot("foam-bay-phone").await?;
        // Another bay, touched on the picture of the wall.
        let bays = "#test-shot-1 .bays .compartment:not(.empty)";
        let chosen = "#test-shot-1 .bays .compartment[data-chosen]";
        page.wait_for(chosen).await?;
        let touch = format!(
            "const bay = [...document.querySelectorAll('{bays}')].find(bay => !('chosen' in bay.dataset)); \
             bay.dispatchEvent(new MouseEvent('click', {{ bubbles: true }})); \
             return bay.dataset.compartment;"
        );
        let touched = page.run(&touch, vec![]).await?;
        page.wait_until(
            "the touched bay to be chosen",
            &format!("document.querySelector('{chosen}')?.dataset.compartment === {touched}"),
        )
        .await?;
        choose(page, "#test-shot-1 [name=bay]", usize::try_from(narrowest)?).await?;
        page.wait_for_text("#flow", &of_bay).await?;
        // As a box it is at first as large as the bay.
        choose(page, "#test-shot-1 [name=space]", 0).await?;
        page.wait_for("#test-shot-1 [name=width]").await?;
        page.wait_for_text("#flow", &of_bay).await
    })
}

#[test]
fn a_limit_on_the_rise_makes_more_shots_and_more_hands_fewer_hours() -> Result<()> {
    browse(View::DESK, async |page| {
        open_foam(page).await?;
        page.wait_for("#shot-list tbody tr").await?;
        let open = "for (const id of ['kits', 'work', 'crew']) document.querySelector(`#group-${id}`).open = true;";
        page.run(open, vec![]).await?;
        let n_shots = "document.querySelectorAll('#shot-list tbody tr').length";
        let before = page.run(&format!("return {n_shots};"), vec![]).await?;
        page.type_into("#group-kits [name=lift_height]", "24\"").await?;
        page.press(Key::Enter).await?;
        page.wait_until("more shots", &format!("{before} < {n_shots}")).await?;
        let hours = text(page, "#hours").await?;
        page.type_into("#group-work [name=people]", "4").await?;
        page.press(Key::Enter).await?;
        page.wait_until(
            "other hours",
            &format!("document.querySelector('#hours').textContent !== {}", json!(hours)),
        )
        .await?;
        page.type_into("#group-crew [name=kit_change]", "600").await?;
        page.press(Key::Enter).await?;
        page.wait_for_text("#group-crew [name=kit_change]", "600 s").await
    })
}

#[test]
fn what_was_mistyped_is_mended_and_recorded_at_the_first_press() -> Result<()> {
    browse(View::DESK, async |page| {
        open_foam(page).await?;
        page.type_into("#new-test-shot [name=rise]", "30\"").await?;
        page.type_into("#new-test-shot [name=seconds]", "soon").await?;
        page.click("#add-test-shot").await?;
        page.wait_for("#new-test-shot [name=seconds][aria-invalid=true]").await?;
        // The message of the field goes when it is left, and the button moves up.
        record_test_shot(page, 1, ("30", "30\"")).await
    })
}

#[test]
fn another_nozzle_among_the_test_shots_is_told() -> Result<()> {
    browse(View::DESK, async |page| {
        open_foam(page).await?;
        // 21 and 28 degrees Celsius, as the crew reads them.
        for (at, number, degrees) in [(1, "1", "69.8"), (2, "2", "82.4")] {
            record_test_shot(page, at, ("30", "30\"")).await?;
            for (name, text, shown) in [
                ("nozzle", number, number.to_owned()),
                ("temperature", degrees, format!("{degrees} °F")),
            ] {
                let field = format!("#test-shot-{number} [name={name}]");
                page.type_into(&field, text).await?;
                page.press(Key::Enter).await?;
                page.wait_for_text(&field, &shown).await?;
            }
        }
        page.wait_for_text_with("section.beside", "made with nozzle 2").await?;
        page.wait_for_text_with("section.beside", "82.4 °F").await?;
        // Who reads metres reads degrees Celsius.
        page.click("nav a[href='#/job']").await?;
        choose(page, "[name=units]", 1).await?;
        page.click("nav a[href='#/foam']").await?;
        page.wait_for_text("#test-shot-2 [name=temperature]", "28 °C").await?;
        page.screenshot("foam-test-shots").await?;
        Ok(())
    })
}

#[test]
fn sizes_of_kits_can_be_added_changed_and_removed() -> Result<()> {
    browse(View::PHONE, async |page| {
        open_foam(page).await?;
        page.wait_for("#add-kit").await?;
        page.run("document.querySelector('#group-sizes').open = true;", vec![]).await?;
        page.click("#add-kit").await?;
        let fourth = "#group-sizes li:nth-child(4)";
        page.wait_for(fourth).await?;
        page.type_into(&format!("{fourth} [name=board_feet]"), "205").await?;
        page.press(Key::Enter).await?;
        page.wait_for_text_with(&format!("{fourth} h4"), "205").await?;
        page.type_into(&format!("{fourth} [name=at_hand]"), "3").await?;
        page.press(Key::Enter).await?;
        page.screenshot("foam-kits-phone").await?;
        for left in [3, 2, 1] {
            page.click("#group-sizes li:first-child .remove").await?;
            let rows = "document.querySelectorAll('#group-sizes li').length";
            page.wait_until("a size less", &format!("{rows} === {left}")).await?;
        }
        page.wait_for_text_with("#group-sizes li h4", "205").await?;
        page.wait_for("#group-sizes li .remove:disabled").await?;
        let bought = "[...document.querySelectorAll('#kit-choices tbody td:nth-child(2)')]";
        page.wait_until(
            "only that size",
            &format!("{bought}.every(cell => /^\\d+ × 205 /.test(cell.textContent))"),
        )
        .await?;
        page.wait_until(
            "the three at hand",
            "document.querySelector('#group-sizes [name=at_hand]').value === '3'",
        )
        .await
    })
}

#[test]
fn a_sequence_can_be_kept_and_freed() -> Result<()> {
    browse(View::DESK, async |page| {
        page.run_first(WATCHED).await?;
        open_foam(page).await?;
        // Better lines would give the holes other numbers.
        let settled = format!("window.lines === 0 && window.asked > 0 && {SEARCHED}");
        page.wait_until("the best lines and their order", &settled).await?;
        let hole = |row: usize| {
            format!(
                "[...document.querySelectorAll('#shot-list tbody tr:nth-child({row}) td')]\
                 .slice(0, 2).map(cell => cell.textContent).join(' ')"
            )
        };
        page.click("#shot-list tbody tr:nth-child(3) button").await?;
        let three: Vec<String> = page
            .run(&format!("return [{}, {}, {}];", hole(1), hole(2), hole(3)), vec![])
            .await?
            .as_array()
            .context("three holes")?
            .iter()
            .filter_map(|hole| hole.as_str().map(str::to_owned))
            .collect();
        page.click("#keep-to-here").await?;
        page.wait_for_text_with("#sequence-kept", &three.join(", ")).await?;
        let fixed = "[...document.querySelectorAll('#shot-list tbody tr')]\
             .filter(row => row.querySelector('.in-sequence').textContent !== '')\
             .map(row => [...row.querySelectorAll('td')].slice(0, 2).map(cell => cell.textContent).join(' '))";
        let kept = format!("JSON.stringify({fixed}) === JSON.stringify({})", json!(three));
        page.wait_until("the three in their sequence", &format!("{SEARCHED} && {kept}")).await?;
        page.wait_until("and at the beginning", &format!("{} === {}", hole(1), json!(three[0])))
            .await?;
        page.screenshot("foam-kept").await?;
        // One of them is let go.
        page.click("#shot-list tbody tr:nth-child(1) button").await?;
        let label = "document.querySelector('#keep-this').textContent.trim()";
        page.wait_until("it can be freed", &format!("{label}.startsWith('Free')")).await?;
        page.click("#keep-this").await?;
        page.wait_until("two are left", &format!("({fixed}).length === 2")).await?;
        page.click("#free-sequence").await?;
        page.wait_until("none is left", "document.querySelector('#sequence-kept') === null")
            .await?;
        page.wait_until("nor marked", &format!("({fixed}).length === 0")).await
    })
}

#[test]
fn prices_give_costs_and_none_is_invented() -> Result<()> {
    browse(View::PHONE, async |page| {
        page.open("#/job").await?;
        page.click("#new-job").await?;
        page.wait_for_text_with("main h1", "New").await?;
        page.click("#sample-job").await?;
        open_foam(page).await?;
        page.wait_for("#shopping tbody tr").await?;
        page.run("document.querySelector('#group-prices').open = true;", vec![]).await?;
        let before = text(page, "#costs").await?;
        page.type_into("#group-prices [name=plug]", "0.75").await?;
        page.press(Key::Enter).await?;
        page.wait_until(
            "other costs",
            &format!("document.querySelector('#costs').textContent !== {}", json!(before)),
        )
        .await?;
        page.screenshot("foam-phone").await?;
        Ok(())
    })
}
