//! One job on the disk: all of it, and what has changed since.
//!
//! A job has two records of all of it, and each of these two marks, which say what has changed since it
//! was written. Wholes and marks are written in turn, so that one of two is sound whatever happens to the
//! other. A mark is written as long as it is much shorter than the job.

use super::{
    Change, Record, clear_all,
    record::{Mark, State, Whole},
};
use crate::step::Step;

/// Where jobs are as a whole.
pub const JOBS: &str = "job/";

/// Where their marks are.
pub const MARKS: &str = "mark/";

/// A mark is this much shorter than its job.
const SHORTER: usize = 16;

/// A job that is kept.
#[derive(Debug, Clone)]
pub struct Kept {
    /// What the list of jobs needs.
    pub state: State,
    /// The job's file.
    pub text: String,
    /// The editions of its two wholes, as far as marks may refer to them.
    wholes: [Option<u64>; 2],
    /// What changed in the text since the later of them.
    trail: Vec<Step>,
}

/// The records of one job that can be read.
#[derive(Debug, Default)]
pub struct Found {
    /// Each with whether marks may refer to it.
    pub wholes: [Option<(Whole, bool)>; 2],
    /// Marks of either.
    pub marks: Vec<Mark>,
}

impl Found {
    /// The job by its latest record.
    pub fn kept(self) -> Option<Kept> {
        let Self { wholes, marks } = self;
        let editions = wholes.each_ref().map(|whole| {
            let (whole, _) = whole.as_ref().filter(|(_, bears_marks)| *bears_marks)?;
            Some(whole.state.edition)
        });
        let whole = wholes.into_iter().flatten().map(|(whole, _)| whole);
        let whole = whole.max_by_key(|whole| whole.state.edition)?;
        let (edition, mut text) = (whole.state.edition, whole.text);
        // Marks of the whole before this one have nothing to say of it.
        let mut marks: Vec<Mark> = marks.into_iter().filter(|mark| mark.base == edition).collect();
        risemark::order::sort_by_key(&mut marks, |mark| std::cmp::Reverse(mark.state.edition));
        let mark = marks.into_iter().find(|mark| leads_on(&mark.trail, &mut text));
        let (state, trail) =
            mark.map_or((whole.state, Vec::new()), |mark| (mark.state, mark.trail));
        Some(Kept { state, text, wholes: editions, trail })
    }
}

/// Changes a text along a trail, and says whether that fits; where it does not, nothing changes.
fn leads_on(trail: &[Step], text: &mut String) -> bool {
    let mut changed = text.clone();
    let fits = trail.iter().all(|step| step.redo(&mut changed));
    if fits {
        *text = changed;
    }
    fits
}

impl Kept {
    /// A job after changes of what is kept of it, if anything is.
    pub fn after(known: Option<Self>, state: State, text: String, changes: Vec<Step>) -> Self {
        let known = known.map(|known| (known.wholes, known.trail));
        let (wholes, mut trail) = known.unwrap_or_default();
        trail.extend(changes);
        Self { state, text, wholes, trail }
    }

    /// Takes note that something could not be written, so that nobody knows what a mark would refer to.
    pub fn set_unwritten(&mut self) {
        self.wholes = [None; 2];
    }

    /// Writes the job as it is now, as a mark where that is much shorter.
    pub fn put(&mut self, id: u32) -> Vec<Change> {
        let length: usize = self.trail.iter().map(|step| step.old.len() + step.new.len()).sum();
        let short = length < self.text.len() / SHORTER;
        match self.base().filter(|_| short) {
            Some(base) => vec![self.put_mark(id, base)],
            None => self.put_whole(id).into(),
        }
    }

    /// The whole that was written later and its edition, where there is another should it be damaged.
    fn base(&self) -> Option<(usize, u64)> {
        let [Some(one), Some(other)] = self.wholes else { return None };
        Some(if one < other { (1, other) } else { (0, one) })
    }

    /// Which of the two wholes is written next: the older, or one that is not there.
    fn slot(&self) -> usize {
        usize::from(self.wholes[1] < self.wholes[0])
    }

    fn put_mark(&self, id: u32, (slot, base): (usize, u64)) -> Change {
        let mark = Mark { state: self.state.clone(), base, trail: self.trail.clone() };
        let key = format!("{}{}", marks_of(id, slot), mark.state.edition % 2);
        Change::Put(Record { key, text: mark.write() })
    }

    /// What it replaces goes with its marks, which say nothing of this one.
    fn put_whole(&mut self, id: u32) -> [Change; 2] {
        let slot = self.slot();
        self.wholes[slot] = Some(self.state.edition);
        self.trail.clear();
        let whole = Whole { state: self.state.clone(), text: self.text.clone() };
        let record = Record { key: whole_key(id, slot), text: whole.write() };
        [clear_all(&marks_of(id, slot)), Change::Put(record)]
    }
}

/// Where one of the two wholes of a job is.
pub fn whole_key(id: u32, slot: usize) -> String {
    format!("{JOBS}{id}/{slot}")
}

/// Where the two marks of a whole are.
pub fn marks_of(id: u32, slot: usize) -> String {
    format!("{MARKS}{id}/{slot}/")
}
