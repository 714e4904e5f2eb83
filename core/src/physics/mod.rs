//! The laws, one to a file, each with its units, domain and source.

pub mod exposure;
pub mod gain;
pub mod infrared;
pub mod moment;
