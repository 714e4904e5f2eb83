//! Where a graduated filter's line falls in the frame, and how it blends.

use super::graduated::Footprint;
use super::profile::Profile;
use crate::quantity::{Angle, Bounds, Length, OutOfRange, Stops};
use crate::setup::{FramePoint, View};
use core::f64::consts::LOG10_2;

/// A graduated filter in front of a lens.
///
/// # Units
///
/// The dense direction is up, turned counter-clockwise by the rotation as seen
/// from behind the camera: (−sin, cos). The line lies `height` mm from the lens
/// axis in that direction. `inverted` puts the dense side below the line and
/// leaves the line where it is; turning by 180° turns the whole filter about
/// the axis, line and all.
///
/// # Source
///
/// Our own derivation: light of a field point crosses a plane z ahead of the
/// entrance pupil as the pupil's shape, moved by z·tan θ (subject far away).
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    profile: Profile,
    distance: f64,
    height: f64,
    dense: [f64; 2],
    inverted: bool,
}

/// How the filter is held.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Held {
    /// From the entrance pupil forward to the filter.
    pub distance: Length,
    /// The turn of the filter, counter-clockwise seen from behind.
    pub rotation: Angle,
    /// Dense side below the line.
    pub inverted: bool,
}

/// Where to put the line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Place {
    /// So far from the lens axis on the filter, in the dense direction.
    OnFilter(Length),
    /// Through this height of the frame, on the upright through its middle.
    InFrame(f64),
}

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
    /// A filter held like that with its line there.
    ///
    /// # Errors
    ///
    /// [`OutOfRange`] when the filter is not in front of the pupil, within 0.1
    /// to 10 000 mm.
    pub fn new(profile: Profile, held: Held, view: View, place: Place) -> Result<Self, OutOfRange> {
        let distance = Bounds::PUPIL_TO_GLASS.check(held.distance.millimetres())?;
        let turn = held.rotation.degrees().to_radians();
        let dense = [-libm::sin(turn), libm::cos(turn)];
        let height = match place {
            Place::OnFilter(height) => height.millimetres(),
            Place::InFrame(up) => {
                let [_, tangent] = view.tangents(FramePoint::at_height(up));
                distance * tangent * dense[1]
            }
        };
        Ok(Self {
            profile,
            distance,
            height,
            dense,
            inverted: held.inverted,
        })
    }

    /// Where one field direction meets the filter.
    ///
    /// # Units
    ///
    /// Tangents to the right and up. Footprint half: the pupil's half length
    /// along the dense direction, hypot(rx·nx, ry·ny).
    #[must_use]
    pub fn footprint(&self, view: View, tangents: [f64; 2]) -> Footprint {
        let along = self.distance * (tangents[0] * self.dense[0] + tangents[1] * self.dense[1]);
        let above = along - self.height;
        Footprint::computed(if self.inverted { -above } else { above }, self.half(view))
    }

    /// Stops lost at a place in the frame.
    #[must_use]
    pub fn loss_at(&self, view: View, point: FramePoint) -> Stops {
        self.loss_towards(view, view.tangents(point))
    }

    /// Stops lost in a field direction.
    #[must_use]
    pub fn loss_towards(&self, view: View, tangents: [f64; 2]) -> Stops {
        self.footprint(view, tangents).loss(&self.profile)
    }

    /// The whole change across the line, where nothing but one side is seen and
    /// where nothing but the other is, as a share of the frame's height.
    ///
    /// # Units
    ///
    /// (2·half + ramp)·f/(z·H), measured across the line in the image;
    /// f²/(N·z·H) for a step, may exceed 1.
    #[must_use]
    pub fn whole_blend(&self, view: View) -> f64 {
        self.share_of_frame(
            view,
            2.0 * self.half(view) + self.profile.ramp_millimetres(),
        )
    }

    /// Where the filter takes hold; `None` unless density only rises, and for
    /// even glass.
    #[must_use]
    pub fn blend(&self, view: View) -> Option<Blend> {
        let span = self.profile.span();
        let (low, high) = (self.profile.below(), self.profile.above());
        if !self.profile.only_rises() || high <= low {
            return None;
        }
        let half = self.half(view);
        let loss = |centre: f64| {
            Footprint::computed(centre, half)
                .loss(&self.profile)
                .stops()
        };
        let kept = |centre: f64| -libm::exp2(-loss(centre));
        let reach = (span.0 - half, span.1 + half);
        let width = |measure: &dyn Fn(f64) -> f64| {
            let (from, to) = (measure(reach.0), measure(reach.1));
            let at = |share: f64| crossing(measure, reach, from + share * (to - from));
            self.share_of_frame(view, at(0.9) - at(0.1))
        };
        Some(Blend {
            in_stops: width(&loss),
            in_light: width(&kept),
        })
    }

    /// Where the line must be on the filter, in mm from the lens axis in the
    /// dense direction.
    #[must_use]
    pub const fn height_millimetres(&self) -> f64 {
        self.height
    }

    /// Where the line crosses the upright through the middle of the frame;
    /// `None` when it runs along that upright.
    #[must_use]
    pub fn height_in_frame(&self, view: View) -> Option<f64> {
        let tangent = self.upright_tangent()?;
        Some(view.place([0.0, tangent]).up)
    }

    /// How far to slide the filter for each degree of tilt to keep its line on
    /// what it lies on.
    ///
    /// # Units
    ///
    /// mm along the dense direction for a degree of tilt: z·sec²θ·cos ρ·π/180
    /// at the line's own field angle θ, ρ being the rotation. Positive: tilt the
    /// camera down and the line goes up. 0 for a line that stands upright.
    #[must_use]
    pub fn slide_per_degree(&self) -> f64 {
        let tangent = self.upright_tangent().unwrap_or(0.0);
        (self.distance * (1.0 + tangent * tangent) * self.dense[1]).to_radians()
    }

    /// What one degree of tilt costs at the line when nobody slides the filter:
    /// the greater of the two changes, up and down.
    #[must_use]
    pub fn unslid_degree(&self, view: View) -> Stops {
        let angle = libm::atan(self.upright_tangent().unwrap_or(0.0));
        let loss = |turn: f64| {
            let tangent = libm::tan(angle + turn.to_radians());
            self.loss_towards(view, [0.0, tangent]).stops()
        };
        let rest = loss(0.0);
        let off = |turn: f64| libm::fabs(loss(turn) - rest);
        Stops::computed(off(1.0).max(off(-1.0)))
    }

    /// The whole difference between its two ends.
    #[must_use]
    pub fn marked(&self) -> Stops {
        Stops::computed((self.profile.above() - self.profile.below()) / LOG10_2)
    }

    /// The profile.
    #[must_use]
    pub const fn profile(&self) -> &Profile {
        &self.profile
    }

    /// The same holder and line with other glass in it.
    #[must_use]
    pub fn with_profile(&self, profile: Profile) -> Self {
        Self {
            profile,
            dense: self.dense,
            ..*self
        }
    }

    /// The same filter with its line elsewhere, in mm from the lens axis.
    #[must_use]
    pub fn slid_to(&self, height: f64) -> Self {
        Self {
            height,
            ..self.clone()
        }
    }

    /// From the pupil to the filter, in mm.
    #[must_use]
    pub const fn distance_millimetres(&self) -> f64 {
        self.distance
    }

    /// The dense direction, right and up, of the filter turned but not
    /// inverted.
    #[must_use]
    pub const fn dense_direction(&self) -> [f64; 2] {
        self.dense
    }

    /// Tangent of the field angle at which the line crosses the upright.
    fn upright_tangent(&self) -> Option<f64> {
        (libm::fabs(self.dense[1]) > UPRIGHT).then(|| self.height / self.dense[1] / self.distance)
    }

    fn half(&self, view: View) -> f64 {
        let [across, up] = view.pupil_halves();
        libm::hypot(across * self.dense[0], up * self.dense[1])
    }

    /// A length across the line on the filter as a share of the frame's height.
    fn share_of_frame(&self, view: View, length: f64) -> f64 {
        let [_, whole] = view.whole_tangents();
        // Two lines a tangent t apart lie t/|(s·nx, ny)| apart in the image.
        let apart = libm::hypot(view.squeeze() * self.dense[0], self.dense[1]);
        length / (self.distance * whole * apart)
    }
}

/// The cosine of a rotation below which the line counts as upright.
const UPRIGHT: f64 = 1e-9;

/// The place between two ends where a rising measure reaches a value.
fn crossing(measure: &dyn Fn(f64) -> f64, reach: (f64, f64), value: f64) -> f64 {
    let (mut low, mut high) = reach;
    // Sixty halvings leave nothing of an interval in f64.
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        if measure(middle) < value {
            low = middle;
        } else {
            high = middle;
        }
    }
    0.5 * (low + high)
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
pub(crate) mod tests {
    use super::super::profile::tests::{d, mm};
    use super::{Angle, FramePoint, Held, Line, Place, Profile};
    use crate::setup::view_tests::view;

    pub(crate) fn held(distance: f64, rotation: f64, inverted: bool) -> Held {
        Held {
            distance: mm(distance),
            rotation: Angle::new(rotation).unwrap(),
            inverted,
        }
    }

    fn hard(density: f64) -> Profile {
        Profile::hard(d(density), mm(0.0)).unwrap()
    }

    #[test]
    fn a_step_blends_over_the_pupil_seen_through_the_frame() {
        // f²/(N·z·H) = 50²/(4·100·20) = 0.3125, by hand.
        let lens = view([36.0, 20.0], 1.0, 50.0, 4.0);
        let line = Line::new(
            hard(0.6),
            held(100.0, 0.0, false),
            lens,
            Place::InFrame(0.5),
        );
        assert!((line.unwrap().whole_blend(lens) - 0.3125).abs() < 1e-15);
    }

    #[test]
    fn the_line_goes_where_the_horizon_is() {
        // (0.75 − ½)·20/50·100 = 10 mm, by hand.
        let lens = view([36.0, 20.0], 1.0, 50.0, 4.0);
        let line = Line::new(
            hard(0.6),
            held(100.0, 0.0, false),
            lens,
            Place::InFrame(0.75),
        )
        .unwrap();
        assert!((line.height_millimetres() - 10.0).abs() < 1e-13);
        assert!((line.height_in_frame(lens).unwrap() - 0.75).abs() < 1e-15);
        let there = line.footprint(lens, lens.tangents(FramePoint::at_height(0.75)));
        assert!(there.centre_millimetres().abs() < 1e-13);
    }

    #[test]
    fn upside_down_mirrors_the_frame_about_the_line() {
        let lens = view([24.9, 14.0], 1.0, 35.0, 2.8);
        let at = |inverted, up| {
            let line = Line::new(
                hard(0.9),
                held(80.0, 0.0, inverted),
                lens,
                Place::InFrame(0.5),
            );
            line.unwrap()
                .loss_at(lens, FramePoint::at_height(up))
                .stops()
        };
        for up in [0.0, 0.3, 0.45, 0.5, 0.8] {
            assert!((at(true, up) - at(false, 1.0 - up)).abs() < 1e-13);
        }
    }

    #[test]
    fn a_half_turn_about_the_axis_is_upside_down_only_with_the_line_on_the_axis() {
        let lens = view([24.9, 14.0], 1.0, 35.0, 2.8);
        let turned = |rotation, inverted, height| {
            let line = Line::new(
                hard(0.9),
                held(80.0, rotation, inverted),
                lens,
                Place::OnFilter(mm(height)),
            );
            line.unwrap()
                .loss_at(lens, FramePoint::at_height(0.6))
                .stops()
        };
        assert!((turned(180.0, false, 0.0) - turned(0.0, true, 0.0)).abs() < 1e-13);
        assert!((turned(180.0, false, -3.0) - turned(0.0, true, 3.0)).abs() < 1e-13);
    }

    #[test]
    fn a_quarter_turn_makes_the_left_side_dense() {
        let lens = view([24.0, 14.0], 1.0, 25.0, 8.0);
        let line = Line::new(
            hard(0.9),
            held(90.0, 90.0, false),
            lens,
            Place::OnFilter(mm(0.0)),
        );
        let line = line.unwrap();
        let at = |across| line.loss_at(lens, FramePoint { across, up: 0.3 }).stops();
        assert!(at(0.0) > 2.98 && at(1.0) < 1e-12);
        assert_eq!(line.height_in_frame(lens), None);
        assert!(line.slide_per_degree().abs() < 1e-12);
    }

    #[test]
    fn sliding_follows_a_small_tilt() {
        // An independent route: move the horizon by a hundredth of a degree.
        let lens = view([24.9, 14.0], 1.0, 25.0, 4.0);
        let line = Line::new(hard(0.6), held(70.0, 0.0, false), lens, Place::InFrame(0.8)).unwrap();
        let tangent = 0.3 * 14.0 / 25.0_f64;
        let moved = 70.0 * ((tangent.atan() + 0.01f64.to_radians()).tan() - tangent) / 0.01;
        assert!((line.slide_per_degree() - moved).abs() < 1e-3);
    }

    #[test]
    fn stopping_down_hardens_the_line() {
        // Common practice, no source; here it comes out of the computation.
        let narrow = |number| {
            let lens = view([24.9, 14.0], 1.0, 35.0, number);
            let line = Line::new(hard(0.9), held(80.0, 0.0, false), lens, Place::InFrame(0.5));
            line.unwrap().blend(lens).unwrap().in_stops
        };
        assert!(narrow(11.0) < narrow(5.6) && narrow(5.6) < narrow(2.0));
    }
}
