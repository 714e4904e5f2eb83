//! `skyAims` and `skyHours`: where and when the sky darkens most.

use crate::light::sun::observer;
use crate::plain::iso_8601::{moment_text, read_date};
use crate::plain::refusal::Refusal;
use crate::shapes::aim::{max_polarization, sky};
use glasscall_core::answer::sky_plan::{DayOfSky, Prospect, best_aims, darkest_hour, dial, strip};
use glasscall_core::quantity::{Angle, Elevation, UtcOffset};
use glasscall_derive::read;
use glasscall_derive::{FromPlain, ToPlain};
use serde::{Deserialize, Serialize};
use tsify::Tsify;

/// A sun and the height the lens is held at.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct SkyAimsRequest {
    /// Clockwise from true north.
    pub sun_azimuth_deg: f64,
    /// Above the horizon.
    pub sun_elevation_deg: f64,
    /// Of the lens axis, above the horizon.
    pub aim_elevation_deg: f64,
    /// Degree of polarization 90° from the sun; 0.75 unless said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub max_polarization: Option<f64>,
}

/// The dial.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct SkyAimsReply {
    /// Every 10° from north.
    pub aims: Vec<AimReply>,
    /// Azimuths of the darkest, and of one as good that is no neighbour of it.
    pub best_deg: Vec<f64>,
}

/// What one aim offers with the polarizer at its best.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct AimReply {
    /// Of the lens axis.
    pub azimuth_deg: f64,
    /// Lens axis to sun.
    pub angle_from_sun_deg: f64,
    /// Polarized share.
    pub polarization: f64,
    /// Against an unpolarized foreground.
    pub darkening_stops: f64,
}

/// Answers `skyAims`.
///
/// # Errors
///
/// `outOfRange`.
pub fn sky_aims(request: &SkyAimsRequest) -> Result<SkyAimsReply, Refusal> {
    let sky = sky(
        request.sun_azimuth_deg,
        request.sun_elevation_deg,
        request.max_polarization,
    )?;
    let elevation = read!(Elevation::new, request.aim_elevation_deg)?;
    let aim = |(azimuth_deg, prospect): (f64, Prospect)| AimReply {
        azimuth_deg,
        angle_from_sun_deg: prospect.from_sun,
        polarization: prospect.polarization,
        darkening_stops: prospect.darkening.stops(),
    };
    let dial = dial(sky, elevation);
    Ok(SkyAimsReply {
        best_deg: best_aims(&dial),
        aims: dial.into_iter().map(aim).collect(),
    })
}

/// A place, a day and an aim.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct SkyHoursRequest {
    /// North positive.
    pub latitude_deg: f64,
    /// East positive.
    pub longitude_deg: f64,
    /// The local date, as `2026-11-25`.
    pub date: String,
    /// Local time less UTC, in minutes.
    pub offset_minutes: f64,
    /// Of the lens axis, clockwise from true north.
    pub aim_azimuth_deg: f64,
    /// Of the lens axis, above the horizon.
    pub aim_elevation_deg: f64,
    /// Degree of polarization 90° from the sun; 0.75 unless said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub max_polarization: Option<f64>,
}

/// The day strip; empty on a day without sun.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct SkyHoursReply {
    /// Every quarter of an hour with the sun up.
    pub hours: Vec<HourReply>,
    /// Place of the darkest among them; absent on a day without sun.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub best: Option<usize>,
}

/// What one quarter of an hour offers.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct HourReply {
    /// In UTC.
    pub time: String,
    /// Clockwise from true north.
    pub sun_azimuth_deg: f64,
    /// Above the horizon, air apart.
    pub sun_elevation_deg: f64,
    /// Lens axis to sun.
    pub angle_from_sun_deg: f64,
    /// Polarized share.
    pub polarization: f64,
    /// Against an unpolarized foreground.
    pub darkening_stops: f64,
}

/// Answers `skyHours`.
///
/// # Errors
///
/// `outOfRange`, `notUnderstood`.
pub fn sky_hours(request: &SkyHoursRequest) -> Result<SkyHoursReply, Refusal> {
    let day = DayOfSky {
        observer: observer(request.latitude_deg, request.longitude_deg)?,
        date: read_date(&request.date, "date")?,
        offset: read!(UtcOffset::new, request.offset_minutes)?,
        azimuth: read!(Angle::new, request.aim_azimuth_deg)?,
        elevation: read!(Elevation::new, request.aim_elevation_deg)?,
        most: max_polarization(request.max_polarization)?,
    };
    let strip = strip(&day);
    let best = darkest_hour(&strip);
    let hours = strip.into_iter().map(|hour| HourReply {
        time: moment_text(hour.moment),
        sun_azimuth_deg: hour.sun.azimuth_degrees(),
        sun_elevation_deg: hour.sun.elevation_degrees(),
        angle_from_sun_deg: hour.prospect.from_sun,
        polarization: hour.prospect.polarization,
        darkening_stops: hour.prospect.darkening.stops(),
    });
    Ok(SkyHoursReply {
        hours: hours.collect(),
        best,
    })
}
