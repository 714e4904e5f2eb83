//! A map of stops lost as a picture.
//!
//! A schematic sky over a schematic ground, as bright as the sensor would see
//! them; lines where the loss passes a third of a stop, whole stops drawn
//! through and thirds broken; hatching where the frame is clipped. Nothing is
//! told by colour alone.

use crate::quantity::{Angle, Stops};
use alloc::vec::Vec;
use core::ops::Range;

/// Red, green and blue.
pub type Colour = [u8; 3];

/// What the map lies over, and how it is exposed.
#[derive(Debug, Clone, Copy)]
pub struct Scene {
    /// Width over height of the picture as it is seen.
    pub shape: f64,
    /// Height of the frame that the horizon crosses at the middle.
    pub horizon_at_frame_height: f64,
    /// Roll of the camera, clockwise seen from behind, within 89°.
    pub roll: Angle,
    /// How many stops brighter than the ground the sky is.
    pub sky: Stops,
    /// The loss that is made up for, so that the ground comes out mid grey.
    pub exposed: Stops,
    /// The sky and the ground at full brightness.
    pub colours: [Colour; 2],
    /// Lines on what is dark; on what is bright they are black.
    pub line: Colour,
}

/// Steps of brightness for each stop, and the stops they cover: beyond, all is
/// white or black on a display.
const STEPS_A_STOP: f32 = 16.0;
const LEAST_STOPS: f32 = -16.0;
const SHADES: usize = 384;
/// The ground on a display: a grey card of 18 %.
const GREY: f64 = 0.18;
/// Light as a display shows it, near enough to IEC 61966-2-1.
const DISPLAY_GAMMA: f64 = 2.2;
/// Lines closer than this are no lines: rounding of even glass.
const LEVEL_NOISE: f32 = 1e-4;
/// Pixels of a dash of a broken line and of a stroke of the hatching.
const DASH: usize = 6;
const STROKE: usize = 5;

/// A pixel as a canvas holds it.
type Pixel = [u8; 4];

const fn opaque([red, green, blue]: Colour) -> Pixel {
    [red, green, blue, u8::MAX]
}

/// Buffers that are used again.
#[derive(Debug, Default)]
pub struct FramePicture {
    pixels: Vec<Pixel>,
    shades: [Vec<Pixel>; 2],
    bright_from: usize,
    /// Thirds of a stop lost, of the row that is painted and the one below it.
    levels: [Vec<i32>; 2],
}

impl FramePicture {
    /// The picture as red, green, blue and opacity, row by row from the top; of
    /// the rows that are whole.
    #[inline]
    pub fn paint(&mut self, scene: &Scene, columns: usize, stops: &[f32]) -> &[u8] {
        self.shade(scene);
        self.pixels.clear();
        self.pixels.reserve(stops.len());
        let line = Line {
            on_dark: opaque(scene.line),
            bright_from: self.bright_from,
        };
        let mut rows = stops.chunks_exact(columns.max(1)).peekable();
        let horizon = Horizon::new(scene, columns, rows.len());
        let [here, below] = &mut self.levels;
        if let Some(first) = rows.peek() {
            set_levels(here, first);
        }
        let mut row = 0;
        while let Some(losses) = rows.next() {
            let next = *rows.peek().unwrap_or(&losses);
            set_levels(below, next);
            let sky = horizon.sky_in(row);
            let ends = [sky.start, sky.end, columns];
            let mut from = 0;
            for (to, in_sky) in ends.into_iter().zip([false, true, false]) {
                let part = Part {
                    shades: &self.shades[usize::from(!in_sky)],
                    scene: if in_sky { horizon.sky_stops } else { 0.0 },
                    line,
                    row,
                };
                let lost = Lost {
                    stops: [losses, next],
                    levels: [here, below],
                };
                part.paint(&mut self.pixels, &lost, from..to.max(from));
                from = to.max(from);
            }
            core::mem::swap(here, below);
            row += 1;
        }
        self.pixels.as_flattened()
    }

    /// Tabulates the colours of sky and ground against brightness.
    fn shade(&mut self, scene: &Scene) {
        let exposed = scene.exposed.stops();
        let light = |shade: usize| {
            let stops = float(shade) / f64::from(STEPS_A_STOP) + f64::from(LEAST_STOPS) + exposed;
            libm::pow((GREY * libm::exp2(stops)).min(1.0), 1.0 / DISPLAY_GAMMA)
        };
        self.bright_from = SHADES;
        self.shades.iter_mut().for_each(Vec::clear);
        for shade in 0..SHADES {
            let light = light(shade);
            if light > 0.5 {
                self.bright_from = self.bright_from.min(shade);
            }
            for (table, full) in self.shades.iter_mut().zip(scene.colours) {
                table.push(opaque(full.map(|part| dimmed(part, light))));
            }
        }
    }
}

/// The line of a level, by how bright it lies.
#[derive(Clone, Copy)]
struct Line {
    on_dark: Pixel,
    bright_from: usize,
}

impl Line {
    const fn on(self, shade: usize) -> Pixel {
        if shade >= self.bright_from {
            opaque([0; 3])
        } else {
            self.on_dark
        }
    }
}

/// A row and the one below it.
struct Lost<'a> {
    stops: [&'a [f32]; 2],
    levels: [&'a [i32]; 2],
}

/// Columns of one row that are all sky or all ground.
struct Part<'a> {
    shades: &'a [Pixel],
    scene: f32,
    line: Line,
    row: usize,
}

impl Part<'_> {
    #[inline]
    fn paint(&self, pixels: &mut Vec<Pixel>, lost: &Lost, columns: Range<usize>) {
        let [levels, below] = lost.levels;
        let last = levels.len() - 1;
        pixels.extend(columns.map(|column| {
            let (loss, level) = (lost.stops[0][column], levels[column]);
            let shade = shade_of(self.scene, loss);
            let right = levels[last.min(column + 1)];
            // Nearly every pixel: no line runs through it.
            if level == right && level == below[column] && level != CLIPPED {
                return self.shades[shade];
            }
            self.marked(lost, column, shade)
        }));
    }

    /// A pixel that is clipped or where the level changes.
    #[cold]
    fn marked(&self, lost: &Lost, column: usize, shade: usize) -> Pixel {
        let loss = lost.stops[0][column];
        let diagonal = column + self.row;
        if loss.is_nan() {
            return if (diagonal / STROKE).is_multiple_of(2) {
                self.line.on_dark
            } else {
                opaque([0; 3])
            };
        }
        let right = lost.stops[0].get(column + 1).copied().unwrap_or(loss);
        match crossed(loss, right).max(crossed(loss, lost.stops[1][column])) {
            Crossed::Whole => self.line.on(shade),
            Crossed::Third if (diagonal / DASH).is_multiple_of(2) => self.line.on(shade),
            _ => self.shades[shade],
        }
    }
}

/// The level of what is clipped.
const CLIPPED: i32 = i32::MIN;

#[inline]
fn set_levels(levels: &mut Vec<i32>, stops: &[f32]) {
    levels.clear();
    levels.extend(stops.iter().map(|&stops| level_of(stops)));
}

/// Whole thirds of a stop, rounded down.
#[inline]
fn level_of(stops: f32) -> i32 {
    if stops.is_nan() {
        return CLIPPED;
    }
    let thirds = 3.0 * stops;
    #[expect(
        clippy::cast_possible_truncation,
        reason = "as from float to integer stops at the ends"
    )]
    let level = thirds as i32;
    #[expect(
        clippy::cast_precision_loss,
        reason = "a loss of 2²⁴ stops is black anyway"
    )]
    let rounded_up = level as f32 > thirds;
    level - i32::from(rounded_up)
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a share of 255 is a byte"
)]
fn dimmed(part: u8, light: f64) -> u8 {
    libm::round(f64::from(part) * light) as u8
}

/// The place of a brightness in the table of shades.
#[inline]
fn shade_of(scene: f32, loss: f32) -> usize {
    let steps = (scene - loss - LEAST_STOPS) * STEPS_A_STOP;
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "as from float to integer stops at the ends"
    )]
    let shade = steps as u32 as usize;
    shade.min(SHADES - 1)
}

/// What lies between two neighbours.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Crossed {
    Nothing,
    Third,
    Whole,
}

fn crossed(loss: f32, next: f32) -> Crossed {
    let apart = loss - next;
    if next.is_nan() || (-LEVEL_NOISE..LEVEL_NOISE).contains(&apart) {
        return Crossed::Nothing;
    }
    let (here, there) = (level_of(loss), level_of(next));
    if here == there {
        Crossed::Nothing
    } else if here.div_euclid(3) == there.div_euclid(3) {
        Crossed::Third
    } else {
        Crossed::Whole
    }
}

/// Where sky and ground meet in the picture.
struct Horizon {
    columns: f64,
    rows: f64,
    height: f64,
    /// Heights of the frame that it rises across the frame.
    rise: f64,
    sky_stops: f32,
}

impl Horizon {
    fn new(scene: &Scene, columns: usize, rows: usize) -> Self {
        #[expect(
            clippy::cast_possible_truncation,
            reason = "a map holds single precision"
        )]
        let sky_stops = scene.sky.stops() as f32;
        Self {
            columns: float(columns),
            rows: float(rows),
            height: scene.horizon_at_frame_height,
            rise: libm::tan(scene.roll.degrees().to_radians()) * scene.shape,
            sky_stops,
        }
    }

    /// The columns of a row that are sky.
    #[inline]
    fn sky_in(&self, row: usize) -> Range<usize> {
        let up = 1.0 - (float(row) + 0.5) / self.rows;
        let above = up - self.height;
        if self.rise.abs() < 1e-9 {
            let whole = if above > 0.0 { self.columns } else { 0.0 };
            return 0..columns_of(whole);
        }
        let meets = (0.5 + above / self.rise) * self.columns;
        let meets = columns_of(libm::round(meets).clamp(0.0, self.columns));
        if self.rise > 0.0 {
            0..meets
        } else {
            meets..columns_of(self.columns)
        }
    }
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "clamped to the columns of the map"
)]
const fn columns_of(columns: f64) -> usize {
    columns as usize
}

#[expect(
    clippy::cast_precision_loss,
    reason = "a map has fewer than 2⁵³ pixels"
)]
const fn float(count: usize) -> f64 {
    count as f64
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::{CLIPPED, Crossed, FramePicture, Scene, crossed, level_of};
    use crate::quantity::{Angle, Stops};
    use alloc::vec::Vec;

    fn scene() -> Scene {
        Scene {
            shape: 1.5,
            horizon_at_frame_height: 0.5,
            roll: Angle::new(0.0).unwrap(),
            sky: Stops::new(2.0).unwrap(),
            exposed: Stops::new(0.0).unwrap(),
            colours: [[255; 3]; 2],
            line: [0, 255, 0],
        }
    }

    fn at(pixels: &[u8], columns: usize, column: usize, row: usize) -> [u8; 3] {
        let at = 4 * (row * columns + column);
        [pixels[at], pixels[at + 1], pixels[at + 2]]
    }

    #[test]
    fn the_ground_is_a_grey_card_and_the_sky_brighter() {
        let mut picture = FramePicture::default();
        let pixels = picture.paint(&scene(), 4, &[0.0; 16]);
        // 255·0.18^(1/2.2) = 117, by hand; two stops up 255·0.72^(1/2.2) = 220.
        assert_eq!(at(pixels, 4, 0, 3), [117; 3]);
        assert_eq!(at(pixels, 4, 0, 0), [220; 3]);
        assert!(pixels.chunks(4).all(|pixel| pixel[3] == 255));
    }

    #[test]
    fn glass_over_all_and_opened_up_for_looks_like_none() {
        let mut picture = FramePicture::default();
        let bare = picture.paint(&scene(), 4, &[0.0; 16]).to_vec();
        let opened = Scene {
            exposed: Stops::new(2.0).unwrap(),
            ..scene()
        };
        assert_eq!(picture.paint(&opened, 4, &[2.0; 16]), bare);
    }

    #[test]
    fn a_whole_stop_is_a_line_and_a_clipped_place_is_hatched() {
        let mut stops = [0.9_f32; 24];
        stops[12..].fill(1.1);
        stops[23] = f32::NAN;
        let mut picture = FramePicture::default();
        let pixels = picture.paint(&scene(), 12, &stops);
        // Two stops up, one down: bright enough for a black line.
        assert_eq!(at(pixels, 12, 5, 0), [0; 3]);
        let hatched = at(pixels, 12, 11, 1);
        assert!(hatched == [0, 255, 0] || hatched == [0; 3]);
    }

    #[test]
    fn a_tilted_horizon_rises_to_the_right() {
        let tilted = Scene {
            roll: Angle::new(30.0).unwrap(),
            ..scene()
        };
        let mut picture = FramePicture::default();
        let pixels = picture.paint(&tilted, 40, &[0.0; 1600]);
        assert_eq!(at(pixels, 40, 2, 20), [220; 3]);
        assert_eq!(at(pixels, 40, 37, 20), [117; 3]);
    }

    #[test]
    fn levels_round_down_on_both_sides_of_none() {
        let levels: Vec<i32> = [-0.34, -0.1, 0.0, 0.32, 0.34, 1.0].map(level_of).into();
        assert_eq!(levels, [-2, -1, 0, 0, 1, 3]);
        assert_eq!(level_of(f32::NAN), CLIPPED);
        assert_eq!(crossed(-0.1, 0.1), Crossed::Whole);
        assert_eq!(crossed(0.5, 0.7), Crossed::Third);
        assert_eq!(crossed(0.99999, 1.00001), Crossed::Nothing);
    }

    #[test]
    fn a_picture_of_one_column_or_of_nothing_is_painted() {
        let mut picture = FramePicture::default();
        assert_eq!(picture.paint(&scene(), 1, &[0.0, 2.0]).len(), 8);
        assert!(picture.paint(&scene(), 0, &[]).is_empty());
    }
}
