//! What graduated filters and openings before one pupil take from its light.

use super::footprint::{Footprint, transmittance};
use super::line::Line;
use crate::physics::opening::Opening;
use crate::physics::pupil::Pupil;
use crate::physics::vignetting::beam::Beam;
use crate::physics::vignetting::left::Band;
use crate::quantity::Stops;
use crate::setup::Tangents;
use alloc::vec::Vec;
use core::f64::consts::LOG10_2;

/// Stops that graduated filters and openings take together from light of these
/// real tangents; `None` when nothing is left.
///
/// One integral over the pupil: ∫ Π 10^−D(y) dA over what the openings leave,
/// by what the lens lets in. The product of the averages is not it: where an
/// opening takes the dense side of the pupil, the rest sees less of the filter.
/// In the plane of each filter the light of a field point is the pupil's shape,
/// moved, so all of them are told from its middle.
///
/// # Units
///
/// Stops, −log2 of the share.
///
/// # Accuracy
///
/// 10⁻⁷ stop up to density 4.
///
/// # Source
///
/// Our own derivation; checked against counted rays,
/// `tests/reference/laws/grad_and_openings.json`.
#[must_use]
pub(crate) fn through(
    lines: &[Line],
    pupil: &Pupil,
    openings: &[Opening],
    ray: Tangents,
) -> Option<Stops> {
    let beam = Beam::of_ray(pupil, ray);
    let left = beam.left(openings)?;
    let mut even = Stops::ZERO;
    let mut mixed: Vec<(&Line, Footprint)> = Vec::new();
    for line in lines {
        let footprint = line.footprint_of(&beam);
        match footprint.even(line.profile()) {
            Some(density) => even = even + Stops::computed(density / LOG10_2),
            None => mixed.push((line, footprint)),
        }
    }
    if let ([(line, footprint)], true) = (mixed.as_slice(), left.is_whole()) {
        return Some(even + footprint.loss(line.profile()));
    }
    let passes: Vec<_> = (mixed.iter())
        .map(|(line, footprint)| {
            let (profile, centre) = (line.profile(), footprint.centre_millimetres());
            move |y: f64| transmittance(profile.density_at_millimetres(centre + y))
        })
        .collect();
    let bands: Vec<Band<'_>> = (mixed.iter().zip(&passes))
        .map(|((line, footprint), passes)| Band {
            towards: line.rises(),
            passes,
            bends: (line.profile().bends())
                .map(|bend| bend - footprint.centre_millimetres())
                .collect(),
        })
        .collect();
    let share = left.through(&bands);
    // −log2 1 is −0, which would be shown.
    (share > 0.0).then(|| even + Stops::computed(libm::log2(1.0 / share)))
}

/// Stops lost at a field point, told by height over focal length, through filters
/// before one pupil; none through none.
///
/// One integral over the pupil: filters that blend over the same part of it take
/// less or more together than each alone.
#[must_use]
pub fn loss_through(lines: &[Line], field: Tangents) -> Stops {
    (lines.first()).map_or(Stops::ZERO, |line| {
        loss_of_ray_through(lines, line.pupil().shape().real(field))
    })
}

/// The same by light of these real tangents.
pub(crate) fn loss_of_ray_through(lines: &[Line], ray: Tangents) -> Stops {
    (lines.first())
        .and_then(|line| through(lines, line.pupil(), &[], ray))
        .map_or(Stops::ZERO, |lost| lost)
}

impl Line {
    /// Stops lost at a field point, told by height over focal length.
    #[must_use]
    pub fn loss_towards(&self, field: Tangents) -> Stops {
        self.loss_of_ray(self.pupil().shape().real(field))
    }

    /// Stops lost by light of these real tangents.
    pub(crate) fn loss_of_ray(&self, ray: Tangents) -> Stops {
        loss_of_ray_through(core::slice::from_ref(self), ray)
    }

    /// What one degree of tilt costs at the line when nobody slides the filter:
    /// the greater of the two changes, up and down.
    #[must_use]
    pub fn unslid_degree(&self) -> Stops {
        let angle = libm::atan(self.upright_tangent().unwrap_or(0.0));
        let loss = |turn: f64| {
            let y = libm::tan(angle + turn.to_radians());
            self.loss_of_ray(Tangents { x: 0.0, y }).stops()
        };
        let rest = loss(0.0);
        let off = |turn: f64| libm::fabs(loss(turn) - rest);
        Stops::computed(off(1.0).max(off(-1.0)))
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::super::line::tests::{hard, held, lens, line};
    use super::super::line::{Line, Place};
    use super::super::profile::Profile;
    use super::super::profile::tests::{d, mm};
    use super::through;
    use crate::physics::opening::{Opening, OpeningRecord, Shape};
    use crate::quantity::{Angle, Length, Span};
    use crate::setup::Tangents;

    fn slot(height: f64, up: f64, turn: f64) -> Opening {
        Opening::new(OpeningRecord {
            shape: Shape::Rectangle {
                width: Span::new(500.0).unwrap(),
                height: Span::new(height).unwrap(),
            },
            distance: Length::new(30.0).unwrap(),
            depth: None,
            offset_x: Length::ZERO,
            offset_y: Length::new(up).unwrap(),
            rotation: Angle::new(turn).unwrap(),
        })
    }

    const AXIS: Tangents = Tangents { x: 0.0, y: 0.0 };

    #[test]
    fn an_opening_over_the_dense_half_leaves_clear_glass() {
        // A hard edge through the middle, the dense half taken: one stop for the
        // half, nothing for the glass. The averages would say 1 + 0.83.
        let (view, pupil) = lens([36.0, 24.0], 1.0, 50.0, 1.4);
        let line = line((view, pupil), held(80.0, 0.0, false), Place::InFrame(0.5));
        let lower = slot(100.0, -50.0, 0.0);
        let lost = |openings: &[Opening]| {
            through(core::slice::from_ref(&line), &pupil, openings, AXIS).unwrap()
        };
        assert!((lost(&[lower]).stops() - 1.0).abs() < 1e-12);
        let upper = slot(100.0, 50.0, 0.0);
        assert!((lost(&[upper]).stops() - 1.0 - line.marked().stops()).abs() < 1e-12);
        let alone = line.loss_towards(AXIS);
        assert!((lost(&[]) - alone).size().stops() < 1e-12);
    }

    #[test]
    fn two_halves_turned_against_each_other_leave_four_quarters() {
        // Clear, dense, dense, twice dense: (1 + t)²/4.
        let (view, pupil) = lens([36.0, 24.0], 1.0, 50.0, 1.4);
        let at = |turn| {
            line(
                (view, pupil),
                held(80.0, turn, false),
                Place::OnFilter(mm(0.0)),
            )
        };
        let t = libm::pow(10.0, -0.9);
        for turn in [90.0, -90.0] {
            let both = through(&[at(0.0), at(turn)], &pupil, &[], AXIS).unwrap();
            let wanted = -((1.0 + t) * (1.0 + t) / 4.0).log2();
            assert!(
                (both.stops() - wanted).abs() < 1e-9,
                "{both:?} for {wanted}"
            );
        }
        // The same way: (1 + t²)/2; against each other: t.
        let same = through(&[at(0.0), at(0.0)], &pupil, &[], AXIS).unwrap();
        assert!((same.stops() + ((1.0 + t * t) / 2.0).log2()).abs() < 1e-9);
        let against = through(&[at(0.0), at(180.0)], &pupil, &[], AXIS).unwrap();
        assert!((against.stops() + t.log2()).abs() < 1e-9);
    }

    #[test]
    fn glass_that_is_cut_in_two_halves_is_the_glass() {
        // What both halves of the pupil pass adds up to what all of it passes.
        let (view, pupil) = lens([24.9, 14.0], 1.5, 85.0, 1.4);
        let profiles = [
            hard(1.2),
            Profile::soft(d(0.9), mm(12.0)).unwrap(),
            Profile::reverse(d(1.2), d(0.3), mm(9.0)).unwrap(),
        ];
        let ray = Tangents { x: 0.05, y: -0.02 };
        for profile in profiles {
            for turn in [0.0, 17.0, 90.0] {
                let place = Place::OnFilter(mm(-2.0));
                let line = Line::new(
                    profile.clone(),
                    held(60.0, turn, false),
                    view,
                    &pupil,
                    place,
                );
                let line = [line.unwrap()];
                let share = |openings: &[Opening]| {
                    through(&line, &pupil, openings, ray).map_or(0.0, |lost| (-lost.stops()).exp2())
                };
                for cut in [0.0, 33.0] {
                    // Two slots 100 wide that meet 1 mm beside the axis.
                    let (sin, cos) = f64::to_radians(cut).sin_cos();
                    let side = |up: f64| {
                        let mut record = *slot(100.0, 0.0, cut).record();
                        record.offset_x = Length::new(-sin * up).unwrap();
                        record.offset_y = Length::new(cos * up).unwrap();
                        Opening::new(record)
                    };
                    let halves = share(&[side(51.0)]) + share(&[side(-49.0)]);
                    assert!((halves - share(&[])).abs() < 1e-8, "{turn} {cut}");
                }
            }
        }
    }
}
