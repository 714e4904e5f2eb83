//! What openings and the rim leave of one field point's light, and what of that
//! gets through graduated glass.

use super::boundary::{Edge, SAME, crossings};
use super::bundle::{Bundle, Ellipse};
use super::opening::{Opening, Side};
use super::plane::Vector;
use crate::physics::quadrature::{over, over_chord};
use crate::sorted::sort_numbers;
use alloc::vec::Vec;
use core::f64::consts::{LN_10, PI, TAU};

/// The part of a bundle that is left.
#[derive(Debug, Clone)]
pub(crate) struct Left {
    bundle: Bundle,
    /// What bounds it: sides that cut into the pupil, then the pupil.
    edges: Vec<Edge>,
    /// Whether an opening takes any.
    shaded: bool,
    /// The area of what the lens itself lets in.
    whole: f64,
}

/// Glass whose transmission runs along one direction and is even across it.
pub(crate) struct Band<'a> {
    /// The unit vector of that direction: right, up.
    pub(crate) towards: [f64; 2],
    /// The share of the light that passes, so many mm along it from the
    /// bundle's middle.
    pub(crate) passes: &'a dyn Fn(f64) -> f64,
    /// Where that takes another course.
    pub(crate) bends: Vec<f64>,
}

impl Left {
    /// What is left; `None` when nothing is.
    pub(super) fn of(bundle: &Bundle, openings: &[Opening]) -> Option<Self> {
        let pupil = bundle.ellipse;
        let mut edges = Vec::new();
        for opening in openings {
            for face in opening.faces() {
                for side in opening.sides(bundle, face) {
                    match cut(&pupil, side) {
                        Cut::Nothing => {}
                        Cut::Everything => return None,
                        Cut::Part => edges.push(Edge::Side(side)),
                    }
                }
            }
        }
        let shaded = !edges.is_empty();
        let mut whole = PI * pupil.half_width * pupil.half_height;
        // What the rim takes is the lens's own; the openings are asked of the
        // rest.
        let rim = bundle.rim.map(|rim| Side::Round {
            middle: rim.middle,
            radius: rim.radius,
        });
        if let Some(rim) = rim.filter(|rim| matches!(cut(&pupil, *rim), Cut::Part)) {
            whole = area_within(&[Edge::Side(rim), Edge::Pupil(pupil)]);
            edges.push(Edge::Side(rim));
        }
        if !edges.is_empty() {
            edges.push(Edge::Pupil(pupil));
        }
        Some(Self {
            bundle: *bundle,
            edges,
            shaded,
            whole,
        })
    }

    /// Whether it is the whole pupil.
    pub(crate) fn is_whole(&self) -> bool {
        self.edges.is_empty()
    }

    /// Its share of what the lens lets in.
    pub(crate) fn share(&self) -> f64 {
        // Of a lens that lets nothing in nothing is taken.
        if !self.shaded || self.whole <= 0.0 {
            return 1.0;
        }
        (area_within(&self.edges) / self.whole).clamp(0.0, 1.0)
    }

    /// The share of the light that gets through all of this glass and is left.
    ///
    /// ∫ T(y)·ℓ(y) dy over the pupil's area, ℓ being the chord that is left at
    /// height y along the first glass; T runs along the chord too where other
    /// glass is turned against it. The integral is cut wherever an edge begins,
    /// ends or crosses another and wherever a glass bends, so that each piece
    /// is smooth.
    ///
    /// # Accuracy
    ///
    /// 10⁻⁹ of the light against finer pieces.
    ///
    /// # Source
    ///
    /// Light adds up over the pupil; our own derivation.
    pub(crate) fn through(&self, bands: &[Band<'_>]) -> f64 {
        let Some((first, rest)) = bands.split_first() else {
            return self.share();
        };
        if self.whole <= 0.0 {
            return 1.0;
        }
        let up = self.own(first);
        let chords = Chords {
            up,
            pupil: Edge::Pupil(self.bundle.ellipse),
            edges: &self.edges,
        };
        // Glass that runs the same way or the opposite one needs no second sum.
        let (level, turned): (Vec<_>, Vec<_>) = (rest.iter())
            .map(|band| (self.own(band), band))
            .partition(|(towards, _)| libm::fabs(towards.cross(up)) < PARALLEL);
        let along = up.turned_left();
        let across = |y: f64| {
            level.iter().fold((first.passes)(y), |so_far, (way, band)| {
                so_far * (band.passes)(y * way.dot(up))
            })
        };
        let at = |y: f64| {
            let Some((from, to)) = chords.at(y) else {
                return 0.0;
            };
            let even = across(y);
            if turned.is_empty() {
                return even * (to - from);
            }
            let mut cuts = Vec::from([from, to]);
            for (way, band) in &turned {
                let slope = way.dot(along);
                cuts.extend(
                    (band.bends.iter())
                        .map(|bend| (bend - y * way.dot(up)) / slope)
                        .filter(|cut| *cut > from && *cut < to),
                );
            }
            let passes = |x: f64| {
                turned.iter().fold(1.0, |so_far, (way, band)| {
                    so_far * (band.passes)(y * way.dot(up) + x * way.dot(along))
                })
            };
            even * in_pieces(cuts, &passes, |from, to| over(from, to, passes))
        };
        let cuts = self.cuts(&chords, first, &level, &turned);
        in_pieces(cuts, &across, |from, to| over_chord(from, to, at)) / self.whole
    }

    fn own(&self, band: &Band<'_>) -> Vector {
        let [x, y] = band.towards;
        self.bundle.own(Vector { x, y })
    }

    /// Every height at which the integral may have a kink.
    fn cuts(
        &self,
        chords: &Chords<'_>,
        first: &Band<'_>,
        level: &[(Vector, &Band<'_>)],
        turned: &[(Vector, &Band<'_>)],
    ) -> Vec<f64> {
        let up = chords.up;
        let reach = self.bundle.ellipse.reach(up);
        let mut lines: Vec<Edge> = self.edges.clone();
        if lines.is_empty() {
            lines.push(chords.pupil);
        }
        for (way, band) in turned {
            lines.extend(band.bends.iter().map(|&room| {
                Edge::Side(Side::Straight {
                    outward: *way,
                    room,
                })
            }));
        }
        let mut cuts = Vec::from([-reach, reach]);
        for (nth, one) in lines.iter().enumerate() {
            match *one {
                Edge::Side(Side::Round { middle, radius }) => {
                    cuts.extend([middle.dot(up) - radius, middle.dot(up) + radius]);
                }
                Edge::Side(Side::Straight { outward, room })
                    if libm::fabs(outward.cross(up)) < PARALLEL =>
                {
                    cuts.push(room * outward.dot(up));
                }
                _ => {}
            }
            for other in &lines[nth + 1..] {
                cuts.extend(crossings(one, other).iter().map(|point| point.dot(up)));
            }
        }
        cuts.extend(first.bends.iter());
        for (way, band) in level {
            cuts.extend(band.bends.iter().map(|bend| bend * way.dot(up)));
        }
        cuts.retain(|cut| libm::fabs(*cut) <= reach);
        cuts
    }
}

/// The sine of a turn below which two directions are one.
const PARALLEL: f64 = 1e-9;
/// Into how many parts a piece is cut at most.
const MOST_PARTS: f64 = 16.0;

/// The sum of an integral over the pieces between cuts, each halved until the
/// light changes by a factor of ten at most along it.
fn in_pieces(
    mut cuts: Vec<f64>,
    light: &dyn Fn(f64) -> f64,
    over: impl Fn(f64, f64) -> f64,
) -> f64 {
    sort_numbers(&mut cuts);
    let mut sum = 0.0;
    for ends in cuts.windows(2) {
        let (from, to) = (ends[0], ends[1]);
        let length = to - from;
        if length <= 0.0 {
            continue;
        }
        // Just inside, as a step may lie on either end.
        let inside = |share: f64| libm::log(light(from + share * length).max(f64::MIN_POSITIVE));
        let change = libm::fabs(inside(0.999) - inside(0.001)) / LN_10;
        let parts = libm::ceil(change).clamp(1.0, MOST_PARTS);
        let mut at = 0.0;
        while at < parts {
            let end = |at: f64| from + length * at / parts;
            sum += over(end(at), end(at + 1.0));
            at += 1.0;
        }
    }
    sum
}

/// Chords across a direction.
struct Chords<'a> {
    up: Vector,
    pupil: Edge,
    edges: &'a [Edge],
}

impl Chords<'_> {
    /// Where the chord at a height begins and ends, to the left of `up`.
    fn at(&self, y: f64) -> Option<(f64, f64)> {
        let along = self.up.turned_left();
        let start = self.up * y;
        let edges = if self.edges.is_empty() {
            core::slice::from_ref(&self.pupil)
        } else {
            self.edges
        };
        let mut chord = (f64::NEG_INFINITY, f64::INFINITY);
        for edge in edges {
            let (from, to) = match *edge {
                Edge::Side(Side::Straight { outward, room }) => {
                    let (slope, rest) = (outward.dot(along), room - outward.dot(start));
                    if libm::fabs(slope) < PARALLEL {
                        if rest < 0.0 {
                            return None;
                        }
                        continue;
                    }
                    let end = rest / slope;
                    if slope > 0.0 {
                        (f64::NEG_INFINITY, end)
                    } else {
                        (end, f64::INFINITY)
                    }
                }
                Edge::Side(Side::Round { middle, radius }) => {
                    within(start - middle, along, [radius, radius])?
                }
                Edge::Pupil(Ellipse {
                    half_width,
                    half_height,
                }) => within(start, along, [half_width, half_height])?,
            };
            chord = (chord.0.max(from), chord.1.min(to));
        }
        (chord.1 > chord.0).then_some(chord)
    }
}

/// Where a line from `start` enters and leaves an ellipse about the origin.
fn within(start: Vector, along: Vector, halves: [f64; 2]) -> Option<(f64, f64)> {
    let (px, py) = (start.x / halves[0], start.y / halves[1]);
    let (dx, dy) = (along.x / halves[0], along.y / halves[1]);
    let (a, b, c) = (
        dx * dx + dy * dy,
        px * dx + py * dy,
        px * px + py * py - 1.0,
    );
    let inside = b * b - a * c;
    if inside <= 0.0 {
        return None;
    }
    let root = crate::square_root::square_root(inside);
    Some(((-b - root) / a, (-b + root) / a))
}

/// What a side takes from the pupil.
enum Cut {
    Nothing,
    Part,
    Everything,
}

fn cut(pupil: &Ellipse, side: Side) -> Cut {
    // How far the pupil's edge is inside, and how far outside, at its best.
    let (inside, outside) = match side {
        Side::Straight { outward, room } => {
            let reach = pupil.reach(outward);
            (room - reach, -room - reach)
        }
        Side::Round { middle, radius } => {
            let (away, most) = (middle.length(), pupil.half_width.max(pupil.half_height));
            (radius - away - most, away - most - radius)
        }
    };
    if inside >= 0.0 {
        Cut::Nothing
    } else if outside >= 0.0 {
        Cut::Everything
    } else {
        Cut::Part
    }
}

/// The area inside every edge.
///
/// Each edge is cut where others cross it. A piece whose middle is inside all
/// other edges bounds the area; of edges that coincide the first one counts.
fn area_within(edges: &[Edge]) -> f64 {
    let crossings = |at: usize| {
        (edges.iter().enumerate())
            .filter(move |(other, _)| *other != at)
            .flat_map(move |(other, edge)| {
                // In a fixed order, so that both edges see the same points.
                if at < other {
                    crossings(&edges[at], edge)
                } else {
                    crossings(edge, &edges[at])
                }
            })
    };
    let bounds = |at: usize, point: Vector| {
        (edges.iter().enumerate()).all(|(other, edge)| {
            let beyond = edge.beyond(point);
            let same = || at < other && edge.outward(point).dot(edges[at].outward(point)) > 0.0;
            other == at || beyond < -SAME || (beyond <= SAME && same())
        })
    };
    (edges.iter().enumerate())
        .map(|(at, edge)| {
            let mut cuts: Vec<f64> = crossings(at).map(|point| edge.parameter(point)).collect();
            sort_numbers(&mut cuts);
            if !matches!(edge, Edge::Side(Side::Straight { .. })) {
                // A closed edge comes round to where it began.
                let first = cuts.first().copied().unwrap_or(0.0);
                if cuts.is_empty() {
                    cuts.push(first);
                }
                cuts.push(first + TAU);
            }
            (cuts.windows(2))
                .filter(|piece| bounds(at, edge.point(f64::midpoint(piece[0], piece[1]))))
                .map(|piece| edge.swept(piece[0], piece[1]))
                .sum::<f64>()
        })
        .sum()
}
