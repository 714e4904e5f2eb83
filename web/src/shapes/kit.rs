//! Pieces, slots and wheel as several requests give them.

use crate::plain::refusal::{At, Code, Refusal};
use crate::shapes::piece::PieceRequest;
use crate::shapes::rig::{RigRequest, SlotRequest};
use glasscall_core::quantity::Density;
use glasscall_core::search::stack::MAX_PIECES;
use glasscall_core::setup::{MAX_SLOTS, Piece, Rig, Slot, WheelPosition};

/// Positions an internal wheel may have.
const MAX_WHEEL: usize = 16;

/// Refuses an id that stands twice in a list.
pub(crate) fn each_once<'a>(ids: impl Iterator<Item = &'a str>, list: &str) -> Result<(), Refusal> {
    let mut seen = std::collections::BTreeSet::new();
    for (at, id) in ids.enumerate() {
        if !seen.insert(id) {
            return Err(Refusal::new(Code::Duplicate, &format!("{list}[{at}].id")).given(id));
        }
    }
    Ok(())
}

pub(crate) fn kit(given: &[PieceRequest]) -> Result<Vec<Piece>, Refusal> {
    let copies: usize = given.iter().map(|piece| usize::from(piece.count)).sum();
    if copies.max(given.len()) > MAX_PIECES {
        return Err(Refusal::too_many(
            "kit",
            copies.max(given.len()),
            MAX_PIECES,
        ));
    }
    each_once(given.iter().map(|piece| piece.id.as_str()), "kit")?;
    (given.iter().enumerate())
        .map(|(at, piece)| piece.piece(&format!("kit[{at}]")))
        .collect()
}

pub(crate) fn rig(given: &RigRequest) -> Result<Rig, Refusal> {
    if given.slots.len() > MAX_SLOTS {
        return Err(Refusal::too_many("rig.slots", given.slots.len(), MAX_SLOTS));
    }
    each_once(given.slots.iter().map(|slot| slot.id.as_str()), "rig.slots")?;
    let slot = |slot: &SlotRequest| Slot {
        id: slot.id.clone(),
        size: slot.size.clone(),
        rotates: slot.rotates,
    };
    Ok(Rig {
        slots: given.slots.iter().map(slot).collect(),
    })
}

pub(crate) fn wheel(given: &[f64]) -> Result<Vec<Density>, Refusal> {
    if given.len() > MAX_WHEEL {
        return Err(Refusal::too_many("wheel", given.len(), MAX_WHEEL));
    }
    (given.iter().enumerate())
        .map(|(at, &density)| Density::new(density).at(&format!("wheel[{at}]")))
        .collect()
}

/// The wheel with what is known of its infrared, position by position.
pub(crate) fn wheel_positions(
    given: &[f64],
    infrared: &[Option<f64>],
) -> Result<Vec<WheelPosition>, Refusal> {
    if infrared.len() > given.len() {
        let (there, most) = (infrared.len(), given.len());
        return Err(Refusal::too_many("wheelInfrared", there, most));
    }
    let known = |at: usize| infrared.get(at).copied().flatten();
    (wheel(given)?.into_iter().enumerate())
        .map(|(at, density)| {
            Ok(WheelPosition {
                density,
                infrared: known(at)
                    .map(Density::new)
                    .transpose()
                    .at(&format!("wheelInfrared[{at}]"))?,
            })
        })
        .collect()
}

pub(crate) fn piece_named(kit: &[Piece], id: &str, field: &str) -> Result<usize, Refusal> {
    (kit.iter().position(|piece| piece.record().id == id))
        .ok_or_else(|| Refusal::new(Code::UnknownPiece, field).given(id))
}

pub(crate) fn pieces_named(
    kit: &[Piece],
    ids: &[String],
    list: &str,
) -> Result<Vec<usize>, Refusal> {
    (ids.iter().enumerate())
        .map(|(at, id)| piece_named(kit, id, &format!("{list}[{at}]")))
        .collect()
}
