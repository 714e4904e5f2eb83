//! The seam between [`glasscall_core`] and JavaScript.
//!
//! Each function of the public interface takes one plain request and gives one
//! plain reply. A file in a family's room holds both shapes and the way from one
//! to the other through the core; nothing in it is physical. `shapes` holds
//! what several of them are asked with, `plain` plain values and the one shape
//! of a refusal, [`bindings`] all that touches JavaScript.

pub mod bindings;
mod case;
mod colour;
mod coverage;
mod exposure;
mod focus;
mod graduated;
mod hand_over;
mod light;
mod plain;
pub mod questions;
mod shapes;
mod unknown;

pub use case::*;
pub use colour::*;
pub use coverage::*;
pub use exposure::*;
pub use focus::*;
pub use graduated::*;
pub use hand_over::*;
pub use light::*;
pub use plain::*;
pub use shapes::*;
pub use unknown::*;
