//! One set-up: camera settings, the pieces in the case, the rig they go in.

mod focus;
mod piece;
mod rig;
mod settings;
mod shutter;
pub mod sizes;
mod view;

pub use focus::Focus;
pub use piece::{Loss, LossOrigin, Piece, PieceError, PieceKind, PieceRecord};
pub use rig::{MAX_SLOTS, Rig, Slot};
pub use settings::Settings;
pub use shutter::Shutter;
pub use view::{Tangents, View, ViewRecord};
