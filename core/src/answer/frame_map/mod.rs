//! Stops lost over the whole frame, fast enough to follow a finger.

mod curve;
mod exact;
mod log2;
mod pixels;
mod shade;
mod sky;

pub use sky::PolarizedSky;

use crate::physics::line::Line;
use crate::physics::opening::{Opening, chief_ray_at};
use crate::physics::pupil::Pupil;
use crate::physics::sheet::Sheet;
use crate::physics::spare::{chief_room, spare};
use crate::physics::through::through;
use crate::quantity::{Direction, Stops};
use crate::setup::{Tangents, View};
use crate::square_root::length;
use alloc::vec::Vec;
use curve::LossCurve;
use exact::ExactRow;
use pixels::{count, single};
use shade::{Grid, Shade};
use sky::SkyPixels;

/// Everything between the scene and the sensor.
#[derive(Debug, Clone, PartialEq)]
pub struct FrameGlass {
    /// Sensor and lens.
    pub view: View,
    /// Its pupil.
    pub pupil: Pupil,
    /// What the even glass takes, a polarizer's own loss included.
    pub uniform: Stops,
    /// Graduated filters.
    pub lines: Vec<Line>,
    /// A polarizer against a clear sky.
    pub sky: Option<PolarizedSky>,
    /// Openings the light has to pass.
    pub openings: Vec<Opening>,
}

impl FrameGlass {
    /// Stops lost in one field direction; `None` where the chief ray is
    /// stopped, which is what clipping means.
    ///
    /// The sum of the even glass, what the polarizer darkens the sky by above
    /// the horizon, and what graduated filters and openings take together, which
    /// is one integral over the pupil. The lens draws as its
    /// [`LensShape`](crate::physics::lens_shape::LensShape) says.
    ///
    /// # Units
    ///
    /// Stops, each of its own law.
    #[must_use]
    pub fn loss_towards(&self, field: Tangents) -> Option<Stops> {
        let glass = self.glass_towards(field)?;
        let sky = (self.sky.as_ref()).map_or(Stops::ZERO, |sky| darkening(sky, field));
        Some(glass + sky)
    }

    /// The same without the sky.
    fn glass_towards(&self, field: Tangents) -> Option<Stops> {
        let seen = |opening: &Opening| chief_room(&self.pupil, opening, field).millimetres() >= 0.0;
        if !self.openings.iter().all(seen) {
            return None;
        }
        let ray = self.pupil.shape().real(field);
        let taken = through(&self.lines, &self.pupil, &self.openings, ray)?;
        Some(self.uniform + taken)
    }

    /// Whether the filter and the openings may be drawn each by itself: a lens
    /// that draws straight, whose rim keeps out of the pupil, and one filter.
    fn parts_easily(&self) -> bool {
        let shape = self.pupil.shape();
        let rim_is_clear = shape.rim.is_none_or(|rim| {
            (self.view.corners().iter()).all(|&corner| rim_room(&self.pupil, rim, corner) >= 0.0)
        });
        shape.is_straight() && rim_is_clear && self.lines.len() <= 1
    }

    /// Whether any opening takes light anywhere.
    fn is_shaded(&self) -> bool {
        (self.view.corners().iter()).any(|&corner| {
            (self.openings.iter())
                .any(|opening| spare(&self.pupil, opening, corner).millimetres() < 0.0)
        })
    }
}

/// How far inside the rim the pupil of a lens that draws straight stays.
fn rim_room(pupil: &Pupil, rim: f64, corner: Tangents) -> f64 {
    let (x, y) = chief_ray_at(pupil, corner, 0.0);
    rim - length(x, y) - pupil.half_width().max(pupil.half_height())
}

fn darkening(sky: &PolarizedSky, field: Tangents) -> Stops {
    let ray = sky.aim.ray(field.x, field.y);
    if ray.cosine_to(Direction::UP) <= 0.0 {
        return Stops::ZERO;
    }
    Sheet::new(sky.aim, sky.passes).darkening(ray, sky.sky.light_from(ray))
}

/// Draws maps and keeps what the next one can use again.
///
/// A frame allocates nothing unless its size, lens, stop or openings changed.
#[derive(Debug, Clone, Default)]
pub struct FrameMap {
    curve: LossCurve,
    shade: Shade,
    across: Vec<f32>,
    stops: Vec<f32>,
}

impl FrameMap {
    /// The map of this glass, row by row from the top, at the middle of each
    /// pixel; NaN where clipped.
    ///
    /// # Units
    ///
    /// Stops, as [`FrameGlass::loss_towards`].
    ///
    /// # Accuracy
    ///
    /// Single precision. Within 5·10⁻⁵ stop of [`FrameGlass::loss_towards`] for
    /// one graduated filter up to density 3, 2·10⁻⁴ for skies up to 0.9
    /// polarized; within 0.03 where openings shade and a pixel keeps a quarter of
    /// its light; within 10⁻³ where filter and opening cut one pupil, behind
    /// several filters and a lens that does not draw straight.
    #[inline]
    pub fn draw(&mut self, glass: &FrameGlass, columns: usize, rows: usize) -> &[f32] {
        let grid = Grid {
            view: glass.view,
            columns,
            rows,
        };
        self.across.clear();
        self.across
            .extend((0..columns).map(|column| single(grid.field(count(column), 0.0).x)));
        let lit = (glass.sky.as_ref()).filter(|polarized| polarized.sky.is_lit());
        let sky = lit.map(SkyPixels::new);
        self.stops.resize(columns * rows, 0.0);
        let easily = glass.parts_easily();
        if easily {
            if let Some(line) = glass.lines.first() {
                self.curve.prepare(line);
            }
            self.shade.prepare(grid, &glass.pupil, &glass.openings);
        }
        let exact = ExactRow {
            glass,
            grid,
            stride: exact::stride(glass, grid),
        };
        let together = !glass.lines.is_empty() && glass.is_shaded();
        for (row, pixels) in self.stops.chunks_exact_mut(columns.max(1)).enumerate() {
            if easily {
                self.curve.add_row(glass, grid, row, pixels);
                self.shade.add(pixels, row);
                if together {
                    for run in self.shade.row(row).shaded() {
                        exact.fill(row, run, pixels);
                    }
                }
            } else {
                exact.fill(row, (0, columns), pixels);
            }
            let y = grid.field(0.0, count(row)).y;
            if let Some(sky) = &sky {
                let (from, to) = grid.between(sky.above_horizon(y));
                sky.darken(&mut pixels[from..to], &self.across[from..to], single(y));
            }
            if easily {
                let seen = self.shade.row(row).seen;
                pixels[..seen.0].fill(f32::NAN);
                pixels[seen.1..].fill(f32::NAN);
            }
        }
        &self.stops
    }

    /// The map last drawn.
    #[must_use]
    pub fn last(&self) -> &[f32] {
        &self.stops
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::{FrameGlass, FrameMap, Line, Opening, PolarizedSky, Stops};
    use crate::physics::lens_shape::LensShape;
    use crate::physics::line::Place;
    use crate::physics::line::tests::{hard, held, lens};
    use crate::physics::opening::{OpeningRecord, Shape};
    use crate::physics::passed::passed;
    use crate::physics::profile::Profile;
    use crate::physics::profile::tests::{d, mm};
    use crate::physics::sky::Sky;
    use crate::quantity::{Angle, Direction, Elevation, Polarization, Span};
    use crate::setup::Aim;
    use alloc::vec;
    use alloc::vec::Vec;

    const COLUMNS: usize = 96;
    const ROWS: usize = 54;

    fn angle(degrees: f64) -> Angle {
        Angle::new(degrees).unwrap()
    }

    fn up(degrees: f64) -> Elevation {
        Elevation::new(degrees).unwrap()
    }

    fn bare(squeeze: f64, focal: f64, number: f64) -> FrameGlass {
        let (view, pupil) = lens([24.9, 14.0], squeeze, focal, number);
        FrameGlass {
            view,
            pupil,
            uniform: Stops::computed(1.7),
            lines: vec![],
            sky: None,
            openings: vec![],
        }
    }

    fn with_line(glass: FrameGlass, profile: Profile, rotation: f64, inverted: bool) -> FrameGlass {
        let held = held(80.0, rotation, inverted);
        let place = Place::InFrame(0.55);
        let line = Line::new(profile, held, glass.view, &glass.pupil, place).unwrap();
        FrameGlass {
            lines: vec![line],
            ..glass
        }
    }

    fn with_sky(glass: FrameGlass, roll: f64, passes: f64) -> FrameGlass {
        FrameGlass {
            sky: Some(PolarizedSky {
                sky: Sky {
                    sun: Direction::from_bearing(angle(130.0), up(28.0)),
                    most: Polarization::new(0.85).unwrap(),
                },
                aim: Aim::new(angle(40.0), up(4.0), angle(roll)),
                passes,
            }),
            ..glass
        }
    }

    fn opening(shape: Shape, distance: f64, offset: f64, turn: f64) -> Opening {
        Opening::new(OpeningRecord {
            shape,
            distance: mm(distance),
            depth: None,
            offset_x: mm(offset),
            offset_y: mm(-offset),
            rotation: angle(turn),
        })
    }

    fn circle(diameter: f64, distance: f64, offset: f64) -> Opening {
        let diameter = Span::new(diameter).unwrap();
        opening(Shape::Circle { diameter }, distance, offset, 0.0)
    }

    fn rectangle(width: f64, height: f64, distance: f64, turn: f64) -> Opening {
        let [width, height] = [width, height].map(|side| Span::new(side).unwrap());
        opening(Shape::Rectangle { width, height }, distance, 0.5, turn)
    }

    /// The largest difference of the map from the answers point by point, and
    /// how many pixels are clipped and shaded.
    fn compared(glass: &FrameGlass) -> (f64, usize, usize) {
        let mut map = FrameMap::default();
        let stops = map.draw(glass, COLUMNS, ROWS);
        assert_eq!(stops.len(), COLUMNS * ROWS);
        let (mut worst, mut clipped, mut shaded) = (0.0, 0, 0);
        for (at, &found) in stops.iter().enumerate() {
            let share = |at: usize, of: usize| (super::count(at) + 0.5) / super::count(of);
            let (across, down) = (share(at % COLUMNS, COLUMNS), share(at / COLUMNS, ROWS));
            let field = glass.view.tangents_of(across, 1.0 - down);
            match glass.loss_towards(field) {
                None => {
                    assert!(found.is_nan(), "pixel {at} is {found}, wanted clipped");
                    clipped += 1;
                }
                Some(wanted) => {
                    let off = (f64::from(found) - wanted.stops()).abs();
                    assert!(!off.is_nan(), "pixel {at} is clipped, wanted {wanted:?}");
                    let left = passed(&glass.pupil, &glass.openings, field);
                    shaded += usize::from(left < 1.0 - 1e-9);
                    worst = f64::max(worst, off);
                }
            }
        }
        (worst, clipped, shaded)
    }

    #[test]
    fn even_glass_is_even() {
        let (worst, clipped, _) = compared(&bare(1.0, 25.0, 4.0));
        assert!(worst < 1e-6 && clipped == 0);
    }

    #[test]
    fn graduated_filters_agree_point_by_point_at_any_turn() {
        for squeeze in [1.0, 2.0] {
            for (rotation, inverted) in [(0.0, false), (0.0, true), (17.0, false), (-90.0, true)] {
                for profile in [
                    hard(1.2),
                    Profile::soft(d(0.9), mm(30.0)).unwrap(),
                    Profile::reverse(d(0.9), d(0.3), mm(25.0)).unwrap(),
                ] {
                    let glass = with_line(bare(squeeze, 32.0, 2.8), profile, rotation, inverted);
                    let (worst, ..) = compared(&glass);
                    assert!(worst < 5e-5, "{rotation}° is {worst} off");
                }
            }
        }
    }

    #[test]
    fn skies_agree_point_by_point_and_end_at_a_tilted_horizon() {
        for roll in [0.0, 12.0, -30.0] {
            for passes in [0.0, 40.0, 90.0, 133.0] {
                let (worst, ..) = compared(&with_sky(bare(1.0, 18.0, 4.0), roll, passes));
                assert!(worst < 2e-4, "roll {roll}, turn {passes}: {worst} off");
            }
        }
    }

    #[test]
    fn openings_agree_point_by_point() {
        let list: [(Vec<Opening>, f64, f64); 6] = [
            (vec![circle(58.0, 40.0, 2.0)], 1.0, 2.8),
            (vec![circle(58.0, 40.0, 2.0)], 1.0, 11.0),
            (vec![circle(84.0, 45.0, 1.0)], 1.6, 2.8),
            (vec![rectangle(58.0, 34.0, 45.0, 7.0)], 1.0, 4.0),
            (
                vec![rectangle(80.0, 36.0, 50.0, 0.0), circle(52.0, 35.0, 0.0)],
                1.0,
                2.0,
            ),
            (vec![rectangle(34.0, 58.0, 45.0, 90.0)], 1.0, 5.6),
        ];
        for (openings, squeeze, number) in list {
            let glass = FrameGlass {
                openings,
                ..bare(squeeze, 18.0, number)
            };
            let (worst, clipped, shaded) = compared(&glass);
            assert!(
                clipped > 0 && shaded > 0,
                "{clipped} clipped, {shaded} shaded"
            );
            assert!(worst < 0.03, "f/{number}: {worst} stops off");
        }
    }

    #[test]
    fn everything_at_once_agrees_and_a_second_frame_is_the_same() {
        let glass = with_sky(
            with_line(bare(1.0, 18.0, 4.0), hard(0.9), 9.0, false),
            9.0,
            75.0,
        );
        let glass = FrameGlass {
            openings: vec![circle(72.0, 40.0, 0.0)],
            ..glass
        };
        assert!(compared(&glass).0 < 0.03);
        let mut map = FrameMap::default();
        let bits = |stops: &[f32]| stops.iter().map(|s| s.to_bits()).collect::<Vec<u32>>();
        let first = bits(map.draw(&glass, COLUMNS, ROWS));
        map.draw(&bare(1.0, 50.0, 2.0), 20, 10);
        let second = bits(map.draw(&glass, COLUMNS, ROWS));
        assert_eq!(first, second);
    }

    #[test]
    fn a_filter_and_an_opening_that_cut_one_pupil_agree_point_by_point() {
        for (number, profile) in [
            (1.4, hard(0.9)),
            (2.8, Profile::soft(d(1.2), mm(12.0)).unwrap()),
        ] {
            for turn in [0.0, 20.0] {
                let glass = FrameGlass {
                    openings: vec![rectangle(48.0, 30.0, 40.0, 0.0)],
                    ..with_line(bare(1.0, 25.0, number), profile.clone(), turn, false)
                };
                let (worst, _, shaded) = compared(&glass);
                assert!(shaded > 200, "{shaded} shaded");
                // Where only the opening cuts the pupil its own nodes stand.
                assert!(worst < 0.03, "f/{number}, {turn}°: {worst} off");
            }
        }
    }

    #[test]
    fn a_lens_that_bends_and_several_filters_agree_point_by_point() {
        let shape = |glass: &FrameGlass, rim| LensShape {
            distortion: [0.12, 0.12],
            growth: 0.8,
            corner: glass.view.farthest_corner(),
            edges: None,
            rim,
        };
        for rim in [None, Some(3.0)] {
            let mut glass = with_line(bare(1.0, 18.0, 2.8), hard(0.9), 9.0, false);
            glass.pupil = glass.pupil.with_shape(shape(&glass, rim));
            let soft = Profile::soft(d(0.6), mm(10.0)).unwrap();
            glass.lines = [(hard(0.9), 9.0), (soft, -60.0)]
                .map(|(profile, turn)| {
                    let held = held(45.0, turn, false);
                    let place = Place::InFrame(0.55);
                    Line::new(profile, held, glass.view, &glass.pupil, place).unwrap()
                })
                .to_vec();
            glass.openings = vec![circle(66.0, 40.0, 1.0)];
            let (worst, clipped, shaded) = compared(&glass);
            assert!(clipped > 0 && shaded > 0, "{clipped} {shaded}");
            assert!(worst < 1e-3, "{rim:?}: {worst} off");
        }
    }

    #[test]
    fn an_opening_beside_the_lens_clips_everything() {
        let glass = FrameGlass {
            openings: vec![circle(20.0, 40.0, 300.0)],
            ..bare(1.0, 25.0, 4.0)
        };
        let mut map = FrameMap::default();
        assert!(map.draw(&glass, 30, 20).iter().all(|stops| stops.is_nan()));
    }
}
