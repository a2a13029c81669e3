//! Compares a file with the schema and says everything that does not fit, each with its place.

use std::{collections::BTreeSet, sync::LazyLock};

use crate::{
    file::tree::Tree,
    finding::{Content, Counted, Finding, Noun, Part, Place, Problem, WallRef},
    language::{Text, text},
    limits,
    quantity::{self, millimeters},
};

/// The schema of the job file as it is published, less what only people read.
///
/// A test keeps it the same as the one made from the types; making it anew in the browser would
/// cost more than carrying the text.
const SCHEMA: &str = include_str!(concat!(env!("OUT_DIR"), "/job.schema.json"));

/// The same as values, made once: the app reads a job after every step.
static PARSED: LazyLock<Tree> =
    LazyLock::new(|| serde_json::from_str(SCHEMA).expect("the published schema is JSON"));

/// Everything in a file that does not fit the schema of the job file.
pub(super) fn compare(tree: &Tree) -> Vec<Finding> {
    let mut comparison = Comparison { root: &PARSED, findings: Vec::new(), n_more: 0 };
    comparison.value(&PARSED, tree, &Way::Start);
    let Comparison { mut findings, n_more, .. } = comparison;
    if 0 < n_more {
        findings.push(Finding::new(Place::default(), Problem::More { count: n_more }));
    }
    findings
}

/// More findings than these help nobody to mend a file; the others are only counted.
const MOST_FINDINGS: usize = 200;

/// No object of the format has more fields.
const FEW_FIELDS: usize = 64;

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

struct Comparison<'a> {
    root: &'a Tree,
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
    Entry(&'a Self, usize, &'a Tree),
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

impl<'a> Comparison<'a> {
    fn say(&mut self, way: &Way<'_>, problem: Problem) {
        if self.findings.len() < MOST_FINDINGS {
            self.findings.push(Finding::new(way.place(), problem));
        } else {
            self.n_more += 1;
        }
    }

    fn value(&mut self, schema: &'a Tree, tree: &Tree, way: &Way<'_>) {
        let schema = self.resolved(schema);
        if let Some(Tree::List(choices)) = schema.field("oneOf") {
            self.choice(choices, tree, way);
            return;
        }
        if let Some(wanted) = schema.field("const") {
            self.constant(wanted, tree, way);
            return;
        }
        if let Some(Tree::List(words)) = schema.field("enum") {
            self.word(&words.iter().filter_map(Tree::text).collect::<Vec<_>>(), tree, way);
            return;
        }
        match (schema.field("type").and_then(Tree::text).unwrap_or_default(), tree) {
            ("object", Tree::Object(fields)) => self.object(schema, fields, tree, way),
            ("array", Tree::List(items)) => self.list(schema, items, way),
            ("number", Tree::Number(value)) => self.number(schema, *value, way),
            ("integer", Tree::Number(value)) if value.fract().abs() <= f64::EPSILON => {
                self.number(schema, *value, way);
            }
            ("string", Tree::Text(_)) => {}
            (wanted, _) => {
                let expected = match wanted {
                    "object" => Content::Object,
                    "array" => Content::List,
                    "number" => Content::Number,
                    "integer" => Content::WholeNumber,
                    "string" => Content::Text,
                    _ => Content::Nothing,
                };
                self.unexpected(tree, expected, way);
            }
        }
    }

    fn resolved(&self, schema: &'a Tree) -> &'a Tree {
        let mut schema = schema;
        while let Some(name) = schema.field("$ref").and_then(Tree::text) {
            let named = name.strip_prefix("#/$defs/");
            match named.and_then(|name| self.root.field("$defs")?.field(name)) {
                Some(found) => schema = found,
                None => break,
            }
        }
        schema
    }

    fn object(&mut self, schema: &'a Tree, fields: &[(String, Tree)], tree: &Tree, way: &Way<'_>) {
        let known = schema.field("properties");
        // An object of the format has a few fields; one of thousands is looked through as fast.
        let mut seen = BTreeSet::new();
        for (idx, (name, value)) in fields.iter().enumerate() {
            let is_repeated = match fields.len() {
                ..=FEW_FIELDS => fields[..idx].iter().any(|(earlier, _)| earlier == name),
                _ => !seen.insert(name.as_str()),
            };
            if is_repeated {
                self.say(way, Problem::RepeatedField { name: name.clone() });
                continue;
            }
            match known.and_then(|known| known.field(name)) {
                Some(schema) => self.value(schema, value, &Way::Field(way, name)),
                None if MOST_FINDINGS <= self.findings.len() => self.n_more += 1,
                None => {
                    let known = known.map(Tree::fields).unwrap_or_default();
                    let names = known.iter().map(|(name, _)| name.as_str());
                    let found = name.chars().take(40).collect();
                    self.say(way, Problem::UnknownField { found, expected: list_of(names) });
                }
            }
        }
        let required = schema.field("required").map(Tree::entries).unwrap_or_default();
        for name in required.iter().filter_map(Tree::text) {
            if tree.field(name).is_none() {
                self.say(way, Problem::MissingField { name: name.to_owned() });
            }
        }
    }

    fn list(&mut self, schema: &'a Tree, items: &[Tree], way: &Way<'_>) {
        let size = |key| schema.field(key).and_then(Tree::number).map(quantity::to_whole);
        let wanted = size("minItems").filter(|wanted| size("maxItems") == Some(*wanted));
        let wanted = wanted.and_then(|wanted| usize::try_from(wanted).ok());
        if let Some(wanted) = wanted.filter(|wanted| *wanted != items.len()) {
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
        let Some(schema) = schema.field("items") else {
            return;
        };
        for (idx, item) in items.iter().enumerate() {
            self.value(schema, item, &Way::Entry(way, idx, item));
        }
    }

    fn number(&mut self, schema: &Tree, value: f64, way: &Way<'_>) {
        let bound = |key| schema.field(key).and_then(Tree::number);
        let (min, max) =
            (bound("minimum").unwrap_or(f64::MIN), bound("maximum").unwrap_or(f64::MAX));
        if min <= value && value <= max {
            return;
        }
        let name = schema.field("title").and_then(Tree::text).unwrap_or_default();
        self.say(
            way,
            match limits::length(name) {
                Some(limit) => Problem::LengthOutOfRange {
                    name: limit.name,
                    found: millimeters(value),
                    min: limit.min,
                    max: limit.max,
                },
                None => {
                    let name = limits::bounds(name).map_or(NUMBER, |bounds| bounds.name);
                    Problem::NumberOutOfRange { name, found: value, min, max }
                }
            },
        );
    }

    /// One of several words, or one of several objects told apart by a word.
    fn choice(&mut self, choices: &'a [Tree], tree: &Tree, way: &Way<'_>) {
        let words: Vec<&str> = choices.iter().flat_map(words).collect();
        if !words.is_empty() {
            self.word(&words, tree, way);
            return;
        }
        let tagged: Vec<(&str, &str, &'a Tree)> = choices.iter().filter_map(tag).collect();
        let Some(&(key, _, _)) = tagged.first() else {
            return;
        };
        if !matches!(tree, Tree::Object(_)) {
            self.unexpected(tree, Content::ObjectWith(key.to_owned()), way);
            return;
        }
        let Some(word) = tree.field(key) else {
            self.say(way, Problem::MissingField { name: key.to_owned() });
            return;
        };
        let chosen =
            tagged.iter().find(|(_, name, _)| matches!(word, Tree::Text(text) if text == name));
        match chosen {
            Some((_, _, schema)) => self.value(schema, tree, way),
            None => self.unexpected(
                word,
                Content::Written(list_of(tagged.iter().map(|(_, name, _)| *name))),
                &Way::Field(way, key),
            ),
        }
    }

    fn constant(&mut self, wanted: &Tree, tree: &Tree, way: &Way<'_>) {
        let same = match (wanted, tree) {
            (Tree::Text(wanted), Tree::Text(found)) => wanted == found,
            (Tree::Number(wanted), Tree::Number(found)) => (wanted - found).abs() <= f64::EPSILON,
            _ => false,
        };
        if !same {
            self.unexpected(tree, Content::Written(written(wanted)), way);
        }
    }

    fn word(&mut self, words: &[&str], tree: &Tree, way: &Way<'_>) {
        let known = matches!(tree, Tree::Text(found) if words.contains(&found.as_str()));
        if !known {
            self.unexpected(tree, Content::Written(list_of(words.iter().copied())), way);
        }
    }

    fn unexpected(&mut self, tree: &Tree, expected: Content, way: &Way<'_>) {
        self.say(way, Problem::Unexpected { found: tree.content(), expected });
    }
}

/// The words of a choice between texts; none for a choice between objects.
fn words(choice: &Tree) -> Vec<&str> {
    let one = choice.field("const").and_then(Tree::text);
    let several = choice.field("enum").map(Tree::entries).unwrap_or_default();
    one.into_iter().chain(several.iter().filter_map(Tree::text)).collect()
}

/// The field and the word that tell a choice between objects apart.
fn tag(choice: &Tree) -> Option<(&str, &str, &Tree)> {
    let mut tags = choice
        .field("properties")?
        .fields()
        .iter()
        .filter_map(|(key, schema)| Some((key.as_str(), schema.field("const")?.text()?)));
    tags.next().map(|(key, word)| (key, word, choice))
}

/// A word or a number as a file has it.
fn written(constant: &Tree) -> String {
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

fn numbered(place: Place, idx: usize, item: &Tree) -> Place {
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
