//! One set-up: camera settings, aim, the pieces in the case, the rig they go in.

mod aim;
mod focus;
mod location;
mod piece;
mod rig;
mod settings;
mod shutter;
pub mod sizes;
mod slot_set;
mod uncertainty;
mod view;
mod wheel;

pub use aim::Aim;
pub use focus::Focus;
pub use location::Location;
pub use piece::{Loss, LossOrigin, Piece, PieceError, PieceKind, PieceRecord};
pub use rig::{MAX_SLOTS, Rig, Slot};
pub use settings::Settings;
pub use shutter::Shutter;
pub use slot_set::SlotSet;
pub use uncertainty::{Contribution, Origin, Uncertainties, Uncertainty};
pub use view::{Tangents, View, ViewRecord};
pub use wheel::WheelPosition;
