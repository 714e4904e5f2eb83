//! A distance that may be infinity, and what it is measured from.

use crate::plain::reading::Noted;
use crate::plain::refusal::{At, Refusal};
use crate::plain::tree::Tree;
use glasscall_core::quantity::{Distance, FocalLength, OutOfRange, Reach};
use glasscall_core::setup::Focus;
use glasscall_derive::{FromPlain, ToPlain};
use serde::de::{self, Unexpected, Visitor};
use serde::{Deserialize, Deserializer, Serialize};
use std::fmt;
use tsify::Tsify;

/// A distance in millimetres, or `"infinity"`.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, ToPlain, Tsify)]
#[serde(untagged)]
pub enum Place {
    /// In millimetres.
    Millimetres(f64),
    /// `"infinity"`.
    Named(NoNumber),
}

/// The one place without a number.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase")]
pub enum NoNumber {
    /// A star, the horizon.
    Infinity,
}

/// Where distances are counted from.
#[derive(
    Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, ToPlain, Deserialize, FromPlain, Tsify,
)]
#[serde(rename_all = "camelCase")]
pub enum MeasuredFrom {
    /// The (thin) lens.
    #[default]
    Lens,
    /// The sensor, as tapes and focus marks count.
    Sensor,
}

impl crate::plain::reading::FromPlain for Place {
    fn from_plain(tree: &Tree, noted: &mut Noted) -> Self {
        match tree {
            Tree::Number(millimetres) => Self::Millimetres(*millimetres),
            Tree::Text(name) if name == "infinity" => Self::INFINITY,
            _ => {
                noted.wrong(tree);
                Self::INFINITY
            }
        }
    }
}

/// Read by hand, so that a refusal can tell what was given.
impl<'de> Deserialize<'de> for Place {
    fn deserialize<D: Deserializer<'de>>(reader: D) -> Result<Self, D::Error> {
        reader.deserialize_any(PlaceVisitor)
    }
}

struct PlaceVisitor;

impl Visitor<'_> for PlaceVisitor {
    type Value = Place;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("millimetres or infinity")
    }

    fn visit_f64<E: de::Error>(self, millimetres: f64) -> Result<Place, E> {
        Ok(Place::Millimetres(millimetres))
    }

    fn visit_i64<E: de::Error>(self, millimetres: i64) -> Result<Place, E> {
        f64_of(millimetres).map(Place::Millimetres)
    }

    fn visit_u64<E: de::Error>(self, millimetres: u64) -> Result<Place, E> {
        f64_of(millimetres).map(Place::Millimetres)
    }

    fn visit_str<E: de::Error>(self, name: &str) -> Result<Place, E> {
        match name {
            "infinity" => Ok(Place::INFINITY),
            _ => Err(E::invalid_value(Unexpected::Str(name), &self)),
        }
    }
}

/// Whole numbers beyond a u32 are no distance anyone means.
fn f64_of<E: de::Error>(whole: impl TryInto<u32>) -> Result<f64, E> {
    (whole.try_into().map(f64::from)).map_err(|_| E::custom("a distance"))
}

impl Place {
    pub(crate) const INFINITY: Self = Self::Named(NoNumber::Infinity);

    pub(crate) fn reach(self, field: &str) -> Result<Reach, Refusal> {
        match self {
            Self::Millimetres(distance) => Distance::new(distance).map(Reach::At).at(field),
            Self::Named(NoNumber::Infinity) => Ok(Reach::Infinity),
        }
    }
}

impl From<Reach> for Place {
    fn from(reach: Reach) -> Self {
        (reach.distance()).map_or(Self::INFINITY, |distance| {
            Self::Millimetres(distance.millimetres())
        })
    }
}

impl MeasuredFrom {
    /// A lens focused on a place counted from here.
    pub(crate) fn focus(self, focal: FocalLength, on: Reach) -> Result<Focus, OutOfRange> {
        match self {
            Self::Lens => Focus::from_lens(focal, on),
            Self::Sensor => Focus::from_sensor(focal, on),
        }
    }

    /// What to add to a distance from the lens.
    pub(crate) fn behind_lens(self, focus: Focus) -> f64 {
        match self {
            Self::Lens => 0.0,
            Self::Sensor => focus.image_distance(),
        }
    }

    /// A scale reading for a lens focused on `on`, counted from the lens.
    pub(crate) fn reading(self, focal: FocalLength, on: Reach) -> Result<Place, OutOfRange> {
        let focus = Focus::from_lens(focal, on)?;
        Ok(match self {
            Self::Lens => on.into(),
            Self::Sensor => focus.on_tape()?.into(),
        })
    }
}
