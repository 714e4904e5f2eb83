//! What is sharp, and what glass in the way does to it.

pub mod bellows;
pub mod blur;
pub mod close_up;
pub mod depth_of_field;
pub mod diffraction;
pub mod extender;
pub mod ghost;
pub mod plane_plate;
