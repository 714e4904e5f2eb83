//! A request as a plain tree, read into its shape with the path of what is wrong.
//!
//! Reading straight from JavaScript would pass over unknown fields and lose
//! where a fault lies; a tree keeps both, and a number that is not finite too.

use serde::de::value::StrDeserializer;
use serde::de::{
    self, DeserializeOwned, Deserializer, EnumAccess, IntoDeserializer, MapAccess, SeqAccess,
    VariantAccess, Visitor,
};
use std::fmt;

/// A plain value.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Tree {
    Nothing,
    Bool(bool),
    Number(f64),
    Text(String),
    List(Vec<Tree>),
    Record(Vec<(String, Tree)>),
}

/// What is wrong, and where.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Fault {
    pub(crate) kind: FaultKind,
    /// Path of the field, as `kit[2].density`.
    pub(crate) path: String,
}

/// What is wrong with a field.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum FaultKind {
    Unknown,
    Missing,
    WrongType(Option<Tree>),
}

/// Reads a tree as a request.
pub(crate) fn read<Q: DeserializeOwned>(tree: &Tree) -> Result<Q, Fault> {
    Q::deserialize(tree)
}

impl Fault {
    fn new(kind: FaultKind, path: &str) -> Self {
        Self {
            kind,
            path: path.to_owned(),
        }
    }

    /// The same fault seen from one level further out.
    fn inside(mut self, outer: &str) -> Self {
        let joint = if self.path.is_empty() || self.path.starts_with('[') {
            ""
        } else {
            "."
        };
        self.path = format!("{outer}{joint}{}", self.path);
        self
    }

    fn of(self, tree: &Tree) -> Self {
        match self.kind {
            FaultKind::WrongType(None) => Self {
                kind: FaultKind::WrongType(Some(tree.clone())),
                ..self
            },
            _ => self,
        }
    }
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {:?}", self.path, self.kind)
    }
}

impl std::error::Error for Fault {}

impl de::Error for Fault {
    fn custom<T: fmt::Display>(_: T) -> Self {
        Self::new(FaultKind::WrongType(None), "")
    }

    fn unknown_field(field: &str, _: &'static [&'static str]) -> Self {
        Self::new(FaultKind::Unknown, field)
    }

    fn missing_field(field: &'static str) -> Self {
        Self::new(FaultKind::Missing, field)
    }
}

impl<'de> IntoDeserializer<'de, Fault> for &'de Tree {
    type Deserializer = Self;
    fn into_deserializer(self) -> Self {
        self
    }
}

/// Answers whatever is asked with what is there; the shape decides if it fits.
impl<'de> Deserializer<'de> for &'de Tree {
    type Error = Fault;

    fn deserialize_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Fault> {
        let read = match self {
            Tree::Nothing => visitor.visit_unit(),
            Tree::Bool(yes) => visitor.visit_bool(*yes),
            Tree::Number(number) => visitor.visit_f64(*number),
            Tree::Text(text) => visitor.visit_borrowed_str(text),
            Tree::List(items) => visitor.visit_seq(Items(items, 0)),
            Tree::Record(fields) => visitor.visit_map(Fields(fields, 0)),
        };
        read.map_err(|fault: Fault| fault.of(self))
    }

    fn deserialize_option<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Fault> {
        match self {
            Tree::Nothing => visitor.visit_none(),
            _ => visitor.visit_some(self),
        }
    }

    fn deserialize_u64<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Fault> {
        match *self {
            #[expect(
                clippy::cast_possible_truncation,
                clippy::cast_sign_loss,
                reason = "whole and within u32, so u64 holds it exactly"
            )]
            Tree::Number(n) if n >= 0.0 && n <= f64::from(u32::MAX) && n % 1.0 == 0.0 => visitor
                .visit_u64(n as u64)
                .map_err(|fault: Fault| fault.of(self)),
            _ => self.deserialize_any(visitor),
        }
    }

    fn deserialize_u8<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Fault> {
        self.deserialize_u64(visitor)
    }

    fn deserialize_u16<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Fault> {
        self.deserialize_u64(visitor)
    }

    fn deserialize_u32<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Fault> {
        self.deserialize_u64(visitor)
    }

    fn deserialize_i32<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Fault> {
        match *self {
            #[expect(clippy::cast_possible_truncation, reason = "whole and within i32")]
            Tree::Number(n) if n.abs() <= f64::from(i32::MAX) && n % 1.0 == 0.0 => visitor
                .visit_i64(n as i64)
                .map_err(|fault: Fault| fault.of(self)),
            _ => self.deserialize_any(visitor),
        }
    }

    fn deserialize_i64<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Fault> {
        self.deserialize_i32(visitor)
    }

    fn deserialize_enum<V: Visitor<'de>>(
        self,
        _name: &'static str,
        _variants: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Fault> {
        let read = match self {
            Tree::Text(name) => visitor.visit_enum(Variant(name)),
            _ => Err(Fault::new(FaultKind::WrongType(None), "")),
        };
        read.map_err(|fault: Fault| fault.of(self))
    }

    fn deserialize_newtype_struct<V: Visitor<'de>>(
        self,
        _name: &'static str,
        visitor: V,
    ) -> Result<V::Value, Fault> {
        visitor.visit_newtype_struct(self)
    }

    /// A shape is read by its fields' names, never by their order.
    fn deserialize_struct<V: Visitor<'de>>(
        self,
        _name: &'static str,
        _fields: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Fault> {
        match self {
            Tree::Record(_) => self.deserialize_any(visitor),
            _ => Err(Fault::new(FaultKind::WrongType(None), "").of(self)),
        }
    }

    serde::forward_to_deserialize_any! {
        bool i8 i16 f32 f64 char str string bytes byte_buf unit unit_struct seq tuple
        tuple_struct map identifier ignored_any
    }
}

/// The items of a list, and how many are read.
struct Items<'de>(&'de [Tree], usize);

impl<'de> SeqAccess<'de> for Items<'de> {
    type Error = Fault;

    fn next_element_seed<T: de::DeserializeSeed<'de>>(
        &mut self,
        seed: T,
    ) -> Result<Option<T::Value>, Fault> {
        let Some(item) = self.0.get(self.1) else {
            return Ok(None);
        };
        let at = format!("[{}]", self.1);
        self.1 += 1;
        let read = seed.deserialize(item).map_err(|fault| fault.inside(&at))?;
        Ok(Some(read))
    }

    fn size_hint(&self) -> Option<usize> {
        Some(self.0.len() - self.1)
    }
}

/// The fields of a record, and how many are read.
struct Fields<'de>(&'de [(String, Tree)], usize);

impl<'de> MapAccess<'de> for Fields<'de> {
    type Error = Fault;

    fn next_key_seed<K: de::DeserializeSeed<'de>>(
        &mut self,
        seed: K,
    ) -> Result<Option<K::Value>, Fault> {
        // A field that is set to nothing is a field left out.
        while matches!(self.0.get(self.1), Some((_, Tree::Nothing))) {
            self.1 += 1;
        }
        let Some((name, _)) = self.0.get(self.1) else {
            return Ok(None);
        };
        seed.deserialize(StrDeserializer::new(name)).map(Some)
    }

    fn next_value_seed<V: de::DeserializeSeed<'de>>(&mut self, seed: V) -> Result<V::Value, Fault> {
        let (name, value) = &self.0[self.1];
        self.1 += 1;
        seed.deserialize(value).map_err(|fault| fault.inside(name))
    }
}

/// A variant without content, by its name.
struct Variant<'de>(&'de str);

impl<'de> EnumAccess<'de> for Variant<'de> {
    type Error = Fault;
    type Variant = Self;

    fn variant_seed<V: de::DeserializeSeed<'de>>(self, seed: V) -> Result<(V::Value, Self), Fault> {
        let variant = seed.deserialize(StrDeserializer::<Fault>::new(self.0))?;
        Ok((variant, self))
    }
}

impl<'de> VariantAccess<'de> for Variant<'de> {
    type Error = Fault;

    fn unit_variant(self) -> Result<(), Fault> {
        Ok(())
    }

    fn newtype_variant_seed<T: de::DeserializeSeed<'de>>(self, _: T) -> Result<T::Value, Fault> {
        Err(Fault::new(FaultKind::WrongType(None), ""))
    }

    fn tuple_variant<V: Visitor<'de>>(self, _: usize, _: V) -> Result<V::Value, Fault> {
        Err(Fault::new(FaultKind::WrongType(None), ""))
    }

    fn struct_variant<V: Visitor<'de>>(
        self,
        _: &'static [&'static str],
        _: V,
    ) -> Result<V::Value, Fault> {
        Err(Fault::new(FaultKind::WrongType(None), ""))
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::{Fault, FaultKind, Tree, read};
    use crate::OpenUpRequest;

    fn record(fields: &[(&str, Tree)]) -> Tree {
        let field = |(name, tree): &(&str, Tree)| ((*name).to_owned(), tree.clone());
        Tree::Record(fields.iter().map(field).collect())
    }

    fn settings(aperture: Tree) -> Tree {
        record(&[
            ("aperture", aperture),
            ("exposureIndex", Tree::Number(800.0)),
            ("frameRate", Tree::Number(24.0)),
            ("shutterAngleDeg", Tree::Number(180.0)),
            ("shutterSeconds", Tree::Nothing),
        ])
    }

    fn fault(fields: &[(&str, Tree)]) -> Fault {
        read::<OpenUpRequest>(&record(fields)).unwrap_err()
    }

    #[test]
    fn a_request_is_read() {
        let shot = settings(Tree::Number(2.8));
        let kit = record(&[
            ("id", Tree::Text("a".into())),
            ("kind", Tree::Text("nd".into())),
            ("density", Tree::Number(0.3)),
            ("count", Tree::Number(2.0)),
        ]);
        let tree = record(&[
            ("reading", settings(Tree::Number(16.0))),
            ("shot", shot),
            ("kit", Tree::List(vec![kit])),
        ]);
        let request: OpenUpRequest = read(&tree).unwrap();
        assert_eq!(request.kit[0].count, 2);
        assert_eq!(request.reading.aperture, 16.0);
    }

    #[test]
    fn faults_name_their_place() {
        let good = || settings(Tree::Number(2.8));
        let wrong = fault(&[
            ("reading", settings(Tree::Text("x".into()))),
            ("shot", good()),
        ]);
        assert_eq!(wrong.path, "reading.aperture");
        assert_eq!(
            wrong.kind,
            FaultKind::WrongType(Some(Tree::Text("x".into())))
        );
        let missing = fault(&[("reading", good())]);
        assert_eq!(
            (missing.path.as_str(), missing.kind),
            ("shot", FaultKind::Missing)
        );
        let piece = record(&[("colour", Tree::Bool(true))]);
        let unknown = fault(&[("kit", Tree::List(vec![piece]))]);
        assert_eq!(
            (unknown.path.as_str(), unknown.kind),
            ("kit[0].colour", FaultKind::Unknown)
        );
    }

    #[test]
    fn a_count_is_whole() {
        let half = record(&[("id", Tree::Text("a".into())), ("count", Tree::Number(1.5))]);
        let wrong = fault(&[("kit", Tree::List(vec![half]))]);
        assert_eq!(wrong.path, "kit[0].count");
    }
}
