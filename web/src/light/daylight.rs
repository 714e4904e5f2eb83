//! `daylight`: light of the clear sky before anyone has read it.

use crate::plain::refusal::{At, Refusal};
use glasscall_core::physics::daylight::{clear_sky, parts, spread};
use glasscall_core::physics::exposure::{FLAT_RECEPTOR, ev_of_illuminance};
use glasscall_core::quantity::{Elevation, IncidentConstant};
use serde::{Deserialize, Serialize};
use tsify::Tsify;

/// The sun's height.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct DaylightRequest {
    /// Above the horizon, air apart; −18 to 90.
    pub sun_elevation_deg: f64,
}

/// Clear-sky light on level ground.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct DaylightReply {
    /// Sun and sky together.
    pub illuminance_lux: f64,
    /// The same as an exposure value at EI 100, for a flat receptor (C 250).
    pub ev100: f64,
    /// How far clear skies stray from it, either way; cloud and shade are not
    /// in it.
    pub spread_stops: f64,
    /// The model behind it.
    pub model: DaylightModel,
    /// From the sky alone, as open shade gets it, by another model; absent with
    /// the sun down.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub sky_only_lux: Option<f64>,
    /// From the sun alone on a card that faces it, by that model.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub facing_sun_lux: Option<f64>,
}

/// Where the figures come from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub enum DaylightModel {
    /// The polynomial of the Explanatory Supplement to the Astronomical
    /// Almanac, 1992, for a cloudless sky.
    AlmanacClearSky,
}

/// Answers `daylight`.
///
/// # Errors
///
/// `outOfRange` below −18°, where the model ends.
pub fn daylight(request: &DaylightRequest) -> Result<DaylightReply, Refusal> {
    let field = "sunElevationDeg";
    let sun = Elevation::new(request.sun_elevation_deg).at(field)?;
    let light = clear_sky(sun).at(field)?;
    let flat = IncidentConstant::new(FLAT_RECEPTOR).at(field)?;
    let parts = parts(sun);
    Ok(DaylightReply {
        illuminance_lux: light.lux(),
        ev100: ev_of_illuminance(light, flat).at(field)?.ev(),
        spread_stops: spread(sun).stops(),
        model: DaylightModel::AlmanacClearSky,
        sky_only_lux: parts.map(|parts| parts.sky),
        facing_sun_lux: parts.map(|parts| parts.facing_sun),
    })
}
