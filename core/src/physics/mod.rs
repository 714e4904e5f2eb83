//! The laws, one to a file, each with its units, domain and source.

pub mod daylight;
mod edge;
pub mod exposure;
pub mod flag;
pub mod fresnel;
pub mod gain;
pub mod ghost;
pub mod graduated;
pub mod infrared;
pub mod line;
pub mod opening;
pub mod passed;
mod plane;
pub mod polarizer_pair;
pub mod profile;
pub mod pupil;
pub mod pupil_range;
pub(crate) mod root;
pub mod sheet;
pub mod sky;
pub mod spare;
pub mod sun;
pub mod sun_day;
mod sun_series;
