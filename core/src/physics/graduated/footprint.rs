//! What the pupil sees of a graduated filter.

use super::profile::{Profile, Ramp};
use crate::physics::quadrature::NODES;
use crate::quantity::{Length, Stops};
use crate::square_root::square_root;
use core::f64::consts::{FRAC_PI_2, LN_10, LOG10_2, PI};

/// The place on the filter that the light of one image point passes.
///
/// # Units
///
/// mm on the filter, square to its line. The centre is measured from the line,
/// positive towards the dense side; the half is half the footprint's length in
/// that direction, f/(2N) for a round pupil.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Footprint {
    centre: f64,
    half: f64,
}

/// A footprint shorter than this, in mm, sees one density.
const POINT: f64 = 1e-9;

impl Footprint {
    /// A footprint from its middle and half its length.
    #[must_use]
    pub fn new(centre: Length, half: Length) -> Self {
        Self::computed(centre.millimetres(), half.millimetres())
    }

    /// From lengths in mm that are themselves computed from quantities.
    pub(crate) fn computed(centre: f64, half: f64) -> Self {
        let half = libm::fabs(half);
        Self { centre, half }
    }

    /// Where its middle is, in mm from the line.
    #[must_use]
    pub const fn centre_millimetres(self) -> f64 {
        self.centre
    }

    /// Half its length, in mm.
    #[must_use]
    pub const fn half_millimetres(self) -> f64 {
        self.half
    }

    /// The density it sees where that is one and the same all over it.
    pub(super) fn even(self, profile: &Profile) -> Option<f64> {
        let (from, to) = profile.span();
        if self.centre + self.half <= from {
            Some(profile.below())
        } else if self.centre - self.half >= to {
            Some(profile.above())
        } else {
            None
        }
    }

    /// The stops that image point loses behind this filter.
    ///
    /// Light adds up over the pupil, so transmission is averaged and density is
    /// not: T = (2/π) ∫ 10^−D(y0 + r·s)·√(1 − s²) ds over s in −1…1. The weight
    /// is the chord of a disc; an ellipse seen along any direction has the same.
    /// The pupil is taken as evenly lit and fixed in place, and the filter as
    /// thin; an image point far off the axis of a real lens departs from both.
    ///
    /// # Units
    ///
    /// Stops, −log2 T.
    ///
    /// # Domain
    ///
    /// Any footprint; one of no length sees the density at its centre.
    ///
    /// # Accuracy
    ///
    /// Steps, even glass and the inside of a straight ramp in closed form; the
    /// rest by Gauss–Legendre quadrature, 24 points to a panel, over the angle
    /// whose sine is s. Within 1e-8 stop of an adaptive reference up to density
    /// 4.
    ///
    /// # Source
    ///
    /// Our own derivation: the light at an image point is the integral of
    /// transmission over the pupil. Step: area of a circular segment.
    #[must_use]
    pub fn loss(self, profile: &Profile) -> Stops {
        let Self { centre, half } = self;
        let (from, to) = profile.span();
        // Wholly on even glass the answer is the glass itself, exactly.
        if let Some(density) = self.even(profile) {
            return stops_of(density);
        }
        if half < POINT || profile.ramps().is_empty() {
            return stops_of(profile.density_at_millimetres(centre));
        }
        let around = |ramp: &&Ramp| ramp.from <= centre - half && centre + half <= ramp.to;
        if let Some(slope) = profile.ramps().iter().find(around).and_then(Ramp::slope) {
            let gain = mean_of_exponential(LN_10 * slope * half);
            let glass = stops_of(profile.density_at_millimetres(centre));
            return glass - Stops::computed(libm::log2(gain));
        }
        let place = |height: f64| ((height - centre) / half).clamp(-1.0, 1.0);
        let ends = share_below(place(from)) * transmittance(profile.below())
            + share_below(-place(to)) * transmittance(profile.above());
        let ramps = (profile.ramps().iter())
            .filter(|ramp| ramp.to > ramp.from)
            .map(|ramp| {
                let (from, to) = (place(ramp.from), place(ramp.to));
                over_ramp(*ramp, self, libm::asin(from), libm::asin(to))
            });
        Stops::computed(-libm::log2(ends + ramps.sum::<f64>()))
    }
}

fn stops_of(density: f64) -> Stops {
    Stops::computed(density / LOG10_2)
}

pub(super) fn transmittance(density: f64) -> f64 {
    libm::exp(-LN_10 * density)
}

/// The share of a disc of radius 1 that lies below a height of q radii.
///
/// # Source
///
/// Area of a circular segment, elementary geometry:
/// ½ + (asin q + q·√(1 − q²))/π.
fn share_below(q: f64) -> f64 {
    let area = libm::asin(q) + q * square_root((1.0 - q) * (1.0 + q));
    (0.5 + area / PI).clamp(0.0, 1.0)
}

/// The mean of e^(b·s) over a disc, s being the height in radii: 2·I1(b)/b.
///
/// # Source
///
/// Series of the modified Bessel function, Abramowitz and Stegun, Handbook of
/// Mathematical Functions (1964), 9.6.10.
fn mean_of_exponential(b: f64) -> f64 {
    let quarter = b * b / 4.0;
    let (mut term, mut sum, mut k) = (1.0, 1.0, 1.0);
    // b is 28 at most (density 12 over one diameter), where 40 terms are ample.
    while term > sum * 1e-17 && k < 100.0 {
        term *= quarter / (k * (k + 1.0));
        sum += term;
        k += 1.0;
    }
    sum
}

/// Transmission of one ramp times its share of the pupil.
///
/// With s = sin φ the weight (2/π)√(1 − s²) ds becomes (2/π)cos²φ dφ and the
/// integrand is smooth up to the pupil's edge. Panels are split so that density
/// changes by a unit at most along each, which keeps 24 points ample.
fn over_ramp(ramp: Ramp, footprint: Footprint, from: f64, to: f64) -> f64 {
    let seen = ramp
        .change()
        .min(ramp.change() * 2.0 * footprint.half / (ramp.to - ramp.from));
    let panels = libm::ceil(seen.max((to - from) / FRAC_PI_2)).max(1.0);
    let width = (to - from) / panels;
    let mut sum = 0.0;
    let mut at = 0.0;
    while at < panels {
        let middle = from + (at + 0.5) * width;
        for (node, weight) in NODES {
            for phi in [middle - 0.5 * width * node, middle + 0.5 * width * node] {
                let sine = libm::sin(phi);
                let height = footprint.centre + footprint.half * sine;
                let squared_cosine = (1.0 - sine) * (1.0 + sine);
                sum += weight * squared_cosine * transmittance(ramp.density_at(height));
            }
        }
        at += 1.0;
    }
    sum * width / PI
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::super::profile::tests::{d, mm};
    use super::{Footprint, LOG10_2, Profile, share_below};

    fn loss(profile: &Profile, centre: f64, half: f64) -> f64 {
        Footprint::new(mm(centre), mm(half)).loss(profile).stops()
    }

    #[test]
    fn even_glass_takes_exactly_its_density() {
        let even = Profile::even(d(0.9));
        for (centre, half) in [(-40.0, 12.0), (0.0, 12.0), (3.3, 0.0)] {
            assert_eq!(loss(&even, centre, half), 0.9 / LOG10_2);
        }
    }

    #[test]
    fn a_step_through_the_middle_passes_the_mean_of_both_sides() {
        let hard = Profile::hard(d(0.3), mm(0.0)).unwrap();
        let half_dense = -((1.0 + libm::pow(10.0, -0.3)) / 2.0).log2();
        assert!((loss(&hard, 0.0, 7.0) - half_dense).abs() < 1e-15);
    }

    #[test]
    fn half_a_radius_inside_the_covered_share_is_a_handbook_segment() {
        // A segment of height r/2 is (π/3 − √3/4)r², the elementary formula.
        let segment = (core::f64::consts::FRAC_PI_3 - 3f64.sqrt() / 4.0) / core::f64::consts::PI;
        assert!((share_below(-0.5) - segment).abs() < 1e-15);
        assert!((share_below(0.5) + segment - 1.0).abs() < 1e-15);
        assert_eq!((share_below(-1.0), share_below(1.0)), (0.0, 1.0));
    }

    #[test]
    fn a_closed_pupil_sees_the_glass_it_looks_at() {
        let soft = Profile::soft(d(0.6), mm(30.0)).unwrap();
        for height in [-14.0, -3.0, 0.0, 9.0] {
            let glass = soft.density_at(mm(height)).stops().stops();
            assert_eq!(loss(&soft, height, 0.0), glass);
            assert!((loss(&soft, height, 1e-3) - glass).abs() < 1e-5);
        }
    }

    #[test]
    fn inside_a_straight_ramp_both_routes_agree() {
        // The closed form against the quadrature, whose ramp is cut in two.
        let whole = Profile::soft(d(1.8), mm(30.0)).unwrap();
        let cut = [(-15.0, 0.0), (0.1, 0.906), (15.0, 1.8)].map(|(h, v)| (mm(h), d(v)));
        let cut = Profile::points(&cut).unwrap();
        for (centre, half) in [(0.0, 9.0), (-2.0, 12.5), (5.0, 8.0)] {
            let off = loss(&whole, centre, half) - loss(&cut, centre, half);
            assert!(off.abs() < 1e-12, "{off}");
        }
    }

    #[test]
    fn a_steep_ramp_tends_to_the_step() {
        let hard = Profile::hard(d(1.2), mm(0.0)).unwrap();
        let steep = Profile::hard(d(1.2), mm(1e-6)).unwrap();
        for centre in [-5.0, -1.0, 0.0, 2.0, 5.9] {
            assert!((loss(&steep, centre, 6.0) - loss(&hard, centre, 6.0)).abs() < 1e-6);
        }
    }

    #[test]
    fn counting_cells_of_the_pupil_gives_the_same() {
        // An independent route: the pupil as a grid of cells.
        let reverse = Profile::reverse(d(0.9), d(0.3), mm(20.0)).unwrap();
        let cells = 1200;
        for (centre, half) in [(-4.0, 6.0), (0.5, 3.0), (15.0, 9.0)] {
            let (mut light, mut area) = (0.0, 0.0);
            for row in 0..cells {
                let s = (f64::from(row) + 0.5) * 2.0 / f64::from(cells) - 1.0;
                let chord = (1.0 - s * s).sqrt();
                let glass = reverse.density_at(mm(centre + half * s)).transmittance();
                light += chord * glass;
                area += chord;
            }
            assert!((loss(&reverse, centre, half) + (light / area).log2()).abs() < 2e-3);
        }
    }

    #[test]
    fn light_lost_and_light_kept_mirror_each_other() {
        // Turning a step over exchanges its sides: the two transmissions add up
        // to those of the two glasses.
        let up = Profile::hard(d(0.6), mm(0.0)).unwrap();
        for q in [-0.9, -0.2, 0.4] {
            let both = (-loss(&up, q, 1.0)).exp2() + (-loss(&up, -q, 1.0)).exp2();
            assert!((both - 1.0 - libm::pow(10.0, -0.6)).abs() < 1e-14);
        }
    }

    #[test]
    fn loss_never_falls_towards_the_dense_side() {
        for profile in [
            Profile::hard(d(0.9), mm(0.0)).unwrap(),
            Profile::soft(d(0.9), mm(12.0)).unwrap(),
            Profile::smooth(d(0.9), mm(25.0)).unwrap(),
        ] {
            let mut last = 0.0;
            for step in -300..300 {
                let now = loss(&profile, f64::from(step) * 0.1, 8.0);
                assert!(now >= last - 1e-12);
                last = now;
            }
        }
    }

    /// The same integral by the midpoint rule over the angle: slow and simple.
    fn counted(profile: &Profile, centre: f64, half: f64) -> f64 {
        const STEPS: u32 = 40_000;
        let width = core::f64::consts::PI / f64::from(STEPS);
        let passed: f64 = (0..STEPS)
            .map(|step| {
                let (sine, cosine) =
                    libm::sincos((f64::from(step) + 0.5) * width - core::f64::consts::FRAC_PI_2);
                let density = profile.density_at_millimetres(centre + half * sine);
                cosine * cosine * libm::pow(10.0, -density)
            })
            .sum();
        -libm::log2(passed * width * 2.0 / core::f64::consts::PI)
    }

    #[test]
    fn steep_and_dense_ramps_agree_with_a_plain_sum() {
        // Density 4 and 8 across a ramp far narrower than the pupil, and one as
        // wide; off the middle both ways, so that each end of it is seen.
        let points = |density: f64, ramp: f64| {
            Profile::points(&[
                (mm(-ramp), d(0.3)),
                (mm(0.0), d(density)),
                (mm(ramp / 2.0), d(0.1)),
                (mm(ramp), d(0.9)),
            ])
        };
        for (density, ramp) in [(4.0, 2.0), (8.0, 2.0), (4.0, 20.0), (8.0, 30.0), (0.6, 7.0)] {
            let profiles = [
                Profile::soft(d(density), mm(ramp)),
                Profile::smooth(d(density), mm(ramp)),
                points(density, ramp),
            ];
            for profile in profiles {
                let profile = profile.unwrap();
                for centre in [-9.0, -3.0, 0.0, 2.5, 8.0] {
                    let (found, wanted) = (
                        loss(&profile, centre, 10.0),
                        counted(&profile, centre, 10.0),
                    );
                    assert!((found - wanted).abs() < 3e-7, "{density} {ramp} {centre}");
                }
            }
        }
    }

    #[test]
    fn a_ramp_of_next_to_nothing_is_a_step() {
        let step = Profile::hard(d(0.9), mm(0.0)).unwrap();
        for ramp in [1e-18, 1e-30, 1e-300, 5e-324] {
            let short = Profile::soft(d(0.9), mm(ramp)).unwrap();
            for centre in [-3.0, -0.7, 0.0, 1e-17, 0.7, 3.0] {
                let seen = Footprint::computed(centre, 4.0);
                let apart = (seen.loss(&short) - seen.loss(&step)).stops();
                assert!(apart.abs() < 1e-9, "{ramp} at {centre}: {apart}");
                let stripe = Profile::stripe(d(0.9), mm(ramp)).unwrap();
                let lost = seen.loss(&stripe).stops();
                assert!(lost.abs() < 1e-9, "stripe {ramp} at {centre}: {lost}");
            }
        }
    }
}
