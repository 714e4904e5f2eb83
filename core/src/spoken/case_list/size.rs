//! Sizes of pieces within a list: "4x5.65", "100 × 150 mm", "82", "4.5 in round".

use super::list::List;
use super::marks::{Mark, Numeral, short};
use super::words::Term;
use crate::setup::sizes::THREADS;
use alloc::format;
use alloc::string::String;

/// Sides of panels, in inches and in millimetres. Common practice, no source.
const PANEL_INCHES: core::ops::RangeInclusive<f64> = 2.5..=7.0;
const PANEL_MM: core::ops::RangeInclusive<f64> = 50.0..=400.0;
/// Rims and drop-ins in millimetres. Common practice, no source.
const ROUND_MM: core::ops::RangeInclusive<f64> = 25.0..=250.0;

impl List<'_> {
    /// A size that says so by itself, and how many marks it is.
    pub(super) fn size_at(&self, at: usize) -> Option<(String, usize)> {
        if self.mark(at) == Some(&Mark::Sign('ø')) {
            let round = self.plain_number(at + 1)?;
            let unit = usize::from(self.term(at + 2) == Some(Term::Mm));
            return Some((short(round.value), 2 + unit));
        }
        let one = self.plain_number(at)?;
        if self.term(at + 1) == Some(Term::Times)
            && let Some(other) = self.plain_number(at + 2)
        {
            let (one, other) = (one.value, other.value);
            let is_panel = |range: &core::ops::RangeInclusive<f64>| {
                range.contains(&one) && range.contains(&other)
            };
            let unit = usize::from(
                matches!(self.term(at + 3), Some(Term::Mm | Term::Inch))
                    || self.mark(at + 3) == Some(&Mark::Sign('"')),
            );
            return (is_panel(&PANEL_INCHES) || is_panel(&PANEL_MM))
                .then(|| (format!("{}x{}", short(one), short(other)), 3 + unit));
        }
        let inch = usize::from(
            self.term(at + 1) == Some(Term::Inch) || self.mark(at + 1) == Some(&Mark::Sign('"')),
        );
        let mm = usize::from(self.term(at + 1) == Some(Term::Mm));
        let round = self.term(at + 1 + inch + mm) == Some(Term::Round);
        if round && (inch == 1 || PANEL_INCHES.contains(&one.value)) {
            return Some((format!("{} round", short(one.value)), 2 + inch));
        }
        if (round || mm == 1) && ROUND_MM.contains(&one.value) {
            return Some((short(one.value), 1 + mm + usize::from(round)));
        }
        None
    }

    /// A size before a colon: any figure that a rim or a tray can have.
    pub(super) fn heading_at(&self, at: usize) -> Option<(String, usize)> {
        let (size, count) = self.size_at(at).or_else(|| {
            let round = self.plain_number(at)?;
            let unit = usize::from(self.term(at + 1) == Some(Term::Mm));
            ROUND_MM
                .contains(&round.value)
                .then(|| (short(round.value), 1 + unit))
        })?;
        (self.mark(at + count) == Some(&Mark::Sign(':'))).then_some((size, count + 1))
    }

    /// A bare number that is a filter thread.
    pub(super) fn thread_at(&self, at: usize) -> Option<(String, usize)> {
        let number = self.plain_number(at)?;
        is_thread(number.value).then(|| (short(number.value), 1))
    }

    /// A number that is no fraction.
    pub(super) fn plain_number(&self, at: usize) -> Option<Numeral> {
        match self.mark(at) {
            Some(Mark::Number(number)) if !number.is_ratio => Some(*number),
            _ => None,
        }
    }
}

/// Whether filters are made for a rim of this diameter.
#[expect(clippy::float_cmp, reason = "both were written down")]
pub(super) fn is_thread(diameter: f64) -> bool {
    THREADS.iter().any(|size| size.thread == diameter)
}
