//! A flat polarizing sheet in front of the lens, for rays off the axis too.

use crate::physics::sky::SkyLight;
use crate::quantity::{Direction, Stops};
use crate::setup::Aim;
use crate::square_root::square_root;

/// Refractive index of a polarizing film, in which the light is absorbed.
///
/// Common practice, no source: stretched polyvinyl alcohol and the triacetate
/// about it are sold as 1.48 to 1.53.
pub const FILM_INDEX: f64 = 1.5;

/// An ideal sheet that takes the field along one axis in its plane.
///
/// The axis it absorbs lies in the sheet, and what it absorbs it absorbs
/// inside: a slanting ray keeps the field across that axis and across the ray
/// *refracted into the film*, tan β′ = tan α / cos θ′ with sin θ′ = sin θ / n
/// (O-type sheet). The ray in air would be farther from the truth than the flat
/// picture: crossed sheets on a wide lens 2 to 3.6 times too uneven. Comparing
/// directions in the image plane alone is right on the axis only: up to 0.3
/// stop off at the corner of an 18 mm lens. Loss at the faces and in the sheet
/// is left out.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sheet {
    absorbs: Direction,
    square_to: Direction,
}

impl Sheet {
    /// A sheet square to the lens axis.
    ///
    /// # Units
    ///
    /// `passes`: the passed axis in degrees clockwise from camera up, seen from
    /// behind the camera.
    #[must_use]
    pub fn new(aim: Aim, passes: f64) -> Self {
        Self {
            absorbs: aim.across_axis(passes + 90.0),
            square_to: aim.forward(),
        }
    }

    /// The field that a ray keeps, as it stands in air; `None` only for light
    /// along the sheet.
    ///
    /// The kept field is found inside and its parts across (s) and in (p) the
    /// plane of incidence are kept on the way out: both faces favour p by so
    /// little that a 4×4 calculation of an absorbing uniaxial film agrees.
    ///
    /// # Source
    ///
    /// Snell's law; our own model, held to a 4×4 calculation of an absorbing
    /// uniaxial film in `tests/reference/laws`, group `frame` of
    /// `sky_polarization.json` and `across_frame` of `variable_nd.json`.
    #[must_use]
    pub fn passed(self, ray: Direction) -> Option<Direction> {
        let Some(across) = ray.across(self.square_to) else {
            return ray.across(self.absorbs);
        };
        let inside = self.refracted(ray)?;
        let kept = inside.across(self.absorbs)?;
        let [s, p] = [across, inside.across(across)?].map(|part| kept.cosine_to(part));
        let [across, along] = [across, ray.across(across)?].map(Direction::vector);
        let part = |at: usize| s * across[at] + p * along[at];
        Direction::from_vector([part(0), part(1), part(2)])
    }

    /// The ray inside the film.
    fn refracted(self, ray: Direction) -> Option<Direction> {
        let cosine = ray.cosine_to(self.square_to);
        let [along, normal] = [ray, self.square_to].map(Direction::vector);
        let sine_inside_squared = (1.0 - cosine * cosine) / (FILM_INDEX * FILM_INDEX);
        let deeper = square_root(1.0 - sine_inside_squared) - cosine / FILM_INDEX;
        let part = |at: usize| along[at] / FILM_INDEX + deeper * normal[at];
        Direction::from_vector([part(0), part(1), part(2)])
    }

    /// Share of light from the sky that passes, [0, 1]; ½ when unpolarized.
    ///
    /// # Units
    ///
    /// T = ½(1 − p) + p·cos²(angle between the field and the passed field).
    ///
    /// # Source
    ///
    /// Malus's law for the polarized share; of the rest, which has no direction,
    /// its mean over all, ½.
    #[must_use]
    pub fn transmittance(self, ray: Direction, light: SkyLight) -> f64 {
        match (self.passed(ray), light.field) {
            (Some(passed), Some(field)) => {
                let along = passed.cosine_to(field);
                0.5 * (1.0 - light.polarization) + light.polarization * along * along
            }
            _ => 0.5,
        }
    }

    /// How much darker than an unpolarized foreground the sky becomes: −log2 2T.
    ///
    /// # Units
    ///
    /// Stops; negative where the sky gains on the foreground.
    ///
    /// # Domain
    ///
    /// A share under 10⁻¹², which no real sheet reaches, counts as that.
    #[must_use]
    pub fn darkening(self, ray: Direction, light: SkyLight) -> Stops {
        let share = self.transmittance(ray, light).max(1e-12);
        Stops::computed(-libm::log2(2.0 * share))
    }
}

/// The turn of the sheet that darkens a light on the lens axis most: across
/// its field.
///
/// # Units
///
/// Degrees of the passed axis clockwise from camera up, [0, 180); `None` where
/// the light is not polarized and every turn is alike.
#[must_use]
pub fn darkest_turn(aim: Aim, light: SkyLight) -> Option<f64> {
    let [right, up, _] = aim.seen(light.field?);
    Some(half_turn(libm::atan2(right, up).to_degrees() + 90.0))
}

/// A direction that has no front end, as an angle in [0, 180).
///
/// # Examples
///
/// ```
/// use glasscall_core::physics::sheet::half_turn;
///
/// assert_eq!(half_turn(200.0), 20.0);
/// assert_eq!(half_turn(-30.0), 150.0);
/// ```
#[must_use]
pub fn half_turn(degrees: f64) -> f64 {
    let within = degrees - 180.0 * libm::floor(degrees / 180.0);
    // A hair below nothing may round to 180 itself.
    if within < 180.0 { within } else { 0.0 }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::{Sheet, darkest_turn, half_turn};
    use crate::physics::sky::Sky;
    use crate::quantity::{Angle, Direction, Elevation, Polarization};
    use crate::setup::Aim;

    fn angle(degrees: f64) -> Angle {
        Angle::new(degrees).unwrap()
    }

    fn level() -> Elevation {
        Elevation::new(0.0).unwrap()
    }

    fn sky() -> Sky {
        Sky {
            sun: Direction::from_bearing(angle(90.0), Elevation::new(0.0).unwrap()),
            most: Polarization::new(0.75).unwrap(),
        }
    }

    fn north() -> Aim {
        Aim::new(angle(0.0), level(), angle(0.0))
    }

    #[test]
    fn a_low_sun_from_the_right_wants_the_sheet_level() {
        // Sun in the east, camera north: the field stands upright.
        let light = sky().light_from(north().forward());
        assert!((darkest_turn(north(), light).unwrap() - 90.0).abs() < 1e-12);
    }

    #[test]
    fn three_quarters_polarized_darkens_by_two_stops_at_most() {
        // 2·T = 1 − 0.75 = ¼.
        let ray = north().forward();
        let light = sky().light_from(ray);
        let darkest = Sheet::new(north(), 90.0).darkening(ray, light);
        assert!((darkest.stops() - 2.0).abs() < 1e-12);
        let brightest = Sheet::new(north(), 0.0).darkening(ray, light);
        assert!((brightest.stops() + 1.75f64.log2()).abs() < 1e-12);
    }

    #[test]
    fn the_best_turn_is_the_best_of_all_turns() {
        let aim = Aim::new(angle(33.0), Elevation::new(25.0).unwrap(), angle(-8.0));
        let light = sky().light_from(aim.forward());
        let at = |turn: f64| {
            Sheet::new(aim, turn)
                .darkening(aim.forward(), light)
                .stops()
        };
        let best = at(darkest_turn(aim, light).unwrap());
        assert!((0..180).all(|turn| at(f64::from(turn)) <= best + 1e-12));
    }

    #[test]
    fn unpolarized_light_loses_one_stop_wherever_it_comes_from() {
        let ray = north().ray(0.7, 0.4);
        let light = sky().light_from(sky().sun);
        assert_eq!(Sheet::new(north(), 12.0).transmittance(ray, light), 0.5);
    }

    #[test]
    fn a_crossed_corner_is_as_a_calculation_of_the_film_finds_it() {
        // 38° off the axis, absorbing axis at 45° to the plane of incidence: a
        // 4×4 calculation of an absorbing uniaxial film of index 1.5 leaves the
        // field at 47.64°; the ray in air would say 51.76°.
        let aim = north();
        let ray = aim.ray(38f64.to_radians().tan(), 0.0);
        let passed = Sheet::new(aim, 45.0).passed(ray).unwrap();
        // Up is across the plane of incidence: the field is turned from there.
        let [_, up, _] = aim.seen(passed);
        assert!((up.abs().acos().to_degrees() - 47.64).abs() < 0.01);
    }

    #[test]
    fn straight_through_the_film_bends_nothing() {
        let aim = north();
        let passed = Sheet::new(aim, 30.0).passed(aim.forward()).unwrap();
        let [right, up, _] = aim.seen(passed);
        assert!((half_turn(libm::atan2(right, up).to_degrees()) - 30.0).abs() < 1e-12);
    }

    #[test]
    fn turns_repeat_after_half_a_turn() {
        assert!((half_turn(-10.0) - 170.0).abs() < 1e-12);
        assert_eq!(half_turn(180.0), 0.0);
        assert_eq!(half_turn(-1e-20), 0.0);
    }
}
