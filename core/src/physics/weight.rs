//! Weight and moment of what hangs in front of the lens.

use crate::quantity::{Length, Mass, OutOfRange};

/// Standard acceleration of free fall, m/s².
///
/// # Source
///
/// 3rd General Conference on Weights and Measures (1901), by definition.
pub const FREE_FALL: f64 = 9.806_65;

/// Soda-lime float glass, g/cm³.
///
/// # Source
///
/// 2500 kg/m³ at 18 °C, as makers state it of float glass to EN 572.
pub const GLASS: f64 = 2.5;

/// Cast optical resin (allyl diglycol carbonate), g/cm³.
///
/// # Source
///
/// Wikipedia, “CR-39”: 1.31.
pub const RESIN: f64 = 1.31;

/// The outline of a flat piece.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Outline {
    /// Round, by diameter.
    Round(Length),
    /// Rectangular, by width and height.
    Panel(Length, Length),
}

/// The mass of a flat piece without its frame.
///
/// # Units
///
/// Lengths in millimetres, `density` in g/cm³, result in grams:
/// m = area · thickness · density / 1000.
///
/// # Errors
///
/// [`OutOfRange`] beyond a tonne, and for sizes below zero.
///
/// # Source
///
/// Definition of density.
///
/// # Examples
///
/// ```
/// use glasscall_core::physics::weight::{GLASS, Outline, mass_of};
/// use glasscall_core::quantity::Length;
///
/// // A litre has a million cubic millimetres: 100·143.5·4 of glass.
/// let panel = Outline::Panel(Length::constant(143.5), Length::constant(100.0));
/// assert!((mass_of(panel, Length::constant(4.0), GLASS)?.grams() - 143.5).abs() < 1e-9);
/// # Ok::<(), glasscall_core::quantity::OutOfRange>(())
/// ```
pub fn mass_of(outline: Outline, thickness: Length, density: f64) -> Result<Mass, OutOfRange> {
    let area = match outline {
        Outline::Round(diameter) => {
            let radius = diameter.millimetres() / 2.0;
            core::f64::consts::PI * radius * radius
        }
        Outline::Panel(width, height) => width.millimetres() * height.millimetres(),
    };
    Mass::from_grams(area * thickness.millimetres() * density / 1000.0)
}

/// A mass and how far ahead of the pivot it hangs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Load {
    /// How heavy.
    pub mass: Mass,
    /// Ahead of the pivot along the lens axis; negative is behind it.
    pub ahead: Length,
}

/// Weight and moment of several loads.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Balance {
    /// All of it.
    pub mass: Mass,
    /// Turning moment about the pivot with the lens level, in newton metres;
    /// positive tips the front down.
    pub moment: f64,
}

/// What loads weigh together and how they tip the camera.
///
/// # Units
///
/// Moment M = Σ m·g·x, in N·m, x ahead of the pivot.
///
/// # Source
///
/// Statics; g is [`FREE_FALL`].
///
/// # Examples
///
/// ```
/// use glasscall_core::physics::weight::{Load, balance};
/// use glasscall_core::quantity::{Length, Mass};
///
/// let load = |grams, ahead| Ok(Load {
///     mass: Mass::from_grams(grams)?,
///     ahead: Length::constant(ahead),
/// });
/// let level = balance(&[load(600.0, 100.0)?, load(300.0, -200.0)?]);
/// assert_eq!(level.mass.grams(), 900.0);
/// assert!(level.moment.abs() < 1e-12);
/// # Ok::<(), glasscall_core::quantity::OutOfRange>(())
/// ```
#[must_use]
pub fn balance(loads: &[Load]) -> Balance {
    Balance {
        mass: loads.iter().map(|load| load.mass).sum(),
        moment: (loads.iter())
            .map(|load| load.mass.grams() * 1e-3 * FREE_FALL * load.ahead.millimetres() * 1e-3)
            .sum(),
    }
}

/// The place of the heaviest of several sets of loads, the first of equals.
#[must_use]
pub fn heaviest(sets: &[Balance]) -> Option<usize> {
    (0..sets.len()).reduce(|best, at| {
        if sets[at].mass > sets[best].mass {
            at
        } else {
            best
        }
    })
}

/// The mass that balances a moment on an arm behind the pivot; `None` for a
/// moment that needs weight in front, or an arm of no length.
///
/// # Units
///
/// m = M/(g·arm), grams from N·m and millimetres.
///
/// # Source
///
/// Statics.
#[must_use]
pub fn counterweight(moment: f64, arm: Length) -> Option<Mass> {
    let grams = moment / (FREE_FALL * arm.millimetres() * 1e-3) * 1e3;
    (arm.millimetres() > 0.0)
        .then(|| Mass::from_grams(grams).ok())
        .flatten()
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::*;

    fn mm(length: f64) -> Length {
        Length::new(length).unwrap()
    }

    fn load(grams: f64, ahead: f64) -> Load {
        Load {
            mass: Mass::from_grams(grams).unwrap(),
            ahead: mm(ahead),
        }
    }

    #[test]
    fn a_kilogram_a_metre_ahead_is_nine_point_eight_newton_metres() {
        assert!((balance(&[load(1000.0, 1000.0)]).moment - 9.806_65).abs() < 1e-12);
    }

    #[test]
    fn a_glass_panel_by_hand() {
        // 101.6 × 143.5 × 4 mm = 58.318 cm³, times 2.5 = 145.80 g.
        let panel = Outline::Panel(mm(101.6), mm(143.5));
        let mass = mass_of(panel, mm(4.0), GLASS).unwrap();
        assert!((mass.grams() - 145.796).abs() < 1e-3);
    }

    #[test]
    fn a_round_piece_is_a_quarter_of_pi_of_its_square() {
        let round = mass_of(Outline::Round(mm(82.0)), mm(2.0), GLASS).unwrap();
        let square = mass_of(Outline::Panel(mm(82.0), mm(82.0)), mm(2.0), GLASS).unwrap();
        let ratio = round.grams() / square.grams();
        assert!((ratio - core::f64::consts::FRAC_PI_4).abs() < 1e-12);
    }

    #[test]
    fn the_counterweight_brings_the_moment_to_nothing() {
        let front = [load(640.0, 180.0), load(150.0, 220.0)];
        let weight = counterweight(balance(&front).moment, mm(120.0)).unwrap();
        let all = [front[0], front[1], load(weight.grams(), -120.0)];
        assert!(balance(&all).moment.abs() < 1e-12);
        // (640·180 + 150·220)/120 by hand.
        assert!((weight.grams() - 1235.0).abs() < 1e-9);
    }

    #[test]
    fn nothing_hangs_level() {
        assert_eq!(balance(&[]).moment, 0.0);
        assert_eq!(counterweight(-1.0, mm(100.0)), None);
        assert_eq!(counterweight(1.0, mm(0.0)), None);
    }

    #[test]
    fn masses_add_and_nothing_hangs_behind() {
        let whole = balance(&[load(640.0, 180.0), load(150.0, 220.0), load(10.0, -5.0)]);
        assert!((whole.mass.grams() - 800.0).abs() < 1e-12);
        let sum = Mass::from_grams(3.0).unwrap() + Mass::from_grams(4.5).unwrap();
        assert_eq!(sum.grams(), 7.5);
        assert_eq!(counterweight(1.0, mm(0.0)), None);
    }
}
