//! Takes what was measured, or assumes the default and remembers that it did.

use crate::{
    framing::{Assumed, AssumedValue},
    limits::{Bounds, Limit},
    quantity::{Length, to_whole},
};

/// Collects what had to be assumed.
#[derive(Debug, Default)]
pub(super) struct Measured {
    pub(super) assumed: Vec<Assumed>,
}

impl Measured {
    /// The measured length, or the default of the table.
    pub(super) fn length(&mut self, measured: Option<Length>, limit: &Limit) -> Length {
        self.length_or(measured, limit, limit.default.unwrap_or(limit.min))
    }

    /// The measured length, or a default that depends on something else.
    pub(super) fn length_or(
        &mut self,
        measured: Option<Length>,
        limit: &Limit,
        default: Length,
    ) -> Length {
        measured.unwrap_or_else(|| {
            self.note(limit.name, AssumedValue::Length(default), limit.origin);
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

    fn note(&mut self, what: &str, value: AssumedValue, origin: crate::limits::Origin) {
        let assumed = Assumed { what: what.to_owned(), value, origin };
        // Ten windows with one assumed header are one thing to verify.
        if !self.assumed.contains(&assumed) {
            self.assumed.push(assumed);
        }
    }
}
