//! The shelf on a disk that may fail at any of its acts.

use std::{
    cell::Cell,
    pin::pin,
    task::{Context, Poll, Waker},
};

use risemark::quantity::{Units, inches};

use super::{super::kept::marks_of, *};
use crate::{
    command::{Command, ListChange},
    fresh, sample,
    store::{Answer, Fault, Memory, Store},
};

/// A store that fails when it is told to.
#[derive(Debug, Default)]
struct Faulty {
    memory: Memory,
    fault: Cell<Option<Fault>>,
}

impl Store for Faulty {
    fn read(&self, prefix: &str) -> Answer<Vec<Record>> {
        self.memory.read(prefix)
    }

    fn write(&self, changes: Vec<Change>) -> Answer<()> {
        match self.fault.get() {
            Some(fault) => Box::pin(async move { Err(fault) }),
            None => self.memory.write(changes),
        }
    }
}

/// A planner with one job open; what it wrote outlives it in the store.
struct Planner<'a> {
    store: &'a Faulty,
    shelf: Shelf,
    id: u32,
    history: History,
}

impl<'a> Planner<'a> {
    fn start(store: &'a Faulty) -> Self {
        let mut shelf = now(Shelf::read(store));
        let used = shelf.jobs(false).into_iter().map(|(id, _)| id);
        let used: Vec<u32> = used.collect();
        let mut opened = used.into_iter().filter_map(|id| {
            Some((id, shelf.open(id, now(store.read(&steps_of(id))), History::read)?))
        });
        let opened = opened.next();
        let (id, history) = opened.unwrap_or_else(|| {
            (shelf.free_id(), History::new(&sample::job()).expect("the sample is usable"))
        });
        let mut planner = Self { store, shelf, id, history };
        let kept = planner.keep();
        assert_eq!(kept, store.fault.get().map_or(Ok(()), Err), "as the store answers");
        planner
    }

    fn keep(&mut self) -> Result<(), Fault> {
        let n_kept = self.history.n_kept();
        let (edition, changes) = self.shelf.keep(self.id, &mut self.history, 0);
        assert_eq!(self.shelf.edition(self.id), Some(edition), "the latest edition");
        let outcome = at_once(self.store.write(changes));
        match outcome {
            Ok(()) => self.shelf.set_damaged_kept(),
            Err(_) => {
                self.history.set_n_kept(n_kept);
                self.shelf.set_unwritten();
            }
        }
        outcome
    }

    fn name(&mut self, name: &str) -> Result<(), Fault> {
        let outcome = self.history.run(Command::Name(name.to_owned()));
        assert_eq!(outcome, Ok(()), "a name");
        self.keep()
    }
}

fn at_once<T>(answer: impl Future<Output = Result<T, Fault>>) -> Result<T, Fault> {
    match pin!(answer).poll(&mut Context::from_waker(Waker::noop())) {
        Poll::Ready(outcome) => outcome,
        Poll::Pending => panic!("a store in memory answers at once"),
    }
}

fn now<T>(answer: impl Future<Output = Result<T, Fault>>) -> T {
    at_once(answer).expect("a store in memory is read without a fault")
}

fn damage(store: &Faulty, key: &str) {
    let Record { key, mut text } = now(store.read(key)).remove(0);
    assert_ne!(text.pop(), Some('€'), "the damage changes the record");
    text.push('€');
    now(store.memory.write(vec![Change::Put(Record { key, text })]));
}

fn names(history: &History) -> Vec<&str> {
    history.steps().iter().map(|step| step.new.as_str()).collect()
}

#[test]
fn everything_is_found_again() {
    let store = Faulty::default();
    let mut planner = Planner::start(&store);
    for name in ["one", "two", "three", "four"] {
        assert_eq!(planner.name(name), Ok(()), "{name}");
    }
    planner.history.undo();
    planner.history.undo();
    assert_eq!(planner.keep(), Ok(()), "steps taken back");
    let mut again = Planner::start(&store);
    assert_eq!(again.history.job(), planner.history.job(), "the job");
    assert_eq!(again.history.steps(), planner.history.steps(), "its steps");
    again.history.redo();
    assert_eq!(again.history.job().name, "three", "done again");
    for _ in 0..3 {
        again.history.undo();
    }
    assert_eq!(again.history.job(), &sample::job(), "taken back");
    assert_eq!(again.name("other"), Ok(()), "a step in place of those that were taken back");
    let last = Planner::start(&store);
    assert_eq!(last.history.steps().len(), 1, "the others are gone: {:?}", last.history);
    assert_eq!(last.shelf.gaps(), 0, "without a gap");
}

#[test]
fn only_what_changed_is_written() {
    let store = Faulty::default();
    let mut planner = Planner::start(&store);
    for n_steps in 0..20 {
        let outcome = planner.history.run(Command::Name(format!("name {n_steps}")));
        assert_eq!(outcome, Ok(()), "a name");
        let (_, changes) = planner.shelf.keep(planner.id, &mut planner.history, 0);
        let puts = changes.iter().filter(|change| matches!(change, Change::Put(_))).count();
        assert_eq!(puts, 2, "the job and one step: {changes:?}");
    }
}

#[test]
fn what_a_full_disk_refused_is_written_later() {
    for fault in [Fault::Full, Fault::Failed, Fault::Closed] {
        let store = Faulty::default();
        let mut planner = Planner::start(&store);
        assert_eq!(planner.name("one"), Ok(()), "a first step");
        store.fault.set(Some(fault));
        assert_eq!(planner.name("two"), Err(fault), "no room");
        assert_eq!(planner.name("three"), Err(fault), "no room still");
        assert_eq!(planner.history.job().name, "three", "the page has it");
        store.fault.set(None);
        assert_eq!(Planner::start(&store).history.job().name, "one", "the disk has not");
        assert_eq!(planner.name("four"), Ok(()), "room again");
        let again = Planner::start(&store);
        assert_eq!(again.history.steps(), planner.history.steps(), "nothing is missing");
        assert_eq!(again.history.job().name, "four", "the job");
    }
}

/// A planner that kept the sample as a whole twice, then two names as a mark each.
fn marked(store: &Faulty) -> Planner<'_> {
    let mut planner = Planner::start(store);
    for name in ["one", "two", "three"] {
        assert_eq!(planner.name(name), Ok(()), "{name}");
    }
    assert_eq!(now(store.read(JOBS)).len(), 2, "wholes");
    assert_eq!(now(store.read(MARKS)).len(), 2, "marks");
    planner
}

#[test]
fn a_job_outlives_the_damage_of_its_latest_record() {
    let store = Faulty::default();
    let planner = marked(&store);
    let edition = planner.shelf.edition(1).expect("the job is kept");
    damage(&store, &format!("{}{}", marks_of(1, 1), edition % 2));
    let mut again = Planner::start(&store);
    assert_eq!(again.history.job().name, "two", "the record before it");
    again.history.redo();
    assert_eq!(again.history.job().name, "three", "the step is whole, so nothing is lost");
    assert_eq!(again.shelf.damaged().len(), 1, "the damaged record is shown");
    let mut later = Planner::start(&store);
    assert_eq!(later.shelf.damaged().len(), 1, "and kept, once");
    now(store.write(later.shelf.clear_damaged()));
    let last = Planner::start(&store);
    assert_eq!(last.shelf.damaged(), [], "until it is cleared");
    assert_eq!(last.history.job().name, "two", "the job stays");
}

#[test]
fn a_job_outlives_the_damage_of_its_latest_whole() {
    let store = Faulty::default();
    let planner = marked(&store);
    damage(&store, &whole_key(1, 1));
    let mut again = Planner::start(&store);
    assert_eq!(again.history.job(), &sample::job(), "the whole before it");
    assert_eq!(again.shelf.damaged().len(), 1, "the damaged one is shown");
    for _ in 0..3 {
        again.history.redo();
    }
    assert_eq!(again.history.job(), planner.history.job(), "the steps lose nothing");
    assert_eq!(again.keep(), Ok(()), "kept");
    let later = Planner::start(&store);
    assert_eq!(later.history.text(), again.history.text(), "the old marks are of no account");
}

#[test]
fn an_older_app_never_sees_a_whole_with_marks() {
    let store = Faulty::default();
    marked(&store);
    let wholes = now(store.read(JOBS)).into_iter();
    let of_then = wholes.map(|Record { key, text }| {
        Change::Put(Record { key, text: text.replacen("job 2", "job 1", 1) })
    });
    now(store.write(of_then.chain([clear_all(MARKS)]).collect()));
    let mut again = Planner::start(&store);
    assert_eq!(again.history.job().name, "one", "what the first version wrote");
    assert_eq!(again.name("four"), Ok(()), "a step");
    assert_eq!(now(store.read(MARKS)), [], "no mark");
    let newer = now(store.read(JOBS)).into_iter().all(|whole| Whole::bears_marks(&whole.text));
    assert!(newer, "both wholes are of this version");
    assert_eq!(again.name("five"), Ok(()), "a step");
    assert_eq!(now(store.read(MARKS)).len(), 1, "now a mark does");
    assert_eq!(Planner::start(&store).history.job().name, "five", "found again");
}

#[test]
fn whatever_is_done_is_found_again() {
    let store = Faulty::default();
    let mut planner = Planner::start(&store);
    let mut kept = (planner.history.text().to_owned(), planner.history.steps().to_vec());
    let (mut seed, mut n_marks, mut n_starts) = (1_u32, 0, 0);
    for number in 0..600 {
        seed = seed.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        match (seed >> 16) % 10 {
            0..=4 => {
                let name = format!("name {number} {}", "long ".repeat(seed as usize >> 16 & 31));
                let outcome = planner.history.run(Command::Name(name));
                assert_eq!(outcome, Ok(()), "a name");
            }
            5 | 6 => planner.history.undo(),
            7 => planner.history.redo(),
            8 => store.fault.set(store.fault.get().xor(Some(Fault::Full))),
            _ => {
                store.fault.set(None);
                n_starts += 1;
                planner = Planner::start(&store);
                let found = (planner.history.text(), planner.history.steps());
                assert_eq!(found, (&*kept.0, &*kept.1), "what was kept last, before act {number}");
            }
        }
        if planner.keep().is_ok() {
            kept = (planner.history.text().to_owned(), planner.history.steps().to_vec());
            let text = planner.shelf.text(planner.id);
            assert_eq!(text, Some(&*kept.0), "the shelf has it, after act {number}");
        }
        n_marks += now(store.read(MARKS)).len();
    }
    assert_eq!((planner.shelf.gaps(), planner.shelf.damaged()), (0, &[][..]), "all is whole");
    assert!(20 < n_starts && 100 < n_marks, "{n_starts} starts, {n_marks} marks");
}

#[test]
fn a_damaged_step_costs_only_the_steps_before_it() {
    let store = Faulty::default();
    let mut planner = Planner::start(&store);
    for name in ["one name", "two names", "three names"] {
        assert_eq!(planner.name(name), Ok(()), "{name}");
    }
    damage(&store, &step_key(1, 1));
    let again = Planner::start(&store);
    assert_eq!(again.history.job(), planner.history.job(), "the job is whole");
    assert_eq!(names(&again.history).len(), 1, "the last step is there");
    assert_eq!((again.shelf.damaged().len(), again.shelf.gaps()), (1, 1), "and it is said");
    let mut later = Planner::start(&store);
    assert_eq!((later.shelf.damaged().len(), later.shelf.gaps()), (1, 0), "the rest is mended");
    later.history.undo();
    assert_ne!(later.history.job(), planner.history.job(), "the last step is taken back");
}

#[test]
fn a_job_that_is_lost_leaves_its_records_to_be_saved() {
    let store = Faulty::default();
    let mut planner = Planner::start(&store);
    assert_eq!(planner.name("one"), Ok(()), "a step");
    let whole: Vec<Record> = now(store.read(JOBS));
    for slot in 0..2 {
        damage(&store, &whole_key(1, slot));
    }
    let mut again = Planner::start(&store);
    assert_eq!(again.history.job(), &sample::job(), "the planner starts all the same");
    assert_ne!(again.id, 1, "beside the damaged job");
    let saved = again.shelf.damaged().iter().map(|record| &record.text);
    assert_eq!(saved.count(), whole.len(), "all that is left can be saved");
    now(store.write(again.shelf.clear_damaged()));
    assert_eq!(now(store.read(&steps_of(1))), [], "cleared with its steps");
    assert_eq!(Planner::start(&store).shelf.damaged(), [], "cleared");
}

#[test]
fn a_newer_job_is_left_alone() {
    let store = Faulty::default();
    let mut planner = Planner::start(&store);
    assert_eq!(planner.name("one"), Ok(()), "a step");
    let newer = now(store.read(JOBS))
        .into_iter()
        .next()
        .map(|record| Record { text: record.text.replacen("job 2", "job 3", 1), ..record });
    let newer = newer.expect("the job is kept");
    now(store.write(vec![Change::Put(newer.clone())]));
    let again = Planner::start(&store);
    assert_eq!(again.shelf.newer(), std::slice::from_ref(&newer), "it can be saved");
    assert_ne!(again.id, 1, "another job is open");
    assert!(now(store.read(JOBS)).contains(&newer), "the newer one is as it was");
}

#[test]
fn a_job_that_this_version_cannot_read_is_left_alone() {
    let store = Faulty::default();
    let mut planner = Planner::start(&store);
    let id = planner.shelf.free_id();
    let name = "From a later year".to_owned();
    let state = State { edition: 1, n_done: 0, used: 1, removed: false, name };
    let text = "{\"format\": \"risemark-job\", \"version\": 9, \"job\": {}}".to_owned();
    let text = Whole { state, text }.write();
    now(store.write(vec![Change::Put(Record { key: whole_key(id, 0), text })]));
    assert_eq!(planner.keep(), Ok(()), "the sample");
    let again = Planner::start(&store);
    assert_eq!(again.id, planner.id, "the sample is open");
    assert_eq!(again.shelf.newer().len(), 1, "the other can be saved");
}

#[test]
fn removed_jobs_are_brought_back_until_they_are_cleared() {
    let store = Faulty::default();
    let mut planner = Planner::start(&store);
    let empty = fresh::job(Units::Metric);
    planner.id = planner.shelf.free_id();
    planner.history = History::new(&empty).expect("an empty job is usable");
    let wall = fresh::wall(&empty, inches(96.0), inches(96.0), None);
    let add = Command::Walls(ListChange::Insert { at: 0, entry: Box::new(wall) });
    assert_eq!(planner.history.run(add), Ok(()), "a wall");
    assert_eq!(planner.keep(), Ok(()), "a second job");
    let id = planner.id;
    now(store.write(planner.shelf.set_removed(id, true)));
    let mut again = Planner::start(&store);
    assert_eq!(again.shelf.jobs(true), [(id, empty.name)], "removed");
    now(store.write(again.shelf.set_removed(id, false)));
    let steps = now(store.read(&steps_of(id)));
    let back = again.shelf.open(id, steps, History::read).expect("the job is there");
    assert_eq!(back.steps(), planner.history.steps(), "with its steps");
    now(store.write(again.shelf.set_removed(id, true)));
    now(store.write(again.shelf.clear_removed()));
    assert_eq!(now(store.read(&steps_of(id))), [], "cleared");
    assert_eq!(Planner::start(&store).shelf.jobs(true), [], "cleared");
}
