//! `convertDensity`: the faces of one density.

use super::light_working;
use crate::plain::refusal::{At, Code, Refusal, needed};
use crate::shapes::settings::bare_time;
use crate::shapes::working::TermReply;
use glasscall_core::physics::exposure::{glass_between, time_through};
use glasscall_core::quantity::{Density, FrameRate, OutOfRange, Seconds, Stops};
use glasscall_core::setup::Shutter;
use glasscall_derive::read;
use glasscall_derive::{FromPlain, ToPlain};
use serde::{Deserialize, Serialize};
use tsify::Tsify;

/// Give exactly one of the first four and `throughSeconds`.
#[derive(Debug, Clone, Default, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct ConvertDensityRequest {
    /// Optical density, 0 to 12.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub density: Option<f64>,
    /// Stops of light taken.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub stops: Option<f64>,
    /// Filter factor, 1 and up.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub factor: Option<f64>,
    /// Share of the light passed, up to 1.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub transmittance: Option<f64>,
    /// The exposure time through it, where the bare shutter is given too.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub through_seconds: Option<f64>,
    /// Frames a second; needed for a shutter angle, and tells one in the reply.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub frame_rate: Option<f64>,
    /// The bare shutter as an angle in degrees, up to 360.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub shutter_angle_deg: Option<f64>,
    /// The bare shutter as a time in seconds.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub shutter_seconds: Option<f64>,
    /// Whether to tell how it is worked out, where a few terms tell it whole.
    #[serde(default)]
    pub explain: bool,
}

/// All four, and what an iris ring makes of it.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct ConvertDensityReply {
    /// Optical density.
    pub density: f64,
    /// Stops of light taken.
    pub stops: f64,
    /// Filter factor.
    pub factor: f64,
    /// Share of the light passed.
    pub transmittance: f64,
    /// The nearest third on an iris ring.
    pub iris: Iris,
    /// What it does to the shutter, where one was given.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub through: Option<ThroughReply>,
    /// How it is worked out, term by term, where that was asked and can be told.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub working: Option<Vec<TermReply>>,
}

/// The shutter that exposes through the glass as the bare one did without.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct ThroughReply {
    /// Its time in seconds.
    pub shutter_seconds: f64,
    /// Its angle; absent without a frame rate and where it outlasts the frame.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub shutter_angle_deg: Option<f64>,
}

/// Stops as an iris ring shows them.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct Iris {
    /// Whole thirds of a stop.
    pub thirds: i32,
    /// Stops less those thirds.
    pub left_over_stops: f64,
}

/// Answers `convertDensity`.
///
/// # Errors
///
/// `missing` without any face of it, `oneTooMany` with two, `outOfRange`.
pub fn convert_density(request: &ConvertDensityRequest) -> Result<ConvertDensityReply, Refusal> {
    let rate = read!(FrameRate::new, request.frame_rate?)?;
    let bare = bare_time(request.shutter_angle_deg, request.shutter_seconds, rate)?;
    let density = density(request, bare)?;
    let iris = density.stops().iris_thirds();
    let through = bare
        .map(|bare| time_through(bare, density))
        .transpose()
        .at("shutterSeconds")?;
    let mut told = ConvertDensityReply {
        density: density.density(),
        stops: density.stops().stops(),
        factor: density.factor(),
        transmittance: density.transmittance(),
        iris: Iris {
            thirds: iris.thirds,
            left_over_stops: iris.left_over.stops(),
        },
        through: through.map(|time| ThroughReply {
            shutter_seconds: time.seconds(),
            shutter_angle_deg: rate
                .and_then(|rate| Shutter::Time(time).angle_at(rate))
                .map(|angle| angle.degrees()),
        }),
        working: None,
    };
    if request.explain {
        told.working = light_working::density(request, &told);
    }
    Ok(told)
}

/// The one face that was given.
fn density(request: &ConvertDensityRequest, bare: Option<Seconds>) -> Result<Density, Refusal> {
    type Reader = fn(f64) -> Result<Density, OutOfRange>;
    let given: [(&str, Option<f64>, Option<Reader>); 5] = [
        ("density", request.density, Some(Density::new)),
        (
            "stops",
            request.stops,
            Some(|stops| Stops::new(stops).and_then(Density::from_stops)),
        ),
        ("factor", request.factor, Some(Density::from_factor)),
        (
            "transmittance",
            request.transmittance,
            Some(Density::from_transmittance),
        ),
        ("throughSeconds", request.through_seconds, None),
    ];
    let mut given = (given.into_iter())
        .filter_map(|(field, value, read)| value.map(|value| (field, value, read)));
    let Some((field, value, read)) = given.next() else {
        return Err(Refusal::new(Code::Missing, "density"));
    };
    if let Some((other, ..)) = given.next() {
        return Err(Refusal::new(Code::OneTooMany, other));
    }
    if let Some(read) = read {
        return read(value).at(field);
    }
    let bare = needed(bare, "shutterSeconds")?;
    let through = Seconds::new(value).at(field)?;
    // A shorter time is told in seconds, not as the factor it is.
    glass_between(bare, through)
        .map_err(|_| Refusal::outside(field, value, bare.seconds(), bare.seconds() * 1e12))
}
