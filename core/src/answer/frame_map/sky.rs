//! What a polarizer does to each pixel of the sky.

use super::log2::log2;
use super::table::single;
use crate::physics::sky::Sky;
use crate::quantity::Direction;
use crate::setup::Aim;

/// A clear sky behind a turned polarizer.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PolarizedSky {
    /// The sky.
    pub sky: Sky,
    /// Where the camera points.
    pub aim: Aim,
    /// The passed axis, in degrees clockwise from camera up.
    pub passes: f64,
}

/// Sky, sheet and horizon in camera terms, in single precision.
///
/// With v = (x, y, 1) the field direction, s the sun, a the absorbed axis,
/// L = v·v, C = v·s and A = v·a, the law of [`crate::physics::sheet`] becomes
/// free of roots: 2T = 1 − p + 2p·cos², where p = m·(L − C²)/(L + C²) and
/// p·cos² = m·(L·s·a − C·A)²/((L + C²)(L − A²)), m being the highest
/// polarization. One division and one logarithm a pixel.
#[derive(Debug, Clone, Copy)]
pub(super) struct SkyPixels {
    sun: [f32; 3],
    absorbs: [f32; 2],
    sun_along_absorbed: f32,
    most: f32,
    horizon: [f64; 3],
}

/// 2T below this is a sky gone dark; it keeps the logarithm finite.
const DARKEST: f32 = 1e-6;

impl SkyPixels {
    pub(super) fn new(sky: &PolarizedSky) -> Self {
        let sun = sky.aim.seen(sky.sky.sun);
        let turn = (sky.passes + 90.0).to_radians();
        let absorbs = [libm::sin(turn), libm::cos(turn)];
        Self {
            sun: sun.map(single),
            absorbs: absorbs.map(single),
            sun_along_absorbed: single(sun[0] * absorbs[0] + sun[1] * absorbs[1]),
            most: single(sky.sky.most.share()),
            horizon: sky.aim.seen(Direction::UP),
        }
    }

    /// The part of a row that is sky, between two tangents to the right;
    /// infinite where it has no end.
    pub(super) fn above_horizon(&self, y: f64) -> (f64, f64) {
        let [right, up, forward] = self.horizon;
        let at_middle = up * y + forward;
        if libm::fabs(right) < LEVEL {
            return if at_middle > 0.0 {
                (f64::NEG_INFINITY, f64::INFINITY)
            } else {
                (0.0, 0.0)
            };
        }
        let crossing = -at_middle / right;
        if right > 0.0 {
            (crossing, f64::INFINITY)
        } else {
            (f64::NEG_INFINITY, crossing)
        }
    }

    /// Adds the darkening against an unpolarized foreground to pixels of one
    /// row, whose tangents to the right are `across`.
    pub(super) fn darken(&self, pixels: &mut [f32], across: &[f32], y: f32) {
        let Self {
            sun,
            absorbs,
            sun_along_absorbed,
            most,
            ..
        } = *self;
        let (sun_row, absorbed_row) = (sun[1] * y + sun[2], absorbs[1] * y);
        let length_row = y * y + 1.0;
        for (pixel, &x) in pixels.iter_mut().zip(across) {
            let c = sun[0] * x + sun_row;
            let a = absorbs[0] * x + absorbed_row;
            let length = x * x + length_row;
            let (c2, kept) = (c * c, length - a * a);
            let crossed = length * sun_along_absorbed - c * a;
            let whole = (length + c2) * kept;
            let passed = whole - most * ((length - c2) * kept - 2.0 * crossed * crossed);
            let share = passed / whole;
            // Written out, since max() of a NaN costs a vector lane its speed.
            *pixel -= log2(if share > DARKEST { share } else { DARKEST });
        }
    }
}

/// The sine of a roll below which the horizon is level.
const LEVEL: f64 = 1e-9;
