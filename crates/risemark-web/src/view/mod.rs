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
mod spaces;
pub mod submit;
pub mod tools;
pub mod totals;
pub mod typed;
pub mod wall;
pub mod walls;

use leptos::{ev, prelude::*};

use crate::{route::Route, session::Session, store::keeper::Start, words};

/// The whole app.
pub fn app(start: Start) -> impl IntoView {
    let session = Session::new(start);
    provide_context(session);
    follow_address(session);
    follow_keys(session);
    follow_title(session);
    language::follow(session);
    jobs::follow_drops(session);
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
        <aside class="plain" aria-label=words::WHAT_IS_KEPT.text()>{kept::kept(session)}</aside>
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
        Route::Wall(id) => wall::page(session, id),
        Route::Foam => foam::page(session),
        Route::Sheets(id) => sheets::page(session, id),
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
            <div class="steps">
                {step(session, "undo", words::UNDO.text(), Session::last_done, Session::undo)}
                {step(session, "redo", words::REDO.text(), Session::next_step, Session::redo)}
            </div>
        </header>
    }
}

/// A button that says which step it takes back or does again.
fn step(
    session: Session,
    id: &'static str,
    word: &'static str,
    name: fn(Session) -> Option<String>,
    run: fn(Session),
) -> impl IntoView {
    let disabled = move || session.keeper.is_read_only() || name(session).is_none();
    let named = move || name(session).map(|name| format!(": {name}"));
    view! {
        <button type="button" id=id disabled=disabled on:click=move |_| run(session)>
            {word}<span class="what">{named}</span>
        </button>
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
        if hash != "#content" && !share::follow_link(session, &hash) {
            session.go(Route::parse(&hash));
            window().scroll_to_with_x_and_y(0.0, 0.0);
        }
    };
    go();
    let _kept_for_ever = window_event_listener(ev::hashchange, move |_| go());
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

fn follow_keys(session: Session) {
    let _kept_for_ever = window_event_listener(ev::keydown, move |event| {
        if !(event.ctrl_key() || event.meta_key()) || event.alt_key() {
            return;
        }
        match (event.key().as_str(), event.shift_key()) {
            ("z", false) => session.undo(),
            ("z" | "Z", true) | ("y", false) => session.redo(),
            _ => return,
        }
        event.prevent_default();
    });
}
