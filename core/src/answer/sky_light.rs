//! How well the light of a clear sky is known.

use crate::physics::daylight::{clear_sky, spread};
use crate::quantity::{Elevation, Stops};
use crate::setup::{Contribution, Origin, Uncertainties, Uncertainty};

/// What one sky strays from another, and what place and clock leave open about
/// the sun's height.
///
/// # Units
///
/// Stops, one standard deviation; the slope of the model to first order.
#[must_use]
pub fn known_to(sun: Elevation, known: &Uncertainties) -> Uncertainty {
    let sky = spread(sun).stops() * known.sky_share;
    let light = |by: f64| {
        let near = Elevation::new(sun.degrees() + by).ok()?;
        Some(libm::log2(clear_sky(near).ok()?.lux()))
    };
    // At the ends of the model the slope of the side that is there.
    let (below, above) = (light(-STEP), light(STEP));
    let here = light(0.0);
    let slope = match (below.or(here), above.or(here)) {
        (Some(below), Some(above)) => (above - below) / (2.0 * STEP),
        _ => 0.0,
    };
    let height = libm::fabs(slope) * known.sun_degrees;
    Uncertainty::of(
        [(Origin::ClearSky, sky), (Origin::SunHeight, height)].map(|(from, stops)| Contribution {
            from,
            stops: Stops::computed(stops),
        }),
    )
}

/// Half the stretch of a slope, in degrees; within one piece of the model
/// nearly everywhere.
const STEP: f64 = 0.1;

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::*;

    #[test]
    fn a_high_sun_is_known_by_its_sky_and_dusk_by_the_clock() {
        let known = Uncertainties::default();
        let at = |degrees| known_to(Elevation::new(degrees).unwrap(), &known);
        assert_eq!(at(50.0).mostly.unwrap().from, Origin::ClearSky);
        assert!((at(50.0).stops.stops() - 1.0 / 6.0).abs() < 0.01);
        // At −4° the sky falls by about a stop a degree; a late clock shows.
        let late = Uncertainties {
            sun_degrees: 2.0,
            ..known
        };
        let dusk = known_to(Elevation::new(-4.0).unwrap(), &late);
        assert_eq!(dusk.mostly.unwrap().from, Origin::SunHeight);
    }
}
