//! `sunImage`: the sun behind a long lens.

use crate::plain::refusal::{At, Refusal};
use glasscall_core::physics::sun::sun_image as law;
use glasscall_core::quantity::{Aperture, FocalLength};
use serde::{Deserialize, Serialize};
use tsify::Tsify;

/// A lens that points at the sun.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct SunImageRequest {
    /// Focal length in mm, an extender counted in.
    pub focal_length_mm: f64,
    /// Its stop: the T-number where known.
    pub aperture: f64,
}

/// How large and how strong the image is; never whether anything bears it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct SunImageReply {
    /// Diameter of the image, mm; over a year 1.7 % more and less.
    pub diameter_mm: f64,
    /// How many times the irradiance of direct sun, without any filter.
    pub times_irradiance: f64,
}

/// Answers `sunImage`.
///
/// # Errors
///
/// `outOfRange`.
pub fn sun_image(request: &SunImageRequest) -> Result<SunImageReply, Refusal> {
    let focal_length = FocalLength::new(request.focal_length_mm).at("focalLengthMm")?;
    let image = law(
        focal_length,
        Aperture::from_marking(request.aperture).at("aperture")?,
    );
    Ok(SunImageReply {
        diameter_mm: image.diameter,
        times_irradiance: image.times,
    })
}
