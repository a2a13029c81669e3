//! How a job and its steps are written down: a line that says what it is, and the text behind it.
//!
//! Each record bears the version of its form, so that an older app leaves a newer one's alone, and a
//! sum over what follows, so that damage is seen.

use std::{cmp::Ordering, str::FromStr};

use crate::step::Step;

/// The version of the form that is written.
pub const VERSION: u32 = 1;

/// Why a record cannot be used.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unreadable {
    /// A newer version of the app wrote it.
    Newer,
    /// It is not what was written.
    Damaged,
}

/// A job as it is kept: its file, and what the list of jobs needs.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Head {
    /// Counts what was written of this job.
    pub edition: u64,
    /// How many of the steps are done.
    pub n_done: usize,
    /// When the job was used last, in milliseconds since 1970.
    pub used: u64,
    /// Whether the job was removed from the list.
    pub removed: bool,
    /// What the job is called.
    pub name: String,
    /// The job's file.
    pub text: String,
}

impl Head {
    /// The record of the job.
    pub fn write(&self) -> String {
        let Self { edition, n_done, used, removed, name, text } = self;
        let removed = u8::from(*removed);
        sealed("job", &format!("{edition} {n_done} {used} {removed} {}\n{text}", one_line(name)))
    }

    /// Reads the record of a job.
    ///
    /// # Errors
    /// When the record is not of this version, or not as it was written.
    pub fn read(record: &str) -> Result<Self, Unreadable> {
        let (line, text) = opened("job", record)?;
        let mut words = line.splitn(5, ' ');
        Ok(Self {
            edition: number(words.next())?,
            n_done: number(words.next())?,
            used: number(words.next())?,
            removed: number::<u8>(words.next())? != 0,
            name: words.next().unwrap_or_default().to_owned(),
            text: text.to_owned(),
        })
    }
}

/// The record of a step.
pub fn write_step(Step { name, at, old, new }: &Step) -> String {
    sealed("step", &format!("{at} {} {}\n{old}{new}", old.len(), one_line(name)))
}

/// Reads the record of a step.
///
/// # Errors
/// When the record is not of this version, or not as it was written.
pub fn read_step(record: &str) -> Result<Step, Unreadable> {
    let (line, text) = opened("step", record)?;
    let mut words = line.splitn(3, ' ');
    let at = number(words.next())?;
    let (old, new) = text.split_at_checked(number(words.next())?).ok_or(Unreadable::Damaged)?;
    let name = words.next().unwrap_or_default().to_owned();
    Ok(Step { name, at, old: old.to_owned(), new: new.to_owned() })
}

fn sealed(kind: &str, content: &str) -> String {
    format!("{kind} {VERSION} {} {content}", sum(content))
}

/// The first line behind the seal, and everything behind that line.
fn opened<'a>(kind: &str, record: &'a str) -> Result<(&'a str, &'a str), Unreadable> {
    let mut words = record.splitn(4, ' ');
    if words.next() != Some(kind) {
        return Err(Unreadable::Damaged);
    }
    match number::<u32>(words.next())?.cmp(&VERSION) {
        Ordering::Greater => return Err(Unreadable::Newer),
        // There is no form before this one.
        Ordering::Less => return Err(Unreadable::Damaged),
        Ordering::Equal => {}
    }
    let wanted: u32 = number(words.next())?;
    let content = words.next().filter(|content| sum(content) == wanted);
    content.and_then(|content| content.split_once('\n')).ok_or(Unreadable::Damaged)
}

fn number<T: FromStr>(word: Option<&str>) -> Result<T, Unreadable> {
    word.and_then(|word| word.parse().ok()).ok_or(Unreadable::Damaged)
}

fn one_line(name: &str) -> String {
    name.replace('\n', " ")
}

/// The 32-bit sum of Fowler, Noll and Vo, variant 1a.
fn sum(text: &str) -> u32 {
    text.bytes().fold(0x811c_9dc5, |sum, byte| (sum ^ u32::from(byte)).wrapping_mul(0x0100_0193))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn head() -> Head {
        let (name, text) = ("Old post office, Süd".to_owned(), "{\n  \"job\": 1\n}\n".to_owned());
        Head { edition: 7, n_done: 3, used: 1_700_000_000_000, removed: true, name, text }
    }

    fn step() -> Step {
        let (name, old, new) =
            ("width of Street wall".to_owned(), "ü\n1".to_owned(), String::new());
        Step { name, at: 12, old, new }
    }

    #[test]
    fn what_is_written_is_read() {
        assert_eq!(Head::read(&head().write()), Ok(head()), "a job");
        assert_eq!(read_step(&write_step(&step())), Ok(step()), "a step");
    }

    #[test]
    fn the_sum_is_the_published_one() {
        // The test values of draft-eastlake-fnv, appendix C.
        assert_eq!(
            [sum(""), sum("a"), sum("foobar")],
            [0x811c_9dc5, 0xe40c_292c, 0xbf9c_f968],
            "sums"
        );
    }

    #[test]
    fn any_damage_is_seen() {
        for (record, read) in [
            (head().write(), (|text| Head::read(text).err()) as fn(&str) -> Option<Unreadable>),
            (write_step(&step()), |text| read_step(text).err()),
        ] {
            for (at, sign) in record.char_indices() {
                let cut = &record[..at];
                assert_eq!(read(cut), Some(Unreadable::Damaged), "cut off: {cut}");
                let mut other = record.clone();
                other.replace_range(at..at + sign.len_utf8(), if sign == '0' { "1" } else { "0" });
                assert!(read(&other).is_some(), "another sign at {at}: {other}");
            }
        }
    }

    #[test]
    fn what_a_newer_version_wrote_is_left_alone() {
        let newer = head().write().replacen("job 1 ", "job 2 ", 1);
        assert_eq!(Head::read(&newer), Err(Unreadable::Newer), "a version later");
        assert_eq!(read_step("step 2 something else"), Err(Unreadable::Newer), "a version later");
    }
}
