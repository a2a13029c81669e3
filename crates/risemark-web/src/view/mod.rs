//! What is seen. Views read the session and change it through its methods alone.

pub mod add;
pub mod board;
pub mod changeable;
pub mod differ;
pub mod elevation;
pub mod field;
pub mod findings;
pub mod foam;
pub mod form;
pub mod handles;
pub mod hole;
pub mod job;
pub mod jobs;
pub mod kept;
pub mod language;
pub mod later;
pub mod menus;
pub mod offline;
pub mod patch;
pub mod reveal;
pub mod rules;
pub mod share;
pub mod sheets;
pub mod slot;
mod spaces;
pub mod steps;
pub mod submit;
pub mod tools;
pub mod totals;
pub mod typed;
pub mod wall;
pub mod walls;

use leptos::{ev, prelude::*};

use crate::{link, route::Route, session::Session, store::keeper::Start, words};

/// The whole app.
pub fn app(start: Start) -> impl IntoView {
    let session = Session::new(start);
    provide_context(session);
    follow_address(session);
    follow_title(session);
    language::follow(session);
    reveal::follow_selection(session);
    menus::follow_menus();
    let offline = offline::follow();
    // Words stand in the language in which they were drawn, so another one draws everything anew.
    move || {
        session.language();
        drawn(session, offline)
    }
}

fn drawn(session: Session, offline: RwSignal<offline::Kept>) -> AnyView {
    view! {
        <a class="skip" href="#content" on:click=reveal::skip_to_content>{words::SKIP_TO_CONTENT.text()}</a>
        {header(session)}
        <aside class="plain" aria-label=words::WHAT_IS_KEPT.text()>{kept::kept(session)} {slot::missing(session)}</aside>
        {page(session)}
        <footer class="foot">{offline::line(offline)}</footer>
        <p class="said" role="status" aria-live="polite">{move || session.said()}</p>
    }
    .into_any()
}

fn page(session: Session) -> impl IntoView {
    // The page is built anew for another place, not for every change of the job.
    let route = Memo::new(move |_| session.route());
    move || match route.get() {
        Route::Job => job::page(session),
        other => slot::page(session, &other),
    }
}

fn header(session: Session) -> impl IntoView {
    view! {
        <header class="bar">
            <a class="brand" href=Route::Job.href()>{move || session.job(|job| job.name.clone())}</a>
            <nav class="places" aria-label=words::PLACES.text()>
                {place(session, words::JOB.text(), |_| Route::Job)}
                {place(session, words::WALL.text(), Route::Wall)}
                {place(session, words::FOAM.text(), |_| Route::Foam)}
                {place(session, words::SHEETS.text(), Route::Sheets)}
            </nav>
            <div class="steps">{slot::slot(session, move |rest| (rest.steps)(session))}</div>
        </header>
    }
}

fn place(session: Session, word: &'static str, route: fn(String) -> Route) -> impl IntoView {
    let id = move || session.route().wall().map(str::to_owned).or_else(|| session.last_wall());
    let target = move || id().map_or(Route::Job, route);
    let here = move || {
        let now = session.route();
        let same = std::mem::discriminant(&now) == std::mem::discriminant(&route(String::new()));
        same.then_some("page")
    };
    view! { <a href=move || target().href() aria-current=here>{word}</a> }
}

fn follow_address(session: Session) {
    let go = move || {
        let hash = window().location().hash().unwrap_or_default();
        // The link past the header is no place, and a shared job leads on to one.
        if let Some(packed) = link::packed_in(&hash).map(str::to_owned) {
            open_link(session, packed);
        } else if hash != "#content" {
            session.go(Route::parse(&hash));
            window().scroll_to_with_x_and_y(0.0, 0.0);
        }
    };
    go();
    let _kept_for_ever = window_event_listener(ev::hashchange, move |_| go());
}

/// Opens a job that an address carries, once what reads it is here.
fn open_link(session: Session, packed: String) {
    Effect::new(move |opened: Option<bool>| {
        if opened == Some(true) {
            return true;
        }
        let rest = session.rest.here();
        rest.into_iter().for_each(|rest| (rest.open_link)(session, packed.clone()));
        rest.is_some()
    });
}

/// The title of the page says where the user is.
fn follow_title(session: Session) {
    Effect::new(move || {
        session.language();
        let route = session.route();
        let wall = route.wall().and_then(|id| session.wall(id, |wall| wall.name.clone()));
        let job = session.job(|job| job.name.clone());
        let place = match route {
            Route::Job => words::JOB.text().to_owned(),
            Route::Wall(_) => wall.unwrap_or_else(|| words::WALL.text().to_owned()),
            Route::Foam => words::FOAM.text().to_owned(),
            Route::Sheets(_) => words::SHEETS.text().to_owned(),
        };
        document().set_title(&format!("{place} · {job} · {}", words::APP.text()));
    });
}
