//! Parts of a page that are closed at first wait until the page has been shown.

use leptos::prelude::*;

/// A part that is made after the next picture, so that the picture need not wait for it.
pub fn later(part: impl Fn() -> AnyView + Send + 'static) -> AnyView {
    let due = RwSignal::new(false);
    let make = move || {
        // The page may be gone by then, and the part with it.
        let _made = due.try_set(true);
    };
    // The first frame shows the page, the second is the next one after that.
    request_animation_frame(move || request_animation_frame(make));
    (move || due.get().then(&part)).into_any()
}
