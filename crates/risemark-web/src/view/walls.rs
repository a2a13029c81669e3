//! The walls of the job as small pictures, all at one scale.

use std::sync::Arc;

use leptos::{ev, prelude::*, wasm_bindgen::JsCast, web_sys};
use risemark::quantity::to_mm;
use risemark_sheets::{common_scale, thumbnail};

use crate::{
    command::{Command, ListChange},
    fresh,
    planner::PlannedWall,
    route::Route,
    session::Session,
    view::{field::refused, later::Turns, reveal::focus_next},
    words,
};

/// The most room that a wall takes in the list.
const IN_LIST: (f64, f64) = (326.0, 150.0);

/// The most room that a wall takes in the strip.
const IN_STRIP: (f64, f64) = (170.0, 60.0);

/// Room for the line of the outline, at both ends together.
const BESIDE_OUTLINE: f64 = 3.0;

/// The largest scale at which every wall of the job fits.
fn scale(session: Session, room: (f64, f64)) -> Memo<f64> {
    Memo::new(move |_| {
        session
            .planned
            .with(|planned| common_scale(planned.walls.iter().map(|planned| planned.extent), room))
    })
}

/// The walls with their positions; those with other plans are drawn anew.
fn items(session: Session) -> Vec<(usize, PlannedWall)> {
    session.planned.with(|planned| planned.walls.iter().cloned().enumerate().collect())
}

fn key((_, planned): &(usize, PlannedWall)) -> usize {
    planned.edition
}

/// Whether the picture of a wall is due, and its plan there.
fn due(turns: Turns, planned: &PlannedWall) -> RwSignal<bool> {
    let (planned, is_quick) = (planned.clone(), planned.is_quick());
    let need = move || {
        planned.plan();
    };
    if is_quick { turns.due(need) } else { turns.due_later(need) }
}

/// The walls of the job, unrolled at the foot of the drawing.
pub fn strip(session: Session, here: &str) -> AnyView {
    let here = StoredValue::new(here.to_owned());
    let (turns, scale) = (Turns::begin(), scale(session, IN_STRIP));
    let item = move |(_, planned): (usize, PlannedWall)| {
        let (id, name) = (planned.wall.id.clone(), planned.wall.name.clone());
        let current = (*here.read_value() == id).then_some("page");
        let due = due(turns, &planned);
        view! {
            <li>
                <a href=Route::Wall(id).href() aria-current=current>
                    {picture(session, planned, (due, scale), IN_STRIP.1)}
                    <span>{name}</span>
                </a>
            </li>
        }
    };
    view! {
        <nav class="strip" aria-label=words::ALL_WALLS.text()>
            <ul>
                <For each=move || items(session) key=key let:wall>{item(wall)}</For>
            </ul>
        </nav>
    }
    .into_any()
}

/// The walls with what is to know about each and what can be done with it.
pub fn list(session: Session) -> AnyView {
    let list = List {
        turns: Turns::begin(),
        scale: scale(session, IN_LIST),
        n_walls: Memo::new(move |_| session.planned.with(|planned| planned.walls.len())),
        refused: RwSignal::new(None),
    };
    // A wall in the hand. The list hears of it for all its rows: hundreds of them open sooner for it.
    let dragged = RwSignal::new(None);
    let over = move |event: ev::DragEvent| {
        // Only a wall of this list may be let go here.
        if dragged.get_untracked().is_some() {
            event.prevent_default();
        }
    };
    let drop_here = move |event: ev::DragEvent| {
        if let (Some(from), Some(to)) = (dragged.get_untracked(), row_of(&event)) {
            event.prevent_default();
            dragged.set(None);
            list.run(session, to, Command::Walls(ListChange::Move { from, to }));
        }
    };
    view! {
        <ol class="walls" id="walls" on:dragover=over on:drop=drop_here
            on:dragstart=move |event| dragged.set(row_of(&event)) on:dragend=move |_| dragged.set(None)>
            <For each=move || items(session) key=key let:wall>{row(session, wall, list)}</For>
        </ol>
    }
    .into_any()
}

/// What the rows of the list share.
#[derive(Debug, Clone, Copy)]
struct List {
    turns: Turns,
    scale: Memo<f64>,
    n_walls: Memo<usize>,
    /// The position of a wall with which something was tried that is refused, and why.
    refused: RwSignal<Option<(usize, String)>>,
}

impl List {
    /// Does something with the wall at a position, or says there why not.
    fn run(self, session: Session, idx: usize, command: Command) {
        let row = |at: usize, part: &str| format!("#walls > li:nth-child({}) {part}", at + 1);
        let next = match command {
            // The wall that has moved up.
            Command::Walls(ListChange::Remove { at }) => vec![row(at, ".wall")],
            // The wall itself, ready to be moved on.
            Command::Walls(ListChange::Move { from, to }) => {
                let again = if to < from { ".earlier:enabled" } else { ".later:enabled" };
                vec![row(to, again), row(to, ".wall")]
            }
            _ => Vec::new(),
        };
        let reason = refused(session.run(command), session).err();
        if reason.is_none() && !next.is_empty() {
            let or_else = ["#walls > li:last-child .wall".to_owned(), "#walls-title".to_owned()];
            focus_next(next.into_iter().chain(or_else).collect());
        }
        self.refused.set(reason.map(|reason| (idx, reason)));
    }
}

/// The position of the wall in whose row something happens.
fn row_of(event: &web_sys::Event) -> Option<usize> {
    let target = event.target()?.dyn_into::<web_sys::Element>().ok()?;
    let row = target.closest("#walls > li").ok()??;
    Some(
        std::iter::successors(
            row.previous_element_sibling(),
            web_sys::Element::previous_element_sibling,
        )
        .count(),
    )
}

fn row(session: Session, (idx, planned): (usize, PlannedWall), list: List) -> AnyView {
    let List { turns, scale, refused, .. } = list;
    let due = due(turns, &planned);
    let message = move || {
        refused.with(|refused| {
            let here = refused.as_ref().filter(|(row, _)| *row == idx);
            here.map(|(_, reason)| reason.clone())
        })
    };
    let wall = Arc::clone(&planned.wall);
    let href = Route::Wall(wall.id.clone()).href();
    // What waits is all in one part, so that the rows of hundreds of walls are there at once.
    let rest = {
        let href = href.clone();
        move || {
            due.get().then(|| {
                view! {
                    <a class="seen" href=href.clone() tabindex="-1" aria-hidden="true">
                        {picture(session, planned.clone(), (due, scale), IN_LIST.1)}
                    </a>
                    {facts_and_actions(session, (idx, &planned), list)}
                    <p class="message" role="alert">{message}</p>
                }
            })
        }
    };
    view! {
        <li id=format!("wall-{}", wall.id)>
            <a class="wall" href=href>{wall.name.clone()}</a>
            {rest}
        </li>
    }
    .into_any()
}

fn facts_and_actions(
    session: Session,
    (idx, planned): (usize, &PlannedWall),
    list: List,
) -> AnyView {
    let run = move |command| list.run(session, idx, command);
    let (wall, plan, units) = (&planned.wall, planned.plan(), session.units.get_untracked());
    let size = words::wall_size(wall.width, plan.frame.face.bounds().y.length(), units);
    let holes = words::holes_and_lines(plan.drill.holes.len(), plan.drill.snap_lines.len());
    let volume = words::volume(plan.volume_to_fill(), units);
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
    let action = |word: &'static str| words::action_on(word, &wall.name);
    view! {
        <p class="facts">{wall.room.clone().map(|room| format!("{room} · "))}{size}</p>
        <p class="facts">{holes}" · "{volume}</p>
        <p class="facts">{words::findings_counted(&plan.findings)}</p>
        <div class="actions">
            <button type="button" aria-label=action(words::COPY.text()) on:click=move |_| insert(false)>{words::COPY.text()}</button>
            <button type="button" aria-label=action(words::MIRROR.text()) on:click=move |_| mirror(true)>{words::MIRROR.text()}</button>
            <button type="button" class="earlier" aria-label=action(words::EARLIER.text()) disabled=idx == 0
                on:click=move |_| shift(idx.saturating_sub(1))>{words::EARLIER.text()}</button>
            <button type="button" class="later" aria-label=action(words::LATER.text()) disabled=move || idx + 1 == list.n_walls.get()
                on:click=move |_| shift(idx + 1)>{words::LATER.text()}</button>
            <button type="button" aria-label=action(words::REMOVE.text())
                on:click=move |_| run(Command::Walls(ListChange::Remove { at: idx }))>{words::REMOVE.text()}</button>
        </div>
    }
    .into_any()
}

/// A picture that is just as wide as its wall, once it is due.
fn picture(
    session: Session,
    planned: PlannedWall,
    (due, scale): (RwSignal<bool>, Memo<f64>),
    height: f64,
) -> AnyView {
    let drawn = move || {
        if !due.get() {
            return String::new();
        }
        let (scale, speech) = (scale.get(), words::speech(session.units.get_untracked()));
        let width = to_mm(planned.extent.x.length()) * scale + BESIDE_OUTLINE;
        thumbnail(planned.plan(), speech, (width, height), Some(scale))
    };
    view! { <span class="picture" inner_html=drawn></span> }.into_any()
}
