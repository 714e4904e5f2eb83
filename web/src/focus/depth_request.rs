//! What `depth` is asked: a lens, a focus, and a stop or a wish.

use crate::shapes::distance::{MeasuredFrom, Place};
use crate::shapes::sensor::SensorRequest;
use glasscall_derive::{FromPlain, ToPlain};
use serde::{Deserialize, Serialize};
use tsify::Tsify;

/// A lens, where it is focused, and a stop or one wish instead of it.
///
/// The circle of confusion is given outright or follows from the sensor.
#[derive(Debug, Clone, Default, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct DepthRequest {
    /// Focal length.
    pub focal_length_mm: f64,
    /// The f-number; a label such as 2.8 stands for its exact value. Not needed
    /// with a wish, which gives it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub f_number: Option<f64>,
    /// The T-number instead, where the lens is marked in those.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub t_number: Option<f64>,
    /// Stops of light lost in the lens, T less f; none, both numbers alike, unless
    /// said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lens_loss_stops: Option<f64>,
    /// Where the lens is focused; not needed with `wantedNearMm`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub focus_mm: Option<Place>,
    /// The largest blur that still looks sharp.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub circle_mm: Option<f64>,
    /// The picture on the sensor; its diagonal gives the circle where none is
    /// given, its height the share of the frame.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sensor: Option<SensorRequest>,
    /// Parts of the diagonal the circle is one of, 100 to 20 000; 1500 unless
    /// said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub diagonal_parts: Option<f64>,
    /// Where all distances, asked and answered, are counted from.
    #[serde(default)]
    pub measured_from: MeasuredFrom,
    /// Where the background is; infinity unless said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub background_mm: Option<Place>,
    /// A wish: far limit less near limit.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wanted_depth_mm: Option<Place>,
    /// A wish, with `wantedFarMm`: the nearest place to be sharp.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wanted_near_mm: Option<f64>,
    /// A wish, with `wantedNearMm`: the farthest place to be sharp.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wanted_far_mm: Option<Place>,
    /// A wish: the disc a background point is drawn as.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wanted_blur_mm: Option<f64>,
    /// The same as a share of the picture's height; needs `sensor`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wanted_blur_of_frame: Option<f64>,
    /// Wavelength for the diffraction disc; 550 unless said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wavelength_nm: Option<f64>,
    /// Also answer for a stop opened and one closed by so much, up to 10.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub neighbour_stops: Option<f64>,
    /// Whether to tell how it is worked out, where a few terms tell it whole.
    #[serde(default)]
    pub explain: bool,
}
