//! A new wall from three answers. The wall opens at once, with its plan.

use leptos::{ev, prelude::*};
use risemark::{
    job::{Job, Lumber, Wall},
    limits,
    quantity::Length,
};

use super::{
    field::{choice, is_marked, length, measured_of, optional_text, refused},
    submit::submit,
};
use crate::{
    command::{Command, ListChange},
    fresh,
    part::Part,
    room,
    route::Route,
    session::Session,
    words,
};

/// What is known of the wall before it is there.
#[derive(Debug, Clone, Copy)]
struct Answers {
    width: RwSignal<Option<Length>>,
    height: RwSignal<Option<Length>>,
    depth: RwSignal<Option<Length>>,
    lumber: RwSignal<Option<Lumber>>,
    room: RwSignal<Option<String>>,
}

impl Answers {
    /// Another wall of the room that was measured last; asked anew for every other job or wall.
    fn new(session: Session) -> Self {
        let answers = Self {
            width: RwSignal::new(None),
            height: RwSignal::new(None),
            depth: RwSignal::new(None),
            lumber: RwSignal::new(None),
            room: RwSignal::new(None),
        };
        let last = |job: &Job| job.walls.last().map(|wall| (wall.id.clone(), wall.room.clone()));
        let last = Memo::new(move |_| session.job(last));
        Effect::new(move || {
            let room = last.get().and_then(|(_, room)| room);
            answers.width.set(None);
            answers.height.set(None);
            answers.depth.set(None);
            answers.lumber.set(None);
            untrack(|| answers.enter(session, room));
        });
        answers
    }

    /// Answers for a room what its walls have told already.
    fn enter(self, session: Session, room: Option<String>) {
        session.job(|job| {
            let Some(wall) = room.as_ref().and_then(|room| room::neighbour(job, room, "")) else {
                return;
            };
            self.height.update(|height| *height = height.or(room::height(wall)));
            self.depth.update(|depth| *depth = depth.or(wall.depth));
            self.lumber.update(|lumber| *lumber = lumber.or(wall.lumber));
        });
        self.room.set(room);
    }

    /// The wall, once its width and height are known.
    fn wall(self, job: &Job) -> Option<Wall> {
        let (width, height) = (self.width.get_untracked()?, self.height.get_untracked()?);
        let mut wall = fresh::wall(job, width, height, self.depth.get_untracked());
        wall.lumber = self.lumber.get_untracked();
        wall.room = self.room.get_untracked();
        if let Some(from) = wall.room.as_ref().and_then(|room| room::neighbour(job, room, "")) {
            room::take_over(&mut wall, from);
        }
        Some(wall)
    }
}

/// The questions, and the button that makes the wall.
pub fn add_wall(session: Session) -> AnyView {
    let answers = Answers::new(session);
    let message = RwSignal::new(String::new());
    let add = move |event: ev::SubmitEvent| {
        event.prevent_default();
        let at = session.job(|job| job.walls.len());
        let wall = session.job(|job| answers.wall(job)).filter(|_| !is_marked(&event));
        let Some(wall) = wall else {
            return message.set(words::ANSWERS_NEEDED.text().to_owned());
        };
        let route = Route::Wall(wall.id.clone());
        let command = Command::Walls(ListChange::Insert { at, entry: Box::new(wall) });
        let outcome = refused(session.run(command), session);
        if outcome.is_ok() {
            // The address is a fragment of this page; going there cannot fail.
            let _gone = window().location().set_hash(&route.href());
        }
        message.set(outcome.err().unwrap_or_default());
    };
    let enter = Part::new(
        move || Some(answers.room.get()),
        move |room| {
            answers.enter(session, room);
            Ok(())
        },
    );
    let like = move || {
        let room = answers.room.get()?;
        let name = session.job(|job| Some(room::neighbour(job, &room, "")?.name.clone()))?;
        Some(view! { <p class="assumption">{words::taken_over_from(&name)}</p> })
    };
    view! {
        <form class="add-wall" id="add-wall" on:submit=add>
            <h3>{words::ADD_WALL.text()}</h3>
            <div class="fields">
                {length((words::HOW_WIDE.text(), "width"), &limits::WALL_WIDTH, Part::of_answer(answers.width))}
                {length((words::HOW_HIGH.text(), "height"), &limits::LEVEL, Part::of_answer(answers.height))}
                {measured_of((words::HOW_DEEP.text(), "depth"), &limits::DEPTH, Part::of_signal(answers.depth), answers.lumber.into())}
            </div>
            <details open=move || answers.room.with(Option::is_some)>
                <summary>{words::ROOM_AND_LUMBER.text()}</summary>
                <div class="fields">
                    {optional_text((words::ROOM.text(), "room"), enter)}
                    {choice((words::FRAMED_OF.text(), "lumber"), words::LUMBER, Part::of_signal(answers.lumber))}
                    {like}
                </div>
            </details>
            {submit("make-wall", "main", words::ADD_WALL)}
            <p class="message" role="alert">{message}</p>
        </form>
    }
    .into_any()
}
