//! A plain value as a tree, whoever wrote it.

use serde::de::{Deserialize, Deserializer, Error, MapAccess, SeqAccess, Visitor};
use serde::ser::{Serialize, Serializer};
use std::fmt;

/// A plain value: what JavaScript hands over and takes back.
#[derive(Debug, Clone, PartialEq)]
pub enum Tree {
    /// `undefined` or `null`.
    Nothing,
    /// True or false.
    Bool(bool),
    /// Any number, what is no number included.
    Number(f64),
    /// A text.
    Text(String),
    /// A list.
    List(Vec<Tree>),
    /// Fields by name.
    Record(Vec<(String, Tree)>),
}

impl Serialize for Tree {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        match self {
            Self::Nothing => to.serialize_unit(),
            Self::Bool(yes) => to.serialize_bool(*yes),
            Self::Number(number) => to.serialize_f64(*number),
            Self::Text(text) => to.serialize_str(text),
            Self::List(items) => to.collect_seq(items),
            Self::Record(fields) => {
                to.collect_map(fields.iter().map(|(name, value)| (name, value)))
            }
        }
    }
}

/// Any value: part of a request that is another question's.
impl<'de> Deserialize<'de> for Tree {
    fn deserialize<D: Deserializer<'de>>(reader: D) -> Result<Self, D::Error> {
        reader.deserialize_any(Any)
    }
}

struct Any;

impl<'de> Visitor<'de> for Any {
    type Value = Tree;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("any value")
    }

    fn visit_unit<E: Error>(self) -> Result<Tree, E> {
        Ok(Tree::Nothing)
    }

    fn visit_bool<E: Error>(self, yes: bool) -> Result<Tree, E> {
        Ok(Tree::Bool(yes))
    }

    fn visit_f64<E: Error>(self, number: f64) -> Result<Tree, E> {
        Ok(Tree::Number(number))
    }

    fn visit_str<E: Error>(self, text: &str) -> Result<Tree, E> {
        Ok(Tree::Text(text.to_owned()))
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut items: A) -> Result<Tree, A::Error> {
        let mut list = Vec::new();
        while let Some(item) = items.next_element()? {
            list.push(item);
        }
        Ok(Tree::List(list))
    }

    fn visit_map<A: MapAccess<'de>>(self, mut fields: A) -> Result<Tree, A::Error> {
        let mut record = Vec::new();
        while let Some(field) = fields.next_entry()? {
            record.push(field);
        }
        Ok(Tree::Record(record))
    }
}
