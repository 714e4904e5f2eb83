//! What is known of how a lens sends its light out of its front.
//!
//! Nobody knows a lens to the last millimetre. What is not measured is a range
//! here, and its corners, as whole pupils, are what a sure answer must hold for.

use super::lens_shape::LensShape;
use super::pupil::{Pupil, PupilPosition};
use super::pupil_range::PupilRange;
use super::region::{Region, Steps};
use super::unmeasured::{NO_FIELD, may_bend, unmeasured, unmeasured_growth};
use crate::quantity::{Aperture, Length, Span};
use crate::setup::{Tangents, View};

/// A number known between two others.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Between {
    /// At least.
    pub least: f64,
    /// At most.
    pub most: f64,
}

impl Between {
    /// Known exactly.
    #[must_use]
    pub const fn exactly(value: f64) -> Self {
        Self {
            least: value,
            most: value,
        }
    }

    /// Its middle.
    #[must_use]
    pub fn middle(self) -> f64 {
        f64::midpoint(self.least, self.most)
    }

    fn at(self, share: f64) -> f64 {
        self.least + share * (self.most - self.least)
    }

    fn less(self, by: f64) -> Self {
        Self {
            most: self.most - by,
            ..self
        }
    }

    fn towards(self, other: Self, share: f64) -> Self {
        let mix = |one: f64, other: f64| one + share * (other - one);
        Self {
            least: mix(self.least, other.least),
            most: mix(self.most, other.most),
        }
    }
}

/// One axis measured by two cards.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Measured {
    /// The pupil behind the rim as read, in millimetres.
    pub behind: f64,
    /// tan θ·f/h − 1 where the cards were held, carried to the farthest corner.
    pub distortion: f64,
}

/// Where the pupil is and how the picture bends, as far as that is known.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Place {
    /// Somewhere in a range; δ for both axes, where it is known.
    Somewhere {
        /// The pupil's limits.
        pupil: PupilRange,
        /// δ at the farthest corner.
        distortion: Option<Between>,
    },
    /// By cards: the four ways in which both heights can be misread, in the
    /// order near low far low, near low far high, near high far low, near high
    /// far high; across and up.
    Cards {
        /// As read.
        read: [Measured; 2],
        /// Misread.
        misread: [[Measured; 2]; 4],
    },
}

/// A lens, as far as it is known.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct KnownLens {
    /// Pupil and distortion.
    pub place: Place,
    /// b, where it is known.
    pub growth: Option<Between>,
    /// The front, where it is known.
    pub front: Option<Span>,
    /// The widest stop, where it is known.
    pub widest: Option<Aperture>,
}

/// How much more or less a pupil may reach than is known of it, in millimetres:
/// what the three numbers leave out.
///
/// Our own traces: with δ and z0 from two cards 0.4 mm, rounded up.
pub const MODEL_MM: f64 = 0.5;

/// By how much less b can be where the distortion is the most it can be: the
/// lenses that bend the picture most have pupils that hardly grow.
///
/// Our own traces: b 0.14 and 0.1 at the largest distortions, 0.91 at small ones.
const LESS_GROWTH: f64 = 0.8;
/// How many times the widest f-number no rim inside the lens cuts any light: two
/// stops closed. Common practice, no source.
const TIMES_TO_FULL: f64 = 2.0;

/// By how much of itself the pupil of a known depth may seem to lie deeper at
/// the corner: spherical aberration of the pupil in normal and long lenses.
///
/// Our own traces, at tan²θ: 0.04 at 0.024, 0.09 at 0.147, 0.163 at 0.163, and
/// less than the distortion allowed for from 0.3 on.
fn deeper(square: f64) -> f64 {
    (1.7 * square).min(0.17) * ((0.4 - square) / 0.2).clamp(0.0, 1.0)
}

/// By how much less deep: our own traces, −0.1 at tan²θ 0.69.
const SHALLOWER: f64 = 0.15;

impl KnownLens {
    /// A pupil of known place and nothing else.
    #[must_use]
    pub const fn somewhere(pupil: PupilRange) -> Self {
        Self {
            place: Place::Somewhere {
                pupil,
                distortion: None,
            },
            growth: None,
            front: None,
            widest: None,
        }
    }

    /// The limits of the pupil, as read.
    #[must_use]
    pub fn pupil(&self) -> PupilRange {
        match self.place {
            Place::Somewhere { pupil, .. } => pupil,
            Place::Cards { read, .. } => PupilRange::known(position(read)),
        }
    }

    /// The lens as its figures stand: what nobody measured is left out.
    #[must_use]
    pub fn shape(&self, view: &View) -> LensShape {
        let distortion = match self.place {
            Place::Somewhere { distortion, .. } => {
                let both = distortion.map_or(0.0, Between::middle);
                [both, both]
            }
            Place::Cards { read, .. } => read.map(|axis| axis.distortion),
        };
        LensShape {
            distortion,
            growth: self.growth.map_or(0.0, Between::middle),
            corner: view.farthest_corner(),
            edges: edges(view),
            rim: self.rim(),
        }
    }

    /// The pupil that a picture is drawn through: by the figures, between limits
    /// in their middle.
    #[must_use]
    pub fn drawn(&self, view: &View, f_number: Aperture) -> Pupil {
        let record = view.record();
        let range = self.pupil();
        let middle = range
            .towards(&PupilRange::known(range.farthest), 0.5)
            .nearest;
        Pupil::new(record.focal_length, f_number, record.squeeze, middle)
            .with_shape(self.shape(view))
    }

    fn rim(&self) -> Option<f64> {
        self.front.map(|front| front.millimetres() / 2.0)
    }

    /// A lens this share of the way to another, as a zoom passes it.
    #[must_use]
    pub fn towards(&self, other: &Self, share: f64) -> Self {
        let (pupil, distortion) = self.boxed();
        let (other_pupil, other_distortion) = other.boxed();
        let both = |one: Option<Between>, other: Option<Between>| {
            one.zip(other).map(|(one, other)| one.towards(other, share))
        };
        Self {
            place: Place::Somewhere {
                pupil: pupil.towards(&other_pupil, share),
                distortion: both(distortion, other_distortion),
            },
            growth: both(self.growth, other.growth),
            ..*self
        }
    }

    /// Pupil and δ without what ties them together.
    fn boxed(&self) -> (PupilRange, Option<Between>) {
        match self.place {
            Place::Somewhere { pupil, distortion } => (pupil, distortion),
            Place::Cards { misread, .. } => {
                let all = |of: fn(&Measured) -> f64| {
                    let each = misread.iter().flatten().map(of);
                    each.fold((f64::INFINITY, f64::NEG_INFINITY), |(least, most), one| {
                        (least.min(one), most.max(one))
                    })
                };
                let (near, far) = all(|axis| axis.behind);
                let (least, most) = all(|axis| axis.distortion);
                let length = Length::computed;
                (
                    PupilRange::between(length(near), length(far)),
                    Some(Between { least, most }),
                )
            }
        }
    }

    /// Everything this lens may be at this stop.
    #[must_use]
    pub fn region(&self, view: &View, f_number: Aperture, steps: Steps) -> Region {
        Region::new(view.corners(), steps, self.pupils(view, f_number))
    }

    /// The lenses at the eight corners of what this one may be.
    #[must_use]
    pub fn extremes(&self, view: &View, f_number: Aperture) -> [Pupil; 8] {
        let at = self.pupils(view, f_number);
        let end = |of: usize, bit: usize| if of & bit == 0 { 0.0 } else { 1.0 };
        core::array::from_fn(|nth| at(end(nth, 1), end(nth, 2), end(nth, 4)))
    }

    /// The pupil at shares of the three unknowns: nearest to farthest and δ, or
    /// the two cards, and b.
    pub(crate) fn pupil_at(&self, view: &View, f_number: Aperture, [u, v, w]: [f64; 3]) -> Pupil {
        self.pupils(view, f_number)(u, v, w)
    }

    /// Where the figures of the lens stand among what it may be, as shares of the
    /// three unknowns: what nobody measured is left out, and of a pupil between
    /// limits it is the farthest, which spreads the light most.
    pub(crate) fn figures(&self, view: &View, f_number: Aperture) -> [f64; 3] {
        let corner = view.farthest_corner();
        let square = corner * corner;
        let bends = may_bend(self.front, view);
        let [u, v] = match self.place {
            Place::Cards { .. } => [0.5, 0.5],
            Place::Somewhere { pupil, distortion } => {
                let less = SHALLOWER * square.min(1.0);
                let place = if pupil.is_known() {
                    share_of(0.0, -less, deeper(square))
                } else {
                    1.0
                };
                let bend = unmeasured(square, bends);
                let bend = share_of(0.0, bend.least, bend.most);
                [place, distortion.map_or(bend, |_| 0.5)]
            }
        };
        let growth = self
            .growth_at(square, f_number)
            .less(self.less_growth(bends) * v);
        let w = match self.growth {
            Some(known) => share_of(known.middle(), growth.least, growth.most),
            None => share_of(0.0, growth.least, growth.most),
        };
        [u, v, w]
    }

    /// The pupil at shares of the three unknowns.
    fn pupils(&self, view: &View, f_number: Aperture) -> impl Fn(f64, f64, f64) -> Pupil + use<> {
        let corner = view.farthest_corner();
        let square = corner * corner;
        let growth = self.growth_at(square, f_number);
        let bends = may_bend(self.front, view);
        let place = self.place_between(square, bends);
        let rim = self.rim();
        let (less, edges) = (self.less_growth(bends), edges(view));
        let record = *view.record();
        move |u, v, w| {
            let [across, up] = place.at(u, v);
            let at = position([across, up]);
            Pupil::new(record.focal_length, f_number, record.squeeze, at).with_shape(LensShape {
                distortion: [across.distortion, up.distortion],
                growth: growth.less(less * v).at(w),
                corner,
                edges,
                rim,
            })
        }
    }

    /// b at a stop. Unless the iris is well closed rims inside the lens may take
    /// light, but none that a smaller iris lets in: rims stay where they are.
    /// Where the widest stop is not known they may take the outer half, down to
    /// the chief ray.
    fn growth_at(&self, square: f64, f_number: Aperture) -> Between {
        let known = self.growth.unwrap_or_else(|| unmeasured_growth(square));
        let open = self.widest.map_or(0.0, |widest| {
            (f_number.number() / (TIMES_TO_FULL * widest.number())).min(1.0)
        });
        if open >= 1.0 - 1e-9 {
            return known;
        }
        let square = square.max(NO_FIELD);
        let full = (1.0 + known.least * square).max(0.0);
        Between {
            // Real tangents are at most a third longer.
            least: (open * full - 1.0) / square,
            ..known
        }
    }

    /// How much b shrinks towards the largest distortion, where neither is known.
    fn less_growth(&self, bends: f64) -> f64 {
        match self.place {
            Place::Somewhere {
                distortion: None, ..
            } if self.growth.is_none() => LESS_GROWTH * bends,
            _ => 0.0,
        }
    }

    fn place_between(&self, square: f64, bends: f64) -> PlaceBetween {
        match self.place {
            Place::Cards { misread, .. } => PlaceBetween::Cards(misread),
            Place::Somewhere { pupil, distortion } => {
                let scaled = |end: PupilPosition, by: f64| {
                    [end.horizontal, end.vertical].map(|length| {
                        let mm = length.millimetres();
                        // A pupil ahead of the rim is a reading, not a lens.
                        mm + by * libm::fabs(mm)
                    })
                };
                let (least, most) = if pupil.is_known() {
                    (-SHALLOWER * square.min(1.0), deeper(square))
                } else {
                    (0.0, 0.0)
                };
                PlaceBetween::Somewhere {
                    nearest: scaled(pupil.nearest, least),
                    farthest: scaled(pupil.farthest, most),
                    distortion: distortion.unwrap_or_else(|| unmeasured(square, bends)),
                }
            }
        }
    }
}

enum PlaceBetween {
    Somewhere {
        nearest: [f64; 2],
        farthest: [f64; 2],
        distortion: Between,
    },
    Cards([[Measured; 2]; 4]),
}

impl PlaceBetween {
    /// The place at two shares: nearest to farthest and δ, or the two cards.
    fn at(&self, u: f64, v: f64) -> [Measured; 2] {
        let mix = |one: f64, other: f64, share: f64| one + share * (other - one);
        match self {
            Self::Somewhere {
                nearest,
                farthest,
                distortion,
            } => [0, 1].map(|axis| Measured {
                behind: mix(nearest[axis], farthest[axis], u),
                distortion: distortion.at(v),
            }),
            Self::Cards(misread) => [0, 1].map(|axis| {
                let of = |part: fn(&Measured) -> f64| {
                    let corner = |at: usize| part(&misread[at][axis]);
                    let low = mix(corner(0), corner(1), v);
                    mix(low, mix(corner(2), corner(3), v), u)
                };
                Measured {
                    behind: of(|axis| axis.behind),
                    distortion: of(|axis| axis.distortion),
                }
            }),
        }
    }
}

/// Where a value stands between two others, 0 to 1.
fn share_of(value: f64, least: f64, most: f64) -> f64 {
    if most > least {
        ((value - least) / (most - least)).clamp(0.0, 1.0)
    } else {
        0.5
    }
}

/// Side and top of the picture of a lens that squeezes.
fn edges(view: &View) -> Option<[f64; 2]> {
    let most = |of: fn(&Tangents) -> f64| {
        (view.corners().iter())
            .map(|corner| libm::fabs(of(corner)))
            .fold(0.0, f64::max)
    };
    (view.record().squeeze.ratio() != 1.0).then(|| [most(|t| t.x), most(|t| t.y)])
}

fn position([across, up]: [Measured; 2]) -> PupilPosition {
    let length = Length::computed;
    PupilPosition {
        horizontal: length(across.behind),
        vertical: length(up.behind),
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
pub(super) mod tests {
    use super::*;
    use crate::quantity::{FocalLength, Squeeze};
    use crate::setup::ViewRecord;

    /// tan θ = 0.5 at the corner of a 40 mm.
    pub(in super::super) fn view() -> View {
        View::new(ViewRecord {
            width: Span::new(32.0).unwrap(),
            height: Span::new(24.0).unwrap(),
            shift_x: Length::ZERO,
            shift_y: Length::ZERO,
            focal_length: FocalLength::new(40.0).unwrap(),
            squeeze: Squeeze::new(1.0).unwrap(),
        })
        .unwrap()
    }

    fn lens(front: f64) -> KnownLens {
        with_pupil(front, 10.0, 50.0)
    }

    pub(in super::super) fn with_pupil(front: f64, nearest: f64, deepest: f64) -> KnownLens {
        let mm = |mm: f64| Length::new(mm).unwrap();
        KnownLens {
            front: Some(Span::new(front).unwrap()),
            widest: Some(Aperture::from_marking(2.0).unwrap()),
            ..KnownLens::somewhere(PupilRange::between(mm(nearest), mm(deepest)))
        }
    }

    #[test]
    fn a_wider_stop_lets_in_all_that_a_smaller_one_does() {
        let outer = |marking| {
            let stop = Aperture::from_marking(marking).unwrap();
            let pupil = lens(60.0).pupil_at(&view(), stop, [0.0, 0.0, 0.0]);
            pupil.half_height() * (1.0 + pupil.shape().growth * 0.25)
        };
        // Half of 40/4 less a tenth.
        for marking in [2.0, 2.8, 4.0] {
            assert!((outer(marking) - 4.5).abs() < 1e-9, "{marking}");
        }
        assert!(outer(5.6) < 4.0);
    }

    #[test]
    fn a_front_of_two_focal_lengths_does_not_bend_the_picture() {
        let most = |front| {
            let stop = Aperture::from_marking(8.0).unwrap();
            let pupil = lens(front).pupil_at(&view(), stop, [0.0, 1.0, 0.0]);
            pupil.shape().distortion[1]
        };
        assert!((most(80.0) - 0.0685).abs() < 1e-12);
        // (0.5 + 0.33/4)/4 more than at the axis.
        assert!((most(120.0) - 0.151_625).abs() < 1e-12);
        assert!(most(100.0) > most(80.0) && most(100.0) < most(120.0));
    }
}
