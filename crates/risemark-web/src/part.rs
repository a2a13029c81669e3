//! Parts of the job as forms see them: read as it is now, written as a command.

use std::sync::Arc;

use leptos::prelude::*;
use risemark::{
    finding::Finding,
    job::{Job, Wall},
};

use crate::{
    command::{Command, ListChange, WallChange},
    session::Session,
};

/// Where a list of a wall is.
pub type InWall<T> = fn(&Wall) -> &Vec<T>;

/// How a list of a wall is changed.
pub type ChangeList<T> = fn(ListChange<T>) -> WallChange;

type Read<T> = Arc<dyn Fn() -> Option<T> + Send + Sync>;
type Write<T> = Arc<dyn Fn(T) -> Result<(), Vec<Finding>> + Send + Sync>;

/// A part of the job that a form shows and puts in place again as a whole.
pub struct Part<T> {
    read: Read<T>,
    write: Write<T>,
}

impl<T> Clone for Part<T> {
    fn clone(&self) -> Self {
        Self { read: Arc::clone(&self.read), write: Arc::clone(&self.write) }
    }
}

impl<T> std::fmt::Debug for Part<T> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Part").finish_non_exhaustive()
    }
}

impl<T: 'static> Part<T> {
    /// A part from the two ways to it.
    pub fn new(
        read: impl Fn() -> Option<T> + Send + Sync + 'static,
        write: impl Fn(T) -> Result<(), Vec<Finding>> + Send + Sync + 'static,
    ) -> Self {
        Self { read: Arc::new(read), write: Arc::new(write) }
    }

    /// What is being noted and not yet in the job.
    pub fn of_signal(signal: RwSignal<T>) -> Self
    where
        T: Clone + Send + Sync,
    {
        Self::new(
            move || Some(signal.get()),
            move |value| {
                signal.set(value);
                Ok(())
            },
        )
    }

    /// The same where it need be given, and is not known at first.
    pub fn of_answer(signal: RwSignal<Option<T>>) -> Self
    where
        T: Clone + Send + Sync,
    {
        Self::new(
            move || signal.get(),
            move |value| {
                signal.set(Some(value));
                Ok(())
            },
        )
    }

    /// A property of the job.
    pub fn of_job(session: Session, read: fn(&Job) -> T, command: fn(T) -> Command) -> Self {
        Self::new(move || Some(session.job(read)), move |value| session.run(command(value)))
    }

    /// A property of a wall.
    pub fn of_wall(
        session: Session,
        id: &str,
        read: fn(&Wall) -> T,
        change: fn(T) -> WallChange,
    ) -> Self {
        let (reading, writing) = (id.to_owned(), id.to_owned());
        Self::new(
            move || session.wall(&reading, read),
            move |value| session.change_wall(&writing, change(value)),
        )
    }

    /// An entry of one of a wall's lists.
    pub fn of_list(
        session: Session,
        id: &str,
        (list, change): (InWall<T>, ChangeList<T>),
        idx: usize,
    ) -> Self
    where
        T: Clone,
    {
        let (reading, writing) = (id.to_owned(), id.to_owned());
        Self::new(
            move || session.wall(&reading, |wall| list(wall).get(idx).cloned()).flatten(),
            move |entry| {
                session.change_wall(&writing, change(ListChange::Replace { at: idx, entry }))
            },
        )
    }

    /// A part of this part; `get` gives `None` where there is none at the moment.
    pub fn part<U: 'static>(&self, get: fn(&T) -> Option<U>, put: fn(&mut T, U)) -> Part<U> {
        let (reading, writing) = (self.clone(), self.clone());
        Part::new(
            move || reading.get().as_ref().and_then(get),
            move |value| {
                let Some(mut whole) = writing.get() else { return Ok(()) };
                put(&mut whole, value);
                writing.set(whole)
            },
        )
    }

    /// A property of this part that may be left out.
    pub fn optional<U: 'static>(
        &self,
        get: fn(&T) -> Option<U>,
        put: fn(&mut T, Option<U>),
    ) -> Part<Option<U>> {
        let (reading, writing) = (self.clone(), self.clone());
        Part::new(
            move || reading.get().as_ref().map(get),
            move |value| {
                let Some(mut whole) = writing.get() else { return Ok(()) };
                put(&mut whole, value);
                writing.set(whole)
            },
        )
    }

    /// The value as it is now; `None` when the part is no longer there.
    pub fn get(&self) -> Option<T> {
        (self.read)()
    }

    /// Puts another value in place.
    ///
    /// # Errors
    /// The reasons why the job would not be usable with it; nothing has changed then.
    pub fn set(&self, value: T) -> Result<(), Vec<Finding>> {
        (self.write)(value)
    }
}

impl<T: 'static> Part<Vec<T>> {
    /// An entry of a list that is put in place as a whole.
    pub fn entry(&self, idx: usize) -> Part<T>
    where
        T: Clone,
    {
        let (reading, writing) = (self.clone(), self.clone());
        Part::new(
            move || reading.get().and_then(|list| list.get(idx).cloned()),
            move |value| {
                let Some(mut list) = writing.get() else { return Ok(()) };
                let Some(entry) = list.get_mut(idx) else { return Ok(()) };
                *entry = value;
                writing.set(list)
            },
        )
    }
}
