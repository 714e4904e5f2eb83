//! Whether pieces of several sizes find room at once.

use crate::setup::MAX_SLOTS;

/// The slots a piece goes into, a bit each.
pub type Places = u8;

const _: () = assert!(MAX_SLOTS <= Places::BITS as usize, "a bit for each slot");

/// Whether each of the pieces can have a slot of its own.
///
/// Goes through every set of slots that the pieces so far may fill, at most 256.
#[must_use]
pub(super) fn find_room(pieces: impl IntoIterator<Item = Places>) -> bool {
    let mut filled = [false; 1 << Places::BITS];
    filled[0] = true;
    for places in pieces {
        let mut next = [false; 1 << Places::BITS];
        for (slots, _) in filled.iter().enumerate().filter(|(_, is_so)| **is_so) {
            for slot in 0..Places::BITS {
                let bit = 1 << slot;
                if usize::from(places) & bit != 0 && slots & bit == 0 {
                    next[slots | bit] = true;
                }
            }
        }
        filled = next;
    }
    filled.contains(&true)
}

#[cfg(test)]
mod tests {
    use super::find_room;

    #[test]
    fn two_of_one_size_do_not_share_its_slot() {
        assert!(find_room([]));
        assert!(find_room([0b01, 0b10]) && find_room([0b11, 0b01]) && find_room([0b11, 0b11]));
        assert!(!find_room([0b01, 0b01]) && !find_room([0b00]));
        // Each pair has room, all three have not.
        assert!(!find_room([0b011, 0b011, 0b011]) && find_room([0b011, 0b110, 0b101]));
    }
}
