//! What a fit is asked with, and what cannot be asked.

use super::placed::{Looked, Placed};
use crate::physics::known_lens::KnownLens;
use crate::physics::opening::Opening;
use crate::physics::pupil_range::PupilRange;
use crate::quantity::{Aperture, Bounds, FocalLength, Length, OutOfRange};
use crate::setup::{Tangents, Uncertainties, View};
use crate::sorted::sort_by;
use alloc::vec::Vec;

/// The most openings in a row.
pub const MAX_OPENINGS: usize = 24;
/// The most looks.
pub const MAX_LOOKS: usize = 24;

/// What is asked.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Question<'a> {
    /// Sensor, focal length, squeeze, shift.
    pub view: View,
    /// The f-number.
    pub f_number: Aperture,
    /// What is known of the lens; `None` when nothing is, which leaves what was
    /// seen.
    pub lens: Option<KnownLens>,
    /// The same lens focused close, where it breathes or its pupil moves.
    pub close: Option<Close>,
    /// The openings, in any order.
    pub openings: &'a [Placed],
    /// Looks at openings that are not there now.
    pub looks: &'a [Looked],
    /// The other end of a zoom.
    pub zoom: Option<ZoomEnd>,
    /// Field points whose loss is asked for.
    pub points: &'a [Tangents],
    /// How well inputs are known.
    pub known: Uncertainties,
}

impl Question<'_> {
    /// Looks at other openings and at these.
    pub(in crate::answer) fn all_looks(&self) -> Vec<Looked> {
        let here = self.openings.iter();
        let here = here.filter_map(|placed| placed.looked(self.f_number));
        self.looks.iter().copied().chain(here).collect()
    }
}

/// The other end of a zoom lens. Pupil and f-number are taken to change evenly
/// with focal length in between.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ZoomEnd {
    /// Focal length there.
    pub focal_length: FocalLength,
    /// f-number there.
    pub f_number: Aperture,
    /// The lens there.
    pub lens: KnownLens,
}

/// A lens focused close.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Close {
    /// What its sensor sees then: a lens that breathes has another focal length.
    pub view: View,
    /// The lens then.
    pub lens: KnownLens,
}

/// Why a fit cannot be computed. The openings are named by their place in the
/// question.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum FitError {
    /// An opening lies behind the pupil.
    BehindPupil(usize, OutOfRange),
    /// An opening stands where another one is.
    Overlap(usize, OutOfRange),
    /// The other end of the zoom sees too wide a field.
    ZoomField(OutOfRange),
}

/// Refuses openings behind a pupil and openings where another one stands.
pub(in crate::answer) fn check_places(
    pupils: impl Iterator<Item = PupilRange>,
    openings: &[Opening],
) -> Result<(), FitError> {
    let nearest = pupils
        .flat_map(|range| range.ends())
        .flat_map(|end| [end.horizontal, end.vertical])
        .map(Length::millimetres)
        .fold(f64::INFINITY, f64::min);
    let rear = |at: usize| openings[at].record().distance.millimetres();
    let mut order: Vec<usize> = (0..openings.len()).collect();
    sort_by(&mut order, |&one, &other| rear(one).total_cmp(&rear(other)));
    let mut free_from = -nearest;
    for (nth, &at) in order.iter().enumerate() {
        let bounds = Bounds::LENGTH.from(free_from);
        let named = if nth == 0 {
            FitError::BehindPupil
        } else {
            FitError::Overlap
        };
        (bounds.check(rear(at))).map_err(|error| named(at, error))?;
        let depth = openings[at].record().depth;
        let depth = depth.map_or(0.0, |depth| depth.millimetres());
        free_from = rear(at) + depth.max(THINNEST_MM);
    }
    Ok(())
}

/// No two openings stand closer than this, in millimetres.
const THINNEST_MM: f64 = 0.01;
