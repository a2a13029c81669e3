//! Steps back, and on again.

use leptos::{ev, prelude::*};

use crate::{session::Session, words};

/// The buttons.
pub fn steps(session: Session) -> AnyView {
    view! {
        {step(session, "undo", words::UNDO.text(), Session::last_done, Session::undo)}
        {step(session, "redo", words::REDO.text(), Session::next_step, Session::redo)}
    }
    .into_any()
}

/// The keys that people know for them.
pub fn follow_keys(session: Session) {
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
