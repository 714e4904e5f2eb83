//! `sizes`: the sizes of the trade, each with where it comes from.

use crate::plain::refusal::Refusal;
use glasscall_core::setup::sizes::{
    FORMATS, Format, PANELS, PANELS_SOURCE, PanelSize, THREADS, THREADS_SOURCE, ThreadSize,
};
use glasscall_derive::{FromPlain, ToPlain};
use serde::{Deserialize, Serialize};
use tsify::Tsify;

/// Asks for nothing in particular.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct SizesRequest {}

/// Starting values; a user's own measure outranks them all.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct SizesReply {
    /// Filter threads.
    pub threads: Vec<ThreadReply>,
    /// Filter panels and round drop-ins.
    pub panels: Vec<PanelReply>,
    /// Sensor and film formats.
    pub sensors: Vec<FormatReply>,
}

/// A filter thread.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct ThreadReply {
    /// Nominal diameter, mm.
    pub thread_mm: f64,
    /// Usual clear diameter of a mount in it, mm.
    pub clear_diameter_mm: f64,
    /// Where the figures come from.
    pub source: String,
}

/// A filter panel or a round drop-in.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct PanelReply {
    /// What it is called.
    pub name: String,
    /// Whether it is round.
    pub round: bool,
    /// Width or diameter, mm.
    pub width_mm: f64,
    /// Height or diameter, mm.
    pub height_mm: f64,
    /// Usual clear width or diameter, mm.
    pub clear_width_mm: f64,
    /// Usual clear height or diameter, mm.
    pub clear_height_mm: f64,
    /// Where the figures come from.
    pub source: String,
}

/// A sensor or film format.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct FormatReply {
    /// Its generic name.
    pub name: String,
    /// Width, mm.
    pub width_mm: f64,
    /// Height, mm.
    pub height_mm: f64,
    /// Where the figures come from.
    pub source: String,
}

/// Answers `sizes`.
///
/// # Errors
///
/// None; the request can only be well formed.
pub fn sizes(_: &SizesRequest) -> Result<SizesReply, Refusal> {
    Ok(SizesReply {
        threads: THREADS.iter().map(ThreadReply::from).collect(),
        panels: PANELS.iter().map(PanelReply::from).collect(),
        sensors: FORMATS.iter().map(FormatReply::from).collect(),
    })
}

impl From<&ThreadSize> for ThreadReply {
    fn from(size: &ThreadSize) -> Self {
        Self {
            thread_mm: size.thread,
            clear_diameter_mm: size.clear,
            source: THREADS_SOURCE.to_owned(),
        }
    }
}

impl From<&PanelSize> for PanelReply {
    fn from(size: &PanelSize) -> Self {
        Self {
            name: size.name.to_owned(),
            round: size.is_round,
            width_mm: size.width,
            height_mm: size.height,
            clear_width_mm: size.clear_width,
            clear_height_mm: size.clear_height,
            source: PANELS_SOURCE.to_owned(),
        }
    }
}

impl From<&Format> for FormatReply {
    fn from(format: &Format) -> Self {
        Self {
            name: format.name.to_owned(),
            width_mm: format.width,
            height_mm: format.height,
            source: format.source.to_owned(),
        }
    }
}
