//! Measured quantities: one private `f64` each, in one documented unit.
//!
//! A value that exists is finite and inside its range, so no formula rechecks.

mod aperture;
mod bounds;
mod density;
mod direction;
mod mass;
mod moment;
mod number;
mod optics;
mod reach;
mod series;
mod stops;
mod units;

pub use aperture::{Aperture, ApertureLabel};
pub use bounds::{Bounds, OutOfRange};
pub use density::Density;
pub use direction::Direction;
pub use mass::Mass;
pub use moment::{CivilDate, Moment, UtcOffset};
pub use optics::{
    ColourTemperature, Disc, Distance, Extender, LensPower, Magnification, MainsFrequency,
    PupilRatio, Thickness, Wavelength,
};
pub use reach::Reach;
pub use series::{Series, exact_index};
pub use stops::{IrisThirds, Stops};
pub use units::{
    AirPressure, AirTemperature, Angle, Elevation, EvAt100, ExposureIndex, ExtinctionRatio,
    FocalLength, FrameRate, Gain, Illuminance, Incidence, IncidentConstant, Latitude, Length,
    Longitude, Luminance, MiredShift, Number, Polarization, ReflectedConstant, RefractiveIndex,
    Seconds, Share, ShutterAngle, Span, Squeeze,
};

use number::quantity;
