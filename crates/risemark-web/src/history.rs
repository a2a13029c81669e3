//! The job with everything that was done to it: each step can be taken back and done again.

use std::sync::{Arc, OnceLock};

use risemark::{
    file,
    finding::Finding,
    job::{Job, Wall},
    limits,
};

use crate::{command::Command, step::Step, words};

/// How many times as long a job may be as it is written here, at most: a number and its comma on a
/// line of their own behind the spaces of the deepest list.
const MOST_LONGER: usize = 16;

/// A job and its steps.
///
/// The job is always what its own file says: a step after which the file could not be read again is
/// refused, so that what is shown is what is kept.
#[derive(Debug, Clone)]
pub struct History {
    job: Arc<Job>,
    /// Its file, written when it is asked for first.
    text: OnceLock<String>,
    steps: Vec<Step>,
    /// How many of the steps are done; the others were taken back.
    n_done: usize,
    /// How many of the first steps are kept elsewhere as they are.
    n_kept: usize,
    /// What changed in the text since that was asked for last.
    changes: Vec<Step>,
}

/// A wall in place of another, in the list of walls and in the text of the job's file.
struct Exchange {
    idx: usize,
    wall: Wall,
    /// Where its text begins, in bytes.
    at: usize,
    old: String,
    new: String,
}

impl History {
    /// A job to which nothing has been done yet.
    ///
    /// # Errors
    /// When the job is not usable.
    pub fn new(job: &Job) -> Result<Self, Vec<Finding>> {
        Self::read(written(job))
    }

    /// As [`Self::new`], of a job that has just been read from a file of so many bytes, which may be
    /// written otherwise.
    ///
    /// # Errors
    /// When the job is too large as it is written here.
    pub fn of_read(job: Job, n_bytes: usize) -> Result<Self, Vec<Finding>> {
        // What is read comes back the same from its own file, so that nothing else can be wrong with it.
        if n_bytes <= limits::FILE_BYTES / MOST_LONGER {
            return Ok(Self::of_sound(job));
        }
        let text = written(&job);
        if text.len() <= limits::FILE_BYTES {
            Ok(Self::begun(job, text.into()))
        } else {
            Self::read(text)
        }
    }

    /// As [`Self::new`], of a job that is known to be what its own file says: reading it again would
    /// only take time.
    pub fn of_sound(job: Job) -> Self {
        Self::begun(job, OnceLock::new())
    }

    fn begun(job: Job, text: OnceLock<String>) -> Self {
        let (job, steps, changes) = (Arc::new(job), Vec::new(), Vec::new());
        Self { job, text, steps, n_done: 0, n_kept: 0, changes }
    }

    /// A job to which nothing has been done yet, from the text of its file.
    ///
    /// # Errors
    /// Everything that is wrong with the file.
    pub fn read(text: String) -> Result<Self, Vec<Finding>> {
        Ok(Self::begun(file::read(&text)?, text.into()))
    }

    /// The same job with steps that were kept, of which some are missing; `n_done` of them are done.
    ///
    /// Takes the steps that lead from the job back and on without a gap, and says whether those are all.
    pub fn with_steps(mut self, steps: Vec<Option<Step>>, n_done: usize) -> (Self, bool) {
        let (mut before, mut after) = (self.text().to_owned(), self.text().to_owned());
        let at = |idx: usize| steps.get(idx).and_then(Option::as_ref);
        let leads_back = |idx: &usize| at(*idx).is_some_and(|step| step.undo(&mut before));
        let n_before = (0..n_done).rev().take_while(leads_back).count();
        let leads_on = |idx: &usize| at(*idx).is_some_and(|step| step.redo(&mut after));
        let n_after = (n_done..steps.len()).take_while(leads_on).count();
        let whole = n_before == n_done && n_done + n_after == steps.len();
        let kept = steps.into_iter().skip(n_done - n_before).take(n_before + n_after);
        self.steps = kept.flatten().collect();
        self.n_done = n_before;
        self.n_kept = if whole { self.steps.len() } else { 0 };
        (self, whole)
    }

    /// The job as it is now.
    pub fn job(&self) -> &Job {
        &self.job
    }

    /// The job as it is now, to be read elsewhere.
    pub fn shared_job(&self) -> Arc<Job> {
        Arc::clone(&self.job)
    }

    /// The job with one wall alone, which need not be one of its own.
    pub fn alone(&self, wall: Wall) -> Job {
        let Job { name, units, year_built, rules, foam, crew, .. } = &*self.job;
        Job {
            name: name.clone(),
            place: None,
            date: None,
            units: *units,
            year_built: *year_built,
            rules: rules.clone(),
            foam: foam.clone(),
            crew: crew.clone(),
            walls: vec![wall],
        }
    }

    /// The job's file.
    pub fn text(&self) -> &str {
        self.text.get_or_init(|| written(&self.job))
    }

    /// All steps, those that were taken back too.
    pub fn steps(&self) -> &[Step] {
        &self.steps
    }

    /// How many of the steps are done.
    pub fn n_done(&self) -> usize {
        self.n_done
    }

    /// How many of the first steps are kept elsewhere as they are.
    pub fn n_kept(&self) -> usize {
        self.n_kept
    }

    /// Takes note that no more than so many of the first steps are kept elsewhere.
    pub fn set_n_kept(&mut self, n_kept: usize) {
        self.n_kept = n_kept.min(self.steps.len());
    }

    /// What changed in the text since this was asked for last, in order.
    pub fn take_changes(&mut self) -> Vec<Step> {
        std::mem::take(&mut self.changes)
    }

    /// Does a step.
    ///
    /// # Errors
    /// When the job would not be usable afterwards, it stays as it was and the reasons are returned.
    pub fn run(&mut self, command: Command) -> Result<(), Vec<Finding>> {
        let name = words::step(&command, &self.job);
        match self.exchange(&command) {
            Some(exchange) => self.run_on_wall(name, exchange),
            None => self.run_on_whole(name, command)?,
        }
        Ok(())
    }

    /// Does a step of any kind: the whole job is written and read again.
    fn run_on_whole(&mut self, name: String, command: Command) -> Result<(), Vec<Finding>> {
        let mut job = (*self.job).clone();
        if command.apply(&mut job).is_none() {
            return Ok(());
        }
        let text = written(&job);
        let job = file::read(&text)?;
        self.push(Step::between(name, self.text(), &text));
        (self.job, self.text) = (Arc::new(job), text.into());
        Ok(())
    }

    /// Does a step that changes one wall; the texts of the others stay as they are.
    fn run_on_wall(&mut self, name: String, exchange: Exchange) {
        let Exchange { idx, wall, at, old, new } = exchange;
        // All around is the same, so that the texts of the wall differ where those of the job do.
        let step = Step::between(name, &old, &new);
        self.push(step.map(|step| Step { at: at + step.at, ..step }));
        Arc::make_mut(&mut self.job).walls[idx] = wall;
        // A text that nobody asked for yet is written of the job as it is then.
        if let Some(text) = self.text.get_mut() {
            text.replace_range(at..at + old.len(), &new);
        }
    }

    /// What a change of one wall comes to, where that wall alone can say whether the job stays usable.
    ///
    /// A job is usable when each of its walls is, in its settings, and when all of it is within the
    /// limits of size. What is refused here is looked at as a whole, with all its reasons.
    fn exchange(&self, command: &Command) -> Option<Exchange> {
        let Command::Wall { id, change } = command else { return None };
        let idx = self.job.walls.iter().position(|wall| wall.id == *id)?;
        let before = &self.job.walls[idx];
        let mut wall = before.clone();
        change.clone().apply(&mut wall)?;
        let (old, new) = (file::write_wall(before).ok()?, file::write_wall(&wall).ok()?);
        // A wall bears an id of its own, so that its text stands there once.
        let at = self.text().find(&old)?;
        let n_bytes = self.text().len() - old.len() + new.len();
        let wall = file::read(&written(&self.alone(wall))).ok()?.walls.pop()?;
        self.fits(idx, &wall, n_bytes).then_some(Exchange { idx, wall, at, old, new })
    }

    /// The wall in which another text of the job's file differs from its own, as it reads there; the
    /// rest as in [`Self::exchange`].
    fn changed_wall(&self, text: &str) -> Option<(usize, Wall)> {
        let change = Step::between(String::new(), self.text(), text)?;
        let was = file::wall_around(self.text(), change.at)?;
        let old = &self.text()[was.clone()];
        let new = text.get(was.start..(was.end + text.len()).checked_sub(self.text().len())?)?;
        // The change lies within the wall when all the rest is the same.
        let within = change.at + change.old.len() < was.end && new.starts_with('{');
        let any = self.job.walls.first().filter(|_| within)?;
        let alone = written(&self.alone(any.clone()));
        let alone = alone.replacen(&file::write_wall(any).ok()?, new, 1);
        // Where a wall came or went, the change may seem to lie in another.
        let [wall] = <[Wall; 1]>::try_from(file::read(&alone).ok()?.walls).ok()?;
        let idx = self.job.walls.iter().position(|known| known.id == wall.id)?;
        let is_known = file::write_wall(&self.job.walls[idx]).ok()? == *old;
        (is_known && self.fits(idx, &wall, text.len())).then_some((idx, wall))
    }

    /// Whether a job is within the limits of size with a wall in place of another, in a file of so many bytes.
    fn fits(&self, idx: usize, wall: &Wall, n_bytes: usize) -> bool {
        let n_entries: usize = self.job.walls.iter().map(Wall::n_entries).sum();
        let n_entries = n_entries - self.job.walls[idx].n_entries() + wall.n_entries();
        n_entries <= limits::MEMBERS && n_bytes <= limits::FILE_BYTES
    }

    /// Takes a step, unless it changed nothing; those that were taken back are gone then.
    fn push(&mut self, step: Option<Step>) {
        let Some(step) = step else { return };
        self.steps.truncate(self.n_done);
        self.changes.push(step.clone());
        self.steps.push(step);
        self.n_kept = self.n_kept.min(self.n_done);
        self.n_done += 1;
    }

    /// Takes the last step back, if there is one.
    pub fn undo(&mut self) {
        self.go(|steps, n_done, text| {
            let before = n_done.checked_sub(1)?;
            steps[before].undo(text).then_some(before)
        });
    }

    /// Does the step again that was taken back last, if there is one.
    pub fn redo(&mut self) {
        self.go(|steps, n_done, text| steps.get(n_done)?.redo(text).then_some(n_done + 1));
    }

    /// The step that would be taken back.
    pub fn last_done(&self) -> Option<&Step> {
        self.n_done.checked_sub(1).and_then(|idx| self.steps.get(idx))
    }

    /// The step that would be done again.
    pub fn next(&self) -> Option<&Step> {
        self.steps.get(self.n_done)
    }

    /// Goes to the next job in a direction that this version of the planner can read.
    fn go(&mut self, step: impl Fn(&[Step], usize, &mut String) -> Option<usize>) {
        let (mut text, mut n_done) = (self.text().to_owned(), self.n_done);
        let mut changes = Vec::new();
        while let Some(next) = step(&self.steps, n_done, &mut text) {
            let forward = n_done < next;
            let passed = &self.steps[n_done.min(next)];
            changes.push(if forward { passed.clone() } else { passed.reversed() });
            n_done = next;
            if let Some((idx, wall)) = self.changed_wall(&text) {
                Arc::make_mut(&mut self.job).walls[idx] = wall;
            } else if let Ok(job) = file::read(&text) {
                self.job = Arc::new(job);
            } else {
                continue;
            }
            (self.text, self.n_done) = (text.into(), n_done);
            self.changes.append(&mut changes);
            return;
        }
    }
}

fn written(job: &Job) -> String {
    // What cannot be written is no job file either, and is refused by the reader.
    file::write(job).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use risemark::{
        geometry::Point,
        job::{Edge, Opening, OpeningKind, Thing, ThingShape},
        quantity::{Units, inches, millimeters},
    };

    use super::*;
    use crate::{
        command::{ListChange, WallChange},
        fresh,
        shape::{EdgeKind, Outline, edge_as},
    };

    fn job() -> Job {
        let mut job = fresh::job(Units::FeetInches);
        for width in [192.0, 144.0] {
            let wall = fresh::wall(&job, inches(width), inches(97.125), None);
            job.walls.push(wall);
        }
        job
    }

    fn start(job: Job) -> History {
        History::new(&job).expect("the job is usable")
    }

    fn on_first(change: WallChange) -> Command {
        Command::Wall { id: "wall-1".to_owned(), change }
    }

    fn outline(change: fn(&mut Outline)) -> Command {
        let mut outline = Outline::of(&job().walls[0]);
        change(&mut outline);
        on_first(WallChange::Outline(outline))
    }

    fn insert_opening(left: f64) -> Command {
        let job = job();
        let entry = Opening { left: inches(left), ..fresh::opening(&job.walls[0]) };
        on_first(WallChange::Openings(ListChange::Insert { at: 0, entry }))
    }

    fn steps() -> Vec<Command> {
        let wall: Wall = fresh::wall(&job(), inches(60.0), inches(90.0), Some(inches(3.5)));
        vec![
            Command::Name("Pottery".to_owned()),
            Command::Place(Some("Larch Lane".to_owned())),
            Command::YearBuilt(Some(1931)),
            Command::Units(Units::Metric),
            Command::Walls(ListChange::Insert { at: 1, entry: Box::new(wall) }),
            Command::Walls(ListChange::Move { from: 2, to: 0 }),
            insert_opening(60.0),
            insert_opening(110.0),
            on_first(WallChange::Openings(ListChange::Move { from: 0, to: 1 })),
            on_first(WallChange::Openings(ListChange::Remove { at: 0 })),
            outline(|outline| outline.set_width(inches(180.0))),
            outline(|outline| outline.top = edge_as(&outline.top, EdgeKind::Gable, outline.width)),
            on_first(WallChange::StudThickness(Some(inches(1.625)))),
            on_first(WallChange::Name("Süd \"A\" {\\n      }".to_owned())),
            Command::Walls(ListChange::Remove { at: 1 }),
        ]
    }

    #[test]
    fn every_step_is_taken_back_and_done_again() {
        let mut history = start(job());
        let mut seen = vec![history.job().clone()];
        for step in steps() {
            assert_eq!(history.run(step.clone()), Ok(()), "{step:?}");
            assert_ne!(Some(history.job()), seen.last(), "{step:?} changes something");
            seen.push(history.job().clone());
        }
        for before in seen.iter().rev().skip(1) {
            history.undo();
            assert_eq!(history.job(), before, "taken back");
        }
        assert!(history.last_done().is_none(), "nothing is left to take back");
        for after in seen.iter().skip(1) {
            history.redo();
            assert_eq!(history.job(), after, "done again");
        }
        assert!(history.next().is_none(), "nothing is left to do again");
    }

    #[test]
    fn a_step_on_one_wall_is_the_same_as_on_the_whole_job() {
        let (mut history, mut whole) = (start(job()), start(job()));
        let mut n_alone = 0;
        for step in steps() {
            n_alone += usize::from(history.exchange(&step).is_some());
            let name = words::step(&step, whole.job());
            assert_eq!(whole.run_on_whole(name, step.clone()), Ok(()), "{step:?}");
            assert_eq!(history.run(step.clone()), Ok(()), "{step:?}");
            assert_eq!(history.job(), whole.job(), "{step:?}");
            assert_eq!(history.text(), written(history.job()), "{step:?}");
            assert_eq!(history.steps(), whole.steps(), "{step:?}");
        }
        assert_eq!(n_alone, 8, "the steps that change one wall");
        let mut n_alone = 0;
        for step in whole.steps().iter().rev() {
            let mut text = history.text().to_owned();
            assert!(step.undo(&mut text), "{step:?}");
            n_alone += usize::from(history.changed_wall(&text).is_some());
            history.undo();
            assert_eq!(Ok(history.job()), file::read(&text).as_ref(), "{step:?}");
            assert_eq!(history.text(), text, "{step:?}");
        }
        assert_eq!(n_alone, 8, "the steps that change one wall, taken back");
    }

    #[test]
    fn a_job_from_a_file_is_what_its_own_file_says() {
        for width in [4_876.8, 4_876.800_000_012_3, 4_876.799_999_999_9] {
            let mut text = written(&job());
            text = text.replacen("4876.8", &width.to_string(), 1);
            let job = file::read(&text).expect("a usable job");
            let history = History::of_read(job.clone(), text.len()).expect("as usable as it was");
            assert_eq!(file::read(history.text()).as_ref(), Ok(history.job()), "{width}");
            assert_eq!(
                Ok(history.text()),
                History::new(&job).as_ref().map(History::text),
                "{width}"
            );
        }
    }

    #[test]
    fn a_job_is_written_no_longer_than_is_reckoned() {
        let mut job = job();
        let points = vec![Point::new(millimeters(1.0), millimeters(1.0)); 5_000];
        let cable = ThingShape::Run { points, diameter: millimeters(9.0) };
        job.walls[0].things = vec![Thing { at: cable, ..fresh::thing(&job.walls[0]) }];
        let file = file::JobFile {
            format: file::Format::RisemarkJob,
            version: file::VERSION,
            job: std::borrow::Cow::Borrowed(&job),
        };
        let short = serde_json::to_string(&file).expect("a job fits into JSON");
        let long = written(&job).len();
        assert!(long < MOST_LONGER * short.len(), "{long} bytes of {}", short.len());
        assert!(5 * short.len() < long, "the deepest lists are the longest: {long} bytes");
    }

    #[test]
    fn a_wall_that_is_too_much_for_its_job_is_refused() {
        let mut job = job();
        let n_walls = job.walls.len();
        for wall in &mut job.walls {
            wall.drilling.liked = vec![fresh::liked(wall); limits::MEMBERS / n_walls];
        }
        let mut history = start(job);
        let entry = fresh::liked(&history.job().walls[0]);
        let one_more = on_first(WallChange::Liked(ListChange::Insert { at: 0, entry }));
        assert!(history.exchange(&one_more).is_none(), "the wall alone would do");
        let before = history.text().to_owned();
        assert!(history.run(one_more).is_err(), "the job has too many entries");
        assert_eq!(history.text(), before, "as it was");
    }

    #[test]
    fn the_same_steps_give_the_same_job() {
        let replay = || {
            let mut history = start(job());
            for step in steps() {
                assert_eq!(history.run(step), Ok(()), "a step of the list");
            }
            history.job().clone()
        };
        assert_eq!(replay(), replay(), "replayed");
    }

    #[test]
    fn a_step_that_spoils_the_job_is_refused_and_changes_nothing() {
        let mut history = start(job());
        assert_eq!(history.run(insert_opening(60.0)), Ok(()), "a first window");
        let before = history.job().clone();
        let reasons = history.run(insert_opening(70.0)).err().unwrap_or_default();
        let codes: Vec<_> = reasons.iter().map(|finding| finding.problem.code()).collect();
        assert!(codes.contains(&"openings-overlap"), "{codes:?}");
        assert_eq!(history.job(), &before, "nothing has changed");
        let narrow = outline(|outline| outline.set_width(inches(0.0)));
        assert!(history.run(narrow).is_err(), "a wall without width is refused");
        assert_eq!(history.job(), &before, "nothing has changed");
    }

    #[test]
    fn a_new_step_drops_what_was_taken_back() {
        let mut history = start(job());
        assert_eq!(history.run(Command::Name("one".to_owned())), Ok(()), "a step");
        history.undo();
        assert_eq!(history.run(Command::Name("two".to_owned())), Ok(()), "another step");
        history.redo();
        assert_eq!(history.job().name, "two", "there is nothing to do again");
    }

    #[test]
    fn a_step_on_what_is_not_there_changes_nothing() {
        let mut history = start(job());
        let before = history.job().clone();
        let absent = [
            Command::Wall {
                id: "nowhere".to_owned(),
                change: WallChange::Room(Some("Attic".to_owned())),
            },
            Command::Walls(ListChange::Remove { at: 9 }),
            Command::Walls(ListChange::Move { from: 0, to: 9 }),
            on_first(WallChange::Bays(ListChange::Remove { at: 0 })),
        ];
        for step in absent {
            assert_eq!(history.run(step.clone()), Ok(()), "{step:?}");
            assert_eq!(history.job(), &before, "{step:?}");
        }
        assert!(history.last_done().is_none(), "nothing was done");
    }

    #[test]
    fn a_chain_of_points_goes_on_to_end_where_the_wall_ends() {
        let mut history = start(job());
        let points =
            outline(|outline| outline.top = edge_as(&outline.top, EdgeKind::Points, outline.width));
        assert_eq!(history.run(points), Ok(()), "a chain");
        let mut wider = Outline::of(&history.job().walls[0]);
        wider.set_width(inches(200.0));
        assert_eq!(history.run(on_first(WallChange::Outline(wider))), Ok(()), "a wider wall");
        let Edge::Points { points } = &history.job().walls[0].top else {
            panic!("the edge is a chain still");
        };
        assert_eq!(points.last().map(|point| point.x), Some(inches(200.0)), "its last point");
    }

    #[test]
    fn a_window_that_becomes_a_door_loses_its_sill() {
        let mut opening = fresh::opening(&job().walls[0]);
        crate::shape::set_opening_kind(&mut opening, OpeningKind::Door);
        let entry = Opening { height: inches(80.0), ..opening };
        let change = WallChange::Openings(ListChange::Insert { at: 0, entry });
        assert_eq!(start(job()).run(on_first(change)), Ok(()), "a door without a sill is usable");
    }
}
