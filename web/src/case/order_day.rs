//! `orderDay`: the stacks of a day with the fewest moves.

use super::search_working;
use crate::plain::refusal::{At, Refusal};
use crate::shapes::kit::{kit, pieces_named, rig, wheel};
use crate::shapes::piece::PieceRequest;
use crate::shapes::placed::{PlacedReply, placed};
use crate::shapes::planning::{budget, in_range, tolerance};
use crate::shapes::rig::RigRequest;
use crate::shapes::working::TermReply;
use glasscall_core::answer::order_day::{self as core_answer, Question, SetUp};
use glasscall_core::quantity::Stops;
use glasscall_core::search::budget::Proof;
use glasscall_core::search::order::{MAX_SET_UPS, Plan, Sequence, Stage};
use glasscall_derive::{FromPlain, ToPlain};
use serde::{Deserialize, Serialize};
use tsify::Tsify;

/// The set-ups of a day and the glass at hand.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct OrderDayRequest {
    /// Up to 64, in shooting order.
    pub set_ups: Vec<SetUpRequest>,
    /// The pieces in the case.
    #[serde(default)]
    pub kit: Vec<PieceRequest>,
    /// The rig, empty at the start.
    #[serde(default)]
    pub rig: RigRequest,
    /// Densities of the internal wheel's positions; turning it is no move.
    #[serde(default)]
    pub wheel: Vec<f64>,
    /// Whether set-ups may change places.
    pub order: DayOrder,
    /// Minutes one move takes with this rig.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub minutes_per_move: Option<f64>,
    /// When to stop, in steps; 200 million unless said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub steps: Option<f64>,
    /// Whether to tell how it is worked out, where a few terms tell it whole.
    #[serde(default)]
    pub explain: bool,
}

/// Whether set-ups may change places.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase")]
pub enum DayOrder {
    /// Shot as given.
    Fixed,
    /// Shot in the order with the fewest moves.
    Free,
}

/// One set-up.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct SetUpRequest {
    /// The user's name for it, used once.
    pub id: String,
    /// Stops the glass must take, all of it included.
    pub need_stops: f64,
    /// How far off is near enough, either way; a third of a stop unless said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tolerance_stops: Option<f64>,
    /// How far the lens opens beyond the stop wanted, below 0 where it does not
    /// open that far; what is darker than that cannot be exposed and serves
    /// nothing. Not looked at unless said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub open_stops: Option<f64>,
    /// Whether a polarizer is in.
    #[serde(default)]
    pub polarizer: bool,
    /// Ids of pieces that must be in; an id twice keeps two copies.
    #[serde(default)]
    pub keep: Vec<String>,
}

/// The day.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct OrderDayReply {
    /// Ids of the set-ups as they are shot.
    pub order: Vec<String>,
    /// Slots whose content changes over the day.
    pub moves: usize,
    /// Minutes the moves take, where the minutes of one are known.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub minutes: Option<f64>,
    /// The stack for each, as they are shot.
    pub stages: Vec<StageReply>,
    /// Ids of set-ups no stack serves.
    pub cannot: Vec<String>,
    /// Whether no plan has fewer moves.
    pub proven: bool,
    /// No plan has fewer moves than this.
    pub least_moves: usize,
    /// How it is worked out, term by term, where that was asked and can be told.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub working: Option<Vec<TermReply>>,
}

/// The glass for one set-up.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct StageReply {
    /// Id of the set-up.
    pub set_up: String,
    /// The filled slots, from the lens outward.
    pub slots: Vec<PlacedReply>,
    /// Density of the wheel's position; absent without a wheel.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub wheel: Option<f64>,
    /// Stops left; positive is still over-exposed.
    pub left_over_stops: f64,
    /// Slots whose content changes to get here.
    pub moves: usize,
}

/// Answers `orderDay`.
///
/// # Errors
///
/// `outOfRange`, `missing`, `tooMany`, `duplicate`, `unknownPiece`.
pub fn order_day(request: &OrderDayRequest) -> Result<OrderDayReply, Refusal> {
    let given = &request.set_ups;
    if given.len() > MAX_SET_UPS {
        return Err(Refusal::too_many("setUps", given.len(), MAX_SET_UPS));
    }
    crate::shapes::kit::each_once(given.iter().map(|set_up| set_up.id.as_str()), "setUps")?;
    let kit = kit(&request.kit)?;
    let rig = rig(&request.rig)?;
    let wheel = wheel(&request.wheel)?;
    let set_ups: Vec<SetUp> = (given.iter().enumerate())
        .map(|(at, set_up)| {
            let field = |name: &str| format!("setUps[{at}].{name}");
            Ok(SetUp {
                need: Stops::new(set_up.need_stops).at(&field("needStops"))?,
                tolerance: tolerance(set_up.tolerance_stops, &field("toleranceStops"))?,
                room: (set_up.open_stops.map(Stops::new))
                    .transpose()
                    .at(&field("openStops"))?,
                polarizer: set_up.polarizer,
                keep: pieces_named(&kit, &set_up.keep, &field("keep"))?,
            })
        })
        .collect::<Result<_, Refusal>>()?;
    let minutes = (request.minutes_per_move)
        .map(|minutes| in_range(minutes, 0.0, 1000.0, "minutesPerMove"))
        .transpose()?;
    let question = Question {
        set_ups: &set_ups,
        kit: &kit,
        rig: &rig,
        wheel: &wheel,
        sequence: match request.order {
            DayOrder::Fixed => Sequence::Fixed,
            DayOrder::Free => Sequence::Free,
        },
    };
    let allowed = budget(request.steps)?;
    let mut budget = allowed;
    let plan = core_answer::order_day(&question, &mut budget);
    let mut told = order_day_reply(request, &question, &plan, minutes);
    if request.explain {
        let steps = allowed.left() - budget.left();
        told.working = search_working::day(request, &told, steps);
    }
    Ok(told)
}

fn order_day_reply(
    request: &OrderDayRequest,
    question: &Question<'_>,
    plan: &Plan,
    minutes: Option<f64>,
) -> OrderDayReply {
    let id = |set_up: usize| request.set_ups[set_up].id.clone();
    let stage = |stage: &Stage| StageReply {
        set_up: id(stage.set_up),
        slots: placed(question.kit, question.rig, &stage.slots),
        wheel: stage.wheel.map(|at| question.wheel[at].density()),
        left_over_stops: stage.left_over.stops(),
        moves: stage.moves,
    };
    #[expect(clippy::cast_precision_loss, reason = "a few hundred moves")]
    let minutes = minutes.map(|minutes| minutes * plan.moves as f64);
    OrderDayReply {
        order: plan.stages.iter().map(|stage| id(stage.set_up)).collect(),
        moves: plan.moves,
        minutes,
        stages: plan.stages.iter().map(stage).collect(),
        cannot: plan.cannot.iter().map(|&set_up| id(set_up)).collect(),
        proven: plan.proof.is_proven(),
        least_moves: match plan.proof {
            Proof::Proven => plan.moves,
            Proof::Bound(moves) => usize::try_from(moves).unwrap_or(plan.moves),
        },
        working: None,
    }
}
