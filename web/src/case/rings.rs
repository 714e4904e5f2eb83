//! `rings`: which rings join each lens to the filter, and what to buy.

use super::rings_working::working;
use crate::coverage::stack_fit::LensFitRequest;
use crate::plain::refusal::{At, Code, Refusal};
use crate::shapes::planning::{budget, from_hundredths, hundredths};
use crate::shapes::working::TermReply;
use glasscall_core::quantity::Length;
use glasscall_core::search::rings::{
    ClearCone, Fitting, Front, Lens, MAX_CHAIN, MAX_LENSES, MAX_RINGS, Path, Problem, Ring,
    fit_rings,
};
use glasscall_derive::{FromPlain, ToPlain};
use serde::{Deserialize, Serialize};
use tsify::Tsify;

/// How deep a ring is taken to be until measured: 3 mm, common practice, no source.
const USUAL_DEPTH: f64 = 3.0;
/// How much less than its narrower thread a ring is taken to leave clear: 4 mm.
/// Common practice, no source: as for an ordinary mount in that thread.
const USUAL_EDGE: f64 = 4.0;
/// Rings one behind the other unless said otherwise.
const USUAL_CHAIN: usize = 3;

/// Lenses, rings and the filter they are to carry.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct RingsRequest {
    /// Up to 60.
    pub lenses: Vec<RingLensRequest>,
    /// The filter's thread, or that of the holder's ring.
    pub filter_mm: f64,
    /// Rings in the case.
    #[serde(default)]
    pub owned: Vec<OwnedRingRequest>,
    /// Rings to be had. Left out, any single ring that joins a lens to the
    /// filter is, each at the cost of 1.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub catalogue: Option<Vec<RingOfferRequest>>,
    /// The most rings one behind the other, up to 4; 3 unless said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub max_rings: Option<usize>,
    /// How deep one more piece of the filter is, for `stackable`; 3 unless said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub stacked_depth_mm: Option<f64>,
    /// The clear diameter it leaves; the filter's size less 4 unless said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub stacked_clear_mm: Option<f64>,
    /// When to stop, in steps; 200 million unless said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub steps: Option<f64>,
    /// Whether to tell how it is worked out, where a few terms tell it whole.
    #[serde(default)]
    pub explain: bool,
}

/// A lens; give its thread or, where it has none, its outside diameter.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct RingLensRequest {
    /// The user's name for it, used once.
    pub id: String,
    /// Diameter of the filter thread.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub thread_mm: Option<f64>,
    /// Outside diameter of a front without thread.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub outer_mm: Option<f64>,
    /// Clear diameter the picture needs in front. Rings that step down are
    /// refused where it is left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub needs_clear_mm: Option<f64>,
    /// The lens behind the rings, from which the clear diameter follows where
    /// it is not given; its f-number must be said. It decides about rings that
    /// narrow; of others only their room is told.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub fit: Option<LensFitRequest>,
}

/// A sort of ring in the case.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct OwnedRingRequest {
    /// Thread towards the lens, or the diameter a clamp holds.
    pub from_mm: f64,
    /// Thread towards the filter.
    pub to_mm: f64,
    /// How many; one unless said.
    #[serde(default = "one")]
    pub count: u8,
    /// Whether it clamps on the outside of a lens.
    #[serde(default)]
    pub clamp: bool,
    /// How far it moves the filter forward; 3 unless said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub depth_mm: Option<f64>,
    /// The clear diameter it leaves; its narrower side less 4 unless said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub clear_mm: Option<f64>,
}

/// A sort of ring to be had.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct RingOfferRequest {
    /// Thread towards the lens, or the diameter a clamp holds.
    pub from_mm: f64,
    /// Thread towards the filter.
    pub to_mm: f64,
    /// What one costs, to the hundredth, in any currency.
    pub cost: f64,
    /// Whether it clamps on the outside of a lens.
    #[serde(default)]
    pub clamp: bool,
    /// How far it moves the filter forward; 3 unless said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub depth_mm: Option<f64>,
    /// The clear diameter it leaves; its narrower side less 4 unless said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub clear_mm: Option<f64>,
}

const fn one() -> u8 {
    1
}

/// The rings of each lens.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct RingsReply {
    /// For each lens by itself the best path of owned rings: fewest, then
    /// least deep.
    pub lenses: Vec<RingPathReply>,
    /// Owned rings that would have to move between lenses.
    pub clashes: Vec<RingClashReply>,
    /// For each lens the rings that can stay on it, bought ones included.
    pub settled: Vec<RingPathReply>,
    /// How deep the deepest of those is, mm; 0 without any.
    pub deepest_mm: f64,
    /// What to buy for that.
    pub buy: Vec<RingToBuyReply>,
    /// What buying costs.
    pub cost: f64,
    /// Whether nothing cheaper exists.
    pub proven: bool,
    /// No way costs less than this.
    pub least_cost: f64,
    /// How it is worked out, term by term, where that was asked and can be told.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub working: Option<Vec<TermReply>>,
}

/// The rings of one lens, from the lens outward.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct RingPathReply {
    /// Id of the lens.
    pub id: String,
    /// Whether rings reach the filter.
    pub reaches: bool,
    /// The rings; none when the filter goes straight on.
    pub rings: Vec<RingReply>,
    /// How far they move the filter forward.
    pub depth_mm: f64,
    /// The narrowest clear diameter among them; absent without a ring.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub clear_mm: Option<f64>,
    /// The least room the picture has in them on every side; absent without a
    /// ring or where nothing is known of the lens, negative where they shade.
    /// Under 3 mm look through the lens, as with every computed fit.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub spare_mm: Option<f64>,
    /// How many more pieces of the filter's size, one screwed into the other, the
    /// picture has room for on these rings, up to 40, by the figures of the lens;
    /// absent where nothing is known of it or the filter is not reached. For one
    /// with 3 mm to spare look at `surelyStackable`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stackable: Option<usize>,
    /// How many of them leave 3 mm on every side.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub surely_stackable: Option<usize>,
}

/// One ring.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct RingReply {
    /// Thread towards the lens, or the diameter a clamp holds.
    pub from_mm: f64,
    /// Thread towards the filter.
    pub to_mm: f64,
    /// Whether it clamps on the outside of a lens.
    pub clamp: bool,
    /// How far it moves the filter forward.
    pub depth_mm: f64,
    /// The clear diameter it leaves.
    pub clear_mm: f64,
}

/// A ring more lenses want than there are.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct RingClashReply {
    /// The ring.
    pub ring: RingReply,
    /// How many are owned.
    pub owned: usize,
    /// Ids of the lenses that want one.
    pub lenses: Vec<String>,
}

/// A ring to buy.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct RingToBuyReply {
    /// The ring.
    pub ring: RingReply,
    /// How many.
    pub count: usize,
    /// What one costs.
    pub cost: f64,
}

/// Answers `rings`.
///
/// # Errors
///
/// `outOfRange`, `missing`, `oneTooMany`, `tooMany`, `duplicate`.
pub fn rings(request: &RingsRequest) -> Result<RingsReply, Refusal> {
    if request.lenses.len() > MAX_LENSES {
        return Err(Refusal::too_many(
            "lenses",
            request.lenses.len(),
            MAX_LENSES,
        ));
    }
    let ids = request.lenses.iter().map(|lens| lens.id.as_str());
    crate::shapes::kit::each_once(ids, "lenses")?;
    let chain = request.max_rings.unwrap_or(USUAL_CHAIN);
    if chain > MAX_CHAIN {
        return Err(Refusal::too_many("maxRings", chain, MAX_CHAIN));
    }
    let lenses: Vec<Lens> = (request.lenses.iter().enumerate())
        .map(|(at, lens)| lens.lens(&format!("lenses[{at}]")))
        .collect::<Result<_, _>>()?;
    let filter = size(request.filter_mm, "filterMm")?;
    let rings = sorts(request, &lenses, filter)?;
    if rings.len() > MAX_RINGS {
        return Err(Refusal::too_many("owned", rings.len(), MAX_RINGS));
    }
    let problem = Problem {
        lenses: &lenses,
        filter,
        rings: &rings,
        chain,
    };
    let allowed = budget(request.steps)?;
    let mut budget = allowed;
    let fitting = fit_rings(&problem, &mut budget);
    let stacked = RingOfferRequest {
        from_mm: request.filter_mm,
        to_mm: request.filter_mm,
        cost: 0.0,
        clamp: false,
        depth_mm: request.stacked_depth_mm,
        clear_mm: request.stacked_clear_mm,
    };
    let stacked = stacked.ring("stacked")?;
    let mut told = rings_reply(request, (&lenses, stacked), &rings, &fitting);
    if request.explain {
        told.working = working(&lenses, &told, allowed.left() - budget.left());
    }
    Ok(told)
}

/// Owned rings and those to be had; a ring that is both is one sort.
fn sorts(request: &RingsRequest, lenses: &[Lens], filter: Length) -> Result<Vec<Ring>, Refusal> {
    let mut rings: Vec<Ring> = Vec::new();
    for (at, owned) in request.owned.iter().enumerate() {
        add(&mut rings, owned.ring(&format!("owned[{at}]"))?);
    }
    match &request.catalogue {
        Some(catalogue) => {
            for (at, offer) in catalogue.iter().enumerate() {
                add(&mut rings, offer.offer(&format!("catalogue[{at}]"))?);
            }
        }
        None => {
            for lens in lenses {
                let (Front::Thread(from) | Front::Outside(from)) = lens.front;
                let offer = RingOfferRequest {
                    from_mm: from.millimetres(),
                    to_mm: filter.millimetres(),
                    cost: 1.0,
                    clamp: matches!(lens.front, Front::Outside(_)),
                    depth_mm: None,
                    clear_mm: None,
                };
                let ring = offer.ring("lenses")?;
                let price = Some(100);
                add(&mut rings, Ring { price, ..ring });
            }
        }
    }
    Ok(rings)
}

fn add(rings: &mut Vec<Ring>, ring: Ring) {
    let like = |other: &&mut Ring| {
        let sizes = other.from == ring.from && other.to == ring.to;
        sizes && other.depth == ring.depth && other.clear == ring.clear
    };
    match rings.iter_mut().find(like) {
        Some(other) => {
            other.owned += ring.owned;
            other.price = match (other.price, ring.price) {
                (Some(one), Some(two)) => Some(one.min(two)),
                (one, two) => one.or(two),
            };
        }
        None => rings.push(ring),
    }
}

/// A diameter: from a pinhole cap to the largest box.
fn size(given: f64, field: &str) -> Result<Length, Refusal> {
    Length::new(crate::shapes::planning::in_range(
        given, 1.0, 1000.0, field,
    )?)
    .at(field)
}

impl RingLensRequest {
    fn lens(&self, path: &str) -> Result<Lens, Refusal> {
        let at = |field: &str| format!("{path}.{field}");
        let front = match (self.thread_mm, self.outer_mm) {
            (Some(_), Some(_)) => return Err(Refusal::new(Code::OneTooMany, &at("outerMm"))),
            (Some(thread), None) => Front::Thread(size(thread, &at("threadMm"))?),
            (None, Some(outer)) => Front::Outside(size(outer, &at("outerMm"))?),
            (None, None) => return Err(Refusal::new(Code::Missing, &at("threadMm"))),
        };
        Ok(Lens {
            front,
            needs_clear: match (self.needs_clear_mm, &self.fit) {
                (Some(clear), _) => Some(ClearCone::straight(size(clear, &at("needsClearMm"))?)),
                (None, Some(fit)) => Some(fit.clear_cone(&at("fit"))?),
                (None, None) => None,
            },
        })
    }
}

impl OwnedRingRequest {
    /// The ring, owned and not to be had.
    pub(crate) fn ring(&self, path: &str) -> Result<Ring, Refusal> {
        let offer = RingOfferRequest {
            from_mm: self.from_mm,
            to_mm: self.to_mm,
            cost: 0.0,
            clamp: self.clamp,
            depth_mm: self.depth_mm,
            clear_mm: self.clear_mm,
        };
        Ok(Ring {
            owned: usize::from(self.count),
            ..offer.ring(path)?
        })
    }
}

impl RingOfferRequest {
    /// The ring, to be had and not owned.
    pub(crate) fn offer(&self, path: &str) -> Result<Ring, Refusal> {
        Ok(Ring {
            price: Some(hundredths(self.cost, &format!("{path}.cost"))?),
            ..self.ring(path)?
        })
    }

    /// The ring, neither owned nor to be had.
    fn ring(&self, path: &str) -> Result<Ring, Refusal> {
        let at = |field: &str| format!("{path}.{field}");
        let from = size(self.from_mm, &at("fromMm"))?;
        let to = size(self.to_mm, &at("toMm"))?;
        let depth = self.depth_mm.unwrap_or(USUAL_DEPTH);
        let depth = crate::shapes::planning::in_range(depth, 0.0, 1000.0, &at("depthMm"))?;
        let narrower = from.millimetres().min(to.millimetres());
        let clear = self.clear_mm.unwrap_or((narrower - USUAL_EDGE).max(1.0));
        Ok(Ring {
            from: if self.clamp {
                Front::Outside(from)
            } else {
                Front::Thread(from)
            },
            to,
            depth: Length::new(depth).at(&at("depthMm"))?,
            clear: size(clear, &at("clearMm"))?,
            owned: 0,
            price: None,
        })
    }
}

fn rings_reply(
    request: &RingsRequest,
    (lenses, stacked): (&[Lens], Ring),
    rings: &[Ring],
    fitting: &Fitting,
) -> RingsReply {
    let id = |lens: usize| request.lenses[lens].id.clone();
    let paths = |paths: &[Option<Path>]| -> Vec<RingPathReply> {
        (paths.iter().enumerate())
            .map(|(lens, path)| {
                path_reply(id(lens), (lenses[lens], stacked), rings, path.as_deref())
            })
            .collect()
    };
    let settled = paths(&fitting.settled);
    RingsReply {
        lenses: paths(&fitting.alone),
        clashes: (fitting.clashes.iter())
            .map(|clash| RingClashReply {
                ring: ring_reply(&rings[clash.ring]),
                owned: rings[clash.ring].owned,
                lenses: clash.lenses.iter().map(|&lens| id(lens)).collect(),
            })
            .collect(),
        deepest_mm: settled.iter().map(|path| path.depth_mm).fold(0.0, f64::max),
        settled,
        buy: (fitting.buy.iter().zip(rings))
            .filter(|&(&count, _)| count > 0)
            .map(|(&count, ring)| RingToBuyReply {
                ring: ring_reply(ring),
                count,
                cost: from_hundredths(ring.price.unwrap_or(0)),
            })
            .collect(),
        cost: from_hundredths(fitting.cost),
        proven: fitting.proof.is_proven(),
        least_cost: from_hundredths(fitting.bound()),
        working: None,
    }
}

/// Room under which one looks through the lens, mm.
const SURE_ROOM: f64 = 3.0;

fn path_reply(
    id: String,
    (lens, stacked): (Lens, Ring),
    rings: &[Ring],
    path: Option<&[usize]>,
) -> RingPathReply {
    let sorts: Vec<&Ring> = path
        .unwrap_or_default()
        .iter()
        .map(|&at| &rings[at])
        .collect();
    let clear = sorts.iter().map(|ring| ring.clear.millimetres());
    let fronts = sorts.iter().scan(0.0, |front, ring| {
        *front += ring.depth.millimetres();
        Some(*front)
    });
    let spare = (lens.needs_clear).and_then(|needed| {
        let room = (sorts.iter().zip(fronts)).map(|(ring, front)| needed.room(ring, front));
        room.reduce(f64::min)
    });
    let depth: f64 = sorts.iter().map(|ring| ring.depth.millimetres()).sum();
    let stackable = |margin: f64| {
        let needed = lens.needs_clear.filter(|_| path.is_some())?;
        Some(if spare.is_some_and(|spare| spare < margin) {
            0
        } else {
            needed.stackable(&stacked, depth, margin)
        })
    };
    RingPathReply {
        stackable: stackable(0.0),
        surely_stackable: stackable(SURE_ROOM),
        id,
        reaches: path.is_some(),
        depth_mm: depth,
        clear_mm: clear.reduce(f64::min),
        spare_mm: spare,
        rings: sorts.into_iter().map(ring_reply).collect(),
    }
}

fn ring_reply(ring: &Ring) -> RingReply {
    let (Front::Thread(from) | Front::Outside(from)) = ring.from;
    RingReply {
        from_mm: from.millimetres(),
        to_mm: ring.to.millimetres(),
        clamp: matches!(ring.from, Front::Outside(_)),
        depth_mm: ring.depth.millimetres(),
        clear_mm: ring.clear.millimetres(),
    }
}
