//! An opening in front of the lens that light has to pass.

use super::bundle::Bundle;
use super::plane::Vector;
use super::pupil::Pupil;
use crate::quantity::{Angle, Length, Span};
use crate::setup::Tangents;

/// The clear shape of an opening.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Shape {
    /// Round, as screw-in mounts and rings are.
    Circle {
        /// Clear diameter.
        diameter: Span,
    },
    /// Rectangular, as panels and their trays are.
    Rectangle {
        /// Clear width before it is turned.
        width: Span,
        /// Clear height before it is turned.
        height: Span,
    },
}

/// An opening as its owner describes it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OpeningRecord {
    /// Its clear shape.
    pub shape: Shape,
    /// Its rear face, forward from the rim.
    pub distance: Length,
    /// How deep it is along the axis; a tube shades at either end.
    pub depth: Option<Span>,
    /// Its middle, right of the lens axis.
    pub offset_x: Length,
    /// Its middle, above the lens axis.
    pub offset_y: Length,
    /// Counter-clockwise, seen from behind the camera, about its middle.
    pub rotation: Angle,
}

/// An opening ready to be tested against light.
///
/// Every opening is convex. So is the pupil, and a bundle moves along straight
/// lines from one face of a tube to the other and from one corner of the picture
/// to the next: what passes both faces passes between them, and what is clear at
/// the four corners is clear everywhere.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Opening {
    record: OpeningRecord,
    middle: Vector,
    /// Unit vector along the width.
    across: Vector,
}

/// A side that a bundle's cross-section may be beyond, in the axes of a bundle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Side {
    /// Points p with |p − middle| ≤ radius pass.
    Round { middle: Vector, radius: f64 },
    /// Points p with p·outward ≤ room pass.
    Straight { outward: Vector, room: f64 },
}

impl Opening {
    /// Makes it ready.
    #[must_use]
    pub fn new(record: OpeningRecord) -> Self {
        let turn = libm::fmod(record.rotation.degrees(), 360.0);
        Self {
            record,
            middle: Vector {
                x: record.offset_x.millimetres(),
                y: record.offset_y.millimetres(),
            },
            // Quarter turns are common and must keep square things square.
            across: if libm::fmod(turn, 90.0) == 0.0 {
                let quarter = Vector::at(turn.to_radians());
                Vector {
                    x: libm::round(quarter.x),
                    y: libm::round(quarter.y),
                }
            } else {
                Vector::at(turn.to_radians())
            },
        }
    }

    /// What it was made from.
    #[must_use]
    pub const fn record(&self) -> &OpeningRecord {
        &self.record
    }

    /// The same opening turned to this angle.
    #[must_use]
    pub fn with_rotation(self, rotation: Angle) -> Self {
        Self::new(OpeningRecord {
            rotation,
            ..self.record
        })
    }

    /// The same opening at this distance ahead of the rim.
    #[must_use]
    pub fn with_distance(self, distance: Length) -> Self {
        Self {
            record: OpeningRecord {
                distance,
                ..self.record
            },
            ..self
        }
    }

    /// Distances of its faces ahead of the rim: rear, and front where it is deep.
    pub(super) fn faces(&self) -> impl Iterator<Item = f64> + use<> {
        let rear = self.record.distance.millimetres();
        let front = self.record.depth.map(|depth| rear + depth.millimetres());
        core::iter::once(rear).chain(front)
    }

    /// How far its middle is from that of a bundle, at each face.
    pub(crate) fn levers(
        &self,
        pupil: &Pupil,
        field: Tangents,
    ) -> impl Iterator<Item = f64> + use<> {
        let (opening, bundle) = (*self, Bundle::new(pupil, field));
        (opening.faces()).map(move |face| opening.middle_from(&bundle, face).length())
    }

    /// Its middle as seen from the middle of a bundle in the plane of a face, in
    /// the bundle's own axes.
    fn middle_from(&self, bundle: &Bundle, face: f64) -> Vector {
        bundle.own(self.middle - bundle.middle(face))
    }

    /// Its middle, from the lens axis.
    pub(super) const fn middle(&self) -> Vector {
        self.middle
    }

    /// The unit vector along its width.
    pub(super) const fn across(&self) -> Vector {
        self.across
    }

    /// The least room it leaves a bundle, or its chief ray alone.
    pub(super) fn room(&self, bundle: &Bundle, chief_ray: bool) -> f64 {
        let mut least = f64::INFINITY;
        for face in self.faces() {
            for side in self.sides(bundle, face) {
                let room = match side {
                    Side::Straight { room, .. } if chief_ray => room,
                    Side::Straight { outward, room } => room - bundle.reach(outward),
                    Side::Round { middle, radius } if chief_ray => radius - middle.length(),
                    Side::Round { middle, radius } => radius - bundle.farthest(middle),
                };
                // `min` is a call here, and this is asked most of all.
                if room < least {
                    least = room;
                }
            }
        }
        least
    }

    /// The least room it leaves light that goes by `tangents` and fills another
    /// opening at a face of that.
    pub(super) fn room_for(&self, filled: &Self, face: f64, tangents: Vector) -> f64 {
        let mut least = f64::INFINITY;
        for own in self.faces() {
            // The filled shape, moved to here, as seen from the middle of this.
            let middle = filled.middle + tangents * (own - face) - self.middle;
            let room = match self.record.shape {
                Shape::Circle { diameter } => {
                    diameter.millimetres() / 2.0 - filled.farthest_point(middle)
                }
                Shape::Rectangle { width, height } => {
                    let up = self.across.turned_left();
                    [
                        (self.across, width),
                        (-self.across, width),
                        (up, height),
                        (-up, height),
                    ]
                    .into_iter()
                    .map(|(outward, size)| {
                        size.millimetres() / 2.0 - outward.dot(middle) - filled.support(outward)
                    })
                    .fold(f64::INFINITY, f64::min)
                }
            };
            least = least.min(room);
        }
        least
    }

    /// How far it reaches from its middle in the direction of a unit vector.
    fn support(&self, towards: Vector) -> f64 {
        match self.record.shape {
            Shape::Circle { diameter } => diameter.millimetres() / 2.0,
            Shape::Rectangle { width, height } => {
                let up = self.across.turned_left();
                libm::fabs(self.across.dot(towards)) * width.millimetres() / 2.0
                    + libm::fabs(up.dot(towards)) * height.millimetres() / 2.0
            }
        }
    }

    /// How far its farthest point is from where its middle would be at `middle`.
    fn farthest_point(&self, middle: Vector) -> f64 {
        match self.record.shape {
            Shape::Circle { diameter } => middle.length() + diameter.millimetres() / 2.0,
            Shape::Rectangle { width, height } => {
                let right = self.across * (width.millimetres() / 2.0);
                let up = self.across.turned_left() * (height.millimetres() / 2.0);
                [right + up, right - up, up - right, -up - right]
                    .map(|corner| (middle + corner).length())
                    .into_iter()
                    .fold(0.0, f64::max)
            }
        }
    }

    /// Its sides, as seen from the middle of that bundle in the bundle's axes.
    #[inline]
    pub(super) fn sides(&self, bundle: &Bundle, face: f64) -> impl Iterator<Item = Side> + use<> {
        let middle = self.middle_from(bundle, face);
        let across = bundle.own(self.across);
        let straight = |outward: Vector, size: Span| {
            Some(Side::Straight {
                outward,
                room: size.millimetres() / 2.0 + outward.dot(middle),
            })
        };
        let up = across.turned_left();
        let sides = match self.record.shape {
            Shape::Circle { diameter } => {
                let radius = diameter.millimetres() / 2.0;
                [Some(Side::Round { middle, radius }), None, None, None]
            }
            Shape::Rectangle { width, height } => [
                straight(across, width),
                straight(-across, width),
                straight(up, height),
                straight(-up, height),
            ],
        };
        sides.into_iter().flatten()
    }
}

/// Where the chief ray of `field` crosses a plane `ahead` of the rim, in
/// millimetres from the lens axis: right, up.
///
/// # Units
///
/// z·tan θ for each axis, z being the pupil's distance behind the rim plus
/// `ahead`, all in millimetres. The subject is far away.
#[must_use]
pub fn chief_ray_at(pupil: &Pupil, field: Tangents, ahead: f64) -> (f64, f64) {
    let Vector { x, y } = Bundle::new(pupil, field).middle(ahead);
    (x, y)
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::*;
    use crate::quantity::{Aperture, FocalLength, Squeeze};

    #[test]
    fn a_chief_ray_is_as_far_out_as_it_has_come_from_the_pupil() {
        // (30 + 20)·0.1 = 5 and (30 + 20)·0.2 = 10, by hand.
        let pupil = Pupil::new(
            FocalLength::new(50.0).unwrap(),
            Aperture::from_number(4.0).unwrap(),
            Squeeze::new(1.0).unwrap(),
            Length::new(30.0).unwrap().into(),
        );
        let (x, y) = chief_ray_at(&pupil, Tangents { x: 0.1, y: 0.2 }, 20.0);
        assert!((x - 5.0).abs() < 1e-12 && (y - 10.0).abs() < 1e-12);
    }
}
