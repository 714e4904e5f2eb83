//! Every permitted range, in one table.

use core::fmt;

/// The range a quantity may take, ends included.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bounds {
    /// The quantity in a photographer's words.
    pub quantity: &'static str,
    /// The unit of `min` and `max`.
    pub unit: &'static str,
    /// Smallest value.
    pub min: f64,
    /// Largest value.
    pub max: f64,
}

/// A value outside its quantity's range, or not a finite number.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OutOfRange {
    /// The range that was missed.
    pub bounds: Bounds,
    /// What was given.
    pub given: f64,
}

impl Bounds {
    const fn new(quantity: &'static str, unit: &'static str, min: f64, max: f64) -> Self {
        Self {
            quantity,
            unit,
            min,
            max,
        }
    }

    /// The same range from here on.
    #[must_use]
    pub const fn from(self, min: f64) -> Self {
        Self { min, ..self }
    }

    /// The same range up to here.
    #[must_use]
    pub const fn to(self, max: f64) -> Self {
        Self { max, ..self }
    }

    /// The same range seen from a place further down: all of it so much higher.
    #[must_use]
    pub const fn raised(self, by: f64) -> Self {
        self.from(self.min + by).to(self.max + by)
    }

    /// Whether `given` lies in the range; what is no number does not.
    #[must_use]
    pub const fn holds(self, given: f64) -> bool {
        // NaN compares false with everything.
        given >= self.min && given <= self.max
    }

    /// Returns `given` when it lies in the range.
    ///
    /// # Errors
    ///
    /// [`OutOfRange`] when it does not, NaN and infinities included.
    pub const fn check(self, given: f64) -> Result<f64, OutOfRange> {
        if self.holds(given) {
            Ok(given)
        } else {
            Err(OutOfRange {
                bounds: self,
                given,
            })
        }
    }

    /// Any number a person says.
    pub const NUMBER: Self = Self::new("number", "", -1e12, 1e12);
    /// Aperture number: from faster than any lens made to a pinhole.
    pub const APERTURE: Self = Self::new("aperture number", "", 0.25, 1024.0);
    /// Optical density of one piece, one wheel position or one sum.
    pub const DENSITY: Self = Self::new("density", "D", 0.0, 12.0);
    /// A difference of exposure, either way.
    pub const STOPS: Self = Self::new("stops", "stops", -100.0, 100.0);
    /// Filter factor 1/T.
    pub const FACTOR: Self = Self::new("filter factor", "times", 1.0, 1e12);
    /// Share of the light that passes.
    pub const TRANSMITTANCE: Self = Self::new("transmittance", "share", 1e-12, 1.0);
    /// Exposure index, arithmetic scale.
    pub const EXPOSURE_INDEX: Self = Self::new("exposure index", "EI", 1.0, 10_000_000.0);
    /// Frames a second.
    pub const FRAME_RATE: Self = Self::new("frame rate", "fps", 0.001, 1_000_000.0);
    /// Shutter angle.
    pub const SHUTTER_ANGLE: Self = Self::new("shutter angle", "°", 0.01, 360.0);
    /// Exposure time, from the smallest angle at the highest frame rate to a day.
    pub const SECONDS: Self = Self::new("exposure time", "s", 1e-11, 86_400.0);
    /// A size or distance, signed; the longest is a thousand kilometres.
    pub const LENGTH: Self = Self::new("length", "mm", -1e9, 1e9);
    /// Lens shift, further than any view camera's.
    pub const LENS_SHIFT: Self = Self::new("lens shift", "mm", -1000.0, 1000.0);
    /// Stops of light that a glass or a lens takes.
    pub const LOSS: Self = Self::new("loss", "stops", 0.0, 100.0);
    /// From the entrance pupil forward to a piece of glass.
    pub const PUPIL_TO_GLASS: Self = Self::new("pupil to glass", "mm", 0.1, 10_000.0);
    /// A place in the frame, 0 to 1, or as far again outside as matters.
    pub const FRAME_PLACE: Self = Self::new("place in the frame", "share", -10.0, 10.0);
    /// A place inside the frame.
    pub const IN_FRAME: Self = Self::new("place in the frame", "share", 0.0, 1.0);
    /// The ramp of a graduated filter; 0 is a step.
    pub const RAMP: Self = Self::new("ramp", "mm", 0.0, 1000.0);
    /// Latitude, north positive.
    pub const LATITUDE: Self = Self::new("latitude", "°", -90.0, 90.0);
    /// Longitude, east positive.
    pub const LONGITUDE: Self = Self::new("longitude", "°", -180.0, 180.0);
    /// Elevation above the horizon.
    pub const ELEVATION: Self = Self::new("elevation", "°", -90.0, 90.0);
    /// A moment, 1900 to 2200, in seconds since 1970.
    pub const MOMENT: Self = Self::new("moment", "s", -2_208_988_800.0, 7_258_118_400.0);
    /// Local time less UTC.
    pub const UTC_OFFSET: Self = Self::new("time-zone offset", "min", -1080.0, 1080.0);
    /// Air pressure, from the highest summit down to the deepest shore.
    pub const AIR_PRESSURE: Self = Self::new("air pressure", "hPa", 300.0, 1100.0);
    /// Air temperature where people film.
    pub const AIR_TEMPERATURE: Self = Self::new("air temperature", "°C", -90.0, 60.0);
    /// Refractive index against air, from just above it to germanium.
    pub const REFRACTIVE_INDEX: Self = Self::new("refractive index", "", 1.0001, 5.0);
    /// Angle of a ray from a surface's normal.
    pub const INCIDENCE: Self = Self::new("angle from the normal", "°", 0.0, 90.0);
    /// Light passed against light stopped by a polarizer or a pair.
    pub const EXTINCTION_RATIO: Self = Self::new("extinction ratio", "times", 1.01, 1e12);
    /// A share of light.
    pub const SHARE: Self = Self::new("share", "", 0.0, 1.0);
    /// Distortion at the farthest corner, tan θ·f/h − 1.
    pub const DISTORTION: Self = Self::new("distortion", "", -0.5, 2.0);
    /// Growth of the pupil with tan²θ.
    pub const PUPIL_GROWTH: Self = Self::new("growth of the pupil", "", -1.0, 4.0);
    /// Degree of polarization of the clear sky at its strongest.
    pub const POLARIZATION: Self = Self::new("degree of polarization", "share", 0.0, 1.0);
    /// A width, height or diameter, up to a window's.
    pub const SPAN: Self = Self::new("size", "mm", 0.1, 10_000.0);
    /// Focal length, up to the longest lens on a tripod.
    pub const FOCAL_LENGTH: Self = Self::new("focal length", "mm", 1.0, 10_000.0);
    /// Anamorphic squeeze, either way round.
    pub const SQUEEZE: Self = Self::new("squeeze", "times", 0.4, 2.5);
    /// An angle as given; wrapped where a law needs it.
    pub const ANGLE: Self = Self::new("angle", "°", -3600.0, 3600.0);
    /// Illuminance: from beyond starlight to a lamp at its lens.
    pub const ILLUMINANCE: Self = Self::new("illuminance", "lx", 1e-9, 1e9);
    /// Luminance: from the night sky to above the sun's disc.
    pub const LUMINANCE: Self = Self::new("luminance", "cd/m²", 1e-9, 1e11);
    /// Exposure value at EI 100.
    pub const EV: Self = Self::new("exposure value", "EV", -40.0, 40.0);
    /// Incident calibration constant C over all receptors.
    pub const INCIDENT_CONSTANT: Self = Self::new("incident constant C", "lx·s", 240.0, 540.0);
    /// Reflected calibration constant K.
    pub const REFLECTED_CONSTANT: Self = Self::new("reflected constant K", "cd·s/m²", 10.6, 13.4);
    /// Electronic gain.
    pub const GAIN: Self = Self::new("gain", "dB", -120.0, 120.0);
    /// A mass: up to a tonne.
    pub const MASS: Self = Self::new("mass", "g", 0.0, 1e6);
    /// Shift of colour temperature on the mired scale.
    pub const MIRED_SHIFT: Self = Self::new("mired shift", "mired", -1000.0, 1000.0);
    /// How far away something is; a millimetre to a thousand kilometres.
    pub const DISTANCE: Self = Self::new("distance", "mm", 1.0, 1e9);
    /// Diameter of a disc on the sensor.
    pub const DISC: Self = Self::new("disc on the sensor", "mm", 1e-4, 1000.0);
    /// Wavelength in vacuum, from the near ultraviolet to the near infrared.
    pub const WAVELENGTH: Self = Self::new("wavelength", "nm", 200.0, 2000.0);
    /// Thickness of a flat piece of glass.
    pub const THICKNESS: Self = Self::new("thickness", "mm", 0.0, 100.0);
    /// Power of a close-up lens, or of several together.
    pub const LENS_POWER: Self = Self::new("power", "dioptres", 0.01, 100.0);
    /// Colour temperature: from an ember to bluer than any sky.
    pub const COLOUR_TEMPERATURE: Self = Self::new("colour temperature", "K", 1000.0, 1e6);
    /// The same on the reciprocal scale.
    pub const RECIPROCAL_TEMPERATURE: Self = Self::new(
        "colour temperature",
        "mired",
        1e6 / Self::COLOUR_TEMPERATURE.max,
        1e6 / Self::COLOUR_TEMPERATURE.min,
    );
    /// Image size over subject size.
    pub const MAGNIFICATION: Self = Self::new("magnification", "times", 0.0, 100.0);
    /// Exit pupil over entrance pupil.
    pub const PUPIL_RATIO: Self = Self::new("pupil ratio", "times", 0.05, 20.0);
    /// What an extender or a focal reducer multiplies the focal length by.
    pub const EXTENDER: Self = Self::new("extender", "times", 0.25, 8.0);
    /// How much a T-number is above the f-number: more than any lens loses.
    pub const LENS_LOSS: Self = Self::new("light lost in the lens", "stops", 0.0, 5.0);
    /// Into how many parts the diagonal goes for the circle that looks sharp.
    pub const DIAGONAL_PARTS: Self = Self::new("parts of the diagonal", "", 100.0, 20_000.0);
    /// From a stop to the ones told beside it.
    pub const NEIGHBOUR: Self = Self::new("stops to a neighbour", "stops", 0.05, 10.0);
    /// How far the picture may change before anybody minds.
    pub const ALLOWED_CHANGE: Self = Self::new("change allowed", "stops", 0.0, 100.0);
    /// How far off a colour still looks even.
    pub const EVEN_WITHIN: Self = Self::new("even within", "mired", 0.0, 1000.0);
    /// Width over height of a picture.
    pub const PICTURE_SHAPE: Self = Self::new("shape of the picture", "", 0.01, 100.0);
    /// How far a picture may lean and still have a horizon.
    pub const HORIZON_ROLL: Self = Self::new("roll", "°", -89.0, 89.0);
    /// Frequency of the mains.
    pub const MAINS: Self = Self::new("mains frequency", "Hz", 10.0, 1000.0);
}

impl fmt::Display for OutOfRange {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Bounds {
            quantity,
            unit,
            min,
            max,
        } = self.bounds;
        write!(
            f,
            "{quantity} is {given}, needs {min} to {max} {unit}",
            given = self.given
        )
    }
}

impl core::error::Error for OutOfRange {}

#[cfg(test)]
mod tests {
    use super::Bounds;

    #[test]
    fn both_ends_belong_to_the_range() {
        assert_eq!(Bounds::SHUTTER_ANGLE.check(360.0), Ok(360.0));
        assert_eq!(Bounds::SHUTTER_ANGLE.check(0.01), Ok(0.01));
        assert!(Bounds::SHUTTER_ANGLE.check(360.000_1).is_err());
    }

    #[test]
    fn what_is_no_number_is_out_of_range() {
        assert!(Bounds::DENSITY.check(f64::NAN).is_err());
        assert!(Bounds::DENSITY.check(f64::INFINITY).is_err());
        assert!(Bounds::DENSITY.check(f64::NEG_INFINITY).is_err());
    }

    #[test]
    fn a_refusal_says_what_was_given_and_what_would_do() {
        let refusal = Bounds::SHUTTER_ANGLE.check(400.0).err();
        let said = refusal
            .map(|refusal| alloc::format!("{refusal}"))
            .unwrap_or_default();
        assert_eq!(said, "shutter angle is 400, needs 0.01 to 360 °");
    }
}
