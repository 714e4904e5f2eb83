//! Air that lifts the sun, and when that still stands above the horizon.

use crate::quantity::{AirPressure, AirTemperature, Direction};

/// Half of the sun's disc and the refraction at the horizon, in degrees: the
/// sun's centre is this far below the horizon at rise and set.
///
/// # Source
///
/// The algorithm's 0.26667° and 0.5667°; the almanac's 16′ and 34′.
pub const RISE_AND_SET_DEPTH: f64 = 0.266_67 + 0.566_7;

/// Whether anything of the sun's disc stands above a level horizon, air
/// included.
///
/// # Examples
///
/// ```
/// use glasscall_core::physics::sun::is_up;
/// use glasscall_core::quantity::Direction;
///
/// assert!(is_up(Direction::UP));
/// ```
#[must_use]
pub fn is_up(sun: Direction) -> bool {
    sun.elevation_degrees() > -RISE_AND_SET_DEPTH
}

/// The air that bends the sun's light.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Air {
    /// Pressure where the camera stands.
    pub pressure: AirPressure,
    /// Temperature there.
    pub temperature: AirTemperature,
}

/// How much air lifts the sun, in degrees.
///
/// # Domain
///
/// The algorithm lifts by nothing once the upper limb is down, a jump of 0.6°.
/// Below that depth d the lift dies away as 1/tan h instead, R(−d)·tan d/tan(−h):
/// no jump, and none left at the nadir. Nobody sees that sun; it only keeps what
/// follows its height from jumping.
///
/// # Source
///
/// The algorithm's equation 42, for 1010 hPa and 10 °C scaled by density. The
/// form below the horizon: NOAA, Solar Calculation Details, Atmospheric
/// Refraction Effects, last row (−20.774″/tan h); the constant is our own, so
/// that the two meet.
pub(super) fn refraction(elevation: f64, air: Air) -> f64 {
    let density =
        air.pressure.hectopascals() / 1010.0 * 283.0 / (273.0 + air.temperature.celsius());
    let seen = elevation.max(-RISE_AND_SET_DEPTH);
    let bent = (seen + 10.3 / (seen + 5.11)).to_radians();
    let lift = density * 1.02 / (60.0 * libm::tan(bent));
    if elevation < seen {
        lift * libm::tan(seen.to_radians()) / libm::tan(elevation.to_radians())
    } else {
        lift
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::{Air, AirPressure, AirTemperature, RISE_AND_SET_DEPTH, refraction};

    fn usual() -> Air {
        Air {
            pressure: AirPressure::new(1010.0).unwrap(),
            temperature: AirTemperature::new(10.0).unwrap(),
        }
    }

    #[test]
    fn air_lifts_the_low_sun_by_its_own_size_and_the_high_sun_by_nothing() {
        let lifted = |elevation| refraction(elevation, usual());
        // skyfield 1.55, 10 °C and 1010 mbar: 34.45′ at the horizon, 0.994′ at 45°.
        assert!((lifted(-0.566_7) - 0.566_7).abs() < 0.05);
        assert!((lifted(45.0) - 0.0168).abs() < 0.001);
        assert!(lifted(90.0).abs() < 1e-3);
    }

    #[test]
    fn the_lift_dies_away_below_the_horizon_without_a_jump() {
        let air = usual();
        let lifted = |elevation| refraction(elevation, air);
        let last = lifted(-RISE_AND_SET_DEPTH);
        assert!((lifted(-RISE_AND_SET_DEPTH - 1e-9) - last).abs() < 1e-8);
        // Equation 42 at −0.833 37° by hand: 1.02′/tan 1.575 07° = 37.0949′. A tenth
        // at ten times the tangent: −8.276 24°.
        assert!((last - 37.0949 / 60.0).abs() < 2e-6, "{last}");
        assert!((lifted(-8.276_242) - last / 10.0).abs() < 1e-7);
        assert!(lifted(-90.0).abs() < 1e-15);
    }

    #[test]
    fn thin_and_warm_air_lifts_less() {
        // In proportion to its density: half the pressure, half the lift; at 0 °C
        // 283/273 of it.
        let usual = usual();
        let with = |hectopascals: f64, celsius: f64| Air {
            pressure: AirPressure::new(hectopascals).unwrap(),
            temperature: AirTemperature::new(celsius).unwrap(),
        };
        for elevation in [-3.0, -0.5, 0.0, 7.0, 60.0] {
            let lift = refraction(elevation, usual);
            let half = refraction(elevation, with(505.0, 10.0));
            let cold = refraction(elevation, with(1010.0, 0.0));
            assert!((half / lift - 0.5).abs() < 1e-12);
            assert!((cold / lift - 283.0 / 273.0).abs() < 1e-12);
        }
    }
}
