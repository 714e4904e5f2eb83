//! Whole answers, put together from laws and searches.

pub mod edge;
pub mod motion;
pub mod open_up;
pub mod sky_and_ground;
pub mod sky_frame;
pub mod sky_plan;
mod trim;

pub use trim::{Trim, TrimBy};
