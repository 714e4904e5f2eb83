//! `dayNeeds`: what the glass must take over a day's lights, lenses and wishes.

use super::needs_working::working;
use crate::light::daylight::FacingName;
use crate::light::sun::observer;
use crate::plain::iso_8601::{moment_text, read_date};
use crate::plain::refusal::{At, Refusal};
use crate::shapes::planning::in_range;
use crate::shapes::settings::SettingsRequest;
use crate::shapes::working::TermReply;
use glasscall_core::answer::day_light::{DayOfLight, day_light};
use glasscall_core::answer::day_needs::{Day, DayNeed, day_needs as core_answer, lights_between};
use glasscall_core::physics::daylight::Facing;
use glasscall_core::quantity::{Aperture, Bounds, FrameRate, Moment, Stops, UtcOffset};
use glasscall_core::setup::Settings;
use glasscall_derive::{FromPlain, ToPlain};
use serde::{Deserialize, Serialize};
use tsify::Tsify;

/// The most lights, and the most of every other list.
const MAX_LIGHTS: usize = 100;
const MAX_OTHERS: usize = 60;
/// A range of light is looked at in whole stops unless said otherwise.
const USUAL_STEP: f64 = 1.0;

/// A day as it is planned. A list left out holds what `shot` says.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct DayNeedsRequest {
    /// What the light is read for; its stop is the brightest light.
    pub reading: SettingsRequest,
    /// The stop of the darkest light; left out there is one light.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub darkest_aperture: Option<f64>,
    /// Steps from the brightest to the darkest, 0.1 to 10 stops; 1 unless said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub step_stops: Option<f64>,
    /// The stop and frame rate most wanted, and what else does not change.
    pub shot: SettingsRequest,
    /// The stops of the lights, where they are known one by one; then the
    /// reading's stop and the darkest are not used.
    #[serde(default)]
    pub lights: Vec<f64>,
    /// The clear sky's light instead, hour by hour; then no other light is used.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sky: Option<DaySkyRequest>,
    /// The stops wanted.
    #[serde(default)]
    pub wanted: Vec<f64>,
    /// The frame rates wanted.
    #[serde(default)]
    pub frame_rates: Vec<f64>,
    /// The lenses; a stop wider than one has is taken to be its widest.
    #[serde(default)]
    pub lenses: Vec<NeedLensRequest>,
    /// Whether to tell how it is worked out, where a few terms tell it whole.
    #[serde(default)]
    pub explain: bool,
}

/// The clear sky over a local day.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct DaySkyRequest {
    /// North positive.
    pub latitude_deg: f64,
    /// East positive.
    pub longitude_deg: f64,
    /// The local date, as `2026-11-25`.
    pub date: String,
    /// Local time less UTC, in minutes.
    pub offset_minutes: f64,
    /// From this hour of the clock, 0 to 24.
    pub from_hour: f64,
    /// To this one.
    pub to_hour: f64,
    /// What is lit; level ground unless said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub facing: Option<FacingName>,
}

impl DaySkyRequest {
    fn lights(&self, reading: Settings) -> Result<Vec<(Moment, Aperture)>, Refusal> {
        let hour = |given: f64, field: &str| in_range(given, 0.0, 24.0, &format!("sky.{field}"));
        let day = DayOfLight {
            observer: observer(self.latitude_deg, self.longitude_deg)
                .map_err(|refusal| refusal.inside("sky"))?,
            date: read_date(&self.date, "sky.date")?,
            offset: UtcOffset::new(self.offset_minutes).at("sky.offsetMinutes")?,
            from_hour: hour(self.from_hour, "fromHour")?,
            to_hour: hour(self.to_hour, "toHour")?,
            facing: self.facing.map_or(Facing::Level, Facing::from),
        };
        Ok(day_light(&day, reading))
    }
}

/// A lens of the day.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct NeedLensRequest {
    /// The owner's name for it.
    pub id: String,
    /// Its widest stop, where known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub widest_aperture: Option<f64>,
}

/// The needs of the day.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct DayNeedsReply {
    /// What the glass must take, smallest first.
    pub needs: Vec<DayNeedReply>,
    /// Where there is too little light: negative, glass or none.
    pub too_dark: Vec<DayNeedReply>,
    /// The lights of the sky, in the order `light` counts; absent where none was
    /// asked for.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub lights: Option<Vec<DayLightReply>>,
    /// How it is worked out, term by term, where that was asked and can be told.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub working: Option<Vec<TermReply>>,
}

/// The light of one hour.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct DayLightReply {
    /// In UTC.
    pub time: String,
    /// The stop it reads.
    pub aperture: f64,
}

/// One need.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct DayNeedReply {
    /// Stops the glass must take.
    pub stops: f64,
    /// The ways of shooting that need it.
    pub ways: Vec<DayWayReply>,
}

/// One way of shooting.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct DayWayReply {
    /// The stop the light reads.
    pub light_aperture: f64,
    /// Place of the light, brightest first or as listed.
    pub light: usize,
    /// The stop shot at.
    pub aperture: f64,
    /// Frames a second.
    pub frame_rate: f64,
    /// Id of the lens; absent where none was named.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub lens: Option<String>,
}

/// Answers `dayNeeds`.
///
/// # Errors
///
/// `outOfRange`, `missing`, `oneTooMany`, `tooMany`.
pub fn day_needs(request: &DayNeedsRequest) -> Result<DayNeedsReply, Refusal> {
    for (list, given, most) in [
        ("lights", request.lights.len(), MAX_LIGHTS),
        ("wanted", request.wanted.len(), MAX_OTHERS),
        ("frameRates", request.frame_rates.len(), MAX_OTHERS),
        ("lenses", request.lenses.len(), MAX_OTHERS),
    ] {
        if given > most {
            return Err(Refusal::too_many(list, given, most));
        }
    }
    let reading = request.reading.settings("reading")?;
    let shot = request.shot.settings("shot")?;
    let sky = (request.sky.as_ref())
        .map(|sky| sky.lights(reading))
        .transpose()?;
    let lights = match &sky {
        Some(sky) => sky.iter().map(|(_, aperture)| *aperture).collect(),
        None => request.lights_of(reading.aperture)?,
    };
    let wanted = listed(
        &request.wanted,
        shot.aperture,
        "wanted",
        Aperture::from_marking,
    )?;
    let rates = listed(
        &request.frame_rates,
        shot.frame_rate,
        "frameRates",
        FrameRate::new,
    )?;
    let lenses: Vec<Option<Aperture>> = (request.lenses.iter().enumerate())
        .map(|(at, lens)| {
            (lens.widest_aperture.map(Aperture::engraved).transpose())
                .at(&format!("lenses[{at}].widestAperture"))
        })
        .collect::<Result<_, _>>()?;
    let found = core_answer(&Day {
        reading,
        lights: &lights,
        shot,
        wanted: &wanted,
        rates: &rates,
        lenses: &lenses,
    })
    .at("frameRates")?;
    let reply = |need: DayNeed| DayNeedReply {
        stops: need.stops.stops(),
        ways: (need.ways.iter())
            .map(|way| DayWayReply {
                light_aperture: lights[way.light].number(),
                light: way.light,
                aperture: way.stop.number(),
                frame_rate: rates[way.rate].per_second(),
                lens: way.lens.map(|lens| request.lenses[lens].id.clone()),
            })
            .collect(),
    };
    let (needs, too_dark) = found
        .into_iter()
        .partition(|need| need.stops >= Stops::ZERO);
    let all = |list: Vec<DayNeed>| list.into_iter().map(reply).collect();
    let mut told = DayNeedsReply {
        needs: all(needs),
        too_dark: all(too_dark),
        lights: sky.map(|sky| {
            let told = sky.into_iter().map(|(moment, aperture)| DayLightReply {
                time: moment_text(moment),
                aperture: aperture.number(),
            });
            told.collect()
        }),
        working: None,
    };
    if request.explain {
        told.working = working((reading, shot), &told);
    }
    Ok(told)
}

/// A list, or the one value that stands for it.
fn listed<T>(
    given: &[f64],
    else_: T,
    list: &str,
    read: impl Fn(f64) -> Result<T, glasscall_core::quantity::OutOfRange>,
) -> Result<Vec<T>, Refusal> {
    if given.is_empty() {
        return Ok(vec![else_]);
    }
    (given.iter().enumerate())
        .map(|(at, &given)| read(given).at(&format!("{list}[{at}]")))
        .collect()
}

impl DayNeedsRequest {
    fn lights_of(&self, brightest: Aperture) -> Result<Vec<Aperture>, Refusal> {
        let Some(darkest) = self.darkest_aperture.filter(|_| self.lights.is_empty()) else {
            return listed(&self.lights, brightest, "lights", Aperture::from_marking);
        };
        let given = darkest;
        let darkest = Aperture::from_marking(given).at("darkestAperture")?;
        let step = self.step_stops.unwrap_or(USUAL_STEP);
        let step = Stops::new(in_range(step, 0.1, 10.0, "stepStops")?).at("stepStops")?;
        if darkest.index() > brightest.index() {
            return Err(Refusal::outside(
                "darkestAperture",
                given,
                Bounds::APERTURE.min,
                brightest.number(),
            ));
        }
        Ok(lights_between(brightest, darkest, step))
    }
}
