//! Keeps what the session does, and says whether it is kept.

use std::rc::Rc;

use leptos::{ev, prelude::*};
use risemark::{job::Job, language::Language};
use send_wrapper::SendWrapper;
use wasm_bindgen_futures::spawn_local;
use wasm_split_helpers::SplitLoaderError;

use super::{
    Answer, Change, Fault, Memory, Record, Store,
    database::{Database, is_lasting},
    shelf::{Shelf, steps_of},
    turn::Turn,
};
use crate::{
    fresh, history::History, hold::Hold, picture::after_picture, planner::Planned, rest::rest,
    sample, words,
};

/// The key of the language of this device, which belongs to no job.
const LANGUAGE: &str = "device/language";

/// A job of more walls is seen before it is written, which takes as long as a picture.
const MANY_WALLS: usize = 50;

/// Whether what the user did is kept.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Status {
    /// It is being written.
    Keeping,
    /// It is on the disk.
    Kept,
    /// It is on this page alone.
    NotKept(Fault),
    /// Another tab writes; this one only reads.
    Elsewhere,
    /// The open job came with a link; it is looked at and not kept.
    Shared,
}

impl Status {
    /// Whether nothing can be changed here.
    pub fn is_read_only(self) -> bool {
        matches!(self, Self::Elsewhere | Self::Shared | Self::NotKept(Fault::Closed))
    }
}

/// Why the app does not start as it should.
#[derive(Debug)]
enum Trouble {
    /// The disk does not serve.
    Disk(Fault),
    /// There is a job, and what reads it cannot be loaded.
    NotLoaded(SplitLoaderError),
}

impl From<Fault> for Trouble {
    fn from(fault: Fault) -> Self {
        Self::Disk(fault)
    }
}

impl From<SplitLoaderError> for Trouble {
    fn from(error: SplitLoaderError) -> Self {
        Self::NotLoaded(error)
    }
}

/// What is known before the first thing is shown.
#[derive(Debug)]
pub struct Start {
    store: Rc<dyn Store>,
    /// Why nothing can be kept in this visit, if that is so.
    trouble: Option<Fault>,
    closed: ArcRwSignal<bool>,
    /// The turn to write, where it is yet to come.
    turn: Option<Turn>,
    shelf: Shelf,
    id: u32,
    /// The job that is open.
    history: History,
    /// The plan of the sample, which is the job that is open on a first visit.
    planned: Planned,
    language: Language,
}

impl Start {
    /// Finds what is kept; where the browser keeps nothing, starts without.
    ///
    /// # Errors
    /// When there is a job, and what reads it cannot be loaded.
    pub async fn find() -> Result<Self, SplitLoaderError> {
        let closed = ArcRwSignal::new(false);
        match Self::find_kept(closed.clone()).await {
            Ok(start) => Ok(start),
            Err(Trouble::NotLoaded(error)) => Err(error),
            Err(Trouble::Disk(trouble)) => {
                let (store, shelf) = (Rc::new(Memory::default()), Shelf::default());
                let (trouble, id, history) = (Some(trouble), shelf.free_id(), sample_history());
                let planned = Planned::of(history.job(), None, None);
                let language = language_of_browser();
                let turn = None;
                Ok(Self { store, trouble, closed, turn, shelf, id, history, planned, language })
            }
        }
    }

    async fn find_kept(closed: ArcRwSignal<bool>) -> Result<Self, Trouble> {
        let turn = Turn::ask().map_err(|_| Fault::Denied)?;
        let closing = closed.clone();
        let opening = Database::open(move || closing.set(true))?;
        // The browser takes longer to open its storage than this takes.
        let sample = sample_history();
        let planned = Planned::of(sample.job(), None, None);
        for wall in planned.walls.iter().filter(|wall| wall.is_quick()) {
            wall.plan();
        }
        let (database, trouble) = match opening.await {
            Err(Fault::Closed) => (Database::open_newer().await?, Some(Fault::Closed)),
            database => (database?, None),
        };
        let store: Rc<dyn Store> = Rc::new(database);
        let turn = if turn.comes_soon().await { None } else { Some(turn) };
        // Asked for at once, so that the browser answers all in one go.
        let language = store.read(LANGUAGE);
        let (shelf, used) = last_used(&*store, None).await?;
        let (id, history) = used.unwrap_or_else(|| (shelf.free_id(), sample));
        let language = kept_language(language).await.unwrap_or_else(language_of_browser);
        Ok(Self { store, trouble, closed, turn, shelf, id, history, planned, language })
    }

    /// A plan to take over from what still holds of it.
    pub fn planned(&self) -> Planned {
        self.planned.clone()
    }

    /// The language that was chosen on this device, or else the one the browser asks for.
    pub fn language(&self) -> Language {
        self.language
    }
}

/// Keeps the jobs; copies share it.
#[derive(Debug, Clone, Copy)]
pub struct Keeper {
    store: StoredValue<SendWrapper<Rc<dyn Store>>>,
    trouble: Option<Fault>,
    history: RwSignal<History>,
    shelf: RwSignal<Shelf>,
    id: RwSignal<u32>,
    status: RwSignal<Status>,
    /// The status to go back to from a job that came with a link.
    behind: RwSignal<Status>,
    lasting: RwSignal<Option<bool>>,
}

impl Keeper {
    /// Starts to keep the job that was found.
    pub fn new(start: Start) -> Self {
        let Start { store, trouble, closed, turn, shelf, id, history, .. } = start;
        let status = match (trouble, &turn) {
            (Some(Fault::Closed), _) => Status::NotKept(Fault::Closed),
            (_, Some(_)) => Status::Elsewhere,
            (_, None) => Status::Keeping,
        };
        let keeper = Self {
            store: StoredValue::new(SendWrapper::new(store)),
            trouble,
            history: RwSignal::new(history),
            shelf: RwSignal::new(shelf),
            id: RwSignal::new(id),
            status: RwSignal::new(status),
            behind: RwSignal::new(status),
            lasting: RwSignal::new(None),
        };
        match turn {
            None => keeper.keep(),
            Some(turn) if trouble.is_none() => spawn_local(async move {
                turn.comes().await;
                keeper.take_over().await;
            }),
            Some(_) => {}
        }
        Effect::new(move || {
            if closed.get() {
                keeper.status.set(Status::NotKept(Fault::Closed));
            }
        });
        let _kept_for_ever = window_event_listener(ev::beforeunload, move |event| {
            if keeper.would_lose() {
                event.prevent_default();
            }
        });
        keeper
    }

    /// The job that is open, with its steps.
    pub fn history(self) -> RwSignal<History> {
        self.history
    }

    /// Whether what the user did is kept.
    pub fn status(self) -> Status {
        self.status.get()
    }

    /// As [`Self::status`], for what happens at one moment.
    pub fn status_now(self) -> Status {
        self.status.get_untracked()
    }

    /// Whether the browser promised to keep the storage; `None` until it has answered.
    pub fn is_lasting(self) -> Option<bool> {
        self.lasting.get()
    }

    /// Whether nothing can be changed here.
    pub fn is_read_only(self) -> bool {
        self.status.get().is_read_only()
    }

    /// The id of the job that is open.
    pub fn id(self) -> u32 {
        self.id.get()
    }

    /// Reads something of the jobs that are kept.
    pub fn shelf<T>(self, read: impl FnOnce(&Shelf) -> T) -> T {
        self.shelf.with(read)
    }

    /// Keeps the open job as it is now, or tries again.
    pub fn keep(self) {
        spawn_local(self.write());
    }

    /// As [`Self::keep`], of a step that is drawn once it is kept.
    pub fn keep_step(self) {
        let hold = Hold::begin();
        let writing = self.write();
        spawn_local(async move {
            writing.await;
            drop(hold);
        });
    }

    /// Opens another job.
    pub fn open(self, id: u32) {
        spawn_local(self.switch(id));
    }

    /// Takes a job onto the shelf and opens it.
    pub fn add(self, history: History) {
        spawn_local(self.put(history));
    }

    /// Shows a job that came with a link, without keeping it.
    pub fn look_at(self, history: History) {
        spawn_local(async move {
            if self.status_now().is_read_only() || self.is_settled().await {
                self.behind.set(self.behind_now());
                self.status.set(Status::Shared);
                self.show(self.shelf.with_untracked(Shelf::free_id), history);
            }
        });
    }

    /// Whether the job that came with a link can be kept beside the others.
    pub fn can_keep_shared(self) -> bool {
        self.status.get() == Status::Shared && !self.behind.get().is_read_only()
    }

    /// Keeps the job that came with a link beside the others.
    pub fn keep_shared(self) {
        if self.leave_shared() {
            self.keep();
            self.shelf.notify();
        }
    }

    /// Takes a copy of a job onto the shelf and opens it.
    pub fn duplicate(self, id: u32) {
        let text = self.shelf.with_untracked(|shelf| shelf.text(id).map(str::to_owned));
        let Some(Ok(history)) = text.map(History::read) else { return };
        let job = history.job();
        let copy =
            Job { name: format!("{}, {}", job.name, words::COPY_SUFFIX.text()), ..job.clone() };
        // A name that became too long leaves the copy with the name of its original.
        self.add(History::new(&copy).unwrap_or(history));
    }

    /// Takes a job out of the list; it can be brought back.
    pub fn remove(self, id: u32) {
        spawn_local(async move {
            if self.id.get_untracked() == id {
                self.leave(id).await;
            }
            if self.id.get_untracked() != id {
                self.change(|shelf| shelf.set_removed(id, true)).await;
            }
        });
    }

    /// Brings a job back that was taken out of the list.
    pub fn bring_back(self, id: u32) {
        spawn_local(self.change(move |shelf| shelf.set_removed(id, false)));
    }

    /// Forgets the jobs that were taken out of the list.
    pub fn clear_removed(self) {
        spawn_local(self.change(Shelf::clear_removed));
    }

    /// Forgets the records that are not as they were written.
    pub fn clear_damaged(self) {
        spawn_local(self.change(Shelf::clear_damaged));
    }

    /// Keeps the language of this device.
    pub fn keep_language(self, language: Language) {
        let record = Record { key: LANGUAGE.to_owned(), text: language.code().to_owned() };
        let answer = self.disk().write(vec![Change::Put(record)]);
        // Nothing is lost but a choice where it cannot be kept.
        spawn_local(async move {
            let _kept = answer.await;
        });
    }

    /// Opens another job in place of one that is about to go.
    async fn leave(self, id: u32) {
        let jobs = self.shelf.with_untracked(|shelf| shelf.jobs(false));
        if let Some((other, _)) = jobs.into_iter().find(|(other, _)| *other != id) {
            return self.switch(other).await;
        }
        let units = self.history.with_untracked(|history| history.job().units);
        if let Ok(history) = History::new(&fresh::job(units)) {
            self.put(history).await;
        }
    }

    /// Opens another of the jobs, and is done once it is shown or cannot be.
    pub async fn switch(self, id: u32) {
        if self.id.get_untracked() == id {
            return;
        }
        let steps = match self.disk().read(&steps_of(id)).await {
            Ok(steps) => steps,
            Err(fault) => return self.status.set(Status::NotKept(fault)),
        };
        if !self.is_settled().await {
            return;
        }
        let opened = self.shelf.try_update(|shelf| shelf.open(id, steps, History::read)).flatten();
        if let Some(history) = opened {
            self.show(id, history);
        }
    }

    async fn put(self, history: History) {
        if self.is_settled().await {
            self.show(self.shelf.with_untracked(Shelf::free_id), history);
        }
    }

    /// Shows a job; whatever was shown before is on the disk already.
    fn show(self, id: u32, history: History) {
        let is_large = MANY_WALLS < history.job().walls.len();
        self.history.set(history);
        self.id.set(id);
        let keep = move || {
            self.keep();
            self.shelf.notify();
        };
        if !is_large || self.status_now().is_read_only() {
            return keep();
        }
        self.status.set(Status::Keeping);
        after_picture(keep);
    }

    /// Writes what is not written yet, and says whether the open job may make room for another.
    async fn is_settled(self) -> bool {
        // A job that came with a link leaves nothing behind.
        if !self.leave_shared() {
            self.write().await;
        }
        let status = self.status_now();
        status == Status::Kept || self.trouble.is_some_and(|fault| status == Status::NotKept(fault))
    }

    /// The status of what is kept, whatever is looked at.
    fn behind_now(self) -> Status {
        match self.status_now() {
            Status::Shared => self.behind.get_untracked(),
            status => status,
        }
    }

    /// Goes back to the status before a job that came with a link; says whether there was one.
    fn leave_shared(self) -> bool {
        let shared = self.status_now() == Status::Shared;
        if shared {
            self.status.set(self.behind.get_untracked());
        }
        shared
    }

    /// Asks for the open job to be written at once, and waits until that is done.
    fn write(self) -> impl Future<Output = ()> {
        let writes = !self.status_now().is_read_only();
        let asked = writes.then(|| self.ask());
        async move {
            if let Some((edition, n_kept, answer)) = asked {
                self.hear(edition, n_kept, answer.await);
            }
        }
    }

    /// What is asked, how many steps were kept before, and the answer to come.
    fn ask(self) -> (u64, usize, Answer<()>) {
        let (id, now) = (self.id.get_untracked(), now());
        let (mut edition, mut n_kept, mut changes) = (0, 0, Vec::new());
        self.shelf.update_untracked(|shelf| {
            self.history.update_untracked(|history| {
                n_kept = history.n_kept();
                (edition, changes) = shelf.keep(id, history, now);
            });
        });
        self.status.set(Status::Keeping);
        (edition, n_kept, self.disk().write(changes))
    }

    fn hear(self, edition: u64, n_kept: usize, outcome: Result<(), Fault>) {
        if let Err(fault) = outcome {
            self.history.update_untracked(|history| {
                history.set_n_kept(n_kept.min(history.n_kept()));
            });
            let _noted = self.shelf.try_update_untracked(Shelf::set_unwritten);
            return self.status.set(Status::NotKept(fault));
        }
        let id = self.id.get_untracked();
        let is_latest = self.shelf.try_update_untracked(|shelf| {
            shelf.set_damaged_kept();
            shelf.edition(id) == Some(edition)
        });
        if is_latest != Some(true) {
            return;
        }
        if self.history.with_untracked(|history| history.n_kept() < history.steps().len()) {
            // An earlier attempt failed, and its steps are still to be written.
            return self.keep();
        }
        self.status.set(self.trouble.map_or(Status::Kept, Status::NotKept));
        self.ask_to_last();
    }

    fn ask_to_last(self) {
        if self.trouble.is_none() && self.lasting.get_untracked().is_none() {
            // Until the answer comes, nothing is promised.
            self.lasting.set(Some(false));
            spawn_local(async move { self.lasting.set(Some(is_lasting().await)) });
        }
    }

    async fn change(self, change: impl FnOnce(&mut Shelf) -> Vec<Change>) {
        if self.status_now().is_read_only() {
            return;
        }
        let changes = self.shelf.try_update(change).unwrap_or_default();
        if let Err(fault) = self.disk().write(changes).await {
            let _noted = self.shelf.try_update_untracked(Shelf::set_unwritten);
            self.status.set(Status::NotKept(fault));
        }
    }

    /// The tab that wrote is closed: goes on with what it left.
    async fn take_over(self) {
        let disk = self.disk();
        self.leave_shared();
        match last_used(&*disk, Some(self.id.get_untracked())).await {
            Ok((shelf, used)) => {
                let (id, history) = used.unwrap_or_else(|| (shelf.free_id(), sample_history()));
                self.shelf.set(shelf);
                self.status.set(Status::Keeping);
                self.show(id, history);
            }
            Err(Trouble::Disk(fault)) => self.status.set(Status::NotKept(fault)),
            Err(Trouble::NotLoaded(_)) => self.status.set(Status::NotKept(Fault::Failed)),
        }
    }

    /// Whether closing the page would lose something.
    fn would_lose(self) -> bool {
        match self.status_now() {
            Status::Keeping => true,
            Status::NotKept(_) => {
                self.history.with_untracked(|history| !history.steps().is_empty())
            }
            Status::Kept | Status::Elsewhere | Status::Shared => false,
        }
    }

    fn disk(self) -> Rc<dyn Store> {
        self.store.with_value(|store| Rc::clone(store))
    }
}

/// The shelf as it is on the disk, and the job on it that was used last.
async fn last_used(
    disk: &dyn Store,
    wanted: Option<u32>,
) -> Result<(Shelf, Option<(u32, History)>), Trouble> {
    let mut shelf = Shelf::read(disk).await?;
    let listed = shelf.jobs(false).into_iter().map(|(id, _)| id);
    let mut ids: Vec<u32> = listed.collect();
    risemark::order::sort_by_key(&mut ids, |id| Some(*id) != wanted);
    for id in ids {
        let steps = disk.read(&steps_of(id)).await?;
        let rest = rest().await?;
        if let Some(history) = shelf.open(id, steps, rest.read) {
            return Ok((shelf, Some((id, history))));
        }
    }
    Ok((shelf, None))
}

async fn kept_language(asked: Answer<Vec<Record>>) -> Option<Language> {
    let kept = asked.await.ok()?;
    Language::of_tag(&kept.first()?.text)
}

fn language_of_browser() -> Language {
    let tag = window().navigator().language();
    tag.and_then(|tag| Language::of_tag(&tag)).unwrap_or_default()
}

fn sample_history() -> History {
    History::of_sound(sample::job())
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "the clock gives whole milliseconds after 1970"
)]
fn now() -> u64 {
    js_sys::Date::now() as u64
}
