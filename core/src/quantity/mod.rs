//! Measured quantities: one private `f64` each, in one documented unit.
//!
//! A value that exists is finite and inside its range, so no formula rechecks.

mod aperture;
mod bounds;
mod density;
mod number;
mod optics;
mod reach;
mod series;
mod stops;
mod units;

pub use aperture::{Aperture, ApertureLabel};
pub use bounds::{Bounds, OutOfRange};
pub use density::Density;
pub use optics::{
    ColourTemperature, Disc, Distance, Extender, GlassIndex, LensPower, Magnification,
    MainsFrequency, PupilRatio, Thickness, Wavelength,
};
pub use reach::Reach;
pub use series::{Series, exact_index};
pub use stops::{IrisThirds, Stops};
pub use units::{
    Angle, EvAt100, ExposureIndex, FocalLength, FrameRate, Gain, Illuminance, IncidentConstant,
    Length, Luminance, MiredShift, Number, ReflectedConstant, Seconds, ShutterAngle, Span, Squeeze,
};

use number::quantity;
