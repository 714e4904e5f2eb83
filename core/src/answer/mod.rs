//! Whole answers, put together from laws and searches.

pub mod depth;
pub mod open_up;
mod trim;

pub use trim::{Trim, TrimBy};
