//! `sunImage`: the sun behind a long lens.

use crate::plain::refusal::Refusal;
use crate::shapes::working::{TermName, TermReply, TermUnit, Working};
use glasscall_core::physics::sun::{RADIUS_OVER_DISTANCE, sun_image as law};
use glasscall_core::quantity::{Aperture, FocalLength};
use glasscall_derive::read;
use glasscall_derive::{FromPlain, ToPlain};
use serde::{Deserialize, Serialize};
use tsify::Tsify;

/// A lens that points at the sun.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct SunImageRequest {
    /// Focal length in mm, an extender counted in.
    pub focal_length_mm: f64,
    /// Its stop: the T-number where known.
    pub aperture: f64,
    /// Whether to tell how it is worked out, where a few terms tell it whole.
    #[serde(default)]
    pub explain: bool,
}

/// How large and how strong the image is; never whether anything bears it.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct SunImageReply {
    /// Diameter of the image, mm; over a year 1.7 % more and less.
    pub diameter_mm: f64,
    /// How many times the irradiance of direct sun, without any filter.
    pub times_irradiance: f64,
    /// How it is worked out, term by term, where that was asked and can be told.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub working: Option<Vec<TermReply>>,
}

/// Answers `sunImage`.
///
/// # Errors
///
/// `outOfRange`.
pub fn sun_image(request: &SunImageRequest) -> Result<SunImageReply, Refusal> {
    let focal_length = read!(FocalLength::new, request.focal_length_mm)?;
    let aperture = read!(Aperture::from_marking, request.aperture)?;
    let image = law(focal_length, aperture);
    let mut told = SunImageReply {
        diameter_mm: image.diameter,
        times_irradiance: image.times,
        working: None,
    };
    if request.explain {
        told.working = working(request, aperture, &told);
    }
    Ok(told)
}

const NOMINAL: &str = "IAU 2015 B3 and 2012 B2, nominal values";
const GATHERED: &str = "what enters f/N wide lands on the image; own derivation";

/// The terms of the image; they never say what bears it.
fn working(
    request: &SunImageRequest,
    aperture: Aperture,
    reply: &SunImageReply,
) -> Option<Vec<TermReply>> {
    let mut working = Working::default();
    let focal = (request.focal_length_mm, TermUnit::Mm);
    working.given("f", TermName::FocalLength, focal, "focalLengthMm");
    let stop = (aperture.number(), TermUnit::Aperture);
    working.given("N", TermName::Stop, stop, "aperture");
    let ratio = (RADIUS_OVER_DISTANCE, TermUnit::Number);
    (working.given("R", TermName::SunOverDistance, ratio, "")).from(NOMINAL);
    working.steps(&[
        ("d", TermName::SunImage, TermUnit::Mm, "2 * R * f", GATHERED),
        (
            "x",
            TermName::TimesSun,
            TermUnit::Number,
            "1/(2 * R * N) ^ 2",
            GATHERED,
        ),
    ])?;
    (working.tells("d", reply.diameter_mm) && working.tells("x", reply.times_irradiance))
        .then(|| working.terms())
}
