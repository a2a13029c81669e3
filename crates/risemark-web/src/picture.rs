//! What need not come before the next picture comes after it.

use std::{cell::Cell, rc::Rc, time::Duration};

use leptos::prelude::*;

/// How long a picture is waited for: a page that nobody sees makes none.
const AT_MOST: Duration = Duration::from_millis(300);

/// Does something once, after the next picture of the page.
pub fn after_picture(act: impl FnOnce() + 'static) {
    let act = Rc::new(Cell::new(Some(act)));
    let once = move || {
        if let Some(act) = act.take() {
            act();
        }
    };
    let after = once.clone();
    // The first frame makes the picture, the second begins when it can be seen, and what a timer starts
    // does not hold up that one either.
    let next_frame = move || request_animation_frame(move || set_timeout(after, Duration::ZERO));
    request_animation_frame(next_frame);
    set_timeout(once, AT_MOST);
}
