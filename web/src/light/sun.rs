//! `sun`: where it stands.

use crate::light::sun_working::place as working;
use crate::plain::iso_8601::read_moment;
use crate::plain::refusal::{At, Refusal};
use crate::shapes::uncertainty::{UncertaintyRequest, known};
use crate::shapes::working::TermReply;
use glasscall_core::physics::sun::{Observer, is_up, sun_position};
use glasscall_core::quantity::{Latitude, Longitude, Moment};
use glasscall_core::setup::Location;
use glasscall_derive::{FromPlain, ToPlain};
use serde::{Deserialize, Serialize};
use tsify::Tsify;

/// A place and a moment.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct SunRequest {
    /// North positive.
    pub latitude_deg: f64,
    /// East positive.
    pub longitude_deg: f64,
    /// ISO 8601 with an offset or `Z`.
    pub time: String,
    /// Days of 24 hours after it, whole ones, from −366 to 366: the day of a year
    /// as a number that `solve` can look for; 0 unless said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub days_later: Option<f64>,
    /// How well inputs are known, where better than usual.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub uncertainty: Option<UncertaintyRequest>,
    /// Whether to tell how it is worked out, where a few terms tell it whole.
    #[serde(default)]
    pub explain: bool,
}

/// Where the sun stands.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct SunReply {
    /// Clockwise from true north, [0, 360).
    pub azimuth_deg: f64,
    /// Of the centre above the horizon, air apart.
    pub elevation_deg: f64,
    /// As the air shows it, 1010 hPa and 10 °C; below the horizon the two draw
    /// together.
    pub apparent_elevation_deg: f64,
    /// Whether anything of its disc stands above a level horizon.
    pub is_up: bool,
    /// How it is worked out, term by term, where that was asked and can be told.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub working: Option<Vec<TermReply>>,
}

/// Days before and after a time that are asked for by their number.
const MOST_DAYS: f64 = 366.0;
const SECONDS_OF_A_DAY: f64 = 86_400.0;

/// The moment asked for. A day between two is the nearer: the hour stays.
fn moment_of(request: &SunRequest) -> Result<Moment, Refusal> {
    let time = read_moment(&request.time, "time")?;
    let days = request.days_later.unwrap_or(0.0);
    if !(-MOST_DAYS..=MOST_DAYS).contains(&days) {
        return Err(Refusal::outside("daysLater", days, -MOST_DAYS, MOST_DAYS));
    }
    Ok(time.later_by(SECONDS_OF_A_DAY * days.round()))
}

/// Answers `sun`.
///
/// # Errors
///
/// `outOfRange`, `notUnderstood`.
pub fn sun(request: &SunRequest) -> Result<SunReply, Refusal> {
    let observer = observer(request.latitude_deg, request.longitude_deg)?;
    let moment = moment_of(request)?;
    let known = known(request.uncertainty.as_ref())?;
    let sun = sun_position(observer, moment);
    let mut told = SunReply {
        azimuth_deg: sun.direction.azimuth_degrees(),
        elevation_deg: sun.direction.elevation_degrees(),
        apparent_elevation_deg: sun.apparent_elevation(),
        is_up: is_up(sun.direction),
        working: None,
    };
    if request.explain {
        told.working = working(request, (moment, &known), &told);
    }
    Ok(told)
}

/// Someone at sea level there.
pub(crate) fn observer(latitude: f64, longitude: f64) -> Result<Observer, Refusal> {
    let place = Location {
        latitude: Latitude::new(latitude).at("latitudeDeg")?,
        longitude: Longitude::new(longitude).at("longitudeDeg")?,
    };
    Ok(Observer::at(place))
}
