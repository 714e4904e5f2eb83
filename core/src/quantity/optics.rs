//! Quantities of lenses, flat glass and coloured light.

use super::quantity;

quantity!(
    /// How far away something is, never nothing.
    Distance,
    DISTANCE,
    /// In millimetres.
    millimetres
);
quantity!(
    /// Diameter of a disc on the sensor: a blur, or the largest blur that
    /// still looks sharp.
    Disc,
    DISC,
    /// In millimetres.
    millimetres
);
quantity!(
    /// Wavelength of light in vacuum.
    Wavelength,
    WAVELENGTH,
    /// In nanometres.
    nanometres
);
quantity!(
    /// Thickness of a flat piece.
    Thickness,
    THICKNESS,
    /// In millimetres.
    millimetres
);
quantity!(
    /// Power of a converging lens.
    LensPower,
    LENS_POWER,
    /// In dioptres, 1/m.
    dioptres
);
quantity!(
    /// Temperature of the full radiator a light looks like.
    ColourTemperature,
    COLOUR_TEMPERATURE,
    /// In kelvin.
    kelvin
);
quantity!(
    /// Image size over subject size.
    Magnification,
    MAGNIFICATION,
    /// The ratio; 0 at infinity, 1 at life size.
    ratio
);
quantity!(
    /// Diameter of the exit pupil over that of the entrance pupil: 1 for a
    /// symmetrical lens, more for a wide with a long back focus, less for a tele.
    PupilRatio,
    PUPIL_RATIO,
    /// The ratio.
    ratio
);
quantity!(
    /// What an extender (above 1) or a focal reducer (below 1) multiplies the
    /// focal length by.
    Extender,
    EXTENDER,
    /// The factor.
    factor
);
quantity!(
    /// Frequency of the mains; lamps flicker at twice this.
    MainsFrequency,
    MAINS,
    /// In hertz.
    hertz
);
