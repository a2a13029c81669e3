//! Reads the types of the job out of a tree that fits the schema.
//!
//! The comparison with the schema has said everything by then, so that this only moves values over: an
//! object is read by its fields alone and a list by its entries alone, which leaves out most of what a
//! reader of any text would carry. What every field asks for is not to be copied into each of them
//! (`inline(never)`): the types have hundreds, and the copies were a fifteenth of what a phone loads.

use std::{borrow::Cow, fmt, vec};

use serde::{
    Deserialize, Deserializer,
    de::{
        self, DeserializeSeed, EnumAccess, MapAccess, SeqAccess, Unexpected, VariantAccess, Visitor,
    },
    forward_to_deserialize_any,
};

use crate::{file::tree::Tree, quantity};

/// What did not fit although the schema allows it: a slip between the two.
#[derive(Debug)]
pub(super) struct Slip(String);

impl fmt::Display for Slip {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl std::error::Error for Slip {}

impl de::Error for Slip {
    fn custom<T: fmt::Display>(message: T) -> Self {
        Self(message.to_string())
    }

    /// Without what was found, which would draw in all the ways of writing a number.
    fn invalid_type(_: Unexpected<'_>, expected: &dyn de::Expected) -> Self {
        Self(format!("expected {expected}"))
    }

    fn invalid_value(_: Unexpected<'_>, expected: &dyn de::Expected) -> Self {
        Self(format!("expected {expected}"))
    }
}

/// Reads a type.
///
/// # Errors
/// When the tree does not fit the type.
pub(super) fn typed<'de, T: Deserialize<'de>>(tree: Tree<'de>) -> Result<T, Slip> {
    T::deserialize(tree)
}

struct Fields<'de> {
    left: vec::IntoIter<(Cow<'de, str>, Tree<'de>)>,
    value: Option<Tree<'de>>,
}

struct Entries<'de>(vec::IntoIter<Tree<'de>>);

/// One of several words; a choice of the job that is told apart by a field is no such word.
struct Word<'de>(Cow<'de, str>);

/// That a word has nothing with it.
struct Alone;

fn unfit(expected: &dyn de::Expected) -> Slip {
    Slip(format!("expected {expected}"))
}

impl<'de> Deserializer<'de> for Tree<'de> {
    type Error = Slip;

    fn deserialize_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Slip> {
        match self {
            Self::Null => visitor.visit_unit(),
            Self::Bool(value) => visitor.visit_bool(value),
            Self::Number(value) => number(value, visitor),
            Self::Text(text) => said(text, visitor),
            Self::List(entries) => visitor.visit_seq(Entries(entries.into_iter())),
            Self::Object(fields) => visitor.visit_map(Fields::of(fields)),
        }
    }

    #[inline(never)]
    fn deserialize_option<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Slip> {
        match self {
            Self::Null => visitor.visit_none(),
            some => visitor.visit_some(some),
        }
    }

    fn deserialize_newtype_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        visitor: V,
    ) -> Result<V::Value, Slip> {
        visitor.visit_newtype_struct(self)
    }

    fn deserialize_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        _: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Slip> {
        self.deserialize_map(visitor)
    }

    #[inline(never)]
    fn deserialize_map<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Slip> {
        match self {
            Self::Object(fields) => visitor.visit_map(Fields::of(fields)),
            _ => Err(unfit(&visitor)),
        }
    }

    #[inline(never)]
    fn deserialize_seq<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Slip> {
        match self {
            Self::List(entries) => visitor.visit_seq(Entries(entries.into_iter())),
            _ => Err(unfit(&visitor)),
        }
    }

    fn deserialize_tuple<V: Visitor<'de>>(self, _: usize, visitor: V) -> Result<V::Value, Slip> {
        self.deserialize_seq(visitor)
    }

    #[inline(never)]
    fn deserialize_enum<V: Visitor<'de>>(
        self,
        _: &'static str,
        _: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Slip> {
        match self {
            Self::Text(word) => visitor.visit_enum(Word(word)),
            _ => Err(unfit(&visitor)),
        }
    }

    #[inline(never)]
    fn deserialize_str<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Slip> {
        match self {
            Self::Text(text) => said(text, visitor),
            _ => Err(unfit(&visitor)),
        }
    }

    fn deserialize_string<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Slip> {
        self.deserialize_str(visitor)
    }

    fn deserialize_identifier<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Slip> {
        self.deserialize_str(visitor)
    }

    #[inline(never)]
    fn deserialize_f64<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Slip> {
        match self {
            Self::Number(value) => number(value, visitor),
            _ => Err(unfit(&visitor)),
        }
    }

    forward_to_deserialize_any! {
        bool i8 i16 i32 i64 i128 u8 u16 u32 u64 u128 f32 char bytes byte_buf unit unit_struct
        tuple_struct ignored_any
    }
}

fn said<'de, V: Visitor<'de>>(text: Cow<'de, str>, visitor: V) -> Result<V::Value, Slip> {
    match text {
        Cow::Borrowed(text) => visitor.visit_borrowed_str(text),
        Cow::Owned(text) => visitor.visit_string(text),
    }
}

/// Figures are read to a millionth, so that what is read comes back the same from its own file: up to
/// the largest that a job may hold, those have no more digits than are read without an error.
const PER_UNIT: f64 = 1e6;

/// A whole number goes to whoever wants one, and any other takes it as well.
fn number<'de, V: Visitor<'de>>(value: f64, visitor: V) -> Result<V::Value, Slip> {
    let value = quantity::round_to(value, PER_UNIT);
    let whole = quantity::to_whole(value);
    if (quantity::from_whole(whole) - value).abs() < f64::EPSILON {
        visitor.visit_i64(whole)
    } else {
        visitor.visit_f64(value)
    }
}

impl<'de> Fields<'de> {
    fn of(fields: Vec<(Cow<'de, str>, Tree<'de>)>) -> Self {
        Self { left: fields.into_iter(), value: None }
    }
}

impl<'de> MapAccess<'de> for Fields<'de> {
    type Error = Slip;

    #[inline(never)]
    fn next_key_seed<K: DeserializeSeed<'de>>(
        &mut self,
        seed: K,
    ) -> Result<Option<K::Value>, Slip> {
        let Some((name, value)) = self.left.next() else { return Ok(None) };
        self.value = Some(value);
        seed.deserialize(Tree::Text(name)).map(Some)
    }

    #[inline(never)]
    fn next_value_seed<V: DeserializeSeed<'de>>(&mut self, seed: V) -> Result<V::Value, Slip> {
        seed.deserialize(self.value.take().unwrap_or(Tree::Null))
    }
}

impl<'de> SeqAccess<'de> for Entries<'de> {
    type Error = Slip;

    #[inline(never)]
    fn next_element_seed<T: DeserializeSeed<'de>>(
        &mut self,
        seed: T,
    ) -> Result<Option<T::Value>, Slip> {
        self.0.next().map(|entry| seed.deserialize(entry)).transpose()
    }

    fn size_hint(&self) -> Option<usize> {
        Some(self.0.len())
    }
}

impl<'de> EnumAccess<'de> for Word<'de> {
    type Error = Slip;
    type Variant = Alone;

    fn variant_seed<V: DeserializeSeed<'de>>(self, seed: V) -> Result<(V::Value, Alone), Slip> {
        Ok((seed.deserialize(Tree::Text(self.0))?, Alone))
    }
}

impl<'de> VariantAccess<'de> for Alone {
    type Error = Slip;

    fn unit_variant(self) -> Result<(), Slip> {
        Ok(())
    }

    fn newtype_variant_seed<T: DeserializeSeed<'de>>(self, _: T) -> Result<T::Value, Slip> {
        Err(Slip("expected a word alone".to_owned()))
    }

    fn tuple_variant<V: Visitor<'de>>(self, _: usize, visitor: V) -> Result<V::Value, Slip> {
        Err(unfit(&visitor))
    }

    fn struct_variant<V: Visitor<'de>>(
        self,
        _: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Slip> {
        Err(unfit(&visitor))
    }
}
