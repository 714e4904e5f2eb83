//! What of the world the sensor sees, as a request gives it.

use crate::plain::refusal::{At, Refusal};
use glasscall_core::quantity::{Bounds, FocalLength, Length, Span, Squeeze};
use glasscall_core::setup::{View, ViewRecord};
use glasscall_derive::{FromPlain, ToPlain};
use serde::{Deserialize, Serialize};
use tsify::Tsify;

/// The active sensor area.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct SensorRequest {
    /// Width, mm.
    pub width_mm: f64,
    /// Height, mm.
    pub height_mm: f64,
}

/// The parts of a view, wherever a request holds them.
pub(crate) struct ViewFields {
    pub(crate) sensor: SensorRequest,
    pub(crate) squeeze: Option<f64>,
    pub(crate) shift_x_mm: Option<f64>,
    pub(crate) shift_y_mm: Option<f64>,
    pub(crate) focal_length_mm: f64,
}

impl ViewFields {
    /// The view; `path` is where the fields are, empty or ending in a dot.
    pub(crate) fn view(&self, path: &str) -> Result<View, Refusal> {
        let at = |field: &str| format!("{path}{field}");
        let shift = |given: Option<f64>, field: &str| {
            (Bounds::LENS_SHIFT
                .check(given.unwrap_or(0.0))
                .and_then(Length::new))
            .at(&at(field))
        };
        View::new(ViewRecord {
            width: Span::new(self.sensor.width_mm).at(&at("sensor.widthMm"))?,
            height: Span::new(self.sensor.height_mm).at(&at("sensor.heightMm"))?,
            shift_x: shift(self.shift_x_mm, "shiftXMm")?,
            shift_y: shift(self.shift_y_mm, "shiftYMm")?,
            focal_length: FocalLength::new(self.focal_length_mm).at(&at("focalLengthMm"))?,
            squeeze: Squeeze::new(self.squeeze.unwrap_or(1.0)).at(&at("squeeze"))?,
        })
        .at(&at("focalLengthMm"))
    }
}
