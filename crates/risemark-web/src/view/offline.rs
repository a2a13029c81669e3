//! Whether the app opens without a network, and the offer of a new version.

use leptos::{ev, prelude::*};
use web_sys::{CustomEvent, Event};

use crate::words;

/// How the app stands on this device, as `offline.js` tells.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kept {
    /// The app needs a network to open, or nothing is known yet.
    Not,
    /// It opens without a network.
    Ready,
    /// Another version waits to be taken.
    NewVersion,
}

/// Follows what is told, which is told once.
pub fn follow() -> RwSignal<Kept> {
    let kept = RwSignal::new(Kept::Not);
    let heard = move |event: CustomEvent| match event.detail().as_string().as_deref() {
        Some("ready") => kept.set(Kept::Ready),
        Some("new-version") => kept.set(Kept::NewVersion),
        _ => {}
    };
    let _kept_for_ever = window_event_listener(ev::Custom::new("offlinechange"), heard);
    kept
}

/// One line about it; nothing while the app is not kept.
pub fn line(kept: RwSignal<Kept>) -> AnyView {
    let shown = move || match kept.get() {
        Kept::Not => ().into_any(),
        Kept::Ready => view! { <p class="quiet">{words::OPENS_OFFLINE.text()}</p> }.into_any(),
        Kept::NewVersion => offer(),
    };
    view! { <div class="offline" id="offline" role="status">{shown}</div> }.into_any()
}

fn offer() -> AnyView {
    // The page is there, so the event reaches whoever listens.
    let take = |_| drop(Event::new("takenewversion").map(|event| window().dispatch_event(&event)));
    view! {
        <p>{words::NEW_VERSION.text()}</p>
        <button type="button" id="take-new-version" on:click=take>{words::TAKE_NEW_VERSION.text()}</button>
    }
    .into_any()
}
