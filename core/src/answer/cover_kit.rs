//! What to pack or buy for the needs of a day.

use crate::quantity::{Density, Stops};
use crate::search::budget::Budget;
use crate::search::cover::{self, Cover, Need, Ware};
use crate::search::places::Places;
use crate::setup::{Piece, PieceKind, Slot};
use crate::sorted::sort_by;
use alloc::string::String;
use alloc::vec::Vec;

/// One piece on offer.
#[derive(Debug, Clone, PartialEq)]
pub struct Offer {
    /// The piece; its count is how many may be bought.
    pub piece: Piece,
    /// What one costs, in hundredths; nothing for what is owned.
    pub cost: u64,
}

/// One need.
#[derive(Debug, Clone, PartialEq)]
pub struct Wanted {
    /// What the glass must take, a polarizer included.
    pub stops: Stops,
    /// How far off it may be, either way.
    pub tolerance: Stops,
    /// The most pieces at once.
    pub slots: usize,
    /// Whether a polarizer is in.
    pub polarizer: bool,
    /// Size of the slots; empty takes any.
    pub size: String,
    /// The slots one by one, where they differ; then `slots` and `size` are not
    /// used.
    pub places: Vec<Slot>,
}

/// The cover, and what is missing from the catalogue.
#[derive(Debug, Clone, PartialEq)]
pub struct Answer {
    /// The cheapest set.
    pub cover: Cover,
    /// The one piece more that would serve most of what cannot be served.
    pub one_more: Option<OneMore>,
}

/// A neutral density that is not in the catalogue.
#[derive(Debug, Clone, PartialEq)]
pub struct OneMore {
    /// The least it may take.
    pub from: Density,
    /// The most it may take.
    pub to: Density,
    /// Needs it would serve, together with what is bought.
    pub serves: Vec<usize>,
}

/// The cheapest set of pieces that serves every need that can be served.
///
/// # Source
///
/// Own derivation; see [`crate::search::cover`].
#[must_use]
pub fn cover_kit(catalogue: &[Offer], wanted: &[Wanted], budget: &mut Budget) -> Answer {
    let wares: Vec<Ware> = (catalogue.iter())
        .map(|offer| Ware {
            loss: offer.piece.loss().stops,
            cost: offer.cost,
            most: usize::from(offer.piece.record().count),
        })
        .collect();
    let needs: Vec<Need> = wanted.iter().map(|want| need(catalogue, want)).collect();
    let cover = cover::cover(&wares, &needs, budget);
    let one_more = one_more(&wares, &needs, &cover);
    Answer { cover, one_more }
}

fn need(catalogue: &[Offer], want: &Wanted) -> Need {
    let alike = [Slot {
        id: String::new(),
        size: want.size.clone(),
        rotates: true,
    }];
    let differ = !want.places.is_empty();
    let slots = if differ { &want.places[..] } else { &alike };
    let places: Vec<Places> = (catalogue.iter())
        .map(|offer| {
            let takes = |slot: &Slot| slot.takes(offer.piece.record());
            (slots.iter().enumerate())
                .filter(|(_, slot)| takes(slot))
                .fold(0, |bits, (at, _)| bits | 1 << at)
        })
        .collect();
    let of_kind = |kind: PieceKind| {
        (0..catalogue.len())
            .filter(|&at| catalogue[at].piece.record().kind == kind && places[at] != 0)
            .collect::<Vec<usize>>()
    };
    Need {
        loss: want.stops,
        tolerance: want.tolerance,
        slots: if differ { slots.len() } else { want.slots },
        may: of_kind(PieceKind::NeutralDensity),
        one_of: want.polarizer.then(|| of_kind(PieceKind::Polarizer)),
        places: differ.then_some(places),
    }
}

/// The densest gathering of needs along the scale of one more piece.
///
/// Each unserved need, with each choice of bought pieces that leaves a slot,
/// names an interval of densities that would serve it. The point inside the
/// intervals of most needs is found by going along their ends.
fn one_more(wares: &[Ware], needs: &[Need], cover: &Cover) -> Option<OneMore> {
    let mut ends: Vec<(f64, bool, usize)> = Vec::new();
    for (at, need) in needs.iter().enumerate() {
        if cover.served[at].is_none() {
            for (from, to) in intervals(wares, need, &cover.bought) {
                ends.push((from, false, at));
                ends.push((to, true, at));
            }
        }
    }
    // An interval that begins where another ends overlaps it: begins first.
    sort_by(&mut ends, |a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
    let mut inside = alloc::vec![0_usize; needs.len()];
    let mut best: Option<(Vec<usize>, f64, f64)> = None;
    for (nth, &(at, ends_here, need)) in ends.iter().enumerate() {
        if ends_here {
            inside[need] -= 1;
            continue;
        }
        inside[need] += 1;
        let serves: Vec<usize> = (0..needs.len()).filter(|&need| inside[need] > 0).collect();
        if (best.as_ref()).is_none_or(|(most, ..)| serves.len() > most.len()) {
            let to = ends[nth + 1..]
                .iter()
                .find(|end| end.1)
                .map_or(at, |end| end.0);
            best = Some((serves, at, to));
        }
    }
    let (serves, from, to) = best?;
    let density = |stops: f64| Density::from_stops(Stops::computed(stops)).ok();
    Some(OneMore {
        from: density(from)?,
        to: density(to)?,
        serves,
    })
}

/// Stops one more piece may take to serve the need beside bought pieces.
fn intervals(wares: &[Ware], need: &Need, bought: &[usize]) -> Vec<(f64, f64)> {
    let firsts: Vec<Option<usize>> = match &need.one_of {
        None => [None].into(),
        Some(one_of) => (one_of.iter().copied())
            .filter(|&ware| bought[ware] > 0)
            .map(Some)
            .collect(),
    };
    let mut found = Vec::new();
    for first in firsts {
        let taken = first.map_or(0.0, |ware| wares[ware].loss.stops());
        let Some(slots) = need.slots.checked_sub(1 + usize::from(first.is_some())) else {
            continue;
        };
        let mut sums: Vec<(Vec<usize>, f64)> = [(Vec::new(), taken)].into();
        for &ware in &need.may {
            sums = (sums.into_iter())
                .flat_map(|(used, sum)| {
                    (0..=bought[ware].min(slots - used.len())).map(move |count| {
                        let copies = core::iter::repeat_n(ware, count);
                        let loss = copies.clone().map(|ware| wares[ware].loss.stops());
                        let all: Vec<usize> = used.iter().copied().chain(copies.clone()).collect();
                        (all, sum + loss.sum::<f64>())
                    })
                })
                .filter(|(used, _)| need.takes_at_once(first.into_iter().chain(used.clone())))
                .collect();
        }
        let (middle, half) = (need.loss.stops(), need.tolerance.stops());
        let most = MOST / core::f64::consts::LOG10_2;
        found.extend((sums.into_iter()).filter_map(|(_, sum)| {
            let (from, to) = (middle - half - sum, middle + half - sum);
            // Less than nothing is no piece; beyond the scale none is made.
            (to > 0.0 && from < most).then_some((from.max(0.0), to.min(most)))
        }));
    }
    found
}

/// The densest single piece that is suggested.
const MOST: f64 = 6.0;

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::*;
    use crate::setup::PieceRecord;

    fn offer(kind: PieceKind, density: f64, cost: u64) -> Offer {
        Offer {
            piece: Piece::new(PieceRecord {
                id: String::new(),
                kind,
                marked: Density::new(density).ok(),
                measured: None,
                stated: None,
                size: String::new(),
                infrared: None,
                mired_shift: None,
                count: 1,
            })
            .unwrap(),
            cost,
        }
    }

    fn wanted(density: f64, slots: usize) -> Wanted {
        Wanted {
            stops: Density::new(density).unwrap().stops(),
            tolerance: Stops::computed(1.0 / 3.0),
            slots,
            polarizer: false,
            size: String::new(),
            places: Vec::new(),
        }
    }

    #[test]
    fn slots_of_two_sizes_take_what_goes_into_each() {
        let sized = |density, cost, size: &str| {
            let mut offer = offer(PieceKind::NeutralDensity, density, cost);
            offer.piece = Piece::new(PieceRecord {
                size: size.into(),
                ..offer.piece.record().clone()
            })
            .unwrap();
            offer
        };
        let slot = |size: &str| Slot {
            id: String::new(),
            size: size.into(),
            rotates: false,
        };
        let catalogue = [
            sized(0.3, 1, "round"),
            sized(0.6, 1, "round"),
            sized(0.6, 9, "panel"),
        ];
        let needs = [Wanted {
            tolerance: Stops::computed(0.1),
            places: [slot("panel"), slot("round")].into(),
            ..wanted(0.9, 0)
        }];
        let answer = cover_kit(&catalogue, &needs, &mut Budget::endless());
        // The two round ones would be cheaper and have one slot between them.
        assert_eq!(answer.cover.served, [Some([0, 2].into())]);
        // A polarizer finds none that turns.
        let asked = Wanted {
            polarizer: true,
            ..needs[0].clone()
        };
        let catalogue = [sized(0.3, 1, "round"), offer(PieceKind::Polarizer, 0.6, 1)];
        let answer = cover_kit(&catalogue, &[asked], &mut Budget::endless());
        assert_eq!(answer.cover.served, [None]);
    }

    #[test]
    fn the_piece_that_is_missing_is_named() {
        let nd = PieceKind::NeutralDensity;
        let catalogue = [offer(nd, 0.3, 10)];
        let needs = [
            wanted(0.3, 2),
            wanted(1.2, 2),
            wanted(1.5, 2),
            wanted(3.0, 1),
        ];
        let answer = cover_kit(&catalogue, &needs, &mut Budget::endless());
        assert_eq!(answer.cover.cost, 10);
        // 1.2 serves 1.2 alone and 1.5 with the 0.3.
        let more = answer.one_more.unwrap();
        assert_eq!(more.serves, [1, 2]);
        assert!(more.from.density() < 1.2 && 1.2 < more.to.density());
    }

    #[test]
    fn with_every_need_served_nothing_is_missing() {
        let catalogue = [offer(PieceKind::NeutralDensity, 0.3, 10)];
        let answer = cover_kit(&catalogue, &[wanted(0.3, 1)], &mut Budget::endless());
        assert_eq!(answer.one_more, None);
    }

    #[test]
    fn glass_that_changes_the_picture_serves_no_need() {
        let catalogue = [offer(PieceKind::Polarizer, 0.5, 10)];
        let answer = cover_kit(&catalogue, &[wanted(0.5, 1)], &mut Budget::endless());
        assert_eq!(answer.cover.served, [None]);
        let asked = Wanted {
            polarizer: true,
            ..wanted(0.5, 1)
        };
        let answer = cover_kit(&catalogue, &[asked], &mut Budget::endless());
        assert_eq!(answer.cover.served, [Some([0].into())]);
    }
}
