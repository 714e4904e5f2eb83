//! Where the sun stands, and its day.

pub mod day;
mod position;
mod series;

pub use position::{
    Air, EARTH_LAG_SECONDS, Observer, RISE_AND_SET_DEPTH, SunPosition, sun_position,
};
