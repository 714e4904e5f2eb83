//! How well inputs are known, and answers with them.

use crate::plain::refusal::{At, Refusal};
use crate::shapes::placed::KnownBy;
use crate::shapes::planning::in_range;
use glasscall_core::quantity::Stops;
use glasscall_core::setup::{Contribution, Origin, Piece, Uncertainties, Uncertainty};
use glasscall_derive::{FromPlain, ToPlain};
use serde::{Deserialize, Serialize};
use tsify::Tsify;

/// Standard uncertainties to use instead of the usual ones; each is one
/// standard deviation.
#[derive(Debug, Clone, Default, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields, default)]
pub struct UncertaintyRequest {
    /// Of one meter reading; 0.096, an even spread over a third, unless said.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub reading_stops: Option<f64>,
    /// Of a marked density, as a share of it; 0.058 unless said.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub marked_share: Option<f64>,
    /// Of a measured density, as a density; 0.01 unless said.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub measured_density: Option<f64>,
    /// Of a loss stated in stops; 0.19 unless said.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stated_stops: Option<f64>,
    /// Of a polarizer's assumed loss; 0.38 unless said.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub polarizer_stops: Option<f64>,
    /// Of where the edge of a graduated filter stands; 0.5 mm unless said.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub edge_mm: Option<f64>,
    /// Of how far ahead of the rim an opening stands; 0.5 mm unless said.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub opening_mm: Option<f64>,
    /// Of the height of the sun; by clock and place unless said.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub sun_elevation_deg: Option<f64>,
    /// Of the clock, in seconds; 60 unless said.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub clock_seconds: Option<f64>,
    /// Of the place, in degrees over the ground; 0.1 unless said.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub place_deg: Option<f64>,
    /// Of glass that is taken to cost nothing; 0.036 unless said.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub clear_glass_stops: Option<f64>,
    /// Of a clear sky, as a share of its spread; ½ unless said.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub sky_share: Option<f64>,
}

/// How well an answer is known.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct UncertaintyReply {
    /// One standard deviation.
    pub stops: f64,
    /// The largest cause; absent where nothing is uncertain.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub mostly: Option<CauseReply>,
}

/// One cause of an uncertainty.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct CauseReply {
    /// What it is.
    pub what: CauseName,
    /// Id of the piece, where it is one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub piece: Option<String>,
    /// How that piece's loss is known.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub known_by: Option<KnownBy>,
    /// What it does to the answer, one standard deviation.
    pub stops: f64,
}

/// Where an uncertainty comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase")]
pub enum CauseName {
    /// The meter reading, or several.
    Reading,
    /// A piece's loss.
    Piece,
    /// The wheel's position.
    Wheel,
    /// The density of a graduated filter.
    GraduatedDensity,
    /// Where its edge stands.
    GraduatedEdge,
    /// What is not known of the lens: where its pupil is and how it bends.
    Lens,
    /// What one clear sky strays from another.
    ClearSky,
    /// The height of the sun, where that is what was said of it.
    SunHeight,
    /// The clock, by the height of the sun.
    Clock,
    /// The place, by the height of the sun.
    Place,
}

/// The table with what the request replaces.
pub(crate) fn known(given: Option<&UncertaintyRequest>) -> Result<Uncertainties, Refusal> {
    let mut known = Uncertainties::default();
    let Some(given) = given else {
        return Ok(known);
    };
    let at = |name: &str| format!("uncertainty.{name}");
    let share = |value: Option<f64>, most: f64, name: &str| {
        value
            .map(|value| in_range(value, 0.0, most, &at(name)))
            .transpose()
    };
    let stops = |value: Option<f64>, name: &str| {
        share(value, 10.0, name)?
            .map(Stops::new)
            .transpose()
            .at(&at(name))
    };
    let replace = |known: &mut Stops, given: Option<Stops>| {
        if let Some(given) = given {
            *known = given;
        }
    };
    replace(
        &mut known.reading,
        stops(given.reading_stops, "readingStops")?,
    );
    replace(
        &mut known.clear_glass,
        stops(given.clear_glass_stops, "clearGlassStops")?,
    );
    known.sun_degrees = share(given.sun_elevation_deg, 90.0, "sunElevationDeg")?;
    let measured = share(given.measured_density, 3.0, "measuredDensity")?;
    let measured = measured.map(|density| density / core::f64::consts::LOG10_2);
    replace(&mut known.measured, stops(measured, "measuredDensity")?);
    replace(&mut known.stated, stops(given.stated_stops, "statedStops")?);
    replace(
        &mut known.polarizer,
        stops(given.polarizer_stops, "polarizerStops")?,
    );
    for (known, given, most, name) in [
        (
            &mut known.marked_share,
            given.marked_share,
            1.0,
            "markedShare",
        ),
        (&mut known.edge_mm, given.edge_mm, 100.0, "edgeMm"),
        (&mut known.opening_mm, given.opening_mm, 100.0, "openingMm"),
        (
            &mut known.clock_seconds,
            given.clock_seconds,
            86_400.0,
            "clockSeconds",
        ),
        (&mut known.place_degrees, given.place_deg, 180.0, "placeDeg"),
        (&mut known.sky_share, given.sky_share, 10.0, "skyShare"),
    ] {
        if let Some(given) = share(given, most, name)? {
            *known = given;
        }
    }
    Ok(known)
}

/// As a reply tells it; `kit` names the pieces.
pub(crate) fn reply(known: Uncertainty, kit: &[Piece]) -> UncertaintyReply {
    UncertaintyReply {
        stops: known.stops.stops(),
        mostly: known.mostly.map(|most| cause(most, kit)),
    }
}

fn cause(most: Contribution, kit: &[Piece]) -> CauseReply {
    let what = match most.from {
        Origin::Reading => CauseName::Reading,
        Origin::Piece(..) => CauseName::Piece,
        Origin::Wheel => CauseName::Wheel,
        Origin::GraduatedDensity => CauseName::GraduatedDensity,
        Origin::GraduatedEdge => CauseName::GraduatedEdge,
        Origin::Lens => CauseName::Lens,
        Origin::ClearSky => CauseName::ClearSky,
        Origin::SunHeight => CauseName::SunHeight,
        Origin::Clock => CauseName::Clock,
        Origin::Place => CauseName::Place,
    };
    let (piece, known_by) = match most.from {
        Origin::Piece(at, origin) => (
            kit.get(at).map(|piece| piece.record().id.clone()),
            Some(origin.into()),
        ),
        _ => (None, None),
    };
    CauseReply {
        what,
        piece,
        known_by,
        stops: most.stops.stops(),
    }
}
