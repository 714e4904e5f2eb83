//! `sunDay`: rise, noon, set and civil twilight.

use crate::light::sun::observer;
use crate::light::sun_working::day as working;
use crate::plain::iso_8601::{moment_text, read_date};
use crate::plain::refusal::Refusal;
use crate::shapes::uncertainty::{UncertaintyRequest, known};
use crate::shapes::working::TermReply;
use glasscall_core::physics::sun::{Observer, sun_position};
use glasscall_core::physics::sun_day as law;
use glasscall_core::quantity::{Moment, UtcOffset};
use glasscall_derive::read;
use glasscall_derive::{FromPlain, ToPlain, Twin};
use serde::{Deserialize, Serialize};
use tsify::Tsify;

/// A place and a local day.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct SunDayRequest {
    /// North positive.
    pub latitude_deg: f64,
    /// East positive.
    pub longitude_deg: f64,
    /// The local date, as `2026-11-25`.
    pub date: String,
    /// Local time less UTC, in minutes; the day is 24 hours at this offset.
    pub offset_minutes: f64,
    /// How well inputs are known, where better than usual.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub uncertainty: Option<UncertaintyRequest>,
    /// Whether to tell how it is worked out, where a few terms tell it whole.
    #[serde(default)]
    pub explain: bool,
}

/// What the sun does to a horizon in a day.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, Serialize, ToPlain, Deserialize, FromPlain, Tsify, Twin,
)]
#[serde(rename_all = "camelCase")]
#[twin(from law::DayKind)]
pub enum DayKindName {
    /// It crosses it.
    Ordinary,
    /// It stays below all day.
    NeverRises,
    /// It stays above all day.
    NeverSets,
}

/// The day; moments in UTC. What falls on another day is absent.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct SunDayReply {
    /// What the day is like.
    pub kind: DayKindName,
    /// First rise of the upper limb, refraction included.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rise: Option<String>,
    /// First set; it may come before the rise.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub set: Option<String>,
    /// Upper transit.
    pub noon: String,
    /// What the day is like to the horizon of civil twilight.
    pub civil_kind: DayKindName,
    /// Centre at 6° below the horizon, going up.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub civil_dawn: Option<String>,
    /// Centre at 6° below the horizon, going down.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub civil_dusk: Option<String>,
    /// Elevation at noon, air apart.
    pub noon_elevation_deg: f64,
    /// Azimuth of the rise.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rise_azimuth_deg: Option<f64>,
    /// Azimuth of the set.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub set_azimuth_deg: Option<f64>,
    /// How it is worked out, term by term, where that was asked and can be told.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub working: Option<Vec<TermReply>>,
}

/// Answers `sunDay`.
///
/// # Errors
///
/// `outOfRange`, `notUnderstood`.
pub fn sun_day(request: &SunDayRequest) -> Result<SunDayReply, Refusal> {
    let observer = observer(request.latitude_deg, request.longitude_deg)?;
    let date = read_date(&request.date, "date")?;
    let offset = read!(UtcOffset::new, request.offset_minutes)?;
    let known = known(request.uncertainty.as_ref())?;
    let day = law::sun_day(observer, date, offset);
    let mut told = SunDayReply {
        kind: day.sun.kind.into(),
        rise: day.sun.up.map(moment_text),
        set: day.sun.down.map(moment_text),
        noon: moment_text(day.noon),
        civil_kind: day.civil.kind.into(),
        civil_dawn: day.civil.up.map(moment_text),
        civil_dusk: day.civil.down.map(moment_text),
        noon_elevation_deg: sun_position(observer, day.noon)
            .direction
            .elevation_degrees(),
        rise_azimuth_deg: day.sun.up.map(|moment| azimuth(observer, moment)),
        set_azimuth_deg: day.sun.down.map(|moment| azimuth(observer, moment)),
        working: None,
    };
    if request.explain {
        told.working = working(request, (&day, &known), &told);
    }
    Ok(told)
}

fn azimuth(observer: Observer, moment: Moment) -> f64 {
    sun_position(observer, moment).direction.azimuth_degrees()
}
