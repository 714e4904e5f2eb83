//! The laws, one to a file, each with its units, domain and source.

mod edge;
pub mod exposure;
pub mod gain;
pub mod infrared;
pub mod moment;
pub mod opening;
pub mod passed;
mod plane;
pub mod pupil;
pub mod pupil_range;
pub(crate) mod root;
pub mod spare;
