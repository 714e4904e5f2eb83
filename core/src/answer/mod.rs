//! Whole answers, put together from laws and searches.

pub mod cover_kit;
pub mod open_up;
pub mod order_day;
mod trim;

pub use trim::{Trim, TrimBy};
