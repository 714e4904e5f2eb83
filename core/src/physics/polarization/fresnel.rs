//! What glass and water reflect, and what a polarizer leaves of it.

use crate::quantity::{ExtinctionRatio, Incidence, Length, OutOfRange, RefractiveIndex, Stops};
use crate::square_root::square_root;

/// Reflected shares of the light, by the way its field swings.
///
/// # Units
///
/// Power, 0 to 1. Across and along the plane of incidence, which holds the ray
/// and the surface's normal.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reflectance {
    /// Rs: field across the plane of incidence.
    pub across: f64,
    /// Rp: field in the plane of incidence.
    pub along: f64,
}

/// Reflection at one clean surface, from air.
///
/// # Units
///
/// The angle counts from the surface's normal: 0° square on, 90° grazing.
///
/// # Source
///
/// Fresnel's equations, as in Born and Wolf, Principles of Optics, 1.5.2 (from
/// memory).
///
/// # Examples
///
/// ```
/// use glasscall_core::physics::fresnel::surface;
/// use glasscall_core::quantity::{Incidence, RefractiveIndex};
///
/// // ((n − 1)/(n + 1))² square on.
/// let glass = surface(RefractiveIndex::constant(1.5), Incidence::constant(0.0));
/// assert!((glass.mean() - 0.04).abs() < 1e-12);
/// ```
#[must_use]
pub fn surface(index: RefractiveIndex, angle: Incidence) -> Reflectance {
    let n = index.index();
    let (sine, cosine) = libm::sincos(angle.degrees().to_radians());
    let inside = square_root(1.0 - sine * sine / (n * n));
    let share = |a: f64, b: f64| (a - b) * (a - b) / ((a + b) * (a + b));
    Reflectance {
        across: share(cosine, n * inside),
        along: share(n * cosine, inside),
    }
}

/// Reflection at a clean pane: both faces, every bounce between them.
///
/// # Units
///
/// R = 2r/(1 + r) of each face's r; light inside is not absorbed and does not
/// interfere, as in glass of any thickness one can hold.
///
/// # Source
///
/// Sum of the geometric series of bounces, r + (1 − r)²·r·(1 + r² + …); tmm 0.2.0,
/// `inc_tmm` of a thick plate, agrees within 1e-12 for n 1.33 to 1.9, 0° to 85°.
///
/// # Examples
///
/// ```
/// use glasscall_core::physics::fresnel::pane;
/// use glasscall_core::quantity::{Incidence, RefractiveIndex};
///
/// // 2R/(1 + R) of 4 %.
/// let glass = pane(RefractiveIndex::constant(1.5), Incidence::constant(0.0));
/// assert!((glass.mean() - 0.08 / 1.04).abs() < 1e-12);
/// ```
#[must_use]
pub fn pane(index: RefractiveIndex, angle: Incidence) -> Reflectance {
    let face = surface(index, angle);
    let both = |one: f64| 2.0 * one / (1.0 + one);
    Reflectance {
        across: both(face.across),
        along: both(face.along),
    }
}

/// The angle at which the field in the plane of incidence is not reflected.
///
/// # Units
///
/// tan θ = n; degrees from the normal.
///
/// # Source
///
/// Brewster's law (1815).
///
/// # Examples
///
/// ```
/// use glasscall_core::physics::fresnel::brewster_angle;
/// use glasscall_core::quantity::RefractiveIndex;
///
/// assert!((brewster_angle(RefractiveIndex::constant(1.333)) - 53.12).abs() < 0.01);
/// ```
#[must_use]
pub fn brewster_angle(index: RefractiveIndex) -> f64 {
    libm::atan(index.index()).to_degrees()
}

/// How far away, along the surface, the point lies that a lens at this height
/// sees under [`brewster_angle`].
///
/// # Units
///
/// height·n: the height above water, or the distance from a pane, times tan θ.
///
/// # Errors
///
/// [`OutOfRange`] beyond the range of [`Length`].
///
/// # Source
///
/// Own derivation: tan θ = distance/height, and tan θ = n there.
pub fn brewster_distance(height: Length, index: RefractiveIndex) -> Result<Length, OutOfRange> {
    Length::new(height.millimetres() * index.index())
}

impl Reflectance {
    /// Of light as it comes: the mean of both.
    #[must_use]
    pub const fn mean(self) -> f64 {
        f64::midpoint(self.across, self.along)
    }

    /// What an ideal polarizer turned to pass the field along leaves of the
    /// reflection, against what it leaves of the rest of the picture.
    #[must_use]
    pub const fn left_by_polarizer(self) -> f64 {
        self.along / self.mean()
    }

    /// The same for a sheet that passes the other field too, `ratio` times
    /// weaker.
    #[must_use]
    pub fn left_by_sheet(self, ratio: ExtinctionRatio) -> f64 {
        let r = ratio.ratio();
        (r * self.along + self.across) / ((r + 1.0) * self.mean())
    }

    /// [`Self::left_by_polarizer`] in stops; `None` where nothing is left.
    #[must_use]
    pub fn weaker_by(self) -> Option<Stops> {
        let stops = -libm::log2(self.left_by_polarizer());
        stops.is_finite().then_some(Stops::computed(stops))
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::*;

    fn glass() -> RefractiveIndex {
        RefractiveIndex::new(1.5).unwrap()
    }

    fn angle(degrees: f64) -> Incidence {
        Incidence::new(degrees).unwrap()
    }

    #[test]
    fn glass_reflects_four_per_cent_square_on() {
        // ((1.5 − 1)/(1.5 + 1))² = 0.04.
        let face = surface(glass(), angle(0.0));
        assert!((face.across - 0.04).abs() < 1e-15 && (face.along - 0.04).abs() < 1e-15);
        assert!((face.left_by_polarizer() - 1.0).abs() < 1e-12);
    }

    #[test]
    fn grazing_everything_is_reflected() {
        let face = surface(glass(), angle(90.0));
        assert!((face.mean() - 1.0).abs() < 1e-12);
    }

    #[test]
    fn at_brewsters_angle_a_polarizer_leaves_nothing() {
        let there = angle(brewster_angle(glass()));
        assert!(surface(glass(), there).left_by_polarizer() < 1e-28);
        assert!(pane(glass(), there).left_by_polarizer() < 1e-28);
    }

    #[test]
    fn a_real_sheet_leaves_some_of_it() {
        let there = surface(glass(), angle(brewster_angle(glass())));
        let ratio = ExtinctionRatio::new(99.0).unwrap();
        // Rs/(100·Rs/2) = 2 %.
        assert!((there.left_by_sheet(ratio) - 0.02).abs() < 1e-12);
    }

    #[test]
    fn energy_is_kept() {
        // Transmittances by their own formula, an independent route.
        for degrees in 0..90 {
            let theta = f64::from(degrees).to_radians();
            let inside = (theta.sin() / 1.5).asin();
            let through = (2.0 * theta).sin() * (2.0 * inside).sin();
            let passed = if degrees == 0 {
                0.96
            } else {
                through / (theta + inside).sin().powi(2)
            };
            let face = surface(glass(), angle(f64::from(degrees)));
            assert!((face.across + passed - 1.0).abs() < 1e-12, "{degrees}");
        }
    }

    #[test]
    fn over_water_the_place_to_stand_is_four_thirds_of_the_height_away() {
        let water = RefractiveIndex::new(1.333).unwrap();
        let eye = Length::new(1500.0).unwrap();
        assert!((brewster_distance(eye, water).unwrap().millimetres() - 1999.5).abs() < 1e-9);
    }

    #[test]
    fn a_pane_reflects_from_both_faces_over_and_over() {
        // 2R/(1 + R) of 0.04 is 0.08/1.04.
        let both = pane(glass(), angle(0.0));
        assert!((both.across - 0.08 / 1.04).abs() < 1e-15);
        // At any angle: R + T²·R·(1 + R² + R⁴ + …), summed here.
        for degrees in [20.0, 56.0, 80.0] {
            let (face, both) = (
                surface(glass(), angle(degrees)),
                pane(glass(), angle(degrees)),
            );
            let r = face.across;
            let more: f64 = (0..400)
                .map(|trip| (1.0 - r).powi(2) * r * r.powi(2 * trip))
                .sum();
            assert!((both.across - r - more).abs() < 1e-12, "{degrees}");
        }
    }

    #[test]
    fn a_polarizer_weakens_by_what_it_leaves() {
        let steep = surface(glass(), angle(45.0));
        let stops = steep.weaker_by().unwrap().stops();
        assert!((libm::exp2(-stops) - steep.left_by_polarizer()).abs() < 1e-14);
        assert!(stops > 1.0);
        let face = Reflectance {
            across: 0.2,
            along: 0.0,
        };
        assert_eq!(face.weaker_by(), None);
    }
}
