//! How a real lens departs from a fixed pupil behind a straight picture.

use crate::setup::Tangents;

/// Distortion, growth of the pupil, and the front that nothing gets past.
///
/// # Units
///
/// With t the tangent that height over focal length gives and tc that of the
/// picture's farthest corner: tan θ = t·(1 + δ·(t/tc)²) for each axis; half the
/// pupil along the radius R·(1 + b·tan²θ), across it R·(1 + 0.25·b·tan²θ); no
/// light at `d` ahead of the rim beyond D/2 + d·tan θ.
///
/// # Accuracy
///
/// Against the traced lenses of `tests/reference/traced_lenses.json`; see the
/// page beside it.
///
/// # Source
///
/// Third-order distortion goes with the cube of the height, which is textbook
/// optics; the growth is fitted to our own traces, own derivation.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LensShape {
    /// δ at the picture's farthest corner, across and up: tan θ·f/h − 1.
    /// Positive where the lens sees further out than its focal length says,
    /// as a wide with barrel distortion does.
    pub distortion: [f64; 2],
    /// b: 0 for a pupil that keeps its size.
    pub growth: f64,
    /// tc, the tangent of the farthest corner without distortion.
    pub corner: f64,
    /// The tangents of the picture's side and top without distortion, for a lens
    /// that squeezes: its two axes bend each by itself.
    pub edges: Option<[f64; 2]>,
    /// Half the diameter of the front, in millimetres, where it is known.
    pub rim: Option<f64>,
}

/// No picture is narrower than this, as a tangent.
const LEAST_EDGE: f64 = 1e-9;

/// How much of the growth along the radius shows across it.
pub(super) const GROWTH_ACROSS: f64 = 0.25;

impl LensShape {
    /// A straight picture and a pupil that neither moves nor grows.
    pub const PLAIN: Self = Self {
        distortion: [0.0, 0.0],
        growth: 0.0,
        corner: 1.0,
        edges: None,
        rim: None,
    };

    /// Whether pictures are straight and the pupil keeps its size.
    #[must_use]
    pub fn is_straight(&self) -> bool {
        self.distortion == [0.0, 0.0] && self.growth == 0.0
    }

    /// The real tangents of a field point that height over focal length puts
    /// at `field`.
    #[must_use]
    pub fn real(&self, field: Tangents) -> Tangents {
        if self.distortion == [0.0, 0.0] {
            return field;
        }
        let out = field.from_axis() / self.corner;
        let [across, up] = self.edges.map_or([out, out], |[side, top]| {
            [
                field.x / side.max(LEAST_EDGE),
                field.y / top.max(LEAST_EDGE),
            ]
        });
        Tangents {
            x: field.x * (1.0 + self.distortion[0] * across * across),
            y: field.y * (1.0 + self.distortion[1] * up * up),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::LensShape;
    use crate::setup::Tangents;

    #[test]
    fn distortion_goes_with_the_cube_of_the_height() {
        let shape = LensShape {
            distortion: [0.1, 0.1],
            corner: 1.0,
            ..LensShape::PLAIN
        };
        let at = |x, y| shape.real(Tangents { x, y });
        assert!((at(0.6, 0.8).x - 0.66).abs() < 1e-12);
        assert!((at(0.5, 0.0).x - 0.5 * 1.025).abs() < 1e-12);
        assert_eq!(LensShape::PLAIN.real(Tangents { x: 0.3, y: 0.4 }).y, 0.4);
    }
}
