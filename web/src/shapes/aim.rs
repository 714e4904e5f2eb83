//! Directions of sun and lens as requests give them.

use crate::plain::refusal::{At, Refusal};
use glasscall_core::physics::sky::{CLEAN_SKY, Sky};
use glasscall_core::quantity::{Angle, Direction, Elevation, Polarization};

/// The direction of an azimuth and an elevation, named as a request names them.
pub(crate) fn direction(
    (azimuth, azimuth_field): (f64, &str),
    (elevation, elevation_field): (f64, &str),
) -> Result<Direction, Refusal> {
    Ok(Direction::from_bearing(
        Angle::new(azimuth).at(azimuth_field)?,
        Elevation::new(elevation).at(elevation_field)?,
    ))
}

/// The clear sky under a sun given as `sunAzimuthDeg` and `sunElevationDeg`.
pub(crate) fn sky(azimuth: f64, elevation: f64, most: Option<f64>) -> Result<Sky, Refusal> {
    Ok(Sky {
        sun: direction((azimuth, "sunAzimuthDeg"), (elevation, "sunElevationDeg"))?,
        most: max_polarization(most)?,
    })
}

/// `maxPolarization`, a clean sky's unless said.
pub(crate) fn max_polarization(most: Option<f64>) -> Result<Polarization, Refusal> {
    Polarization::new(most.unwrap_or(CLEAN_SKY)).at("maxPolarization")
}
