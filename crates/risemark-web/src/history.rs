//! The job with everything that was done to it: each step can be taken back and done again.

use risemark::{
    finding::{Finding, Severity},
    job::Job,
};

use crate::command::Command;

/// A job and its steps. The job is always usable: a step that would spoil it is refused.
#[derive(Debug, Clone)]
pub struct History {
    job: Job,
    /// What takes the last steps back, the latest last.
    back: Vec<Command>,
    /// What does steps again that were taken back, the next one last.
    again: Vec<Command>,
}

impl History {
    /// A job to which nothing has been done yet.
    pub fn new(job: Job) -> Self {
        Self { job, back: Vec::new(), again: Vec::new() }
    }

    /// The job as it is now.
    pub fn job(&self) -> &Job {
        &self.job
    }

    /// Does a step.
    ///
    /// # Errors
    /// When the job would not be usable afterwards, it stays as it was and the reasons are returned.
    pub fn run(&mut self, command: Command) -> Result<(), Vec<Finding>> {
        let Some(inverse) = command.apply(&mut self.job) else {
            return Ok(());
        };
        let mut reasons = risemark::check(&self.job);
        reasons.retain(|finding| finding.problem.severity() == Severity::Stop);
        if !reasons.is_empty() {
            // The inverse of a step that was just done always applies.
            let _done_again = inverse.apply(&mut self.job);
            return Err(reasons);
        }
        self.back.push(inverse);
        self.again.clear();
        Ok(())
    }

    /// Takes the last step back, if there is one.
    pub fn undo(&mut self) {
        let inverse = self.back.pop().and_then(|command| command.apply(&mut self.job));
        self.again.extend(inverse);
    }

    /// Does the step again that was taken back last, if there is one.
    pub fn redo(&mut self) {
        let inverse = self.again.pop().and_then(|command| command.apply(&mut self.job));
        self.back.extend(inverse);
    }

    /// Whether there is a step to take back.
    pub fn can_undo(&self) -> bool {
        !self.back.is_empty()
    }

    /// Whether there is a step to do again.
    pub fn can_redo(&self) -> bool {
        !self.again.is_empty()
    }
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
            Command::Replace(Box::new(fresh::job(Units::FeetInches))),
        ]
    }

    #[test]
    fn every_step_is_taken_back_and_done_again() {
        let mut history = History::new(job());
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
        assert!(!history.can_undo(), "nothing is left to take back");
        for after in seen.iter().skip(1) {
            history.redo();
            assert_eq!(history.job(), after, "done again");
        }
        assert!(!history.can_redo(), "nothing is left to do again");
    }

    #[test]
    fn the_same_steps_give_the_same_job() {
        let replay = || {
            let mut history = History::new(job());
            for step in steps() {
                assert_eq!(history.run(step), Ok(()), "a step of the list");
            }
            history.job().clone()
        };
        assert_eq!(replay(), replay(), "replayed");
    }

    #[test]
    fn a_step_that_spoils_the_job_is_refused_and_changes_nothing() {
        let mut history = History::new(job());
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
        let mut history = History::new(job());
        assert_eq!(history.run(Command::Name("one".to_owned())), Ok(()), "a step");
        history.undo();
        assert_eq!(history.run(Command::Name("two".to_owned())), Ok(()), "another step");
        history.redo();
        assert_eq!(history.job().name, "two", "there is nothing to do again");
    }

    #[test]
    fn a_step_on_what_is_not_there_changes_nothing() {
        let mut history = History::new(job());
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
            assert_eq!(history.job(), &job(), "{step:?}");
        }
        assert!(!history.can_undo(), "nothing was done");
    }

    #[test]
    fn a_chain_of_points_goes_on_to_end_where_the_wall_ends() {
        let mut history = History::new(job());
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
        assert_eq!(
            History::new(job()).run(on_first(change)),
            Ok(()),
            "a door without a sill is usable"
        );
    }
}
