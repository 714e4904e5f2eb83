//! The fit of a stack, as `openUp` is asked for it and tells it.

use crate::coverage::fit::looked;
use crate::coverage::fit_reply::{TrustName, UsualSizeReply};
use crate::coverage::fit_request::{CloseRequest, before_lens};
use crate::coverage::room_known::RoomKnownReply;
use crate::plain::refusal::{At, Refusal, needed};
use crate::shapes::known_lens::{KnownFields, knows_a_lens};
use crate::shapes::lens::without_loss;
use crate::shapes::opening::{FitVerdictName, OpeningRequest};
use crate::shapes::rig::RigRequest;
use crate::shapes::sensor::{SensorRequest, ViewFields};
use glasscall_core::answer::Placed;
use glasscall_core::answer::clear_cone::clear_cone;
use glasscall_core::answer::fit::{FitError, MAX_OPENINGS};
use glasscall_core::answer::stack_fit::{LensFit, StackFit, Where};
use glasscall_core::quantity::{Aperture, Stops};
use glasscall_core::search::rings::ClearCone;
use glasscall_core::setup::{Uncertainties, View};
use glasscall_derive::{ToPlain, read};
use serde::{Deserialize, Serialize};
use tsify::Tsify;

before_lens! {
    /// The lens behind the rig, so that each stack is told whether it shades.
    pub struct LensFitRequest
    /// f-number at the stop wanted; the aperture of the shot unless said. Each
    /// stack is told at the stop it asks for.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    f_number: Option<f64>;
    /// Where the entrance pupil is; left out, the front gives its limits, and
    /// without that the verdict is `unknown`.
    pupil;
    then {}
}

/// What a stack does to the picture.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct StackFitReply {
    /// The worst verdict of its openings.
    pub verdict: FitVerdictName,
    /// How far to trust it.
    pub trust: TrustName,
    /// What is computed for the opening it is about; another where somebody looked.
    pub computed: FitVerdictName,
    /// The slot it is about, of the worst verdict the one with the least room;
    /// absent when it is not a slot.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub worst_slot: Option<String>,
    /// The name of what is always there and is what the verdict is about.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub worst_always: Option<String>,
    /// The least room, mm; negative when it shades; absent without openings.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub spare_mm: Option<f64>,
    /// The least it may be, with what the lens may be and what the model leaves
    /// out; the trust is sure where this is no less than nothing.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub spare_least_mm: Option<f64>,
    /// The most it may be.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub spare_most_mm: Option<f64>,
    /// How well the least room is known, and what most of it comes from. The
    /// stop adds nothing, as it is the one to set.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub spare_known: Option<RoomKnownReply>,
    /// The f-number it is told for: that of the stop to set.
    pub f_number: f64,
    /// The smallest usual size that would be clear in the worst one's place;
    /// absent where that is clear, or none is large enough.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub clear_size: Option<UsualSizeReply>,
    /// Loss at the worst corner; absent when nothing is left.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub corner_loss_stops: Option<f64>,
    /// Smallest f-number at which it is clear; absent when no stop helps.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub clean_from_f_number: Option<f64>,
    /// The third-stop mark at or just beyond it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub clean_from_label: Option<String>,
}

impl LensFitRequest {
    /// What rings in front of it must leave clear.
    pub(crate) fn clear_cone(&self, path: &str) -> Result<ClearCone, Refusal> {
        let at = |field: &str| format!("{path}.{field}");
        let number = needed(self.f_number, &at("fNumber"))?;
        let number = Aperture::engraved(number).at(&at("fNumber"))?;
        let number = without_loss(number, self.lens_loss_stops, &at("lensLossStops"))?;
        let view = self.view(&format!("{path}."))?;
        let lens = self.known().lens(&view, number, &format!("{path}."))?;
        let lens = needed(lens, &at("pupilBehindRimMm"))?;
        clear_cone(&view, number, &lens).at(&at("pupilBehindRimMm"))
    }

    /// The lens in front of which `rig` hangs.
    pub(crate) fn lens(
        &self,
        rig: &RigRequest,
        (shot, widest): (Aperture, Option<Aperture>),
        inputs: Uncertainties,
    ) -> Result<LensFit, Refusal> {
        let view = self.view("fit.")?;
        let fit = self;
        let own = read!(Aperture::engraved, in fit.f_number?)?;
        if rig.always.len() > MAX_OPENINGS {
            return Err(Refusal::too_many(
                "rig.always",
                rig.always.len(),
                MAX_OPENINGS,
            ));
        }
        let placed = |opening: &OpeningRequest, path: String| opening.placed(&path);
        let slots = (rig.slots.iter().enumerate())
            .map(|(at, slot)| {
                let path = format!("rig.slots[{at}].opening");
                (slot.opening.as_ref())
                    .map(|opening| placed(opening, path))
                    .transpose()
            })
            .collect::<Result<Vec<Option<Placed>>, Refusal>>()?;
        let always = (rig.always.iter().enumerate())
            .map(|(at, opening)| placed(opening, format!("rig.always[{at}]")))
            .collect::<Result<Vec<Placed>, Refusal>>()?;
        let number = own.unwrap_or(shot);
        let f_number = without_loss(number, self.lens_loss_stops, "fit.lensLossStops")?;
        let known = KnownFields {
            widest_f_number: (self.widest_f_number).or_else(|| widest.map(Aperture::number)),
            ..self.known()
        };
        let lens = known.lens(&view, f_number, "fit.")?;
        let close = (self.close.as_ref())
            .map(|close| close.close(&view, f_number, &known, "fit."))
            .transpose()?
            .flatten();
        let lens = LensFit {
            view,
            f_number,
            lens,
            close,
            looks: looked(&self.looks, "fit.")?,
            slots,
            always,
            known: inputs,
        };
        lens.check().map_err(|(place, error)| {
            let path = match place {
                Where::Slot(at) => format!("rig.slots[{at}].opening.distanceFromRimMm"),
                Where::Always(at) => format!("rig.always[{at}].distanceFromRimMm"),
            };
            match error {
                FitError::BehindPupil(_, error)
                | FitError::Overlap(_, error)
                | FitError::ZoomField(error) => Refusal::out_of_range(&path, error),
            }
        })?;
        Ok(lens)
    }
}

/// What the core found, with names in place of numbers.
pub(crate) fn reply(fit: &StackFit, rig: &RigRequest) -> StackFitReply {
    let place = fit.worst.map(|(place, _)| place);
    StackFitReply {
        verdict: fit.verdict.into(),
        trust: fit.trust.into(),
        computed: fit.computed.into(),
        worst_slot: match place {
            Some(Where::Slot(at)) => rig.slots.get(at).map(|slot| slot.id.clone()),
            _ => None,
        },
        worst_always: match place {
            Some(Where::Always(at)) => rig.always.get(at).map(|opening| opening.name.clone()),
            _ => None,
        },
        spare_mm: fit.worst.map(|(_, spare)| spare),
        spare_least_mm: fit.room.map(|(least, _)| least),
        spare_most_mm: fit.room.map(|(_, most)| most),
        spare_known: fit.room_known.map(Into::into),
        f_number: fit.f_number.number(),
        clear_size: fit.clear_size.map(UsualSizeReply::from),
        corner_loss_stops: fit.corner_loss.map(Stops::stops),
        clean_from_f_number: fit.clean_from,
        clean_from_label: fit
            .clean_from
            .and_then(crate::coverage::fit_reply::label_at_or_beyond),
    }
}
