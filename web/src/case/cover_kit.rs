//! `coverKit`: what to pack or buy for the needs of a day.

use super::search_working;
use crate::plain::refusal::{At, Refusal};
use crate::shapes::piece::{PieceKindName, PieceRequest};
use crate::shapes::planning::{budget, from_hundredths, hundredths, tolerance};
use crate::shapes::working::TermReply;
use glasscall_core::answer::cover_kit::{self as core_answer, Offer, OneMore, Wanted};
use glasscall_core::quantity::Stops;
use glasscall_core::search::cover::{MAX_COPIES, MAX_NEEDS};
use glasscall_core::setup::{MAX_SLOTS, Slot};
use glasscall_derive::{FromPlain, ToPlain};
use serde::{Deserialize, Serialize};
use tsify::Tsify;

/// Needs and what there is to serve them.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct CoverKitRequest {
    /// Up to 128.
    pub needs: Vec<NeedRequest>,
    /// Pieces to choose from, owned ones at no cost.
    pub catalogue: Vec<WareRequest>,
    /// When to stop, in steps; 200 million unless said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub steps: Option<f64>,
    /// Whether to tell how it is worked out, where a few terms tell it whole.
    #[serde(default)]
    pub explain: bool,
}

/// One need.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct NeedRequest {
    /// Stops the glass must take, a polarizer included.
    pub stops: f64,
    /// The most pieces at once.
    pub slots: usize,
    /// How far off is near enough, either way; a third of a stop unless said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tolerance_stops: Option<f64>,
    /// Whether a polarizer is in.
    #[serde(default)]
    pub polarizer: bool,
    /// Size of the slots; left out they take any.
    #[serde(default)]
    pub size: String,
    /// The slots one by one, where sizes differ or not all turn; then `slots` and
    /// `size` are not used.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub places: Vec<NeedSlotRequest>,
}

/// One slot.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct NeedSlotRequest {
    /// Thread or panel size; left out it takes any.
    #[serde(default)]
    pub size: String,
    /// Whether a piece in it can be turned, as a polarizer must be.
    #[serde(default)]
    pub rotates: bool,
}

/// A piece on offer.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct WareRequest {
    /// The owner's name for it, used once.
    pub id: String,
    /// What it is for.
    pub kind: PieceKindName,
    /// Density as marked.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub density: Option<f64>,
    /// Density as measured; outranks the mark.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub measured_density: Option<f64>,
    /// Loss in stops, as for a polarizer.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub loss_stops: Option<f64>,
    /// Thread or panel size; left out it fits any slot.
    #[serde(default)]
    pub size: String,
    /// How many may be had; one unless said.
    #[serde(default = "one")]
    pub count: u8,
    /// What one costs, to the hundredth, in any currency; nothing unless said.
    #[serde(default)]
    pub cost: f64,
}

const fn one() -> u8 {
    1
}

/// The cheapest set.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct CoverKitReply {
    /// What the set costs.
    pub cost: f64,
    /// Pieces in the set.
    pub pieces: usize,
    /// The set.
    pub chosen: Vec<ChosenReply>,
    /// For each need, in the order asked, what serves it.
    pub served: Vec<ServedReply>,
    /// Stops of the needs the whole catalogue cannot serve.
    pub cannot: Vec<f64>,
    /// The one piece more that would serve most of those.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub one_more: Option<OneMoreReply>,
    /// Whether nothing cheaper exists.
    pub proven: bool,
    /// No set costs less than this.
    pub least_cost: f64,
    /// How it is worked out, term by term, where that was asked and can be told.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub working: Option<Vec<TermReply>>,
}

/// A piece of the set.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct ChosenReply {
    /// Id of the piece.
    pub piece: String,
    /// How many.
    pub count: usize,
}

/// What serves a need.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct ServedReply {
    /// Stops of the need.
    pub stops: f64,
    /// Whether anything does.
    pub can: bool,
    /// Ids of the pieces.
    pub pieces: Vec<String>,
    /// Stops left; positive is still over-exposed.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub left_over_stops: Option<f64>,
}

/// A neutral density that is not in the catalogue.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct OneMoreReply {
    /// The lightest that would do.
    pub from_density: f64,
    /// The densest that would do.
    pub to_density: f64,
    /// The needs it would serve with the set, by their place in `needs`.
    pub serves: Vec<usize>,
}

/// Answers `coverKit`.
///
/// # Errors
///
/// `outOfRange`, `missing`, `tooMany`, `duplicate`.
pub fn cover_kit(request: &CoverKitRequest) -> Result<CoverKitReply, Refusal> {
    if request.needs.len() > MAX_NEEDS {
        return Err(Refusal::too_many("needs", request.needs.len(), MAX_NEEDS));
    }
    let ids = request.catalogue.iter().map(|ware| ware.id.as_str());
    crate::shapes::kit::each_once(ids, "catalogue")?;
    let wanted: Vec<Wanted> = (request.needs.iter().enumerate())
        .map(|(at, need)| need.wanted(&format!("needs[{at}]")))
        .collect::<Result<_, _>>()?;
    let slots = (wanted.iter())
        .map(|want| want.slots.max(want.places.len()))
        .max()
        .unwrap_or(0);
    let copies: usize = (request.catalogue.iter())
        .map(|ware| usize::from(ware.count).min(slots))
        .sum();
    if copies > MAX_COPIES {
        return Err(Refusal::too_many("catalogue", copies, MAX_COPIES));
    }
    let catalogue: Vec<Offer> = (request.catalogue.iter().enumerate())
        .map(|(at, ware)| ware.offer(&format!("catalogue[{at}]")))
        .collect::<Result<_, _>>()?;
    let allowed = budget(request.steps)?;
    let mut budget = allowed;
    let answer = core_answer::cover_kit(&catalogue, &wanted, &mut budget);
    let id = |ware: usize| catalogue[ware].piece.record().id.clone();
    let cover = &answer.cover;
    let served: Vec<ServedReply> = (wanted.iter().zip(&cover.served))
        .map(|(want, pieces)| ServedReply {
            stops: want.stops.stops(),
            can: pieces.is_some(),
            pieces: pieces.iter().flatten().map(|&ware| id(ware)).collect(),
            left_over_stops: pieces.as_ref().map(|pieces| {
                let losses = pieces
                    .iter()
                    .map(|&ware| catalogue[ware].piece.loss().stops);
                (want.stops - losses.sum::<Stops>()).stops()
            }),
        })
        .collect();
    let mut told = CoverKitReply {
        cost: from_hundredths(cover.cost),
        pieces: cover.pieces,
        chosen: (cover.bought.iter().enumerate())
            .filter(|&(_, &count)| count > 0)
            .map(|(ware, &count)| ChosenReply {
                piece: id(ware),
                count,
            })
            .collect(),
        cannot: (request.needs.iter().zip(&served))
            .filter(|(_, served)| !served.can)
            .map(|(need, _)| need.stops)
            .collect(),
        served,
        one_more: answer.one_more.as_ref().map(one_more),
        proven: cover.proof.is_proven(),
        least_cost: from_hundredths(cover.bound()),
        working: None,
    };
    if request.explain {
        let takes = |name: &str| {
            let ware = (catalogue.iter()).find(|ware| ware.piece.record().id == name)?;
            let loss = ware.piece.loss();
            Some((loss.stops.stops(), loss.origin.into()))
        };
        let steps = allowed.left() - budget.left();
        told.working = search_working::cover(request, &told, takes, steps);
    }
    Ok(told)
}

fn one_more(more: &OneMore) -> OneMoreReply {
    OneMoreReply {
        from_density: more.from.density(),
        to_density: more.to.density(),
        serves: more.serves.clone(),
    }
}

impl NeedRequest {
    fn wanted(&self, path: &str) -> Result<Wanted, Refusal> {
        let at = |field: &str| format!("{path}.{field}");
        if self.slots > MAX_SLOTS {
            return Err(Refusal::too_many(&at("slots"), self.slots, MAX_SLOTS));
        }
        if self.places.len() > MAX_SLOTS {
            let count = self.places.len();
            return Err(Refusal::too_many(&at("places"), count, MAX_SLOTS));
        }
        let slot = |place: &NeedSlotRequest| Slot {
            id: String::new(),
            size: place.size.clone(),
            rotates: place.rotates,
        };
        Ok(Wanted {
            stops: Stops::new(self.stops).at(&at("stops"))?,
            tolerance: tolerance(self.tolerance_stops, &at("toleranceStops"))?,
            slots: self.slots,
            polarizer: self.polarizer,
            size: self.size.clone(),
            places: self.places.iter().map(slot).collect(),
        })
    }
}

impl WareRequest {
    pub(crate) fn offer(&self, path: &str) -> Result<Offer, Refusal> {
        let piece = PieceRequest {
            density: self.density,
            measured_density: self.measured_density,
            loss_stops: self.loss_stops,
            size: self.size.clone(),
            count: self.count,
            ..PieceRequest::named(self.id.clone(), self.kind)
        };
        Ok(Offer {
            piece: piece.piece(path)?,
            cost: hundredths(self.cost, &format!("{path}.cost"))?,
        })
    }
}
