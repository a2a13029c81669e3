//! The walls of the job as small pictures, all at one scale.

pub mod acts;

use std::{cell::LazyCell, collections::BTreeMap};

use leptos::{ev, html, prelude::*, wasm_bindgen::JsCast, web_sys};
use risemark::quantity::{Units, to_mm};
use risemark_sheets::{common_scale, thumbnail};

use crate::{
    picture::after_picture,
    planner::{Planned, PlannedWall},
    route::Route,
    session::Session,
    view::{
        later::{Pace, Turns},
        slot::slot,
    },
    words,
};

/// The most room that a wall takes in the list.
const IN_LIST: (f64, f64) = (326.0, 150.0);

/// The most room that a wall takes in the strip.
const IN_STRIP: (f64, f64) = (170.0, 60.0);

/// Room for the line of the outline, at both ends together.
const BESIDE_OUTLINE: f64 = 3.0;

/// How pictures of walls are drawn: all at one scale, in the units of the job.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Manner {
    scale: f64,
    units: Units,
}

impl Manner {
    /// The largest scale at which every wall of the job fits.
    fn of(session: Session, room: (f64, f64)) -> Self {
        let extents = |planned: &Planned| {
            common_scale(planned.walls.iter().map(|planned| planned.extent), room)
        };
        Self { scale: session.planned.with(extents), units: session.units.get() }
    }
}

/// What a memo depends on is asked of each that reads it after every step; of a signal that is set
/// where something differs, hundreds of pictures hear only then.
fn manner(session: Session, room: (f64, f64)) -> RwSignal<Manner> {
    let manner = RwSignal::new(untrack(|| Manner::of(session, room)));
    Effect::new(move || {
        let now = Manner::of(session, room);
        if manner.get_untracked() != now {
            manner.set(now);
        }
    });
    manner
}

/// A wall of the list: its row stays while it is one of the job's, and follows what becomes of it.
#[derive(Debug, Clone)]
pub struct Listed {
    id: String,
    /// Its position in the job, and the wall as it is now.
    now: ArcRwSignal<(usize, PlannedWall)>,
    /// With its plan, once it is its turn; what was planned before stays until then.
    planned: ArcRwSignal<Option<ArcRwSignal<PlannedWall>>>,
}

impl Listed {
    fn new(idx: usize, planned: &PlannedWall, turns: Turns) -> Self {
        let now = ArcRwSignal::new((idx, planned.clone()));
        let listed = Self { id: planned.wall.id.clone(), now, planned: ArcRwSignal::default() };
        listed.plan_in_turn(planned, turns);
        listed
    }

    /// Takes over what a step has changed of the wall.
    fn follow(&self, idx: usize, planned: &PlannedWall, turns: Turns) {
        let is_same = |(at, now): &(usize, PlannedWall)| (*at, now) == (idx, planned);
        if !self.now.with_untracked(is_same) {
            self.now.set((idx, planned.clone()));
            self.plan_in_turn(planned, turns);
        }
    }

    fn plan_in_turn(&self, planned: &PlannedWall, turns: Turns) {
        let pace = if planned.is_quick() { Pace::WithOthers } else { Pace::Later };
        let (listed, planned) = (self.clone(), planned.clone());
        turns.take(pace, move || {
            // Another step may have come first, and its turn is still to come.
            if listed.now.with_untracked(|(_, now)| *now != planned) {
                return;
            }
            planned.plan();
            match listed.planned.get_untracked() {
                Some(before) => before.set(planned),
                None => listed.planned.set(Some(ArcRwSignal::new(planned))),
            }
        });
    }

    fn href(&self) -> String {
        Route::Wall(self.id.clone()).href()
    }

    fn name(&self) -> String {
        self.now.with(|(_, planned)| planned.wall.name.clone())
    }

    fn position(&self) -> usize {
        self.now.with(|(idx, _)| *idx)
    }
}

/// How many new rows come with the list, about as many as a screen shows; others follow its picture.
const WITH_LIST: usize = 24;

/// The walls of the job in their order.
#[derive(Debug, Clone, Copy)]
struct Listing {
    session: Session,
    turns: Turns,
    rows: RwSignal<Vec<Listed>>,
    /// Whether the rest of the walls comes after the next picture.
    is_partial: StoredValue<bool>,
}

impl Listing {
    /// Follows the job with rows of new walls, so many at once.
    fn follow(self, most_new: usize) {
        let Some(earlier) = self.rows.try_get_untracked() else { return };
        let now = self.session.planned.with(|planned| self.following(&earlier, planned, most_new));
        // Rows are sorted anew only where walls came, went or changed places.
        if !earlier.iter().map(|listed| &listed.id).eq(now.iter().map(|listed| &listed.id)) {
            self.rows.set(now);
        }
    }

    fn following(self, earlier: &[Listed], planned: &Planned, most_new: usize) -> Vec<Listed> {
        let by_id = LazyCell::new(|| {
            earlier.iter().map(|listed| (listed.id.as_str(), listed)).collect::<BTreeMap<_, _>>()
        });
        let mut n_new = 0;
        let walls = planned.walls.iter().enumerate().map_while(|(idx, planned)| {
            let id = planned.wall.id.as_str();
            let here = earlier.get(idx).filter(|listed| listed.id == id);
            if let Some(listed) = here.or_else(|| by_id.get(id).copied()) {
                listed.follow(idx, planned, self.turns);
                return Some(listed.clone());
            }
            n_new += 1;
            (n_new <= most_new).then(|| Listed::new(idx, planned, self.turns))
        });
        let walls: Vec<Listed> = walls.collect();
        if walls.len() < planned.walls.len() {
            self.is_partial.set_value(true);
            after_picture(move || {
                // The page may be gone by then.
                if self.is_partial.try_set_value(false).is_none() {
                    self.follow(usize::MAX);
                }
            });
        }
        walls
    }
}

fn listed(session: Session) -> RwSignal<Vec<Listed>> {
    let (rows, is_partial) = (RwSignal::new(Vec::new()), StoredValue::new(false));
    let listing = Listing { session, turns: Turns::begin(), rows, is_partial };
    untrack(|| listing.follow(WITH_LIST));
    Effect::new(move || {
        session.planned.track();
        // What follows the picture follows every step until then.
        if !is_partial.get_value() {
            untrack(|| listing.follow(WITH_LIST));
        }
    });
    rows
}

/// The walls of the job, unrolled at the foot of the drawing.
pub fn strip(session: Session, here: &str) -> AnyView {
    let here = StoredValue::new(here.to_owned());
    let (walls, manner) = (listed(session), manner(session, IN_STRIP));
    let holder = NodeRef::<html::Nav>::new();
    // Among many walls the one that is open is looked for first. The page itself stays where it is.
    request_animation_frame(move || request_animation_frame(move || scroll_to_current(holder)));
    let item = move |listed: Listed| {
        let current = (*here.read_value() == listed.id).then_some("page");
        let (href, named) = (listed.href(), listed.clone());
        view! {
            <li>
                <a href=href aria-current=current>
                    {move || listed.planned.get().map(|planned| picture(planned, manner, IN_STRIP.1))}
                    <span>{move || named.name()}</span>
                </a>
            </li>
        }
    };
    view! {
        <nav class="strip" node_ref=holder aria-label=words::ALL_WALLS.text()>
            <ul>
                <For each=move || walls.get() key=|listed| listed.id.clone() let:wall>{item(wall)}</For>
            </ul>
        </nav>
    }
    .into_any()
}

fn scroll_to_current(holder: NodeRef<html::Nav>) {
    // The page may be gone by then.
    let Some(strip) = holder.try_get_untracked().flatten() else { return };
    let Ok(Some(current)) = strip.query_selector("[aria-current]") else { return };
    let (room, taken) = (strip.get_bounding_client_rect(), current.get_bounding_client_rect());
    let middle = |rect: &web_sys::DomRect| rect.left() + rect.width() / 2.0;
    strip.scroll_by_with_x_and_y(middle(&taken) - middle(&room), 0.0);
}

/// The walls with what is to know about each and what can be done with it.
pub fn list(session: Session) -> AnyView {
    let walls = listed(session);
    let list = List {
        session,
        manner: manner(session, IN_LIST),
        n_walls: Memo::new(move |_| session.planned.with(|planned| planned.walls.len())),
        refused: RwSignal::new(None),
    };
    // A wall in the hand. The list hears of it for all its rows: hundreds of them open sooner for it.
    let dragged: RwSignal<Option<usize>> = RwSignal::new(None);
    let over = move |event: ev::DragEvent| {
        // Only a wall of this list may be let go here.
        if dragged.get_untracked().is_some() {
            event.prevent_default();
        }
    };
    let drop_here = move |event: ev::DragEvent| {
        let held = dragged
            .get_untracked()
            .and_then(|at| walls.with_untracked(|walls| walls.get(at).cloned()));
        if let (Some(held), Some(to)) = (held, row_of(&event)) {
            event.prevent_default();
            dragged.set(None);
            if let Some(rest) = untrack(|| session.rest.here()) {
                (rest.move_wall)(&held, list, to);
            }
        }
    };
    view! {
        <ol class="walls" id="walls" on:dragover=over on:drop=drop_here
            on:dragstart=move |event| dragged.set(row_of(&event)) on:dragend=move |_| dragged.set(None)>
            <For each=move || walls.get() key=|listed| listed.id.clone() let:wall>{row(wall, list)}</For>
        </ol>
    }
    .into_any()
}

/// What the rows of the list share.
#[derive(Debug, Clone, Copy)]
pub struct List {
    session: Session,
    manner: RwSignal<Manner>,
    n_walls: Memo<usize>,
    /// The wall with which something was tried that is refused, and why.
    refused: RwSignal<Option<(String, String)>>,
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

fn row(listed: Listed, list: List) -> AnyView {
    let (href, named) = (listed.href(), listed.clone());
    let id = format!("wall-{}", listed.id);
    // What waits is all in one part, so that the rows of hundreds of walls are there at once.
    let rest = move || {
        listed.planned.get().map(|planned| {
            view! {
                <a class="seen" href=listed.href() tabindex="-1" aria-hidden="true">
                    {picture(planned.clone(), list.manner, IN_LIST.1)}
                </a>
                {facts(&planned, list)}
                {acts_on(&listed, list)}
            }
        })
    };
    view! {
        <li id=id>
            <a class="wall" href=href>{move || named.name()}</a>
            {rest}
        </li>
    }
    .into_any()
}

fn acts_on(listed: &Listed, list: List) -> AnyView {
    let listed = listed.clone();
    let acts = slot(list.session, move |rest| (rest.wall_acts)(&listed, list));
    view! { <div class="wall-acts">{acts}</div> }.into_any()
}

fn facts(planned: &ArcRwSignal<PlannedWall>, list: List) -> AnyView {
    let fact = |say: fn(&PlannedWall, Units) -> String| {
        let planned = planned.clone();
        let text = move || planned.with(|planned| say(planned, list.manner.get().units));
        view! { <p class="facts">{text}</p> }
    };
    view! { {fact(size)} {fact(holes)} {fact(findings)} }.into_any()
}

fn size(planned: &PlannedWall, units: Units) -> String {
    let (wall, height) = (&planned.wall, planned.plan().frame.face.bounds().y.length());
    let size = words::wall_size(wall.width, height, units);
    wall.room.as_ref().map_or_else(|| size.clone(), |room| format!("{room} · {size}"))
}

fn holes(planned: &PlannedWall, units: Units) -> String {
    let plan = planned.plan();
    let holes = words::holes_and_lines(plan.drill.holes.len(), plan.drill.snap_lines.len());
    format!("{holes} · {}", words::volume(plan.volume_to_fill(), units))
}

fn findings(planned: &PlannedWall, _: Units) -> String {
    words::findings_counted(&planned.plan().findings)
}

/// A picture that is just as wide as its wall.
fn picture(planned: ArcRwSignal<PlannedWall>, manner: RwSignal<Manner>, height: f64) -> AnyView {
    let drawn = move || {
        let Manner { scale, units } = manner.get();
        planned.with(|planned| {
            let width = to_mm(planned.extent.x.length()) * scale + BESIDE_OUTLINE;
            thumbnail(planned.plan(), words::speech(units), (width, height), Some(scale))
        })
    };
    view! { <span class="picture" inner_html=drawn></span> }.into_any()
}
