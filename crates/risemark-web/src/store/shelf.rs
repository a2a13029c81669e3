//! The jobs that are kept: what stands in the store, and what is written for each change.
//!
//! Each step has a record beside those of the job ([`super::kept`]). What cannot be read is set aside and
//! never thrown away.

use litemap::LiteMap;
use risemark::finding::Finding;

use super::{
    Change, Fault, Record, Store, clear_all,
    kept::{Found, JOBS, Kept, MARKS, whole_key},
    last,
    record::{self, Mark, State, Unreadable, Whole},
};
use crate::history::History;

/// Where records are that could not be read.
const DAMAGED: &str = "damaged/";

/// Reads the job of a file, as [`History::read`] does.
pub type Read = fn(String) -> Result<History, Vec<Finding>>;

/// The jobs that are kept.
#[derive(Debug, Clone, Default)]
pub struct Shelf {
    jobs: LiteMap<u32, Kept>,
    newer: Vec<Record>,
    damaged: Vec<Record>,
    gaps: usize,
}

impl Shelf {
    /// The jobs in a store, with what was set aside earlier.
    ///
    /// # Errors
    /// When the store cannot be read.
    pub async fn read(store: &dyn Store) -> Result<Self, Fault> {
        // Asked for at once, so that the browser answers all in one go.
        let (wholes, marks, damaged) = (store.read(JOBS), store.read(MARKS), store.read(DAMAGED));
        Ok(Self::new(wholes.await?, marks.await?, damaged.await?))
    }

    fn new(wholes: Vec<Record>, marks: Vec<Record>, damaged: Vec<Record>) -> Self {
        let mut shelf = Self { damaged, ..Self::default() };
        let mut found: LiteMap<u32, Found> = LiteMap::new();
        let with_form = |text: &str| Ok((Whole::read(text)?, Whole::bears_marks(text)));
        for record in wholes {
            if let Some((id, slot, whole)) = shelf.sound(record, with_form) {
                found.entry(id).or_default().wholes[slot] = Some(whole);
            }
        }
        for record in marks {
            if let Some((id, _, mark)) = shelf.sound(record, Mark::read) {
                found.entry(id).or_default().marks.push(mark);
            }
        }
        let newer = |id: &u32| shelf.newer.iter().any(|record| id_of(&record.key) == Some(*id));
        let jobs = found.into_iter().filter(|(id, _)| !newer(id));
        shelf.jobs = jobs.filter_map(|(id, found)| Some((id, found.kept()?))).collect();
        shelf
    }

    /// What is in a record of a job, with the job and which of two records it is.
    fn sound<T>(
        &mut self,
        record: Record,
        read: impl Fn(&str) -> Result<T, Unreadable>,
    ) -> Option<(u32, usize, T)> {
        match (id_of(&record.key).zip(slot_of(&record.key)), read(&record.text)) {
            (Some((id, slot)), Ok(content)) => return Some((id, slot, content)),
            (Some(_), Err(Unreadable::Newer)) => self.newer.push(record),
            _ => self.set_aside(record),
        }
        None
    }

    /// The jobs that are in the list or were removed from it, the one that was used last first.
    pub fn jobs(&self, removed: bool) -> Vec<(u32, String)> {
        let mut jobs: Vec<_> =
            self.jobs.iter().filter(|(_, kept)| kept.state.removed == removed).collect();
        risemark::order::sort_by_key(&mut jobs, |(_, kept)| std::cmp::Reverse(kept.state.used));
        jobs.into_iter().map(|(id, kept)| (*id, kept.state.name.clone())).collect()
    }

    /// The edition of a job that was written last, or is being written.
    pub fn edition(&self, id: u32) -> Option<u64> {
        self.jobs.get(&id).map(|kept| kept.state.edition)
    }

    /// The file of a job as it was kept last.
    pub fn text(&self, id: u32) -> Option<&str> {
        self.jobs.get(&id).map(|kept| kept.text.as_str())
    }

    /// The records that a newer version of the app wrote, or that this one cannot read.
    pub fn newer(&self) -> &[Record] {
        &self.newer
    }

    /// The records that are not as they were written.
    pub fn damaged(&self) -> &[Record] {
        &self.damaged
    }

    /// How many jobs were opened whose steps have a gap.
    pub fn gaps(&self) -> usize {
        self.gaps
    }

    /// An id that no job bears.
    pub fn free_id(&self) -> u32 {
        let aside = self.newer.iter().chain(&self.damaged).filter_map(|record| id_of(&record.key));
        self.jobs.keys().copied().chain(aside).max().map_or(1, |id| id + 1)
    }

    /// Takes a job with its steps from the shelf; `None` where this version cannot read it.
    pub fn open(&mut self, id: u32, steps: Vec<Record>, read: Read) -> Option<History> {
        let kept = self.jobs.get(&id)?;
        let n_done = kept.state.n_done;
        let Ok(history) = read(kept.text.clone()) else {
            let text = kept.text.clone();
            self.jobs.remove(&id);
            self.newer.push(Record { key: whole_key(id, 0), text });
            return None;
        };
        let mut known = Vec::new();
        for record in steps {
            let idx = record.key.rsplit('/').next().and_then(|idx| idx.parse().ok());
            match (idx, record::read_step(&record.text)) {
                (Some(idx), Ok(step)) if idx < limit(known.len()) => {
                    known.resize(idx, None);
                    known.push(Some(step));
                }
                _ => self.set_aside(record),
            }
        }
        let (history, whole) = history.with_steps(known, n_done);
        self.gaps += usize::from(!whole);
        Some(history)
    }

    /// The changes that keep a job as it is now, and its edition.
    ///
    /// The job's steps count as kept from now on; when writing fails, they have to be told otherwise.
    pub fn keep(&mut self, id: u32, history: &mut History, now: u64) -> (u64, Vec<Change>) {
        let steps = history.steps();
        let mut changes: Vec<Change> = self.damaged.iter().filter_map(aside).collect();
        changes.push(Change::Clear(step_key(id, steps.len()), last(&steps_of(id))));
        let unkept = steps.iter().enumerate().skip(history.n_kept());
        changes.extend(unkept.map(|(idx, step)| {
            Change::Put(Record { key: step_key(id, idx), text: record::write_step(step) })
        }));
        history.set_n_kept(steps.len());
        let edition = self.edition(id).map_or(1, |edition| edition + 1);
        let (n_done, name) = (history.n_done(), history.job().name.clone());
        let state = State { edition, n_done, used: now, removed: false, name };
        let known = self.jobs.remove(&id);
        let mut kept = Kept::after(known, state, history.text().to_owned(), history.take_changes());
        changes.extend(kept.put(id));
        self.jobs.insert(id, kept);
        (edition, changes)
    }

    /// Takes note that something could not be written, so that nobody knows what a mark would refer to.
    pub fn set_unwritten(&mut self) {
        self.jobs.iter_mut().for_each(|(_, kept)| kept.set_unwritten());
    }

    /// Takes note that the records that are not as they were written are set aside on the disk too.
    pub fn set_damaged_kept(&mut self) {
        for Record { key, .. } in &mut self.damaged {
            if !key.starts_with(DAMAGED) {
                key.insert_str(0, DAMAGED);
            }
        }
    }

    /// Takes a job out of the list or back into it.
    pub fn set_removed(&mut self, id: u32, removed: bool) -> Vec<Change> {
        let kept = self.jobs.get_mut(&id);
        let changes = kept.map(|kept| {
            kept.state.removed = removed;
            kept.state.edition += 1;
            kept.put(id)
        });
        changes.unwrap_or_default()
    }

    /// Forgets the jobs that were removed from the list.
    pub fn clear_removed(&mut self) -> Vec<Change> {
        let removed: Vec<u32> = self.jobs(true).into_iter().map(|(id, _)| id).collect();
        self.jobs.retain(|id, _| !removed.contains(id));
        removed.into_iter().flat_map(forget).collect()
    }

    /// Forgets the records that are not as they were written.
    pub fn clear_damaged(&mut self) -> Vec<Change> {
        let damaged = std::mem::take(&mut self.damaged);
        self.gaps = 0;
        let lost = damaged.iter().filter_map(|record| id_of(&record.key));
        let lost = lost.filter(|id| !self.jobs.contains_key(id)).flat_map(forget);
        lost.chain([clear_all(DAMAGED)]).collect()
    }

    fn set_aside(&mut self, record: Record) {
        let known = |known: &Record| known.key.ends_with(&record.key) && known.text == record.text;
        if !self.damaged.iter().any(known) {
            self.damaged.push(record);
        }
    }
}

/// Where the steps of a job are.
pub fn steps_of(id: u32) -> String {
    format!("step/{id}/")
}

fn step_key(id: u32, idx: usize) -> String {
    format!("step/{id}/{idx:08}")
}

fn forget(id: u32) -> [Change; 3] {
    let [wholes, marks] = [JOBS, MARKS].map(|kind| clear_all(&format!("{kind}{id}/")));
    [wholes, marks, clear_all(&steps_of(id))]
}

/// What sets a record aside that is not yet.
fn aside(Record { key, text }: &Record) -> Option<Change> {
    let put = || Change::Put(Record { key: format!("{DAMAGED}{key}"), text: text.clone() });
    (!key.starts_with(DAMAGED)).then(put)
}

/// The job that a record belongs to; it stands behind the kind of the record.
fn id_of(key: &str) -> Option<u32> {
    key.trim_start_matches(DAMAGED).split('/').nth(1)?.parse().ok()
}

/// Which of two records a record is.
fn slot_of(key: &str) -> Option<usize> {
    key.rsplit('/').next()?.parse().ok().filter(|slot| *slot < 2)
}

/// Keys with numbers far behind the others are none of ours, and would make long lists of nothing.
fn limit(n_known: usize) -> usize {
    n_known + 1000
}

#[cfg(test)]
mod tests;
