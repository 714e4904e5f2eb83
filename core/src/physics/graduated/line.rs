//! Where a graduated filter's line falls in the frame, and how it blends.

use super::footprint::Footprint;
use super::profile::Profile;
use crate::physics::pupil::Pupil;
use crate::physics::vignetting::beam::Beam;
use crate::quantity::{Angle, Bounds, Length, OutOfRange, Stops};
use crate::setup::{Tangents, View};
use crate::square_root::length;
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
/// entrance pupil as the pupil's shape, moved by z·tan θ (subject far away);
/// both as the pupil's [`LensShape`](crate::physics::lens_shape::LensShape) says.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    profile: Profile,
    view: View,
    pupil: Pupil,
    /// From the rim to the filter.
    from_rim: f64,
    /// From the pupil to the filter, for rays fanning out across and up.
    ahead: [f64; 2],
    dense: [f64; 2],
    height: f64,
    inverted: bool,
}

/// How the filter is held.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Held {
    /// From the rim of the lens forward to the filter.
    pub from_rim: Length,
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
    /// Through this share of the frame's height, on the upright through the
    /// lens axis.
    InFrame(f64),
}

impl Line {
    /// A filter held like that with its line there.
    ///
    /// # Errors
    ///
    /// [`OutOfRange`] of the filter's distance from the rim when it is not in
    /// front of the pupil, by 0.1 to 10 000 mm.
    pub fn new(
        profile: Profile,
        held: Held,
        view: View,
        pupil: &Pupil,
        place: Place,
    ) -> Result<Self, OutOfRange> {
        let from_rim = held.from_rim.millimetres();
        let position = pupil.position();
        let behind = [position.horizontal, position.vertical].map(Length::millimetres);
        for behind in behind {
            (Bounds::PUPIL_TO_GLASS.raised(-behind)).check(from_rim)?;
        }
        let turn = libm::fmod(held.rotation.degrees(), 360.0).to_radians();
        let mut line = Self {
            profile,
            view,
            pupil: *pupil,
            from_rim,
            ahead: behind.map(|behind| behind + from_rim),
            dense: [-libm::sin(turn), libm::cos(turn)],
            height: 0.0,
            inverted: held.inverted,
        };
        line.height = match place {
            Place::OnFilter(height) => height.millimetres(),
            Place::InFrame(up) => line.height_at(up),
        };
        Ok(line)
    }

    /// Where the light of one field point meets the filter, the rim of the lens
    /// left aside.
    ///
    /// # Units
    ///
    /// The point is told by height over focal length. Half the footprint is the
    /// pupil's half length along the dense direction, hypot(rx·nx, ry·ny) for a
    /// pupil that keeps its size.
    #[must_use]
    pub fn footprint(&self, field: Tangents) -> Footprint {
        self.footprint_of(&self.beam(self.pupil.shape().real(field)))
    }

    fn beam(&self, ray: Tangents) -> Beam {
        Beam::of_ray(&self.pupil, ray)
    }

    pub(crate) const fn pupil(&self) -> &Pupil {
        &self.pupil
    }

    pub(super) fn footprint_of(&self, beam: &Beam) -> Footprint {
        let (middle, half) = beam.along(self.dense, self.from_rim);
        let above = middle - self.height;
        Footprint::computed(if self.inverted { -above } else { above }, half)
    }

    /// The direction in which the density rises: right, up.
    pub(super) fn rises(&self) -> [f64; 2] {
        let sign = if self.inverted { -1.0 } else { 1.0 };
        self.dense.map(|part| sign * part)
    }

    /// Where the line must be on the filter, in mm from the lens axis in the
    /// dense direction.
    #[must_use]
    pub const fn height_millimetres(&self) -> f64 {
        self.height
    }

    /// Where the line crosses the upright through the lens axis, as a share of
    /// the frame's height; `None` when it runs along that upright.
    #[must_use]
    pub fn height_in_frame(&self) -> Option<f64> {
        let record = self.view.record();
        let ray = Tangents {
            x: 0.0,
            y: self.upright_tangent()?,
        };
        let y = self.pupil.shape().nominal(ray).y * record.focal_length.millimetres();
        Some(0.5 + (y - record.shift_y.millimetres()) / record.height.millimetres())
    }

    /// How far to slide the filter for each degree of tilt to keep its line on
    /// what it lies on.
    ///
    /// # Units
    ///
    /// mm along the dense direction for a degree of tilt: z·sec²θ·cos ρ·π/180
    /// at the line's own field angle θ, ρ being the rotation. Tilt the camera
    /// down and the line goes up by it. 0 for a line that stands upright.
    #[must_use]
    pub fn slide_per_degree(&self) -> f64 {
        let tangent = self.upright_tangent().unwrap_or(0.0);
        (self.ahead[1] * (1.0 + tangent * tangent) * self.dense[1]).to_radians()
    }

    /// The difference between its two ends; negative when the far end of the
    /// dense side is the clearer one.
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
        Self { profile, ..*self }
    }

    /// The same filter with its line elsewhere, in mm from the lens axis.
    #[must_use]
    pub fn slid_to(&self, height: f64) -> Self {
        Self {
            height,
            ..self.clone()
        }
    }

    /// The height on the filter of a line through this share of the frame's
    /// height, in mm from the lens axis.
    pub(crate) fn height_at(&self, up: f64) -> f64 {
        let y = self.view.tangents_of(0.5, up).y;
        self.height_through(self.pupil.shape().real(Tangents { x: 0.0, y }).y)
    }

    /// The same filter upside down, its line where it was.
    #[must_use]
    pub fn turned_over(&self) -> Self {
        Self {
            inverted: !self.inverted,
            ..self.clone()
        }
    }

    /// The same filter in front of a pupil this many times as large.
    #[must_use]
    pub(crate) fn with_pupil_scaled(&self, by: f64) -> Self {
        Self {
            pupil: self.pupil.scaled(by),
            ..self.clone()
        }
    }

    /// The height on the filter, in mm, of a line through this real tangent
    /// above the lens axis on its upright.
    pub(crate) fn height_through(&self, tangent: f64) -> f64 {
        self.ahead[1] * tangent * self.dense[1]
    }

    /// Real tangent of the field angle at which the line crosses the upright.
    pub(crate) fn upright_tangent(&self) -> Option<f64> {
        (libm::fabs(self.dense[1]) > UPRIGHT).then(|| self.height / self.dense[1] / self.ahead[1])
    }

    /// The centre of the footprint as a linear function of the field, which it
    /// is for a lens that draws straight: mm for each unit of tangent across and
    /// up, and at the axis.
    pub(crate) fn centre_of_field(&self) -> [f64; 3] {
        let sign = if self.inverted { -1.0 } else { 1.0 };
        [
            sign * self.ahead[0] * self.dense[0],
            sign * self.ahead[1] * self.dense[1],
            -sign * self.height,
        ]
    }

    /// Half the footprint's length where the line crosses the upright, or else
    /// on the axis.
    pub(crate) fn half(&self) -> f64 {
        let y = self.upright_tangent().unwrap_or(0.0);
        let beam = self.beam(Tangents { x: 0.0, y });
        self.footprint_of(&beam).half_millimetres()
    }

    /// A length across the line on the filter as a share of the frame's height,
    /// where the line crosses the upright.
    pub(crate) fn share_of_frame(&self, reach: f64) -> f64 {
        let record = self.view.record();
        let shape = self.pupil.shape();
        let ray = Tangents {
            x: 0.0,
            y: self.upright_tangent().unwrap_or(0.0),
        };
        let [across, up] = shape.rise_on_upright(shape.nominal(ray).y);
        // Two lines c apart on the filter lie c·f/|(zx·s·nx, zy·ny)| apart in
        // the image.
        let apart = length(
            self.ahead[0] * record.squeeze.ratio() * self.dense[0] * across,
            self.ahead[1] * self.dense[1] * up,
        );
        reach * record.focal_length.millimetres() / (apart * record.height.millimetres())
    }

    /// The view it stands in.
    #[must_use]
    pub const fn view(&self) -> &View {
        &self.view
    }
}

/// The cosine of a rotation below which the line counts as upright.
const UPRIGHT: f64 = 1e-9;

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
pub(crate) mod tests {
    use super::super::profile::tests::{d, mm};
    use super::{Angle, Held, Line, Place, Profile, Pupil, View};
    use crate::quantity::{Aperture, FocalLength, Length, Span, Squeeze};
    use crate::setup::ViewRecord;

    /// A lens whose pupil lies in its rim.
    pub(crate) fn lens(sensor: [f64; 2], squeeze: f64, focal: f64, number: f64) -> (View, Pupil) {
        let record = ViewRecord {
            width: Span::new(sensor[0]).unwrap(),
            height: Span::new(sensor[1]).unwrap(),
            shift_x: Length::ZERO,
            shift_y: Length::ZERO,
            focal_length: FocalLength::new(focal).unwrap(),
            squeeze: Squeeze::new(squeeze).unwrap(),
        };
        let number = Aperture::from_number(number).unwrap();
        let pupil = Pupil::new(
            record.focal_length,
            number,
            record.squeeze,
            Length::ZERO.into(),
        );
        (View::new(record).unwrap(), pupil)
    }

    pub(crate) fn held(from_rim: f64, rotation: f64, inverted: bool) -> Held {
        Held {
            from_rim: mm(from_rim),
            rotation: Angle::new(rotation).unwrap(),
            inverted,
        }
    }

    pub(crate) fn hard(density: f64) -> Profile {
        Profile::hard(d(density), mm(0.0)).unwrap()
    }

    pub(crate) fn line((view, pupil): (View, Pupil), held: Held, place: Place) -> Line {
        Line::new(hard(0.9), held, view, &pupil, place).unwrap()
    }

    #[test]
    fn the_line_goes_where_the_horizon_is() {
        // (0.75 − ½)·20/50·100 = 10 mm, by hand.
        let lens = lens([36.0, 20.0], 1.0, 50.0, 4.0);
        let line = line(lens, held(100.0, 0.0, false), Place::InFrame(0.75));
        assert!((line.height_millimetres() - 10.0).abs() < 1e-13);
        assert!((line.height_in_frame().unwrap() - 0.75).abs() < 1e-15);
        let there = line.footprint(lens.0.tangents_of(0.5, 0.75));
        assert!(there.centre_millimetres().abs() < 1e-13);
    }

    #[test]
    fn upside_down_mirrors_the_frame_about_the_line() {
        let lens = lens([24.9, 14.0], 1.0, 35.0, 2.8);
        let at = |inverted, up| {
            let line = line(lens, held(80.0, 0.0, inverted), Place::InFrame(0.5));
            line.loss_towards(lens.0.tangents_of(0.5, up)).stops()
        };
        for up in [0.0, 0.3, 0.45, 0.5, 0.8] {
            assert!((at(true, up) - at(false, 1.0 - up)).abs() < 1e-13);
        }
    }

    #[test]
    fn a_half_turn_takes_the_line_along_and_upside_down_does_not() {
        let lens = lens([24.9, 14.0], 1.0, 35.0, 2.8);
        let turned = |rotation, inverted, height| {
            let line = line(
                lens,
                held(80.0, rotation, inverted),
                Place::OnFilter(mm(height)),
            );
            line.loss_towards(lens.0.tangents_of(0.5, 0.6)).stops()
        };
        assert!((turned(180.0, false, 0.0) - turned(0.0, true, 0.0)).abs() < 1e-13);
        assert!((turned(180.0, false, -3.0) - turned(0.0, true, 3.0)).abs() < 1e-13);
    }

    #[test]
    fn a_quarter_turn_makes_the_left_side_dense() {
        let lens = lens([24.0, 14.0], 1.0, 25.0, 8.0);
        let line = line(lens, held(90.0, 90.0, false), Place::OnFilter(mm(0.0)));
        let at = |across| line.loss_towards(lens.0.tangents_of(across, 0.3)).stops();
        assert!(at(0.0) > 2.98 && at(1.0) < 1e-12);
        assert_eq!(line.height_in_frame(), None);
        assert!(line.slide_per_degree().abs() < 1e-12);
    }

    #[test]
    fn sliding_follows_a_small_tilt() {
        // An independent route: move the horizon by a hundredth of a degree.
        let line = line(
            lens([24.9, 14.0], 1.0, 25.0, 4.0),
            held(70.0, 0.0, false),
            Place::InFrame(0.8),
        );
        let tangent = 0.3 * 14.0 / 25.0_f64;
        let moved = 70.0 * ((tangent.atan() + 0.01f64.to_radians()).tan() - tangent) / 0.01;
        assert!((line.slide_per_degree() - moved).abs() < 1e-3);
    }

    #[test]
    fn a_filter_behind_the_pupil_is_refused() {
        let (view, pupil) = lens([24.0, 14.0], 1.0, 25.0, 8.0);
        let behind = Line::new(
            hard(0.3),
            held(-5.0, 0.0, false),
            view,
            &pupil,
            Place::InFrame(0.5),
        );
        assert!(behind.is_err());
    }

    #[test]
    fn a_line_is_where_it_was_put_and_marked_by_its_difference() {
        let lens = lens([36.0, 20.0], 1.3, 50.0, 4.0);
        for place in [0.2, 0.5, 0.9] {
            let line = line(lens, held(100.0, 20.0, false), Place::InFrame(place));
            let tangent = line.upright_tangent().unwrap();
            // 20 mm of frame 50 mm away, by hand.
            assert!((tangent - (place - 0.5) * 20.0 / 50.0).abs() < 1e-12);
            assert!((line.height_through(tangent) - line.height).abs() < 1e-12);
        }
        let line = line(lens, held(100.0, 0.0, false), Place::InFrame(0.5));
        let points = [(mm(0.0), d(0.3)), (mm(9.0), d(1.1))];
        let between = line.with_profile(Profile::points(&points).unwrap());
        // 0.8/log10 2.
        assert!((between.marked().stops() - 2.657_542_475_909_9).abs() < 1e-12);
    }

    #[test]
    fn a_degree_unslid_costs_what_the_worse_way_costs() {
        let lens = lens([36.0, 20.0], 1.0, 50.0, 4.0);
        let mut worse_ways = alloc::vec::Vec::new();
        for inverted in [false, true] {
            let line = line(lens, held(100.0, 0.0, inverted), Place::InFrame(0.7));
            let turned = |degrees: f64| {
                let y = libm::tan(libm::atan(0.08) + degrees.to_radians());
                let field = crate::setup::Tangents { x: 0.0, y };
                line.loss_towards(field).stops()
            };
            let [up, down] = [1.0, -1.0].map(|way| libm::fabs(turned(way) - turned(0.0)));
            assert!(up > 0.1 && down > 0.1 && (up - down).abs() > 0.01);
            assert!((line.unslid_degree().stops() - up.max(down)).abs() < 1e-12);
            worse_ways.push(up > down);
        }
        assert_ne!(worse_ways[0], worse_ways[1]);
    }

    #[test]
    fn a_shifted_camera_still_has_its_line_where_it_was_put() {
        let (view, pupil) = lens([36.0, 20.0], 1.0, 50.0, 4.0);
        let shifted = View::new(ViewRecord {
            shift_y: mm(3.0),
            ..*view.record()
        });
        let line = line(
            (shifted.unwrap(), pupil),
            held(100.0, 0.0, false),
            Place::InFrame(0.75),
        );
        assert!((line.height_in_frame().unwrap() - 0.75).abs() < 1e-15);
    }
}
