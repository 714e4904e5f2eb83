//! `drift`: when the next swap comes.

use super::drift_working::{Made, working};
use crate::exposure::open_up::{InPlace, LensRequest, in_place, ring};
use crate::light::sun::observer;
use crate::plain::iso_8601::{moment_text, read_moment};
use crate::plain::refusal::{At, Code, Refusal};
use crate::shapes::kit::{kit, pieces_named, rig, wheel_positions};
use crate::shapes::piece::PieceRequest;
use crate::shapes::placed::{PlacedReply, placed};
use crate::shapes::rig::RigRequest;
use crate::shapes::settings::{SettingsRequest, shutter};
use crate::shapes::uncertainty::{self, UncertaintyReply, UncertaintyRequest, known};
use crate::shapes::working::TermReply;
use glasscall_core::answer::drift::{Drift, DriftQuestion, Swap, drift as follow};
use glasscall_core::answer::light_trend::{TELLS_WITHIN, TimedReading, Trend};
use glasscall_core::answer::open_up::Question;
use glasscall_core::physics::exposure::change_but_iris;
use glasscall_core::quantity::{Aperture, Density, ExposureIndex, FrameRate, Moment, Stops};
use glasscall_core::search::stack::Stack;
use glasscall_core::setup::{Piece, Rig, Settings, WheelPosition};
use glasscall_derive::{FromPlain, ToPlain};
use serde::{Deserialize, Serialize};
use tsify::Tsify;

/// Readings a trend is made of, at most.
const MAX_READINGS: usize = 200;
/// How far ahead is looked unless said: a light that is read now says little
/// about more than three hours from now.
const USUAL_SPAN: f64 = 3.0 * 3600.0;
/// How far ahead may be asked.
const LONGEST_SPAN: f64 = 24.0 * 3600.0;

/// Timed readings, a shot, and the glass at hand.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct DriftRequest {
    /// Two or more at different times; one is enough with a place.
    pub readings: Vec<TimedReadingRequest>,
    /// What to shoot at.
    pub shot: SettingsRequest,
    /// The lens; without it the light is over when clear glass is too much.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lens: Option<LensRequest>,
    /// The pieces in the case.
    #[serde(default)]
    pub kit: Vec<PieceRequest>,
    /// The rig.
    #[serde(default)]
    pub rig: RigRequest,
    /// Densities of the internal wheel's positions.
    #[serde(default)]
    pub wheel: Vec<f64>,
    /// Infrared densities of those positions, in the same order; one that is
    /// missing or null is taken to stop none.
    #[serde(default)]
    pub wheel_infrared: Vec<Option<f64>>,
    /// What is in the slots now.
    #[serde(default)]
    pub in_place: Vec<InPlace>,
    /// Ids of pieces that must be in.
    #[serde(default)]
    pub keep: Vec<String>,
    /// Where the sun is to be followed from: with it under 15° at any time from
    /// the first reading to `until`, and with one reading only, the readings
    /// shift the clear sky's own curve instead of making a straight line.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub place: Option<PlaceRequest>,
    /// What to fit, whatever the sun; `clearSky` needs a place.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub model: Option<DriftModel>,
    /// How well inputs are known, where better than usual.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub uncertainty: Option<UncertaintyRequest>,
    /// How far to look, ISO 8601; three hours after the last reading unless
    /// said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub until: Option<String>,
    /// Whether to tell how it is worked out, where a few terms tell it whole.
    #[serde(default)]
    pub explain: bool,
}

/// One reading and when it was taken; what is left out is as in the shot.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct TimedReadingRequest {
    /// ISO 8601 with an offset or `Z`.
    pub time: String,
    /// Aperture number; a label such as 2.8 stands for its exact value.
    pub aperture: f64,
    /// Exposure index.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub exposure_index: Option<f64>,
    /// Frames a second.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub frame_rate: Option<f64>,
    /// Shutter angle in degrees.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub shutter_angle_deg: Option<f64>,
    /// Exposure time in seconds.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub shutter_seconds: Option<f64>,
    /// Ids of the pieces read through; none for a bare reading.
    #[serde(default)]
    pub through: Vec<String>,
    /// Density of the internal wheel's position it was read through; 0 unless
    /// said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wheel_density: Option<f64>,
}

/// A place on Earth.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct PlaceRequest {
    /// North positive.
    pub latitude_deg: f64,
    /// East positive.
    pub longitude_deg: f64,
}

/// The trend and what it brings.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct DriftReply {
    /// What the readings were fitted to.
    pub model: DriftModel,
    /// How fast it brightens at the last reading; negative when it fades.
    pub stops_per_hour: f64,
    /// Half of the 95 % interval of that; absent with a place, whose curve is
    /// given.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stops_per_hour_interval: Option<f64>,
    /// Half of the 95 % interval of the light itself at the last reading.
    pub interval_stops: f64,
    /// What the glass must take at the last reading.
    pub need_stops: f64,
    /// What to have in from the last reading on; absent when nothing fits.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub start: Option<StackReply>,
    /// The swaps, in order.
    pub swaps: Vec<SwapReply>,
    /// When it is over: the least glass, the lens wide open, and still too
    /// little. Absent when that does not come by `until`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub ends_at: Option<String>,
    /// Half of the 95 % interval of that; absent while the light stands still.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub ends_give_or_take_minutes: Option<f64>,
    /// How many more readings are needed before any of this decides anything: 2
    /// while the light at the first swap is not known to half a stop, else 0.
    pub readings_needed: u8,
    /// Until when a straight line holds to half a stop should it be dusk; absent
    /// for the clear sky's curve.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub line_holds_until: Option<String>,
    /// How far was looked.
    pub until: String,
    /// How it is worked out, term by term, where that was asked and can be told.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub working: Option<Vec<TermReply>>,
}

/// What the readings were fitted to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase")]
pub enum DriftModel {
    /// A straight line in stops.
    Straight,
    /// The clear sky's curve at the place.
    ClearSky,
}

/// What is in the slots.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct StackReply {
    /// The filled slots, from the lens outward.
    pub slots: Vec<PlacedReply>,
    /// Density of the wheel's position; absent without a wheel.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub wheel: Option<f64>,
    /// What it leaves over when it goes in; positive is over-exposed.
    pub left_over_stops: f64,
    /// How well that is known, light and glass together.
    pub uncertainty: UncertaintyReply,
}

/// One swap.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct SwapReply {
    /// In UTC.
    pub time: String,
    /// Half of the 95 % interval of the time; absent while the light stands
    /// still.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub give_or_take_minutes: Option<f64>,
    /// What the glass must take then.
    pub need_stops: f64,
    /// What was in.
    pub from: Vec<PlacedReply>,
    /// What goes in.
    pub to: Vec<PlacedReply>,
    /// The wheel's density before; absent without a wheel.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub from_wheel: Option<f64>,
    /// The wheel's density after.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub to_wheel: Option<f64>,
    /// What the new stack leaves over; positive is over-exposed.
    pub left_over_stops: f64,
}

/// The glass at hand, read once.
struct Glass {
    kit: Vec<Piece>,
    rig: Rig,
    wheel: Vec<WheelPosition>,
}

/// Answers `drift`.
///
/// # Errors
///
/// Those of `openUp`; `missing` for too few readings, `duplicate` for readings
/// that are all of one time, `outOfRange` for a place without daylight at a
/// reading and for an `until` before the last reading or a day after it.
pub fn drift(request: &DriftRequest) -> Result<DriftReply, Refusal> {
    let glass = Glass {
        kit: kit(&request.kit)?,
        rig: rig(&request.rig)?,
        wheel: wheel_positions(&request.wheel, &request.wheel_infrared)?,
    };
    let shot = request.shot.settings("shot")?;
    let readings = readings(request, &glass.kit, shot)?;
    let from = last(request, &readings)?;
    let until = until(request, from)?;
    let known = known(request.uncertainty.as_ref())?;
    let trend = trend(request, &readings, until)?.read_to(known.reading);
    let keep = pieces_named(&glass.kit, &request.keep, "keep")?;
    let in_place = in_place(&glass.kit, &glass.rig, &request.in_place)?;
    let ring = ring(request.lens.as_ref())?;
    let answer = follow(&DriftQuestion {
        trend,
        open_up: Question {
            reading: shot,
            through: &[],
            shot,
            widest: ring.widest,
            behind_ring: ring.behind,
            kit: &glass.kit,
            rig: &glass.rig,
            wheel: &glass.wheel,
            in_place: &in_place,
            keep: &keep,
            limit: 1,
            known,
            fit: None,
        },
        from,
        until,
    });
    let told = reply(&glass, trend, [from, until], &answer);
    let place = (request.place.as_ref())
        .map(|place| observer(place.latitude_deg, place.longitude_deg))
        .transpose()?;
    let made = Made {
        readings: &readings,
        observer: place,
        last: from,
        wanted: shot.aperture,
        answer: &answer,
        kit: &glass.kit,
    };
    Ok(DriftReply {
        working: (request.explain).then(|| working(&made, &told)).flatten(),
        ..told
    })
}

fn readings(
    request: &DriftRequest,
    kit: &[Piece],
    shot: Settings,
) -> Result<Vec<TimedReading>, Refusal> {
    if request.readings.len() > MAX_READINGS {
        let given = request.readings.len();
        return Err(Refusal::too_many("readings", given, MAX_READINGS));
    }
    let reading = |(at, given): (usize, &TimedReadingRequest)| {
        let path = format!("readings[{at}]");
        let settings = given.settings(&path, shot)?;
        let through = pieces_named(kit, &given.through, &format!("{path}.through"))?;
        let wheel = Density::new(given.wheel_density.unwrap_or(0.0));
        let wheel = wheel.at(&format!("{path}.wheelDensity"))?.stops();
        let pieces = through.iter().map(|&piece| kit[piece].loss().stops);
        let taken: Stops = pieces.chain(core::iter::once(wheel)).sum();
        let change = change_but_iris(settings, shot).at(&path)?;
        let index = Stops::new(settings.aperture.index()).at(&format!("{path}.aperture"))?;
        Ok(TimedReading {
            moment: read_moment(&given.time, &format!("{path}.time"))?,
            light: index + taken + change,
        })
    };
    request.readings.iter().enumerate().map(reading).collect()
}

impl TimedReadingRequest {
    fn settings(&self, path: &str, shot: Settings) -> Result<Settings, Refusal> {
        let at = |field: &str| format!("{path}.{field}");
        let own = shutter(self.shutter_angle_deg, self.shutter_seconds, &at)?;
        let index = self.exposure_index.map(ExposureIndex::new).transpose();
        let rate = self.frame_rate.map(FrameRate::new).transpose();
        Ok(Settings {
            aperture: Aperture::from_marking(self.aperture).at(&at("aperture"))?,
            exposure_index: index
                .at(&at("exposureIndex"))?
                .unwrap_or(shot.exposure_index),
            frame_rate: rate.at(&at("frameRate"))?.unwrap_or(shot.frame_rate),
            shutter: own.unwrap_or(shot.shutter),
        })
    }
}

fn trend(
    request: &DriftRequest,
    readings: &[TimedReading],
    until: Moment,
) -> Result<Trend, Refusal> {
    let straight = || {
        if readings.len() < 2 {
            return Err(Refusal::new(Code::Missing, "readings[1]"));
        }
        Trend::straight(readings).ok_or_else(|| Refusal::new(Code::Duplicate, "readings[1].time"))
    };
    let Some(place) = &request.place else {
        return match request.model {
            Some(DriftModel::ClearSky) => Err(Refusal::new(Code::Missing, "place")),
            _ => straight(),
        };
    };
    let observer = observer(place.latitude_deg, place.longitude_deg)
        .map_err(|refusal| refusal.inside("place"))?;
    let trend = match request.model {
        Some(DriftModel::Straight) => return straight(),
        Some(DriftModel::ClearSky) => Trend::clear_sky(readings, observer),
        None => Trend::by_the_sun(readings, observer, until),
    };
    trend.ok_or_else(|| Refusal::new(Code::OutOfRange, "readings[0].time"))
}

/// The latest reading.
fn last(request: &DriftRequest, readings: &[TimedReading]) -> Result<Moment, Refusal> {
    let least = if request.place.is_some() { 1 } else { 2 };
    if readings.len() < least {
        let field = format!("readings[{}]", readings.len());
        return Err(Refusal::new(Code::Missing, &field));
    }
    let first = readings[0].moment;
    let later = |latest: Moment, reading: &TimedReading| {
        if reading.moment > latest {
            reading.moment
        } else {
            latest
        }
    };
    Ok(readings.iter().fold(first, later))
}

fn until(request: &DriftRequest, from: Moment) -> Result<Moment, Refusal> {
    let Some(text) = &request.until else {
        return Ok(from.later_by(USUAL_SPAN));
    };
    let until = read_moment(text, "until")?;
    let span = until.seconds_since(from);
    if (0.0..=LONGEST_SPAN).contains(&span) {
        return Ok(until);
    }
    Err(Refusal::new(Code::OutOfRange, "until").given(text))
}

impl Glass {
    fn placed(&self, stack: &Stack) -> Vec<PlacedReply> {
        placed(&self.kit, &self.rig, &stack.slots)
    }

    fn wheel_of(&self, stack: &Stack) -> Option<f64> {
        stack
            .wheel
            .and_then(|at| self.wheel.get(at))
            .map(|position| position.density.density())
    }
}

fn reply(glass: &Glass, trend: Trend, [from, until]: [Moment; 2], answer: &Drift) -> DriftReply {
    let swap = |swap: &Swap| SwapReply {
        time: moment_text(swap.moment),
        give_or_take_minutes: swap.give_or_take.map(|seconds| seconds / 60.0),
        need_stops: swap.need.stops(),
        from: glass.placed(&swap.from),
        to: glass.placed(&swap.to),
        from_wheel: glass.wheel_of(&swap.from),
        to_wheel: glass.wheel_of(&swap.to),
        left_over_stops: swap.to.left_over.stops(),
    };
    DriftReply {
        model: if trend.follows_sky() {
            DriftModel::ClearSky
        } else {
            DriftModel::Straight
        },
        stops_per_hour: trend.rate_at(from).unwrap_or_default(),
        stops_per_hour_interval: trend.rate_interval(),
        interval_stops: trend.interval_at(from).stops(),
        need_stops: answer.need.map_or(0.0, Stops::stops),
        start: answer.start.as_ref().map(|stack| StackReply {
            slots: glass.placed(stack),
            wheel: glass.wheel_of(stack),
            left_over_stops: stack.left_over.stops(),
            uncertainty: uncertainty::reply(answer.start_known, &glass.kit),
        }),
        swaps: answer.swaps.iter().map(swap).collect(),
        ends_at: answer.ends.map(moment_text),
        ends_give_or_take_minutes: answer.ends_give_or_take.map(|seconds| seconds / 60.0),
        readings_needed: if answer.decides.stops() > TELLS_WITHIN {
            2
        } else {
            0
        },
        line_holds_until: trend.holds_until(from).map(moment_text),
        until: moment_text(until),
        working: None,
    }
}
