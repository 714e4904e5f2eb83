//! Integrals by Gauss–Legendre quadrature.

use core::f64::consts::FRAC_PI_2;

/// Positive nodes and their weights, 24 points in all.
///
/// # Source
///
/// Abramowitz and Stegun, Handbook of Mathematical Functions (1964), table
/// 25.4; digits computed with mpmath 1.3 as the roots of the polynomial.
#[expect(
    clippy::excessive_precision,
    reason = "as computed, one digit to spare"
)]
pub(crate) const NODES: [(f64, f64); 12] = [
    (0.064056892862605626, 0.12793819534675216),
    (0.19111886747361631, 0.1258374563468283),
    (0.31504267969616337, 0.12167047292780339),
    (0.43379350762604514, 0.1155056680537256),
    (0.54542147138883954, 0.10744427011596563),
    (0.64809365193697557, 0.097618652104113888),
    (0.74012419157855436, 0.086190161531953276),
    (0.82000198597390292, 0.073346481411080306),
    (0.88641552700440103, 0.059298584915436781),
    (0.93827455200273276, 0.044277438817419806),
    (0.9747285559713095, 0.028531388628933663),
    (0.99518721999702136, 0.0123412297999872),
];

/// ∫ f from one place to another, where f may set in and die away as a square
/// root does: with y = m + h·sin φ it is smooth in φ.
pub(crate) fn over_chord(from: f64, to: f64, f: impl Fn(f64) -> f64) -> f64 {
    let (middle, half) = (f64::midpoint(from, to), (to - from) / 2.0);
    let mut sum = 0.0;
    for (node, weight) in NODES {
        let (sin, cos) = libm::sincos(FRAC_PI_2 * node);
        sum += weight * cos * (f(middle - half * sin) + f(middle + half * sin));
    }
    sum * half * FRAC_PI_2
}

/// ∫ f from one place to another, where f is smooth.
pub(crate) fn over(from: f64, to: f64, f: impl Fn(f64) -> f64) -> f64 {
    let (middle, half) = (f64::midpoint(from, to), (to - from) / 2.0);
    let mut sum = 0.0;
    for (node, weight) in NODES {
        sum += weight * (f(middle - half * node) + f(middle + half * node));
    }
    sum * half
}

#[cfg(test)]
mod tests {
    use super::{NODES, over, over_chord};
    use core::f64::consts::PI;

    #[test]
    fn the_quadrature_is_exact_for_polynomials_up_to_degree_47() {
        for power in [0, 2, 20, 46] {
            let sum: f64 = NODES.iter().map(|(x, w)| 2.0 * w * x.powi(power)).sum();
            assert!((sum - 2.0 / f64::from(power + 1)).abs() < 1e-15);
        }
    }

    #[test]
    fn chords_of_a_circle_add_up_to_its_area() {
        let chord = |y: f64| 2.0 * libm::sqrt(25.0 - y * y);
        assert!((over_chord(-5.0, 5.0, chord) - 25.0 * PI).abs() < 1e-12);
        assert!((over(0.0, 1.0, libm::exp) - (core::f64::consts::E - 1.0)).abs() < 1e-14);
    }
}
