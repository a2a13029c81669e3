//! The order of the shots: shown as a thread on the walls, a line of time
//! and a list for the caller.

use std::{fmt::Write, sync::Arc};

use leptos::prelude::*;
use risemark::{
    geometry::Point,
    job::CrewSettings,
    limits,
    quantity::{Time, count, to_seconds},
    shots::{PlannedShot, ShotPlan, Unordered},
};
use risemark_sheets::Picture;

use super::{
    Figure, figures, spaces,
    wishes::{names, wishes},
};
use crate::{
    command::Command,
    part::Part,
    planner::Planned,
    poured::Poured,
    session::Session,
    shooting::OrderSearch,
    view::{elevation::number_at, findings},
    words,
};

const FIGURES: &[Figure<CrewSettings>] = &[
    ((words::SETTING, "setting"), &limits::SETTING, " s", |c| c.setting, |c, v| c.setting = v),
    (
        (words::IDLE_LIMIT, "idle_limit"),
        &limits::IDLE_LIMIT,
        " s",
        |c| c.idle_limit,
        |c, v| c.idle_limit = v,
    ),
    ((words::SET_UP, "set_up"), &limits::SET_UP, " s", |c| c.set_up, |c, v| c.set_up = v),
    ((words::WALKING, "walking"), &limits::WALKING, " m/s", |c| c.walking, |c, v| c.walking = v),
    ((words::CART, "cart"), &limits::CART, " s", |c| c.cart, |c, v| c.cart = v),
    (
        (words::NOZZLE_CHANGE, "nozzle_change"),
        &limits::NOZZLE_CHANGE,
        " s",
        |c| c.nozzle_change,
        |c, v| c.nozzle_change = v,
    ),
    (
        (words::NOZZLE_WEIGHT, "nozzle_weight"),
        &limits::NOZZLE_WEIGHT,
        " s",
        |c| c.nozzle_weight,
        |c, v| c.nozzle_weight = v,
    ),
    (
        (words::KIT_CHANGE, "kit_change"),
        &limits::KIT_CHANGE,
        " s",
        |c| c.kit_change,
        |c, v| c.kit_change = v,
    ),
    ((words::PURGE, "purge"), &limits::PURGE, " s", |c| c.purge, |c, v| c.purge = v),
];

/// The order, and what is shown of it.
#[derive(Debug, Clone, Copy)]
pub struct Shown {
    /// What is found.
    pub search: OrderSearch,
    /// The chosen shot, by its place in the order.
    pub chosen: RwSignal<Option<usize>>,
    zoom: RwSignal<f64>,
}

/// The order, how it was found, and what it is planned by.
pub fn order(session: Session, poured: Memo<Arc<Poured>>) -> AnyView {
    let search = session.order;
    let shown = Shown { search, chosen: RwSignal::new(None), zoom: RwSignal::new(1.0) };
    let ordered = move || search.plan.get().filter(|plan| !plan.order.is_empty());
    let found = move || {
        ordered().map(|plan| {
            view! {
                <p class="quiet" id="order-summary">{words::order_summary(&plan)}</p>
                {timeline_view(shown, &plan)}
                {threads(session, poured, shown, &plan)}
            }
        })
    };
    // The wishes stay as they are while better orders come, and so does the focus in them.
    let is_ordered = Memo::new(move |_| ordered().is_some());
    view! {
        {searched(session, poured)}
        {move || {
            let said = search.said.get();
            (!said.is_empty()).then(|| findings::plain(session, &said))
        }}
        {found}
        {move || is_ordered.get().then(|| wishes(session, poured, shown))}
        {move || ordered().map(|plan| list(session, poured, shown, &plan))}
        {crew(session)}
    }
    .into_any()
}

/// Has the order searched as long as this is on the screen, and shows how far that is.
pub fn searched(session: Session, poured: Memo<Arc<Poured>>) -> AnyView {
    let search = session.order;
    let unordered = move |poured: &Poured| {
        session.job(|job| Unordered::new(job, &poured.plan, &poured.pour.product))
    };
    search.forget_all_but(poured.with_untracked(|poured| poured.edition));
    Effect::new(move || {
        // Lines that change would have the search begun again for each wall.
        if session.planned.with(Planned::awaits_lines) {
            return search.wait();
        }
        poured.with(|poured| search.seek(poured.edition, || unordered(poured)));
    });
    let stop = move |_| search.stop();
    let searching = move || {
        (search.share.get() < 1.0).then(|| {
            view! {
                <p class="quiet screen-only" id="order-searching">
                    {words::SEARCHING_ORDER.text()}" "
                    <progress max="1" prop:value=move || search.share.get()></progress>
                    <button type="button" id="stop-search" on:click=stop>{words::STOP_SEARCH.text()}</button>
                </p>
            }
        })
    };
    searching.into_any()
}

fn crew(session: Session) -> AnyView {
    let settings = Part::of_job(session, |job| job.crew.clone(), Command::Crew);
    view! {
        <details class="group" id="group-crew">
            <summary><h3>{words::CREW.text()}</h3></summary>
            <div class="fields">{figures(&settings, FIGURES)}</div>
        </details>
    }
    .into_any()
}

/// Room at both ends of the line of time, for its figures.
const END: f64 = 24.0;

/// Height of the line of time, in pixels.
const HEIGHT: f64 = 64.0;

fn timeline_view(shown: Shown, plan: &Arc<ShotPlan>) -> AnyView {
    let drawn = Arc::clone(plan);
    let width = move || 640.0 * shown.zoom.get();
    let content = move || timeline(&drawn, width(), shown.chosen.get());
    let pick = move |event: leptos::ev::MouseEvent| {
        if let Some(at) = number_at(&event, "data-shot") {
            shown.chosen.set(Some(at));
        }
    };
    view! {
        <div class="row screen-only">
            <button type="button" id="time-out" aria-label=words::SMALLER.text()
                on:click=move |_| shown.zoom.update(|zoom| *zoom = (*zoom / 1.6).max(1.0))>"−"</button>
            <button type="button" id="time-in" aria-label=words::LARGER.text()
                on:click=move |_| shown.zoom.update(|zoom| *zoom = (*zoom * 1.6).min(40.0))>"+"</button>
            <span class="quiet">{words::TIME_HINT.text()}</span>
        </div>
        <div class="timeline" id="timeline" tabindex="0" role="img" aria-label=words::TIMELINE.text()>
            <svg width=width height=HEIGHT inner_html=content on:click=pick on:mousemove=pick></svg>
        </div>
    }
    .into_any()
}

/// Writes shapes; a string takes whatever is written to it.
macro_rules! put {
    ($out:expr, $($parts:tt)*) => { let _written = write!($out, $($parts)*); };
}

/// Shots as bars, gaps with what is left of the nozzle's life, changes of nozzles and kits.
fn timeline(plan: &ShotPlan, width: f64, chosen: Option<usize>) -> String {
    let mut out = String::new();
    let end = to_seconds(plan.end).max(1.0);
    let x = |time: Time| END + (width - 2.0 * END) * to_seconds(time) / end;
    let limit = plan.crew.idle_limit;
    for (at, shot) in plan.order.iter().enumerate() {
        let before = at.checked_sub(1).map(|before| plan.order[before]);
        let (from, to) = (x(shot.start), x(shot.start + shot.duration));
        let class = if chosen == Some(at) { "shot chosen" } else { "shot" };
        put!(
            out,
            "<rect class=\"{class}\" data-shot=\"{at}\" x=\"{from:.1}\" y=\"16\" width=\"{:.1}\" height=\"24\"/>",
            (to - from).max(1.0)
        );
        let Some(before) = before else { continue };
        let gap_from = x(before.start + before.duration);
        // What is left of the nozzle falls from full to nothing over its idle limit.
        let share = if limit <= shot.gap { 1.0 } else { (shot.gap / limit).value };
        put!(
            out,
            "<path class=\"life\" d=\"M{gap_from:.1} 16L{from:.1} {:.1}\"/>",
            16.0 + 24.0 * share
        );
        if before.nozzle != shot.nozzle {
            let class = if before.kit == shot.kit { "nozzle" } else { "kit" };
            put!(out, "<path class=\"{class}\" d=\"M{from:.1} 8l5 -8h-10z\"/>");
        }
    }
    for minute in 0..=risemark::quantity::to_whole(end / 60.0) {
        let at = END + (width - 2.0 * END) * risemark::quantity::from_whole(minute) * 60.0 / end;
        let room = (width - 2.0 * END) * 60.0 / end;
        let every = risemark::quantity::to_whole((64.0 / room.max(0.01)).ceil()).max(1);
        if minute % every == 0 {
            put!(
                out,
                "<path class=\"axis\" d=\"M{at:.1} 42v5\"/><text x=\"{at:.1}\" y=\"60\" text-anchor=\"middle\">{minute} min</text>"
            );
        }
    }
    out
}

/// The walls with their holes joined in the order in which they are shot.
fn threads(
    session: Session,
    poured: Memo<Arc<Poured>>,
    shown: Shown,
    plan: &Arc<ShotPlan>,
) -> AnyView {
    let units = session.units.get_untracked();
    let pictures = poured.with_untracked(|poured| {
        let walls = poured.plan.walls.iter().enumerate();
        let shot_at = walls.filter(|(wall, _)| plan.order.iter().any(|shot| shot.wall == *wall));
        shot_at
            .map(|(wall, wall_plan)| {
                let picture = spaces(wall_plan, units);
                let places: Vec<(usize, Point)> = plan
                    .order
                    .iter()
                    .enumerate()
                    .filter(|(_, shot)| shot.wall == wall)
                    .filter_map(|(at, shot)| Some((at, wall_plan.hole(shot.hole)?.centre)))
                    .collect();
                (wall_plan.wall.name.clone(), picture, places)
            })
            .collect::<Vec<_>>()
    });
    let drawn = pictures.into_iter().map(|(name, picture, places)| {
        let (width, height) = (picture.width, picture.height);
        let svg = picture.svg.clone();
        let over = move || thread(&picture, &places, shown.chosen.get());
        let pick = move |event: leptos::ev::MouseEvent| {
            if let Some(at) = number_at(&event, "data-shot") {
                shown.chosen.set(Some(at));
            }
        };
        view! {
            <figure class="threaded" tabindex="0">
                <figcaption>{name}</figcaption>
                <div class="picture" style:width=format!("max(min(100%, {width}px), min({width}px, 36rem))") style:aspect-ratio=format!("{width} / {height}")>
                    <div class="ground" inner_html=svg></div>
                    <svg class="thread" aria-hidden="true" viewBox=format!("0 0 {width} {height}") inner_html=over on:click=pick on:mousemove=pick></svg>
                </div>
            </figure>
        }
    });
    view! { <div class="threads" id="threads">{drawn.collect_view()}</div> }.into_any()
}

/// How far the next shot through one hole stands beside the one before it, in pixels.
const FANNED: f64 = 7.0;

fn thread(picture: &Picture, places: &[(usize, Point)], chosen: Option<usize>) -> String {
    let mut out = String::new();
    let mut path = String::new();
    for (at, (_, place)) in places.iter().enumerate() {
        let (x, y) = picture.at(*place);
        put!(path, "{}{x:.1} {y:.1}", if at == 0 { 'M' } else { 'L' });
    }
    put!(out, "<path class=\"way\" d=\"{path}\"/>");
    // The chosen one lies over the others, of which several may go through one hole.
    let is_chosen = |(at, _): &&(usize, Point)| chosen == Some(*at);
    let others = places.iter().filter(|stop| !is_chosen(stop));
    for (at, place) in others.chain(places.iter().filter(is_chosen)) {
        let before = places.iter().filter(|(other, there)| other < at && there == place).count();
        let (x, y) = picture.at(*place);
        let x = x + FANNED * count(before);
        let class = if chosen == Some(*at) { "stop chosen" } else { "stop" };
        put!(
            out,
            "<g class=\"{class}\" data-shot=\"{at}\"><circle cx=\"{x:.1}\" cy=\"{y:.1}\" r=\"9\"/><text x=\"{x:.1}\" y=\"{:.1}\" text-anchor=\"middle\">{}</text></g>",
            y + 4.0,
            at + 1
        );
    }
    out
}

/// The list that the caller reads out; it can be printed as it is.
fn list(
    session: Session,
    poured: Memo<Arc<Poured>>,
    shown: Shown,
    plan: &Arc<ShotPlan>,
) -> AnyView {
    let in_order = names(poured, shown);
    let sequence = Memo::new(move |_| session.job(|job| job.crew.sequence.clone()));
    let names: Vec<String> = poured.with_untracked(|poured| {
        poured.plan.walls.iter().map(|wall| wall.wall.name.clone()).collect()
    });
    let row = |(at, shot): (usize, &PlannedShot)| {
        let chosen = move || (shown.chosen.get() == Some(at)).to_string();
        let name = in_order.get(at).cloned().flatten();
        let is_kept = move || {
            let is_kept = |name| sequence.with(|kept| kept.contains(name));
            name.as_ref().is_some_and(is_kept).then(|| words::FIXED.text())
        };
        let note = words::shot_note(at.checked_sub(1).map(|before| &plan.order[before]), shot);
        view! {
            <tr aria-selected=chosen on:click=move |_| shown.chosen.set(Some(at))>
                <th scope="row"><button type="button" aria-label=words::shot_title(at + 1)>{at + 1}</button></th>
                <td>{names.get(shot.wall).cloned()}</td>
                <td>{shot.hole}</td>
                <td>{to_seconds(shot.duration)}" s"</td>
                <td>{words::clock(shot.start)}</td>
                <td>{note}" "<span class="in-sequence">{is_kept}</span></td>
            </tr>
        }
    };
    let rows = plan.order.iter().enumerate().map(row).collect_view();
    view! {
        <table id="shot-list">
            <thead>
                <tr>
                    <th scope="col">{words::SHOT.text()}</th>
                    <th scope="col">{words::WALL.text()}</th>
                    <th scope="col">{words::HOLE.text()}</th>
                    <th scope="col">{words::SECONDS.text()}</th>
                    <th scope="col">{words::AT_TIME.text()}</th>
                    <th scope="col">{words::NOTE.text()}</th>
                </tr>
            </thead>
            <tbody>{rows}</tbody>
        </table>
    }
    .into_any()
}
