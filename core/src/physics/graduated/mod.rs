//! Graduated filters and their line.

pub mod blend;
mod footprint;
pub mod line;
pub mod profile;
pub mod through;

pub use footprint::Footprint;
