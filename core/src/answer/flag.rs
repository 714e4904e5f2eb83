//! How long a flag must be to shade the glass, and how long it may be before
//! the picture sees it.

use super::fit::Trust;
use super::fit::sure::Sure;
use crate::physics::flag::{
    FieldEdge, Flag, FlagAnswer, OuterGlass, Source, flag_length, sideways_reach,
};
use crate::physics::known_lens::KnownLens;
use crate::physics::opening::{Opening, OpeningRecord, Shape};
use crate::physics::root::sign_change;
use crate::physics::vignetting::beam::Beam;
use crate::quantity::{Angle, Aperture, Bounds, Length, Span};
use crate::setup::{Tangents, View};
use crate::square_root::{length, square_root};

/// The sun's radius seen from the earth, in degrees: 959.63 arc seconds at the
/// mean distance, which varies by a sixtieth over the year.
///
/// # Source
///
/// A. Auwers (1891), long the standard value: Rozelot, Kosovichev and Kilcik, Sun
/// and Geosphere 13, 63 (2018). The IAU's nominal radius of 2015, 695 700 km, is
/// 959.23″.
pub const SUN_RADIUS_DEG: f64 = 0.266_564;

/// A side of the lens, seen from behind.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    /// Over it.
    Top,
    /// Under it.
    Bottom,
    /// Left of it.
    Left,
    /// Right of it.
    Right,
}

/// The light as the camera sees it, parts right, up, ahead.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Light {
    /// The sun: the unit vector to its middle.
    Sun([f64; 3]),
    /// A lamp: where it is, from the lens axis and ahead of the rim.
    Lamp([Length; 3]),
}

/// What is asked.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Question {
    /// Sensor and focal length.
    pub view: View,
    /// The f-number.
    pub f_number: Aperture,
    /// What is known of the lens.
    pub lens: KnownLens,
    /// Half the width and height of the outer glass.
    pub half_glass: [Length; 2],
    /// From the rim forward to it.
    pub glass_ahead: Length,
    /// The flag.
    pub flag: Flag,
    /// Which side it is on.
    pub side: Side,
    /// The light.
    pub light: Light,
}

/// What a flag on that side can do.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Answer {
    /// The light is in the picture.
    SourceInPicture,
    /// By the figures of the lens.
    Lengths {
        /// The lengths.
        lengths: FlagAnswer,
        /// The longest that stays out of the picture whatever the lens may be;
        /// `None` when even the hinge may be seen.
        sure_longest: Option<Length>,
        /// Whether that the shortest stays out of the picture is sure.
        trust: Trust,
        /// How far the end of the shortest must reach along the other axis.
        reach: Option<(f64, f64)>,
    },
}

/// Answers the question.
///
/// The sun is a disc of [`SUN_RADIUS_DEG`]: all of it must be behind the flag.
///
/// # Units
///
/// Millimetres.
///
/// # Source
///
/// Straight lines; our own derivation.
#[must_use]
pub fn flag(question: &Question) -> Answer {
    if question.is_light_in_picture() {
        return Answer::SourceInPicture;
    }
    let lengths = question.lengths();
    let shortest = match lengths {
        FlagAnswer::Fits { shortest, .. } => Some(shortest),
        FlagAnswer::Impossible { shortest, .. } => shortest,
        FlagAnswer::FromBehind | FlagAnswer::WrongSide => None,
    };
    let sure = Sure::new(&question.view, question.f_number, &question.lens, &[]);
    let room = |mm: f64| sure.room(&question.beyond(mm));
    Answer::Lengths {
        lengths,
        sure_longest: sure_longest(|mm| room(mm).0),
        trust: shortest.map_or(Trust::Look, |shortest| {
            let ends = [0.0, shortest.millimetres()].map(room);
            if ends.iter().all(|(least, _)| *least >= 0.0) {
                Trust::SureClear
            } else if ends.iter().any(|(_, most)| *most < 0.0) {
                Trust::SureClip
            } else {
                Trust::Look
            }
        }),
        reach: match lengths {
            FlagAnswer::Fits { shortest, .. } => Some(question.reach(shortest)),
            _ => None,
        },
    }
}

/// The longest with room left. Room is the least of straight lines in the
/// length, so that it is there from nothing up to one length.
fn sure_longest(room: impl Fn(f64) -> f64) -> Option<Length> {
    let most = Bounds::SPAN.max;
    if room(0.0) < 0.0 {
        return None;
    }
    let longest = if room(most) >= 0.0 {
        most
    } else {
        sign_change(room, 0.0, most)
    };
    Length::new(longest).ok()
}

impl Question {
    /// Unit vector of the side: right, up.
    const fn outward(&self) -> [f64; 2] {
        match self.side {
            Side::Top => [0.0, 1.0],
            Side::Bottom => [0.0, -1.0],
            Side::Left => [-1.0, 0.0],
            Side::Right => [1.0, 0.0],
        }
    }

    const fn is_level(&self) -> bool {
        matches!(self.side, Side::Top | Side::Bottom)
    }

    /// Parts towards the side, along the flag's width (right or up), and ahead.
    fn parts(&self, [right, up, ahead]: [f64; 3]) -> [f64; 3] {
        let [x, y] = self.outward();
        let across = if self.is_level() { right } else { up };
        [right * x + up * y, across, ahead]
    }

    fn half_and_across(&self) -> (Length, Length) {
        let [width, height] = self.half_glass;
        if self.is_level() {
            (height, width)
        } else {
            (width, height)
        }
    }

    /// Whether any of it shows: the lens is drawn by its figures.
    fn is_light_in_picture(&self) -> bool {
        let pupil = self.lens.drawn(&self.view, self.f_number);
        let behind = pupil.position();
        let shape = pupil.shape();
        let seen = match self.light {
            Light::Sun([right, up, ahead]) => (ahead > 1e-9).then(|| Tangents {
                x: right / ahead,
                y: up / ahead,
            }),
            Light::Lamp(at) => {
                let [right, up, ahead] = at.map(Length::millimetres);
                let from =
                    [behind.horizontal, behind.vertical].map(|behind| ahead + behind.millimetres());
                (from[0].min(from[1]) > 1e-9).then(|| Tangents {
                    x: right / from[0],
                    y: up / from[1],
                })
            }
        };
        let Some(seen) = seen else {
            return false;
        };
        let nominal = shape.nominal(seen);
        let [low, .., high] = self.view.corners();
        // The point of the picture nearest to it.
        let nearest = shape.real(Tangents {
            x: nominal.x.clamp(low.x, high.x),
            y: nominal.y.clamp(low.y, high.y),
        });
        let radius = match self.light {
            Light::Sun(_) => SUN_RADIUS_DEG.to_radians(),
            Light::Lamp(_) => 0.0,
        };
        apart(seen, nearest) <= radius
    }

    fn lengths(&self) -> FlagAnswer {
        let (half, _) = self.half_and_across();
        let outer = OuterGlass {
            half,
            ahead: self.glass_ahead,
        };
        let Some(source) = self.source() else {
            return FlagAnswer::WrongSide;
        };
        let answers = self.field_edges().map(|edge| {
            let [pupil, rim] =
                edge.map(|edge| edge.map(|edge| flag_length(self.flag, outer, edge, source)));
            // Light is within the pupil's bundle and within the rim's, so that
            // the roomier of both bounds holds.
            match (pupil, rim) {
                (Some(one), Some(other)) => roomier(one, other),
                (Some(one), None) | (None, Some(one)) => one,
                (None, None) => FlagAnswer::WrongSide,
            }
        });
        let [first, rest @ ..] = answers;
        rest.into_iter().fold(first, tighter)
    }

    /// The picture's edge on that side, at its two corners and its middle: by
    /// the pupil, and by the rim where it is known.
    fn field_edges(&self) -> [[Option<FieldEdge>; 2]; 3] {
        let pupil = self.lens.drawn(&self.view, self.f_number);
        let position = pupil.position();
        let pupil_behind = if self.is_level() {
            position.vertical
        } else {
            position.horizontal
        };
        [0.0, 0.5, 1.0].map(|along| {
            let (across, up) = match self.side {
                Side::Top => (along, 1.0),
                Side::Bottom => (along, 0.0),
                Side::Left => (0.0, along),
                Side::Right => (1.0, along),
            };
            let ray = pupil.shape().real(self.view.tangents_of(across, up));
            let [x, y] = self.outward();
            let tangent = ray.x * x + ray.y * y;
            let (_, half) = Beam::of_ray(&pupil, ray).along(self.outward(), 0.0);
            let edge = |half: f64, pupil_behind| {
                Some(FieldEdge {
                    tangent,
                    pupil_half: Length::new(half).ok()?,
                    pupil_behind,
                })
            };
            let rim = pupil.shape().rim;
            [
                edge(half, pupil_behind),
                rim.and_then(|rim| edge(rim, Length::ZERO)),
            ]
        })
    }

    /// The light in the flag's plane: of the sun the limb nearest to the axis.
    fn source(&self) -> Option<Source> {
        match self.light {
            Light::Sun(parts) => {
                let [out, _, ahead] = self.parts(parts);
                if ahead <= 1e-9 {
                    return Some(Source::Far { out, ahead });
                }
                let [low, _] = limbs(out, ahead)?;
                // A disc that the axis cuts is on no side of it.
                Some(Source::Far {
                    out: low,
                    ahead: 1.0,
                })
            }
            Light::Lamp(at) => {
                let [out, _, ahead] = self.parts(at.map(Length::millimetres));
                Some(Source::Near {
                    out: Length::new(out).ok()?,
                    ahead: Length::new(ahead).ok()?,
                })
            }
        }
    }

    fn reach(&self, shortest: Length) -> (f64, f64) {
        let lean = self.flag.lean.degrees().to_radians();
        let glass = self.glass_ahead.millimetres();
        let tip = self.flag.hinge_ahead.millimetres() + shortest.millimetres() * libm::cos(lean);
        let way = tip - glass;
        let (_, half) = self.half_and_across();
        match self.light {
            Light::Sun(parts) => {
                let [_, across, ahead] = self.parts(parts);
                let slopes = limbs(across, ahead).unwrap_or([across / ahead; 2]);
                sideways_reach(half, slopes, way, 0.0)
            }
            Light::Lamp(at) => {
                let [_, across, ahead] = self.parts(at.map(Length::millimetres));
                let away = ahead - glass;
                sideways_reach(half, [across / away; 2], way, way / away)
            }
        }
    }

    /// All that lies below a flag of this length: what the picture may see.
    fn beyond(&self, mm: f64) -> Opening {
        /// So wide that only the flag's end counts.
        const WIDE: Span = Span::constant(Bounds::SPAN.max);
        let (sin, cos) = libm::sincos(self.flag.lean.degrees().to_radians());
        let out = self.flag.hinge_out.millimetres() + mm * sin;
        let ahead = self.flag.hinge_ahead.millimetres() + mm * cos;
        let bounded = Length::computed;
        let [x, y] = self.outward();
        let middle = out - WIDE.millimetres() / 2.0;
        Opening::new(OpeningRecord {
            shape: Shape::Rectangle {
                width: WIDE,
                height: WIDE,
            },
            distance: bounded(ahead),
            depth: None,
            offset_x: bounded(x * middle),
            offset_y: bounded(y * middle),
            rotation: Angle::ZERO,
        })
    }
}

/// Slopes, out over ahead, of the two limbs of the sun whose middle has these
/// parts of a unit vector; `None` when its disc reaches beside the camera.
///
/// A plane through the axis across the slope s touches the disc's cone where
/// (out − s·ahead)² = sin²ρ·(1 + s²).
fn limbs(out: f64, ahead: f64) -> Option<[f64; 2]> {
    let sine = libm::sin(SUN_RADIUS_DEG.to_radians());
    let square = ahead * ahead - sine * sine;
    if square <= 0.0 {
        return None;
    }
    let off = sine * square_root((out * out + ahead * ahead - sine * sine).max(0.0));
    Some([out * ahead - off, out * ahead + off].map(|part| part / square))
}

/// The angle between two directions told by tangents, in radians.
fn apart(one: Tangents, other: Tangents) -> f64 {
    let dot = one.x * other.x + one.y * other.y + 1.0;
    let cross = [
        one.y - other.y,
        other.x - one.x,
        one.x * other.y - one.y * other.x,
    ];
    libm::atan2(length(length(cross[0], cross[1]), cross[2]), dot)
}

/// Of two bounds of one light's edge the one that leaves more.
fn roomier(one: FlagAnswer, other: FlagAnswer) -> FlagAnswer {
    if longest(one) >= longest(other) {
        one
    } else {
        other
    }
}

/// Of two points of the picture the one that leaves less.
fn tighter(one: FlagAnswer, other: FlagAnswer) -> FlagAnswer {
    if longest(one) <= longest(other) {
        one
    } else {
        other
    }
}

/// Below nothing where even the hinge is in the picture.
fn longest(answer: FlagAnswer) -> f64 {
    match answer {
        FlagAnswer::Fits { longest, .. } => longest.map_or(f64::INFINITY, Length::millimetres),
        FlagAnswer::Impossible { longest, .. } => longest.map_or(-1.0, Length::millimetres),
        FlagAnswer::FromBehind | FlagAnswer::WrongSide => f64::INFINITY,
    }
}

#[cfg(test)]
#[expect(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a test may stop on a bad value"
)]
mod tests;
