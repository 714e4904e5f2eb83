//! The square root, and the length of two sides, as quick as the machine has
//! them and the same to the bit everywhere.
//!
//! IEEE 754 wants the square root rounded correctly, so that an instruction and
//! `libm` agree. `libm` has none for WebAssembly and works it out digit by
//! digit; a lane of two numbers has one.

/// √x, correctly rounded; not a number below zero.
///
/// # Examples
///
/// ```
/// use glasscall_core::square_root::square_root;
///
/// assert_eq!(square_root(2.25), 1.5);
/// ```
#[must_use]
#[inline]
pub fn square_root(x: f64) -> f64 {
    #[cfg(all(target_arch = "wasm32", target_feature = "simd128"))]
    {
        use core::arch::wasm32::{f64x2_extract_lane, f64x2_splat, f64x2_sqrt};
        f64x2_extract_lane::<0>(f64x2_sqrt(f64x2_splat(x)))
    }
    #[cfg(not(all(target_arch = "wasm32", target_feature = "simd128")))]
    {
        libm::sqrt(x)
    }
}

/// √(x² + y²).
///
/// # Domain
///
/// Sides whose squares neither overflow nor vanish: all that hangs about a lens
/// is between a micrometre and some kilometres.
///
/// # Accuracy
///
/// One part in 10¹⁵. `libm::hypot` is right to the last digit at any size, at
/// several times the cost.
///
/// # Examples
///
/// ```
/// use glasscall_core::square_root::length;
///
/// assert_eq!(length(3.0, 4.0), 5.0);
/// ```
#[must_use]
#[inline]
pub fn length(x: f64, y: f64) -> f64 {
    square_root(x * x + y * y)
}

#[cfg(test)]
mod tests {
    use super::{length, square_root};

    #[test]
    fn roots_are_those_of_libm() {
        let mut x = 1e-300;
        while x < 1e300 {
            assert_eq!(square_root(x).to_bits(), libm::sqrt(x).to_bits(), "{x}");
            x *= 1.37;
        }
        for x in [0.0, -0.0, f64::MIN_POSITIVE, f64::MAX, f64::INFINITY] {
            assert_eq!(square_root(x).to_bits(), libm::sqrt(x).to_bits(), "{x}");
        }
        assert!(square_root(-1.0).is_nan());
    }

    #[test]
    fn three_and_four_make_five() {
        assert_eq!(length(3.0, -4.0), 5.0);
        assert_eq!(length(0.0, 0.0), 0.0);
    }

    #[test]
    fn lengths_are_those_of_libm_but_for_the_last_digit() {
        let mut seed = 1_u64;
        let mut side = || {
            seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1);
            #[expect(clippy::cast_precision_loss, reason = "any number will do")]
            let side = (seed >> 40) as f64 / 1e3 - 8e3;
            side
        };
        for _ in 0..10_000 {
            let (x, y) = (side(), side());
            let (ours, exact) = (length(x, y), libm::hypot(x, y));
            assert!((ours - exact).abs() <= 4e-16 * exact, "{x} {y}");
        }
    }
}
