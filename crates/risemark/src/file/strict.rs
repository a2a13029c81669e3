//! Compares a file with the form it must have and says everything that does not fit, each with its place.

use std::{borrow::Cow, collections::BTreeSet};

use crate::{
    file::{
        form::{self, At, Form},
        tree::Tree,
    },
    finding::{Content, Counted, Finding, Noun, Part, Place, Problem, WallRef},
    language::{Text, text},
    limits,
    quantity::millimeters,
};

/// Everything in a file that does not fit the schema of the job file.
pub(super) fn compare(tree: &Tree<'_>) -> Vec<Finding> {
    let mut comparison = Comparison::default();
    comparison.value(form::whole(), tree, &Way::Start);
    let Comparison { mut findings, n_more } = comparison;
    if 0 < n_more {
        findings.push(Finding::new(Place::default(), Problem::More { count: n_more }));
    }
    findings
}

/// More findings than these help nobody to mend a file; the others are only counted.
const MOST_FINDINGS: usize = 200;

/// Lists of a wall whose entries have numbers of their own, with what one entry is.
const ENTRIES: &[(&str, Noun)] = &[
    ("openings", Noun::Opening),
    ("blocks", Noun::Block),
    ("braces", Noun::Brace),
    ("things", Noun::Thing),
    ("zones", Noun::Zone),
    ("bays", Noun::Bay),
    ("corrections", Noun::StudCorrection),
    ("extra", Noun::ExtraStud),
    ("holes", Noun::Hole),
    ("probed", Noun::Probe),
    ("liked", Noun::Liked),
    ("barred", Noun::Band),
    ("centres", Noun::MeasuredStud),
    ("test_shots", Noun::TestShot),
];

/// What a number is called that has no name in the table of limits.
const NUMBER: Text = text("number", "número");

#[derive(Default)]
struct Comparison {
    findings: Vec<Finding>,
    /// How many findings there are besides.
    n_more: usize,
}

/// The way from the whole file to a value. Most values have nothing wrong with them, so that only
/// a finding turns its way into a place.
#[derive(Clone, Copy)]
enum Way<'a> {
    Start,
    Field(&'a Self, &'a str),
    Entry(&'a Self, usize, &'a Tree<'a>),
}

impl Way<'_> {
    fn place(&self) -> Place {
        match self {
            Self::Start => Place::default(),
            Self::Field(way, name) => inside(way.place(), name),
            Self::Entry(way, idx, item) => numbered(way.place(), *idx, item),
        }
    }
}

impl Comparison {
    fn say(&mut self, way: &Way<'_>, problem: Problem) {
        if self.findings.len() < MOST_FINDINGS {
            self.findings.push(Finding::new(way.place(), problem));
        } else {
            self.n_more += 1;
        }
    }

    fn value(&mut self, asked: At, tree: &Tree<'_>, way: &Way<'_>) {
        match (asked.form(), tree) {
            (Form::Object { fields, required }, Tree::Object(found)) => {
                self.object((fields, required), found, way);
            }
            (Form::List { size, entry }, Tree::List(items)) => {
                self.list(*size, *entry, items, way);
            }
            (Form::Number { is_whole, .. }, Tree::Number(value))
                if !is_whole || value.fract().abs() <= f64::EPSILON =>
            {
                self.number(asked, *value, way);
            }
            (Form::Text, Tree::Text(_)) => {}
            (Form::Word(words), _) => self.word(words, tree, way),
            (Form::Constant(wanted), _) => self.constant(wanted, tree, way),
            (Form::Tagged { key, choices }, _) => self.choice((key, choices), tree, way),
            (form, _) => {
                let expected = match form {
                    Form::Object { .. } => Content::Object,
                    Form::List { .. } => Content::List,
                    Form::Number { is_whole: false, .. } => Content::Number,
                    Form::Number { is_whole: true, .. } => Content::WholeNumber,
                    Form::Text => Content::Text,
                    _ => Content::Nothing,
                };
                self.unexpected(tree, expected, way);
            }
        }
    }

    fn object(
        &mut self,
        (known, required): (&[(&str, At)], &[usize]),
        fields: &[(Cow<'_, str>, Tree<'_>)],
        way: &Way<'_>,
    ) {
        let mut has = vec![false; known.len()];
        let mut others = BTreeSet::new();
        // Fields mostly come in their order.
        let mut next = 0;
        for (name, value) in fields {
            let position = position(known, name, next);
            let is_repeated = match position {
                Some(position) => std::mem::replace(&mut has[position], true),
                None => !others.insert(name.as_ref()),
            };
            if is_repeated {
                self.say(way, Problem::RepeatedField { name: name.to_string() });
                continue;
            }
            let Some(position) = position else {
                self.unknown(known, name, way);
                continue;
            };
            next = position + 1;
            self.value(known[position].1, value, &Way::Field(way, name));
        }
        for (name, _) in required.iter().filter(|idx| !has[**idx]).map(|idx| known[*idx]) {
            self.say(way, Problem::MissingField { name: name.to_owned() });
        }
    }

    fn unknown(&mut self, known: &[(&str, At)], name: &str, way: &Way<'_>) {
        if MOST_FINDINGS <= self.findings.len() {
            self.n_more += 1;
            return;
        }
        let expected = list_of(known.iter().map(|(name, _)| *name));
        self.say(way, Problem::UnknownField { found: name.chars().take(40).collect(), expected });
    }

    fn list(&mut self, size: Option<usize>, entry: Option<At>, items: &[Tree<'_>], way: &Way<'_>) {
        if let Some(wanted) = size.filter(|wanted| *wanted != items.len()) {
            self.say(
                way,
                Problem::Unexpected {
                    found: Content::ListOf(items.len()),
                    expected: Content::ListOf(wanted),
                },
            );
            return;
        }
        if limits::MEMBERS < items.len() {
            self.say(
                way,
                Problem::TooMany {
                    what: Counted::Entries,
                    found: items.len(),
                    most: limits::MEMBERS,
                },
            );
            return;
        }
        let Some(entry) = entry else { return };
        for (idx, item) in items.iter().enumerate() {
            self.value(entry, item, &Way::Entry(way, idx, item));
        }
    }

    fn number(&mut self, asked: At, value: f64, way: &Way<'_>) {
        let Form::Number { min, max, title, .. } = *asked.form() else { return };
        if min <= value && value <= max {
            return;
        }
        self.say(
            way,
            match limits::length(title) {
                Some(limit) => Problem::LengthOutOfRange {
                    name: limit.name,
                    found: millimeters(value),
                    min: limit.min,
                    max: limit.max,
                },
                None => {
                    let name = limits::bounds(title).map_or(NUMBER, |bounds| bounds.name);
                    Problem::NumberOutOfRange { name, found: value, min, max }
                }
            },
        );
    }

    /// One of several objects told apart by a word.
    fn choice(&mut self, (key, choices): (&str, &[(&str, At)]), tree: &Tree<'_>, way: &Way<'_>) {
        if !matches!(tree, Tree::Object(_)) {
            self.unexpected(tree, Content::ObjectWith(key.to_owned()), way);
            return;
        }
        let Some(word) = tree.field(key) else {
            self.say(way, Problem::MissingField { name: key.to_owned() });
            return;
        };
        let chosen = choices.iter().find(|(name, _)| word.text() == Some(*name));
        match chosen {
            Some((_, asked)) => self.value(*asked, tree, way),
            None => self.unexpected(
                word,
                Content::Written(list_of(choices.iter().map(|(name, _)| *name))),
                &Way::Field(way, key),
            ),
        }
    }

    fn constant(&mut self, wanted: &Tree<'_>, tree: &Tree<'_>, way: &Way<'_>) {
        let same = match (wanted, tree) {
            (Tree::Text(wanted), Tree::Text(found)) => wanted == found,
            (Tree::Number(wanted), Tree::Number(found)) => (wanted - found).abs() <= f64::EPSILON,
            _ => false,
        };
        if !same {
            self.unexpected(tree, Content::Written(written(wanted)), way);
        }
    }

    fn word(&mut self, words: &[&str], tree: &Tree<'_>, way: &Way<'_>) {
        let known = tree.text().is_some_and(|found| words.contains(&found));
        if !known {
            self.unexpected(tree, Content::Written(list_of(words.iter().copied())), way);
        }
    }

    fn unexpected(&mut self, tree: &Tree<'_>, expected: Content, way: &Way<'_>) {
        self.say(way, Problem::Unexpected { found: tree.content(), expected });
    }
}

/// The position of a field among those that are known, looked for from where it is likely.
fn position(known: &[(&str, At)], name: &str, likely: usize) -> Option<usize> {
    let (before, behind) = known.split_at(likely.min(known.len()));
    let in_part = |part: &[(&str, At)]| part.iter().position(|(field, _)| *field == name);
    in_part(behind).map(|idx| before.len() + idx).or_else(|| in_part(before))
}

/// A word or a number as a file has it.
fn written(constant: &Tree<'_>) -> String {
    match constant {
        Tree::Text(word) => format!("\"{word}\""),
        Tree::Number(value) => value.to_string(),
        _ => String::new(),
    }
}

fn list_of<'a>(words: impl Iterator<Item = &'a str>) -> String {
    words.collect::<Vec<_>>().join(", ")
}

fn inside(place: Place, name: &str) -> Place {
    // The envelope is no place of the job, and lists are named by their entries.
    if name == "job" && place.wall.is_none() && place.field.is_none() {
        return place;
    }
    let field =
        place.field.as_ref().map_or_else(|| name.to_owned(), |outer| format!("{outer}.{name}"));
    Place { field: Some(field), ..place }
}

fn numbered(place: Place, idx: usize, item: &Tree<'_>) -> Place {
    let text = |name| match item.field(name) {
        Some(Tree::Text(text)) => text.chars().take(limits::TEXT).collect(),
        _ => String::new(),
    };
    let list =
        place.field.as_deref().and_then(|field| field.rsplit('.').next()).unwrap_or_default();
    if list == "walls" && place.wall.is_none() {
        let wall = WallRef { number: idx + 1, id: text("id"), name: text("name") };
        return Place { wall: Some(wall), part: Part::Whole, field: None };
    }
    match ENTRIES.iter().find(|(name, _)| *name == list) {
        Some((_, noun)) => {
            Place { part: Part::Entry { noun: *noun, number: idx + 1 }, field: None, ..place }
        }
        None => {
            let field = place.field.as_ref().map(|field| format!("{field}[{}]", idx + 1));
            Place { field, ..place }
        }
    }
}
