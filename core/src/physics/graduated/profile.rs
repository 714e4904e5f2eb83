//! How the density of a graduated filter runs across its line.

use crate::quantity::{Bounds, Density, Length, OutOfRange};
use alloc::vec::Vec;
use core::fmt;

/// The most points a measured profile may have.
pub const MAX_POINTS: usize = 64;

/// What a reverse filter of unstated top density keeps at its top: a third.
///
/// Common practice, no source.
pub const REVERSE_TOP: f64 = 1.0 / 3.0;

/// Density against the height above the filter's line.
///
/// Constant stretches below and above, ramps between them. Along the line the
/// filter is even.
///
/// # Units
///
/// Heights in mm on the filter, measured square to the line, positive towards
/// its dense side. A ramp of no length is a step, and the line belongs to the
/// side above it.
///
/// # Source
///
/// Our own description; which shapes filters have is common practice, no source.
#[derive(Debug, Clone, PartialEq)]
pub struct Profile {
    below: f64,
    ramps: Vec<Ramp>,
    above: f64,
}

/// One stretch over which the density changes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Ramp {
    pub(super) from: f64,
    pub(super) to: f64,
    start: f64,
    end: f64,
    ease: Ease,
}

/// How density runs along a ramp.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Ease {
    /// In proportion to the height.
    Linear,
    /// Level at both ends: 3t² − 2t³.
    Smooth,
}

/// A profile that cannot be.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum ProfileError {
    /// A measured profile without any point.
    NoPoints,
    /// More points than [`MAX_POINTS`].
    TooManyPoints(usize),
    /// The point at this place lies below the one before it.
    Descending(usize),
    /// A ramp shorter than nothing or longer than any filter.
    Ramp(OutOfRange),
}

impl Profile {
    /// The same density everywhere.
    #[must_use]
    pub const fn even(density: Density) -> Self {
        Self {
            below: density.density(),
            ramps: Vec::new(),
            above: density.density(),
        }
    }

    /// Clear below the line, dense above it; `ramp` 0 is the ideal step, more
    /// spreads the edge evenly to both sides of the line.
    ///
    /// # Errors
    ///
    /// [`ProfileError::Ramp`] below 0 or above 1000 mm.
    pub fn hard(density: Density, ramp: Length) -> Result<Self, ProfileError> {
        Self::across(density, ramp, Ease::Linear)
    }

    /// Density rising in proportion to the height over `ramp`, centred on the
    /// line. The same law as a hard edge; the two differ by the ramp's length.
    ///
    /// # Errors
    ///
    /// [`ProfileError::Ramp`] below 0 or above 1000 mm.
    ///
    /// # Examples
    ///
    /// ```
    /// use glasscall_core::physics::profile::Profile;
    /// use glasscall_core::quantity::{Density, Length};
    ///
    /// let soft = Profile::soft(Density::constant(0.9), Length::constant(30.0)).unwrap();
    /// let at = |height| soft.density_at(Length::constant(height)).density();
    /// assert_eq!((at(-20.0), at(20.0)), (0.0, 0.9));
    /// assert!((at(0.0) - 0.45).abs() < 1e-12);
    /// ```
    pub fn soft(density: Density, ramp: Length) -> Result<Self, ProfileError> {
        Self::across(density, ramp, Ease::Linear)
    }

    /// Density rising as 3t² − 2t³ over `ramp`, centred on the line: a soft
    /// edge without a kink at either end.
    ///
    /// # Errors
    ///
    /// [`ProfileError::Ramp`] below 0 or above 1000 mm.
    pub fn smooth(density: Density, ramp: Length) -> Result<Self, ProfileError> {
        Self::across(density, ramp, Ease::Smooth)
    }

    /// Clear below, densest at the line, fading to `top` at `ramp` above it.
    ///
    /// # Errors
    ///
    /// [`ProfileError::Ramp`] below 0 or above 1000 mm.
    pub fn reverse(density: Density, top: Density, ramp: Length) -> Result<Self, ProfileError> {
        let ramp = checked(ramp)?;
        Ok(Self::through(&[
            (0.0, 0.0),
            (0.0, density.density()),
            (ramp, top.density()),
        ]))
    }

    /// Densest on the line, fading to clear at `ramp` on either side.
    ///
    /// # Errors
    ///
    /// [`ProfileError::Ramp`] below 0 or above 1000 mm.
    pub fn stripe(density: Density, ramp: Length) -> Result<Self, ProfileError> {
        let ramp = checked(ramp)?;
        Ok(Self::through(&[
            (-ramp, 0.0),
            (0.0, density.density()),
            (ramp, 0.0),
        ]))
    }

    /// A measured profile: straight between the points, even beyond the first
    /// and the last. Two points at one height are a step.
    ///
    /// # Errors
    ///
    /// [`ProfileError`] without points, with too many, or when one lies below
    /// the point before it.
    pub fn points(points: &[(Length, Density)]) -> Result<Self, ProfileError> {
        if points.is_empty() {
            return Err(ProfileError::NoPoints);
        }
        if points.len() > MAX_POINTS {
            return Err(ProfileError::TooManyPoints(points.len()));
        }
        if let Some(before) = points.windows(2).position(|pair| pair[1].0 < pair[0].0) {
            return Err(ProfileError::Descending(before + 1));
        }
        let knots: Vec<(f64, f64)> = (points.iter())
            .map(|(height, density)| (height.millimetres(), density.density()))
            .collect();
        Ok(Self::through(&knots))
    }

    fn across(density: Density, ramp: Length, ease: Ease) -> Result<Self, ProfileError> {
        let half = checked(ramp)? / 2.0;
        let mut profile = Self::through(&[(-half, 0.0), (half, density.density())]);
        for ramp in &mut profile.ramps {
            ramp.ease = ease;
        }
        Ok(profile)
    }

    /// Straight lines through the knots, which ascend.
    fn through(knots: &[(f64, f64)]) -> Self {
        let ramps = knots.windows(2).map(|pair| Ramp {
            from: pair[0].0,
            to: pair[1].0,
            start: pair[0].1,
            end: pair[1].1,
            ease: Ease::Linear,
        });
        let density = |knot: Option<&(f64, f64)>| knot.map_or(0.0, |(_, density)| *density);
        Self {
            below: density(knots.first()),
            ramps: ramps
                .filter(|ramp| ramp.start != ramp.end || ramp.to > ramp.from)
                .collect(),
            above: density(knots.last()),
        }
    }

    /// The density at a height above the line.
    #[must_use]
    pub fn density_at(&self, height: Length) -> Density {
        Density::new(self.density_at_millimetres(height.millimetres())).unwrap_or(Density::CLEAR)
    }

    pub(super) fn density_at_millimetres(&self, height: f64) -> f64 {
        if self.ramps.first().is_none_or(|first| height < first.from) {
            self.below
        } else {
            (self.ramps.iter())
                .find(|ramp| height < ramp.to)
                .map_or(self.above, |ramp| ramp.density_at(height))
        }
    }

    /// The same shape with every density times `factor`; used to ask what a
    /// stronger filter of this kind would do.
    ///
    /// # Errors
    ///
    /// [`OutOfRange`] when its densest part would leave the range of densities.
    pub fn scaled(&self, factor: f64) -> Result<Self, OutOfRange> {
        Density::new(self.densest().density() * factor)?;
        let ramp = |ramp: &Ramp| Ramp {
            start: ramp.start * factor,
            end: ramp.end * factor,
            ..*ramp
        };
        Ok(Self {
            below: self.below * factor,
            ramps: self.ramps.iter().map(ramp).collect(),
            above: self.above * factor,
        })
    }

    /// The greatest density anywhere on it.
    #[must_use]
    pub fn densest(&self) -> Density {
        let ends = self.ramps.iter().map(|ramp| ramp.start.max(ramp.end));
        let densest = ends.fold(self.below.max(self.above), f64::max);
        Density::new(densest).unwrap_or(Density::CLEAR)
    }

    /// From the lowest to the highest place where the density changes, in mm;
    /// 0 for a step and for even glass.
    #[must_use]
    pub fn ramp_millimetres(&self) -> f64 {
        let (from, to) = self.span();
        to - from
    }

    /// Whether density never falls towards the dense side.
    #[must_use]
    pub fn only_rises(&self) -> bool {
        self.ramps.iter().all(|ramp| ramp.end >= ramp.start)
    }

    /// The heights at which density takes another course.
    pub(crate) fn bends(&self) -> impl Iterator<Item = f64> {
        self.ramps.iter().flat_map(|ramp| [ramp.from, ramp.to])
    }

    pub(crate) fn span(&self) -> (f64, f64) {
        let from = self.ramps.first().map_or(0.0, |ramp| ramp.from);
        let to = self.ramps.last().map_or(0.0, |ramp| ramp.to);
        (from, to)
    }

    pub(super) const fn below(&self) -> f64 {
        self.below
    }

    pub(super) const fn above(&self) -> f64 {
        self.above
    }

    pub(super) fn ramps(&self) -> &[Ramp] {
        &self.ramps
    }
}

impl Ramp {
    pub(super) fn density_at(self, height: f64) -> f64 {
        // A ramp shorter than the heights are exact may be missed by many ramps.
        let t = ((height - self.from) / (self.to - self.from)).clamp(0.0, 1.0);
        let t = match self.ease {
            Ease::Linear => t,
            Ease::Smooth => t * t * (3.0 - 2.0 * t),
        };
        self.start + (self.end - self.start) * t
    }

    /// Density a mm, where it rises or falls in proportion to the height.
    pub(super) fn slope(&self) -> Option<f64> {
        let length = self.to - self.from;
        (self.ease == Ease::Linear && length > 0.0).then(|| (self.end - self.start) / length)
    }

    /// How much the density changes along it, either way.
    pub(super) fn change(self) -> f64 {
        libm::fabs(self.end - self.start)
    }
}

fn checked(ramp: Length) -> Result<f64, ProfileError> {
    (Bounds::RAMP.check(ramp.millimetres())).map_err(ProfileError::Ramp)
}

impl fmt::Display for ProfileError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoPoints => write!(f, "no points"),
            Self::TooManyPoints(count) => write!(f, "{count} points, at most {MAX_POINTS}"),
            Self::Descending(at) => write!(f, "point {at} lies below the one before it"),
            Self::Ramp(error) => write!(f, "{error}"),
        }
    }
}

impl core::error::Error for ProfileError {}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
pub(crate) mod tests {
    use super::{Density, Length, Profile, ProfileError};

    pub(crate) fn mm(length: f64) -> Length {
        Length::new(length).unwrap()
    }

    pub(crate) fn d(density: f64) -> Density {
        Density::new(density).unwrap()
    }

    fn at(profile: &Profile, height: f64) -> f64 {
        profile.density_at(mm(height)).density()
    }

    #[test]
    fn a_step_is_clear_below_its_line_and_dense_from_it_on() {
        let hard = Profile::hard(d(0.9), mm(0.0)).unwrap();
        assert_eq!((at(&hard, -1e-9), at(&hard, 0.0)), (0.0, 0.9));
    }

    #[test]
    fn a_soft_edge_is_half_dense_on_its_line() {
        for soft in [
            Profile::soft(d(0.6), mm(30.0)),
            Profile::smooth(d(0.6), mm(30.0)),
        ] {
            let soft = soft.unwrap();
            assert_eq!([-20.0, 0.0, 20.0].map(|h| at(&soft, h)), [0.0, 0.3, 0.6]);
        }
    }

    #[test]
    fn a_smooth_edge_starts_and_ends_level() {
        // 3t² − 2t³ at t = ¼ is 5/32, by hand.
        let smooth = Profile::smooth(d(1.0), mm(40.0)).unwrap();
        assert!((at(&smooth, -10.0) - 5.0 / 32.0).abs() < 1e-15);
    }

    #[test]
    fn a_reverse_filter_is_densest_at_its_line() {
        let reverse = Profile::reverse(d(0.9), d(0.3), mm(40.0)).unwrap();
        let found = [-0.1, 0.0, 20.0, 60.0].map(|h| at(&reverse, h));
        for (found, wanted) in found.into_iter().zip([0.0, 0.9, 0.6, 0.3]) {
            assert!((found - wanted).abs() < 1e-15);
        }
        assert!(!reverse.only_rises());
    }

    #[test]
    fn a_stripe_fades_to_both_sides() {
        let stripe = Profile::stripe(d(0.6), mm(10.0)).unwrap();
        assert_eq!(
            [-10.0, -5.0, 0.0, 5.0, 12.0].map(|h| at(&stripe, h)),
            [0.0, 0.3, 0.6, 0.3, 0.0]
        );
    }

    #[test]
    fn points_are_joined_by_straight_lines_and_may_step() {
        let points = [(-5.0, 0.1), (0.0, 0.2), (0.0, 0.8), (10.0, 1.0)].map(|(h, v)| (mm(h), d(v)));
        let measured = Profile::points(&points).unwrap();
        for (height, wanted) in [
            (-9.0, 0.1),
            (-2.5, 0.15),
            (0.0, 0.8),
            (5.0, 0.9),
            (11.0, 1.0),
        ] {
            assert!((at(&measured, height) - wanted).abs() < 1e-15);
        }
    }

    #[test]
    fn points_out_of_order_and_ramps_of_less_than_nothing_are_refused() {
        let down = [(1.0, 0.1), (0.0, 0.2)].map(|(h, v)| (mm(h), d(v)));
        assert_eq!(Profile::points(&down), Err(ProfileError::Descending(1)));
        assert_eq!(Profile::points(&[]), Err(ProfileError::NoPoints));
        assert!(matches!(
            Profile::soft(d(0.3), mm(-1.0)),
            Err(ProfileError::Ramp(_))
        ));
    }

    #[test]
    fn a_stronger_filter_keeps_its_shape() {
        let reverse = Profile::reverse(d(0.9), d(0.3), mm(40.0)).unwrap();
        let twice = reverse.scaled(2.0).unwrap();
        for height in [-1.0, 0.0, 7.0, 20.0, 39.0, 60.0] {
            assert!((at(&twice, height) - 2.0 * at(&reverse, height)).abs() < 1e-14);
        }
    }

    #[test]
    fn each_refusal_says_what_is_wrong() {
        use alloc::string::ToString;
        assert_eq!(ProfileError::NoPoints.to_string(), "no points");
        assert!(ProfileError::Descending(3).to_string().contains("point 3"));
    }

    #[test]
    fn a_ramp_rises_by_its_density_over_its_length() {
        let soft = Profile::soft(d(0.6), mm(30.0)).unwrap();
        assert_eq!(soft.ramp_millimetres(), 30.0);
        assert_eq!(soft.ramps()[0].slope(), Some(0.02));
        // The dark stripe falls on its far side.
        let stripe = Profile::stripe(d(0.9), mm(10.0)).unwrap();
        assert_eq!(stripe.ramp_millimetres(), 20.0);
        assert_eq!(stripe.ramps()[1].slope(), Some(-0.09));
        assert_eq!(stripe.ramps()[1].change(), 0.9);
        let ends = Profile::points(&[(mm(5.0), d(0.3)), (mm(9.0), d(1.1))]).unwrap();
        assert_eq!(ends.ramp_millimetres(), 4.0);
        assert!((ends.ramps()[0].change() - 0.8).abs() < 1e-15);
    }

    #[test]
    fn a_step_and_an_eased_ramp_have_no_one_slope() {
        let hard = Profile::hard(d(0.9), mm(0.0)).unwrap();
        assert_eq!(hard.ramps()[0].slope(), None);
        let smooth = Profile::smooth(d(0.9), mm(10.0)).unwrap();
        assert_eq!(smooth.ramps()[0].slope(), None);
    }

    #[test]
    fn a_scaled_profile_is_so_many_times_as_dense_everywhere() {
        let points = [(mm(-5.0), d(0.2)), (mm(0.0), d(0.9)), (mm(8.0), d(0.5))];
        let profile = Profile::points(&points).unwrap();
        let scaled = profile.scaled(3.0).unwrap();
        for height in [-9.0, -5.0, -3.1, 0.0, 2.2, 8.0, 20.0] {
            let wanted = 3.0 * at(&profile, height);
            assert!((at(&scaled, height) - wanted).abs() < 1e-15, "{height}");
        }
        assert!(profile.scaled(20.0).is_err());
    }

    #[test]
    fn as_many_points_as_are_allowed_and_no_more() {
        let many = |count: u32| -> alloc::vec::Vec<_> {
            (0..count).map(|at| (mm(f64::from(at)), d(0.3))).collect()
        };
        assert!(Profile::points(&many(64)).is_ok());
        assert_eq!(
            Profile::points(&many(65)),
            Err(ProfileError::TooManyPoints(65))
        );
        // Two points at one place that differ are a step; two alike are one.
        let twice = |other| Profile::points(&[(mm(1.0), d(0.3)), (mm(1.0), d(other))]).unwrap();
        assert_eq!(twice(0.3).ramps().len(), 0);
        assert_eq!(twice(0.6).ramps().len(), 1);
    }

    #[test]
    fn a_level_stretch_between_marks_belongs_to_the_span() {
        let through = Profile::through(&[(0.0, 0.3), (5.0, 0.3), (9.0, 0.9)]);
        assert_eq!(through.span(), (0.0, 9.0));
    }

    #[test]
    fn five_times_density_three_is_no_density() {
        let three = Profile::hard(d(3.0), mm(0.0)).unwrap();
        assert!(three.scaled(4.0).is_ok() && three.scaled(5.0).is_err());
    }
}
