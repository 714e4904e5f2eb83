//! The laws, one to a file, each with its units, domain and source.

pub mod bellows;
pub mod blur;
pub mod close_up;
pub mod depth_of_field;
pub mod diffraction;
pub mod exposure;
pub mod extender;
pub mod flicker;
pub mod gain;
pub mod infrared;
pub mod mired;
pub mod planckian;
pub mod plane_plate;
pub mod ramp;
mod standard_observer;
