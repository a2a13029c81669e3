//! A list of entries in a form: each can be opened, changed and taken out; new ones come at its end.

use leptos::prelude::*;
use risemark::{job::Wall, quantity::Units};

use crate::{
    command::ListChange,
    part::{ChangeList, InWall, Part},
    session::Session,
    view::field::refused,
    words,
};

/// One of the lists of a wall.
#[derive(Debug)]
pub struct List<T: 'static> {
    /// What an entry is, as findings name it.
    pub noun: &'static str,
    /// What the button for a new one says.
    pub add: &'static str,
    /// Where the list is.
    pub of: InWall<T>,
    /// How it is changed.
    pub change: ChangeList<T>,
    /// A new entry.
    pub fresh: fn(&Wall) -> T,
    /// An entry in a few words.
    pub summary: fn(&T, Units) -> String,
    /// The fields of an entry.
    pub form: fn(Part<T>) -> AnyView,
}

impl<T> Clone for List<T> {
    fn clone(&self) -> Self {
        *self
    }
}

impl<T> Copy for List<T> {}

/// The id of the element that holds an entry.
pub fn entry_id(noun: &str, number: usize) -> String {
    format!("entry-{}-{number}", noun.replace(' ', "-"))
}

/// Shows a list of a wall.
pub fn list<T: Clone + Send + Sync>(session: Session, wall: &str, list: List<T>) -> AnyView {
    let id = StoredValue::new(wall.to_owned());
    let n_entries = Memo::new(move |_| {
        session.wall(&id.read_value(), |wall| (list.of)(wall).len()).unwrap_or(0)
    });
    let message = RwSignal::new(String::new());
    let add = move |_| {
        let at = n_entries.get_untracked();
        let Some(entry) = session.wall(&id.read_value(), list.fresh) else { return };
        let change = (list.change)(ListChange::Insert { at, entry });
        match refused(session.change_wall(&id.read_value(), change), session) {
            Ok(()) => {
                message.set(String::new());
                session.select_entry(list.noun, at);
            }
            Err(refusal) => message.set(refusal),
        }
    };
    view! {
        <ol class="entries">
            <For each=move || 0..n_entries.get() key=|idx| *idx let:idx>
                {entry(session, id, list, idx)}
            </For>
        </ol>
        <button type="button" class="add" on:click=add>{list.add}</button>
        <p class="message" role="alert">{message}</p>
    }
    .into_any()
}

fn entry<T: Clone + Send + Sync>(
    session: Session,
    id: StoredValue<String>,
    list: List<T>,
    idx: usize,
) -> AnyView {
    let part = Part::of_list(session, &id.read_value(), (list.of, list.change), idx);
    let reading = part.clone();
    let summary = Memo::new(move |_| {
        reading.get().map(|entry| (list.summary)(&entry, session.units.get())).unwrap_or_default()
    });
    let message = RwSignal::new(String::new());
    let remove = move |_| {
        let change = (list.change)(ListChange::Remove { at: idx });
        message.set(
            refused(session.change_wall(&id.read_value(), change), session)
                .err()
                .unwrap_or_default(),
        );
    };
    view! {
        <li id=entry_id(list.noun, idx + 1)>
            <details>
                <summary>{summary}</summary>
                <div class="fields">{(list.form)(part)}</div>
                <button type="button" class="remove" aria-label=words::remove_entry(list.noun, idx + 1) on:click=remove>
                    {words::REMOVE}
                </button>
                <p class="message" role="alert">{message}</p>
            </details>
        </li>
    }
    .into_any()
}
