//! What a page need not show at once waits until it has been shown, and then never holds it up.

use std::{collections::VecDeque, time::Duration};

use leptos::prelude::*;

use crate::picture::after_picture;

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

/// Does step after step once the next picture is there, a few between two pictures each time.
pub fn in_slices(step: Box<dyn FnMut() -> Left>) {
    after_picture(move || slice(step));
}

fn slice(mut step: Box<dyn FnMut() -> Left>) {
    let start = js_sys::Date::now();
    while step() == Left::More {
        if SLICE <= js_sys::Date::now() - start {
            // Right after a picture, so that the next one has all the time that is left.
            let next = move || set_timeout(move || slice(step), Duration::ZERO);
            return request_animation_frame(next);
        }
    }
}

/// How long parts of a list are made with it before the others wait, in milliseconds.
const AT_ONCE: f64 = 4.0;

/// How many parts are made with the list at most, about as many as are seen of it: what they show is
/// still to be drawn.
const MOST_AT_ONCE: usize = 6;

/// Parts of a long list: the first are made with the list, the others in their order between pictures.
#[derive(Debug, Clone, Copy)]
pub struct Turns(StoredValue<Waiting>);

type Make = Box<dyn FnOnce() + Send + Sync>;

#[derive(Default)]
struct Waiting {
    /// When the first of the parts was asked for that come with the same picture.
    since: Option<f64>,
    /// How many came with it.
    n_at_once: usize,
    /// Makes each of the others.
    others: VecDeque<Make>,
}

/// When a part is made.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Pace {
    /// With the list, or when it is its turn among the others.
    WithOthers,
    /// When it is its turn and never with the list itself, because it takes long.
    Later,
}

impl Turns {
    /// Turns for the parts of a new list.
    pub fn begin() -> Self {
        Self(StoredValue::new(Waiting::default()))
    }

    /// Makes a part at its pace.
    pub fn take(self, pace: Pace, make: impl FnOnce() + Send + Sync + 'static) {
        let now = js_sys::Date::now();
        if self.0.with_value(|waiting| waiting.since.is_none()) {
            self.0.update_value(|waiting| (waiting.since, waiting.n_at_once) = (Some(now), 0));
            in_slices(Box::new(move || self.next()));
        }
        let has_time = self.0.with_value(|waiting| {
            waiting.n_at_once < MOST_AT_ONCE && now - waiting.since.unwrap_or(now) < AT_ONCE
        });
        if pace == Pace::WithOthers && has_time {
            self.0.update_value(|waiting| waiting.n_at_once += 1);
            return make();
        }
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
