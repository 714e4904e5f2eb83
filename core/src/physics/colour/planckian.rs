//! The colour of a full radiator.

use super::standard_observer::{FIRST, MATCHING, STEP};
use crate::quantity::ColourTemperature;

/// Second radiation constant as colour temperatures are defined with, m·K.
///
/// CIE 15; the present SI value is 1.438 777e-2.
pub const SECOND_RADIATION: f64 = 1.4388e-2;

/// A colour without its brightness.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Chromaticity {
    /// CIE 1931 x.
    pub x: f64,
    /// CIE 1931 y.
    pub y: f64,
}

/// The chromaticity of a full radiator.
///
/// # Units
///
/// CIE 1931 x, y for the 2° observer.
///
/// # Accuracy
///
/// Summed every 5 nm from 360 to 830; within 4·10⁻⁶ of sums every 1 nm.
///
/// # Source
///
/// Planck's law and ISO/CIE 11664-1.
///
/// # Examples
///
/// ```
/// use glasscall_core::physics::planckian::chromaticity;
/// use glasscall_core::quantity::ColourTemperature;
///
/// let lamp = chromaticity(ColourTemperature::constant(2856.0));
/// assert!((lamp.x - 0.4476).abs() < 1e-3 && (lamp.y - 0.4074).abs() < 1e-3);
/// ```
#[must_use]
pub fn chromaticity(temperature: ColourTemperature) -> Chromaticity {
    let mut sums = [0.0; 3];
    let mut nanometres = FIRST;
    for weights in MATCHING {
        let power = radiance(nanometres * 1e-9, temperature.kelvin());
        for (sum, weight) in sums.iter_mut().zip(weights) {
            *sum += weight * power;
        }
        nanometres += STEP;
    }
    let whole = sums[0] + sums[1] + sums[2];
    Chromaticity {
        x: sums[0] / whole,
        y: sums[1] / whole,
    }
}

/// Relative spectral radiance, up to a constant.
fn radiance(metres: f64, kelvin: f64) -> f64 {
    // Relative to 560 nm, so that an ember's sums stay far from underflow.
    let scale = 560e-9 / metres;
    let (at, middle) = (
        libm::expm1(SECOND_RADIATION / (metres * kelvin)),
        libm::expm1(SECOND_RADIATION / (560e-9 * kelvin)),
    );
    libm::pow(scale, 5.0) * middle / at
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::{Chromaticity, ColourTemperature, chromaticity};

    fn of(kelvin: f64) -> Chromaticity {
        chromaticity(ColourTemperature::new(kelvin).unwrap())
    }

    #[test]
    fn illuminant_a_is_where_the_standard_puts_it() {
        // CIE illuminant A, 2° observer, in colour-science 0.4.7: x 0.447 58, y 0.407 45.
        let lamp = of(2856.0);
        assert!((lamp.x - 0.447_58).abs() < 5e-5);
        assert!((lamp.y - 0.407_45).abs() < 5e-5);
    }

    #[test]
    fn the_hottest_ends_at_a_blue_that_moves_no_more() {
        let (hot, hotter) = (of(5e5), of(1e6));
        assert!((hot.x - hotter.x).abs() < 5e-4 && (hot.y - hotter.y).abs() < 5e-4);
    }

    #[test]
    fn hotter_is_always_bluer() {
        let ladder = [
            1000.0, 1850.0, 2700.0, 3200.0, 4300.0, 5600.0, 6500.0, 1e4, 2e4,
        ];
        assert!(ladder.windows(2).all(|pair| of(pair[0]).x > of(pair[1]).x));
    }

    #[test]
    fn the_cubic_for_colour_temperature_leads_back() {
        // Independent route: McCamy 1992, within a few kelvin near daylight.
        let white = of(6500.0);
        let n = (white.x - 0.3320) / (0.1858 - white.y);
        let back = 449.0 * n * n * n + 3525.0 * n * n + 6823.3 * n + 5520.33;
        assert!((back - 6500.0).abs() < 15.0, "{back}");
    }

    #[test]
    fn radiance_follows_planck_at_two_wavelengths() {
        // Wien's form by hand for 2000 K, where the one it leaves out is 1e-6:
        // 0.56/0.7 to the fifth, times e^(c2/T·(1/560 nm − 1/700 nm)), c2 being
        // 0.014 388 m·K as the standard has it.
        let found = super::radiance(700e-9, 2000.0);
        let wien = 0.8_f64.powi(5) * libm::exp(0.014_388 / 2000.0 * (1.0 / 560e-9 - 1.0 / 700e-9));
        assert!((found / wien - 1.0).abs() < 5e-5, "{found} {wien}");
        assert_eq!(super::radiance(560e-9, 3456.0), 1.0);
        // Rayleigh and Jeans far beyond: the fourth power of the wavelength.
        let hot = super::radiance(280e-9, 1e9);
        assert!((hot - 16.0).abs() < 1e-3, "{hot}");
    }
}
