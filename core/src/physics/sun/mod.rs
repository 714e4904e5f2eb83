//! Where the sun stands, and its day.

pub mod day;
mod image;
mod position;
mod series;

pub use image::{RADIUS_OVER_DISTANCE, SunImage, sun_image};
pub use position::{
    Air, EARTH_LAG_SECONDS, Observer, RISE_AND_SET_DEPTH, SunPosition, sun_position,
};
