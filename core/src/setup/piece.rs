//! One physical filter and what it takes.

use crate::quantity::{Density, MiredShift, Stops};
use alloc::string::String;
use core::fmt;

/// What a piece is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PieceKind {
    /// The same density all over.
    NeutralDensity,
    /// Density on one side, clear on the other.
    Graduated,
    /// Passes one direction of polarization; must be turned.
    Polarizer,
    /// Stops infrared, passes the visible.
    InfraredCut,
    /// Shifts the colour temperature.
    Colour,
    /// Brings the focus nearer.
    CloseUp,
    /// Changes the look: diffusion, streaks, fog.
    Effect,
    /// Clear protection.
    Clear,
}

/// How a loss became known, best first.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LossOrigin {
    /// The user measured it.
    Measured,
    /// The user states it in stops.
    Stated,
    /// Engraved on the rim.
    Marked,
    /// Assumed for its kind.
    Assumed,
}

/// What a piece takes all over the frame, and how that is known.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Loss {
    /// In stops.
    pub stops: Stops,
    /// Where the figure comes from.
    pub origin: LossOrigin,
}

/// A piece as its owner describes it.
#[derive(Debug, Clone, PartialEq)]
pub struct PieceRecord {
    /// The owner's name for it.
    pub id: String,
    /// What it is for.
    pub kind: PieceKind,
    /// Density as marked.
    pub marked: Option<Density>,
    /// Density as measured; outranks the mark.
    pub measured: Option<Density>,
    /// Loss in stops as stated; used where no density was measured.
    pub stated: Option<Stops>,
    /// Thread or panel size; empty fits any slot.
    pub size: String,
    /// Density in the infrared; `None` when nobody knows.
    pub infrared: Option<Density>,
    /// Shift of colour temperature.
    pub mired_shift: Option<MiredShift>,
    /// How many there are.
    pub count: u8,
}

/// A piece whose loss is known or fairly assumed.
#[derive(Debug, Clone, PartialEq)]
pub struct Piece {
    record: PieceRecord,
    loss: Loss,
}

/// Why a record makes no piece.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PieceError {
    /// Neutral density without any density.
    NoDensity,
    /// A piece that would add light.
    NegativeLoss,
}

impl fmt::Display for PieceError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::NoDensity => "neutral density needs a density",
            Self::NegativeLoss => "a piece cannot add light",
        })
    }
}

impl core::error::Error for PieceError {}

impl Piece {
    /// What a polarizer is taken to cost until it is measured: 1⅔ stops.
    ///
    /// # Source
    ///
    /// Common practice, no source: "about two stops, some one, some more". One
    /// stop is the floor for an ideal sheet in unpolarized light.
    pub const POLARIZER_LOSS: Stops = Stops::computed(5.0 / 3.0);

    /// Settles what the piece takes: measured, then stated, then marked, then
    /// the usual for its kind.
    ///
    /// The density of a graduated piece is its dark half's, so it takes nothing
    /// all over unless a loss is stated.
    ///
    /// # Errors
    ///
    /// [`PieceError`] for neutral density of unknown density and for a stated
    /// gain of light.
    pub fn new(record: PieceRecord) -> Result<Self, PieceError> {
        if record.stated.is_some_and(|stated| stated < Stops::ZERO) {
            return Err(PieceError::NegativeLoss);
        }
        let loss = record
            .known_loss()
            .or_else(|| record.kind.assumed_loss())
            .ok_or(PieceError::NoDensity)?;
        Ok(Self { record, loss })
    }

    /// The owner's record.
    #[must_use]
    pub const fn record(&self) -> &PieceRecord {
        &self.record
    }

    /// What it takes all over the frame.
    #[must_use]
    pub const fn loss(&self) -> Loss {
        self.loss
    }
}

impl PieceRecord {
    fn known_loss(&self) -> Option<Loss> {
        let all_over = self.kind != PieceKind::Graduated;
        let by = |stops, origin| Loss { stops, origin };
        let measured = self.measured.filter(|_| all_over);
        let marked = self.marked.filter(|_| all_over);
        measured
            .map(|density| by(density.stops(), LossOrigin::Measured))
            .or_else(|| self.stated.map(|stops| by(stops, LossOrigin::Stated)))
            .or_else(|| marked.map(|density| by(density.stops(), LossOrigin::Marked)))
    }
}

impl PieceKind {
    const fn assumed_loss(self) -> Option<Loss> {
        let stops = match self {
            Self::NeutralDensity => return None,
            Self::Polarizer => Piece::POLARIZER_LOSS,
            Self::Graduated
            | Self::InfraredCut
            | Self::Colour
            | Self::CloseUp
            | Self::Effect
            | Self::Clear => Stops::ZERO,
        };
        Some(Loss {
            stops,
            origin: LossOrigin::Assumed,
        })
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
pub(crate) mod tests {
    use super::{LossOrigin, Piece, PieceError, PieceKind, PieceRecord};
    use crate::quantity::{Density, Stops};
    use alloc::string::{String, ToString as _};

    pub(crate) fn record(id: &str, kind: PieceKind) -> PieceRecord {
        PieceRecord {
            id: id.to_string(),
            kind,
            marked: None,
            measured: None,
            stated: None,
            size: String::new(),
            infrared: None,
            mired_shift: None,
            count: 1,
        }
    }

    #[test]
    fn a_measurement_outranks_the_mark() {
        let piece = Piece::new(PieceRecord {
            marked: Density::new(0.9).ok(),
            measured: Density::new(0.93).ok(),
            ..record("a", PieceKind::NeutralDensity)
        })
        .unwrap();
        assert_eq!(piece.loss().origin, LossOrigin::Measured);
        assert_eq!(piece.loss().stops, Density::new(0.93).unwrap().stops());
    }

    #[test]
    fn an_unmeasured_polarizer_is_assumed() {
        let piece = Piece::new(record("p", PieceKind::Polarizer)).unwrap();
        assert_eq!(piece.loss().origin, LossOrigin::Assumed);
        assert_eq!(piece.loss().stops, Piece::POLARIZER_LOSS);
    }

    #[test]
    fn the_clear_half_of_a_grad_takes_nothing() {
        let piece = Piece::new(PieceRecord {
            marked: Density::new(0.6).ok(),
            ..record("g", PieceKind::Graduated)
        })
        .unwrap();
        assert_eq!(piece.loss().stops, Stops::ZERO);
    }

    #[test]
    fn unknown_density_and_gains_are_refused() {
        let unknown = record("x", PieceKind::NeutralDensity);
        assert_eq!(Piece::new(unknown.clone()), Err(PieceError::NoDensity));
        let gain = PieceRecord {
            stated: Stops::new(-1.0).ok(),
            ..unknown
        };
        assert_eq!(Piece::new(gain), Err(PieceError::NegativeLoss));
    }
}
