//! `twoBodies`: what two bodies take out of one case, set-up by set-up.

use super::search_working;
use crate::plain::refusal::{At, Refusal};
use crate::shapes::kit::{each_once, kit, pieces_named, rig, wheel};
use crate::shapes::piece::PieceRequest;
use crate::shapes::placed::{PlacedReply, placed};
use crate::shapes::planning::budget;
use crate::shapes::rig::RigRequest;
use crate::shapes::working::TermReply;
use glasscall_core::answer::two_bodies::{Body, Wants, at_once};
use glasscall_core::quantity::{Density, Stops};
use glasscall_core::search::order::MAX_SET_UPS;
use glasscall_core::search::stack::Stack;
use glasscall_core::search::two_bodies::Shared;
use glasscall_core::setup::{Piece, Rig};
use glasscall_derive::{FromPlain, ToPlain};
use serde::{Deserialize, Serialize};
use tsify::Tsify;

/// Set-ups that two bodies shoot at once, and the one case.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct TwoBodiesRequest {
    /// Up to 64.
    pub set_ups: Vec<TwoBodiesSetUp>,
    /// The pieces in the case.
    #[serde(default)]
    pub kit: Vec<PieceRequest>,
    /// The first body's rig.
    #[serde(default)]
    pub rig: RigRequest,
    /// The second body's; like the first one's unless said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub other_rig: Option<RigRequest>,
    /// Densities of the first body's internal wheel.
    #[serde(default)]
    pub wheel: Vec<f64>,
    /// Of the second one's; like the first one's unless said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub other_wheel: Option<Vec<f64>>,
    /// When to stop, in steps; 200 million unless said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub steps: Option<f64>,
    /// Whether to tell how it is worked out, where a few terms tell it whole.
    #[serde(default)]
    pub explain: bool,
}

/// One set-up with both bodies.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct TwoBodiesSetUp {
    /// The user's name for it, used once.
    pub id: String,
    /// Stops the first body's glass must take.
    pub need_stops: f64,
    /// Stops the second one's must.
    pub other_need_stops: f64,
    /// Whether a polarizer is in before the first.
    #[serde(default)]
    pub polarizer: bool,
    /// Whether one is in before the second.
    #[serde(default)]
    pub other_polarizer: bool,
    /// Ids of pieces that must be in before the first.
    #[serde(default)]
    pub keep: Vec<String>,
    /// Before the second.
    #[serde(default)]
    pub other_keep: Vec<String>,
}

/// What both take.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct TwoBodiesReply {
    /// Each set-up, as given.
    pub set_ups: Vec<BothReply>,
    /// What the first body takes over them all, most copies at once.
    pub first_takes: Vec<TakenReply>,
    /// What the second does.
    pub second_takes: Vec<TakenReply>,
    /// Whether nothing better exists for any of them.
    pub proven: bool,
    /// How it is worked out, term by term, where that was asked and can be told.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub working: Option<Vec<TermReply>>,
}

/// Both bodies in one set-up.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct BothReply {
    /// Id of the set-up.
    pub set_up: String,
    /// The first body's glass; absent where both cannot be served at once.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub first: Option<BodyStackReply>,
    /// The second one's.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub second: Option<BodyStackReply>,
    /// Pieces both want more of than there are.
    pub conflicts: Vec<ConflictReply>,
}

/// The glass before one body.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct BodyStackReply {
    /// The filled slots, from the lens outward.
    pub slots: Vec<PlacedReply>,
    /// Density of the wheel's position; absent without a wheel.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub wheel: Option<f64>,
    /// Stops left; positive is still over-exposed.
    pub left_over_stops: f64,
    /// What it would leave were the case its own.
    pub alone_left_over_stops: f64,
}

/// A piece both want.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct ConflictReply {
    /// Its id.
    pub piece: String,
    /// How many there are.
    pub owned: u8,
    /// Whether the first body has it.
    pub first: bool,
    /// Whether the second has.
    pub second: bool,
}

/// A piece and how many.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct TakenReply {
    /// Its id.
    pub piece: String,
    /// Copies.
    pub count: usize,
}

/// What both are shot with.
struct Given {
    kit: Vec<Piece>,
    rigs: [Rig; 2],
    wheels: [Vec<Density>; 2],
}

/// Answers `twoBodies`.
///
/// # Errors
///
/// `outOfRange`, `missing`, `tooMany`, `duplicate`, `unknownPiece`.
pub fn two_bodies(request: &TwoBodiesRequest) -> Result<TwoBodiesReply, Refusal> {
    let set_ups = &request.set_ups;
    if set_ups.len() > MAX_SET_UPS {
        return Err(Refusal::too_many("setUps", set_ups.len(), MAX_SET_UPS));
    }
    each_once(set_ups.iter().map(|set_up| set_up.id.as_str()), "setUps")?;
    let given = Given {
        kit: kit(&request.kit)?,
        rigs: [
            rig(&request.rig)?,
            rig(request.other_rig.as_ref().unwrap_or(&request.rig))?,
        ],
        wheels: [
            wheel(&request.wheel)?,
            wheel(request.other_wheel.as_ref().unwrap_or(&request.wheel))?,
        ],
    };
    let allowed = budget(request.steps)?;
    let mut left = allowed;
    let found = (set_ups.iter().enumerate())
        .map(|(at, set_up)| {
            let wants = set_up.wants(&given.kit, &format!("setUps[{at}]"))?;
            let bodies = [0, 1].map(|body| Body {
                rig: &given.rigs[body],
                wheel: &given.wheels[body],
            });
            Ok(at_once(&given.kit, bodies, &wants, &mut left))
        })
        .collect::<Result<Vec<Shared>, Refusal>>()?;
    let mut told = TwoBodiesReply {
        set_ups: (set_ups.iter().zip(&found))
            .map(|(set_up, shared)| given.both(&set_up.id, shared))
            .collect(),
        first_takes: given.taken(&found, 0),
        second_takes: given.taken(&found, 1),
        proven: found.iter().all(|shared| shared.proof.is_proven()),
        working: None,
    };
    if request.explain {
        let steps = allowed.left() - left.left();
        told.working = search_working::bodies(request, &told, steps);
    }
    Ok(told)
}

impl TwoBodiesSetUp {
    fn wants(&self, kit: &[Piece], path: &str) -> Result<[Wants; 2], Refusal> {
        let at = |field: &str| format!("{path}.{field}");
        let wants = |stops: f64, need: &str, ids: &[String], list: &str, polarizer: bool| {
            Ok::<_, Refusal>(Wants {
                need: Stops::new(stops).at(&at(need))?,
                keep: pieces_named(kit, ids, &at(list))?,
                polarizer,
            })
        };
        Ok([
            wants(
                self.need_stops,
                "needStops",
                &self.keep,
                "keep",
                self.polarizer,
            )?,
            wants(
                self.other_need_stops,
                "otherNeedStops",
                &self.other_keep,
                "otherKeep",
                self.other_polarizer,
            )?,
        ])
    }
}

/// How many copies of a piece a stack takes.
fn copies(stack: &Stack, piece: usize) -> usize {
    let slots = stack.slots.iter().flatten();
    slots.filter(|&&one| one == piece).count()
}

impl Given {
    fn both(&self, id: &str, shared: &Shared) -> BothReply {
        let stack = |body: usize| {
            let stack = &shared.stacks.as_ref()?[body];
            let wheel = stack.wheel.and_then(|at| self.wheels[body].get(at));
            Some(BodyStackReply {
                slots: placed(&self.kit, &self.rigs[body], &stack.slots),
                wheel: wheel.map(|density| density.density()),
                left_over_stops: stack.left_over.stops(),
                alone_left_over_stops: (shared.alone[body].as_ref())
                    .map_or(0.0, |alone| alone.left_over.stops()),
            })
        };
        let has = |body: usize, piece: usize| {
            (shared.stacks.as_ref()).is_some_and(|stacks| copies(&stacks[body], piece) > 0)
        };
        BothReply {
            set_up: id.to_owned(),
            first: stack(0),
            second: stack(1),
            conflicts: (shared.clashes.iter())
                .map(|&piece| ConflictReply {
                    piece: self.kit[piece].record().id.clone(),
                    owned: self.kit[piece].record().count,
                    first: has(0, piece),
                    second: has(1, piece),
                })
                .collect(),
        }
    }

    fn taken(&self, found: &[Shared], body: usize) -> Vec<TakenReply> {
        let most = |piece: usize| {
            let stacks = found.iter().filter_map(|shared| shared.stacks.as_ref());
            stacks.map(|stacks| copies(&stacks[body], piece)).max()
        };
        (self.kit.iter().enumerate())
            .filter_map(|(at, piece)| {
                let count = most(at).filter(|&count| count > 0)?;
                Some(TakenReply {
                    piece: piece.record().id.clone(),
                    count,
                })
            })
            .collect()
    }
}
