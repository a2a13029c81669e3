//! What can be done with a wall of the list.

use std::sync::Arc;

use leptos::prelude::*;
use risemark::job::{Job, Wall};

use super::{List, Listed};
use crate::{
    command::{Command, ListChange},
    fresh,
    view::{field::refused, reveal::focus_next},
    words,
};

/// The buttons, and why the last of them did nothing.
pub fn acts(listed: &Listed, list: List) -> AnyView {
    let button = |class: &'static str,
                  word: &'static str,
                  act: fn(&Listed, List),
                  is_off: fn(&Listed, List) -> bool| {
        let (named, acting, asked) = (listed.clone(), listed.clone(), listed.clone());
        let label = move || words::action_on(word, &named.name());
        view! {
            <button type="button" class=class aria-label=label disabled=move || is_off(&asked, list)
                on:click=move |_| act(&acting, list)>{word}</button>
        }
    };
    let never = |_: &Listed, _: List| false;
    let refused = {
        let id = listed.id.clone();
        move || {
            list.refused.with(|refused| {
                let here = refused.as_ref().filter(|(wall, _)| *wall == id);
                here.map(|(_, reason)| reason.clone())
            })
        }
    };
    let first = |listed: &Listed, _: List| listed.position() == 0;
    let last = |listed: &Listed, list: List| listed.position() + 1 == list.n_walls.get();
    view! {
        <div class="actions">
            {button("copy", words::COPY.text(), |listed, list| list.insert(listed, copied), never)}
            {button("mirror", words::MIRROR.text(), |listed, list| list.insert(listed, mirrored), never)}
            {button("earlier", words::EARLIER.text(), |listed, list| list.shift(listed, |at| at.saturating_sub(1)), first)}
            {button("later", words::LATER.text(), |listed, list| list.shift(listed, |at| at + 1), last)}
            {button("take-out", words::REMOVE.text(), |listed, list| list.remove(listed), never)}
        </div>
        <p class="message" role="alert">{refused}</p>
    }
    .into_any()
}

/// Moves a wall to another position.
pub fn move_to(listed: &Listed, list: List, to: usize) {
    list.shift(listed, |_| to);
}

impl List {
    /// Does something with the wall that bears an id, or says there why not.
    fn run(self, id: &str, command: Command) {
        let row = |at: usize, part: &str| format!("#walls > li:nth-child({}) {part}", at + 1);
        let next = match command {
            // The wall that has moved up.
            Command::Walls(ListChange::Remove { at }) => vec![row(at, ".wall")],
            // The wall itself, ready to be moved on.
            Command::Walls(ListChange::Move { from, to }) => {
                let again = if to < from { ".earlier:enabled" } else { ".later:enabled" };
                vec![row(to, again), row(to, ".wall")]
            }
            _ => Vec::new(),
        };
        let reason = refused(self.session.run(command), self.session).err();
        if reason.is_none() && !next.is_empty() {
            let or_else = ["#walls > li:last-child .wall".to_owned(), "#walls-title".to_owned()];
            focus_next(next.into_iter().chain(or_else).collect());
        }
        self.refused.set(reason.map(|reason| (id.to_owned(), reason)));
    }

    fn shift(self, listed: &Listed, to: impl Fn(usize) -> usize) {
        let from = untrack(|| listed.position());
        self.run(&listed.id, Command::Walls(ListChange::Move { from, to: to(from) }));
    }

    fn remove(self, listed: &Listed) {
        let at = untrack(|| listed.position());
        self.run(&listed.id, Command::Walls(ListChange::Remove { at }));
    }

    /// Puts another wall like this one behind it.
    fn insert(self, listed: &Listed, another: fn(&Job, &Wall) -> Wall) {
        let (idx, wall) = listed.now.with_untracked(|(idx, now)| (*idx, Arc::clone(&now.wall)));
        let entry = Box::new(untrack(|| self.session.job(|job| another(job, &wall))));
        self.run(&listed.id, Command::Walls(ListChange::Insert { at: idx + 1, entry }));
    }
}

fn copied(job: &Job, wall: &Wall) -> Wall {
    fresh::copy(job, wall, words::COPY_SUFFIX.text())
}

fn mirrored(job: &Job, wall: &Wall) -> Wall {
    fresh::copy(job, &wall.mirrored(), words::MIRROR_SUFFIX.text())
}
