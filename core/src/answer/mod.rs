//! Whole answers, put together from laws and searches.

pub mod open_up;
pub mod sky_frame;
pub mod sky_plan;
mod trim;

pub use trim::{Trim, TrimBy};
