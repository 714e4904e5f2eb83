//! Two polarizers as a density that turns, and one polarizer measured.

use super::sheet::Sheet;
use crate::quantity::{Direction, ExtinctionRatio, Stops};
use crate::square_root::square_root;

/// Two polarizers, one turned against the other, in light as it comes.
///
/// # Units
///
/// Angles between the passed axes in degrees, 0 parallel, 90 crossed.
///
/// # Source
///
/// Malus's law for each principal transmittance of two equal sheets: T(θ) =
/// ½·(k1² + k2²)·cos²θ + k1·k2·sin²θ, so T(θ)/T(0) = cos²θ + sin²θ/R with R =
/// T(0)/T(90). Mueller matrices give the same: `tests/reference/laws/variable_nd.json`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PolarizerPair {
    /// What it takes when parallel.
    pub loss: Stops,
    /// T(90)/T(0): the share that leaks when crossed, 0 for an ideal pair.
    leak: f64,
}

impl PolarizerPair {
    /// What a pair is taken to cost when parallel, until it is measured: 2⅓
    /// stops.
    ///
    /// One stop is the floor; two sheets that each cost the assumed 1⅔ in light
    /// as it comes take ⅔ of a stop each beyond it.
    pub const USUAL_LOSS: Stops = Stops::computed(7.0 / 3.0);
    /// T(0)/T(90) of a pair until it is measured.
    ///
    /// Common practice, no source: dense ends of about ten stops are sold.
    pub const USUAL_RATIO: f64 = 1000.0;

    /// A pair of measured loss and extinction.
    #[must_use]
    pub fn new(loss: Stops, ratio: ExtinctionRatio) -> Self {
        Self {
            loss,
            leak: 1.0 / ratio.ratio(),
        }
    }

    /// A pair that is black when crossed.
    #[must_use]
    pub const fn ideal(loss: Stops) -> Self {
        Self { loss, leak: 0.0 }
    }

    /// What it takes at an angle; `None` for no light at all.
    ///
    /// # Examples
    ///
    /// ```
    /// use glasscall_core::physics::polarizer_pair::PolarizerPair;
    /// use glasscall_core::quantity::Stops;
    ///
    /// // cos² 60° is a quarter: two stops on top of what the pair takes at best.
    /// let pair = PolarizerPair::ideal(Stops::new(2.0)?);
    /// assert!(pair.taken_at(60.0).is_some_and(|taken| (taken.stops() - 4.0).abs() < 1e-9));
    /// assert_eq!(pair.taken_at(90.0), None);
    /// # Ok::<(), glasscall_core::quantity::OutOfRange>(())
    /// ```
    #[must_use]
    pub fn taken_at(self, degrees: f64) -> Option<Stops> {
        let passed = self.passed(degrees);
        (passed > 0.0).then(|| self.loss + Stops::computed(-libm::log2(passed)))
    }

    /// T(θ)/T(0).
    fn passed(self, degrees: f64) -> f64 {
        let (sine, cosine) = across_and_along(degrees);
        cosine * cosine + self.leak * sine * sine
    }

    /// How fast it darkens, in stops a degree; `None` for no light at all.
    #[must_use]
    pub fn slope_at(self, degrees: f64) -> Option<f64> {
        let (sine, cosine) = across_and_along(degrees);
        let passed = self.passed(degrees);
        let turn = 2.0 * sine * cosine * (1.0 - self.leak);
        let slope = turn / passed * core::f64::consts::LOG2_E * 1f64.to_radians();
        (passed > 0.0).then_some(slope)
    }

    /// The most it takes, crossed; `None` when that is all light.
    #[must_use]
    pub fn most(self) -> Option<Stops> {
        (self.leak > 0.0).then(|| self.loss + Stops::computed(-libm::log2(self.leak)))
    }

    /// The angle that takes so much, [0, 90]; `None` beyond what the pair can.
    ///
    /// # Examples
    ///
    /// ```
    /// use glasscall_core::physics::polarizer_pair::PolarizerPair;
    /// use glasscall_core::quantity::Stops;
    ///
    /// let pair = PolarizerPair::ideal(Stops::new(2.0)?);
    /// let angle = pair.angle_for(Stops::new(4.0)?);
    /// assert!(angle.is_some_and(|angle| (angle - 60.0).abs() < 1e-9));
    /// // Less than it takes at best.
    /// assert_eq!(pair.angle_for(Stops::new(1.0)?), None);
    /// # Ok::<(), glasscall_core::quantity::OutOfRange>(())
    /// ```
    #[must_use]
    pub fn angle_for(self, taken: Stops) -> Option<f64> {
        let passed = libm::exp2(-(taken - self.loss).stops());
        let cosine_squared = (passed - self.leak) / (1.0 - self.leak);
        // Ends asked for as printed may miss by rounding.
        let near = -1e-9..=1.0 + 1e-9;
        near.contains(&cosine_squared).then(|| {
            let squared = cosine_squared.clamp(0.0, 1.0);
            libm::atan2(square_root(1.0 - squared), square_root(squared)).to_degrees()
        })
    }

    /// What the pair takes from a ray off the axis, the sheets being flat.
    ///
    /// Retarding layers in real sheets can add to the unevenness or take from
    /// it; they are left out. `None` for no light at all.
    ///
    /// # Source
    ///
    /// Geometry of two O-type sheets, see [`Sheet`].
    #[must_use]
    pub fn taken_from(self, ray: Direction, sheets: [Sheet; 2]) -> Option<Stops> {
        let [first, second] = sheets.map(|sheet| sheet.passed(ray));
        let along = first.zip(second).map_or(1.0, |(a, b)| a.cosine_to(b));
        let passed = along * along * (1.0 - self.leak) + self.leak;
        (passed > 0.0).then(|| self.loss + Stops::computed(-libm::log2(passed)))
    }
}

/// Sine and cosine with exact ends: cos 90° must be no light, not a hair.
fn across_and_along(degrees: f64) -> (f64, f64) {
    if degrees == 90.0 {
        (1.0, 0.0)
    } else {
        libm::sincos(degrees.to_radians())
    }
}

/// One polarizer as two readings through it show it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MeasuredPolarizer {
    /// What it takes from light as it comes: the figure to compensate by.
    pub loss: Stops,
    /// How strongly the light it was held into was polarized, as far as this
    /// sheet shows it, 0 to 1.
    pub contrast: f64,
}

/// A polarizer from the stops it takes turned to the brightest and the darkest.
///
/// # Units
///
/// T = T0·(1 + p·cos 2(ψ − χ)), so T0 is the mean of both transmittances.
///
/// # Source
///
/// Malus's law.
#[must_use]
pub fn measured(brightest: Stops, darkest: Stops) -> MeasuredPolarizer {
    let [most, least] = [brightest, darkest].map(|taken| libm::exp2(-taken.stops()));
    let mean = f64::midpoint(most, least);
    MeasuredPolarizer {
        loss: Stops::computed(-libm::log2(mean)),
        contrast: libm::fabs(most - least) / (2.0 * mean),
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::*;
    use crate::quantity::{Angle, Elevation};
    use crate::setup::Aim;

    fn pair(loss: f64, ratio: f64) -> PolarizerPair {
        PolarizerPair::new(Stops::computed(loss), ExtinctionRatio::new(ratio).unwrap())
    }

    #[test]
    fn sixty_degrees_take_two_stops() {
        // cos² 60° = ¼.
        let taken = PolarizerPair::ideal(Stops::ZERO).taken_at(60.0).unwrap();
        assert!((taken.stops() - 2.0).abs() < 1e-12);
    }

    #[test]
    fn crossed_ideal_sheets_pass_nothing_and_real_ones_their_ratio() {
        assert!(PolarizerPair::ideal(Stops::ZERO).taken_at(90.0).is_none());
        let real = pair(2.0, 1024.0);
        assert!((real.taken_at(90.0).unwrap().stops() - 12.0).abs() < 1e-12);
        assert_eq!(real.most(), real.taken_at(90.0));
    }

    #[test]
    fn every_angle_comes_back_from_its_stops() {
        let pair = pair(2.3, 500.0);
        for degrees in 0..=90 {
            let degrees = f64::from(degrees);
            let back = pair.angle_for(pair.taken_at(degrees).unwrap()).unwrap();
            // Both ends are flat: there the angle is known to its root only.
            assert!((back - degrees).abs() < 1e-5, "{degrees}: {back}");
        }
        assert!(pair.angle_for(Stops::computed(2.0)).is_none());
        assert!(pair.angle_for(Stops::computed(15.0)).is_none());
    }

    #[test]
    fn the_slope_is_the_slope() {
        let pair = pair(1.0, 500.0);
        let at = |degrees: f64| pair.taken_at(degrees).unwrap().stops();
        for degrees in [10.0, 45.0, 80.0, 88.0] {
            let rise = (at(degrees + 1e-5) - at(degrees - 1e-5)) / 2e-5;
            assert!((pair.slope_at(degrees).unwrap() - rise).abs() < 1e-6);
        }
    }

    #[test]
    fn an_ideal_polarizer_measured_in_any_light_costs_one_stop() {
        for p in [0.0, 0.3, 0.9] {
            let taken = |share: f64| Stops::computed(-share.log2());
            let found = measured(taken((1.0 + p) / 2.0), taken((1.0 - p) / 2.0));
            assert!((found.loss.stops() - 1.0).abs() < 1e-12);
            assert!((found.contrast - p).abs() < 1e-12);
        }
    }

    #[test]
    fn the_usual_pair_is_two_of_the_usual_polarizer() {
        // A sheet that takes 1⅔ stops passes 2^(−⅔) along its axis.
        let along = 2f64.powf(-2.0 / 3.0);
        let both = along * along / 2.0;
        assert!((PolarizerPair::USUAL_LOSS.stops() + libm::log2(both)).abs() < 1e-12);
    }

    #[test]
    fn flat_sheets_met_head_on_are_the_pair_at_that_angle() {
        // An independent route: Malus's law for the angle between the axes.
        let pair = pair(2.0, 200.0);
        let angle = |degrees| Angle::new(degrees).unwrap();
        let aim = |roll| Aim::new(angle(0.0), Elevation::new(0.0).unwrap(), angle(roll));
        let head_on = aim(0.0).forward();
        for degrees in [0.0, 20.0, 45.0, 70.0, 90.0] {
            let sheets = [0.0, degrees].map(|roll| Sheet::new(aim(roll), 0.0));
            let found = pair.taken_from(head_on, sheets);
            let wanted = pair.taken_at(degrees).unwrap();
            assert!((found.unwrap() - wanted).stops().abs() < 1e-9, "{degrees}");
        }
    }

    #[test]
    fn crossed_a_pair_takes_its_ratio_more_and_an_ideal_one_all_light() {
        // 1024 times less than parallel are ten stops more.
        let most = pair(2.0, 1024.0).most().unwrap();
        assert!((most.stops() - 12.0).abs() < 1e-12);
        assert_eq!(PolarizerPair::ideal(Stops::ZERO).most(), None);
        assert_eq!(PolarizerPair::ideal(Stops::ZERO).slope_at(90.0), None);
    }

    #[test]
    fn two_readings_give_loss_and_contrast_by_hand() {
        // A half and an eighth: mean 5/16, contrast (3/8)/(5/8).
        let found = measured(Stops::computed(1.0), Stops::computed(3.0));
        assert!((found.loss.stops() + libm::log2(5.0 / 16.0)).abs() < 1e-12);
        assert!((found.contrast - 0.6).abs() < 1e-12);
    }
}
