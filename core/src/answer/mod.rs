//! Whole answers, put together from laws and searches.

pub mod drift;
pub mod edge;
pub mod motion;
pub mod open_up;
pub mod pair;
pub mod sky_and_ground;
pub mod sky_frame;
pub mod sky_plan;
pub mod trend;
mod trim;

pub use trim::{Trim, TrimBy};
