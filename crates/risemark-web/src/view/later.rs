//! What a page need not show at once waits until it has been shown, and then never holds it up.

use std::{collections::VecDeque, time::Duration};

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

/// What is left to do after a step.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Left {
    /// Another step.
    More,
    /// Nothing.
    Nothing,
}

/// How long steps follow each other before the page has its turn, in milliseconds: too short to be
/// felt under a finger, and half of what lies between two pictures.
const SLICE: f64 = 8.0;

/// Does step after step, a few between two pictures each time.
pub fn in_slices(mut step: Box<dyn FnMut() -> Left>) {
    // Right after a picture, so that the next one has all the time that is left.
    request_animation_frame(move || {
        let slice = move || {
            let start = js_sys::Date::now();
            while step() == Left::More {
                if SLICE <= js_sys::Date::now() - start {
                    return in_slices(step);
                }
            }
        };
        set_timeout(slice, Duration::ZERO);
    });
}

/// How long parts of a list are made with it before the others wait, in milliseconds.
const AT_ONCE: f64 = 16.0;

/// Parts of a long list: the first are made with the list, the others in their order between pictures.
#[derive(Debug, Clone, Copy)]
pub struct Turns(StoredValue<Waiting>);

type Make = Box<dyn FnOnce() + Send + Sync>;

#[derive(Default)]
struct Waiting {
    /// When the first of the parts was asked for that come with the same picture.
    since: Option<f64>,
    /// Makes each of the others.
    others: VecDeque<Make>,
}

impl Turns {
    /// Turns for the parts of a new list.
    pub fn begin() -> Self {
        Self(StoredValue::new(Waiting::default()))
    }

    /// Whether a part is due; becomes true when it is its turn and what it needs is there.
    pub fn due(self, need: impl FnOnce() + Send + Sync + 'static) -> RwSignal<bool> {
        let due = RwSignal::new(false);
        let now = js_sys::Date::now();
        let since = self.0.with_value(|waiting| waiting.since);
        if since.is_none() {
            self.0.update_value(|waiting| waiting.since = Some(now));
            in_slices(Box::new(move || self.next()));
        }
        if now - since.unwrap_or(now) < AT_ONCE {
            need();
            due.set(true);
            return due;
        }
        self.wait(due, need);
        due
    }

    /// The same for a part whose need takes long: it never comes with the list itself.
    pub fn due_later(self, need: impl FnOnce() + Send + Sync + 'static) -> RwSignal<bool> {
        let due = RwSignal::new(false);
        if self.0.with_value(|waiting| waiting.since.is_none()) {
            self.0.update_value(|waiting| waiting.since = Some(js_sys::Date::now()));
            in_slices(Box::new(move || self.next()));
        }
        self.wait(due, need);
        due
    }

    fn wait(self, due: RwSignal<bool>, need: impl FnOnce() + Send + Sync + 'static) {
        let make = move || {
            // A part that is gone needs nothing any more.
            if !due.is_disposed() {
                need();
                due.set(true);
            }
        };
        self.0.update_value(|waiting| waiting.others.push_back(Box::new(make)));
    }

    fn next(self) -> Left {
        let next = self.0.try_update_value(|waiting| {
            let next = waiting.others.pop_front();
            if next.is_none() {
                waiting.since = None;
            }
            next
        });
        // The list may be gone by then.
        let Some(Some(make)) = next else { return Left::Nothing };
        make();
        Left::More
    }
}
