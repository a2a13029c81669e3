//! The languages the program speaks, and how a text stands in each of them.
//!
//! A text without figures is a [`Text`], a sentence with figures is made by [`say!`](crate::say).
//! Both put the languages side by side, so that none can be forgotten.
//! Readings of the tape, the decimal point, and the names of files and their fields are the same in
//! every language. What a speaker should look over is marked `unsure` beside the text.

use crate::quantity::Units;

/// A language the program speaks.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Language {
    /// English, as it is spoken on sites in the United States.
    #[default]
    English,
    /// Spanish, as crews in North America speak it.
    Spanish,
}

/// A text in every language.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Text {
    /// In English.
    pub english: &'static str,
    /// In Spanish.
    pub spanish: &'static str,
}

/// How somebody is spoken to: in which language, with lengths in which units.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Speech {
    /// How lengths are shown.
    pub units: Units,
    /// In which words.
    pub language: Language,
}

/// A sentence with figures, in the language asked for: English first, then Spanish.
///
/// Takes what [`format!`] takes behind the two texts; both must use all of it.
///
/// ```
/// use risemark::{language::Language, say};
///
/// let n_holes = 28;
/// let said = say!(Language::Spanish, "{n_holes} holes", "{n_holes} agujeros");
/// assert_eq!(said, "28 agujeros");
/// ```
#[macro_export]
macro_rules! say {
    ($language:expr, $english:literal, $spanish:literal $(, $value:expr)* $(,)?) => {
        match $language {
            $crate::language::Language::English => ::std::format!($english $(, $value)*),
            $crate::language::Language::Spanish => ::std::format!($spanish $(, $value)*),
        }
    };
}

/// A text in English and in Spanish.
pub const fn text(english: &'static str, spanish: &'static str) -> Text {
    Text { english, spanish }
}

/// A text that is the same in every language, such as the number of a section.
pub const fn alike(text: &'static str) -> Text {
    Text { english: text, spanish: text }
}

/// So many of a thing: `1 hole`, `28 holes`.
pub fn counted(count: usize, [one, many]: [Text; 2], language: Language) -> String {
    let what = if count == 1 { one } else { many };
    format!("{count} {}", what.of(language))
}

impl Language {
    /// Every language, the first the one to fall back on.
    pub const ALL: [Self; 2] = [Self::English, Self::Spanish];

    /// The language of a tag such as `es-MX`; `None` for one that is not spoken here.
    pub fn of_tag(tag: &str) -> Option<Self> {
        let primary = tag.split(['-', '_']).next().unwrap_or_default();
        Self::ALL.into_iter().find(|language| primary.eq_ignore_ascii_case(language.code()))
    }

    /// Its code in tags, of two letters.
    pub fn code(self) -> &'static str {
        match self {
            Self::English => "en",
            Self::Spanish => "es",
        }
    }
}

impl Text {
    /// The text in a language.
    pub const fn of(self, language: Language) -> &'static str {
        match language {
            Language::English => self.english,
            Language::Spanish => self.spanish,
        }
    }
}

impl Speech {
    /// English, with lengths in the units of a job, as files and the command line have it.
    pub const fn english(units: Units) -> Self {
        Self { units, language: Language::English }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_first_part_of_a_tag_is_the_language() {
        for tag in ["es", "es-MX", "ES-419", "es_US"] {
            assert_eq!(Language::of_tag(tag), Some(Language::Spanish), "{tag}");
        }
        assert_eq!(Language::of_tag("en-US"), Some(Language::English), "English");
        for tag in ["", "de", "est", "e"] {
            assert_eq!(Language::of_tag(tag), None, "{tag}");
        }
    }
}
