//! Quantities that are a number in a unit and no more.

use super::quantity;

quantity!(
    /// A number that has not been told its quantity yet.
    Number,
    NUMBER,
    /// As said.
    value
);
quantity!(
    /// Exposure index on the arithmetic scale: twice the index, half the light.
    ExposureIndex,
    EXPOSURE_INDEX,
    /// The index.
    index
);
quantity!(
    /// Frames a second.
    FrameRate,
    FRAME_RATE,
    /// In frames a second.
    per_second
);
quantity!(
    /// The open part of a frame's time, 360° being all of it.
    ShutterAngle,
    SHUTTER_ANGLE,
    /// In degrees, (0, 360].
    degrees
);
quantity!(
    /// Exposure time.
    Seconds,
    SECONDS,
    /// In seconds.
    seconds
);
quantity!(
    /// A size or a signed distance.
    Length,
    LENGTH,
    /// In millimetres.
    millimetres
);
quantity!(
    /// A width, height or diameter: there is something of it.
    Span,
    SPAN,
    /// In millimetres.
    millimetres
);
quantity!(
    /// How many times wider a field an anamorphic lens takes in; 1 is spherical.
    Squeeze,
    SQUEEZE,
    /// Horizontal field over the field of a spherical lens.
    ratio
);
quantity!(
    /// An angle as given, not wrapped.
    Angle,
    ANGLE,
    /// In degrees.
    degrees
);
quantity!(
    /// Focal length of a lens, the vertical one where a squeeze makes two.
    FocalLength,
    FOCAL_LENGTH,
    /// In millimetres.
    millimetres
);
quantity!(
    /// Pressure of the air.
    AirPressure,
    AIR_PRESSURE,
    /// In hectopascals.
    hectopascals
);
quantity!(
    /// Temperature of the air.
    AirTemperature,
    AIR_TEMPERATURE,
    /// In degrees Celsius.
    celsius
);
quantity!(
    /// How much slower light is in it than in air.
    RefractiveIndex,
    REFRACTIVE_INDEX,
    /// The index.
    index
);
quantity!(
    /// Angle of a ray from a surface's normal.
    Incidence,
    INCIDENCE,
    /// In degrees, 0 square on.
    degrees
);
quantity!(
    /// How many times more light passes parallel than crossed.
    ExtinctionRatio,
    EXTINCTION_RATIO,
    /// The ratio.
    ratio
);
quantity!(
    /// A share of light.
    Share,
    SHARE,
    /// 0 for none, 1 for all.
    share
);
quantity!(
    /// Angle from the equator, north positive.
    Latitude,
    LATITUDE,
    /// In degrees.
    degrees
);
quantity!(
    /// Angle from the prime meridian, east positive.
    Longitude,
    LONGITUDE,
    /// In degrees.
    degrees
);
quantity!(
    /// Angle above the horizon.
    Elevation,
    ELEVATION,
    /// In degrees.
    degrees
);
quantity!(
    /// Polarized share of light that is polarized in part.
    Polarization,
    POLARIZATION,
    /// As a share, 0 for light as it comes.
    share
);
quantity!(
    /// Light falling on a surface.
    Illuminance,
    ILLUMINANCE,
    /// In lux.
    lux
);
quantity!(
    /// Light leaving a surface towards the lens.
    Luminance,
    LUMINANCE,
    /// In candela per square metre.
    candela_per_square_metre
);
quantity!(
    /// Exposure value of a scene at EI 100: log2(N²/t) when S is 100.
    EvAt100,
    EV,
    /// In stops from N 1 and 1 s.
    ev
);
quantity!(
    /// Calibration constant C of an incident-light meter.
    IncidentConstant,
    INCIDENT_CONSTANT,
    /// In lux seconds at EI 1 and N 1.
    lux_seconds
);
quantity!(
    /// Calibration constant K of a reflected-light meter.
    ReflectedConstant,
    REFLECTED_CONSTANT,
    /// In candela seconds per square metre at EI 1 and N 1.
    candela_seconds_per_square_metre
);
quantity!(
    /// Electronic gain of a signal that is linear in exposure.
    Gain,
    GAIN,
    /// In decibels of a field quantity.
    decibels
);
quantity!(
    /// A shift on the reciprocal colour-temperature scale; positive is warmer.
    MiredShift,
    MIRED_SHIFT,
    /// In mired, 10⁶/K.
    mired
);

impl Angle {
    /// No turn at all.
    pub const ZERO: Self = Self(0.0);
}

impl Length {
    /// No length at all.
    pub const ZERO: Self = Self(0.0);
}

#[cfg(test)]
mod tests {
    use super::{ExposureIndex, ShutterAngle};

    #[test]
    fn a_quantity_keeps_what_it_was_given() {
        assert_eq!(
            ExposureIndex::new(800.0).map(ExposureIndex::index),
            Ok(800.0)
        );
        assert_eq!(
            ShutterAngle::new(172.8).map(ShutterAngle::degrees),
            Ok(172.8)
        );
    }

    #[test]
    fn nothing_and_less_are_refused() {
        assert!(ExposureIndex::new(0.0).is_err());
        assert!(ShutterAngle::new(-180.0).is_err());
    }
}
