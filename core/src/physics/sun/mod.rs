//! Where the sun stands, and its day.

mod air;
pub mod day;
mod image;
mod position;
mod series;

pub use air::{Air, RISE_AND_SET_DEPTH, is_up};
pub use image::{RADIUS_OVER_DISTANCE, SunImage, sun_image};
pub use position::{
    EARTH_LAG_SECONDS, Observer, SunFromEarth, SunPosition, sun_from_earth, sun_position,
};
