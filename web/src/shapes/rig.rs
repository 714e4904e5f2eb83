//! The slots of a rig as several requests give them.

use crate::shapes::opening::OpeningRequest;
use glasscall_derive::{FromPlain, ToPlain};
use serde::{Deserialize, Serialize};
use tsify::Tsify;

/// The slots, from the lens outward.
#[derive(Debug, Clone, Default, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct RigRequest {
    /// Up to 8.
    #[serde(default)]
    pub slots: Vec<SlotRequest>,
    /// Openings that are there whatever is in: rings, a mask, a hood.
    #[serde(default)]
    pub always: Vec<OpeningRequest>,
}

/// One slot.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct SlotRequest {
    /// The user's name for it, used once.
    pub id: String,
    /// Thread or panel size; left out it takes any.
    #[serde(default)]
    pub size: String,
    /// Whether a piece in it can be turned.
    #[serde(default)]
    pub rotates: bool,
    /// The opening that light passes when a piece is in it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub opening: Option<OpeningRequest>,
}
