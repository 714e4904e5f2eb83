//! How much of the frame a graduated filter's line is spread over.

use super::footprint::Footprint;
use super::line::Line;
use crate::physics::root::sign_change;

/// The part of the frame over which the filter takes hold: from 10 % to 90 %
/// of what it takes in all, across the line.
///
/// # Units
///
/// Shares of the frame's height. More than 1 is wider than the frame.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Blend {
    /// Counted in stops, as an exposure is judged.
    pub in_stops: f64,
    /// Counted in light, as it adds up.
    pub in_light: f64,
}

impl Line {
    /// The whole change across the line, from where only one side is seen to
    /// where only the other is, as a share of the frame's height.
    ///
    /// # Units
    ///
    /// (2·half + ramp)·f/(z·H), measured across the line in the image;
    /// f²/(N·z·H) for a step, may exceed 1.
    #[must_use]
    pub fn whole_blend(&self) -> f64 {
        self.share_of_frame(2.0 * self.half() + self.profile().ramp_millimetres())
    }

    /// Where the filter takes hold; `None` unless density only rises, and for
    /// even glass.
    #[must_use]
    pub fn blend(&self) -> Option<Blend> {
        Some(Blend {
            in_stops: self.blend_in_stops()?,
            in_light: self.blend_by(|stops| 1.0 - libm::exp2(-stops))?,
        })
    }

    /// The half of [`Line::blend`] that is counted in stops.
    #[must_use]
    pub fn blend_in_stops(&self) -> Option<f64> {
        self.blend_by(|stops| stops)
    }

    fn blend_by(&self, measure: impl Fn(f64) -> f64) -> Option<f64> {
        if !self.profile().only_rises() || self.profile().above() <= self.profile().below() {
            return None;
        }
        let half = self.half();
        let (from, to) = self.profile().span();
        let reach = (from - half, to + half);
        let measure = |centre: f64| {
            let footprint = Footprint::computed(centre, half);
            measure(footprint.loss(self.profile()).stops())
        };
        let (least, most) = (measure(reach.0), measure(reach.1));
        let at = |share: f64| {
            let wanted = least + share * (most - least);
            sign_change(|centre| measure(centre) - wanted, reach.0, reach.1)
        };
        Some(self.share_of_frame(at(0.9) - at(0.1)))
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::super::line::Place;
    use super::super::line::tests::{held, lens, line};
    use super::super::profile::tests::mm;

    #[test]
    fn a_step_blends_over_the_pupil_seen_through_the_frame() {
        // f²/(N·z·H) = 50²/(4·100·20) = 0.3125, by hand.
        let lens = lens([36.0, 20.0], 1.0, 50.0, 4.0);
        let line = line(lens, held(100.0, 0.0, false), Place::InFrame(0.5));
        assert!((line.whole_blend() - 0.3125).abs() < 1e-15);
    }

    #[test]
    fn stopping_down_hardens_the_line() {
        // Common practice, no source; here it comes out of the computation.
        let width = |number| {
            let lens = lens([24.9, 14.0], 1.0, 35.0, number);
            let line = line(lens, held(80.0, 0.0, false), Place::InFrame(0.5));
            line.blend().unwrap().in_stops
        };
        assert!(width(11.0) < width(5.6) && width(5.6) < width(2.0));
    }

    #[test]
    fn an_upright_line_in_a_squeezed_frame_keeps_its_measure() {
        // Two field points apart by the whole blend see the two glasses.
        let lens = lens([24.0, 18.0], 2.0, 50.0, 2.8);
        let line = line(lens, held(90.0, 90.0, false), Place::OnFilter(mm(0.0)));
        let half = line.whole_blend() / 2.0 * 18.0 / 24.0;
        let at = |across: f64| {
            line.footprint(lens.0.tangents_of(across, 0.5))
                .centre_millimetres()
        };
        assert!((at(0.5 - half) - line.half()).abs() < 1e-12);
        assert!((at(0.5 + half) + line.half()).abs() < 1e-12);
    }

    #[test]
    fn a_long_straight_ramp_blends_over_eight_tenths_and_in_light_by_logarithms() {
        use super::super::profile::{Profile, tests::d};
        // Stopped down to f/64 the pupil is a point against 60 mm of ramp. In
        // light 10 % and 90 % of the change lie where 2^−s is 1 − 0.1·(1 − t)
        // and 1 − 0.9·(1 − t), t being 10^−0.9.
        let lens = lens([36.0, 20.0], 1.0, 50.0, 64.0);
        let hard = line(lens, held(100.0, 0.0, false), Place::OnFilter(mm(0.0)));
        let line = hard.with_profile(Profile::soft(d(0.9), mm(60.0)).unwrap());
        let ramp = line.share_of_frame(60.0);
        let blend = line.blend().unwrap();
        assert!((blend.in_stops / ramp - 0.8).abs() < 1e-3);
        let taken = 1.0 - libm::pow(10.0, -0.9);
        let place = |share: f64| -libm::log10(1.0 - share * taken) / 0.9;
        let wanted = place(0.9) - place(0.1);
        assert!((blend.in_light / ramp - wanted).abs() < 1e-3, "{wanted}");
        let whole = line.share_of_frame(60.0 + 50.0 / 64.0);
        assert!((line.whole_blend() - whole).abs() < 1e-12);
    }

    #[test]
    fn only_what_rises_and_only_what_changes_has_a_blend() {
        use super::super::profile::{Profile, tests::d};
        let lens = lens([36.0, 20.0], 1.0, 50.0, 4.0);
        let line = line(lens, held(100.0, 0.0, false), Place::InFrame(0.5));
        let with = |profile| line.with_profile(profile).blend();
        assert_eq!(with(Profile::even(d(0.6))), None);
        assert_eq!(with(Profile::stripe(d(0.6), mm(5.0)).unwrap()), None);
        let falling = [(mm(0.0), d(0.9)), (mm(5.0), d(0.3))];
        assert_eq!(with(Profile::points(&falling).unwrap()), None);
        // Between 0.3 and 0.9 it blends as wide as between 0 and 0.6.
        let from = |low: f64| {
            let points = [(mm(-40.0), d(low)), (mm(40.0), d(low + 0.6))];
            with(Profile::points(&points).unwrap()).unwrap()
        };
        assert!((from(0.3).in_stops - from(0.0).in_stops).abs() < 1e-9);
        assert!((from(0.3).in_light - from(0.0).in_light).abs() < 1e-9);
    }
}
