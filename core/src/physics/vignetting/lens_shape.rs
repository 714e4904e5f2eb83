//! How a real lens departs from a fixed pupil behind a straight picture.

use crate::physics::root::sign_change;
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

    /// Where height over focal length puts a field point of these real
    /// tangents.
    #[must_use]
    pub(crate) fn nominal(&self, ray: Tangents) -> Tangents {
        let [across, up] = self.distortion;
        if self.distortion == [0.0, 0.0] {
            return ray;
        }
        if let Some([side, top]) = self.edges {
            return Tangents {
                x: straight(ray.x, across, side.max(LEAST_EDGE)),
                y: straight(ray.y, up, top.max(LEAST_EDGE)),
            };
        }
        let corner = self.corner;
        let along = |stretch: f64, out: f64| 1.0 + stretch * out * out / (corner * corner);
        // How far out the point is must agree with what it is divided by.
        let undone = |out: f64| Tangents {
            x: ray.x / along(across, out),
            y: ray.y / along(up, out),
        };
        let most = straight(ray.from_axis(), across.min(up), corner);
        let off = |out: f64| undone(out).from_axis() - out;
        undone(sign_change(off, 0.0, most))
    }

    /// How fast the real tangents rise with the picture's, across and up, on the
    /// upright through the axis at this height of the picture.
    pub(crate) fn rise_on_upright(&self, up: f64) -> [f64; 2] {
        let height = self
            .edges
            .map_or(self.corner, |[_, top]| top.max(LEAST_EDGE));
        let square = up * up / (height * height);
        let across = if self.edges.is_some() { 0.0 } else { square };
        [
            1.0 + self.distortion[0] * across,
            1.0 + 3.0 * self.distortion[1] * square,
        ]
    }

    /// The same lens set to so many times its focal length.
    #[must_use]
    pub(crate) fn with_focal_length_times(self, by: f64) -> Self {
        Self {
            corner: self.corner / by,
            edges: self.edges.map(|edges| edges.map(|edge| edge / by)),
            ..self
        }
    }
}

/// The t with t·(1 + δ·(t/edge)²) = real; where δ bends it back before that, the
/// t at which it turns.
fn straight(real: f64, stretch: f64, edge: f64) -> f64 {
    let size = libm::fabs(real);
    let most = if stretch < 0.0 {
        edge / libm::sqrt(-3.0 * stretch)
    } else {
        size
    };
    let off = |t: f64| t * (1.0 + stretch * t * t / (edge * edge)) - size;
    libm::copysign(sign_change(off, 0.0, most), real)
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

    #[test]
    fn what_is_bent_is_bent_back() {
        for (distortion, edges) in [
            ([0.1, 0.1], None),
            ([0.3, 0.22], None),
            ([-0.02, -0.02], None),
            ([0.1, -0.01], Some([0.9, 0.4])),
        ] {
            let shape = LensShape {
                distortion,
                edges,
                corner: 0.8,
                ..LensShape::PLAIN
            };
            for (x, y) in [(0.6, -0.4), (0.0, 0.3), (-0.7, 0.1), (0.0, 0.0)] {
                let back = shape.nominal(shape.real(Tangents { x, y }));
                assert!((back.x - x).abs() < 1e-12 && (back.y - y).abs() < 1e-12);
            }
            // The rise is what a small step does.
            let up = |y: f64| shape.real(Tangents { x: 1e-6, y });
            let [across, rise] = shape.rise_on_upright(0.3);
            let (one, other) = (up(0.3 - 1e-6), up(0.3 + 1e-6));
            assert!(((other.y - one.y) / 2e-6 - rise).abs() < 1e-6);
            assert!((one.x / 1e-6 - across).abs() < 1e-6);
        }
    }
}
