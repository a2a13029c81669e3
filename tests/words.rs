//! Both languages of every text: what a compiler does not see.

use std::{
    fs,
    path::{Path, PathBuf},
};

use risemark_tests::top;

/// The two texts of a sentence, and where they stand.
struct Pair {
    place: String,
    english: String,
    spanish: String,
}

fn sources(folder: &Path) -> Vec<PathBuf> {
    let entries = fs::read_dir(folder).expect("a folder of the sources is readable");
    let paths = entries.map(|entry| entry.expect("an entry of the sources").path());
    let mut found: Vec<PathBuf> = paths
        .flat_map(|path| if path.is_dir() { sources(&path) } else { vec![path] })
        .filter(|path| path.extension().is_some_and(|ending| ending == "rs"))
        .collect();
    found.sort();
    found
}

/// A literal at the start of a text, and what stands behind it.
fn literal(source: &str) -> Option<(String, &str)> {
    let inside = source.trim_start().strip_prefix('"')?;
    let mut escaped = false;
    let end = inside.find(|sign| {
        let ends = sign == '"' && !escaped;
        escaped = sign == '\\' && !escaped;
        ends
    })?;
    Some((inside[..end].to_owned(), &inside[end + 1..]))
}

/// The pairs of literals behind a word such as `say!(`, once its other arguments are skipped.
fn pairs(path: &Path, opening: &str, n_skipped: usize) -> Vec<Pair> {
    let source = fs::read_to_string(path).expect("a source file is readable");
    let calls = source.match_indices(opening).filter_map(|(at, _)| {
        let mut rest = &source[at + opening.len()..];
        for _ in 0..n_skipped {
            rest = rest.split_once(',')?.1;
        }
        let (english, rest) = literal(rest)?;
        let (spanish, _) = literal(rest.trim_start().strip_prefix(',')?)?;
        let line = source[..at].lines().count();
        Some(Pair { place: format!("{}:{line}", path.display()), english, spanish })
    });
    calls.collect()
}

fn all(opening: &str, n_skipped: usize) -> Vec<Pair> {
    let files = sources(&top().join("crates"));
    files.iter().flat_map(|path| pairs(path, opening, n_skipped)).collect()
}

/// What is filled in, in order of the names.
fn filled_in(text: &str) -> Vec<&str> {
    let mut names: Vec<&str> =
        text.split('{').skip(1).filter_map(|part| Some(part.split_once('}')?.0)).collect();
    names.sort_unstable();
    names
}

fn edges(text: &str) -> (bool, bool) {
    (text.starts_with(char::is_whitespace), text.ends_with(char::is_whitespace))
}

#[test]
fn sentences_fill_in_the_same_in_both_languages() {
    let sentences = all("say!(", 1);
    assert!(60 < sentences.len(), "the sentences are found: {}", sentences.len());
    for Pair { place, english, spanish } in sentences {
        assert_eq!(filled_in(&english), filled_in(&spanish), "{place}");
        assert_eq!(edges(&english), edges(&spanish), "{place}: joined to others alike");
        assert!(!spanish.is_empty(), "{place}");
    }
}

#[test]
fn no_text_is_missing_in_a_language() {
    let texts = all("text(", 0);
    assert!(120 < texts.len(), "the texts are found: {}", texts.len());
    for Pair { place, english, spanish } in texts {
        assert_eq!(edges(&english), edges(&spanish), "{place}: joined to others alike");
        assert_eq!(english.is_empty(), spanish.is_empty(), "{place}");
    }
}
