//! Editing on the drawing, by mouse, finger and keys.

use anyhow::{Context, Result, bail, ensure};
use serde_json::{Value, json};
use thirtyfour::Key;

use crate::harness::{View, browse};
use crate::page::Page;

/// 22 ft of the sample job: a window, a door and a window.
const STREET: &str = "workshop-street";
/// 16 ft of the sample job with nothing in it.
const PLAIN: &str = "workshop-north";

/// A window and a door on the drawing, in the order of their list.
const WINDOW: &str = "#elevation .opening:nth-child(1 of .opening)";
const DOOR: &str = "#elevation .opening:nth-child(2 of .opening)";
const LEFT: &str = "#entry-opening-1 [name=left]";
const WIDTH: &str = "#entry-opening-1 [name=width]";
const MESSAGE: &str = "#drawing-message";

/// A place in the window of the browser, right and down.
#[derive(Clone, Copy, Debug)]
struct Spot {
    x: f64,
    y: f64,
}

impl Spot {
    fn moved(self, x: f64, y: f64) -> Self {
        Self { x: self.x + x, y: self.y + y }
    }

    fn between(self, other: Self) -> Self {
        Self { x: self.x.midpoint(other.x), y: self.y.midpoint(other.y) }
    }
}

async fn open_wall(page: &Page, id: &str) -> Result<()> {
    page.open(&format!("#/wall/{id}")).await?;
    page.wait_for("#elevation [data-mark='1']").await?;
    Ok(())
}

/// Left, top, right and bottom of an element.
async fn edges(page: &Page, css: &str) -> Result<[f64; 4]> {
    page.wait_for(css).await?;
    let script = "const r = document.querySelector(arguments[0]).getBoundingClientRect(); \
         return [r.left, r.top, r.right, r.bottom];";
    Ok(serde_json::from_value(page.run(script, vec![json!(css)]).await?)?)
}

async fn middle(page: &Page, css: &str) -> Result<Spot> {
    let [left, top, right, bottom] = edges(page, css).await?;
    Ok(Spot { x: left, y: top }.between(Spot { x: right, y: bottom }))
}

async fn text(page: &Page, css: &str) -> Result<String> {
    let script = "const e = document.querySelector(arguments[0]); \
         return e === null ? null : e.value ?? e.textContent;";
    let text = page.run(script, vec![json!(css)]).await?;
    text.as_str().map(str::to_owned).with_context(|| format!("`{css}` has no text"))
}

async fn holes(page: &Page) -> Result<String> {
    text(page, "#holes tbody").await
}

async fn can_undo(page: &Page) -> Result<bool> {
    let enabled = "return !document.querySelector('#undo').disabled;";
    page.run(enabled, vec![]).await?.as_bool().context("a button that is disabled or not")
}

async fn is_there(page: &Page, css: &str) -> Result<bool> {
    let found = "return document.querySelector(arguments[0]) !== null;";
    page.run(found, vec![json!(css)]).await?.as_bool().context("whether it is there")
}

async fn mouse(page: &Page, kind: &str, at: Spot, modifiers: u8) -> Result<()> {
    button(page, kind, at, ("left", 1, modifiers)).await
}

/// The button by its name and by the bit that stands for it while it is down.
async fn button(
    page: &Page,
    kind: &str,
    at: Spot,
    (name, bit, modifiers): (&str, u8, u8),
) -> Result<()> {
    let buttons = if kind == "mouseReleased" { 0 } else { bit };
    let event = json!({
        "type": kind, "x": at.x, "y": at.y, "button": name, "buttons": buttons,
        "clickCount": 1, "modifiers": modifiers,
    });
    page.driver().cdp().send_raw("Input.dispatchMouseEvent", event).await?;
    Ok(())
}

/// The bit that stands for Shift in the browser's input events.
const SHIFT: u8 = 8;

async fn press(page: &Page, at: Spot) -> Result<()> {
    mouse(page, "mousePressed", at, 0).await
}

/// Drags without letting go.
async fn pull(page: &Page, from: Spot, to: Spot) -> Result<()> {
    press(page, from).await?;
    for spot in [from.between(to), to] {
        mouse(page, "mouseMoved", spot, 0).await?;
    }
    page.wait_for("#elevation.dragging").await?;
    Ok(())
}

async fn drag(page: &Page, from: Spot, to: Spot) -> Result<()> {
    pull(page, from, to).await?;
    mouse(page, "mouseReleased", to, 0).await?;
    page.wait_for("#elevation:not(.dragging)").await?;
    Ok(())
}

async fn click(page: &Page, at: Spot, modifiers: u8) -> Result<()> {
    mouse(page, "mousePressed", at, modifiers).await?;
    mouse(page, "mouseReleased", at, modifiers).await
}

async fn touch(page: &Page, kind: &str, fingers: &[Spot]) -> Result<()> {
    let points: Vec<Value> = fingers
        .iter()
        .enumerate()
        .map(|(id, at)| json!({ "x": at.x, "y": at.y, "id": id }))
        .collect();
    let event = json!({ "type": kind, "touchPoints": points });
    page.driver().cdp().send_raw("Input.dispatchTouchEvent", event).await?;
    Ok(())
}

async fn tap(page: &Page, at: Spot) -> Result<()> {
    touch(page, "touchStart", &[at]).await?;
    touch(page, "touchEnd", &[]).await
}

async fn swipe(page: &Page, from: Spot, to: Spot) -> Result<()> {
    touch(page, "touchStart", &[from]).await?;
    for step in 1..=8 {
        let part = f64::from(step) / 8.0;
        let at = from.moved((to.x - from.x) * part, (to.y - from.y) * part);
        touch(page, "touchMove", &[at]).await?;
    }
    touch(page, "touchEnd", &[]).await
}

async fn with_fingers(page: &Page) -> Result<()> {
    let fingers = json!({ "enabled": true, "maxTouchPoints": 5 });
    page.driver().cdp().send_raw("Emulation.setTouchEmulationEnabled", fingers).await?;
    Ok(())
}

async fn focus_drawing(page: &Page) -> Result<()> {
    page.run("document.querySelector('#elevation').focus();", vec![]).await?;
    Ok(())
}

/// Waits until a text is no longer what it was.
async fn wait_for_other_text(page: &Page, css: &str, than: &str) -> Result<()> {
    let read = format!("document.querySelector({}).value", json!(css));
    page.wait_until(
        &format!("`{css}` to change from `{than}`"),
        &format!("{read} !== {}", json!(than)),
    )
    .await
}

#[test]
fn a_window_follows_the_mouse_and_one_undo_brings_it_back() -> Result<()> {
    browse(View::DESK, async |page| {
        open_wall(page, STREET).await?;
        let (before, drilled) = (text(page, LEFT).await?, holes(page).await?);
        ensure!(before == "2' 10\"", "where the window stands: {before}");
        let [drawn, ..] = edges(page, WINDOW).await?;
        let from = middle(page, WINDOW).await?;
        let to = from.moved(43.0, 0.0);
        pull(page, from, to).await?;
        page.wait_for("#elevation .told").await?;
        page.screenshot("edit-dragging").await?;
        let [moved, ..] = edges(page, WINDOW).await?;
        ensure!((moved - drawn - 43.0).abs() < 6.0, "the drawing follows: {drawn} to {moved}");
        ensure!(text(page, LEFT).await? == before, "the job waits until it is let go");
        mouse(page, "mouseReleased", to, 0).await?;
        wait_for_other_text(page, LEFT, &before).await?;
        ensure!(holes(page).await? != drilled, "the holes went with it");
        page.screenshot("edit-picked").await?;
        page.click("#undo").await?;
        page.wait_for_text(LEFT, &before).await?;
        ensure!(holes(page).await? == drilled, "and came back");
        ensure!(!can_undo(page).await?, "all of the drag was one step");
        Ok(())
    })
}

/// What the drawing holds.
const DRAWN: &str = "return document.querySelector('#elevation .drawn').innerHTML;";

#[test]
fn a_drawing_that_followed_a_drag_is_the_one_that_is_drawn_anew() -> Result<()> {
    browse(View::DESK, async |page| {
        open_wall(page, STREET).await?;
        // Better lines may come between the two, but not every time.
        for round in 0_i8..6 {
            let from = middle(page, WINDOW).await?;
            let right = if round % 2 == 0 { 60.0 } else { -47.0 };
            drag(page, from, from.moved(right, 0.0)).await?;
            let followed = page.run(DRAWN, vec![]).await?;
            focus_drawing(page).await?;
            // Of another size it is drawn anew.
            for sign in ["+", "0"] {
                let size = page.run(SIZE, vec![]).await?;
                let sign = json!({ "type": "keyDown", "key": sign, "text": sign });
                page.driver().cdp().send_raw("Input.dispatchKeyEvent", sign).await?;
                let other = format!("(() => {{ {SIZE} }})() !== {size}");
                page.wait_until("a drawing of another size", &other).await?;
            }
            if page.run(DRAWN, vec![]).await? == followed {
                return Ok(());
            }
        }
        bail!("a drawing that followed a drag was never the one that is drawn anew")
    })
}

const SIZE: &str =
    "return document.querySelector('#elevation .drawn svg').getAttribute('viewBox');";

/// How far two holes beside each other are apart on the screen, as an expression.
fn apart(one: usize, other: usize) -> String {
    let left = |mark: usize| {
        format!(
            "(document.querySelector(\"#elevation [data-mark='{mark}']\")?.getBoundingClientRect().left ?? NaN)"
        )
    };
    format!("({} - {})", left(other), left(one))
}

async fn number(page: &Page, expression: &str) -> Result<f64> {
    page.run(&format!("return {expression};"), vec![]).await?.as_f64().context("a number")
}

#[test]
fn an_edge_is_pulled_by_its_grip() -> Result<()> {
    browse(View::DESK, async |page| {
        open_wall(page, STREET).await?;
        let (left, width) = (text(page, LEFT).await?, text(page, WIDTH).await?);
        click(page, middle(page, WINDOW).await?, 0).await?;
        let grip = middle(page, "[data-grip=right]").await?;
        drag(page, grip, grip.moved(30.0, 7.0)).await?;
        wait_for_other_text(page, WIDTH, &width).await?;
        ensure!(text(page, LEFT).await? == left, "the other edge stays");
        let open = "document.querySelector('#entry-opening-1 > details').open";
        page.wait_until("the fields of the window are open", open).await
    })
}

#[test]
fn escape_takes_a_drag_back() -> Result<()> {
    browse(View::DESK, async |page| {
        open_wall(page, STREET).await?;
        let before = edges(page, WINDOW).await?;
        let from = middle(page, WINDOW).await?;
        pull(page, from, from.moved(40.0, 0.0)).await?;
        page.press(Key::Escape).await?;
        page.wait_for("#elevation:not(.dragging)").await?;
        mouse(page, "mouseReleased", from.moved(40.0, 0.0), 0).await?;
        let [left, ..] = before;
        let back = format!(
            "Math.abs(document.querySelector({}).getBoundingClientRect().left - {left}) < 0.5",
            json!(WINDOW)
        );
        page.wait_until("the window to be where it was", &back).await?;
        ensure!(!can_undo(page).await?, "nothing was done");
        Ok(())
    })
}

#[test]
fn a_drag_that_cannot_be_is_refused_with_the_reason() -> Result<()> {
    browse(View::DESK, async |page| {
        open_wall(page, STREET).await?;
        let before = text(page, LEFT).await?;
        let (from, door) = (middle(page, WINDOW).await?, middle(page, DOOR).await?);
        let to = Spot { x: door.x, ..from };
        pull(page, from, to).await?;
        page.wait_for("#elevation .refused").await?;
        page.screenshot("edit-refused").await?;
        mouse(page, "mouseReleased", to, 0).await?;
        page.wait_for_text_with(MESSAGE, "opening 2").await?;
        ensure!(text(page, LEFT).await? == before, "the window is where it was");
        ensure!(!can_undo(page).await?, "nothing was done");
        Ok(())
    })
}

#[test]
fn a_finger_picks_pulls_and_scrolls() -> Result<()> {
    browse(View::PHONE, async |page| {
        with_fingers(page).await?;
        open_wall(page, STREET).await?;
        let width = text(page, WIDTH).await?;
        tap(page, middle(page, WINDOW).await?).await?;
        page.wait_for("#elevation .picked").await?;
        page.screenshot("edit-phone").await?;
        let grip = middle(page, "[data-grip=right]").await?;
        // Off the middle of the grip, where a finger lands as well.
        let from = grip.moved(8.0, 12.0);
        swipe(page, from, from.moved(25.0, 0.0)).await?;
        wait_for_other_text(page, WIDTH, &width).await?;
        let scrolled = "return window.scrollY;";
        ensure!(page.run(scrolled, vec![]).await? == json!(0), "the page stays under a grip");
        let [left, top, ..] = edges(page, "#elevation").await?;
        let ground = Spot { x: left + 40.0, y: top + 150.0 };
        swipe(page, ground, ground.moved(0.0, -140.0)).await?;
        page.wait_until("the page to scroll from anywhere else", "20 < window.scrollY").await
    })
}

#[test]
fn two_fingers_enlarge_the_drawing_and_keys_fit_it() -> Result<()> {
    browse(View::PHONE, async |page| {
        with_fingers(page).await?;
        open_wall(page, STREET).await?;
        let [left, top, right, _] = edges(page, "#elevation .drawn svg").await?;
        let across = apart(10, 11);
        let fits = number(page, &across).await?;
        let at = Spot { x: left.midpoint(right), y: top + 90.0 };
        let fingers = |apart: f64| [at.moved(-apart, 0.0), at.moved(apart, 0.0)];
        touch(page, "touchStart", &fingers(30.0)[..1]).await?;
        touch(page, "touchStart", &fingers(30.0)).await?;
        for apart in [40.0, 60.0, 90.0] {
            touch(page, "touchMove", &fingers(apart)).await?;
        }
        touch(page, "touchEnd", &[]).await?;
        page.wait_until("the drawing to grow", &format!("{} < {across}", fits * 2.0)).await?;
        page.wait_for("#elevation .ruler, #elevation .division").await?;
        page.screenshot("edit-pinched").await?;
        ensure!(!can_undo(page).await?, "the wall is the same");
        focus_drawing(page).await?;
        page.press("0").await?;
        let fit = format!("Math.abs({across} - {fits}) < 0.5");
        page.wait_until("the drawing to fit", &fit).await?;
        page.press("+").await?;
        page.wait_until("the drawing to grow", &format!("{} < {across}", fits * 1.2)).await?;
        page.press("-").await?;
        page.wait_until("the drawing to fit", &fit).await
    })
}

#[test]
fn the_wheel_enlarges_about_the_pointer() -> Result<()> {
    browse(View::DESK, async |page| {
        open_wall(page, STREET).await?;
        let at = middle(page, DOOR).await?;
        let turn =
            json!({ "type": "mouseWheel", "x": at.x, "y": at.y, "deltaX": 0, "deltaY": -500 });
        let across = apart(11, 12);
        let fits = number(page, &across).await?;
        page.driver().cdp().send_raw("Input.dispatchMouseEvent", turn).await?;
        page.wait_until("the drawing to grow", &format!("{} < {across}", fits * 1.5)).await?;
        // The rulers stay at the edges of what is seen, with the readings of what is seen.
        let pointers = "document.querySelectorAll('#elevation .pointer').length";
        page.wait_until("fewer readings", &format!("0 < {pointers} && {pointers} < 20")).await?;
        let now = middle(page, DOOR).await?;
        ensure!((now.x - at.x).abs() < 2.0, "the door stays under the pointer: {at:?}, {now:?}");
        page.screenshot("edit-zoomed").await?;
        page.click("#zoom-fit").await?;
        let fit = format!("Math.abs({across} - {fits}) < 0.5");
        page.wait_until("the drawing to fit", &fit).await
    })
}

#[test]
fn the_paper_is_moved_with_the_middle_button_or_the_space_bar() -> Result<()> {
    browse(View::DESK, async |page| {
        open_wall(page, STREET).await?;
        let (across, size) = (apart(11, 12), number(page, &apart(11, 12)).await?);
        page.click("#zoom-in").await?;
        page.wait_until("the drawing to grow", &format!("{size} < {across}")).await?;
        let from = middle(page, DOOR).await?;
        let to = from.moved(-60.0, 0.0);
        let middle_button = ("middle", 4, 0);
        button(page, "mousePressed", from, middle_button).await?;
        button(page, "mouseMoved", to, middle_button).await?;
        button(page, "mouseReleased", to, middle_button).await?;
        wait_for_door_at(page, to).await?;
        focus_drawing(page).await?;
        key(page, "rawKeyDown").await?;
        for (kind, at) in [("mousePressed", to), ("mouseMoved", from), ("mouseReleased", from)] {
            mouse(page, kind, at, 0).await?;
        }
        key(page, "keyUp").await?;
        wait_for_door_at(page, from).await?;
        ensure!(!can_undo(page).await?, "the wall is the same");
        Ok(())
    })
}

/// Holds the space bar or lets it go.
async fn key(page: &Page, kind: &str) -> Result<()> {
    let event = json!({
        "type": kind, "key": " ", "code": "Space", "windowsVirtualKeyCode": 32,
    });
    page.driver().cdp().send_raw("Input.dispatchKeyEvent", event).await?;
    Ok(())
}

async fn wait_for_door_at(page: &Page, at: Spot) -> Result<()> {
    let script = format!(
        "(r => Math.abs(r.left + r.width / 2 - {}) < 3)\
            (document.querySelector({}).getBoundingClientRect())",
        at.x,
        json!(DOOR)
    );
    page.wait_until("the paper to follow", &script).await
}

#[test]
fn two_fingers_move_the_paper_and_a_touch_adds() -> Result<()> {
    browse(View::PHONE, async |page| {
        with_fingers(page).await?;
        open_wall(page, PLAIN).await?;
        focus_drawing(page).await?;
        let (across, size) = (apart(5, 6), number(page, &apart(5, 6)).await?);
        for _ in 0..3 {
            page.press("+").await?;
        }
        page.wait_until("the drawing to grow", &format!("{} < {across}", size * 1.5)).await?;
        let drawn =
            "document.querySelector(\"#elevation [data-mark='5']\").getBoundingClientRect()";
        let [left, top, right, _] = edges(page, "#elevation").await?;
        let at = Spot { x: left.midpoint(right), y: top + 90.0 };
        let before = page.run(&format!("return {drawn}.left;"), vec![]).await?;
        let before = before.as_f64().context("where the hole is")?;
        let fingers = |by: f64| [at.moved(by - 30.0, 0.0), at.moved(by + 30.0, 0.0)];
        touch(page, "touchStart", &fingers(0.0)[..1]).await?;
        touch(page, "touchStart", &fingers(0.0)).await?;
        for by in [-15.0, -30.0, -45.0] {
            touch(page, "touchMove", &fingers(by)).await?;
        }
        touch(page, "touchEnd", &[]).await?;
        let moved = format!("Math.abs({drawn}.left - {before} + 45) < 6");
        page.wait_until("the paper to follow both fingers", &moved).await?;
        ensure!(!can_undo(page).await?, "the wall is the same");
        page.press("0").await?;
        page.click("[data-kind=window]").await?;
        tap(page, middle(page, "#elevation .drawn svg").await?).await?;
        page.wait_for("#entry-opening-1").await?;
        Ok(())
    })
}

#[test]
fn touches_pick_several_while_that_is_chosen() -> Result<()> {
    browse(View::PHONE, async |page| {
        with_fingers(page).await?;
        open_wall(page, STREET).await?;
        page.click("#several").await?;
        tap(page, middle(page, WINDOW).await?).await?;
        tap(page, middle(page, DOOR).await?).await?;
        page.wait_until(
            "two are picked",
            "document.querySelectorAll('#elevation .picked').length === 2",
        )
        .await
    })
}

#[test]
fn keys_go_through_the_wall_and_move_what_they_find() -> Result<()> {
    browse(View::DESK, async |page| {
        open_wall(page, STREET).await?;
        focus_drawing(page).await?;
        let is_window =
            "document.querySelector('.said[role=status]').textContent.includes('window')";
        for _ in 0..40 {
            page.press(Key::PageDown).await?;
            page.wait_for("#elevation .picked").await?;
            if page.run(&format!("return {is_window};"), vec![]).await? == json!(true) {
                break;
            }
        }
        page.wait_for_text_with(".said[role=status]", "Left window").await?;
        page.press(Key::Right).await?;
        page.wait_for_text(LEFT, "2' 10 1/4\"").await?;
        page.press(Key::Shift + Key::Left).await?;
        page.wait_for_text(LEFT, "1' 10 1/4\"").await?;
        page.press("e").await?;
        page.wait_for("[data-grip=left].chosen").await?;
        page.press(Key::Right).await?;
        page.wait_for_text(LEFT, "1' 10 1/2\"").await?;
        page.wait_for_text(WIDTH, "3' 1 3/4\"").await?;
        page.press(Key::Enter).await?;
        let inside = "document.querySelector('#entry-opening-1').contains(document.activeElement)";
        page.wait_until("the focus among the fields", inside).await?;
        focus_drawing(page).await?;
        page.press(Key::Control + "d").await?;
        page.wait_for("#entry-opening-4").await?;
        page.press(Key::Delete).await?;
        page.wait_until(
            "the double is gone",
            "document.querySelector('#entry-opening-4') === null",
        )
        .await?;
        page.press(Key::Tab).await?;
        let outside = "!document.querySelector('#elevation').contains(document.activeElement)";
        page.wait_until("the focus goes on", outside).await
    })
}

#[test]
fn a_window_is_added_where_the_wall_is_touched() -> Result<()> {
    browse(View::DESK, async |page| {
        open_wall(page, PLAIN).await?;
        page.click("[data-kind=window]").await?;
        let at = middle(page, "#elevation .drawn svg").await?;
        click(page, at, 0).await?;
        page.wait_for("#entry-opening-1").await?;
        let [left, _, right, _] = edges(page, WINDOW).await?;
        ensure!(
            (left.midpoint(right) - at.x).abs() < 8.0,
            "it stands about the place: {left} to {right}"
        );
        page.click("#undo").await?;
        page.wait_until("no window", "document.querySelector('#entry-opening-1') === null").await?;
        ensure!(!can_undo(page).await?, "adding was one step");
        Ok(())
    })
}

#[test]
fn several_are_moved_and_removed_together() -> Result<()> {
    browse(View::DESK, async |page| {
        open_wall(page, STREET).await?;
        let third = "#entry-opening-3 [name=left]";
        let (first, last) = (text(page, LEFT).await?, text(page, third).await?);
        let window = middle(page, WINDOW).await?;
        let right = middle(page, "#elevation .opening:nth-child(3 of .opening)").await?;
        click(page, window, 0).await?;
        click(page, right, SHIFT).await?;
        page.wait_until(
            "two are picked",
            "document.querySelectorAll('#elevation .picked').length === 2",
        )
        .await?;
        drag(page, right, right.moved(20.0, 0.0)).await?;
        wait_for_other_text(page, LEFT, &first).await?;
        wait_for_other_text(page, third, &last).await?;
        page.click("#remove-picked").await?;
        page.wait_until("one is left", "document.querySelector('#entry-opening-2') === null")
            .await?;
        page.click("#undo").await?;
        page.wait_for("#entry-opening-3").await?;
        page.click("#undo").await?;
        page.wait_for_text(LEFT, &first).await?;
        page.wait_for_text(third, &last).await?;
        ensure!(!can_undo(page).await?, "each was one step");
        Ok(())
    })
}

#[test]
fn parts_of_the_drawing_can_be_hidden() -> Result<()> {
    browse(View::DESK, async |page| {
        open_wall(page, STREET).await?;
        for (layer, class) in [
            ("framing", ".timber"),
            ("compartments", ".compartment"),
            ("holes", ".hole"),
            ("lines", ".snap-line"),
            ("dimensions", ".ruler"),
        ] {
            let drawn = format!("#elevation {class}");
            ensure!(is_there(page, &drawn).await?, "{class} is drawn");
            let turn = format!("document.querySelector('#tools [name={layer}]').click();");
            page.run(&turn, vec![]).await?;
            let hidden = format!("document.querySelector('{drawn}') === null");
            page.wait_until(&format!("{class} to go"), &hidden).await?;
            page.run(&turn, vec![]).await?;
            page.wait_for(&drawn).await?;
        }
        Ok(())
    })
}

#[test]
fn an_entry_is_doubled_in_the_form_as_well() -> Result<()> {
    browse(View::DESK, async |page| {
        open_wall(page, STREET).await?;
        let double = "document.querySelector('[aria-label=\"Duplicate opening 1\"]').click();";
        page.run(double, vec![]).await?;
        page.wait_for("#entry-opening-4").await?;
        ensure!(can_undo(page).await?, "a step");
        let faults = page.axe_violations().await?;
        ensure!(faults.is_empty(), "{faults:#?}");
        Ok(())
    })
}
