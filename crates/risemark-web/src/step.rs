//! One step of the user as it is kept: what it changed in the text of the job's file.
//!
//! A difference of texts is small, is the same whatever was changed, and needs no reader of its own.

/// What one step changed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Step {
    /// The step in a few words.
    pub name: String,
    /// Where the change begins, in bytes.
    pub at: usize,
    /// What stood there before.
    pub old: String,
    /// What stands there afterwards.
    pub new: String,
}

impl Step {
    /// The step from one text to another; `None` where both are the same.
    pub fn between(name: String, before: &str, after: &str) -> Option<Self> {
        if before == after {
            return None;
        }
        let pairs = before.bytes().zip(after.bytes());
        let mut at = pairs.take_while(|(old, new)| old == new).count();
        while !(before.is_char_boundary(at) && after.is_char_boundary(at)) {
            at -= 1;
        }
        let (old, new) = (&before[at..], &after[at..]);
        let pairs = old.bytes().rev().zip(new.bytes().rev());
        let mut same = pairs.take_while(|(old, new)| old == new).count();
        while !(old.is_char_boundary(old.len() - same) && new.is_char_boundary(new.len() - same)) {
            same -= 1;
        }
        let (old, new) = (&old[..old.len() - same], &new[..new.len() - same]);
        Some(Self { name, at, old: old.to_owned(), new: new.to_owned() })
    }

    /// Takes the step back in a text, and says whether it fits there; where it does not, nothing changes.
    #[must_use]
    pub fn undo(&self, text: &mut String) -> bool {
        exchange(text, self.at, &self.new, &self.old)
    }

    /// The step that takes this one back, without a name.
    pub fn reversed(&self) -> Self {
        Self { name: String::new(), at: self.at, old: self.new.clone(), new: self.old.clone() }
    }

    /// Does the step again, as [`Self::undo`].
    #[must_use]
    pub fn redo(&self, text: &mut String) -> bool {
        exchange(text, self.at, &self.old, &self.new)
    }
}

fn exchange(text: &mut String, at: usize, old: &str, new: &str) -> bool {
    let fits = text.get(at..).is_some_and(|rest| rest.starts_with(old));
    if fits {
        text.replace_range(at..at + old.len(), new);
    }
    fits
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_step_leads_to_the_other_text_and_back() {
        let texts = ["", "a", "ab", "aab", "wall: 12", "wall: 112", "Süd", "Sud", "Söd", "ü", "ö"];
        for before in texts {
            for after in texts {
                let Some(step) = Step::between(String::new(), before, after) else {
                    assert_eq!(before, after, "only a text and itself differ by nothing");
                    continue;
                };
                let mut text = before.to_owned();
                assert!(step.redo(&mut text), "{step:?} fits “{before}”");
                assert_eq!(text, after, "{step:?}");
                assert!(step.undo(&mut text), "{step:?} fits “{after}”");
                assert_eq!(text, before, "{step:?}");
                assert!(step.redo(&mut text) && step.reversed().redo(&mut text), "{step:?}");
                assert_eq!(text, before, "{step:?} and its reverse");
            }
        }
    }

    #[test]
    fn a_step_holds_what_differs_and_no_more() {
        let step = Step::between("width".to_owned(), "width: 4876.8,", "width: 3657.6,");
        let [at, old, new] = [7, 6, 6];
        let step = step.expect("the texts differ");
        assert_eq!([step.at, step.old.len(), step.new.len()], [at, old, new], "{step:?}");
    }

    #[test]
    fn a_step_that_does_not_fit_changes_nothing() {
        let step = Step::between(String::new(), "one", "two").expect("the texts differ");
        for elsewhere in ["", "o", "three", "ü"] {
            let mut text = elsewhere.to_owned();
            assert!(!step.redo(&mut text), "{elsewhere}");
            assert_eq!(text, elsewhere, "as it was");
        }
    }
}
