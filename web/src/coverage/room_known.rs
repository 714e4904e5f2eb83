//! How well a room is known, as replies tell it.

use glasscall_core::answer::fit::{RoomFrom, RoomKnown};
use glasscall_derive::{FromPlain, ToPlain, Twin};
use serde::{Deserialize, Serialize};
use tsify::Tsify;

/// How well a room is known.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct RoomKnownReply {
    /// How far off it may be, on the average of squares, mm.
    pub mm: f64,
    /// The largest cause; absent where nothing is uncertain.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub mostly: Option<RoomCauseReply>,
}

/// One cause of it.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct RoomCauseReply {
    /// What it is.
    pub what: RoomCauseName,
    /// What it does by itself, mm.
    pub mm: f64,
}

/// Where it comes from.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, Serialize, ToPlain, Deserialize, FromPlain, Tsify, Twin,
)]
#[serde(rename_all = "camelCase")]
#[twin(from RoomFrom)]
pub enum RoomCauseName {
    /// Where the pupil of the lens lies.
    Pupil,
    /// How the lens bends its picture.
    Distortion,
    /// How the pupil grows towards the corner, and what rims inside take of it.
    #[twin(Growth)]
    PupilGrowth,
    /// How the near card was read.
    NearCard,
    /// How the far card was read.
    FarCard,
    /// How far ahead of the rim the opening stands.
    OpeningPlace,
    /// What the model of the lens leaves out.
    Model,
}

impl From<RoomKnown> for RoomKnownReply {
    fn from(known: RoomKnown) -> Self {
        Self {
            mm: known.millimetres,
            mostly: known.mostly.map(|(from, mm)| RoomCauseReply {
                what: from.into(),
                mm,
            }),
        }
    }
}
