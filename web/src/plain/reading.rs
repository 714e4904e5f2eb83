//! A request as a plain tree, read into its shape with the path of what is wrong.
//!
//! Reading straight from JavaScript would pass over unknown fields and lose
//! where a fault lies; a tree keeps both, and a number that is not finite too.

mod parts;

use super::tree::Tree;
use parts::{Fields, Items, Named, Variant};
use serde::de::{self, DeserializeOwned, Deserializer, IntoDeserializer, Visitor};
use std::fmt;

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
    /// A word that is none of those that would do.
    WrongWord(Tree, &'static [&'static str]),
    /// Deeper than any request is.
    TooDeep,
    /// More values or characters than any request has.
    TooMuch {
        given: usize,
        most: usize,
    },
}

impl Fault {
    #[inline(never)]
    pub(crate) fn new(kind: FaultKind, path: &str) -> Self {
        Self {
            kind,
            path: path.to_owned(),
        }
    }

    /// The same fault seen from one level further out.
    #[inline(never)]
    pub(crate) fn inside(mut self, outer: &str) -> Self {
        let path = &mut self.path;
        if !path.is_empty() && !path.starts_with('[') {
            path.insert(0, '.');
        }
        path.insert_str(0, outer);
        self
    }

    #[inline(never)]
    pub(crate) fn inside_item(self, item: usize) -> Self {
        self.inside(&format!("[{item}]"))
    }
}

/// Reads a tree as a request.
pub(crate) fn read<Q: DeserializeOwned>(tree: &Tree) -> Result<Q, Fault> {
    Q::deserialize(Node(tree)).map_err(|Thrown(fault)| *fault)
}

/// A fault on its way out: small, since every field of every request can have
/// one.
#[derive(Debug)]
struct Thrown(Box<Fault>);

// Out of line, each: a request's shape is compiled into a reader of its own,
// and what does not depend on the shape must not be compiled into all of them.
impl Thrown {
    #[inline(never)]
    fn new(kind: FaultKind, path: &str) -> Self {
        Self(Box::new(Fault::new(kind, path)))
    }

    #[inline(never)]
    fn wrong(tree: &Tree) -> Self {
        Self::new(FaultKind::WrongType(Some(tree.clone())), "")
    }

    /// The same fault seen from one level further out.
    #[inline(never)]
    fn inside(self, outer: &str) -> Self {
        Self(Box::new(self.0.inside(outer)))
    }

    #[inline(never)]
    fn inside_item(self, item: usize) -> Self {
        Self(Box::new(self.0.inside_item(item)))
    }

    /// With the tree in question, if it is not yet known.
    #[inline(never)]
    fn of(mut self, tree: &Tree) -> Self {
        if self.0.kind == FaultKind::WrongType(None) {
            self.0.kind = FaultKind::WrongType(Some(tree.clone()));
        }
        self
    }
}

impl fmt::Display for Thrown {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0.path)
    }
}

impl std::error::Error for Thrown {}

impl de::Error for Thrown {
    fn custom<T: fmt::Display>(_: T) -> Self {
        Self::new(FaultKind::WrongType(None), "")
    }

    fn invalid_type(_: de::Unexpected<'_>, _: &dyn de::Expected) -> Self {
        Self::new(FaultKind::WrongType(None), "")
    }

    fn invalid_value(_: de::Unexpected<'_>, _: &dyn de::Expected) -> Self {
        Self::new(FaultKind::WrongType(None), "")
    }

    fn invalid_length(_: usize, _: &dyn de::Expected) -> Self {
        Self::new(FaultKind::WrongType(None), "")
    }

    fn duplicate_field(field: &'static str) -> Self {
        Self::new(FaultKind::WrongType(None), field)
    }

    fn missing_field(field: &'static str) -> Self {
        Self::new(FaultKind::Missing, field)
    }
}

/// A tree as what a shape is read from.
#[derive(Clone, Copy)]
struct Node<'de>(&'de Tree);

impl<'de> IntoDeserializer<'de, Thrown> for Node<'de> {
    type Deserializer = Self;
    fn into_deserializer(self) -> Self {
        self
    }
}

impl Tree {
    #[inline(never)]
    fn number(&self) -> Result<f64, Thrown> {
        match self {
            Self::Number(number) => Ok(*number),
            _ => Err(Thrown::wrong(self)),
        }
    }

    /// A whole number, no further from zero than any count is.
    #[inline(never)]
    fn whole(&self) -> Result<i64, Thrown> {
        match *self {
            #[expect(clippy::cast_possible_truncation, reason = "whole and within u32")]
            Self::Number(n) if n.abs() <= f64::from(u32::MAX) && n % 1.0 == 0.0 => Ok(n as i64),
            _ => Err(Thrown::wrong(self)),
        }
    }

    #[inline(never)]
    fn text(&self) -> Result<&str, Thrown> {
        match self {
            Self::Text(text) => Ok(text),
            _ => Err(Thrown::wrong(self)),
        }
    }

    #[inline(never)]
    fn yes(&self) -> Result<bool, Thrown> {
        match self {
            Self::Bool(yes) => Ok(*yes),
            _ => Err(Thrown::wrong(self)),
        }
    }

    #[inline(never)]
    fn items(&self) -> Result<Items<'_>, Thrown> {
        match self {
            Self::List(items) => Ok(Items(items, 0)),
            _ => Err(Thrown::wrong(self)),
        }
    }

    #[inline(never)]
    fn fields(&self, names: &'static [&'static str]) -> Result<Fields<'_>, Thrown> {
        match self {
            Self::Record(fields) => Ok(Fields {
                fields,
                names,
                next: 0,
            }),
            _ => Err(Thrown::wrong(self)),
        }
    }

    /// Which of the names stands here.
    #[inline(never)]
    fn variant(&self, names: &'static [&'static str]) -> Result<Variant, Thrown> {
        let text = self.text()?;
        place_of(text, names)
            .map(Variant)
            .ok_or_else(|| Thrown::new(FaultKind::WrongWord(self.clone(), names), ""))
    }
}

#[inline(never)]
fn place_of(name: &str, names: &'static [&'static str]) -> Option<u32> {
    let at = names.iter().position(|known| *known == name)?;
    u32::try_from(at).ok()
}

/// Gives what a shape asks for, if it is there. Names are looked up here, so
/// that a shape sees only the place of a field or variant in its own list.
impl<'de> Deserializer<'de> for Node<'de> {
    type Error = Thrown;

    /// Asked only by what can be one of several types.
    fn deserialize_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Thrown> {
        let read = match self.0 {
            Tree::Nothing => visitor.visit_unit(),
            Tree::Bool(yes) => visitor.visit_bool(*yes),
            Tree::Number(number) => visitor.visit_f64(*number),
            Tree::Text(text) => visitor.visit_borrowed_str(text),
            Tree::List(items) => visitor.visit_seq(Items(items, 0)),
            Tree::Record(fields) => visitor.visit_map(Named(fields, 0)),
        };
        read.map_err(|thrown| thrown.of(self.0))
    }

    fn deserialize_option<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Thrown> {
        match self.0 {
            Tree::Nothing => visitor.visit_none(),
            _ => visitor.visit_some(self),
        }
    }

    fn deserialize_bool<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Thrown> {
        visitor.visit_bool(self.0.yes()?)
    }

    fn deserialize_f64<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Thrown> {
        visitor.visit_f64(self.0.number()?)
    }

    fn deserialize_f32<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Thrown> {
        visitor.visit_f64(self.0.number()?)
    }

    fn deserialize_i64<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Thrown> {
        visitor
            .visit_i64(self.0.whole()?)
            .map_err(|thrown: Thrown| thrown.of(self.0))
    }

    fn deserialize_u64<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Thrown> {
        self.deserialize_i64(visitor)
    }

    fn deserialize_u32<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Thrown> {
        self.deserialize_i64(visitor)
    }

    fn deserialize_u16<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Thrown> {
        self.deserialize_i64(visitor)
    }

    fn deserialize_u8<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Thrown> {
        self.deserialize_i64(visitor)
    }

    fn deserialize_i32<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Thrown> {
        self.deserialize_i64(visitor)
    }

    fn deserialize_str<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Thrown> {
        visitor.visit_str(self.0.text()?)
    }

    fn deserialize_string<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Thrown> {
        visitor.visit_str(self.0.text()?)
    }

    fn deserialize_seq<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Thrown> {
        visitor
            .visit_seq(self.0.items()?)
            .map_err(|thrown| thrown.of(self.0))
    }

    fn deserialize_tuple<V: Visitor<'de>>(self, _: usize, visitor: V) -> Result<V::Value, Thrown> {
        self.deserialize_seq(visitor)
    }

    fn deserialize_enum<V: Visitor<'de>>(
        self,
        _name: &'static str,
        variants: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Thrown> {
        visitor
            .visit_enum(self.0.variant(variants)?)
            .map_err(|thrown| thrown.of(self.0))
    }

    fn deserialize_newtype_struct<V: Visitor<'de>>(
        self,
        _name: &'static str,
        visitor: V,
    ) -> Result<V::Value, Thrown> {
        visitor.visit_newtype_struct(self)
    }

    /// A shape is read by its fields' names, never by their order.
    fn deserialize_struct<V: Visitor<'de>>(
        self,
        _name: &'static str,
        fields: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Thrown> {
        visitor
            .visit_map(self.0.fields(fields)?)
            .map_err(|thrown| thrown.of(self.0))
    }

    serde::forward_to_deserialize_any! {
        i8 i16 char bytes byte_buf unit unit_struct tuple_struct map identifier ignored_any
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
