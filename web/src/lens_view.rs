//! A lens behind its frame and in front of its pupil, as requests give it.

use crate::pupil_place::PupilPlace;
use crate::refusal::{At, Refusal};
pub(crate) use crate::view::SensorRequest;
use crate::view::ViewFields;
use glasscall_core::physics::pupil::{Pupil, PupilPosition};
use glasscall_core::quantity::{Aperture, Length};
use glasscall_core::setup::View;

/// The fields every question about the picture through the glass has.
pub(crate) struct LensFields {
    pub(crate) sensor: SensorRequest,
    pub(crate) squeeze: f64,
    pub(crate) shift_x_mm: f64,
    pub(crate) shift_y_mm: f64,
    pub(crate) focal_length_mm: f64,
    pub(crate) f_number: f64,
    pub(crate) pupil_behind_rim_mm: PupilPlace,
}

/// A lens ready for the laws.
pub(crate) struct LensView {
    pub(crate) view: View,
    pub(crate) pupil: Pupil,
    pub(crate) aperture: Aperture,
}

pub(crate) const fn one() -> f64 {
    1.0
}

impl LensFields {
    pub(crate) fn lens(&self) -> Result<LensView, Refusal> {
        let view = ViewFields {
            sensor: self.sensor,
            squeeze: Some(self.squeeze),
            shift_x_mm: Some(self.shift_x_mm),
            shift_y_mm: Some(self.shift_y_mm),
            focal_length_mm: self.focal_length_mm,
        }
        .view("")?;
        let aperture = Aperture::from_marking(self.f_number).at("fNumber")?;
        let record = view.record();
        let position = middle(self.pupil_behind_rim_mm)?;
        Ok(LensView {
            view,
            pupil: Pupil::new(record.focal_length, aperture, record.squeeze, position),
            aperture,
        })
    }
}

/// A pupil known only between limits is taken in their middle: a picture needs
/// one place, and the fit says what the limits mean for clipping.
fn middle(place: PupilPlace) -> Result<PupilPosition, Refusal> {
    let field = "pupilBehindRimMm";
    let range = place.range(field)?;
    let between = |near: Length, far: Length| {
        Length::new(0.5 * (near.millimetres() + far.millimetres())).at(field)
    };
    Ok(PupilPosition {
        horizontal: between(range.nearest.horizontal, range.farthest.horizontal)?,
        vertical: between(range.nearest.vertical, range.farthest.vertical)?,
    })
}
