//! The form that a job file must have: the published schema, made ready to be compared with.

use std::{collections::BTreeMap, sync::LazyLock};

use crate::{file::tree::Tree, quantity};

/// The schema of the job file as it is published, less what only people read.
///
/// A test keeps it the same as the one made from the types; making it anew in the browser would
/// cost more than carrying the text.
const SCHEMA: &str = include_str!(concat!(env!("OUT_DIR"), "/job.schema.json"));

static PARSED: LazyLock<Tree<'_>> =
    LazyLock::new(|| serde_json::from_str(SCHEMA).expect("the published schema is JSON"));

/// All forms, made once: the app reads a job after every step.
static FORMS: LazyLock<Forms> = LazyLock::new(Forms::of_schema);

/// What the schema asks of a value.
#[derive(Debug)]
pub(super) enum Form {
    /// One of several words.
    Word(Vec<&'static str>),
    /// One of several objects, told apart by the word in a field.
    Tagged {
        /// The field.
        key: &'static str,
        /// What is asked of the object, by its word.
        choices: Vec<(&'static str, At)>,
    },
    /// One word or number.
    Constant(&'static Tree<'static>),
    /// An object.
    Object {
        /// Its fields, and what is asked of each.
        fields: Vec<(&'static str, At)>,
        /// Those that may not be left out, by their positions among the fields.
        required: Vec<usize>,
    },
    /// A list.
    List {
        /// How many entries it has, where that is fixed.
        size: Option<usize>,
        /// What is asked of each.
        entry: Option<At>,
    },
    /// A number.
    Number {
        /// The least.
        min: f64,
        /// The most.
        max: f64,
        /// What it is called in the table of limits.
        title: &'static str,
        /// Whether it is a whole one.
        is_whole: bool,
    },
    /// Any text.
    Text,
    /// Nothing that the format has.
    Nothing,
}

/// A form by its position among all of them.
#[derive(Debug, Clone, Copy)]
pub(super) struct At(usize);

#[derive(Debug, Default)]
struct Forms {
    all: Vec<Form>,
    named: BTreeMap<&'static str, At>,
}

/// What is asked of a whole file.
pub(super) fn whole() -> At {
    At(0)
}

impl At {
    /// What is asked.
    pub(super) fn form(self) -> &'static Form {
        static NOTHING: Form = Form::Nothing;
        FORMS.all.get(self.0).unwrap_or(&NOTHING)
    }
}

impl Forms {
    fn of_schema() -> Self {
        let mut forms = Self::default();
        forms.add(&PARSED);
        forms
    }

    fn add(&mut self, schema: &'static Tree<'static>) -> At {
        let Some(name) = schema.field("$ref").and_then(Tree::text) else {
            let at = self.reserve();
            self.all[at.0] = self.form(schema);
            return at;
        };
        if let Some(at) = self.named.get(name) {
            return *at;
        }
        // A form may be asked for within itself.
        let at = self.reserve();
        self.named.insert(name, at);
        let named = name.strip_prefix("#/$defs/");
        if let Some(schema) = named.and_then(|name| PARSED.field("$defs")?.field(name)) {
            self.all[at.0] = self.form(schema);
        }
        at
    }

    fn reserve(&mut self) -> At {
        self.all.push(Form::Nothing);
        At(self.all.len() - 1)
    }

    fn form(&mut self, schema: &'static Tree<'static>) -> Form {
        if let Some(Tree::List(choices)) = schema.field("oneOf") {
            return self.choice(choices);
        }
        if let Some(constant) = schema.field("const") {
            return Form::Constant(constant);
        }
        if let Some(words) = schema.field("enum") {
            return Form::Word(words.entries().iter().filter_map(Tree::text).collect());
        }
        let number = |key| schema.field(key).and_then(Tree::number);
        match schema.field("type").and_then(Tree::text) {
            Some("object") => self.object(schema),
            Some("array") => {
                let size = number("minItems").filter(|_| number("maxItems") == number("minItems"));
                let size = size.and_then(|size| usize::try_from(quantity::to_whole(size)).ok());
                Form::List { size, entry: schema.field("items").map(|entry| self.add(entry)) }
            }
            Some(kind @ ("number" | "integer")) => Form::Number {
                min: number("minimum").unwrap_or(f64::MIN),
                max: number("maximum").unwrap_or(f64::MAX),
                title: schema.field("title").and_then(Tree::text).unwrap_or_default(),
                is_whole: kind == "integer",
            },
            Some("string") => Form::Text,
            _ => Form::Nothing,
        }
    }

    fn object(&mut self, schema: &'static Tree<'static>) -> Form {
        let properties = schema.field("properties").map(Tree::fields).unwrap_or_default();
        let fields: Vec<(&str, At)> =
            properties.iter().map(|(name, schema)| (&**name, self.add(schema))).collect();
        let required = schema.field("required").map(Tree::entries).unwrap_or_default().iter();
        let position =
            |name: &Tree<'_>| fields.iter().position(|(field, _)| Some(*field) == name.text());
        let required = required.filter_map(position).collect();
        Form::Object { fields, required }
    }

    /// One of several words, or one of several objects told apart by a word.
    fn choice(&mut self, choices: &'static [Tree<'static>]) -> Form {
        let words: Vec<&str> = choices.iter().flat_map(words).collect();
        if !words.is_empty() {
            return Form::Word(words);
        }
        let tagged: Vec<_> = choices
            .iter()
            .filter_map(|choice| {
                let (key, word) = tag(choice)?;
                Some((key, (word, self.add(choice))))
            })
            .collect();
        let key = tagged.first().map_or("", |(key, _)| key);
        Form::Tagged { key, choices: tagged.into_iter().map(|(_, choice)| choice).collect() }
    }
}

/// The words of a choice between texts; none for a choice between objects.
fn words<'a>(choice: &'a Tree<'_>) -> Vec<&'a str> {
    let one = choice.field("const").and_then(Tree::text);
    let several = choice.field("enum").map(Tree::entries).unwrap_or_default();
    one.into_iter().chain(several.iter().filter_map(Tree::text)).collect()
}

/// The field and the word that tell a choice between objects apart.
fn tag<'a>(choice: &'a Tree<'_>) -> Option<(&'a str, &'a str)> {
    let mut tags = choice
        .field("properties")?
        .fields()
        .iter()
        .filter_map(|(key, schema)| Some((key.as_ref(), schema.field("const")?.text()?)));
    tags.next()
}
