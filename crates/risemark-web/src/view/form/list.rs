//! A list of entries in a form: each can be opened, changed and taken out; new ones come at its end.

use std::sync::Arc;

use leptos::prelude::*;
use risemark::{
    finding::{Noun, Place},
    job::Wall,
    quantity::Units,
    wording,
};

use super::entries;
use crate::{
    command::ListChange,
    edit::{Entry, Scene, change},
    part::{ChangeList, InWall, Part},
    session::{Selection, Session},
    view::field::refused,
    words::{self, Word},
};

/// One of the lists of a wall.
#[derive(Debug)]
pub struct List<T: 'static> {
    /// What an entry is, as findings name it.
    pub noun: Noun,
    /// What the button for a new one says.
    pub add: Word,
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
pub fn entry_id(noun: Noun, number: usize) -> String {
    format!("entry-{}-{number}", wording::noun(noun).english.replace(' ', "-"))
}

/// A list as it is drawn, whatever its entries are.
///
/// Views are built from it alone: one made for each kind of entry would multiply the code of the app.
#[derive(Clone)]
struct Drawn {
    noun: Noun,
    add_words: &'static str,
    n_entries: Arc<dyn Fn() -> usize + Send + Sync>,
    add: Arc<dyn Fn(usize) -> Result<(), String> + Send + Sync>,
    remove: Arc<dyn Fn(usize) -> Result<(), String> + Send + Sync>,
    double: Arc<dyn Fn(usize) -> Result<(), String> + Send + Sync>,
    summary: Arc<dyn Fn(usize) -> String + Send + Sync>,
    fields: Arc<dyn Fn(usize) -> AnyView + Send + Sync>,
}

/// Shows a list of a wall.
pub fn list<T: Clone + Send + Sync>(session: Session, wall: &str, list: List<T>) -> AnyView {
    let id: Arc<str> = wall.into();
    let change = {
        let id = Arc::clone(&id);
        move |change| refused(session.change_wall(&id, (list.change)(change)), session)
    };
    let (remove, counted, fresh) = (change.clone(), Arc::clone(&id), Arc::clone(&id));
    let doubled = Arc::clone(&id);
    let part = move |idx| Part::of_list(session, &id, (list.of, list.change), idx);
    let reading = part.clone();
    drawn(
        session,
        Drawn {
            noun: list.noun,
            add_words: list.add.text(),
            n_entries: Arc::new(move || {
                session.wall(&counted, |wall| (list.of)(wall).len()).unwrap_or(0)
            }),
            add: Arc::new(move |at| {
                let entry = session.wall(&fresh, list.fresh);
                entry.map_or(Ok(()), |entry| change(ListChange::Insert { at, entry }))
            }),
            remove: Arc::new(move |at| remove(ListChange::Remove { at })),
            double: Arc::new(move |at| double(session, &doubled, &Place::entry(list.noun, at))),
            summary: Arc::new(move |idx| {
                let entry = reading(idx).get();
                entry.map(|entry| (list.summary)(&entry, session.units.get())).unwrap_or_default()
            }),
            fields: Arc::new(move |idx| (list.form)(part(idx))),
        },
    )
}

/// Doubles an entry and points at the double.
fn double(session: Session, wall: &str, place: &Place) -> Result<(), String> {
    let Some(planned) = untrack(|| session.planned_wall(wall)) else { return Ok(()) };
    let scene = Scene { wall: &planned.wall, frame: &planned.plan().frame };
    let Some(entry) = Entry::of(&planned.wall, place) else { return Ok(()) };
    let (edited, double) =
        change::doubled(scene, entry).ok_or_else(|| words::NO_ROOM.text().to_owned())?;
    let place = double.place(&edited.wall);
    refused(session.change_wall(wall, edited.change), session)?;
    place.into_iter().for_each(|place| session.select(Selection::Place(place)));
    Ok(())
}

fn drawn(session: Session, list: Drawn) -> AnyView {
    let (counted, noun, add_words) = (Arc::clone(&list.n_entries), list.noun, list.add_words);
    let n_entries = Memo::new(move |_| counted());
    let message = RwSignal::new(String::new());
    let added = Arc::clone(&list.add);
    let add = move |_| {
        let at = n_entries.get_untracked();
        let outcome = added(at);
        if outcome.is_ok() {
            session.select_entry(noun, at);
        }
        message.set(outcome.err().unwrap_or_default());
    };
    view! {
        <ol class="entries">
            <For each=move || 0..n_entries.get() key=|idx| *idx let:idx>
                {entry(&list, idx)}
            </For>
        </ol>
        <button type="button" class="add" on:click=add>{add_words}</button>
        <p class="message" role="alert">{message}</p>
    }
    .into_any()
}

fn entry(list: &Drawn, idx: usize) -> AnyView {
    let (summed, removed) = (Arc::clone(&list.summary), Arc::clone(&list.remove));
    let summary = Memo::new(move |_| summed(idx));
    let message = RwSignal::new(String::new());
    let noun = wording::noun(list.noun).of(words::language());
    let remove = move |_| message.set(removed(idx).err().unwrap_or_default());
    let doubled = Arc::clone(&list.double);
    let double = move |_| message.set(doubled(idx).err().unwrap_or_default());
    // A correction is of one stud; there is no second one to correct.
    let can_double = list.noun != entries::CORRECTIONS.noun;
    view! {
        <li id=entry_id(list.noun, idx + 1)>
            <details name="entry">
                <summary>{summary}</summary>
                <div class="fields">{(list.fields)(idx)}</div>
                {can_double.then(|| view! {
                    <button type="button" class="remove" aria-label=words::duplicate_entry(noun, idx + 1) on:click=double>
                        {words::DUPLICATE.text()}
                    </button>
                })}
                <button type="button" class="remove" aria-label=words::remove_entry(noun, idx + 1) on:click=remove>
                    {words::REMOVE.text()}
                </button>
                <p class="message" role="alert">{message}</p>
            </details>
        </li>
    }
    .into_any()
}
