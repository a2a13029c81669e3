//! JSON as it stands in the file: fields in order, repeated ones kept so that they can be reported.

use std::{borrow::Cow, fmt};

use serde::{
    Deserialize, Deserializer,
    de::{Error, MapAccess, SeqAccess, Visitor},
};

use crate::finding::Content;

/// A value of a file; its texts are those of the file itself wherever they stand there as they are.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Tree<'a> {
    /// `null`, or nothing.
    Null,
    /// `true` or `false`.
    Bool(bool),
    /// A number.
    Number(f64),
    /// A text.
    Text(Cow<'a, str>),
    /// A list.
    List(Vec<Self>),
    /// An object, its fields in order.
    Object(Vec<(Cow<'a, str>, Self)>),
}

impl<'a> Tree<'a> {
    /// The field of an object.
    pub(super) fn field(&self, name: &str) -> Option<&Self> {
        match self {
            Self::Object(fields) => {
                fields.iter().find(|(field, _)| field == name).map(|(_, value)| value)
            }
            _ => None,
        }
    }

    /// The value in short, for messages.
    pub(super) fn content(&self) -> Content {
        match self {
            Self::Null => Content::Written("null".to_owned()),
            Self::Bool(value) => Content::Written(value.to_string()),
            Self::Number(value) => Content::Written(value.to_string()),
            Self::Text(text) if text.chars().count() <= 40 => Content::Written(format!("“{text}”")),
            Self::Text(text) => {
                Content::Written(format!("“{}…”", text.chars().take(40).collect::<String>()))
            }
            Self::List(items) => Content::ListOf(items.len()),
            Self::Object(fields) => Content::ObjectOf(fields.len()),
        }
    }

    /// The entries of a list; none of anything else.
    pub(super) fn entries(&self) -> &[Self] {
        match self {
            Self::List(entries) => entries,
            _ => &[],
        }
    }

    /// The fields of an object; none of anything else.
    pub(super) fn fields(&self) -> &[(Cow<'a, str>, Self)] {
        match self {
            Self::Object(fields) => fields,
            _ => &[],
        }
    }

    /// A text.
    pub(super) fn text(&self) -> Option<&str> {
        match self {
            Self::Text(text) => Some(text),
            _ => None,
        }
    }

    /// A number.
    pub(super) fn number(&self) -> Option<f64> {
        match self {
            Self::Number(value) => Some(*value),
            _ => None,
        }
    }
}

impl<'de> Deserialize<'de> for Tree<'de> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(TreeVisitor)
    }
}

struct TreeVisitor;

impl<'de> Visitor<'de> for TreeVisitor {
    type Value = Tree<'de>;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a value")
    }

    fn visit_unit<E>(self) -> Result<Tree<'de>, E> {
        Ok(Tree::Null)
    }

    fn visit_none<E>(self) -> Result<Tree<'de>, E> {
        Ok(Tree::Null)
    }

    fn visit_some<D: Deserializer<'de>>(self, deserializer: D) -> Result<Tree<'de>, D::Error> {
        Tree::deserialize(deserializer)
    }

    fn visit_bool<E>(self, value: bool) -> Result<Tree<'de>, E> {
        Ok(Tree::Bool(value))
    }

    fn visit_i64<E>(self, value: i64) -> Result<Tree<'de>, E> {
        Ok(Tree::Number(crate::quantity::from_whole(value)))
    }

    #[expect(clippy::cast_precision_loss, reason = "no length of a job is as long as that")]
    fn visit_u64<E>(self, value: u64) -> Result<Tree<'de>, E> {
        Ok(Tree::Number(value as f64))
    }

    fn visit_f64<E>(self, value: f64) -> Result<Tree<'de>, E> {
        Ok(Tree::Number(value))
    }

    fn visit_str<E>(self, value: &str) -> Result<Tree<'de>, E> {
        Ok(Tree::Text(Cow::Owned(value.to_owned())))
    }

    fn visit_borrowed_str<E>(self, value: &'de str) -> Result<Tree<'de>, E> {
        Ok(Tree::Text(Cow::Borrowed(value)))
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut list: A) -> Result<Tree<'de>, A::Error> {
        let mut items = Vec::new();
        while let Some(item) = list.next_element()? {
            items.push(item);
        }
        Ok(Tree::List(items))
    }

    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Tree<'de>, A::Error> {
        let mut fields = Vec::new();
        while let Some(key) = map.next_key()? {
            let Tree::Text(name) = key else {
                return Err(A::Error::custom("a field has a name"));
            };
            fields.push((name, map.next_value()?));
        }
        Ok(Tree::Object(fields))
    }
}
