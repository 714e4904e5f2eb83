//! Colour temperature counted in reciprocals, where filters add.

use crate::quantity::{ColourTemperature, MiredShift, OutOfRange};

/// What conversion filters usually convert, K from and K to: daylight, two lamps
/// and the sky, each to another.
///
/// Common practice, no source.
pub const USUAL_CONVERSIONS: [(f64, f64); 8] = [
    (5500.0, 3200.0),
    (5500.0, 3400.0),
    (6500.0, 3200.0),
    (3400.0, 3200.0),
    (3200.0, 5500.0),
    (3400.0, 5500.0),
    (3200.0, 6500.0),
    (3200.0, 3400.0),
];

/// A shift under this is not told: half a mired, which no eye tells and marks do
/// not have.
pub const TOLD_MIRED: f64 = 0.5;

/// The place of the shift next to a wanted one, in mired; `None` where none is
/// nearer than no shift at all.
#[must_use]
pub fn nearest(shifts: &[MiredShift], wanted: f64) -> Option<usize> {
    let off = |at: &usize| libm::fabs(shifts[*at].mired() - wanted);
    (0..shifts.len())
        .filter(|at| off(at) < libm::fabs(wanted))
        .min_by(|one, other| off(one).total_cmp(&off(other)))
}

/// A colour temperature in mired: 10⁶/K.
///
/// # Source
///
/// CIE S 017, International Lighting Vocabulary, reciprocal megakelvin (from
/// memory).
///
/// # Examples
///
/// ```
/// use glasscall_core::physics::mired::mired;
/// use glasscall_core::quantity::ColourTemperature;
///
/// assert!((mired(ColourTemperature::constant(5500.0)) - 181.818).abs() < 0.001);
/// ```
#[must_use]
pub fn mired(temperature: ColourTemperature) -> f64 {
    1e6 / temperature.kelvin()
}

/// The colour temperature of this many mired: the inverse of [`mired`].
///
/// # Errors
///
/// [`OutOfRange`] at 0 mired and below, where no light is, and beyond the range
/// of [`ColourTemperature`].
///
/// # Examples
///
/// ```
/// use glasscall_core::physics::mired::temperature_of;
///
/// assert_eq!(temperature_of(200.0)?.kelvin(), 5000.0);
/// // Bluer than any sky.
/// assert!(temperature_of(0.5).is_err());
/// # Ok::<(), glasscall_core::quantity::OutOfRange>(())
/// ```
pub fn temperature_of(mired: f64) -> Result<ColourTemperature, OutOfRange> {
    ColourTemperature::new(1e6 / mired)
}

/// The shift that makes the one look like the other; positive is warmer.
///
/// # Units
///
/// 10⁶/K after − 10⁶/K before, in mired.
///
/// # Source
///
/// Definition; the shift of a filter is nearly the same for every light.
///
/// # Examples
///
/// ```
/// use glasscall_core::physics::mired::shift_between;
/// use glasscall_core::quantity::ColourTemperature;
///
/// let [daylight, lamp] = [5500.0, 3200.0].map(ColourTemperature::constant);
/// assert!((shift_between(daylight, lamp).mired() - 130.68).abs() < 0.01);
/// assert_eq!(shift_between(lamp, lamp).mired(), 0.0);
/// ```
#[must_use]
pub fn shift_between(before: ColourTemperature, after: ColourTemperature) -> MiredShift {
    MiredShift::computed(mired(after) - mired(before))
}

/// The shift of pieces one behind the other.
///
/// # Errors
///
/// [`OutOfRange`] beyond the range of [`MiredShift`].
///
/// # Examples
///
/// ```
/// use glasscall_core::physics::mired::shift_together;
/// use glasscall_core::quantity::MiredShift;
///
/// let pieces = [131.0, -18.0].map(MiredShift::constant);
/// assert_eq!(shift_together(pieces)?.mired(), 113.0);
/// # Ok::<(), glasscall_core::quantity::OutOfRange>(())
/// ```
pub fn shift_together(
    pieces: impl IntoIterator<Item = MiredShift>,
) -> Result<MiredShift, OutOfRange> {
    // From 0, as an empty sum of floats is −0.
    MiredShift::new((pieces.into_iter()).fold(0.0, |sum, shift| sum + shift.mired()))
}

/// How the picture leans: light and shift less the white balance.
///
/// # Units
///
/// Mired; positive is warmer than the camera is set for.
///
/// # Errors
///
/// [`OutOfRange`] beyond the range of [`MiredShift`].
pub fn cast(
    light: ColourTemperature,
    stack: MiredShift,
    balance: ColourTemperature,
) -> Result<MiredShift, OutOfRange> {
    MiredShift::new(mired(light) + stack.mired() - mired(balance))
}

/// What a light looks like through a shift; `None` when no colour temperature
/// looks like that.
#[must_use]
pub fn seen_through(before: ColourTemperature, shift: MiredShift) -> Option<ColourTemperature> {
    temperature_of(mired(before) + shift.mired()).ok()
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::*;

    fn kelvin(kelvin: f64) -> ColourTemperature {
        ColourTemperature::new(kelvin).unwrap()
    }

    fn shift(mired: f64) -> MiredShift {
        MiredShift::new(mired).unwrap()
    }

    #[test]
    fn five_thousand_kelvin_are_two_hundred_mired() {
        assert_eq!(mired(kelvin(5000.0)), 200.0);
        assert_eq!(temperature_of(200.0).unwrap().kelvin(), 5000.0);
        assert!(temperature_of(0.0).is_err());
        assert!(temperature_of(-10.0).is_err());
    }

    #[test]
    fn daylight_to_tungsten_is_a_hundred_and_thirty_one_warmer() {
        let there = shift_between(kelvin(5500.0), kelvin(3200.0));
        assert!((there.mired() - 130.681_818).abs() < 1e-6);
        let back = shift_between(kelvin(3200.0), kelvin(5500.0));
        assert_eq!(back.mired(), -there.mired());
    }

    #[test]
    fn amber_in_daylight_suits_a_tungsten_balance() {
        let amber = shift_between(kelvin(5500.0), kelvin(3200.0));
        let even = cast(kelvin(5500.0), amber, kelvin(3200.0)).unwrap();
        assert!(even.mired().abs() < 1e-12);
        let bare = cast(kelvin(5500.0), shift(0.0), kelvin(3200.0)).unwrap();
        assert_eq!(bare.mired(), -amber.mired());
    }

    #[test]
    fn opposite_filters_cancel() {
        let none = shift_together([shift(131.0), shift(-131.0)]).unwrap();
        assert_eq!(none.mired(), 0.0);
        let same = seen_through(kelvin(4300.0), none).unwrap();
        assert!((same.kelvin() - 4300.0).abs() < 1e-9);
    }

    #[test]
    fn bluer_than_blue_has_no_colour_temperature() {
        assert_eq!(seen_through(kelvin(10_000.0), shift(-100.0)), None);
        assert_eq!(seen_through(kelvin(10_000.0), shift(-131.0)), None);
    }

    #[test]
    fn the_nearest_piece_is_one_that_helps() {
        let shifts = [112.0, -131.0, 20.0].map(|mired| MiredShift::new(mired).unwrap());
        assert_eq!(nearest(&shifts, 90.0), Some(0));
        assert_eq!(nearest(&shifts, -40.0), None);
        assert_eq!(nearest(&shifts, -70.0), Some(1));
        assert_eq!(nearest(&shifts, 0.0), None);
    }
}
