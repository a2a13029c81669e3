//! How a job and its steps are written down: a line that says what it is, and the text behind it.
//!
//! Each record bears the version of its form, so that an older app leaves a newer one's alone, and a
//! sum over what follows, so that damage is seen.

use std::str::FromStr;

use crate::step::Step;

/// The version of the form that is written: since the second there are marks.
pub const VERSION: u32 = 2;

/// The first version, of which jobs and steps are written as they are now.
const FIRST: u32 = 1;

/// Why a record cannot be used.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unreadable {
    /// A newer version of the app wrote it.
    Newer,
    /// It is not what was written.
    Damaged,
}

/// What is known of a job beside its file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct State {
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
}

/// A job as it is kept as a whole.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Whole {
    /// What the list of jobs needs.
    pub state: State,
    /// The job's file.
    pub text: String,
}

/// What has become of a job since it was kept as a whole.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Mark {
    /// What the list of jobs needs.
    pub state: State,
    /// The edition of the whole.
    pub base: u64,
    /// What changed in its text, in order; the steps of the user bear names, these do not.
    pub trail: Vec<Step>,
}

impl State {
    fn line(&self) -> String {
        let Self { edition, n_done, used, removed, name } = self;
        format!("{edition} {n_done} {used} {} {}", u8::from(*removed), name.replace('\n', " "))
    }

    fn read(line: &str) -> Result<Self, Unreadable> {
        let mut words = line.splitn(5, ' ');
        Ok(Self {
            edition: number(words.next())?,
            n_done: number(words.next())?,
            used: number(words.next())?,
            removed: number::<u8>(words.next())? != 0,
            name: words.next().unwrap_or_default().to_owned(),
        })
    }
}

impl Whole {
    /// The record of the job.
    pub fn write(&self) -> String {
        sealed("job", &format!("{}\n{}", self.state.line(), self.text))
    }

    /// Reads the record of a job.
    ///
    /// # Errors
    /// When the record is of a later version, or not as it was written.
    pub fn read(record: &str) -> Result<Self, Unreadable> {
        let (line, text) = opened("job", record)?;
        Ok(Self { state: State::read(line)?, text: text.to_owned() })
    }

    /// Whether marks may lead on from a record: an app that knows none would take it for all there is.
    pub fn bears_marks(record: &str) -> bool {
        version("job", record) == Ok(VERSION)
    }
}

impl Mark {
    /// The record of the mark.
    pub fn write(&self) -> String {
        let mut content = format!("{}\n{}\n", self.state.line(), self.base);
        for Step { at, old, new, .. } in &self.trail {
            content.push_str(&format!("{at} {} {}\n{old}{new}", old.len(), new.len()));
        }
        sealed("mark", &content)
    }

    /// Reads the record of a mark.
    ///
    /// # Errors
    /// When the record is of a later version, or not as it was written.
    pub fn read(record: &str) -> Result<Self, Unreadable> {
        let (line, rest) = opened("mark", record)?;
        let (base, mut rest) = rest.split_once('\n').ok_or(Unreadable::Damaged)?;
        let mut trail = Vec::new();
        while !rest.is_empty() {
            let (line, texts) = rest.split_once('\n').ok_or(Unreadable::Damaged)?;
            let mut words = line.splitn(3, ' ');
            let at = number(words.next())?;
            let (old, texts) = split(texts, words.next())?;
            let (new, texts) = split(texts, words.next())?;
            trail.push(Step { name: String::new(), at, old, new });
            rest = texts;
        }
        Ok(Self { state: State::read(line)?, base: number(Some(base))?, trail })
    }
}

/// The record of a step.
pub fn write_step(Step { name, at, old, new }: &Step) -> String {
    let name = name.replace('\n', " ");
    sealed("step", &format!("{at} {} {name}\n{old}{new}", old.len()))
}

/// Reads the record of a step.
///
/// # Errors
/// When the record is not of this version, or not as it was written.
pub fn read_step(record: &str) -> Result<Step, Unreadable> {
    let (line, text) = opened("step", record)?;
    let mut words = line.splitn(3, ' ');
    let at = number(words.next())?;
    let (old, new) = split(text, words.next())?;
    let name = words.next().unwrap_or_default().to_owned();
    Ok(Step { name, at, old, new: new.to_owned() })
}

/// The first bytes of a text, as many as a word says, and the rest.
fn split<'a>(text: &'a str, n_bytes: Option<&str>) -> Result<(String, &'a str), Unreadable> {
    let (first, rest) = text.split_at_checked(number(n_bytes)?).ok_or(Unreadable::Damaged)?;
    Ok((first.to_owned(), rest))
}

fn sealed(kind: &str, content: &str) -> String {
    format!("{kind} {VERSION} {} {content}", sum(content))
}

/// The first line behind the seal, and everything behind that line.
fn opened<'a>(kind: &str, record: &'a str) -> Result<(&'a str, &'a str), Unreadable> {
    match version(kind, record)? {
        FIRST..=VERSION => {}
        0 => return Err(Unreadable::Damaged),
        _ => return Err(Unreadable::Newer),
    }
    let mut words = record.splitn(4, ' ').skip(2);
    let wanted: u32 = number(words.next())?;
    let content = words.next().filter(|content| sum(content) == wanted);
    content.and_then(|content| content.split_once('\n')).ok_or(Unreadable::Damaged)
}

/// The version of a record of some kind.
fn version(kind: &str, record: &str) -> Result<u32, Unreadable> {
    let mut words = record.splitn(3, ' ');
    if words.next() != Some(kind) {
        return Err(Unreadable::Damaged);
    }
    number(words.next())
}

fn number<T: FromStr>(word: Option<&str>) -> Result<T, Unreadable> {
    word.and_then(|word| word.parse().ok()).ok_or(Unreadable::Damaged)
}

/// The 32-bit sum of Fowler, Noll and Vo, variant 1a.
fn sum(text: &str) -> u32 {
    text.bytes().fold(0x811c_9dc5, |sum, byte| (sum ^ u32::from(byte)).wrapping_mul(0x0100_0193))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn state() -> State {
        let name = "Old post office, Süd".to_owned();
        State { edition: 7, n_done: 3, used: 1_700_000_000_000, removed: true, name }
    }

    fn whole() -> Whole {
        Whole { state: state(), text: "{\n  \"job\": 1\n}\n".to_owned() }
    }

    fn mark() -> Mark {
        let more =
            Step { name: String::new(), at: 3, old: "{\n".to_owned(), new: "€".to_owned() };
        Mark { state: state(), base: 4, trail: vec![Step { name: String::new(), ..step() }, more] }
    }

    fn step() -> Step {
        let (name, old, new) =
            ("width of Street wall".to_owned(), "ü\n1".to_owned(), String::new());
        Step { name, at: 12, old, new }
    }

    #[test]
    fn what_is_written_is_read() {
        assert_eq!(Whole::read(&whole().write()), Ok(whole()), "a job");
        assert_eq!(Mark::read(&mark().write()), Ok(mark()), "a mark");
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
            (whole().write(), (|text| Whole::read(text).err()) as fn(&str) -> Option<Unreadable>),
            (mark().write(), |text| Mark::read(text).err()),
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
        let newer = whole().write().replacen("job 2 ", "job 3 ", 1);
        assert_eq!(Whole::read(&newer), Err(Unreadable::Newer), "a version later");
        assert_eq!(read_step("step 3 something else"), Err(Unreadable::Newer), "a version later");
    }

    #[test]
    fn what_the_first_version_wrote_is_read() {
        let (first, now) = (whole().write().replacen("job 2 ", "job 1 ", 1), whole().write());
        assert_eq!(Whole::read(&first), Ok(whole()), "a job");
        assert!(!Whole::bears_marks(&first), "an older app would not see its marks");
        assert!(Whole::bears_marks(&now), "one that knows marks");
        let step_of_then = write_step(&step()).replacen("step 2 ", "step 1 ", 1);
        assert_eq!(read_step(&step_of_then), Ok(step()), "a step");
    }
}
