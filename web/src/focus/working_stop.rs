//! `workingStop`: what a lens becomes with an extender, and focused near.

use super::lens_working;
use crate::plain::refusal::{At, Code, Refusal};
use crate::shapes::distance::{MeasuredFrom, Place};
use crate::shapes::lens::closed;
use crate::shapes::working::TermReply;
use glasscall_core::answer::sky_and_ground::NOT_SEEN;
use glasscall_core::physics::{bellows, extender};
use glasscall_core::quantity::{
    Aperture, Bounds, Extender, FocalLength, Magnification, PupilRatio, Stops,
};
use glasscall_derive::read;
use glasscall_derive::{FromPlain, ToPlain};
use serde::{Deserialize, Serialize};
use tsify::Tsify;

/// A lens as engraved and how it is used.
#[derive(Debug, Clone, Default, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct WorkingStopRequest {
    /// Focal length as engraved.
    pub focal_length_mm: f64,
    /// The number the ring shows; a label such as 2.8 stands for its exact
    /// value. A T-number comes back as a T-number.
    pub aperture: f64,
    /// What an extender (above 1) or focal reducer (below 1) multiplies the focal
    /// length by; 1, none, unless said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub extender: Option<f64>,
    /// Where the lens is focused; or `magnification`. Infinity unless said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub focus_mm: Option<Place>,
    /// Where `focusMm` is counted from.
    #[serde(default)]
    pub measured_from: MeasuredFrom,
    /// Image over subject size, extender included.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub magnification: Option<f64>,
    /// Exit pupil over entrance pupil; 1 unless said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pupil_ratio: Option<f64>,
    /// Whether to tell how it is worked out, where a few terms tell it whole.
    #[serde(default)]
    pub explain: bool,
}

/// The lens as the sensor sees it.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct WorkingStopReply {
    /// Focal length, extender included.
    pub focal_length_mm: f64,
    /// Image over subject size, extender included.
    pub magnification: f64,
    /// What the extender takes; negative for a reducer.
    pub extender_loss_stops: f64,
    /// What focusing near takes, of a lens that moves out as a whole.
    pub close_focus_loss_stops: f64,
    /// Whether that is as much as is seen, a sixth of a stop.
    pub close_focus_shows: bool,
    /// Both together.
    pub loss_stops: f64,
    /// The number with all of it counted, exact.
    pub working_aperture: f64,
    /// The nearest third to it, as `2.8⅓`.
    pub working_label: String,
    /// Entrance pupil; the extender leaves it as it was. True for an f-number.
    pub pupil_diameter_mm: f64,
    /// The number, extender included, that gives the asked one focused this near:
    /// what depth is counted with. Absent beyond any iris.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub at_infinity_for_asked: Option<f64>,
    /// What the ring must show so that the sensor sees the number asked; absent
    /// beyond any iris.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub set_for_asked: Option<f64>,
    /// The nearest third to that.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub set_for_asked_label: Option<String>,
    /// How it is worked out, term by term, where that was asked and can be told.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub working: Option<Vec<TermReply>>,
}

/// Answers `workingStop`.
///
/// # Errors
///
/// `oneTooMany`, `outOfRange`.
pub fn working_stop(request: &WorkingStopRequest) -> Result<WorkingStopReply, Refusal> {
    let focal = read!(FocalLength::new, request.focal_length_mm)?;
    let ring = read!(Aperture::from_marking, request.aperture)?;
    // The pupil is as wide as the lens is engraved.
    let pupil = read!(Aperture::engraved, request.aperture)?;
    let factor = read!(Extender::new, request.extender else 1.0)?;
    let pupils = read!(PupilRatio::new, request.pupil_ratio else 1.0)?;
    let of_lens = magnification(request, focal, factor)?;
    let extended = extender::extended(focal, ring, factor).at("extender")?;
    let close = bellows::loss(of_lens, pupils);
    let loss: Stops = extended.loss + close;
    let working = closed(ring, loss, request.aperture, "aperture")?;
    let set = ring.closed_by(-loss).ok();
    let mut told = WorkingStopReply {
        focal_length_mm: extended.focal.millimetres(),
        magnification: of_lens.ratio() * factor.factor(),
        extender_loss_stops: extended.loss.stops(),
        close_focus_loss_stops: close.stops(),
        close_focus_shows: close.stops() >= NOT_SEEN,
        loss_stops: loss.stops(),
        working_aperture: working.number(),
        working_label: working.label().to_string(),
        pupil_diameter_mm: extender::pupil_diameter(focal, pupil),
        at_infinity_for_asked: ring.closed_by(-close).ok().map(Aperture::number),
        set_for_asked: set.map(Aperture::number),
        set_for_asked_label: set.map(|set| set.label().to_string()),
        working: None,
    };
    if request.explain {
        told.working = lens_working::stop(request, &told, ring.number());
    }
    Ok(told)
}

/// The magnification of the lens alone, which is what its bellows draw out by.
fn magnification(
    request: &WorkingStopRequest,
    focal: FocalLength,
    factor: Extender,
) -> Result<Magnification, Refusal> {
    match (request.magnification, request.focus_mm) {
        (Some(_), Some(_)) => Err(Refusal::new(Code::OneTooMany, "magnification")),
        (Some(size), None) => {
            let size = Magnification::new(size).at("magnification")?;
            // What a reducer makes smaller must not be too large before it.
            let most = (Bounds::MAGNIFICATION.max * factor.factor()).min(Bounds::MAGNIFICATION.max);
            Magnification::new(size.ratio() / factor.factor())
                .map_err(|_| Refusal::outside("magnification", size.ratio(), 0.0, most))
        }
        (None, place) => {
            let on = place.unwrap_or(Place::INFINITY).reach("focusMm")?;
            let focus = request.measured_from.focus(focal, on).at("focusMm")?;
            Magnification::new(focus.magnification()).at("focusMm")
        }
    }
}
