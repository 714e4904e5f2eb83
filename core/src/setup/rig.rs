//! What holds the pieces in front of the lens.

use super::{PieceKind, PieceRecord};
use alloc::string::String;
use alloc::vec::Vec;

/// The most slots a rig may have.
pub const MAX_SLOTS: usize = 8;

/// One place for one piece.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Slot {
    /// The user's name for it.
    pub id: String,
    /// Thread or panel size; empty takes any.
    pub size: String,
    /// Whether a piece in it can be turned.
    pub rotates: bool,
}

/// The slots, from the lens outward.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Rig {
    /// The slots.
    pub slots: Vec<Slot>,
}

impl Slot {
    /// Whether the piece goes in here: the size matches, and what must be
    /// turned can be.
    #[must_use]
    pub fn takes(&self, piece: &PieceRecord) -> bool {
        let can_turn = self.rotates || piece.kind != PieceKind::Polarizer;
        can_turn && same_size(&self.size, &piece.size)
    }
}

fn same_size(slot: &str, piece: &str) -> bool {
    let (slot, piece) = (slot.trim(), piece.trim());
    slot.is_empty() || piece.is_empty() || slot.eq_ignore_ascii_case(piece)
}

#[cfg(test)]
mod tests {
    use super::super::piece::tests::record;
    use super::{PieceKind, PieceRecord, Slot};

    fn slot(size: &str, rotates: bool) -> Slot {
        Slot {
            id: "1".into(),
            size: size.into(),
            rotates,
        }
    }

    fn piece(kind: PieceKind, size: &str) -> PieceRecord {
        PieceRecord {
            size: size.into(),
            ..record("a", kind)
        }
    }

    #[test]
    fn sizes_must_match() {
        let nd = piece(PieceKind::NeutralDensity, "4x5.65");
        assert!(slot("4X5.65", false).takes(&nd));
        assert!(!slot("6.6x6.6", false).takes(&nd));
        assert!(slot("", false).takes(&nd));
    }

    #[test]
    fn a_polarizer_needs_a_slot_that_rotates() {
        let polarizer = piece(PieceKind::Polarizer, "");
        assert!(!slot("", false).takes(&polarizer));
        assert!(slot("", true).takes(&polarizer));
    }
}
