//! The page of one wall: the elevation large, everything else as notes at its side.

use std::sync::Arc;

use leptos::prelude::*;
use risemark::{finding::Finding, plan::WallPlan};

use super::{
    board::Board, changeable::changeable, elevation, findings::findings, form, hole::hole, spaces,
    tools, walls,
};
use crate::{route::Route, session::Session, words};

/// The page of the wall that bears an id.
pub fn page(session: Session, id: String) -> AnyView {
    let known = {
        let id = id.clone();
        Memo::new(move |_| session.wall(&id, |_| ()).is_some())
    };
    let shown = move || if known.get() { wall(session, &id) } else { missing() };
    view! { {shown} }.into_any()
}

fn missing() -> AnyView {
    view! {
        <main id="content" class="missing" tabindex="-1">
            <h1>{words::WALL.text()}</h1>
            <p>{words::NO_SUCH_WALL.text()}</p>
            <p><a href=Route::Job.href()>{words::TO_THE_JOB.text()}</a></p>
        </main>
    }
    .into_any()
}

fn wall(session: Session, id: &str) -> AnyView {
    let plan = {
        let id = id.to_owned();
        Memo::new(move |_| session.planned_wall(&id).map(|planned| Arc::clone(planned.plan())))
    };
    let board = Board::new(session, id);
    view! {
        <main id="content" class="with-panel" tabindex="-1">
            <div class="title">
                <h1>{move || plan.get().map(|plan| plan.wall.name.clone())}</h1>
                <p class="quiet" id="wall-summary">
                    {move || plan.get().map(|plan| summary(session, &plan))}
                </p>
                {tools::tools(board)}
            </div>
            {elevation::elevation(board)}
            <section class="panel" aria-label=words::PANEL.text()>
                {chosen(session, plan)}
                <section id="findings" aria-labelledby="findings-title">
                    <h2 id="findings-title">{words::FINDINGS.text()}</h2>
                    {listed(session, plan)}
                </section>
                <section id="wall-form" aria-labelledby="form-title">
                    <h2 id="form-title">{words::THE_WALL.text()}</h2>
                    {changeable(session, form::wall_form(session, id))}
                </section>
            </section>
            <div class="beside">
                {elevation::table(session, plan)} {changeable(session, spaces::spaces(session, id, plan))} {walls::strip(session, id)}
            </div>
        </main>
    }
    .into_any()
}

fn summary(session: Session, plan: &WallPlan) -> String {
    let bounds = plan.frame.face.bounds();
    let size = words::wall_size(plan.frame.width, bounds.y.length(), session.units.get());
    let room = session.wall(&plan.wall.id, |wall| wall.room.clone()).flatten();
    let holes = words::holes_and_lines(plan.drill.holes.len(), plan.drill.snap_lines.len());
    let proof = words::lines_proof(plan.drill.snap_lines.len(), plan.drill.lines_bound);
    let holes = if plan.drill.holes.is_empty() { holes } else { format!("{holes}, {proof}") };
    let parts = [room, Some(size), Some(holes)];
    parts.into_iter().flatten().collect::<Vec<_>>().join(" · ")
}

fn chosen(session: Session, plan: Memo<Option<Arc<WallPlan>>>) -> impl IntoView {
    // The margin is drawn anew only for another plan or another hole, so that it keeps the focus.
    let chosen = Memo::new(move |_| plan.get().and_then(|plan| session.chosen_in(&plan)));
    move || {
        let (plan, chosen) = (plan.get()?, chosen.get());
        let found = chosen.and_then(|mark| plan.hole(mark));
        let hint = if plan.drill.holes.is_empty() {
            words::NO_HOLES.text()
        } else {
            words::CHOOSE_A_HOLE.text()
        };
        Some(match found {
            Some(found) => hole(session, &plan, found, session.units.get()),
            None => view! { <p class="quiet">{hint}</p> }.into_any(),
        })
    }
}

fn listed(session: Session, plan: Memo<Option<Arc<WallPlan>>>) -> impl IntoView {
    // The list is built anew only when it reads differently, so that it keeps the focus.
    let list: Memo<Vec<Finding>> =
        Memo::new(move |_| plan.get().map(|plan| plan.findings.clone()).unwrap_or_default());
    move || findings(session, &list.get())
}
