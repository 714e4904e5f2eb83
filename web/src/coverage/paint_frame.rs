//! `paintFrame`: a map of stops lost as a picture.
//!
//! A schematic sky over a schematic ground, as bright as the sensor would see
//! them; lines where the loss passes a third of a stop, whole stops drawn
//! through and thirds broken; hatching where the frame is clipped. Nothing here
//! is told by colour alone.

use crate::plain::refusal::{At, Code, Refusal};
use glasscall_core::quantity::{Angle, Bounds, Stops};
use serde::{Deserialize, Serialize};
use tsify::Tsify;

/// What the map lies over, and the colours of the look.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct PaintFrameRequest {
    /// Pixels across the map.
    pub columns: usize,
    /// Pixels down the map.
    pub rows: usize,
    /// Width over height of the picture as it is seen, squeeze included.
    pub shape: f64,
    /// Height of the frame that the horizon crosses at the middle.
    pub horizon_at_frame_height: f64,
    /// Roll of the camera, clockwise seen from behind: the horizon rises to
    /// the right.
    #[serde(default)]
    pub roll_deg: f64,
    /// How many stops brighter than the ground the sky is.
    pub sky_stops: f64,
    /// The loss that is made up for, so that the ground comes out mid grey.
    pub exposed_stops: f64,
    /// Colours as `#rrggbb`.
    pub colours: FrameColours,
}

/// Colours at full brightness.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct FrameColours {
    /// The sky.
    pub sky: String,
    /// The ground.
    pub ground: String,
    /// Lines on what is dark; on what is bright they are black.
    pub line: String,
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

type Colour = [u8; 3];

impl PaintFrameRequest {
    /// Whether the map has the pixels that are said.
    pub(crate) fn fits(&self, stops: usize) -> Result<(), Refusal> {
        if self.columns == 0 || self.columns.checked_mul(self.rows) != Some(stops) {
            return Err(Refusal::too_many("columns", self.columns, stops));
        }
        Ok(())
    }
}

/// Buffers that are used again.
#[derive(Debug, Default)]
pub struct Painter {
    pixels: Vec<u8>,
    shades: [Vec<Colour>; 2],
    bright_from: usize,
}

impl Painter {
    /// The picture as red, green, blue and opacity, row by row from the top.
    ///
    /// # Errors
    ///
    /// `outOfRange`; `notUnderstood` for a colour; `tooMany` when the map has
    /// not the pixels that are said.
    pub fn paint(&mut self, request: &PaintFrameRequest, stops: &[f32]) -> Result<&[u8], Refusal> {
        let (columns, rows) = (request.columns, request.rows);
        request.fits(stops.len())?;
        let horizon = Horizon::new(request)?;
        let line = colour(&request.colours.line, "colours.line")?;
        self.shade(request)?;
        self.pixels.clear();
        self.pixels.resize(4 * stops.len(), u8::MAX);
        for row in 0..rows {
            let here = &stops[row * columns..(row + 1) * columns];
            let below = stops
                .get((row + 1) * columns..(row + 2) * columns)
                .unwrap_or(here);
            let sky = horizon.sky_in(row);
            for column in 0..columns {
                let loss = here[column];
                let right = here.get(column + 1).copied().unwrap_or(loss);
                let colour = if loss.is_nan() {
                    hatching(column + row, line)
                } else {
                    let in_sky = sky.contains(&column);
                    let shade = shade_of(if in_sky { horizon.sky_stops } else { 0.0 }, loss);
                    match crossed(loss, right).max(crossed(loss, below[column])) {
                        Crossed::Whole => self.line_on(shade, line),
                        Crossed::Third if ((column + row) / DASH).is_multiple_of(2) => {
                            self.line_on(shade, line)
                        }
                        _ => self.shades[usize::from(!in_sky)][shade],
                    }
                };
                let at = 4 * (row * columns + column);
                self.pixels[at..at + 3].copy_from_slice(&colour);
            }
        }
        Ok(&self.pixels)
    }

    /// Tabulates the colours of sky and ground against brightness.
    fn shade(&mut self, request: &PaintFrameRequest) -> Result<(), Refusal> {
        let exposed = Stops::new(request.exposed_stops)
            .at("exposedStops")?
            .stops();
        let light = |shade: usize| {
            let stops = float(shade) / f64::from(STEPS_A_STOP) + f64::from(LEAST_STOPS) + exposed;
            libm::pow((GREY * libm::exp2(stops)).min(1.0), 1.0 / DISPLAY_GAMMA)
        };
        self.bright_from = (0..SHADES)
            .find(|&shade| light(shade) > 0.5)
            .unwrap_or(SHADES);
        let colours = &request.colours;
        for (table, (text, field)) in self.shades.iter_mut().zip([
            (&colours.sky, "colours.sky"),
            (&colours.ground, "colours.ground"),
        ]) {
            let full = colour(text, field)?;
            table.clear();
            table.extend((0..SHADES).map(|shade| full.map(|part| dimmed(part, light(shade)))));
        }
        Ok(())
    }

    fn line_on(&self, shade: usize, line: Colour) -> Colour {
        if shade >= self.bright_from {
            [0; 3]
        } else {
            line
        }
    }
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a share of 255 is a byte"
)]
fn dimmed(part: u8, light: f64) -> u8 {
    (f64::from(part) * light).round() as u8
}

/// The place of a brightness in the table of shades.
fn shade_of(scene: f32, loss: f32) -> usize {
    let steps = (scene - loss - LEAST_STOPS) * STEPS_A_STOP;
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "as from float to integer stops at the ends"
    )]
    let shade = steps as usize;
    shade.min(SHADES - 1)
}

fn hatching(diagonal: usize, line: Colour) -> Colour {
    if (diagonal / STROKE).is_multiple_of(2) {
        line
    } else {
        [0; 3]
    }
}

/// What lies between two neighbours.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Crossed {
    Nothing,
    Third,
    Whole,
}

fn crossed(loss: f32, next: f32) -> Crossed {
    if next.is_nan() || (loss - next).abs() < LEVEL_NOISE {
        return Crossed::Nothing;
    }
    let level = |stops: f32| (3.0 * stops).floor();
    let (here, there) = (level(loss), level(next));
    if here == there {
        Crossed::Nothing
    } else if (here / 3.0).floor() == (there / 3.0).floor() {
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
    fn new(request: &PaintFrameRequest) -> Result<Self, Refusal> {
        let shape = Bounds {
            min: 0.01,
            max: 100.0,
            ..Bounds::IN_FRAME
        };
        let shape = shape.check(request.shape).at("shape")?;
        let roll = Bounds {
            min: -89.0,
            max: 89.0,
            ..Bounds::ANGLE
        };
        let roll = Angle::new(roll.check(request.roll_deg).at("rollDeg")?).at("rollDeg")?;
        let height = request.horizon_at_frame_height;
        #[expect(
            clippy::cast_possible_truncation,
            reason = "a map holds single precision"
        )]
        let sky_stops = Stops::new(request.sky_stops).at("skyStops")?.stops() as f32;
        Ok(Self {
            columns: float(request.columns),
            rows: float(request.rows),
            height: Bounds::FRAME_PLACE
                .check(height)
                .at("horizonAtFrameHeight")?,
            rise: libm::tan(roll.degrees().to_radians()) * shape,
            sky_stops,
        })
    }

    /// The columns of a row that are sky.
    fn sky_in(&self, row: usize) -> std::ops::Range<usize> {
        let up = 1.0 - (float(row) + 0.5) / self.rows;
        let above = up - self.height;
        if self.rise.abs() < 1e-9 {
            let whole = if above > 0.0 { self.columns } else { 0.0 };
            return 0..columns_of(whole);
        }
        let meets = (0.5 + above / self.rise) * self.columns;
        let meets = columns_of(meets.round().clamp(0.0, self.columns));
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

fn colour(text: &str, field: &str) -> Result<Colour, Refusal> {
    let refused = || Refusal::new(Code::NotUnderstood, field).given(text);
    let hex = text
        .strip_prefix('#')
        .filter(|hex| hex.len() == 6 && hex.is_ascii());
    let hex = hex.ok_or_else(refused)?;
    let part = |at: usize| u8::from_str_radix(&hex[at..at + 2], 16).map_err(|_| refused());
    Ok([part(0)?, part(2)?, part(4)?])
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::{FrameColours, PaintFrameRequest, Painter};

    fn request(columns: usize, rows: usize) -> PaintFrameRequest {
        PaintFrameRequest {
            columns,
            rows,
            shape: 1.5,
            horizon_at_frame_height: 0.5,
            roll_deg: 0.0,
            sky_stops: 2.0,
            exposed_stops: 0.0,
            colours: FrameColours {
                sky: "#ffffff".into(),
                ground: "#ffffff".into(),
                line: "#00ff00".into(),
            },
        }
    }

    fn at(pixels: &[u8], columns: usize, column: usize, row: usize) -> [u8; 3] {
        let at = 4 * (row * columns + column);
        [pixels[at], pixels[at + 1], pixels[at + 2]]
    }

    #[test]
    fn the_ground_is_a_grey_card_and_the_sky_brighter() {
        let mut painter = Painter::default();
        let pixels = painter.paint(&request(4, 4), &[0.0; 16]).unwrap();
        // 255·0.18^(1/2.2) = 117, by hand; two stops up 255·0.72^(1/2.2) = 220.
        assert_eq!(at(pixels, 4, 0, 3), [117; 3]);
        assert_eq!(at(pixels, 4, 0, 0), [220; 3]);
        assert!(pixels.chunks(4).all(|pixel| pixel[3] == 255));
    }

    #[test]
    fn glass_over_all_and_opened_up_for_looks_like_none() {
        let mut painter = Painter::default();
        let bare = painter.paint(&request(4, 4), &[0.0; 16]).unwrap().to_vec();
        let opened = PaintFrameRequest {
            exposed_stops: 2.0,
            ..request(4, 4)
        };
        assert_eq!(painter.paint(&opened, &[2.0; 16]).unwrap(), bare);
    }

    #[test]
    fn a_whole_stop_is_a_line_and_a_clipped_place_is_hatched() {
        let mut stops = [0.9_f32; 24];
        stops[12..].fill(1.1);
        stops[23] = f32::NAN;
        let mut painter = Painter::default();
        let pixels = painter.paint(&request(12, 2), &stops).unwrap();
        // Two stops up, one down: bright enough for a black line.
        assert_eq!(at(pixels, 12, 5, 0), [0; 3]);
        let hatched = at(pixels, 12, 11, 1);
        assert!(hatched == [0, 255, 0] || hatched == [0; 3]);
    }

    #[test]
    fn a_tilted_horizon_rises_to_the_right() {
        let tilted = PaintFrameRequest {
            roll_deg: 30.0,
            ..request(40, 40)
        };
        let mut painter = Painter::default();
        let pixels = painter.paint(&tilted, &[0.0; 1600]).unwrap();
        assert_eq!(at(pixels, 40, 2, 20), [220; 3]);
        assert_eq!(at(pixels, 40, 37, 20), [117; 3]);
    }

    #[test]
    fn a_colour_that_is_none_is_refused() {
        let mut odd = request(1, 1);
        odd.colours.sky = "blue".into();
        let refusal = Painter::default().paint(&odd, &[0.0]).unwrap_err();
        assert_eq!(refusal.field, "colours.sky");
    }
}
