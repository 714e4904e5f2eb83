//! Polarization of the clear sky by single Rayleigh scattering.

use crate::quantity::{Direction, Polarization};

/// Degree of polarization of a clean sky at 90° from the sun.
///
/// # Source
///
/// Dahlberg, Pust and Shaw, Optics Express 19, 16008 (2011): 0.70 to 0.85
/// measured at a clean mountain site. Haze lowers it.
pub const CLEAN_SKY: f64 = 0.75;

/// sin(−6°): with the sun lower than that its light no longer makes the sky, and
/// what is left has no pattern to tell.
///
/// The end of civil twilight. That measured skies keep their pattern until then:
/// Coulson, Polarization and Intensity of Light in the Atmosphere (1988), from
/// memory.
const SUN_GONE: f64 = -0.104_528_463_267_653_5;

/// The clear sky under one sun.
///
/// Light scattered once by air. Left out: scattering twice (which leaves
/// neutral points near the sun), light from the ground, haze beyond what
/// lowers the maximum, and clouds, which are hardly polarized.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sky {
    /// Where the sun is.
    pub sun: Direction,
    /// Degree of polarization at 90° from the sun.
    pub most: Polarization,
}

/// What a direction of the sky sends: a degree, and the way its field swings.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SkyLight {
    /// Polarized share, 0 to 1.
    pub polarization: f64,
    /// Direction of the stronger field; `None` where there is none.
    pub field: Option<Direction>,
}

impl Sky {
    /// Whether the sun lights it: no lower than 6° under the horizon.
    #[must_use]
    pub fn is_lit(self) -> bool {
        self.sun.cosine_to(Direction::UP) >= SUN_GONE
    }

    /// The light from one direction of the sky; without the sun's light none of
    /// it is polarized.
    ///
    /// # Units
    ///
    /// p = pmax·sin²γ/(1 + cos²γ), γ the angle from the sun; the field swings
    /// across the plane of sun, sky point and eye.
    ///
    /// # Source
    ///
    /// J. W. Strutt (Lord Rayleigh), Philosophical Magazine 41 (1871); the
    /// factor pmax as δmax in a public model of the sky (rayleigh-sky-model).
    #[must_use]
    pub fn light_from(self, view: Direction) -> SkyLight {
        if !self.is_lit() {
            return SkyLight {
                polarization: 0.0,
                field: None,
            };
        }
        let cosine = view.cosine_to(self.sun);
        let squared = cosine * cosine;
        SkyLight {
            polarization: self.most.share() * (1.0 - squared) / (1.0 + squared),
            field: view.across(self.sun),
        }
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::{Direction, Polarization, Sky};
    use crate::quantity::{Angle, Elevation};

    fn towards(azimuth: f64, elevation: f64) -> Direction {
        Direction::from_bearing(
            Angle::new(azimuth).unwrap(),
            Elevation::new(elevation).unwrap(),
        )
    }

    fn sky() -> Sky {
        Sky {
            sun: towards(90.0, 20.0),
            most: Polarization::new(0.75).unwrap(),
        }
    }

    #[test]
    fn a_quarter_turn_from_the_sun_is_the_strongest() {
        assert!((sky().light_from(towards(0.0, 0.0)).polarization - 0.75).abs() < 1e-15);
    }

    #[test]
    fn sixty_degrees_from_the_sun_is_three_fifths_of_it() {
        // sin² 60° / (1 + cos² 60°) = 0.75/1.25, by hand.
        let there = sky().light_from(towards(90.0, 80.0));
        assert!((there.polarization - 0.75 * 0.6).abs() < 1e-14);
    }

    #[test]
    fn towards_and_away_from_the_sun_there_is_none() {
        for view in [towards(90.0, 20.0), towards(270.0, -20.0)] {
            let light = sky().light_from(view);
            assert!(light.polarization < 1e-15 && light.field.is_none());
        }
    }

    #[test]
    fn the_field_swings_across_the_plane_of_scattering() {
        let view = towards(10.0, 35.0);
        let field = sky().light_from(view).field.unwrap();
        assert!(field.cosine_to(view).abs() < 1e-15);
        assert!(field.cosine_to(sky().sun).abs() < 1e-15);
    }
}
