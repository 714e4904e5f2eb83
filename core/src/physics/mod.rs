//! The laws, one to a file, each with its units, domain and source.

pub mod bellows;
pub mod blur;
pub mod close_up;
pub mod depth_of_field;
pub mod diffraction;
mod edge;
pub mod exposure;
pub mod extender;
pub mod flicker;
pub mod gain;
pub mod infrared;
pub mod mired;
pub mod opening;
pub mod passed;
pub mod planckian;
mod plane;
pub mod plane_plate;
pub mod pupil;
pub mod pupil_range;
pub mod ramp;
pub(crate) mod root;
pub mod spare;
mod standard_observer;
