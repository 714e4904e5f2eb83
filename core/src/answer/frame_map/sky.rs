//! What a polarizer does to each pixel of the sky.

use super::pixels::{Polarized, darken, single};
use crate::physics::polarization::sheet::FILM_INDEX;
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
/// The law of [`crate::physics::polarization::sheet`] with one root, one division and
/// one logarithm a pixel. With v = (x, y, 1) the field direction, s the sun, a
/// the absorbed axis, n the index of the film, L = v·v, C = v·s, A = v·a,
/// B = y·ax − x·ay, D = y·sx − x·sy and Q = √((n² − 1)·L + 1), n times the
/// forward part of the refracted ray: 2T = 1 − p + 2p·cos², where
/// p = m·(L − C²)/(L + C²), m being the highest polarization, and
/// p·cos² = m·E²/((L + C²)(n²·L − A²)) with
/// E = Q·(s·a − A·sz) + B·D·(n²·L + 1)/(n·L + Q). Our own derivation: s and p
/// parts of the kept field and of the sky's, the square of the distance from
/// the axis cancelled.
#[derive(Debug, Clone, Copy)]
pub(super) struct SkyPixels {
    polarized: Polarized,
    horizon: [f64; 3],
}

impl SkyPixels {
    pub(super) fn new(sky: &PolarizedSky) -> Self {
        let sun = sky.aim.seen(sky.sky.sun);
        let turn = (sky.passes + 90.0).to_radians();
        let absorbs = [libm::sin(turn), libm::cos(turn)];
        Self {
            polarized: Polarized {
                sun: sun.map(single),
                absorbs: absorbs.map(single),
                sun_along_absorbed: single(sun[0] * absorbs[0] + sun[1] * absorbs[1]),
                most: single(sky.sky.most.share()),
                index: single(FILM_INDEX),
            },
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
    #[inline]
    pub(super) fn darken(&self, pixels: &mut [f32], across: &[f32], y: f32) {
        darken(pixels, across, y, &self.polarized);
    }
}

/// The sine of a roll below which the horizon is level.
const LEVEL: f64 = 1e-9;
