//! Every word on the screen that is not the domain's, in every language.
//!
//! The language belongs to the device and not to a job. It is kept here and not in the session, so
//! that every word finds it; whoever changes it draws the app anew, see [`crate::session`].

mod choices;
mod entries;
mod said;
mod steps;
mod texts;

use std::cell::Cell;

use risemark::{
    language::{Language, Speech, Text},
    quantity::Units,
};

pub use choices::*;
pub use entries::*;
pub use said::*;
pub use steps::step;
pub use texts::*;

/// A text that is read in the language of this screen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Word(Text);

/// A choice and its word.
pub type Choices<T> = &'static [(T, Word)];

thread_local! {
    static SPOKEN: Cell<Language> = const { Cell::new(Language::English) };
}

impl Word {
    /// A word in every language.
    pub const fn new(text: Text) -> Self {
        Self(text)
    }

    /// What the page itself calls it, whatever the language of this screen.
    pub fn id(self) -> &'static str {
        self.0.english
    }

    /// The word in the language of this screen.
    pub fn text(self) -> &'static str {
        self.0.of(language())
    }
}

/// The language of this screen.
pub fn language() -> Language {
    SPOKEN.get()
}

/// Changes the language of this screen; what was drawn stays as it was.
pub fn set_language(language: Language) {
    SPOKEN.set(language);
}

/// How the people at this screen are spoken to.
pub fn speech(units: Units) -> Speech {
    Speech { units, language: language() }
}

/// The word of a choice.
pub fn word_of<T: PartialEq>(choices: Choices<T>, value: &T) -> &'static str {
    choices.iter().find(|(choice, _)| choice == value).map_or("", |(_, word)| word.text())
}

fn capital(text: &str) -> String {
    let mut capital = text.to_owned();
    // No word of a list begins with a letter beyond ASCII.
    if let Some(first) = capital.get_mut(..1) {
        first.make_ascii_uppercase();
    }
    capital
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_text_is_there_in_every_language() {
        assert!(200 < ALL.len(), "the texts are listed");
        for Word(text) in ALL {
            for language in Language::ALL {
                assert!(!text.of(language).trim().is_empty(), "{text:?}");
            }
        }
    }

    #[test]
    fn the_screen_speaks_the_language_that_was_set() {
        assert_eq!(SHEETS.text(), "Sheets", "at first");
        set_language(Language::Spanish);
        assert_eq!(SHEETS.text(), "Hojas", "a label");
        assert_eq!(holes_and_lines(1, 2), "1 agujero en 2 líneas", "one and several");
        assert_eq!(speech(Units::Metric).language, Language::Spanish, "the planner's sentences");
        set_language(Language::English);
        assert_eq!(holes_and_lines(1, 2), "1 hole on 2 lines", "back again");
    }
}
