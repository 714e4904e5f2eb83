//! Mechanical vignetting: what in front of the lens takes light from the picture.

mod boundary;
pub mod flag;
pub mod opening;
pub mod passed;
mod plane;
pub mod pupil;
pub mod pupil_range;
pub mod spare;
