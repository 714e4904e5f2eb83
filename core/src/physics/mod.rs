//! The laws, one to a file, each with its units, domain and source.
//!
//! A law is reached by its own name, wherever its family keeps it.

pub mod colour;
pub mod exposure;
pub mod focus;
pub mod graduated;
pub mod polarization;
pub(crate) mod quadrature;
pub(crate) mod root;
pub mod sun;
pub mod vignetting;
pub mod weight;

pub use colour::{infrared, mired, planckian};
pub use exposure::{daylight, flicker, gain, ramp};
pub use focus::{
    bellows, blur, close_up, depth_of_field, diffraction, extender, ghost, plane_plate,
};
pub use graduated::{blend, line, profile, through};
pub use polarization::{fresnel, polarizer_pair, sheet, sky};
pub use sun::day as sun_day;
pub use vignetting::{
    cards, flag, known_lens, lens_shape, opening, passed, pupil, pupil_range, region, spare,
};
