//! How well the loss through a graduated filter is known.

use crate::physics::line::Line;
use crate::quantity::Stops;
use crate::setup::{Contribution, Origin, Tangents, Uncertainties, Uncertainty};

/// What the mark of a graduated filter and the place of its edge leave open in
/// one direction: to first order, half the change between both ends of each.
///
/// # Units
///
/// Stops, one standard deviation.
#[must_use]
pub fn line_known(line: &Line, field: Tangents, known: &Uncertainties) -> Uncertainty {
    let between = |one: Stops, other: Stops| Stops::computed(0.5 * (one - other).size().stops());
    let scaled = |factor: f64| {
        let profile = line.profile().scaled(factor).ok()?;
        Some(line.with_profile(profile).loss_towards(field))
    };
    let here = line.loss_towards(field);
    let density = match (
        scaled(1.0 + known.marked_share),
        scaled(1.0 - known.marked_share),
    ) {
        (Some(more), Some(less)) => between(more, less),
        // The densest there is: only down.
        (None, Some(less)) => (here - less).size(),
        _ => Stops::ZERO,
    };
    let slid = |by: f64| {
        let height = line.height_millimetres() + by;
        line.slid_to(height).loss_towards(field)
    };
    let edge = between(slid(known.edge_mm), slid(-known.edge_mm));
    Uncertainty::of([
        Contribution {
            from: Origin::GraduatedDensity,
            stops: density,
        },
        Contribution {
            from: Origin::GraduatedEdge,
            stops: edge,
        },
    ])
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::*;
    use crate::physics::line::Place;
    use crate::physics::line::tests::{held, lens};
    use crate::physics::profile::Profile;
    use crate::physics::profile::tests::{d, mm};

    fn soft() -> Line {
        let (view, pupil) = lens([24.9, 14.0], 1.0, 50.0, 4.0);
        let profile = Profile::soft(d(0.9), mm(30.0)).unwrap();
        Line::new(
            profile,
            held(80.0, 0.0, false),
            view,
            &pupil,
            Place::InFrame(0.5),
        )
        .unwrap()
    }

    #[test]
    fn in_the_blend_the_edge_decides_and_beyond_it_the_mark() {
        let line = soft();
        let known = Uncertainties::default();
        let hard = line.with_profile(Profile::hard(d(0.9), mm(0.0)).unwrap());
        let top = line_known(&hard, line.view().tangents_of(0.5, 0.98), &known);
        // All of 2.98974 stops, and no edge near.
        assert!((top.stops.stops() - 2.989_735 * known.marked_share).abs() < 1e-6);
        assert_eq!(top.mostly.unwrap().from, Origin::GraduatedDensity);
        let tight = Uncertainties {
            marked_share: 0.0,
            ..known
        };
        let only = line_known(&line, line.view().tangents_of(0.5, 0.5), &tight);
        assert_eq!(only.mostly.unwrap().from, Origin::GraduatedEdge);
    }

    #[test]
    fn first_order_is_what_a_hundred_thousand_draws_scatter() {
        let line = soft();
        let known = Uncertainties::default();
        let field = line.view().tangents_of(0.5, 0.6);
        let told = line_known(&line, field, &known).stops.stops();
        // An even grid of draws, 316 densities by 317 places, is 10⁵ of them
        // without any chance in it.
        let spread = 3f64.sqrt();
        let (mut sum, mut squares) = (0.0, 0.0);
        for nth in 0..316_u32 {
            let density = spread * ((f64::from(nth) + 0.5) / 158.0 - 1.0) * known.marked_share;
            let profile = line.profile().scaled(1.0 + density).unwrap();
            let dense = line.with_profile(profile);
            for at in 0..317_u32 {
                let edge = spread * ((f64::from(at) + 0.5) / 158.5 - 1.0) * known.edge_mm;
                let height = line.height_millimetres() + edge;
                let loss = dense.slid_to(height).loss_towards(field).stops();
                sum += loss;
                squares += loss * loss;
            }
        }
        let draws = 316.0 * 317.0;
        let deviation = (squares / draws - (sum / draws).powi(2)).sqrt();
        // First order, of a blend that is nearly a ramp: within two per cent.
        assert!(
            (deviation / told - 1.0).abs() < 0.02,
            "{deviation} for {told}"
        );
    }
}
