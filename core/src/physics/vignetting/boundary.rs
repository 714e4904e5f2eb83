//! The boundaries of what light can pass, and where they cross.

use super::bundle::Ellipse;
use super::opening::Side;
use super::plane::Vector;
use crate::physics::root::sign_change;
use crate::sorted::sort_numbers;
use crate::square_root::length;
use alloc::vec::Vec;
use core::f64::consts::{FRAC_PI_2, PI, TAU};

/// One boundary: the inside is to its left.
#[derive(Debug, Clone, Copy)]
pub(super) enum Edge {
    /// Parameter: eccentric angle.
    Pupil(Ellipse),
    /// Parameter: angle about the middle of a round side, or distance along a
    /// straight one.
    Side(Side),
}

/// Edges this near to each other are one, in millimetres.
pub(super) const SAME: f64 = 1e-10;

impl Edge {
    pub(super) fn point(&self, at: f64) -> Vector {
        match *self {
            Self::Pupil(pupil) => pupil.edge(at),
            Self::Side(Side::Round { middle, radius }) => middle + Vector::at(at) * radius,
            Self::Side(Side::Straight { outward, room }) => {
                outward * room + outward.turned_left() * at
            }
        }
    }

    pub(super) fn parameter(&self, point: Vector) -> f64 {
        match *self {
            Self::Pupil(pupil) => Vector {
                x: point.x / pupil.half_width,
                y: point.y / pupil.half_height,
            }
            .angle(),
            Self::Side(Side::Round { middle, .. }) => (point - middle).angle(),
            Self::Side(Side::Straight { outward, .. }) => outward.turned_left().dot(point),
        }
    }

    /// How far outside a point is, in millimetres near the edge.
    pub(super) fn beyond(&self, point: Vector) -> f64 {
        match *self {
            Self::Pupil(pupil) => {
                let (a, b) = (pupil.half_width, pupil.half_height);
                (length(point.x / a, point.y / b) - 1.0) * a.min(b)
            }
            Self::Side(Side::Round { middle, radius }) => (point - middle).length() - radius,
            Self::Side(Side::Straight { outward, room }) => outward.dot(point) - room,
        }
    }

    pub(super) fn outward(&self, point: Vector) -> Vector {
        match *self {
            Self::Pupil(pupil) => Vector {
                x: point.x / (pupil.half_width * pupil.half_width),
                y: point.y / (pupil.half_height * pupil.half_height),
            },
            Self::Side(Side::Round { middle, .. }) => point - middle,
            Self::Side(Side::Straight { outward, .. }) => outward,
        }
    }

    /// ½∫(x dy − y dx) over the piece between two parameters: the triangle with
    /// the origin under its chord, and what bulges over the chord.
    pub(super) fn swept(&self, from: f64, to: f64) -> f64 {
        let chord = self.point(from).cross(self.point(to)) / 2.0;
        let bulge = |scale: f64| scale * ((to - from) - libm::sin(to - from)) / 2.0;
        match *self {
            Self::Pupil(pupil) => chord + bulge(pupil.half_width * pupil.half_height),
            Self::Side(Side::Round { radius, .. }) => chord + bulge(radius * radius),
            Self::Side(Side::Straight { .. }) => chord,
        }
    }
}

/// The points where two edges cross.
pub(super) fn crossings(one: &Edge, other: &Edge) -> Vec<Vector> {
    use Side::{Round, Straight};
    match (*one, *other) {
        (Edge::Side(Straight { outward, room }), Edge::Side(side)) => match side {
            Straight {
                outward: n,
                room: h,
            } => {
                let along = outward.turned_left();
                let slope = n.dot(along);
                let parallel = libm::fabs(slope) < 1e-12;
                let at = (h - n.dot(outward) * room) / slope;
                (!parallel).then(|| one.point(at)).into_iter().collect()
            }
            Round { middle, radius } => {
                let towards = outward.angle();
                angles_where(radius, towards, room - outward.dot(middle), other)
            }
        },
        (Edge::Side(Round { .. }), Edge::Side(Straight { .. })) => crossings(other, one),
        (
            Edge::Side(Round { middle, radius }),
            Edge::Side(Round {
                middle: m,
                radius: r,
            }),
        ) => circles_cross(middle, radius, m, r, one),
        (Edge::Side(side), Edge::Pupil(pupil)) => match side {
            Straight { outward, room } => {
                let stretched = Vector {
                    x: pupil.half_width * outward.x,
                    y: pupil.half_height * outward.y,
                };
                angles_where(stretched.length(), stretched.angle(), room, other)
            }
            Round { middle, radius } if pupil.half_width == pupil.half_height => {
                circles_cross(middle, radius, Vector::ZERO, pupil.half_width, one)
            }
            Round { middle, radius } => pupil_crosses(&pupil, middle, radius),
        },
        (Edge::Pupil(_), Edge::Side(_)) => crossings(other, one),
        // There is one pupil.
        (Edge::Pupil(_), Edge::Pupil(_)) => Vec::new(),
    }
}

/// The points of `edge` whose parameter t solves size·cos(t − towards) = level.
fn angles_where(size: f64, towards: f64, level: f64, edge: &Edge) -> Vec<Vector> {
    if libm::fabs(level) >= size {
        return Vec::new();
    }
    let apart = libm::acos(level / size);
    [towards - apart, towards + apart]
        .map(|t| edge.point(t))
        .to_vec()
}

/// Where the circle `one` about `middle` crosses the circle of radius `r` about
/// `m`.
fn circles_cross(middle: Vector, radius: f64, m: Vector, r: f64, one: &Edge) -> Vec<Vector> {
    let between = m - middle;
    let distance = between.length();
    if distance == 0.0 {
        return Vec::new();
    }
    // |middle + R·u − m|² = r² for the unit vector u.
    let level = (radius * radius - r * r + distance * distance) / (2.0 * distance);
    angles_where(radius, between.angle(), level, one)
}

/// Where the ellipse of the pupil crosses a circle.
///
/// f(t) = |edge(t) − middle|² − R² has the slope
/// g(t)/2 = (b² − a²)·sin t·cos t + a·x·sin t − b·y·cos t. In each quadrant
/// g/(sin t·cos t) rises or falls, or turns once where tan³ t = −b·y/(a·x). So
/// between those places and the quarter turns g changes sign at most once, and
/// between the zeros of g so does f: every crossing is found.
fn pupil_crosses(pupil: &Ellipse, middle: Vector, radius: f64) -> Vec<Vector> {
    let (a, b) = (pupil.half_width, pupil.half_height);
    let f = |t: f64| {
        let gap = pupil.edge(t) - middle;
        gap.dot(gap) - radius * radius
    };
    let slope = |t: f64| {
        let (sin, cos) = libm::sincos(t);
        (b * b - a * a) * sin * cos + a * middle.x * sin - b * middle.y * cos
    };
    let turn = libm::atan2(libm::cbrt(-b * middle.y), libm::cbrt(a * middle.x));
    let mut stops = [
        0.0,
        FRAC_PI_2,
        PI,
        PI + FRAC_PI_2,
        TAU,
        positive(turn),
        positive(turn + PI),
    ]
    .to_vec();
    sort_numbers(&mut stops);
    // A slope of zero at a quarter turn must not hide one beside it.
    let inside = 1e-9;
    let turns: Vec<f64> = (stops.windows(2))
        .map(|ends| (ends[0] + inside, ends[1] - inside))
        .filter(|&(from, to)| from < to && slope(from) * slope(to) < 0.0)
        .map(|(from, to)| sign_change(slope, from, to))
        .collect();
    stops.extend(turns);
    sort_numbers(&mut stops);
    (stops.windows(2))
        .filter(|ends| (f(ends[0]) < 0.0) != (f(ends[1]) < 0.0))
        .map(|ends| pupil.edge(sign_change(f, ends[0], ends[1])))
        .collect()
}

fn positive(angle: f64) -> f64 {
    if angle < 0.0 { angle + TAU } else { angle }
}

#[cfg(test)]
mod tests {
    use super::{Edge, Ellipse, Side, TAU, Vector, crossings};
    use alloc::vec::Vec;

    /// The pupil of a 40 mm lens at f/4: 10 mm high, 10/squeeze wide.
    fn pupil(squeeze: f64) -> Ellipse {
        Ellipse {
            half_width: 5.0 / squeeze,
            half_height: 5.0,
        }
    }

    const fn round(x: f64, y: f64, radius: f64) -> Edge {
        let middle = Vector { x, y };
        Edge::Side(Side::Round { middle, radius })
    }

    fn straight(degrees: f64, room: f64) -> Edge {
        let outward = Vector::at(degrees.to_radians());
        Edge::Side(Side::Straight { outward, room })
    }

    fn near(found: Vector, x: f64, y: f64) {
        let off = (found - Vector { x, y }).length();
        assert!(off < 1e-12, "{found:?}, not {x} {y}");
    }

    #[test]
    fn straight_sides_cross_once_or_never() {
        // x = 3 and y = x + 1, whose outward side is up and left.
        let (one, other) = (
            straight(0.0, 3.0),
            straight(135.0, core::f64::consts::FRAC_1_SQRT_2),
        );
        near(crossings(&one, &other)[0], 3.0, 4.0);
        near(crossings(&other, &one)[0], 3.0, 4.0);
        assert!(crossings(&one, &straight(0.0, 5.0)).is_empty());
        assert!(crossings(&one, &straight(180.0, 5.0)).is_empty());
    }

    #[test]
    fn outward_is_square_to_the_edge_and_away_from_the_middle() {
        let edges = [Edge::Pupil(pupil(2.0)), round(4.0, -3.0, 6.0)];
        for (edge, middle) in edges.into_iter().zip([[0.0, 0.0], [4.0, -3.0]]) {
            for step in 0..24 {
                let at = f64::from(step) * TAU / 24.0;
                let point = edge.point(at);
                let along = edge.point(at + 1e-6) - edge.point(at - 1e-6);
                let outward = edge.outward(point);
                assert!((outward.dot(along) / outward.length()).abs() < 1e-12);
                let [x, y] = middle;
                assert!(outward.dot(point - Vector { x, y }) > 0.0);
            }
        }
    }

    #[test]
    fn beyond_is_a_distance_where_the_pupil_is_narrowest() {
        // 2.5 by 5 mm: half as far again as its width is 1.25 mm outside.
        let edge = Edge::Pupil(pupil(2.0));
        assert!((edge.beyond(Vector { x: 3.75, y: 0.0 }) - 1.25).abs() < 1e-12);
        assert!((edge.beyond(Vector { x: 0.0, y: -5.0 })).abs() < 1e-12);
        assert!((edge.beyond(Vector { x: 0.0, y: 0.0 }) + 2.5).abs() < 1e-12);
    }

    /// Changes of sign of the circle's equation along the ellipse, counted by
    /// going round it; `None` where it only just touches, which no count decides.
    fn counted(pupil: &Ellipse, middle: Vector, radius: f64) -> Option<usize> {
        const STEPS: u32 = 3600;
        let f: Vec<f64> = (0..STEPS)
            .map(|step| {
                let gap = pupil.edge(f64::from(step) * TAU / f64::from(STEPS)) - middle;
                gap.length() - radius
            })
            .collect();
        let around = |at: usize| [f[at], f[(at + 1) % f.len()], f[(at + 2) % f.len()]];
        let touches = (0..f.len()).map(around).any(|[before, here, after]| {
            let turns = (here - before) * (after - here) <= 0.0;
            turns && here.abs() < 1e-5
        });
        let changes = (0..f.len()).filter(|&at| (f[at] < 0.0) != (f[(at + 1) % f.len()] < 0.0));
        (!touches).then(|| changes.count())
    }

    #[test]
    fn a_circle_crosses_a_stretched_pupil_where_going_round_finds_it() {
        // Lehmer's dice; circles of every size about every place, most of them
        // just large enough to reach the pupil's edge somewhere.
        let mut state = 2026_u64;
        let mut dice = |from: f64, to: f64| {
            state = state * 48_271 % 2_147_483_647;
            #[expect(clippy::cast_precision_loss, reason = "31 bits")]
            let share = state as f64 / 2_147_483_647.0;
            from + (to - from) * share
        };
        let mut seen = [0; 5];
        for _ in 0..500 {
            let pupil = pupil(dice(0.5, 2.5));
            let middle = Vector {
                x: dice(-6.0, 6.0),
                y: dice(-6.0, 6.0),
            };
            let to = pupil.edge(dice(0.0, TAU)) - middle;
            let radius = to.length();
            let Some(wanted) = counted(&pupil, middle, radius) else {
                continue;
            };
            let found = crossings(&Edge::Pupil(pupil), &round(middle.x, middle.y, radius));
            assert_eq!(found.len(), wanted, "{pupil:?} {middle:?} {radius}");
            seen[wanted] += 1;
            for point in found {
                assert!(((point - middle).length() - radius).abs() < 1e-9);
                assert!(Edge::Pupil(pupil).beyond(point).abs() < 1e-9);
            }
        }
        assert!(seen[2] > 100 && seen[4] > 15, "{seen:?}");
    }

    #[test]
    fn a_circle_in_the_middle_of_the_pupil_crosses_it_where_algebra_says() {
        // x²/a² + y²/b² = 1 and x² + y² = R²: y² = b²·(R² − a²)/(b² − a²).
        let (a, b, r) = (2.5_f64, 5.0_f64, 4.0_f64);
        let y = libm::sqrt(b * b * (r * r - a * a) / (b * b - a * a));
        let x = libm::sqrt(r * r - y * y);
        let mut found = crossings(&Edge::Pupil(pupil(2.0)), &round(0.0, 0.0, r));
        assert_eq!(found.len(), 4);
        found.sort_by(|p, q| p.angle().total_cmp(&q.angle()));
        for (point, (x, y)) in found.into_iter().zip([(-x, -y), (x, -y), (x, y), (-x, y)]) {
            near(point, x, y);
        }
    }
}
