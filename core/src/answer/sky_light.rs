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
    Uncertainty::of(causes(sun, known))
}

/// The same by cause.
pub fn causes(sun: Elevation, known: &Uncertainties) -> impl Iterator<Item = Contribution> + use<> {
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
    let heights =
        (known.of_sun_height()).map(|(from, degrees)| (from, libm::fabs(slope) * degrees));
    let causes = core::iter::once((Origin::ClearSky, sky)).chain(heights);
    causes.map(|(from, stops)| Contribution {
        from,
        stops: Stops::computed(stops),
    })
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
        let from = |known: Uncertainties| {
            let dusk = known_to(Elevation::new(-4.0).unwrap(), &known);
            dusk.mostly.unwrap().from
        };
        let late = Uncertainties {
            clock_seconds: 480.0,
            ..known
        };
        assert_eq!(from(late), Origin::Clock);
        let lost = Uncertainties {
            place_degrees: 3.0,
            ..known
        };
        assert_eq!(from(lost), Origin::Place);
        let said = Uncertainties {
            sun_degrees: Some(2.0),
            ..known
        };
        assert_eq!(from(said), Origin::SunHeight);
    }

    #[test]
    fn first_order_is_what_a_hundred_thousand_draws_scatter() {
        // An even grid of draws, 47³ of them, without any chance in it: sky,
        // clock and place each an even spread of its own deviation.
        let known = Uncertainties {
            clock_seconds: 120.0,
            place_degrees: 0.4,
            ..Uncertainties::default()
        };
        for degrees in [-3.0, 2.0, 8.0, 30.0] {
            let sun = Elevation::new(degrees).unwrap();
            let told = known_to(sun, &known).stops.stops();
            let sky = spread(sun).stops() * known.sky_share;
            let [clock, place] = known.of_sun_height().map(|(_, degrees)| degrees);
            let draws = || (0..47).map(|nth| 3f64.sqrt() * ((f64::from(nth) + 0.5) / 23.5 - 1.0));
            let (mut sum, mut squares) = (0.0, 0.0);
            for late in draws() {
                for off in draws() {
                    let height = Elevation::new(degrees + late * clock + off * place).unwrap();
                    let light = clear_sky(height).unwrap().lux().log2();
                    for strays in draws() {
                        let stops = light + strays * sky;
                        sum += stops;
                        squares += stops * stops;
                    }
                }
            }
            let count = 47f64.powi(3);
            let deviation = (squares / count - (sum / count).powi(2)).sqrt();
            assert!(
                (deviation / told - 1.0).abs() < 0.02,
                "{degrees}°: {deviation} for {told}"
            );
        }
    }
}
