//! The laws, one to a file, each with its units, domain and source.

pub mod exposure;
pub mod gain;
pub mod infrared;
pub mod sheet;
pub mod sky;
pub mod sun;
pub mod sun_day;
mod sun_series;
