//! Takes what was measured, or assumes the default and remembers that it did.

use crate::{
    framing::{Assumed, AssumedValue},
    job::Lumber,
    language::Text,
    limits::{self, Bounds, Limit, Origin},
    quantity::{Length, to_whole},
};

/// Collects what had to be assumed.
#[derive(Debug)]
pub(super) struct Measured {
    pub(super) assumed: Vec<Assumed>,
    lumber: Option<Lumber>,
}

impl Measured {
    /// Nothing is assumed yet; the sizes of the wall's lumber come before the defaults.
    pub(super) fn of(lumber: Option<Lumber>) -> Self {
        Self { assumed: Vec::new(), lumber }
    }

    /// The measured length, or the size of the lumber, or the default of the table.
    pub(super) fn length(&mut self, measured: Option<Length>, limit: &Limit) -> Length {
        let assumed = limits::assumption(limit, self.lumber).unwrap_or((limit.min, limit.origin));
        self.length_or_assumed(measured, limit, assumed)
    }

    /// The measured length, or a default that depends on something else.
    pub(super) fn length_or(
        &mut self,
        measured: Option<Length>,
        limit: &Limit,
        default: Length,
    ) -> Length {
        self.length_or_assumed(measured, limit, (default, limit.origin))
    }

    fn length_or_assumed(
        &mut self,
        measured: Option<Length>,
        limit: &Limit,
        (default, origin): (Length, Origin),
    ) -> Length {
        measured.unwrap_or_else(|| {
            self.note(limit.name, AssumedValue::Length(default), origin);
            default
        })
    }

    /// The counted number, or the default of the table.
    pub(super) fn count(&mut self, counted: Option<u8>, bounds: &Bounds) -> u8 {
        counted.unwrap_or_else(|| {
            let default = u8::try_from(to_whole(bounds.default)).unwrap_or(0);
            self.note(bounds.name, AssumedValue::Count(default), bounds.origin);
            default
        })
    }

    fn note(&mut self, what: Text, value: AssumedValue, origin: Origin) {
        let assumed = Assumed { what, value, origin };
        // Ten windows with one assumed header are one thing to verify.
        if !self.assumed.contains(&assumed) {
            self.assumed.push(assumed);
        }
    }
}
