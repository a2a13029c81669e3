//! A test shot that is being noted: it counts from when it is recorded.

use leptos::{ev, prelude::*};
use risemark::{
    job::{ShotSpace, TestShot},
    limits,
    quantity::Length,
};

use super::test_shots::{space_of, usual_box};
use crate::{
    part::Part,
    session::Session,
    view::{
        field::{is_marked, length, number, number_or, refused},
        reveal::focus_next,
        submit::submit,
    },
    words,
};

/// What is known of the shot before it is recorded.
#[derive(Debug, Clone, Copy)]
struct Draft {
    seconds: RwSignal<Option<f64>>,
    waited: RwSignal<Option<f64>>,
    rise: RwSignal<Option<Length>>,
    /// Where it was sprayed, if not where the last one was.
    space: RwSignal<Option<ShotSpace>>,
}

impl Draft {
    fn new() -> Self {
        Self {
            seconds: RwSignal::new(None),
            waited: RwSignal::new(None),
            rise: RwSignal::new(None),
            space: RwSignal::new(None),
        }
    }

    /// The shot, once its seconds and its rise are known.
    fn shot(self, space: ShotSpace) -> Option<TestShot> {
        Some(TestShot {
            seconds: self.seconds.get_untracked()?,
            waited: self.waited.get_untracked(),
            rise: self.rise.get_untracked()?,
            space,
            nozzle: None,
            temperature: None,
        })
    }
}

/// The questions about a new shot, and the button that records it in the list.
pub(super) fn new_shot(session: Session, list: Part<Vec<TestShot>>) -> AnyView {
    let draft = Draft::new();
    let message = RwSignal::new(String::new());
    let of_last = list.clone();
    let space = Memo::new(move |_| {
        let last = || of_last.get()?.last().map(|shot| shot.space.clone());
        draft.space.get().or_else(last).unwrap_or_else(usual_box)
    });
    let record = move |event: ev::SubmitEvent| {
        event.prevent_default();
        let Some(shot) = draft.shot(space.get_untracked()).filter(|_| !is_marked(&event)) else {
            return message.set(words::SHOT_NEEDED.text().to_owned());
        };
        let mut shots = list.get().unwrap_or_default();
        shots.push(shot);
        let outcome = refused(list.set(shots), session);
        if outcome.is_ok() {
            draft.seconds.set(None);
            draft.rise.set(None);
            focus_next(vec!["#new-test-shot [name=seconds]".to_owned()]);
        }
        message.set(outcome.err().unwrap_or_default());
    };
    let space = Part::new(
        move || Some(space.get()),
        move |space| {
            draft.space.set(Some(space));
            Ok(())
        },
    );
    view! {
        <form class="add-entry" id="new-test-shot" aria-labelledby="new-test-shot-title" on:submit=record>
            <h3 id="new-test-shot-title">{words::NEW_TEST_SHOT.text()}</h3>
            <div class="fields">
                {number_or((words::SECONDS.text(), "seconds"), &limits::SPRAYED, Part::of_signal(draft.seconds), " s", "")}
                {number((words::WAITED.text(), "waited"), &limits::WAITED, Part::of_signal(draft.waited), " s")}
                {length((words::RISE.text(), "rise"), &limits::RISE, Part::of_answer(draft.rise))}
                {space_of(session, space)}
            </div>
            {submit("add-test-shot", "add", words::RECORD_TEST_SHOT)}
            <p class="message" role="alert">{message}</p>
        </form>
    }
    .into_any()
}
