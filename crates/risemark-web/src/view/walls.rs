//! The walls of the job as small pictures, all at one scale.

use std::sync::Arc;

use leptos::{ev, prelude::*};
use risemark::{
    language::Speech,
    plan::WallPlan,
    quantity::{Units, to_mm},
};
use risemark_sheets::{common_scale, thumbnail};

use crate::{
    command::{Command, ListChange},
    fresh,
    planner::PlannedWall,
    route::Route,
    session::Session,
    view::field::refused,
    words,
};

/// The most room that a wall takes in the list.
const IN_LIST: (f64, f64) = (326.0, 150.0);

/// The most room that a wall takes in the strip.
const IN_STRIP: (f64, f64) = (170.0, 60.0);

/// Room for the line of the outline, at both ends together.
const BESIDE_OUTLINE: f64 = 3.0;

/// A wall of a list, with what its picture depends on.
#[derive(Debug, Clone)]
struct Item {
    planned: PlannedWall,
    idx: usize,
    n_walls: usize,
    scale: f64,
    units: Units,
}

impl Item {
    /// Items that look the same have the same key; only the others are drawn anew.
    fn key(&self) -> (usize, usize, usize, u64) {
        (self.planned.edition, self.idx, self.n_walls, self.scale.to_bits())
    }
}

fn items(session: Session, room: (f64, f64)) -> Vec<Item> {
    let (walls, units) =
        (session.planned.with(|planned| planned.walls.clone()), session.units.get());
    let (scale, n_walls) =
        (common_scale(walls.iter().map(|planned| &*planned.plan), room), walls.len());
    let item = |(idx, planned)| Item { planned, idx, n_walls, scale, units };
    walls.into_iter().enumerate().map(item).collect()
}

/// The walls of the job, unrolled at the foot of the drawing.
pub fn strip(session: Session, here: &str) -> AnyView {
    let here = StoredValue::new(here.to_owned());
    let item = move |Item { planned, scale, units, .. }: Item| {
        let id = planned.wall.id.clone();
        let current = (*here.read_value() == id).then_some("page");
        view! {
            <li>
                <a href=Route::Wall(id).href() aria-current=current>
                    <span class="picture" inner_html=small(&planned.plan, words::speech(units), IN_STRIP.1, scale)></span>
                    <span>{planned.wall.name.clone()}</span>
                </a>
            </li>
        }
    };
    view! {
        <nav class="strip" aria-label=words::ALL_WALLS.text()>
            <ul>
                <For each=move || items(session, IN_STRIP) key=Item::key let:wall>{item(wall)}</For>
            </ul>
        </nav>
    }
    .into_any()
}

/// The walls with what is to know about each and what can be done with it.
pub fn list(session: Session) -> AnyView {
    let dragged = RwSignal::new(None);
    view! {
        <ol class="walls" id="walls">
            <For each=move || items(session, IN_LIST) key=Item::key let:wall>{row(session, &wall, dragged)}</For>
        </ol>
    }
    .into_any()
}

fn row(session: Session, item: &Item, dragged: RwSignal<Option<usize>>) -> AnyView {
    let Item { planned: PlannedWall { wall, plan, .. }, idx, n_walls, scale, units } = item;
    let (idx, n_walls, scale, units) = (*idx, *n_walls, *scale, *units);
    let size = words::wall_size(wall.width, plan.frame.face.bounds().y.length(), units);
    let holes = words::holes_and_lines(plan.drill.holes.len(), plan.drill.snap_lines.len());
    let volume = words::volume(plan.volume_to_fill(), units);
    let picture = small(plan, words::speech(units), IN_LIST.1, scale);
    let message = RwSignal::new(String::new());
    let run = move |command| {
        message.set(refused(session.run(command), session).err().unwrap_or_default());
    };
    let insert = {
        let wall = Arc::clone(wall);
        move |mirrored: bool| {
            let entry = session.job(|job| match mirrored {
                true => fresh::copy(job, &wall.mirrored(), words::MIRROR_SUFFIX.text()),
                false => fresh::copy(job, &wall, words::COPY_SUFFIX.text()),
            });
            run(Command::Walls(ListChange::Insert { at: idx + 1, entry: Box::new(entry) }));
        }
    };
    let mirror = insert.clone();
    let shift = move |to| run(Command::Walls(ListChange::Move { from: idx, to }));
    let over = move |event: ev::DragEvent| {
        // Only a wall of this list may be let go here.
        if dragged.get_untracked().is_some() {
            event.prevent_default();
        }
    };
    let drop_here = move |event: ev::DragEvent| {
        if let Some(from) = dragged.get_untracked() {
            event.prevent_default();
            dragged.set(None);
            run(Command::Walls(ListChange::Move { from, to: idx }));
        }
    };
    let action = |word: &'static str| words::action_on(word, &wall.name);
    view! {
        <li id=format!("wall-{}", wall.id) on:dragover=over on:drop=drop_here>
            <a class="wall" href=Route::Wall(wall.id.clone()).href()
                on:dragstart=move |_| dragged.set(Some(idx)) on:dragend=move |_| dragged.set(None)>
                <span class="picture" inner_html=picture></span>
                <span class="name">{wall.name.clone()}</span>
            </a>
            <p class="facts">{wall.room.clone().map(|room| format!("{room} · "))}{size}</p>
            <p class="facts">{holes}" · "{volume}</p>
            <p class="facts">{words::findings_counted(&plan.findings)}</p>
            <div class="actions">
                <button type="button" aria-label=action(words::COPY.text()) on:click=move |_| insert(false)>{words::COPY.text()}</button>
                <button type="button" aria-label=action(words::MIRROR.text()) on:click=move |_| mirror(true)>{words::MIRROR.text()}</button>
                <button type="button" aria-label=action(words::EARLIER.text()) disabled=idx == 0
                    on:click=move |_| shift(idx.saturating_sub(1))>{words::EARLIER.text()}</button>
                <button type="button" aria-label=action(words::LATER.text()) disabled=idx + 1 == n_walls
                    on:click=move |_| shift(idx + 1)>{words::LATER.text()}</button>
                <button type="button" aria-label=action(words::REMOVE.text())
                    on:click=move |_| run(Command::Walls(ListChange::Remove { at: idx }))>{words::REMOVE.text()}</button>
            </div>
            <p class="message" role="alert">{message}</p>
        </li>
    }
    .into_any()
}

/// A picture that is just as wide as its wall.
fn small(plan: &WallPlan, speech: Speech, height: f64, scale: f64) -> String {
    let width = to_mm(plan.frame.outline.bounds().x.length()) * scale + BESIDE_OUTLINE;
    thumbnail(plan, speech, (width, height), Some(scale))
}
