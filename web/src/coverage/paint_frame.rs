//! `paintFrame`: a map of stops lost as a picture.
//!
//! The pixels are the core's, [`glasscall_core::answer::frame_picture`].

use crate::plain::refusal::{Code, Refusal};
use glasscall_core::answer::frame_picture::{Colour, FramePicture, Scene};
use glasscall_core::quantity::{Angle, Bounds, Stops};
use glasscall_derive::read;
use glasscall_derive::{FromPlain, ToPlain};
use serde::{Deserialize, Serialize};
use tsify::Tsify;

/// What the map lies over, and the colours of the look.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
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
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct FrameColours {
    /// The sky.
    pub sky: String,
    /// The ground.
    pub ground: String,
    /// Lines on what is dark; on what is bright they are black.
    pub line: String,
}

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
pub struct Painter(FramePicture);

impl Painter {
    /// The picture as red, green, blue and opacity, row by row from the top.
    ///
    /// # Errors
    ///
    /// `outOfRange`; `notUnderstood` for a colour; `tooMany` when the map has
    /// not the pixels that are said.
    pub fn paint(&mut self, request: &PaintFrameRequest, stops: &[f32]) -> Result<&[u8], Refusal> {
        request.fits(stops.len())?;
        let scene = scene(request)?;
        Ok(glasscall_hot::paint(
            &mut self.0,
            &scene,
            request.columns,
            stops,
        ))
    }
}

fn scene(request: &PaintFrameRequest) -> Result<Scene, Refusal> {
    let colours = &request.colours;
    Ok(Scene {
        shape: read!(Bounds::PICTURE_SHAPE, request.shape)?,
        roll: read!(Angle::new of Bounds::HORIZON_ROLL, request.roll_deg)?,
        sky: read!(Stops::new, request.sky_stops)?,
        horizon_at_frame_height: read!(Bounds::FRAME_PLACE, request.horizon_at_frame_height)?,
        line: colour(&colours.line, "colours.line")?,
        exposed: read!(Stops::new, request.exposed_stops)?,
        colours: [
            colour(&colours.sky, "colours.sky")?,
            colour(&colours.ground, "colours.ground")?,
        ],
    })
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
    use crate::plain::refusal::Code;

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

    #[test]
    fn sky_stands_over_ground() {
        let mut painter = Painter::default();
        let pixels = painter.paint(&request(1, 2), &[0.0; 2]).unwrap();
        // 255·0.72^(1/2.2) = 220 and 255·0.18^(1/2.2) = 117, by hand.
        assert_eq!(pixels, [220, 220, 220, 255, 117, 117, 117, 255]);
    }

    #[test]
    fn a_map_of_another_size_is_refused() {
        let mut painter = Painter::default();
        let refusal = painter.paint(&request(2, 2), &[0.0; 3]).unwrap_err();
        assert_eq!(refusal.code, Code::TooMany);
    }

    #[test]
    fn a_colour_that_is_none_is_refused() {
        let mut odd = request(1, 1);
        odd.colours.sky = "blue".into();
        let refusal = Painter::default().paint(&odd, &[0.0]).unwrap_err();
        assert_eq!(refusal.field, "colours.sky");
    }
}
