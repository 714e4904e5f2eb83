//! `convertDensity`: four faces of one density.

use crate::plain::refusal::{At, Code, Refusal};
use glasscall_core::quantity::{Density, OutOfRange, Stops};
use serde::{Deserialize, Serialize};
use tsify::Tsify;

/// Give exactly one.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, Tsify)]
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
}

/// All four, and what an iris ring makes of it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, Tsify)]
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
}

/// Stops as an iris ring shows them.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, Tsify)]
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
/// `missing` without any of the four, `oneTooMany` with two, `outOfRange`.
pub fn convert_density(request: &ConvertDensityRequest) -> Result<ConvertDensityReply, Refusal> {
    type Reader = fn(f64) -> Result<Density, OutOfRange>;
    let given: [(&str, Option<f64>, Reader); 4] = [
        ("density", request.density, Density::new),
        ("stops", request.stops, |s| {
            Stops::new(s).and_then(Density::from_stops)
        }),
        ("factor", request.factor, Density::from_factor),
        (
            "transmittance",
            request.transmittance,
            Density::from_transmittance,
        ),
    ];
    let mut given = (given.into_iter())
        .filter_map(|(field, value, read)| value.map(|value| (field, value, read)));
    let Some((field, value, read)) = given.next() else {
        return Err(Refusal::new(Code::Missing, "density"));
    };
    if let Some((other, ..)) = given.next() {
        return Err(Refusal::new(Code::OneTooMany, other));
    }
    let density = read(value).at(field)?;
    let iris = density.stops().iris_thirds();
    Ok(ConvertDensityReply {
        density: density.density(),
        stops: density.stops().stops(),
        factor: density.factor(),
        transmittance: density.transmittance(),
        iris: Iris {
            thirds: iris.thirds,
            left_over_stops: iris.left_over.stops(),
        },
    })
}
