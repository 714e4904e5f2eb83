//! Which edge of a graduated filter suits this lens and stop.

use crate::physics::line::Line;
use crate::physics::profile::{Profile, ProfileError};
use crate::physics::root::sign_change;
use crate::quantity::{Density, Length};

/// The ramp of a soft edge when nobody says: 30 mm.
///
/// Common practice, no source.
pub const USUAL_SOFT_RAMP_MM: f64 = 30.0;
/// How uneven a skyline is when nobody says, as a share of the frame's height.
///
/// Common practice, no source.
pub const USUAL_SKYLINE: f64 = 0.1;
/// The share of a filter's stops that the frame must show for it to do its work.
///
/// Common practice, no source.
pub const ENOUGH_REACH: f64 = 0.8;

/// What to choose between, and for which skyline.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EdgeQuestion {
    /// Ramp of the hard edge.
    pub hard_ramp: Length,
    /// Ramp of the soft edge.
    pub soft_ramp: Length,
    /// How far the skyline strays from a straight line, as a share of the
    /// frame's height: a blend narrower than that shows on what crosses it.
    pub skyline: f64,
}

/// An edge to choose.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Edge {
    /// The hard one.
    Hard,
    /// The soft one.
    Soft,
    /// Neither.
    Neither,
}

/// What decided.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum EdgeReason {
    /// The pupil spreads even a hard edge wider than the skyline needs, so a
    /// soft one would only lose strength.
    PupilBlendsEnough,
    /// A hard edge would show as a line; a soft one does its work inside the
    /// frame.
    HardWouldShow,
    /// A hard edge would show, and a soft one is so spread that the frame sees
    /// too little of its strength.
    SoftNeverReaches,
}

/// What one edge does in this frame.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EdgeFacts {
    /// From 10 % to 90 % of its stops, as a share of the frame's height.
    pub blend: f64,
    /// The most it takes anywhere in the frame less the least, as a share of
    /// its stops.
    pub reach: f64,
}

/// The advice and what it rests on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EdgeAdvice {
    /// Which edge.
    pub suits: Edge,
    /// Why.
    pub why: EdgeReason,
    /// The hard edge here.
    pub hard: EdgeFacts,
    /// The soft edge here.
    pub soft: EdgeFacts,
    /// The ramp in mm that would blend just as wide as the skyline is uneven;
    /// 0 when the pupil alone does.
    pub fitting_ramp: f64,
}

/// Which edge suits the lens, the stop and the place of the line.
///
/// The edge should blend at least as wide as the skyline is uneven, and no
/// wider than that if it can be helped: the wider, the less of its strength is
/// left inside the frame. The trade's rule (hard for a long lens, soft for a
/// wide one, and stopping down hardens the line; common practice, no source)
/// is not assumed; it follows, because the pupil f/N that blurs the edge grows
/// with the lens while the frame's share of the filter shrinks.
///
/// # Errors
///
/// [`ProfileError::Ramp`] for a ramp out of range.
pub fn edge_advice(
    line: &Line,
    density: Density,
    question: EdgeQuestion,
) -> Result<EdgeAdvice, ProfileError> {
    let with = |ramp| Profile::soft(density, ramp).map(|profile| line.with_profile(profile));
    let (hard, soft) = (with(question.hard_ramp)?, with(question.soft_ramp)?);
    let facts = |line: &Line| EdgeFacts {
        blend: line.blend_in_stops().unwrap_or(0.0),
        reach: reach(line),
    };
    let (hard, soft) = (facts(&hard), facts(&soft));
    let (suits, why) = if hard.blend >= question.skyline {
        (Edge::Hard, EdgeReason::PupilBlendsEnough)
    } else if soft.reach >= ENOUGH_REACH {
        (Edge::Soft, EdgeReason::HardWouldShow)
    } else {
        (Edge::Neither, EdgeReason::SoftNeverReaches)
    };
    Ok(EdgeAdvice {
        suits,
        why,
        hard,
        soft,
        fitting_ramp: fitting_ramp(line, density, question.skyline),
    })
}

fn reach(line: &Line) -> f64 {
    let marked = line.marked().stops();
    let corners = line.view().corners();
    let losses = corners.map(|corner| line.loss_towards(corner).stops());
    let most = losses.into_iter().fold(f64::NEG_INFINITY, f64::max);
    let least = losses.into_iter().fold(f64::INFINITY, f64::min);
    if marked > 0.0 {
        (most - least) / marked
    } else {
        0.0
    }
}

fn fitting_ramp(line: &Line, density: Density, skyline: f64) -> f64 {
    let blend = |ramp: f64| {
        Length::new(ramp)
            .ok()
            .and_then(|ramp| Profile::soft(density, ramp).ok())
            .and_then(|profile| line.with_profile(profile).blend_in_stops())
            .unwrap_or(0.0)
    };
    if blend(0.0) >= skyline {
        return 0.0;
    }
    // A ramp alone blends over 0.8 of itself, so twice the skyline is enough.
    let widest = 2.0 * skyline / line.share_of_frame(1.0);
    sign_change(|ramp| blend(ramp) - skyline, 0.0, widest.min(1000.0))
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::{Edge, EdgeAdvice, EdgeQuestion, EdgeReason, edge_advice};
    use crate::physics::line::tests::{hard, held, lens};
    use crate::physics::line::{Line, Place};
    use crate::physics::profile::tests::{d, mm};

    fn advice(focal: f64, number: f64, skyline: f64) -> EdgeAdvice {
        let (view, pupil) = lens([24.9, 14.0], 1.0, focal, number);
        let line = Line::new(
            hard(0.9),
            held(80.0, 0.0, false),
            view,
            &pupil,
            Place::InFrame(0.5),
        );
        let question = EdgeQuestion {
            hard_ramp: mm(0.0),
            soft_ramp: mm(30.0),
            skyline,
        };
        edge_advice(&line.unwrap(), d(0.9), question).unwrap()
    }

    #[test]
    fn a_long_lens_wants_a_hard_edge_and_a_wide_one_a_soft_edge() {
        // Common practice, no source; here it comes out of the computation.
        assert_eq!(advice(100.0, 2.8, 0.1).suits, Edge::Hard);
        assert_eq!(advice(16.0, 5.6, 0.1).suits, Edge::Soft);
    }

    #[test]
    fn stopping_down_turns_hard_into_soft() {
        // Common practice, no source: stopping down hardens the line.
        assert_eq!(advice(32.0, 2.8, 0.1).suits, Edge::Hard);
        let closed = advice(32.0, 16.0, 0.1);
        assert_eq!(closed.suits, Edge::Soft);
        assert_eq!(closed.why, EdgeReason::HardWouldShow);
    }

    #[test]
    fn a_long_lens_sees_little_of_a_soft_edge() {
        let long = advice(135.0, 5.6, 0.1);
        assert!(long.soft.reach < 0.4 && long.hard.reach > long.soft.reach);
    }

    #[test]
    fn where_a_hard_edge_shows_and_a_soft_one_does_nothing_neither_suits() {
        let odd = advice(85.0, 22.0, 0.5);
        assert_eq!(
            (odd.suits, odd.why),
            (Edge::Neither, EdgeReason::SoftNeverReaches)
        );
    }

    #[test]
    fn the_fitting_ramp_blends_as_wide_as_the_skyline() {
        let wide = advice(18.0, 8.0, 0.15);
        let again = {
            let (view, pupil) = lens([24.9, 14.0], 1.0, 18.0, 8.0);
            let profile =
                crate::physics::profile::Profile::soft(d(0.9), mm(wide.fitting_ramp)).unwrap();
            let held = held(80.0, 0.0, false);
            Line::new(profile, held, view, &pupil, Place::InFrame(0.5)).unwrap()
        };
        assert!((again.blend().unwrap().in_stops - 0.15).abs() < 1e-9);
        assert_eq!(advice(100.0, 2.8, 0.1).fitting_ramp, 0.0);
    }
}
