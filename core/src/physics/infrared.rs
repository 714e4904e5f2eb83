//! What neutral density lets through that the eye does not see.

use crate::quantity::{Density, Stops};
use crate::setup::{Piece, PieceKind};

/// Where infrared begins to show behind ordinary glass: visible density 1.2.
///
/// Common practice, no source.
pub const WATCH_FROM: f64 = 1.2;
/// Where ordinary glass needs an infrared cut: visible density 1.5.
///
/// Common practice, no source.
pub const CUT_FROM: f64 = 1.5;

/// How much less infrared than visible light a stack takes, in stops.
///
/// Neutral density of unknown infrared density is taken to stop none of it;
/// infrared cut of unknown density is taken to stop all that matters (D 2).
/// Visible and infrared densities are kept apart; this is their difference.
///
/// # Units
///
/// Stops; positive when the sensor sees relatively more infrared.
#[must_use]
pub fn excess<'a>(stack: impl IntoIterator<Item = &'a Piece>) -> Stops {
    stack.into_iter().map(excess_of).sum()
}

fn excess_of(piece: &Piece) -> Stops {
    let record = piece.record();
    let infrared = record.infrared.map(Density::stops);
    match record.kind {
        PieceKind::NeutralDensity => piece.loss().stops - infrared.unwrap_or(Stops::ZERO),
        PieceKind::InfraredCut => {
            piece.loss().stops - infrared.unwrap_or(Stops::computed(UNKNOWN_CUT))
        }
        _ => infrared.map_or(Stops::ZERO, |infrared| piece.loss().stops - infrared),
    }
}

/// Density 2 in stops: what a cut of unknown density is taken to stop.
const UNKNOWN_CUT: f64 = 2.0 / core::f64::consts::LOG10_2;

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::{Density, Piece, PieceKind, excess};
    use crate::setup::PieceRecord;
    use alloc::string::String;

    fn piece(kind: PieceKind, marked: Option<f64>, infrared: Option<f64>) -> Piece {
        Piece::new(PieceRecord {
            id: String::from("a"),
            kind,
            marked: marked.map(|d| Density::new(d).unwrap()),
            measured: None,
            stated: None,
            size: String::new(),
            infrared: infrared.map(|d| Density::new(d).unwrap()),
            mired_shift: None,
            count: 1,
        })
        .unwrap()
    }

    #[test]
    fn ordinary_glass_passes_all_infrared() {
        let plain = piece(PieceKind::NeutralDensity, Some(1.2), None);
        assert_eq!(excess([&plain]), plain.loss().stops);
    }

    #[test]
    fn glass_that_stops_both_alike_has_no_excess() {
        let both = piece(PieceKind::NeutralDensity, Some(1.2), Some(1.2));
        assert_eq!(excess([&both]).stops(), 0.0);
    }

    #[test]
    fn a_cut_takes_the_excess_away() {
        let plain = piece(PieceKind::NeutralDensity, Some(1.5), None);
        let cut = piece(PieceKind::InfraredCut, None, None);
        assert!(excess([&plain, &cut]).stops() < 0.0);
    }
}
