//! The laws, one to a file, each with its units, domain and source.

mod edge;
pub mod exposure;
pub mod gain;
pub mod graduated;
pub mod infrared;
pub mod line;
pub mod opening;
pub mod passed;
mod plane;
pub mod profile;
pub mod pupil;
pub mod pupil_range;
pub(crate) mod root;
pub mod sheet;
pub mod sky;
pub mod spare;
