//! The loops over pixels. The compiler makes vectors of them; with what leads to
//! them they are `inline`, so that a build that is otherwise made small may
//! compile these for speed, in a crate of its own.

use super::log2::log2;

/// Adds a parabola: the first pixel gets the first part, the n-th after it also
/// n times the second and n² times the third.
#[inline]
pub(super) fn add_parabola(pixels: &mut [f32], parts: [f64; 3]) {
    let [first, slope, bend] = parts.map(single);
    // A counter of 32 bits turns into a float in a vector; usize does not.
    for (pixel, nth) in pixels.iter_mut().zip(0_i32..) {
        #[expect(clippy::cast_precision_loss, reason = "a row has 8192 pixels at most")]
        let n = nth as f32;
        *pixel += first + n * (slope + n * bend);
    }
}

/// What turns a field direction into the darkening of a polarized sky; see
/// [`super::sky::SkyPixels`].
#[derive(Debug, Clone, Copy)]
pub(super) struct Polarized {
    pub(super) sun: [f32; 3],
    pub(super) absorbs: [f32; 2],
    pub(super) sun_along_absorbed: f32,
    pub(super) most: f32,
    /// Refractive index of the film.
    pub(super) index: f32,
}

/// 2T below this is a sky gone dark; it keeps the logarithm finite.
const DARKEST: f32 = 1e-6;

/// Adds the darkening against an unpolarized foreground to pixels of one row,
/// whose tangents to the right are `across`.
#[inline]
pub(super) fn darken(pixels: &mut [f32], across: &[f32], y: f32, sky: &Polarized) {
    let Polarized {
        sun,
        absorbs,
        sun_along_absorbed,
        most,
        index,
    } = *sky;
    let (sun_row, absorbed_row) = (sun[1] * y + sun[2], absorbs[1] * y);
    let (across_row, sun_across_row) = (absorbs[0] * y, sun[0] * y);
    let length_row = y * y + 1.0;
    let squared = index * index;
    for (pixel, &x) in pixels.iter_mut().zip(across) {
        let c = sun[0] * x + sun_row;
        let a = absorbs[0] * x + absorbed_row;
        let b = across_row - absorbs[1] * x;
        let d = sun_across_row - sun[1] * x;
        let length = x * x + length_row;
        let (c2, kept) = (c * c, squared * length - a * a);
        let inside_squared = (squared - 1.0) * length + 1.0;
        let inside = inside_squared * inverse_root(inside_squared);
        let scale = index * length + inside;
        let crossed =
            scale * inside * (sun_along_absorbed - a * sun[2]) + (squared * length + 1.0) * b * d;
        let kept = kept * scale * scale;
        let whole = (length + c2) * kept;
        let passed = whole - most * ((length - c2) * kept - 2.0 * crossed * crossed);
        let share = passed / whole;
        // Written out, since max() of a NaN costs a vector lane its speed.
        *pixel -= log2(if share > DARKEST { share } else { DARKEST });
    }
}

/// 1/√value of an ordinary positive number, to single precision, without the
/// root that a build without std has no instruction for.
///
/// # Source
///
/// Halving the exponent, then three steps of Newton: Wikipedia, “Fast inverse
/// square root”. Over 60 decades numpy 1.26.4 found the start 3.44 % off, and
/// 0.18 %, 5e-6 and 1.5e-7 after each step.
#[inline]
fn inverse_root(value: f32) -> f32 {
    let half = 0.5 * value;
    let mut root = f32::from_bits(0x5f37_59df - (value.to_bits() >> 1));
    for _ in 0..3 {
        root *= 1.5 - half * root * root;
    }
    root
}

/// Adds what each pixel of a run loses by shading.
#[inline]
pub(super) fn add_each(pixels: &mut [f32], stops: &[f32]) {
    for (pixel, stops) in pixels.iter_mut().zip(stops) {
        *pixel += stops;
    }
}

#[expect(
    clippy::cast_possible_truncation,
    reason = "a map holds single precision"
)]
pub(super) const fn single(value: f64) -> f32 {
    value as f32
}

#[expect(
    clippy::cast_precision_loss,
    reason = "a map has fewer than 2²⁴ pixels a side"
)]
pub(super) const fn count(pixels: usize) -> f64 {
    pixels as f64
}

/// A number of pixels from none to `most`.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "clamped to the pixels there are"
)]
pub(super) fn whole(pixels: f64, most: usize) -> usize {
    pixels.clamp(0.0, count(most)) as usize
}
