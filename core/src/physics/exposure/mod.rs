//! Light, stop, time and exposure index.

pub mod daylight;
mod equation;
pub mod flicker;
pub mod gain;
pub mod ramp;

pub use equation::{
    CLEAR_SUN_APERTURE, DOME_RECEPTOR, Exposure, FLAT_RECEPTOR, REFLECTED, aperture_for,
    change_but_iris, clear_sun, ev_of_illuminance, ev_of_luminance, glass_between, illuminance,
    index_for, luminance, time_for, time_through,
};
