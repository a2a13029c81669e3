//! Parts of the page that come with the rest of the app.

use leptos::prelude::*;

use crate::{rest::Rest, route::Route, session::Session, words};

/// A part that is there once the rest of the app is.
pub fn slot(session: Session, part: impl Fn(&'static Rest) -> AnyView + Send + 'static) -> AnyView {
    (move || session.rest.here().map(&part)).into_any()
}

/// As [`slot`], where people would wonder why there is nothing yet.
pub fn slot_awaited(
    session: Session,
    part: impl Fn(&'static Rest) -> AnyView + Send + 'static,
) -> AnyView {
    let awaited = move || match session.rest.here() {
        Some(rest) => part(rest),
        None if session.rest.is_missing() => ().into_any(),
        None => loading(),
    };
    awaited.into_any()
}

fn loading() -> AnyView {
    view! { <p class="quiet" role="status">{words::LOADING.text()}</p> }.into_any()
}

/// The page of a place that is not the job's.
pub fn page(session: Session, route: &Route) -> AnyView {
    match session.rest.here() {
        Some(rest) => (rest.page)(session, route.clone()),
        None => view! { <main id="content" tabindex="-1">{loading()}</main> }.into_any(),
    }
}

/// Says so where the rest of the app could not be loaded.
pub fn missing(session: Session) -> AnyView {
    let said = move || {
        session.rest.is_missing().then(|| {
            view! {
                <div class="kept problem screen-only" id="not-loaded" role="alert">
                    <p>{words::NOT_LOADED.text()}</p>
                    <div class="actions">
                        <button type="button" id="load-again" on:click=move |_| session.rest.load(session)>
                            {words::LOAD_AGAIN.text()}
                        </button>
                    </div>
                </div>
            }
        })
    };
    said.into_any()
}
