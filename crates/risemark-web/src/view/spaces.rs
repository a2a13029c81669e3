//! The spaces of a wall as a list: what was probed, and where probing met a block.

use std::sync::Arc;

use leptos::prelude::*;
use risemark::{
    compartments::{Compartment, State},
    job::Wall,
    plan::WallPlan,
    tape,
};
use wasm_bindgen::JsCast;
use web_sys::HtmlInputElement;

use super::field::refused;
use crate::{command::WallChange, edit::holes, session::Session, words};

/// One space of the list.
#[derive(Debug, Clone, PartialEq)]
struct Space {
    compartment: Compartment,
    size: String,
}

/// The list, how to probe, and whether the marks are on the wall.
pub(super) fn spaces(session: Session, id: &str, plan: Memo<Option<Arc<WallPlan>>>) -> AnyView {
    let id = StoredValue::new(id.to_owned());
    let message = RwSignal::new(String::new());
    let run = move |change: Option<WallChange>| {
        let done = change.map_or(Ok(()), |change| session.change_wall(&id.read_value(), change));
        message.set(refused(done, session).err().unwrap_or_default());
    };
    // The rows are built anew only when a space changes, so that a tick keeps the focus.
    let list: Memo<Vec<Space>> = Memo::new(move |_| {
        let units = session.units.get();
        plan.get().map(|plan| to_fill(&plan, units)).unwrap_or_default()
    });
    let rows = move || {
        let rows = list.get().into_iter().map(|space| row(session, id, space, run));
        rows.collect_view()
    };
    view! {
        <details class="twin" id="spaces">
            <summary><h2>{words::SPACES.text()}</h2></summary>
            <p class="quiet">{words::HOW_TO_PROBE.text()}</p>
            <table>
                <thead>
                    <tr>
                        <th scope="col">{words::SPACE.text()}</th>
                        <th scope="col">{words::SIZE.text()}</th>
                        <th scope="col">{words::PROBED_CLEAR.text()}</th>
                        <th scope="col">{words::BLOCK_AT.text()}</th>
                    </tr>
                </thead>
                <tbody>{rows}</tbody>
            </table>
            <h3>{words::AT_THE_WALL.text()}</h3>
            <p class="quiet">{words::MARKS_HINT.text()}</p>
            {marks(session, id, run)}
            <p class="message" role="alert">{message}</p>
        </details>
    }
    .into_any()
}

fn to_fill(plan: &WallPlan, units: risemark::quantity::Units) -> Vec<Space> {
    let filled = plan.compartments.iter().filter(|space| space.state == State::Fillable);
    let space = |compartment: &Compartment| {
        let height = compartment.polygon.bounds().y.length();
        let size = words::wall_size(compartment.clear_width, height, units);
        Space { compartment: compartment.clone(), size }
    };
    filled.map(space).collect()
}

fn row<R: Fn(Option<WallChange>) + Copy + 'static>(
    session: Session,
    id: StoredValue<String>,
    space: Space,
    run: R,
) -> AnyView {
    let Space { compartment, size } = space;
    let name = compartment.id.to_string();
    let label = format!("{} {name}", words::PROBED_CLEAR.text());
    let block_label = format!("{} {name}", words::BLOCK_AT.text());
    let probed = compartment.probed;
    let (ticked, met) = (compartment.clone(), compartment);
    let with_wall = move |change: &dyn Fn(&Wall) -> Option<WallChange>| {
        untrack(|| session.wall(&id.read_value(), change)).flatten()
    };
    let tick = move |_| run(with_wall(&|wall| Some(holes::probed(wall, &ticked, !probed))));
    let note = RwSignal::new(String::new());
    let block = move |event: leptos::ev::Event| {
        let text = event_target_value(&event);
        if text.trim().is_empty() {
            return note.set(String::new());
        }
        let up = match tape::parse(&text, session.units.get_untracked()) {
            Ok(up) => up,
            Err(refused) => return note.set(words::unread(&refused)),
        };
        match with_wall(&|wall| holes::block_found(wall, &met, up)) {
            Some(change) => {
                // The block stands in the list of blocks from now on.
                if let Some(field) =
                    event.target().and_then(|at| at.dyn_into::<HtmlInputElement>().ok())
                {
                    field.set_value("");
                }
                note.set(String::new());
                run(Some(change));
            }
            None => note.set(words::NOT_IN_THE_SPACE.text().to_owned()),
        }
    };
    view! {
        <tr>
            <th scope="row">{name}</th>
            <td>{size}</td>
            <td><label class="touch"><input type="checkbox" aria-label=label prop:checked=probed on:change=tick/></label></td>
            <td>
                <input type="text" class="short" aria-label=block_label inputmode="text" on:change=block/>
                <span class="message" role="alert">{note}</span>
            </td>
        </tr>
    }
    .into_any()
}

fn marks<R: Fn(Option<WallChange>) + Copy + 'static>(
    session: Session,
    id: StoredValue<String>,
    run: R,
) -> AnyView {
    let put = move |_| {
        let planned = untrack(|| session.planned_wall(&id.read_value()));
        run(planned.map(|planned| holes::all_marked(&planned.wall, planned.plan())));
    };
    let take = move |_| run(untrack(|| session.wall(&id.read_value(), holes::unmarked)));
    view! {
        <p class="acts">
            <button type="button" id="marks-on" on:click=put>{words::MARKS_ARE_ON.text()}</button>
            <button type="button" id="marks-off" on:click=take>{words::PLAN_ANEW.text()}</button>
        </p>
    }
    .into_any()
}
