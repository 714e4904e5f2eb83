//! Electronic gain as stops.

use crate::quantity::{Gain, Stops};

/// Decibels a stop, 20·log10 2 ≈ 6.0206.
pub const DECIBELS_PER_STOP: f64 = 20.0 * core::f64::consts::LOG10_2;

/// The stops of light that a gain makes up for.
///
/// # Units
///
/// Gain in decibels of a field quantity; positive stops brighten the picture.
///
/// # Source
///
/// Definition of the decibel for a field quantity; a sensor's signal is linear
/// in exposure.
///
/// # Examples
///
/// ```
/// use glasscall_core::physics::gain::stops_of_gain;
/// use glasscall_core::quantity::Gain;
///
/// assert!((stops_of_gain(Gain::constant(12.0)).stops() - 1.993).abs() < 0.001);
/// ```
#[must_use]
pub fn stops_of_gain(gain: Gain) -> Stops {
    Stops::computed(gain.decibels() / DECIBELS_PER_STOP)
}

#[cfg(test)]
mod tests {
    use super::{Gain, stops_of_gain};

    #[test]
    fn six_decibels_are_a_hair_under_one_stop() {
        let stops = Gain::new(6.0).map(stops_of_gain).map(|s| s.stops());
        assert!(stops.is_ok_and(|stops| (stops - 0.996_578).abs() < 1e-6));
    }
}
