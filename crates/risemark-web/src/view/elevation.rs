//! The wall drawn large, and its twin as a table.

use std::sync::Arc;

use leptos::{ev, html, prelude::*};
use risemark::{
    drilling::Hole,
    finding::{CompartmentId, Part, Place},
    plan::WallPlan,
    quantity::Length,
    tape, wording,
};
use risemark_sheets::{Fit, Picture, View, screen};
use wasm_bindgen::{JsCast, prelude::Closure};
use web_sys::{Element, ResizeObserver};

use crate::{
    session::{Selection, Session},
    words,
};

/// What the drawing may take of the height of the window where the panel lies beside it.
const SHARE_BESIDE_PANEL: f64 = 0.72;

/// The same, where the panel lies under it.
const SHARE_ABOVE_PANEL: f64 = 0.4;

/// A drawing narrower than this has the panel under it.
const NARROW: f64 = 500.0;

/// The height of a window that does not tell its own.
const DESK_HEIGHT: f64 = 800.0;

/// How far from a hole a touch still means it, in pixels: half of what a finger needs.
const FINGER: f64 = 22.0;

/// The elevation of a wall; holes are chosen by pointer or arrow keys.
pub fn elevation(session: Session, plan: Memo<Option<Arc<WallPlan>>>) -> AnyView {
    let holder = NodeRef::<html::Div>::new();
    let width = watched_width(holder);
    let picture = Memo::new(move |_| {
        let (plan, width) = (plan.get()?, width.get()?);
        let view = View { selected: session.chosen_hole(), ..View::wide(width) };
        let units = session.units.get();
        let wide = screen(&plan, units, &view);
        let height = most_height(width);
        if wide.height <= height {
            return Some(wide);
        }
        Some(screen(&plan, units, &View { fit: Fit::Inside { width, height }, ..view }))
    });
    let on_click = move |event: ev::MouseEvent| {
        let (Some(plan), Some(picture)) = (plan.get_untracked(), picture.get_untracked()) else {
            return;
        };
        let target = event.target().and_then(|target| target.dyn_into::<Element>().ok());
        let by_mark = target.and_then(|target| selected_by(&target, &plan));
        let near = || near(&plan.drill.holes, &picture, place_in(holder, &event)?);
        if let Some(selection) = by_mark.or_else(near) {
            session.select(selection);
        }
    };
    let on_key = move |event: ev::KeyboardEvent| {
        let Some(plan) = plan.get_untracked() else { return };
        let next = match event.key().as_str() {
            "ArrowRight" => beside(&plan.drill.holes, session.chosen_hole(), 1),
            "ArrowLeft" => beside(&plan.drill.holes, session.chosen_hole(), -1),
            "ArrowUp" => other_line(&plan.drill.holes, session.chosen_hole(), true),
            "ArrowDown" => other_line(&plan.drill.holes, session.chosen_hole(), false),
            "Escape" => return session.select(Selection::Nothing),
            _ => return,
        };
        event.prevent_default();
        if let Some(mark) = next {
            session.select(Selection::Hole(mark));
        }
    };
    view! {
        <div class="elevation" id="elevation" node_ref=holder tabindex="0" role="group" aria-label=move || plan.get().map(|plan| label(&plan))
            on:click=on_click on:keydown=on_key inner_html=move || picture.with(|picture| drawing(session, picture.as_ref()))></div>
    }
    .into_any()
}

/// Every hole of a wall in a row of its own.
pub fn table(session: Session, plan: Memo<Option<Arc<WallPlan>>>) -> AnyView {
    let rows = move || {
        let units = session.units.get();
        let holes = plan.get().map(|plan| plan.drill.holes.clone()).unwrap_or_default();
        let row = move |hole: &Hole| {
            let mark = hole.mark;
            let chosen = move || (session.chosen_hole() == Some(mark)).to_string();
            view! {
                <tr data-mark=mark aria-selected=chosen on:click=move |_| session.select(Selection::Hole(mark))>
                    <th scope="row">
                        <button type="button" aria-label=words::hole_title(mark)>{mark}</button>
                    </th>
                    <td>{tape::reading(hole.across, units)}</td>
                    <td>{tape::reading(hole.up, units)}</td>
                    <td class="why">{wording::why(hole, units).join(" ")}</td>
                </tr>
            }
        };
        holes.iter().map(row).collect_view()
    };
    view! {
        <details class="twin" id="holes">
            <summary><h2>{words::HOLES_TABLE}</h2></summary>
            <table>
                <thead>
                    <tr>
                        <th scope="col">{words::HOLE}</th>
                        <th scope="col">{words::ACROSS}</th>
                        <th scope="col">{words::UP}</th>
                        <th scope="col" class="why">{words::WHY}</th>
                    </tr>
                </thead>
                <tbody>{rows}</tbody>
            </table>
        </details>
    }
    .into_any()
}

/// The width of an element, kept current.
fn watched_width(holder: NodeRef<html::Div>) -> RwSignal<Option<f64>> {
    let width = RwSignal::new(None);
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
    width
}

/// The drawing, with what a finding points at marked as chosen.
fn drawing(session: Session, picture: Option<&Picture>) -> String {
    let svg = picture.map(|picture| picture.svg.clone()).unwrap_or_default();
    match session.selection() {
        Selection::Place(Place { part: Part::Compartment(CompartmentId(number)), .. }) => {
            let attribute = format!("data-compartment=\"{number}\"");
            svg.replace(&attribute, &format!("{attribute} data-chosen"))
        }
        Selection::Place(_) | Selection::Hole(_) | Selection::Nothing => svg,
    }
}

fn label(plan: &WallPlan) -> String {
    let holes = words::holes_and_lines(plan.drill.holes.len(), plan.drill.snap_lines.len());
    format!("{}: {}, {holes}", words::ELEVATION, plan.wall.name)
}

/// The height that the drawing may take, beside or above the panel.
fn most_height(width: f64) -> f64 {
    let height = window().inner_height().ok().and_then(|height| height.as_f64());
    let share = if width < NARROW { SHARE_ABOVE_PANEL } else { SHARE_BESIDE_PANEL };
    height.unwrap_or(DESK_HEIGHT) * share
}

fn selected_by(target: &Element, plan: &WallPlan) -> Option<Selection> {
    let attribute = |name: &str| {
        let marked = target.closest(&format!("[{name}]")).ok().flatten()?;
        marked.get_attribute(name)?.parse::<usize>().ok()
    };
    if let Some(mark) = attribute("data-mark") {
        return Some(Selection::Hole(mark));
    }
    let finding = attribute("data-finding")?;
    Some(Selection::Place(plan.findings.get(finding)?.place.clone()))
}

/// Where a pointer is in the picture, right and down.
fn place_in(holder: NodeRef<html::Div>, event: &ev::MouseEvent) -> Option<(f64, f64)> {
    let drawing = holder.get_untracked()?.query_selector("svg").ok().flatten()?;
    let room = drawing.get_bounding_client_rect();
    Some((f64::from(event.client_x()) - room.left(), f64::from(event.client_y()) - room.top()))
}

/// The hole nearest to a point of the picture, as far as a finger may miss it.
fn near(holes: &[Hole], picture: &Picture, (right, down): (f64, f64)) -> Option<Selection> {
    let squared = |hole: &Hole| {
        let (x, y) = picture.at(hole.centre);
        (x - right) * (x - right) + (y - down) * (y - down)
    };
    let nearest = holes.iter().min_by(|a, b| squared(a).total_cmp(&squared(b)))?;
    (squared(nearest) <= FINGER * FINGER).then_some(Selection::Hole(nearest.mark))
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
