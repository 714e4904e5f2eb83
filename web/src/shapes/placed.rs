//! Pieces in the slots of a stack, as replies show them.

use glasscall_core::setup::{LossOrigin, Piece, Rig, Slot};
use glasscall_derive::{FromPlain, ToPlain, Twin};
use serde::{Deserialize, Serialize};
use tsify::Tsify;

/// A piece in a slot of a stack.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct PlacedReply {
    /// Id of the slot.
    pub slot: String,
    /// Id of the piece.
    pub piece: String,
    /// Stops it takes.
    pub stops: f64,
    /// How that is known.
    pub known_by: KnownBy,
}

/// How a loss became known.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, Serialize, ToPlain, Deserialize, FromPlain, Tsify, Twin,
)]
#[serde(rename_all = "camelCase")]
#[twin(from LossOrigin)]
pub enum KnownBy {
    /// Measured by the user.
    Measured,
    /// Stated in stops.
    Stated,
    /// Marked on the rim.
    Marked,
    /// Assumed for its kind.
    Assumed,
}

/// The filled slots of a stack, from the lens outward.
pub(crate) fn placed(kit: &[Piece], rig: &Rig, slots: &[Option<usize>]) -> Vec<PlacedReply> {
    let placed = |(slot, piece): (&Slot, &Option<usize>)| {
        piece.map(|piece| PlacedReply {
            slot: slot.id.clone(),
            piece: kit[piece].record().id.clone(),
            stops: kit[piece].loss().stops.stops(),
            known_by: kit[piece].loss().origin.into(),
        })
    };
    rig.slots.iter().zip(slots).filter_map(placed).collect()
}
