//! What is planned with a case, and what could be bought for it.

use super::Record;
use super::checks::{inside, named, positive};
use crate::case::cover_kit::WareRequest;
use crate::case::order_day::DayOrder;
use crate::case::rings::RingOfferRequest;
use crate::plain::refusal::{At, Refusal};
use crate::shapes::planning::{in_range, tolerance};
use glasscall_core::quantity::{Aperture, FrameRate, Stops};
use glasscall_derive::{FromPlain, ToPlain};
use serde::{Deserialize, Serialize};
use tsify::Tsify;

/// A day that is planned.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct CaseDay {
    /// The owner's name for it, used once.
    pub id: String,
    /// Thread that rings lead to.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub filter_mm: Option<f64>,
    /// Whether set-ups may change places.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub order: Option<DayOrder>,
    /// How far behind the pivot a counterweight would hang.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub counter_arm_mm: Option<f64>,
    /// Where its needs come from.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub needs_from: Option<NeedsFrom>,
    /// The stop of the brightest light.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub brightest_aperture: Option<f64>,
    /// The stop of the darkest light.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub darkest_aperture: Option<f64>,
    /// Steps of light between them.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub step_stops: Option<f64>,
    /// How far off is near enough, either way.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tolerance_stops: Option<f64>,
    /// Whether a polarizer is in.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub polarizer: Option<bool>,
    /// Hour of the clock from which there is shooting.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub from_hour: Option<f64>,
    /// Hour of the clock to which there is shooting.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub to_hour: Option<f64>,
}

/// Where the needs of a day come from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase")]
pub enum NeedsFrom {
    /// Its set-ups.
    SetUps,
    /// A range of light.
    Range,
    /// The clear sky's light at the place, hour by hour.
    Daylight,
}

/// A set-up of a day.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct CaseSetUp {
    /// Id of the day.
    pub day: String,
    /// The owner's name for it, used once in the day.
    pub id: String,
    /// Stops the glass must take.
    pub need_stops: f64,
    /// How far off is near enough, either way.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tolerance_stops: Option<f64>,
    /// Whether a polarizer is in.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub polarizer: Option<bool>,
}

/// A stop or a frame rate a day may ask for.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct CaseWant {
    /// Id of the day.
    pub day: String,
    /// The stop.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub aperture: Option<f64>,
    /// Frames a second.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub frame_rate: Option<f64>,
}

fn stop(given: Option<f64>, field: &str) -> Result<(), Refusal> {
    (given.map(Aperture::from_marking).transpose())
        .at(field)
        .map(|_| ())
}

impl Record for CaseDay {
    fn check(&self, path: &str) -> Result<(), Refusal> {
        let at = |field: &str| format!("{path}.{field}");
        named(&self.id, path)?;
        positive(self.filter_mm, 1000.0, &at("filterMm"))?;
        positive(self.counter_arm_mm, 10_000.0, &at("counterArmMm"))?;
        stop(self.brightest_aperture, &at("brightestAperture"))?;
        stop(self.darkest_aperture, &at("darkestAperture"))?;
        if let Some(step) = self.step_stops {
            in_range(step, 0.1, 10.0, &at("stepStops"))?;
        }
        tolerance(self.tolerance_stops, &at("toleranceStops"))?;
        positive(self.from_hour, 24.0, &at("fromHour"))?;
        positive(self.to_hour, 24.0, &at("toHour"))
    }

    fn name(&self) -> Option<String> {
        Some(self.id.clone())
    }
}

impl Record for CaseSetUp {
    fn check(&self, path: &str) -> Result<(), Refusal> {
        let at = |field: &str| format!("{path}.{field}");
        named(&self.id, path)?;
        Stops::new(self.need_stops).at(&at("needStops"))?;
        tolerance(self.tolerance_stops, &at("toleranceStops")).map(|_| ())
    }

    fn name(&self) -> Option<String> {
        inside(&self.day, &self.id)
    }

    fn belongs_to(&self) -> Option<(&'static str, &'static str, &str)> {
        Some(("days", "day", &self.day))
    }
}

impl Record for CaseWant {
    fn check(&self, path: &str) -> Result<(), Refusal> {
        let at = |field: &str| format!("{path}.{field}");
        stop(self.aperture, &at("aperture"))?;
        let rate = self.frame_rate.map(FrameRate::new).transpose();
        rate.at(&at("frameRate")).map(|_| ())
    }

    fn name(&self) -> Option<String> {
        None
    }

    fn belongs_to(&self) -> Option<(&'static str, &'static str, &str)> {
        Some(("days", "day", &self.day))
    }
}

impl Record for WareRequest {
    fn check(&self, path: &str) -> Result<(), Refusal> {
        named(&self.id, path)?;
        self.offer(path).map(|_| ())
    }

    fn name(&self) -> Option<String> {
        Some(self.id.clone())
    }
}

impl Record for RingOfferRequest {
    fn check(&self, path: &str) -> Result<(), Refusal> {
        self.offer(path).map(|_| ())
    }

    fn name(&self) -> Option<String> {
        None
    }
}
