//! Everything a lens may be, and what light it then sends through an opening.
//!
//! The three unknowns (pupil's place, distortion, growth) are cut into cells. A
//! look through the lens strikes out the cells that it contradicts as a whole;
//! what is left is what a sure answer must hold for.

use super::bundle::Bundle;
use super::opening::{Opening, Shape};
use super::plane::Vector;
use super::pupil::Pupil;
use crate::setup::Tangents;
use alloc::vec::Vec;

/// Into how many parts each unknown is cut.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Steps {
    /// Of the pupil's place.
    pub place: usize,
    /// Of the distortion.
    pub distortion: usize,
    /// Of the growth.
    pub growth: usize,
}

impl Steps {
    /// The region whole.
    pub const ONE: Self = Self {
        place: 1,
        distortion: 1,
        growth: 1,
    };
    /// Fine enough to be narrowed by looks.
    pub const FINE: Self = Self {
        place: 8,
        distortion: 8,
        growth: 2,
    };

    const fn cells(self) -> usize {
        self.place * self.distortion * self.growth
    }

    const fn vertices(self) -> usize {
        (self.place + 1) * (self.distortion + 1) * (self.growth + 1)
    }

    /// The vertex at these steps.
    const fn vertex(self, [u, v, w]: [usize; 3]) -> usize {
        (u * (self.distortion + 1) + v) * (self.growth + 1) + w
    }

    /// The steps of a cell.
    const fn steps_of(self, cell: usize) -> [usize; 3] {
        let (rest, w) = (cell / self.growth, cell % self.growth);
        [rest / self.distortion, rest % self.distortion, w]
    }

    const fn cell(self, [u, v, w]: [usize; 3]) -> usize {
        (u * self.distortion + v) * self.growth + w
    }

    fn vertices_of(self, cell: usize) -> [usize; 8] {
        let [u, v, w] = self.steps_of(cell);
        core::array::from_fn(|at| self.vertex([u + at / 4, v + at / 2 % 2, w + at % 2]))
    }
}

/// What a lens may be: bundles towards the corners of the picture at each
/// vertex of a grid, and the cells between them that are possible.
#[derive(Debug, Clone, PartialEq)]
pub struct Region {
    steps: Steps,
    /// For each corner, for each vertex.
    bundles: Vec<Vec<Bundle>>,
    possible: Vec<bool>,
}

/// The least and the most room of each cell.
#[derive(Debug, Clone, PartialEq)]
struct Rooms {
    least: Vec<f64>,
    most: Vec<f64>,
}

impl Region {
    /// The region whose pupil at shares 0 to 1 of the three unknowns is told.
    pub fn new(
        corners: [Tangents; 4],
        steps: Steps,
        pupil: impl Fn(f64, f64, f64) -> Pupil,
    ) -> Self {
        #[expect(clippy::cast_precision_loss, reason = "a handful of steps")]
        let share = |at: usize, of: usize| at as f64 / of as f64;
        let mut pupils = Vec::with_capacity(steps.vertices());
        for u in 0..=steps.place {
            for v in 0..=steps.distortion {
                for w in 0..=steps.growth {
                    pupils.push(pupil(
                        share(u, steps.place),
                        share(v, steps.distortion),
                        share(w, steps.growth),
                    ));
                }
            }
        }
        let towards = |corner| {
            pupils
                .iter()
                .map(|pupil| Bundle::new(pupil, corner))
                .collect()
        };
        Self {
            steps,
            bundles: corners.map(towards).to_vec(),
            possible: alloc::vec![true; steps.cells()],
        }
    }

    /// The least room an opening leaves anywhere in the region, in millimetres.
    ///
    /// A side's room is concave in each unknown by itself: the chief ray goes
    /// with each of them in a straight line, and a pupil's reach is convex. So
    /// each cell's least is at one of its eight corners. Where the front limits
    /// the light the side that it limits only loses room outward in all three,
    /// which puts it at a corner as well.
    #[must_use]
    pub fn least(&self, opening: &Opening) -> f64 {
        let rooms = self.vertex_rooms(opening, false);
        (self.possible_cells())
            .flat_map(|cell| self.steps.vertices_of(cell))
            .map(|vertex| rooms[vertex])
            .fold(f64::INFINITY, f64::min)
    }

    /// As much room as an opening can leave at most, in millimetres.
    ///
    /// Not the largest room at any corner but a bound, the lesser of two: each
    /// side has the chief ray where it has most room and the smallest pupil; or
    /// the largest at any corner of a cell and what a pupil may reach less between
    /// them (`dip`), as chief rays go in straight lines. Or more room is left by
    /// what the front lets in: that goes by the tangent alone, wherever the pupil
    /// lies.
    #[must_use]
    pub fn most(&self, opening: &Opening) -> f64 {
        let most = self.most_rooms(opening);
        self.possible_cells()
            .map(|cell| most[cell])
            .fold(f64::NEG_INFINITY, f64::max)
    }

    /// The least room an opening leaves light that is known to stay within
    /// another one, in millimetres.
    ///
    /// All of a field point's light goes by one tangent, so what is inside an
    /// opening there is inside the same shape, moved, anywhere else.
    #[must_use]
    pub fn least_within(&self, within: &Opening, opening: &Opening) -> f64 {
        let possible = self.possible_vertices();
        let mut least = f64::INFINITY;
        for towards in &self.bundles {
            let mut done = Vector::ZERO;
            for (bundle, _) in towards.iter().zip(&possible).filter(|(_, may)| **may) {
                let tangents = bundle.tangents();
                // Growth leaves the tangents as they are.
                if tangents == done {
                    continue;
                }
                done = tangents;
                // Either face of what was seen will do.
                let room = (within.faces())
                    .map(|face| opening.room_for(within, face, tangents))
                    .fold(f64::NEG_INFINITY, f64::max);
                least = least.min(room);
            }
        }
        least
    }

    fn possible_cells(&self) -> impl Iterator<Item = usize> + '_ {
        (0..self.possible.len()).filter(|&cell| self.possible[cell])
    }

    /// The corners of all cells that are possible, as shares of the three
    /// unknowns.
    #[must_use]
    pub fn shares(&self) -> Vec<[f64; 3]> {
        let Steps {
            place,
            distortion,
            growth,
        } = self.steps;
        let possible = self.possible_vertices();
        #[expect(clippy::cast_precision_loss, reason = "a handful of steps")]
        let share = |at: usize, of: usize| at as f64 / of as f64;
        (0..self.steps.vertices())
            .filter(|&vertex| possible[vertex])
            .map(|vertex| {
                let (rest, w) = (vertex / (growth + 1), vertex % (growth + 1));
                let (u, v) = (rest / (distortion + 1), rest % (distortion + 1));
                [share(u, place), share(v, distortion), share(w, growth)]
            })
            .collect()
    }

    fn possible_vertices(&self) -> Vec<bool> {
        let mut possible = alloc::vec![false; self.steps.vertices()];
        for cell in self.possible_cells() {
            for vertex in self.steps.vertices_of(cell) {
                possible[vertex] = true;
            }
        }
        possible
    }

    /// Whether it is cut into cells.
    #[must_use]
    pub const fn is_cut(&self) -> bool {
        self.steps.cells() > 1
    }

    /// Strikes out what a look contradicts. `at_its_stop` is the region at the
    /// stop of the look, cut in the same steps; `same_stop` when that is the
    /// stop this region is for. Changes nothing when nothing would be left.
    ///
    /// At another stop rims inside the lens may take another share of the
    /// light, so that the growth of a cell says nothing there: a look is then
    /// held against the growth that agrees with it best.
    pub fn seen(&mut self, at_its_stop: &Self, same_stop: bool, look: &Look, slack: f64) {
        let steps = self.steps;
        let rooms = at_its_stop.rooms(&look.opening, look.clips);
        let left: Vec<bool> = (0..steps.cells())
            .map(|cell| {
                let [u, v, w] = steps.steps_of(cell);
                let there =
                    |extreme: usize| steps.cell([u, v, if same_stop { w } else { extreme }]);
                let agrees = if look.clear {
                    rooms.most[there(0)] >= -slack
                } else {
                    rooms.least[there(steps.growth - 1)] <= slack
                };
                self.possible[cell] && agrees
            })
            .collect();
        if left.contains(&true) {
            self.possible = left;
        }
    }

    fn rooms(&self, opening: &Opening, chief_rays: bool) -> Rooms {
        let at_vertices = self.vertex_rooms(opening, chief_rays);
        let least = |cell: usize| {
            (self.steps.vertices_of(cell).into_iter())
                .map(|vertex| at_vertices[vertex])
                .fold(f64::INFINITY, f64::min)
        };
        Rooms {
            least: (0..self.steps.cells()).map(least).collect(),
            most: self.most_rooms(opening),
        }
    }

    /// The least room over corners, faces and sides for the lens at each vertex.
    fn vertex_rooms(&self, opening: &Opening, chief_rays: bool) -> Vec<f64> {
        let mut rooms = alloc::vec![f64::INFINITY; self.steps.vertices()];
        for towards in &self.bundles {
            for (room, bundle) in rooms.iter_mut().zip(towards) {
                *room = room.min(opening.room(bundle, chief_rays));
            }
        }
        rooms
    }

    fn most_rooms(&self, opening: &Opening) -> Vec<f64> {
        let mut most = alloc::vec![f64::INFINITY; self.steps.cells()];
        let cells: Vec<[usize; 8]> = (0..most.len())
            .map(|cell| self.steps.vertices_of(cell))
            .collect();
        for towards in &self.bundles {
            let dips: Vec<f64> = cells.iter().map(|cell| dip(towards, cell)).collect();
            for face in opening.faces() {
                for (outward, size) in sides(opening, towards, face) {
                    // At each vertex the room of the chief ray, the reach of the pupil,
                    // and the room of what the front lets in.
                    let at: Vec<[f64; 3]> = (towards.iter())
                        .map(|bundle| {
                            let out = outward.dot(bundle.middle(face) - opening.middle());
                            let (room, own) = (size - out, bundle.own(outward));
                            let front = (bundle.rim).map_or(f64::NEG_INFINITY, |rim| {
                                room - rim.middle.dot(own) - rim.radius
                            });
                            [room, bundle.ellipse.reach(own), front]
                        })
                        .collect();
                    for ((cell, dip), most) in cells.iter().zip(&dips).zip(&mut most) {
                        let left = most_left(cell.map(|vertex| at[vertex]), *dip);
                        if left < *most {
                            *most = left;
                        }
                    }
                }
            }
        }
        most
    }
}

/// The most room in a cell: of its corners' chief rays, reaches of the pupil and
/// rooms by the front.
fn most_left(corners: [[f64; 3]; 8], dip: f64) -> f64 {
    let none = f64::NEG_INFINITY;
    let (mut room, mut reach, mut front, mut both) = (none, f64::INFINITY, none, none);
    for [here, light, let_in] in corners {
        // `min` and `max` are calls here.
        room = if here > room { here } else { room };
        reach = if light < reach { light } else { reach };
        front = if let_in > front { let_in } else { front };
        both = if here - light > both {
            here - light
        } else {
            both
        };
    }
    let (apart, together) = (room - reach, both + dip);
    let left = if together < apart { together } else { apart };
    if front > left { front } else { left }
}

/// By how much less a pupil may reach inside a cell than between its corners, in
/// millimetres.
///
/// Half of it is R·(1 + b·t²), t in a straight line of the distortion and b never
/// rising with it: the second difference is at most 2·b·Δt², so that the dip is
/// at most R·b·Δt²/4, and b at most 4; across the radius it is less. What would
/// be less than nothing is nothing and bends the line by that much.
fn dip(towards: &[Bundle], cell: &[usize; 8]) -> f64 {
    let first = &towards[cell[0]];
    let (mut apart, mut under) = (0.0, 0.0);
    for bundle in cell.iter().map(|&vertex| &towards[vertex]) {
        let off = bundle.tangents() - first.tangents();
        let (square, beneath) = (off.dot(off), bundle.beneath);
        apart = if square > apart { square } else { apart };
        under = if beneath > under { beneath } else { under };
    }
    first.half * apart + under
}

/// Normals of an opening's sides and their distance from its middle. A round
/// one is never wider than the tangent to it in any direction, so the one that
/// the light takes bounds it.
fn sides(opening: &Opening, towards: &[Bundle], face: f64) -> Vec<(Vector, f64)> {
    let across = opening.across();
    let up = across.turned_left();
    match opening.record().shape {
        Shape::Circle { diameter } => {
            let middle = towards.get(towards.len() / 2);
            let out = middle.map_or(Vector::ZERO, |bundle| {
                bundle.middle(face) - opening.middle()
            });
            let outward = if out.length() > 0.0 {
                out * (1.0 / out.length())
            } else {
                Vector::at(0.0)
            };
            alloc::vec![(outward, diameter.millimetres() / 2.0)]
        }
        Shape::Rectangle { width, height } => {
            let (half_width, half_height) = (width.millimetres() / 2.0, height.millimetres() / 2.0);
            alloc::vec![
                (across, half_width),
                (-across, half_width),
                (up, half_height),
                (-up, half_height),
            ]
        }
    }
}

/// What was seen through the lens.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Look {
    /// Of which opening.
    pub opening: Opening,
    /// The whole picture was clear.
    pub clear: bool,
    /// A corner was black.
    pub clips: bool,
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::{Opening, Region, Shape, Steps};
    use crate::physics::known_lens::KnownLens;
    use crate::physics::known_lens::tests::{view, with_pupil};
    use crate::physics::opening::OpeningRecord;
    use crate::physics::spare::spare;
    use crate::quantity::{Angle, Aperture, Length, Span};

    fn lens(front: f64) -> KnownLens {
        with_pupil(front, 20.0, 60.0)
    }

    fn before(shape: Shape) -> Opening {
        Opening::new(OpeningRecord {
            shape,
            distance: Length::new(30.0).unwrap(),
            depth: None,
            offset_x: Length::ZERO,
            offset_y: Length::ZERO,
            rotation: Angle::ZERO,
        })
    }

    /// The most room that is told and the most that any lens tried has.
    fn told_and_found(front: f64, marking: f64, opening: &Opening) -> (f64, f64) {
        let (lens, view) = (lens(front), view());
        let stop = Aperture::from_marking(marking).unwrap();
        let region: Region = lens.region(&view, stop, Steps::ONE);
        let mut found = f64::NEG_INFINITY;
        for at in 0..11 * 11 * 11 {
            let shares = [at / 121, at / 11 % 11, at % 11].map(|step| f64::from(step) / 10.0);
            let pupil = lens.pupil_at(&view, stop, shares);
            let room = |corner| spare(&pupil, opening, corner).millimetres();
            found = view
                .corners()
                .map(room)
                .into_iter()
                .fold(f64::INFINITY, f64::min)
                .max(found);
        }
        (region.most(opening), found)
    }

    #[test]
    fn the_most_room_is_no_less_than_any_lens_has_and_hardly_more() {
        let mm = |mm: f64| Span::new(mm).unwrap();
        let round = before(Shape::Circle { diameter: mm(80.0) });
        let square = before(Shape::Rectangle {
            width: mm(70.0),
            height: mm(60.0),
        });
        for opening in [round, square] {
            for marking in [2.0, 2.8, 5.6] {
                for (front, off) in [(80.0, 0.06), (120.0, 3.0)] {
                    let (told, found) = told_and_found(front, marking, &opening);
                    assert!(told >= found - 1e-9, "{front} {marking}: {told} {found}");
                    assert!(told <= found + off, "{front} {marking}: {told} {found}");
                }
            }
        }
    }
}
