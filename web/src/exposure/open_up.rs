//! `openUp`: from a reading to the glass.

use super::open_up_working::working;
use crate::coverage::stack_fit::{self, LensFitRequest, StackFitReply};
use crate::plain::refusal::{At, Code, Refusal};
use crate::shapes::kit::{kit, piece_named, pieces_named, rig, wheel_positions};
use crate::shapes::piece::PieceRequest;
use crate::shapes::placed::{PlacedReply, placed};
use crate::shapes::planning::budget;
use crate::shapes::rig::RigRequest;
use crate::shapes::settings::SettingsRequest;
use crate::shapes::uncertainty::{self, UncertaintyReply, UncertaintyRequest, known};
use crate::shapes::working::TermReply;
use glasscall_core::answer::open_up::{Note, Offer, Question};
use glasscall_core::answer::{Trim, TrimBy, open_up as core_answer};
use glasscall_core::physics::focus::extender;
use glasscall_core::quantity::{Aperture, Bounds, Density, Extender, Stops};
use glasscall_core::search::stack::MAX_LISTED;
use glasscall_core::setup::{Piece, Rig};
use glasscall_derive::read;
use glasscall_derive::{FromPlain, ToPlain, Twin};
use serde::{Deserialize, Serialize};
use tsify::Tsify;

/// Stacks listed unless said otherwise.
const USUAL_LIMIT: usize = 5;

/// A reading, a shot, and the glass at hand.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct OpenUpRequest {
    /// What was read, for which settings, through what.
    pub reading: ReadingRequest,
    /// What to shoot at.
    pub shot: SettingsRequest,
    /// The lens.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lens: Option<LensRequest>,
    /// The pieces in the case.
    #[serde(default)]
    pub kit: Vec<PieceRequest>,
    /// The rig.
    #[serde(default)]
    pub rig: RigRequest,
    /// Densities of the internal wheel's positions; one of them is used.
    #[serde(default)]
    pub wheel: Vec<f64>,
    /// Infrared densities of those positions, in the same order; one that is
    /// missing or null is taken to stop none.
    #[serde(default)]
    pub wheel_infrared: Vec<Option<f64>>,
    /// What is in the slots now.
    #[serde(default)]
    pub in_place: Vec<InPlace>,
    /// Ids of pieces that must be in; an id twice keeps two copies.
    #[serde(default)]
    pub keep: Vec<String>,
    /// The lens behind the rig; each stack is then told whether it shades.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub fit: Option<LensFitRequest>,
    /// How well inputs are known, where better than usual.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub uncertainty: Option<UncertaintyRequest>,
    /// How many stacks to list, 1 to 50; 5 unless said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub limit: Option<usize>,
    /// What another stack leaves over, to name the quickest change to one that
    /// leaves as much.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub quickest_leaving_stops: Option<f64>,
    /// Whether to tell how the first stack is worked out.
    #[serde(default)]
    pub explain: bool,
}

/// Settings of a reading, and the pieces it was taken through.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct ReadingRequest {
    /// Aperture number; a label such as 2.8 stands for its exact value.
    pub aperture: f64,
    /// Exposure index, arithmetic.
    pub exposure_index: f64,
    /// Frames a second.
    pub frame_rate: f64,
    /// Shutter angle in degrees, up to 360.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub shutter_angle_deg: Option<f64>,
    /// Exposure time in seconds.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub shutter_seconds: Option<f64>,
    /// Ids of the pieces read through; none for a bare reading.
    #[serde(default)]
    pub through: Vec<String>,
}

/// What is known of the lens.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct LensRequest {
    /// Its widest aperture number, as its own ring has it; 1.2 is literally
    /// 1.2 here.
    pub widest_aperture: f64,
    /// What an extender (above 1) or focal reducer (below 1) behind it multiplies
    /// the focal length by; 1, none, unless said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub extender: Option<f64>,
}

/// A piece in a slot.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct InPlace {
    /// Id of the slot.
    pub slot: String,
    /// Id of the piece.
    pub piece: String,
}

/// The need and the stacks, best first.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct OpenUpReply {
    /// Stops the glass must take; negative when there is too little light.
    pub need_stops: f64,
    /// How well that is known.
    pub need_uncertainty: UncertaintyReply,
    /// Whether light is missing by more than a third of a stop.
    pub light_missing: bool,
    /// Whether the need is nothing within that: no light to take away, none
    /// missing.
    pub need_is_nothing: bool,
    /// The need as a density; absent when there is too little light.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub need_density: Option<f64>,
    /// How far the lens opens beyond the stop wanted, below 0 where it does not
    /// open that far; absent where its widest stop is not known.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub open_stops: Option<f64>,
    /// The stacks.
    pub stacks: Vec<OfferReply>,
    /// Whether no better stack exists; false when the search was stopped.
    pub proven: bool,
    /// Place of the stack with the fewest moves that leaves what
    /// `quickestLeavingStops` asks for, to half a third.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub quickest: Option<usize>,
    /// The best stack that leaves the picture clear, where the first does not.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub fitting: Option<OfferReply>,
    /// The first stack, term by term, where that was asked.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub working: Option<Vec<TermReply>>,
}

/// One stack.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct OfferReply {
    /// The filled slots, from the lens outward.
    pub slots: Vec<PlacedReply>,
    /// Density of the wheel's position; absent without a wheel.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub wheel: Option<f64>,
    /// Stops the stack takes, wheel included.
    pub stops: f64,
    /// The same as a density.
    pub density: f64,
    /// Stops left; positive is still over-exposed.
    pub left_over_stops: f64,
    /// How well that, and so the stop to set, is known.
    pub uncertainty: UncertaintyReply,
    /// The left-over in whole iris-thirds and what those miss.
    pub iris: crate::Iris,
    /// Aperture number to set, exact; absent beyond any iris.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub aperture_to_set: Option<f64>,
    /// The nearest third to it, as `T2.8⅓`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub aperture_label: Option<String>,
    /// What is left over at that label; positive is over-exposed.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub left_at_label_stops: Option<f64>,
    /// Whether the lens opens that far; true where its widest stop is not known.
    pub can_be_exposed: bool,
    /// What the lens's own ring must show; with an extender, which takes the
    /// difference. Absent beyond any iris.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub ring_to_set: Option<f64>,
    /// The nearest third to it, as `T2⅓`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub ring_label: Option<String>,
    /// Slots whose content changes from what is in now.
    pub moves: usize,
    /// Stops by which visible light is taken more than infrared.
    pub infrared_excess: f64,
    /// Controls that take up the left-over, each alone.
    pub trims: Vec<TrimReply>,
    /// What it does to the picture, where a lens was given.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub fit: Option<StackFitReply>,
    /// What to know before trusting it.
    pub notes: Vec<NoteCode>,
}

/// One way to take up a left-over.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct TrimReply {
    /// The control.
    pub by: TrimControl,
    /// What to set it to, in the control's unit: a setting that exists.
    pub to: f64,
    /// What is left over then; positive is still over-exposed.
    pub stays_stops: f64,
    /// What else changes.
    pub side_effect: SideEffect,
}

/// A control that can take up a left-over.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase")]
pub enum TrimControl {
    /// The iris; an aperture number.
    Iris,
    /// The shutter angle, in degrees.
    ShutterAngleDeg,
    /// The exposure time, in seconds.
    ShutterSeconds,
    /// The exposure index.
    ExposureIndex,
}

/// What a trim changes besides the exposure.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase")]
pub enum SideEffect {
    /// How much is in focus.
    DepthOfField,
    /// How motion blurs, and whether lamps flicker.
    MotionBlur,
    /// Noise, and room in the highlights.
    Noise,
}

/// What to know before trusting a stack.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, Serialize, ToPlain, Deserialize, FromPlain, Tsify, Twin,
)]
#[serde(rename_all = "camelCase")]
#[twin(from Note)]
pub enum NoteCode {
    /// The left-over is too small to act on.
    LeftOverSmall,
    /// What is left over lies within what is known: nothing to do about it.
    WithinUncertainty,
    /// A third of a stop or more over-exposed at the stop wanted.
    StillOver,
    /// A third of a stop or more under-exposed at the stop wanted.
    StillUnder,
    /// The stop to set has that in it: nothing to close or open beyond it.
    StopTakesItUp,
    /// The stop to set is wider than the lens opens.
    WiderThanLens,
    /// Without the polarizer the lens could expose it.
    TakePolarizerOut,
    /// A polarizer's loss is assumed, not measured.
    PolarizerAssumed,
    /// Marked densities are taken at their word.
    MarkedDensity,
    /// Ordinary glass may let infrared show.
    InfraredWatch,
    /// Ordinary glass this dense needs an infrared cut.
    InfraredCutNeeded,
    /// Two polarizers stop visible light only: an infrared cut is needed.
    PolarizersPassInfrared,
}

/// Answers `openUp`.
///
/// # Errors
///
/// `outOfRange`, `missing`, `oneTooMany`, `tooMany`, `duplicate`,
/// `unknownPiece`, `unknownSlot`, `noRoom`.
pub fn open_up(request: &OpenUpRequest) -> Result<OpenUpReply, Refusal> {
    let kit = kit(&request.kit)?;
    let rig = rig(&request.rig)?;
    let through = pieces_named(&kit, &request.reading.through, "reading.through")?;
    let keep = pieces_named(&kit, &request.keep, "keep")?;
    let in_place = in_place(&kit, &rig, &request.in_place)?;
    let wheel = wheel_positions(&request.wheel, &request.wheel_infrared)?;
    let ring = ring(request.lens.as_ref())?;
    let shot = request.shot.settings("shot")?;
    let inputs = known(request.uncertainty.as_ref())?;
    let lens = (request.fit.as_ref())
        .map(|fit| fit.lens(&request.rig, (shot.aperture, ring.widest), inputs))
        .transpose()?;
    let question = Question {
        reading: request.reading.settings().settings("reading")?,
        through: &through,
        shot,
        widest: ring.widest,
        behind_ring: ring.behind,
        kit: &kit,
        rig: &rig,
        wheel: &wheel,
        in_place: &in_place,
        keep: &keep,
        fit: lens.as_ref(),
        limit: limit(request.limit)?,
        known: inputs,
    };
    let answer =
        core_answer::open_up_within(&question, &mut budget(None)?).at("reading.shutterSeconds")?;
    if answer.stacks.is_empty() {
        return Err(Refusal::new(Code::NoRoom, "keep"));
    }
    let leaves = read!(Stops::new, request.quickest_leaving_stops?)?;
    let told = |offer: &Offer| OfferReply {
        fit: offer.fit.map(|fit| stack_fit::reply(&fit, &request.rig)),
        ..offer_reply(&question, offer)
    };
    Ok(OpenUpReply {
        need_stops: answer.need.stops(),
        need_uncertainty: uncertainty::reply(answer.need_known, &kit),
        light_missing: answer.light_missing,
        need_is_nothing: answer.need_known.holds(answer.need),
        need_density: Density::from_stops(answer.need).ok().map(Density::density),
        open_stops: question.room().map(Stops::stops),
        proven: answer.proof.is_proven(),
        quickest: leaves.and_then(|leaves| core_answer::quickest(&answer.stacks, leaves)),
        stacks: answer.stacks.iter().map(told).collect(),
        fitting: answer.fitting.as_ref().map(told),
        working: (request.explain)
            .then(|| working(&question, &answer))
            .transpose()
            .at("reading.shutterSeconds")?,
    })
}

/// The lens's own ring and what stands behind it.
pub(crate) struct Ring {
    pub(crate) widest: Option<Aperture>,
    pub(crate) behind: Stops,
}

pub(crate) fn ring(lens: Option<&LensRequest>) -> Result<Ring, Refusal> {
    let Some(lens) = lens else {
        return Ok(Ring {
            widest: None,
            behind: Stops::ZERO,
        });
    };
    let factor = read!(Extender::new, in lens.extender else 1.0)?;
    Ok(Ring {
        widest: Some(read!(Aperture::engraved, in lens.widest_aperture)?),
        behind: extender::loss(factor),
    })
}

impl ReadingRequest {
    fn settings(&self) -> SettingsRequest {
        SettingsRequest {
            aperture: self.aperture,
            exposure_index: self.exposure_index,
            frame_rate: self.frame_rate,
            shutter_angle_deg: self.shutter_angle_deg,
            shutter_seconds: self.shutter_seconds,
        }
    }
}

fn limit(given: Option<usize>) -> Result<usize, Refusal> {
    let limit = given.unwrap_or(USUAL_LIMIT);
    if (1..=MAX_LISTED).contains(&limit) {
        return Ok(limit);
    }
    Err(Refusal::count_outside("limit", limit, 1, MAX_LISTED))
}

pub(crate) fn in_place(
    kit: &[Piece],
    rig: &Rig,
    given: &[InPlace],
) -> Result<Vec<Option<usize>>, Refusal> {
    let mut places = vec![None; rig.slots.len()];
    for (at, placed) in given.iter().enumerate() {
        let field = |name: &str| format!("inPlace[{at}].{name}");
        let slot = (rig.slots.iter().position(|slot| slot.id == placed.slot))
            .ok_or_else(|| Refusal::new(Code::UnknownSlot, &field("slot")).given(&placed.slot))?;
        if places[slot].is_some() {
            return Err(Refusal::new(Code::Duplicate, &field("slot")).given(&placed.slot));
        }
        places[slot] = Some(piece_named(kit, &placed.piece, &field("piece"))?);
    }
    Ok(places)
}

fn offer_reply(question: &Question<'_>, offer: &Offer) -> OfferReply {
    let iris = offer.stack.left_over.iris_thirds();
    let taken = Density::from_stops(offer.taken).map_or(0.0, Density::density);
    OfferReply {
        slots: placed(question.kit, question.rig, &offer.stack.slots),
        wheel: (offer.stack.wheel).map(|at| question.wheel[at].density.density()),
        stops: offer.taken.stops(),
        density: taken.min(Bounds::DENSITY.max),
        left_over_stops: offer.stack.left_over.stops(),
        uncertainty: uncertainty::reply(offer.known, question.kit),
        iris: crate::Iris {
            thirds: iris.thirds,
            left_over_stops: iris.left_over.stops(),
        },
        aperture_to_set: offer.aperture_to_set.map(Aperture::number),
        aperture_label: (offer.aperture_to_set).map(|aperture| format!("T{}", aperture.label())),
        left_at_label_stops: (offer.aperture_to_set)
            .map(|aperture| aperture.label().left_over.stops()),
        can_be_exposed: offer.can_be_exposed,
        ring_to_set: extended(question)
            .and(offer.ring_to_set)
            .map(Aperture::number),
        ring_label: (extended(question).and(offer.ring_to_set))
            .map(|ring| format!("T{}", ring.label())),
        moves: offer.stack.moves,
        infrared_excess: offer.infrared_excess.stops(),
        trims: offer.trims.iter().map(trim_reply).collect(),
        fit: None,
        notes: offer.notes.iter().copied().map(NoteCode::from).collect(),
    }
}

/// Something where an extender stands behind the ring.
fn extended(question: &Question<'_>) -> Option<()> {
    (question.behind_ring != Stops::ZERO).then_some(())
}

fn trim_reply(trim: &Trim) -> TrimReply {
    let (by, to, side_effect) = match trim.by {
        TrimBy::Iris(aperture) => (
            TrimControl::Iris,
            aperture.number(),
            SideEffect::DepthOfField,
        ),
        TrimBy::ShutterAngle(angle) => (
            TrimControl::ShutterAngleDeg,
            angle.degrees(),
            SideEffect::MotionBlur,
        ),
        TrimBy::ShutterTime(time) => (
            TrimControl::ShutterSeconds,
            time.seconds(),
            SideEffect::MotionBlur,
        ),
        TrimBy::ExposureIndex(index) => {
            (TrimControl::ExposureIndex, index.index(), SideEffect::Noise)
        }
    };
    TrimReply {
        by,
        to,
        stays_stops: trim.stays.stops(),
        side_effect,
    }
}
