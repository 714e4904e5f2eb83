//! Whole answers, put together from laws and searches.

pub mod edge;
pub mod frame_map;
pub mod motion;
pub mod open_up;
pub mod sky_and_ground;
mod trim;

pub use trim::{Trim, TrimBy};
