//! A plain value as a tree, for writing it down.

use crate::plain::tree::Tree;
use serde::ser::{
    self, Impossible, Serialize, SerializeSeq, SerializeStruct, SerializeTuple, Serializer,
};
use std::fmt;

/// The tree of a value made of records, lists, texts, numbers and names.
///
/// # Errors
///
/// [`NotPlain`] for anything else; no type of the interface is.
pub(crate) fn tree_of(value: &impl Serialize) -> Result<Tree, NotPlain> {
    value.serialize(Plain)
}

/// A value that is no record, list, text, number or name.
#[derive(Debug)]
pub(crate) struct NotPlain;

impl fmt::Display for NotPlain {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("not a plain value")
    }
}

impl std::error::Error for NotPlain {}

impl ser::Error for NotPlain {
    fn custom<T: fmt::Display>(_: T) -> Self {
        Self
    }
}

struct Plain;

type Never = Impossible<Tree, NotPlain>;

impl Serializer for Plain {
    type Ok = Tree;
    type Error = NotPlain;
    type SerializeSeq = ListOf;
    type SerializeTuple = ListOf;
    type SerializeTupleStruct = Never;
    type SerializeTupleVariant = Never;
    type SerializeMap = Never;
    type SerializeStruct = RecordOf;
    type SerializeStructVariant = Never;

    fn serialize_bool(self, yes: bool) -> Result<Tree, NotPlain> {
        Ok(Tree::Bool(yes))
    }
    fn serialize_i8(self, number: i8) -> Result<Tree, NotPlain> {
        Ok(Tree::Number(f64::from(number)))
    }
    fn serialize_i16(self, number: i16) -> Result<Tree, NotPlain> {
        Ok(Tree::Number(f64::from(number)))
    }
    fn serialize_i32(self, number: i32) -> Result<Tree, NotPlain> {
        Ok(Tree::Number(f64::from(number)))
    }
    fn serialize_i64(self, number: i64) -> Result<Tree, NotPlain> {
        i32::try_from(number).map_or(Err(NotPlain), |number| self.serialize_i32(number))
    }
    fn serialize_u8(self, number: u8) -> Result<Tree, NotPlain> {
        Ok(Tree::Number(f64::from(number)))
    }
    fn serialize_u16(self, number: u16) -> Result<Tree, NotPlain> {
        Ok(Tree::Number(f64::from(number)))
    }
    fn serialize_u32(self, number: u32) -> Result<Tree, NotPlain> {
        Ok(Tree::Number(f64::from(number)))
    }
    #[expect(
        clippy::cast_precision_loss,
        reason = "exact within the bound, which is 2⁵³"
    )]
    fn serialize_u64(self, number: u64) -> Result<Tree, NotPlain> {
        if number > 1 << 53 {
            return Err(NotPlain);
        }
        Ok(Tree::Number(number as f64))
    }
    fn serialize_f32(self, number: f32) -> Result<Tree, NotPlain> {
        Ok(Tree::Number(f64::from(number)))
    }
    fn serialize_f64(self, number: f64) -> Result<Tree, NotPlain> {
        Ok(Tree::Number(number))
    }
    fn serialize_char(self, letter: char) -> Result<Tree, NotPlain> {
        Ok(Tree::Text(letter.to_string()))
    }
    fn serialize_str(self, text: &str) -> Result<Tree, NotPlain> {
        Ok(text_of(text))
    }
    fn serialize_bytes(self, _: &[u8]) -> Result<Tree, NotPlain> {
        Err(NotPlain)
    }
    fn serialize_none(self) -> Result<Tree, NotPlain> {
        Ok(Tree::Nothing)
    }
    fn serialize_some<T: Serialize + ?Sized>(self, value: &T) -> Result<Tree, NotPlain> {
        value.serialize(self)
    }
    fn serialize_unit(self) -> Result<Tree, NotPlain> {
        Ok(Tree::Nothing)
    }
    fn serialize_unit_struct(self, _: &'static str) -> Result<Tree, NotPlain> {
        Ok(Tree::Nothing)
    }
    fn serialize_unit_variant(
        self,
        _: &'static str,
        _: u32,
        name: &'static str,
    ) -> Result<Tree, NotPlain> {
        Ok(text_of(name))
    }
    fn serialize_newtype_struct<T: Serialize + ?Sized>(
        self,
        _: &'static str,
        value: &T,
    ) -> Result<Tree, NotPlain> {
        value.serialize(self)
    }
    fn serialize_newtype_variant<T: Serialize + ?Sized>(
        self,
        _: &'static str,
        _: u32,
        _: &'static str,
        _: &T,
    ) -> Result<Tree, NotPlain> {
        Err(NotPlain)
    }
    fn serialize_seq(self, _: Option<usize>) -> Result<ListOf, NotPlain> {
        Ok(ListOf(Vec::new()))
    }
    fn serialize_tuple(self, _: usize) -> Result<ListOf, NotPlain> {
        Ok(ListOf(Vec::new()))
    }
    fn serialize_tuple_struct(self, _: &'static str, _: usize) -> Result<Never, NotPlain> {
        Err(NotPlain)
    }
    fn serialize_tuple_variant(
        self,
        _: &'static str,
        _: u32,
        _: &'static str,
        _: usize,
    ) -> Result<Never, NotPlain> {
        Err(NotPlain)
    }
    fn serialize_map(self, _: Option<usize>) -> Result<Never, NotPlain> {
        Err(NotPlain)
    }
    fn serialize_struct(self, _: &'static str, _: usize) -> Result<RecordOf, NotPlain> {
        Ok(RecordOf(Vec::new()))
    }
    fn serialize_struct_variant(
        self,
        _: &'static str,
        _: u32,
        _: &'static str,
        _: usize,
    ) -> Result<Never, NotPlain> {
        Err(NotPlain)
    }
}

#[inline(never)]
fn text_of(text: &str) -> Tree {
    Tree::Text(text.to_owned())
}

struct ListOf(Vec<Tree>);

impl SerializeSeq for ListOf {
    type Ok = Tree;
    type Error = NotPlain;
    fn serialize_element<T: Serialize + ?Sized>(&mut self, value: &T) -> Result<(), NotPlain> {
        self.0.push(value.serialize(Plain)?);
        Ok(())
    }
    fn end(self) -> Result<Tree, NotPlain> {
        Ok(Tree::List(self.0))
    }
}

impl SerializeTuple for ListOf {
    type Ok = Tree;
    type Error = NotPlain;
    fn serialize_element<T: Serialize + ?Sized>(&mut self, value: &T) -> Result<(), NotPlain> {
        SerializeSeq::serialize_element(self, value)
    }
    fn end(self) -> Result<Tree, NotPlain> {
        Ok(Tree::List(self.0))
    }
}

struct RecordOf(Vec<(String, Tree)>);

impl RecordOf {
    // Out of line: it is the same for every field of every shape.
    #[inline(never)]
    fn put(&mut self, name: &'static str, value: Tree) {
        self.0.push((name.to_owned(), value));
    }
}

impl SerializeStruct for RecordOf {
    type Ok = Tree;
    type Error = NotPlain;
    fn serialize_field<T: Serialize + ?Sized>(
        &mut self,
        name: &'static str,
        value: &T,
    ) -> Result<(), NotPlain> {
        self.put(name, value.serialize(Plain)?);
        Ok(())
    }
    fn end(self) -> Result<Tree, NotPlain> {
        Ok(Tree::Record(self.0))
    }
}
