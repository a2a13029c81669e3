//! The state of the app. Views read it as signals and change it through its methods alone.

use std::sync::Arc;

use leptos::prelude::*;
use litemap::LiteMap;
use risemark::{
    drilling::{Hole, HoleState},
    finding::{Finding, Noun, Part as PlacePart, Place},
    geometry::{Point, distance_to_edge},
    job::{Job, Wall},
    language::Language,
    plan::WallPlan,
    quantity::{Units, to_mm},
    rules::Rules,
};

use risemark_sheets::{Orientation, Paper, SheetOptions, WallShots};

use crate::{
    command::{Command, WallChange},
    edit::Entry,
    fresh,
    history::History,
    link,
    planner::{Found, Planned, PlannedWall},
    rest::Arrival,
    route::Route,
    search,
    shooting::OrderSearch,
    store::keeper::{Keeper, Start},
    words,
};

/// What the user points at.
#[derive(Debug, Clone, Default, PartialEq)]
pub enum Selection {
    /// Nothing.
    #[default]
    Nothing,
    /// A hole of the wall that is shown, by its place: marks pass to other holes when the plan changes.
    Hole(Point),
    /// A place that a finding names, or an entry that was just added.
    Place(Place),
    /// Entries that were picked on the drawing of the wall that is shown.
    Entries(Vec<Entry>),
}

/// The state; copies share it.
#[derive(Debug, Clone, Copy)]
pub struct Session {
    /// Keeps what is done.
    pub keeper: Keeper,
    history: RwSignal<History>,
    selection: RwSignal<Selection>,
    acknowledged: RwSignal<LiteMap<String, String>>,
    route: RwSignal<Route>,
    refused_file: RwSignal<Vec<Finding>>,
    refused_link: RwSignal<Option<link::Refusal>>,
    said: RwSignal<String>,
    paper: RwSignal<Paper>,
    orientation: RwSignal<Orientation>,
    language: RwSignal<Language>,
    last_wall: RwSignal<Option<String>>,
    /// The plan of the job.
    pub planned: Memo<Planned>,
    /// The rest of the app.
    pub rest: Arrival,
    /// The search for the order of its shots, once a place has asked for it.
    pub order: OrderSearch,
    /// How lengths are typed and shown.
    pub units: Memo<Units>,
}

impl Session {
    /// Starts with what was found.
    pub fn new(start: Start) -> Self {
        let language = start.language();
        words::set_language(language);
        let known = start.planned();
        let keeper = Keeper::new(start);
        let history = keeper.history();
        let found: RwSignal<Option<Found>> = RwSignal::new(None);
        let planned = Memo::new(move |earlier: Option<&Planned>| {
            let found = found.get();
            history.with(|history| {
                Planned::of(history.job(), earlier.or(Some(&known)), found.as_ref())
            })
        });
        let session = Self {
            keeper,
            history,
            planned,
            rest: Arrival::awaited(),
            order: OrderSearch::default(),
            units: Memo::new(move |_| history.with(|history| history.job().units)),
            selection: RwSignal::default(),
            acknowledged: RwSignal::default(),
            route: RwSignal::new(Route::Job),
            refused_file: RwSignal::default(),
            refused_link: RwSignal::default(),
            said: RwSignal::default(),
            paper: RwSignal::new(Paper::Letter),
            orientation: RwSignal::new(Orientation::Auto),
            language: RwSignal::new(language),
            last_wall: RwSignal::default(),
        };
        search::beside(session, found);
        session.say_how_many_holes();
        session.follow_job();
        session.rest.load(session);
        session
    }

    /// The session that the app was opened with.
    pub fn here() -> Self {
        expect_context()
    }

    /// Reads something of the job, and again whenever the job changes.
    pub fn job<T>(self, read: impl FnOnce(&Job) -> T) -> T {
        read(&self.shared_job())
    }

    /// The job as it is now. One way in for all who read, so that it is compiled once.
    pub fn shared_job(self) -> Arc<Job> {
        self.history.with(History::shared_job)
    }

    /// Reads something of one wall, if the job has it.
    pub fn wall<T>(self, id: &str, read: impl FnOnce(&Wall) -> T) -> Option<T> {
        self.job(|job| job.walls.iter().find(|wall| wall.id == id).map(read))
    }

    /// One wall with its plan, if the job has it.
    pub fn planned_wall(self, id: &str) -> Option<PlannedWall> {
        self.planned.with(|planned| planned.wall(id).cloned())
    }

    /// Whether a wall is one of brick with an air space, which has no timber.
    pub fn is_brick(self, id: &str) -> Memo<bool> {
        let id = id.to_owned();
        Memo::new(move |_| self.wall(&id, |wall| wall.construction.is_brick()).unwrap_or_default())
    }

    /// The job with one of its walls alone, to try something on it.
    pub fn alone(self, id: &str) -> Option<Job> {
        self.history.with_untracked(|history| {
            let wall = history.job().walls.iter().find(|wall| wall.id == id)?;
            Some(history.alone(wall.clone()))
        })
    }

    /// The rules in use.
    pub fn rules(self) -> Arc<Rules> {
        self.planned.with(|planned| Arc::clone(&planned.rules))
    }

    /// Does a step.
    ///
    /// # Errors
    /// The reasons why the job would not be usable afterwards, and none where this page may only read;
    /// nothing has changed then.
    pub fn run(self, command: Command) -> Result<(), Vec<Finding>> {
        let mut outcome = Err(Vec::new());
        self.step(|history| outcome = history.run(command));
        if outcome.is_ok() {
            self.say(untrack(|| self.last_done()).unwrap_or_default());
        }
        outcome
    }

    /// Changes one wall; errors as [`Self::run`].
    ///
    /// # Errors
    /// The reasons why the job would not be usable afterwards.
    pub fn change_wall(self, id: &str, change: WallChange) -> Result<(), Vec<Finding>> {
        self.run(Command::Wall { id: id.to_owned(), change })
    }

    /// Takes the last step back.
    pub fn undo(self) {
        let name = untrack(|| self.last_done());
        self.step(History::undo);
        self.say_again(words::UNDO.text(), name);
    }

    /// Does the step again that was taken back last.
    pub fn redo(self) {
        let name = untrack(|| self.next_step());
        self.step(History::redo);
        self.say_again(words::REDO.text(), name);
    }

    /// The step that can be taken back, in a few words.
    pub fn last_done(self) -> Option<String> {
        self.history.with(|history| history.last_done().map(|step| step.name.clone()))
    }

    /// The step that can be done again, in a few words.
    pub fn next_step(self) -> Option<String> {
        self.history.with(|history| history.next().map(|step| step.name.clone()))
    }

    /// Takes a job beside the others and opens it.
    pub fn add(self, job: &Job) {
        match History::new(job) {
            Ok(history) => self.keeper.add(history),
            Err(findings) => self.refuse_file(findings),
        }
    }

    /// As [`Self::add`], of a job that has just been read from a file of so many bytes.
    pub fn add_read(self, job: Job, n_bytes: usize) {
        match History::of_read(job, n_bytes) {
            Ok(history) => self.keeper.add(history),
            Err(findings) => self.refuse_file(findings),
        }
    }

    /// Takes an empty job beside the others and opens it.
    pub fn add_empty(self) {
        self.add(&fresh::job(self.units.get_untracked()));
    }

    /// Looks at a job that came with a link.
    pub fn look_at(self, job: &Job) {
        match History::new(job) {
            Ok(history) => self.keeper.look_at(history),
            Err(findings) => self.refuse_file(findings),
        }
    }

    /// Keeps why a link could not be opened; `None` once another is tried.
    pub fn refuse_link(self, refusal: Option<link::Refusal>) {
        self.refused_link.set(refusal);
    }

    /// Why the link that was followed last was not opened; nothing when it was.
    pub fn refused_link(self) -> Option<link::Refusal> {
        self.refused_link.get()
    }

    fn step(self, step: impl FnOnce(&mut History)) {
        if self.keeper.status_now().is_read_only() {
            return;
        }
        let mut changed = false;
        self.history.maybe_update(|history| {
            let before = history.n_done();
            step(history);
            changed = before != history.n_done();
            changed
        });
        if changed {
            self.keeper.keep_step();
        }
    }

    /// Keeps what is wrong with a file that could not be opened.
    pub fn refuse_file(self, findings: Vec<Finding>) {
        self.refused_file.set(findings);
    }

    /// What is wrong with the file that was chosen last; nothing when it was opened.
    pub fn refused_file(self) -> Vec<Finding> {
        self.refused_file.get()
    }

    /// What the user points at.
    pub fn selection(self) -> Selection {
        self.selection.get()
    }

    /// The mark of the hole that is chosen.
    pub fn chosen_hole(self) -> Option<usize> {
        if matches!(self.selection.get(), Selection::Nothing | Selection::Place(_)) {
            return None;
        }
        let route = self.route.get();
        self.chosen_in(self.planned_wall(route.wall()?)?.plan())
    }

    /// The mark that the chosen hole has in a plan of the wall that is shown.
    pub fn chosen_in(self, plan: &WallPlan) -> Option<usize> {
        let holes = plan.drill.holes.iter();
        let chosen = match self.selection.get() {
            Selection::Hole(place) => {
                let far = |hole: &&Hole| to_mm(distance_to_edge(place, (hole.centre, hole.centre)));
                let nearest = holes.min_by(|a, b| far(a).total_cmp(&far(b)));
                nearest.filter(|hole| far(hole) < SAME_HOLE)
            }
            Selection::Entries(entries) => holes.into_iter().find(|hole| {
                let own = |at: usize| matches!(hole.state, HoleState::Own(own, _) if own == at);
                matches!(entries[..], [Entry::Hole(at)] if own(at))
            }),
            Selection::Nothing | Selection::Place(_) => None,
        };
        chosen.map(|hole| hole.mark)
    }

    /// Points at something.
    pub fn select(self, selection: Selection) {
        self.selection.set(selection);
    }

    /// The entries of a wall that the user points at, whichever way.
    pub fn picked(self, wall: &Wall) -> Vec<Entry> {
        let mut picked = match self.selection.get() {
            Selection::Entries(entries) => entries,
            Selection::Place(place) => Entry::of(wall, &place).into_iter().collect(),
            Selection::Nothing | Selection::Hole(_) => Vec::new(),
        };
        picked.retain(|entry| entry.is_on(wall));
        picked
    }

    /// Points at an entry of one of the wall's lists, such as one that was just added.
    pub fn select_entry(self, noun: Noun, idx: usize) {
        let place = Place { part: PlacePart::Entry { noun, number: idx + 1 }, ..Place::default() };
        self.selection.set(Selection::Place(place));
    }

    /// Where the user is.
    pub fn route(self) -> Route {
        self.route.get()
    }

    /// Goes where an address leads.
    pub fn go(self, route: Route) {
        if self.route.with_untracked(|now| now.wall() != route.wall()) {
            self.selection.set(Selection::Nothing);
        }
        if let Some(id) = route.wall() {
            self.last_wall.set(Some(id.to_owned()));
        }
        self.route.set(route);
    }

    /// The wall that was looked at last, or else the first of the job.
    pub fn last_wall(self) -> Option<String> {
        let last = self.last_wall.get();
        self.job(|job| {
            let walls = || job.walls.iter().map(|wall| &wall.id);
            walls().find(|id| Some(*id) == last.as_ref()).or_else(|| walls().next()).cloned()
        })
    }

    /// How the sheets of a wall are made; what is shot through its holes is left to whoever has it planned.
    pub fn sheet_options(self, id: &str) -> SheetOptions {
        SheetOptions {
            paper: self.paper.get(),
            orientation: self.orientation.get(),
            acknowledged: self.acknowledged(id),
            language: self.language.get(),
            shots: WallShots::default(),
        }
    }

    /// Prints on another paper.
    pub fn set_paper(self, paper: Paper) {
        self.paper.set(paper);
    }

    /// Lays the paper otherwise.
    pub fn set_orientation(self, orientation: Orientation) {
        self.orientation.set(orientation);
    }

    /// The language of this screen.
    pub fn language(self) -> Language {
        self.language.get()
    }

    /// Speaks another language from now on, on this device.
    pub fn speak(self, language: Language) {
        // The words first: whoever hears of the change draws with them.
        words::set_language(language);
        self.language.set(language);
        self.keeper.keep_language(language);
    }

    /// Why the user prints a wall in spite of what stops it.
    pub fn acknowledged(self, id: &str) -> Option<String> {
        self.acknowledged.with(|reasons| reasons.get(id).cloned())
    }

    /// Takes the user's reason for printing a wall in spite of what stops it; an empty one takes it back.
    pub fn acknowledge(self, id: &str, reason: &str) {
        let reason = reason.trim();
        self.acknowledged.update(|reasons| match reason {
            "" => drop(reasons.remove(id)),
            _ => drop(reasons.insert(id.to_owned(), reason.to_owned())),
        });
    }

    /// What is read out to people who do not see the drawing change.
    pub fn said(self) -> String {
        self.said.get()
    }

    /// What belonged to one job is no use for another.
    fn follow_job(self) {
        Effect::new(move |earlier: Option<u32>| {
            let id = self.keeper.id();
            if earlier.is_some_and(|earlier| earlier != id) {
                self.selection.set(Selection::Nothing);
                self.acknowledged.update(LiteMap::clear);
                self.refused_file.set(Vec::new());
                self.say(untrack(|| self.job(|job| job.name.clone())));
            }
            id
        });
    }

    /// Reads something out.
    pub fn say(self, text: String) {
        self.said.set(text);
    }

    /// Reads out which step was taken back or done again.
    fn say_again(self, word: &str, step: Option<String>) {
        step.into_iter().for_each(|name| self.say(format!("{word}: {name}")));
    }

    fn say_how_many_holes(self) {
        Effect::new(move |earlier: Option<(u32, Planned)>| {
            let (job, now) = (self.keeper.id(), self.planned.get());
            // Walls of two jobs may bear one id.
            let earlier = earlier.filter(|(before, _)| *before == job);
            if let Some(change) = earlier.and_then(|(_, earlier)| holes_changed(&earlier, &now)) {
                self.said.set(change);
            }
            (job, now)
        });
    }
}

/// A hole that has moved by less than this, in millimetres, is still the same to whoever looks at it; of
/// two that are so close the nearer is meant.
const SAME_HOLE: f64 = 40.0;

/// Where more walls change at once, such as by a rule, planning all of them for one sentence would
/// hold up the picture.
const LOOKED_AT: usize = 8;

/// The first wall whose holes became more or fewer, among those whose holes were known.
fn holes_changed(earlier: &Planned, now: &Planned) -> Option<String> {
    let pairs = earlier.walls.iter().zip(&now.walls);
    let changed = pairs.filter(|(earlier, now)| earlier != now && earlier.wall.id == now.wall.id);
    let known = changed.filter_map(|(earlier, now)| Some((n_holes(earlier.known()?), now)));
    let mut counted =
        known.take(LOOKED_AT).map(|(earlier, now)| (earlier, n_holes(now.plan()), now));
    let (earlier, n_holes, now) = counted.find(|(earlier, now, _)| earlier != now)?;
    Some(words::holes_changed(&now.wall.name, earlier, n_holes))
}

fn n_holes(plan: &WallPlan) -> usize {
    plan.drill.holes.len()
}
