//! The light that heads for the pupil from one point of the picture.

use super::lens_shape::GROWTH_ACROSS;
use super::plane::Vector;
use super::pupil::{Pupil, PupilPosition};
use crate::physics::root::sign_change;
use crate::setup::Tangents;
use crate::square_root::{length, square_root};
use core::f64::consts::FRAC_PI_2;

/// An ellipse about the origin, its axes those of the plane, in millimetres.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Ellipse {
    pub(super) half_width: f64,
    pub(super) half_height: f64,
}

impl Ellipse {
    /// How far it reaches in the direction of a unit vector.
    pub(super) fn reach(&self, towards: Vector) -> f64 {
        length(self.half_width * towards.x, self.half_height * towards.y)
    }

    /// The point of its edge at the eccentric angle `t`.
    pub(super) fn edge(&self, t: f64) -> Vector {
        let (sin, cos) = libm::sincos(t);
        Vector {
            x: self.half_width * cos,
            y: self.half_height * sin,
        }
    }

    /// The greatest distance from `point` to it.
    ///
    /// The farthest point lies across the middle from `point`. In that quadrant,
    /// mirrored to the first, the slope of the squared distance is
    /// (b² − a²)·sin t·cos t − a·|x|·sin t + b·|y|·cos t; divided by sin t·cos t
    /// it only falls, so it changes sign once.
    pub(super) fn farthest(&self, point: Vector) -> f64 {
        let (a, b) = (self.half_width, self.half_height);
        if a == b {
            return point.length() + a;
        }
        let (x, y) = (libm::fabs(point.x), libm::fabs(point.y));
        let slope = |t: f64| {
            let (sin, cos) = libm::sincos(t);
            (b * b - a * a) * sin * cos - a * x * sin + b * y * cos
        };
        let distance = |t: f64| (self.edge(t) + Vector { x, y }).length();
        // A point on an axis has a slope of zero at an end; look just inside.
        let inside = 1e-9;
        let t = sign_change(slope, inside, FRAC_PI_2 - inside);
        [0.0, FRAC_PI_2, t]
            .into_iter()
            .map(distance)
            .fold(0.0, f64::max)
    }
}

/// A round front that the light has come in through.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Rim {
    /// Its middle as seen from the middle of the bundle; the same at any
    /// distance ahead, as both go by the same tangent.
    pub(super) middle: Vector,
    pub(super) radius: f64,
}

/// One field point's light.
///
/// Everything about it is told in axes whose origin is the bundle's middle and
/// whose directions are those of its own ellipse.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Bundle {
    pub(super) ellipse: Ellipse,
    pub(super) rim: Option<Rim>,
    /// The longer half of the pupil on the axis.
    pub(super) half: f64,
    /// By how much less than nothing the growth would make half of it.
    pub(super) beneath: f64,
    field: Tangents,
    position: PupilPosition,
    /// The unit vector along the ellipse's width; `None` along x.
    turn: Option<Vector>,
}

impl Bundle {
    /// The light towards a field point, its place in the picture told by height
    /// over focal length.
    pub(super) fn new(pupil: &Pupil, at: Tangents) -> Self {
        Self::of_ray(pupil, pupil.shape().real(at))
    }

    /// The light that comes in by these tangents.
    pub(super) fn of_ray(pupil: &Pupil, field: Tangents) -> Self {
        let shape = pupil.shape();
        let plain = Ellipse {
            half_width: pupil.half_width(),
            half_height: pupil.half_height(),
        };
        let (ellipse, turn) = grown(plain, field, shape.growth);
        let half = plain.half_width.max(plain.half_height);
        let along = 1.0 + shape.growth * (field.x * field.x + field.y * field.y);
        let mut bundle = Self {
            ellipse,
            rim: None,
            half,
            beneath: half * (-along).max(0.0),
            field,
            position: pupil.position(),
            turn,
        };
        bundle.rim = shape.rim.map(|radius| Rim {
            middle: bundle.own(-bundle.middle(0.0)),
            radius,
        });
        bundle
    }

    /// Where its middle crosses a plane ahead of the rim, from the lens axis.
    pub(super) fn middle(&self, ahead: f64) -> Vector {
        let Self {
            field, position, ..
        } = self;
        Vector {
            x: (position.horizontal.millimetres() + ahead) * field.x,
            y: (position.vertical.millimetres() + ahead) * field.y,
        }
    }

    /// The tangents it goes by.
    pub(super) const fn tangents(&self) -> Vector {
        Vector {
            x: self.field.x,
            y: self.field.y,
        }
    }

    /// A vector in the axes of its own ellipse.
    pub(super) fn own(&self, vector: Vector) -> Vector {
        self.turn.map_or(vector, |along| Vector {
            x: along.dot(vector),
            y: along.turned_left().dot(vector),
        })
    }

    /// How far its light reaches from its middle, at most, in a direction.
    pub(super) fn reach(&self, towards: Vector) -> f64 {
        let pupil = self.ellipse.reach(towards);
        match self.rim {
            Some(rim) => {
                let front = rim.middle.dot(towards) + rim.radius;
                if front < pupil { front } else { pupil }
            }
            None => pupil,
        }
    }

    /// How far from `point` its light reaches at most.
    pub(super) fn farthest(&self, point: Vector) -> f64 {
        let pupil = self.ellipse.farthest(point);
        (self.rim).map_or(pupil, |rim| {
            pupil.min((rim.middle - point).length() + rim.radius)
        })
    }
}

/// The ellipse stretched along the direction of the field by 1 + b·tan²θ and
/// across it by a quarter of that growth, and the direction of its width.
///
/// The stretched ellipse's axes are those of M·Mᵀ, M being the stretch times
/// the ellipse's own half axes.
fn grown(plain: Ellipse, field: Tangents, growth: f64) -> (Ellipse, Option<Vector>) {
    let out = field.from_axis();
    if growth == 0.0 || out == 0.0 {
        return (plain, None);
    }
    let (along, across) = stretch(growth, out);
    let (cos, sin) = (field.x / out, field.y / out);
    // The symmetric stretch.
    let (xx, yy) = (
        along * cos * cos + across * sin * sin,
        along * sin * sin + across * cos * cos,
    );
    let xy = (along - across) * cos * sin;
    let (a2, b2) = (
        plain.half_width * plain.half_width,
        plain.half_height * plain.half_height,
    );
    let (p, q, r) = (
        xx * xx * a2 + xy * xy * b2,
        xx * xy * a2 + xy * yy * b2,
        xy * xy * a2 + yy * yy * b2,
    );
    let (mean, half) = (f64::midpoint(p, r), length((p - r) / 2.0, q));
    let turn = Vector::at(libm::atan2(q, (p - r) / 2.0) / 2.0);
    let ellipse = Ellipse {
        half_width: square_root(mean + half),
        half_height: square_root((mean - half).max(0.0)).max(SLIVER_MM),
    };
    (ellipse, Some(turn))
}

/// No pupil is thinner than this, in millimetres.
const SLIVER_MM: f64 = 1e-6;

/// By how much the pupil is stretched along the radius and across it.
fn stretch(growth: f64, tangent: f64) -> (f64, f64) {
    let by = growth * tangent * tangent;
    ((1.0 + by).max(0.0), (1.0 + GROWTH_ACROSS * by).max(0.0))
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::super::lens_shape::LensShape;
    use super::*;
    use crate::quantity::{Aperture, FocalLength, Length, Squeeze};

    /// 20 mm high, as wide as the squeeze leaves, 30 mm behind the rim.
    fn pupil(squeeze: f64, shape: LensShape) -> Pupil {
        Pupil::new(
            FocalLength::new(40.0).unwrap(),
            Aperture::from_number(2.0).unwrap(),
            Squeeze::new(squeeze).unwrap(),
            Length::new(30.0).unwrap().into(),
        )
        .with_shape(shape)
    }

    fn grows(growth: f64) -> LensShape {
        LensShape {
            growth,
            ..LensShape::PLAIN
        }
    }

    #[test]
    fn a_round_pupil_grows_along_the_radius_and_a_quarter_across() {
        // tan θ = 0.5 towards (0.6, 0.8): 10·(1 + 0.8/4) along, 10·1.05 across.
        let bundle = Bundle::new(&pupil(1.0, grows(0.8)), Tangents { x: 0.3, y: 0.4 });
        assert!((bundle.ellipse.half_width - 12.0).abs() < 1e-12);
        assert!((bundle.ellipse.half_height - 10.5).abs() < 1e-12);
        let out = bundle.own(Vector { x: 0.6, y: 0.8 });
        assert!((bundle.reach(out) - 12.0).abs() < 1e-12);
    }

    #[test]
    fn a_stretched_pupil_reaches_where_its_stretched_edge_does() {
        let shape = grows(1.3);
        let field = Tangents { x: 0.7, y: -0.4 };
        let bundle = Bundle::new(&pupil(2.0, shape), field);
        let out = field.from_axis();
        let (along, across) = stretch(1.3, out);
        let (cos, sin) = (field.x / out, field.y / out);
        for direction in 0..24 {
            let towards = Vector::at(f64::from(direction) * 0.3);
            let mut most = f64::NEG_INFINITY;
            for step in 0..20_000 {
                let (s, c) = libm::sincos(f64::from(step) * core::f64::consts::TAU / 20_000.0);
                let (x, y) = (5.0 * c, 10.0 * s);
                let (u, v) = ((cos * x + sin * y) * along, (cos * y - sin * x) * across);
                most = most.max(towards.dot(Vector {
                    x: cos * u - sin * v,
                    y: sin * u + cos * v,
                }));
            }
            assert!((bundle.reach(bundle.own(towards)) - most).abs() < 1e-5);
        }
    }

    #[test]
    fn nothing_gets_past_the_rim() {
        // The chief ray 15 out at a rim of 20: 5 more outward, 10 inward.
        let shape = LensShape {
            rim: Some(20.0),
            ..LensShape::PLAIN
        };
        let bundle = Bundle::new(&pupil(1.0, shape), Tangents { x: 0.5, y: 0.0 });
        let reach = |x| bundle.reach(bundle.own(Vector { x, y: 0.0 }));
        assert!((reach(1.0) - 5.0).abs() < 1e-12);
        assert!((reach(-1.0) - 10.0).abs() < 1e-12);
        assert!((bundle.farthest(Vector { x: -40.0, y: 0.0 }) - 45.0).abs() < 1e-12);
    }
}
