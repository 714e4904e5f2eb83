//! Two cards ahead of the lens: its pupil and its distortion on one axis.

use super::known_lens::Measured;
use super::pupil::{Card, CardError, two_cards};

/// One axis as two cards tell it, and as they would if they were misread.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AxisByCards {
    /// As read.
    pub read: Measured,
    /// Each height read too low or too high, in the order of
    /// [`Place::Cards`](super::known_lens::Place::Cards).
    pub misread: [Measured; 4],
}

/// Pupil and distortion from two cards.
///
/// The straight line through both card edges is the chief ray itself, so what
/// is measured holds at every distance. Its tangent against what height and
/// focal length give is the distortion where the cards were held; it grows with
/// the square of the height to the farthest corner. `off` is how far each
/// height may be misread; usually
/// [`CARD_READING_MM`](super::pupil::CARD_READING_MM).
///
/// # Units
///
/// `here` and `corner`: tangents that height over focal length gives where the
/// cards were held and at the picture's farthest corner. δ = (tan θ/here − 1)·
/// (corner/here)².
///
/// # Errors
///
/// As [`two_cards`].
///
/// # Source
///
/// Similar triangles and third-order distortion; own derivation.
pub fn axis_by_cards(
    near: Card,
    far: Card,
    here: f64,
    corner: f64,
    off: f64,
) -> Result<AxisByCards, CardError> {
    let read = two_cards(near, far)?;
    let carried = corner / here;
    let from = |tangent: f64, behind: f64| Measured {
        behind,
        distortion: (tangent / here - 1.0) * carried * carried,
    };
    let (z1, z2) = (near.distance.millimetres(), far.distance.millimetres());
    let (y1, y2) = (near.height.millimetres(), far.height.millimetres());
    let misread = |near: f64, far: f64| {
        let (y1, y2) = (y1 + near * off, y2 + far * off);
        // Cards too near each other to tell anything tell almost nothing.
        let tangent = ((y2 - y1) / (z2 - z1)).max(LEAST_TANGENT);
        from(tangent, y1 / tangent - z1)
    };
    Ok(AxisByCards {
        read: from(read.tan_half_field, read.behind_rim.millimetres()),
        misread: [
            misread(-1.0, -1.0),
            misread(-1.0, 1.0),
            misread(1.0, -1.0),
            misread(1.0, 1.0),
        ],
    })
}

/// No chief ray towards the edge of a picture is flatter.
const LEAST_TANGENT: f64 = 1e-3;

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::*;
    use crate::quantity::{Length, Span};

    #[test]
    fn cards_find_the_pupil_and_the_distortion_they_were_drawn_from() {
        // At a tangent of 0.6 a lens that bends by 3 % there: 0.618; carried to
        // a corner at 0.75 that is 3 %·(0.75/0.6)².
        let card = |z: f64| Card {
            distance: Length::new(z).unwrap(),
            height: Span::new((25.0 + z) * 0.618).unwrap(),
        };
        let found = axis_by_cards(card(20.0), card(140.0), 0.6, 0.75, 0.5).unwrap();
        assert!((found.read.behind - 25.0).abs() < 1e-9);
        assert!((found.read.distortion - 0.046_875).abs() < 1e-9);
        // Both a half millimetre high: the same tangent, the pupil deeper.
        let both_high = found.misread[3];
        assert!((both_high.distortion - found.read.distortion).abs() < 1e-9);
        assert!((both_high.behind - 25.0 - 0.5 / 0.618).abs() < 1e-9);
    }
}
