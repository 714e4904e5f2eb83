//! What openings in front of the lens take from each pixel.

use super::log2::log2;
use super::pixels::{add_each, count, single, whole};
use crate::physics::opening::{Opening, OpeningRecord, Shape};
use crate::physics::passed::passed;
use crate::physics::pupil::Pupil;
use crate::setup::{Tangents, View};
use crate::square_root::{length, square_root};
use alloc::vec::Vec;

/// Pixels of one row: `seen` have their chief ray, `whole` inside it have all
/// of their light.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) struct RowShade {
    pub(super) seen: (usize, usize),
    pub(super) whole: (usize, usize),
}

impl RowShade {
    /// The runs that lose some light by openings.
    pub(super) const fn shaded(self) -> [(usize, usize); 2] {
        [(self.seen.0, self.whole.0), (self.whole.1, self.seen.1)]
    }
}

/// Shading kept from frame to frame: it changes with lens, stop and openings,
/// not with line, horizon or polarizer.
#[derive(Debug, Clone, Default)]
pub(super) struct Shade {
    made_for: Option<(View, Pupil, Vec<Opening>, usize, usize)>,
    rows: Vec<RowShade>,
    stops: Vec<f32>,
    nodes: [Vec<f32>; 2],
}

/// The middle of each pixel of a map.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Grid {
    pub(super) view: View,
    pub(super) columns: usize,
    pub(super) rows: usize,
}

impl Grid {
    /// The field of a point in pixels from the middle of the top left pixel.
    #[inline]
    pub(super) fn field(&self, column: f64, row: f64) -> Tangents {
        let share = |at: f64, of: usize| (at + 0.5) / count(of);
        (self.view).tangents_of(share(column, self.columns), 1.0 - share(row, self.rows))
    }

    /// The run of pixels whose tangents lie within two.
    #[inline]
    pub(super) fn between(&self, (from, to): (f64, f64)) -> (usize, usize) {
        let first = self.field(0.0, 0.0).x;
        let step = self.field(1.0, 0.0).x - first;
        let place = |tangent: f64| whole(libm::ceil((tangent - first) / step), self.columns);
        let start = place(from);
        (start, place(to).max(start))
    }
}

/// Nodes lie this much of the pupil's shadow apart, so that a straight line
/// between them misses the passed share by less than 0.004.
const NODES_A_SHADOW: f64 = 12.0;
/// The widest spacing of nodes, in pixels.
const WIDEST: usize = 32;
/// The passed share is kept from nothing: a pixel whose chief ray passes keeps
/// some light.
const LEAST: f32 = 1e-6;

impl Shade {
    /// Makes it for this set-up unless it is already.
    #[inline]
    pub(super) fn prepare(&mut self, grid: Grid, pupil: &Pupil, openings: &[Opening]) {
        let made = (self.made_for.as_ref()).is_some_and(|(view, made, list, columns, rows)| {
            (*view, *columns, *rows) == (grid.view, grid.columns, grid.rows)
                && made == pupil
                && list == openings
        });
        if made {
            return;
        }
        self.rows.clear();
        self.rows
            .extend((0..grid.rows).map(|row| row_shade(grid, pupil, openings, row)));
        if self.rows.iter().any(|row| row.seen != row.whole) {
            self.shade(grid, pupil, openings);
        }
        self.made_for = Some((
            grid.view,
            *pupil,
            openings.to_vec(),
            grid.columns,
            grid.rows,
        ));
    }

    #[inline]
    pub(super) fn row(&self, row: usize) -> RowShade {
        self.rows.get(row).copied().unwrap_or_default()
    }

    /// Adds what a row loses by shading.
    #[inline]
    pub(super) fn add(&self, pixels: &mut [f32], row: usize) {
        let columns = pixels.len();
        let Some(stops) = self.stops.get(row * columns..(row + 1) * columns) else {
            return;
        };
        for (from, to) in self.row(row).shaded() {
            if let (Some(pixels), Some(stops)) = (pixels.get_mut(from..to), stops.get(from..to)) {
                add_each(pixels, stops);
            }
        }
    }

    /// Shares at nodes, straight lines between them, and the logarithm.
    #[inline]
    fn shade(&mut self, grid: Grid, pupil: &Pupil, openings: &[Opening]) {
        let spacing = spacing(grid, pupil, openings);
        let across = grid.columns / spacing + 2;
        self.stops.clear();
        self.stops.resize(grid.columns * grid.rows, 0.0);
        let share = |node: usize, row: usize| {
            let field = grid.field(count(node * spacing), count(row * spacing));
            single(passed(pupil, openings, field))
        };
        for band in 0..grid.rows.div_ceil(spacing) {
            for nodes in &mut self.nodes {
                nodes.clear();
                nodes.resize(across, f32::NAN);
            }
            for row in band * spacing..((band + 1) * spacing).min(grid.rows) {
                let down = fraction(row - band * spacing, spacing);
                let RowShade { seen, whole } = self.rows[row];
                for column in (seen.0..whole.0).chain(whole.1..seen.1) {
                    let node = column / spacing;
                    let along = fraction(column - node * spacing, spacing);
                    let mut corner = |side: usize, node: usize| {
                        let known = &mut self.nodes[side][node];
                        if known.is_nan() {
                            *known = share(node, band + side);
                        }
                        *known
                    };
                    let mut edge = |side: usize| {
                        let (left, right) = (corner(side, node), corner(side, node + 1));
                        left + (right - left) * along
                    };
                    let (top, bottom) = (edge(0), edge(1));
                    let share = (top + (bottom - top) * down).clamp(LEAST, 1.0);
                    self.stops[row * grid.columns + column] = -log2(share);
                }
            }
        }
    }
}

/// Pixels between nodes: a share of the smallest shadow that the pupil casts
/// in the image by way of an opening.
pub(super) fn spacing(grid: Grid, pupil: &Pupil, openings: &[Opening]) -> usize {
    let (origin, next) = (grid.field(0.0, 0.0), grid.field(1.0, 1.0));
    let step = [next.x - origin.x, origin.y - next.y];
    let position = pupil.position();
    let behind = [position.horizontal, position.vertical].map(|part| part.millimetres());
    let halves = [pupil.half_width(), pupil.half_height()];
    let narrowest = (openings.iter())
        .flat_map(|opening| {
            let record = opening.record();
            let front = record.distance.millimetres() + depth(record);
            [0, 1].map(|axis| 2.0 * halves[axis] / ((front + behind[axis]).max(1.0) * step[axis]))
        })
        .fold(f64::INFINITY, f64::min);
    let spacing = libm::floor(narrowest / NODES_A_SHADOW);
    whole(spacing, WIDEST).max(1)
}

fn row_shade(grid: Grid, pupil: &Pupil, openings: &[Opening], row: usize) -> RowShade {
    let y = grid.field(0.0, count(row)).y;
    let all = (f64::NEG_INFINITY, f64::INFINITY);
    let within = |room: Room| {
        let both = (openings.iter())
            .flat_map(|opening| {
                faces(opening)
                    .into_iter()
                    .flatten()
                    .map(move |z| (opening, z))
            })
            .map(|(opening, ahead)| passing(opening, pupil, y, ahead, room))
            .fold(all, |a, b| (a.0.max(b.0), a.1.min(b.1)));
        // An empty run has its end where it starts.
        if both.0 <= both.1 { both } else { (0.0, 0.0) }
    };
    let seen = grid.between(within(Room::ChiefRay));
    let whole = grid.between(within(Room::WholePupil));
    // No chief ray, no whole pupil; an empty run must still lie inside.
    let inside = |at: usize| at.clamp(seen.0, seen.1);
    RowShade {
        seen,
        whole: if whole.0 < whole.1 {
            (inside(whole.0), inside(whole.1))
        } else {
            (seen.1, seen.1)
        },
    }
}

/// What has to pass.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Room {
    ChiefRay,
    WholePupil,
}

fn faces(opening: &Opening) -> [Option<f64>; 2] {
    let record = opening.record();
    let rear = record.distance.millimetres();
    [Some(rear), record.depth.map(|_| rear + depth(record))]
}

fn depth(record: &OpeningRecord) -> f64 {
    record.depth.map_or(0.0, |depth| depth.millimetres())
}

/// The tangents to the right, in one row, at which an opening's face lets the
/// chief ray or the whole pupil pass. Openings are convex: it is one run.
///
/// For an ellipse in a circle the whole pupil is taken as its larger radius,
/// which calls some whole pixels shaded; their share is computed and comes out
/// as 1.
fn passing(opening: &Opening, pupil: &Pupil, y: f64, ahead: f64, room: Room) -> (f64, f64) {
    let record = opening.record();
    let position = pupil.position();
    let z = [position.horizontal, position.vertical].map(|part| part.millimetres() + ahead);
    let (half_width, half_height) = (pupil.half_width(), pupil.half_height());
    let reach = |x: f64, y: f64| match room {
        Room::ChiefRay => 0.0,
        Room::WholePupil => length(half_width * x, half_height * y),
    };
    let offset = [record.offset_x.millimetres(), record.offset_y.millimetres()];
    let up = z[1] * y - offset[1];
    let run = match record.shape {
        Shape::Circle { diameter } => {
            let largest = match room {
                Room::ChiefRay => 0.0,
                Room::WholePupil => half_width.max(half_height),
            };
            let radius = diameter.millimetres() / 2.0 - largest;
            let chord = radius * radius - up * up;
            if radius < 0.0 || chord < 0.0 {
                return NOTHING;
            }
            (-square_root(chord), square_root(chord))
        }
        Shape::Rectangle { width, height } => {
            let (sin, cos) = libm::sincos(record.rotation.degrees().to_radians());
            let strip = |normal: [f64; 2], size: f64| {
                let most = size / 2.0 - reach(normal[0], normal[1]);
                strip(normal, up, most)
            };
            let (a, b) = (
                strip([cos, sin], width.millimetres()),
                strip([-sin, cos], height.millimetres()),
            );
            (a.0.max(b.0), a.1.min(b.1))
        }
    };
    if run.0 > run.1 {
        return NOTHING;
    }
    ((run.0 + offset[0]) / z[0], (run.1 + offset[0]) / z[0])
}

const NOTHING: (f64, f64) = (f64::INFINITY, f64::NEG_INFINITY);

/// The x at which |x·nx + up·ny| ≤ most.
fn strip(normal: [f64; 2], up: f64, most: f64) -> (f64, f64) {
    let rest = up * normal[1];
    if most < 0.0 {
        return NOTHING;
    }
    // A hair of turn sends the crossing out of any frame.
    if libm::fabs(normal[0]) < 1e-12 {
        return if libm::fabs(rest) <= most {
            (f64::NEG_INFINITY, f64::INFINITY)
        } else {
            NOTHING
        };
    }
    let ends = [(-most - rest) / normal[0], (most - rest) / normal[0]];
    (ends[0].min(ends[1]), ends[0].max(ends[1]))
}

#[inline]
fn fraction(part: usize, of: usize) -> f32 {
    single(count(part) / count(of))
}
