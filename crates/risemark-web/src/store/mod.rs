//! Where jobs are kept between two visits.
//!
//! | module | what it is |
//! |---|---|
//! | [`record`] | how a job and a step are written down |
//! | [`kept`] | one job on the disk: all of it, and what has changed since |
//! | [`shelf`] | the jobs that are kept, and what is written for each change |
//! | [`database`] | the only one that touches the browser's storage |
//! | [`turn`] | one tab at a time may write |
//! | [`keeper`] | keeps what the session does, and says whether it is kept |

pub mod database;
pub mod keeper;
pub mod kept;
pub mod record;
pub mod shelf;
pub mod turn;

use std::{cell::RefCell, fmt, future::Future, pin::Pin};

use litemap::LiteMap;

/// What a store answers, in time.
pub type Answer<T> = Pin<Box<dyn Future<Output = Result<T, Fault>>>>;

/// Records under keys, in the order of their keys.
pub trait Store: fmt::Debug {
    /// All records whose key begins with a prefix of plain ASCII.
    fn read(&self, prefix: &str) -> Answer<Vec<Record>>;

    /// Does all of the changes or none; afterwards they are on the disk.
    ///
    /// Changes take effect in the order in which they were asked for.
    fn write(&self, changes: Vec<Change>) -> Answer<()>;
}

/// A text under its key.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Record {
    /// Where it is kept.
    pub key: String,
    /// What is kept.
    pub text: String,
}

/// A change of a store.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Change {
    /// Puts a record in place, whether there was one or not.
    Put(Record),
    /// Takes out all records from a key on, up to and with another.
    Clear(String, String),
}

/// Why something is not kept.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fault {
    /// The browser gives no storage.
    Denied,
    /// There is no room left.
    Full,
    /// Another tab holds an older form of the storage.
    Blocked,
    /// A newer version of the app has taken the storage over.
    Closed,
    /// The browser failed to write.
    Failed,
}

/// Takes out all records whose key begins with a prefix.
pub fn clear_all(prefix: &str) -> Change {
    Change::Clear(prefix.to_owned(), last(prefix))
}

/// The last key that begins with a prefix.
pub fn last(prefix: &str) -> String {
    // No key holds a sign behind this one.
    format!("{prefix}~")
}

/// A store that lasts as long as the page, for browsers that give none.
#[derive(Debug, Default)]
pub struct Memory {
    records: RefCell<LiteMap<String, String>>,
}

impl Store for Memory {
    fn read(&self, prefix: &str) -> Answer<Vec<Record>> {
        let records = self.records.borrow();
        let found = records.iter().filter(|(key, _)| key.starts_with(prefix));
        let found = found.map(|(key, text)| Record { key: key.clone(), text: text.clone() });
        let found = found.collect();
        Box::pin(async { Ok(found) })
    }

    fn write(&self, changes: Vec<Change>) -> Answer<()> {
        let mut records = self.records.borrow_mut();
        for change in changes {
            match change {
                Change::Put(Record { key, text }) => drop(records.insert(key, text)),
                Change::Clear(from, to) => records.retain(|key, _| *key < from || to < *key),
            }
        }
        Box::pin(async { Ok(()) })
    }
}
