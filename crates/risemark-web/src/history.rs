//! The job with everything that was done to it: each step can be taken back and done again.

use std::sync::Arc;

use risemark::{file, finding::Finding, job::Job};

use crate::{command::Command, step::Step, words};

/// A job and its steps.
///
/// The job is always what its own file says: a step after which the file could not be read again is
/// refused, so that what is shown is what is kept.
#[derive(Debug, Clone)]
pub struct History {
    job: Arc<Job>,
    text: String,
    steps: Vec<Step>,
    /// How many of the steps are done; the others were taken back.
    n_done: usize,
    /// How many of the first steps are kept elsewhere as they are.
    n_kept: usize,
}

impl History {
    /// A job to which nothing has been done yet.
    ///
    /// # Errors
    /// When the job is not usable.
    pub fn new(job: &Job) -> Result<Self, Vec<Finding>> {
        Self::read(written(job))
    }

    /// As [`Self::new`], of a job that is known to be what its own file says: reading it again would
    /// only take time.
    pub fn of_sound(job: Job) -> Self {
        Self { text: written(&job), job: Arc::new(job), steps: Vec::new(), n_done: 0, n_kept: 0 }
    }

    /// A job to which nothing has been done yet, from the text of its file.
    ///
    /// # Errors
    /// Everything that is wrong with the file.
    pub fn read(text: String) -> Result<Self, Vec<Finding>> {
        Ok(Self {
            job: Arc::new(file::read(&text)?),
            text,
            steps: Vec::new(),
            n_done: 0,
            n_kept: 0,
        })
    }

    /// The same job with steps that were kept, of which some are missing; `n_done` of them are done.
    ///
    /// Takes the steps that lead from the job back and on without a gap, and says whether those are all.
    pub fn with_steps(mut self, steps: Vec<Option<Step>>, n_done: usize) -> (Self, bool) {
        let (mut before, mut after) = (self.text.clone(), self.text.clone());
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

    /// The job's file.
    pub fn text(&self) -> &str {
        &self.text
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

    /// Does a step.
    ///
    /// # Errors
    /// When the job would not be usable afterwards, it stays as it was and the reasons are returned.
    pub fn run(&mut self, command: Command) -> Result<(), Vec<Finding>> {
        let name = words::step(&command, &self.job);
        let mut job = (*self.job).clone();
        if command.apply(&mut job).is_none() {
            return Ok(());
        }
        let text = written(&job);
        let job = file::read(&text)?;
        if let Some(step) = Step::between(name, &self.text, &text) {
            self.steps.truncate(self.n_done);
            self.steps.push(step);
            self.n_kept = self.n_kept.min(self.n_done);
            self.n_done += 1;
        }
        (self.job, self.text) = (Arc::new(job), text);
        Ok(())
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
        let (mut text, mut n_done) = (self.text.clone(), self.n_done);
        while let Some(next) = step(&self.steps, n_done, &mut text) {
            n_done = next;
            if let Ok(job) = file::read(&text) {
                (self.job, self.text, self.n_done) = (Arc::new(job), text, n_done);
                return;
            }
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
        job::{Edge, Opening, OpeningKind, Wall},
        quantity::{Units, inches},
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
