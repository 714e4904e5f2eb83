//! What a list, a record or a named choice hands over one by one.

use super::{FaultKind, Node, Thrown, place_of};
use crate::plain::tree::Tree;
use serde::de::value::{StrDeserializer, U32Deserializer};
use serde::de::{self, EnumAccess, MapAccess, SeqAccess, VariantAccess, Visitor};

/// The items of a list, and how many are read.
pub(super) struct Items<'de>(pub(super) &'de [Tree], pub(super) usize);

impl<'de> SeqAccess<'de> for Items<'de> {
    type Error = Thrown;

    fn next_element_seed<T: de::DeserializeSeed<'de>>(
        &mut self,
        seed: T,
    ) -> Result<Option<T::Value>, Thrown> {
        let Some(item) = self.0.get(self.1) else {
            return Ok(None);
        };
        let at = self.1;
        self.1 += 1;
        match seed.deserialize(Node(item)) {
            Ok(read) => Ok(Some(read)),
            Err(thrown) => Err(thrown.inside_item(at)),
        }
    }

    fn size_hint(&self) -> Option<usize> {
        Some(self.0.len() - self.1)
    }
}

/// The fields of a record whose names are known, and how many are read.
pub(super) struct Fields<'de> {
    pub(super) fields: &'de [(String, Tree)],
    pub(super) names: &'static [&'static str],
    pub(super) next: usize,
}

impl Fields<'_> {
    /// The place of the next field's name.
    #[inline(never)]
    fn name(&mut self) -> Result<Option<u32>, Thrown> {
        // A field that is set to nothing is a field left out.
        while matches!(self.fields.get(self.next), Some((_, Tree::Nothing))) {
            self.next += 1;
        }
        let Some((name, _)) = self.fields.get(self.next) else {
            return Ok(None);
        };
        match place_of(name, self.names) {
            Some(place) => Ok(Some(place)),
            None => Err(Thrown::new(FaultKind::Unknown, name)),
        }
    }
}

impl<'de> MapAccess<'de> for Fields<'de> {
    type Error = Thrown;

    fn next_key_seed<K: de::DeserializeSeed<'de>>(
        &mut self,
        seed: K,
    ) -> Result<Option<K::Value>, Thrown> {
        match self.name()? {
            Some(place) => seed.deserialize(U32Deserializer::new(place)).map(Some),
            None => Ok(None),
        }
    }

    fn next_value_seed<V: de::DeserializeSeed<'de>>(
        &mut self,
        seed: V,
    ) -> Result<V::Value, Thrown> {
        let (name, value) = &self.fields[self.next];
        self.next += 1;
        seed.deserialize(Node(value))
            .map_err(|thrown| thrown.inside(name))
    }
}

/// The fields of any record, and how many are read.
pub(super) struct Named<'de>(pub(super) &'de [(String, Tree)], pub(super) usize);

impl<'de> MapAccess<'de> for Named<'de> {
    type Error = Thrown;

    fn next_key_seed<K: de::DeserializeSeed<'de>>(
        &mut self,
        seed: K,
    ) -> Result<Option<K::Value>, Thrown> {
        let Some((name, _)) = self.0.get(self.1) else {
            return Ok(None);
        };
        seed.deserialize(StrDeserializer::new(name)).map(Some)
    }

    fn next_value_seed<V: de::DeserializeSeed<'de>>(
        &mut self,
        seed: V,
    ) -> Result<V::Value, Thrown> {
        let (name, value) = &self.0[self.1];
        self.1 += 1;
        seed.deserialize(Node(value))
            .map_err(|thrown| thrown.inside(name))
    }
}

/// A variant without content, by its place.
pub(super) struct Variant(pub(super) u32);

impl<'de> EnumAccess<'de> for Variant {
    type Error = Thrown;
    type Variant = Self;

    fn variant_seed<V: de::DeserializeSeed<'de>>(
        self,
        seed: V,
    ) -> Result<(V::Value, Self), Thrown> {
        let variant = seed.deserialize(U32Deserializer::new(self.0))?;
        Ok((variant, self))
    }
}

impl<'de> VariantAccess<'de> for Variant {
    type Error = Thrown;

    fn unit_variant(self) -> Result<(), Thrown> {
        Ok(())
    }

    fn newtype_variant_seed<T: de::DeserializeSeed<'de>>(self, _: T) -> Result<T::Value, Thrown> {
        Err(Thrown::new(FaultKind::WrongType(None), ""))
    }

    fn tuple_variant<V: Visitor<'de>>(self, _: usize, _: V) -> Result<V::Value, Thrown> {
        Err(Thrown::new(FaultKind::WrongType(None), ""))
    }

    fn struct_variant<V: Visitor<'de>>(
        self,
        _: &'static [&'static str],
        _: V,
    ) -> Result<V::Value, Thrown> {
        Err(Thrown::new(FaultKind::WrongType(None), ""))
    }
}
