//! A lens behind its frame and in front of its pupil, as requests give it.

use crate::plain::refusal::{At, Refusal, needed};
use crate::shapes::known_lens::KnownFields;
pub(crate) use crate::shapes::sensor::SensorRequest;
use crate::shapes::sensor::ViewFields;
use glasscall_core::physics::known_lens::KnownLens;
use glasscall_core::physics::pupil::Pupil;
use glasscall_core::quantity::{Aperture, Bounds, Stops};
use glasscall_core::setup::View;
use glasscall_derive::read;

/// The fields every question about the picture through the glass has.
pub(crate) struct LensFields {
    pub(crate) sensor: SensorRequest,
    pub(crate) squeeze: f64,
    pub(crate) shift_x_mm: f64,
    pub(crate) shift_y_mm: f64,
    pub(crate) focal_length_mm: f64,
    pub(crate) f_number: f64,
    pub(crate) lens_loss_stops: Option<f64>,
    pub(crate) known: KnownFields,
}

/// A lens ready for the laws.
pub(crate) struct LensView {
    pub(crate) view: View,
    /// By its figures: a pupil between limits in their middle, since a picture
    /// needs one place, and what nobody measured left out.
    pub(crate) pupil: Pupil,
    /// Everything it may be.
    pub(crate) known: KnownLens,
    /// The f-number of the pupil.
    pub(crate) f_number: Aperture,
    /// The number as given, which is what the ring is set by.
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
        let aperture = read!(Aperture::engraved, self.f_number)?;
        let f_number = without_loss(aperture, self.lens_loss_stops, "lensLossStops")?;
        let known = needed(self.known.lens(&view, f_number, "")?, "pupilBehindRimMm")?;
        Ok(LensView {
            view,
            pupil: known.drawn(&view, f_number),
            known,
            f_number,
            aperture,
        })
    }
}

/// A request about the picture through a lens: camera and lens, then its own
/// fields.
macro_rules! through_lens {
    ($(#[$about:meta])* pub struct $name:ident { $($own:tt)* }) => {
        crate::shapes::known_lens::knows_a_lens! {
            $(#[$about])*
            pub struct $name {
                /// The sensor.
                pub sensor: crate::shapes::sensor::SensorRequest,
                /// Anamorphic squeeze; 1 unless said.
                #[serde(default = "crate::shapes::lens::one")]
                pub squeeze: f64,
                /// Lens shift to the right in mm.
                #[serde(default)]
                pub shift_x_mm: f64,
                /// Lens shift upward in mm.
                #[serde(default)]
                pub shift_y_mm: f64,
                /// Focal length in mm, at the marked pose of a move.
                pub focal_length_mm: f64,
                /// f-number, which sizes the pupil and is kept through a zoom; a
                /// label stands for its exact value.
                pub f_number: f64,
                /// By how much the number is a T-number; see `fit`.
                #[serde(default, skip_serializing_if = "Option::is_none")]
                pub lens_loss_stops: Option<f64>,
            }
            /// Entrance pupil behind the rim in mm; this, `cards` or
            /// `frontDiameterMm`.
            pupil;
            then { $($own)* }
        }

        impl $name {
            pub(crate) fn lens(&self) -> Result<crate::shapes::lens::LensView, Refusal> {
                crate::shapes::lens::LensFields {
                    sensor: self.sensor,
                    squeeze: self.squeeze,
                    shift_x_mm: self.shift_x_mm,
                    shift_y_mm: self.shift_y_mm,
                    focal_length_mm: self.focal_length_mm,
                    f_number: self.f_number,
                    lens_loss_stops: self.lens_loss_stops,
                    known: self.known(),
                }
                .lens()
            }
        }
    };
}
pub(crate) use through_lens;

/// The f-number behind a T-number.
pub(crate) fn without_loss(
    number: Aperture,
    loss: Option<f64>,
    field: &str,
) -> Result<Aperture, Refusal> {
    let given = loss.unwrap_or(0.0);
    let loss = stops_lost(given, field)?;
    number.closed_by(-loss).map_err(|_| {
        // A glass that took more would stand behind a pupil wider than any.
        let most = 2.0 * (number.number() / Bounds::APERTURE.min).log2();
        Refusal::outside(field, given, 0.0, most * (1.0 - 1e-12))
    })
}

/// Stops that a glass or a lens takes, never less than none.
pub(crate) fn stops_lost(given: f64, field: &str) -> Result<Stops, Refusal> {
    Bounds::LOSS.check(given).and_then(Stops::new).at(field)
}

/// A number closed by some stops; refused as what was `given` for it, within
/// what would do.
pub(crate) fn closed(
    number: Aperture,
    by: Stops,
    given: f64,
    field: &str,
) -> Result<Aperture, Refusal> {
    number.closed_by(by).map_err(|_| {
        let Bounds { min, max, .. } = Bounds::APERTURE;
        let opened = (-by.stops() / 2.0).exp2();
        let inward = 1e-12;
        let least = (min * opened * (1.0 + inward)).max(min);
        let most = (max * opened * (1.0 - inward)).min(max);
        Refusal::outside(field, given, least, most)
    })
}
