//! Sensor, lens and stop as requests give them.

use crate::refusal::{At, Refusal};
use glasscall_core::physics::pupil::{Pupil, PupilPosition};
use glasscall_core::quantity::{Aperture, FocalLength, Length, Span, Squeeze};
use glasscall_core::setup::{View, ViewRecord};
use serde::{Deserialize, Serialize};
use tsify::Tsify;

/// The active part of the sensor.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct SensorRequest {
    /// Width in mm.
    pub width_mm: f64,
    /// Height in mm.
    pub height_mm: f64,
}

/// How far the entrance pupil lies behind the rim, in mm.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, Tsify)]
#[serde(untagged)]
pub enum PupilRequest {
    /// One figure for both axes.
    Both(f64),
    /// Two for an anamorphic lens.
    EachAxis(PupilAxes),
}

/// A pupil position for each axis.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct PupilAxes {
    /// For rays fanning out sideways, mm behind the rim.
    pub horizontal_mm: f64,
    /// For rays fanning out up and down, mm behind the rim.
    pub vertical_mm: f64,
}

/// The fields every question about glass in front of a lens has.
pub(crate) struct LensFields<'a> {
    pub(crate) sensor: &'a SensorRequest,
    pub(crate) squeeze: f64,
    pub(crate) shift_x_mm: f64,
    pub(crate) shift_y_mm: f64,
    pub(crate) focal_length_mm: f64,
    pub(crate) f_number: f64,
    pub(crate) pupil_behind_rim_mm: &'a PupilRequest,
}

/// A lens behind its frame, ready for the laws.
pub(crate) struct LensView {
    pub(crate) view: View,
    pub(crate) pupil: Pupil,
    pub(crate) aperture: Aperture,
}

pub(crate) const fn one() -> f64 {
    1.0
}

impl LensFields<'_> {
    pub(crate) fn lens(&self) -> Result<LensView, Refusal> {
        let squeeze = Squeeze::new(self.squeeze).at("squeeze")?;
        let focal_length = FocalLength::new(self.focal_length_mm).at("focalLengthMm")?;
        let aperture = Aperture::from_marking(self.f_number).at("fNumber")?;
        let record = ViewRecord {
            width: Span::new(self.sensor.width_mm).at("sensor.widthMm")?,
            height: Span::new(self.sensor.height_mm).at("sensor.heightMm")?,
            shift_x: Length::new(self.shift_x_mm).at("shiftXMm")?,
            shift_y: Length::new(self.shift_y_mm).at("shiftYMm")?,
            focal_length,
            squeeze,
        };
        let view = View::new(record).at("focalLengthMm")?;
        let position = position(self.pupil_behind_rim_mm)?;
        Ok(LensView {
            view,
            pupil: Pupil::new(focal_length, aperture, squeeze, position),
            aperture,
        })
    }
}

fn position(given: &PupilRequest) -> Result<PupilPosition, Refusal> {
    Ok(match given {
        PupilRequest::Both(behind) => Length::new(*behind).at("pupilBehindRimMm")?.into(),
        PupilRequest::EachAxis(axes) => PupilPosition {
            horizontal: Length::new(axes.horizontal_mm).at("pupilBehindRimMm.horizontalMm")?,
            vertical: Length::new(axes.vertical_mm).at("pupilBehindRimMm.verticalMm")?,
        },
    })
}
