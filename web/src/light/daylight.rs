//! `daylight`: light of the clear sky before anyone has read it.

use super::daylight_working::working;
use crate::plain::refusal::{At, Refusal};
use crate::shapes::uncertainty::{self, UncertaintyReply, UncertaintyRequest, known};
use crate::shapes::working::TermReply;
use glasscall_core::answer::sky_light::{causes, known_to};
use glasscall_core::physics::daylight::{
    Facing, HOLDS, clear_sky, falls_on, open_shade, parts, spread,
};
use glasscall_core::physics::exposure::{FLAT_RECEPTOR, ev_of_illuminance};
use glasscall_core::quantity::Elevation;
use glasscall_derive::{FromPlain, ToPlain, Twin, read};
use serde::{Deserialize, Serialize};
use tsify::Tsify;

/// The sun's height.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct DaylightRequest {
    /// Above the horizon, air apart; −18 to 90.
    pub sun_elevation_deg: f64,
    /// What is lit; level ground unless said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub facing: Option<FacingName>,
    /// How well inputs are known, where better than usual.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub uncertainty: Option<UncertaintyRequest>,
    /// Whether to tell how it is worked out, where a few terms tell it whole.
    #[serde(default)]
    pub explain: bool,
}

/// What the light falls on.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, Serialize, ToPlain, Deserialize, FromPlain, Tsify, Twin,
)]
#[serde(rename_all = "camelCase")]
#[twin(into Facing)]
pub enum FacingName {
    /// Level ground.
    Level,
    /// A card or a face turned straight at the sun.
    Sun,
    /// A standing face or wall on the sun's side.
    Upright,
    /// The same with its back to the sun.
    UprightAway,
}

/// Clear-sky light on level ground.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
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
    /// What the surface asked about gets; as `illuminanceLux` for level ground.
    pub facing_lux: f64,
    /// The same as an exposure value at EI 100.
    pub facing_ev100: f64,
    /// How much more that is than level ground gets.
    pub over_level_stops: f64,
    /// How well the light is known, sky and sun's height together.
    pub uncertainty: UncertaintyReply,
    /// From the sky alone, as open shade gets it, by another model and never
    /// more than sun and sky together; absent with the sun down.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub sky_only_lux: Option<f64>,
    /// From the sun alone on a card that faces it, by that model.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub facing_sun_lux: Option<f64>,
    /// How it is worked out, term by term, where that was asked and can be told.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub working: Option<Vec<TermReply>>,
}

/// Where the figures come from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
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
    let sun = read!(Elevation::new of HOLDS, request.sun_elevation_deg)?;
    let light = clear_sky(sun).at(field)?;
    let parts = parts(sun);
    let lit = falls_on(sun, request.facing.map_or(Facing::Level, Facing::from)).at(field)?;
    let known = known(request.uncertainty.as_ref())?;
    let shade = open_shade(sun).at(field)?;
    let told = DaylightReply {
        illuminance_lux: light.lux(),
        ev100: ev_of_illuminance(light, FLAT_RECEPTOR).at(field)?.ev(),
        spread_stops: spread(sun).stops(),
        model: DaylightModel::AlmanacClearSky,
        facing_lux: lit.lux(),
        facing_ev100: ev_of_illuminance(lit, FLAT_RECEPTOR).at(field)?.ev(),
        over_level_stops: (lit.lux() / light.lux()).log2(),
        uncertainty: uncertainty::reply(known_to(sun, &known), &[]),
        sky_only_lux: parts.map(|_| shade.lux()),
        facing_sun_lux: parts.map(|parts| parts.facing_sun),
        working: None,
    };
    let explained = request.explain.then(|| {
        let together = known_to(sun, &known).stops;
        working(request, &told, (sun, causes(sun, &known), together))
    });
    Ok(DaylightReply {
        working: explained.flatten(),
        ..told
    })
}
