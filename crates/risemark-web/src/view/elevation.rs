//! The wall drawn large and edited on the drawing, and its holes as a table.

use leptos::{ev, html, prelude::*};
use risemark::{
    drilling::Hole,
    finding::{CompartmentId, Part, Place},
    plan::WallPlan,
    quantity::Length,
    tape, wording,
};
use std::sync::Arc;
use wasm_bindgen::{JsCast, prelude::Closure};
use web_sys::ResizeObserver;

use super::{
    board::{Board, ZOOM_STEP},
    handles, patch,
};
use crate::{
    session::{Selection, Session},
    words,
};

/// The elevation of a wall: what is on it is picked, moved and added by pointer or by keys.
pub fn elevation(board: Board) -> AnyView {
    watch_width(board.holder, board.width);
    let name = move || board.planned.get().map(|planned| label(planned.plan()));
    let height = move || board.height().map(|height| format!("{height}px"));
    let shift = move || {
        let shift = board.shown.with(|shown| shown.as_ref().map(|shown| shown.shift));
        shift.map(|(x, y)| format!("translate({x}px,{y}px)"))
    };
    // A finger loses the page's attention when the element under it goes: grips stay while one is dragged.
    let grips = Memo::new(move |earlier: Option<&String>| match earlier {
        Some(earlier) if board.trial.with(Option::is_some) => earlier.clone(),
        _ => handles::at_rest(board),
    });
    let drawn = NodeRef::<html::Div>::new();
    Effect::new(move |earlier: Option<Option<String>>| {
        let holder = drawn.get()?;
        let now = drawing(board);
        patch::show(&holder, earlier.flatten().as_deref(), &now);
        Some(now)
    });
    let hold = move |event: &ev::TouchEvent| {
        if board.holds_touches() {
            event.prevent_default();
        }
    };
    view! {
        <div class="elevation" id="elevation" node_ref=board.holder tabindex="0" role="application"
            aria-label=name aria-describedby="drawing-keys" style:height=height
            class:adding=move || board.adding.get().is_some() class:dragging=move || board.trial.with(Option::is_some)
            on:pointerdown=move |event| board.press(&event) on:pointermove=move |event| board.travel(&event)
            on:pointerup=move |event| board.release(&event) on:pointercancel=move |_| board.abandon()
            on:touchstart=move |event| hold(&event) on:touchmove=move |event| hold(&event)
            on:wheel=move |event| on_wheel(board, &event) on:auxclick=move |event| event.prevent_default()
            on:keydown=move |event| on_key(board, &event) on:keyup=move |event| on_key_up(board, &event)
            on:blur=move |_| board.hold_space(false)>
            <div class="drawn" node_ref=drawn style:transform=shift></div>
            <svg class="over" aria-hidden="true" inner_html=grips></svg>
            <svg class="over in-hand" aria-hidden="true" inner_html=move || handles::in_hand(board)></svg>
            <p class="message" id="drawing-message" role="alert">{board.message}</p>
        </div>
    }
    .into_any()
}

/// Every hole of a wall in a row of its own.
pub fn table(session: Session, plan: Memo<Option<Arc<WallPlan>>>) -> AnyView {
    let chosen_mark = Memo::new(move |_| plan.get().and_then(|plan| session.chosen_in(&plan)));
    let rows = move || {
        let units = session.units.get();
        let Some(plan) = plan.get() else { return Vec::new() };
        let row = |hole: &Hole| {
            let (mark, place) = (hole.mark, hole.centre);
            let chosen = move || (chosen_mark.get() == Some(mark)).to_string();
            view! {
                <tr data-mark=mark aria-selected=chosen on:click=move |_| session.select(Selection::Hole(place))>
                    <th scope="row">
                        <button type="button" aria-label=words::hole_title(mark)>{mark}</button>
                    </th>
                    <td>{tape::reading(hole.across, units)}</td>
                    <td>{tape::reading(plan.drill.reading(hole.up), units)}</td>
                    <td class="why">{wording::why(hole, words::speech(units)).join(" ")}</td>
                </tr>
            }
        };
        plan.drill.holes.iter().map(row).collect_view()
    };
    view! {
        <details class="twin" id="holes">
            <summary><h2>{words::HOLES_TABLE.text()}</h2></summary>
            <table>
                <thead>
                    <tr>
                        <th scope="col">{words::HOLE.text()}</th>
                        <th scope="col">{words::ACROSS.text()}</th>
                        <th scope="col">{words::UP.text()}</th>
                        <th scope="col" class="why">{words::WHY.text()}</th>
                    </tr>
                </thead>
                <tbody>{rows}</tbody>
            </table>
        </details>
    }
    .into_any()
}

/// Keeps the width of an element current.
fn watch_width(holder: NodeRef<html::Div>, width: RwSignal<Option<f64>>) {
    Effect::new(move || {
        let Some(element) = holder.get() else { return };
        let measured = element.clone();
        let measure = move || {
            let now = f64::from(measured.client_width());
            if 0.0 < now && width.try_get_untracked().is_some_and(|known| known != Some(now)) {
                width.set(Some(now));
            }
        };
        measure();
        let on_resize = Closure::<dyn Fn()>::new(measure);
        if let Ok(observer) = ResizeObserver::new(on_resize.as_ref().unchecked_ref()) {
            observer.observe(&element);
            let kept = send_wrapper::SendWrapper::new((observer, on_resize));
            on_cleanup(move || kept.0.disconnect());
        }
    });
}

/// The drawing, with what a finding points at marked as chosen.
fn drawing(board: Board) -> String {
    let svg = board.shown.with(|shown| shown.as_ref().map(|shown| shown.picture.svg.clone()));
    let svg = svg.unwrap_or_default();
    match board.session.selection() {
        Selection::Place(Place { part: Part::Compartment(CompartmentId(number)), .. }) => {
            with_chosen(&svg, CompartmentId(number))
        }
        Selection::Place(_) | Selection::Hole(_) | Selection::Entries(_) | Selection::Nothing => {
            svg
        }
    }
}

/// The number that what was touched on a drawing bears under a name, such as `data-mark`.
pub fn number_under(touched: &web_sys::Element, name: &str) -> Option<usize> {
    let marked = touched.closest(&format!("[{name}]")).ok().flatten()?;
    marked.get_attribute(name)?.parse().ok()
}

/// As [`number_under`], of what an event of the pointer was about.
pub fn number_at(event: &ev::MouseEvent, name: &str) -> Option<usize> {
    number_under(&event.target()?.dyn_into().ok()?, name)
}

/// A drawing with one of its compartments marked as chosen.
pub fn with_chosen(svg: &str, CompartmentId(number): CompartmentId) -> String {
    let attribute = format!("data-compartment=\"{number}\"");
    svg.replace(&attribute, &format!("{attribute} data-chosen"))
}

fn label(plan: &WallPlan) -> String {
    let holes = words::holes_and_lines(plan.drill.holes.len(), plan.drill.snap_lines.len());
    format!("{}: {}, {holes}", words::ELEVATION.text(), plan.wall.name)
}

fn on_wheel(board: Board, event: &ev::WheelEvent) {
    let down = match event.delta_mode() {
        0 => event.delta_y(),
        _ => event.delta_y() * 20.0,
    };
    // Where there is nothing to make smaller the wheel scrolls the page.
    if 0.0 < down && !untrack(|| board.is_zoomed()) && !event.ctrl_key() {
        return;
    }
    event.prevent_default();
    let times = 1.0 + down.abs() / 500.0;
    board.zoom(if down < 0.0 { times } else { 1.0 / times }, board.spot(event));
}

fn on_key(board: Board, event: &ev::KeyboardEvent) {
    let key = event.key();
    let (far, held) = (event.shift_key(), event.ctrl_key() || event.meta_key());
    let picked = !untrack(|| board.picked()).is_empty();
    match (key.as_str(), held) {
        ("d", true) if picked => board.double(),
        (_, true) => return,
        ("ArrowRight", _) if picked => board.nudge(1.0, 0.0, far),
        ("ArrowLeft", _) if picked => board.nudge(-1.0, 0.0, far),
        ("ArrowUp", _) if picked => board.nudge(0.0, 1.0, far),
        ("ArrowDown", _) if picked => board.nudge(0.0, -1.0, far),
        ("ArrowRight" | "ArrowLeft" | "ArrowUp" | "ArrowDown", _) => next_hole(board, &key),
        ("PageDown" | "]", _) => board.pick_beside(1),
        ("PageUp" | "[", _) => board.pick_beside(-1),
        ("e", _) if picked => board.next_grip(),
        ("Delete" | "Backspace", _) if picked => board.remove(),
        ("Enter", _) if untrack(|| board.adding.get()).is_some() => board.add_here(),
        ("Enter", _) if picked => board.open_form(),
        ("Enter", _) if board.chosen_hole().is_some() => board.take_hole(),
        ("+" | "=", _) => board.zoom(ZOOM_STEP, None),
        ("-", _) => board.zoom(1.0 / ZOOM_STEP, None),
        ("0", _) => board.fit(),
        (" ", _) => board.hold_space(true),
        ("Escape", _) => {
            if !board.cancel() {
                board.session.select(Selection::Nothing);
            }
        }
        _ => return,
    }
    event.prevent_default();
}

fn on_key_up(board: Board, event: &ev::KeyboardEvent) {
    if event.key() == " " {
        board.hold_space(false);
    }
}

fn next_hole(board: Board, key: &str) {
    let Some(planned) = board.planned.get_untracked() else { return };
    let (holes, chosen) = (&planned.plan().drill.holes, board.chosen_hole());
    let next = match key {
        "ArrowRight" => beside(holes, chosen, 1),
        "ArrowLeft" => beside(holes, chosen, -1),
        "ArrowUp" => other_line(holes, chosen, true),
        _ => other_line(holes, chosen, false),
    };
    if let Some(next) = next.and_then(|mark| planned.plan().hole(mark)) {
        board.session.select(Selection::Hole(next.centre));
    }
}

/// The hole before or after the chosen one.
fn beside(holes: &[Hole], chosen: Option<usize>, step: isize) -> Option<usize> {
    let at = chosen.and_then(|mark| holes.iter().position(|hole| hole.mark == mark));
    let next = at.map_or(Some(0), |at| at.checked_add_signed(step));
    next.and_then(|idx| holes.get(idx)).map(|hole| hole.mark)
}

/// The nearest hole on the next line above or below.
fn other_line(holes: &[Hole], chosen: Option<usize>, above: bool) -> Option<usize> {
    let Some(now) = chosen.and_then(|mark| holes.iter().find(|hole| hole.mark == mark)) else {
        return holes.first().map(|hole| hole.mark);
    };
    let further = |hole: &&Hole| if above { now.up < hole.up } else { hole.up < now.up };
    let far = |hole: &Hole| (hole.up - now.up).abs();
    let nearest: Length =
        holes.iter().filter(further).map(far).reduce(risemark::quantity::shorter)?;
    let line =
        holes.iter().filter(further).filter(|hole| risemark::quantity::same(far(hole), nearest));
    let beside = |hole: &&Hole| (hole.centre.x - now.centre.x).abs().value;
    line.min_by(|a, b| beside(a).total_cmp(&beside(b))).map(|hole| hole.mark)
}
