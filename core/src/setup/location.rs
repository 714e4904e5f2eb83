//! Where on Earth the camera stands.

use crate::quantity::{Latitude, Longitude};

/// A place at sea level.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Location {
    /// North positive.
    pub latitude: Latitude,
    /// East positive.
    pub longitude: Longitude,
}
