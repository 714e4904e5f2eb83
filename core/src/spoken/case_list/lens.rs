//! One lens of a list: "25 T1.9 82", "24–70 mm f/2.8", "T1.9 75mm front 114".

use super::list::List;
use super::marks::{Mark, Numeral};
use super::size::is_thread;
use super::words::Term;
use super::{ListChoice, ListFault, ListOf, ListTaken, Listed, ListedLens, Meaning};
use crate::quantity::{Aperture, FocalLength, Length, OutOfRange};
use alloc::vec::Vec;

/// Widest stops of lenses, where a figure has no letter. Common practice, no source.
const STOPS: core::ops::RangeInclusive<f64> = 0.7..=8.0;
/// Shortest focal length that a bare whole number is taken for.
pub(super) const SHORTEST_BARE: f64 = 8.0;
/// Rims in millimetres. Common practice, no source.
const RIM_MM: core::ops::RangeInclusive<f64> = 25.0..=250.0;

/// What was said of a lens so far.
#[derive(Default)]
struct Said {
    focal: Option<f64>,
    focal_to: Option<f64>,
    stop: Option<(Letter, f64)>,
    rim: Option<f64>,
    is_outside: bool,
    named: Vec<usize>,
}

#[derive(Clone, Copy, PartialEq)]
enum Letter {
    T,
    F,
    None,
}

impl List<'_> {
    /// Whether a lens begins there.
    pub(super) fn starts_lens(&self, at: usize) -> bool {
        if self.of == ListOf::Lenses {
            return matches!(self.mark(at), Some(Mark::Number(_) | Mark::Word(_)));
        }
        if self.stop_at(at).is_some() || matches!(self.term(at), Some(Term::Lens | Term::LensKind))
        {
            return true;
        }
        let Some(first) = self.plain_number(at) else {
            return false;
        };
        let (next, is_range) = self.past_focal(at);
        let is_named = first.value >= SHORTEST_BARE && !first.has_point;
        self.stop_at(next).is_some()
            || (is_named && self.stop_at(self.past_name(next)).is_some())
            || self.term(next) == Some(Term::Lens)
            || (is_range && first.value >= SHORTEST_BARE)
            || (self.term(at + 1) == Some(Term::Mm)
                && !is_thread(first.value)
                && matches!(self.mark(next), None | Some(Mark::Break(_))))
            || self.lacks_letter(at)
    }

    /// "25 1.9 82": a stop without its letter, which no mark of density is.
    fn lacks_letter(&self, at: usize) -> bool {
        let whole = |number: Numeral| !number.has_point && number.value >= SHORTEST_BARE;
        let odd = |number: Numeral| {
            let thirds = number.value / 0.3;
            number.has_point && number.value >= 1.0 && (thirds - libm::round(thirds)).abs() > 1e-6
        };
        self.plain_number(at).is_some_and(whole)
            && self.plain_number(at + 1).is_some_and(odd)
            && self.thread_at(at + 2).is_some()
    }

    /// Behind a focal length or a range of them, and whether it was one.
    fn past_focal(&self, at: usize) -> (usize, bool) {
        let unit = |at: usize| at + usize::from(self.term(at) == Some(Term::Mm));
        let next = unit(at + 1);
        if self.mark(next) == Some(&Mark::Sign('-')) && self.plain_number(next + 1).is_some() {
            return (unit(next + 2), true);
        }
        (next, false)
    }

    /// Behind words that only name a lens, as "100 macro T2.8".
    fn past_name(&self, at: usize) -> usize {
        let names = |at: &usize| {
            matches!(self.mark(*at), Some(Mark::Word(_)))
                && matches!(self.term(*at), None | Some(Term::LensKind))
        };
        at + (at..).take_while(names).count()
    }

    /// "T1.9", "f/2.8", "T 2.9–3.9": the letter, the widest, how many marks.
    fn stop_at(&self, at: usize) -> Option<(Letter, f64, usize)> {
        let letter = match self.term(at)? {
            Term::T => Letter::T,
            Term::F => Letter::F,
            _ => return None,
        };
        let line = usize::from(self.mark(at + 1) == Some(&Mark::Sign('/')));
        let number = self.plain_number(at + 1 + line)?;
        let end = at + 2 + line;
        let is_range =
            self.mark(end) == Some(&Mark::Sign('-')) && self.plain_number(end + 1).is_some();
        Some((letter, number.value, 2 + line + 2 * usize::from(is_range)))
    }

    /// Reads one lens.
    pub(super) fn lens(&mut self) -> Option<Meaning> {
        let mut said = Said::default();
        while let Some(mark) = self.mark(self.at) {
            let taken = match mark {
                Mark::Break(_) => break,
                Mark::Number(_) => self.number_of_lens(&mut said),
                Mark::Word(_) => self.word_of_lens(&mut said),
                Mark::Sign('ø') => self.rim_of_lens(&mut said),
                Mark::Sign(':') => break,
                Mark::Sign(_) => Some(1),
            };
            match taken {
                Some(count) => self.at += count,
                None => break,
            }
        }
        self.lens_said(&said)
    }

    fn number_of_lens(&self, said: &mut Said) -> Option<usize> {
        let number = self.plain_number(self.at)?;
        if said.focal.is_none() {
            let (next, is_range) = self.past_focal(self.at);
            said.focal = Some(number.value);
            let end = next - usize::from(self.term(next - 1) == Some(Term::Mm));
            said.named.push(self.at);
            if is_range {
                said.focal_to = self.plain_number(end - 1).map(|to| to.value);
                said.named.extend(self.at + 1..end);
            }
            return Some(next - self.at);
        }
        if let Some(count) = self.rim_of_lens(said) {
            return Some(count);
        }
        let without_letter = self.of == ListOf::Lenses || !said.named.is_empty();
        let (next, is_range) = self.past_focal(self.at);
        let followed = is_range || self.stop_at(self.past_name(next)).is_some();
        if said.stop.is_none() && without_letter && !followed && STOPS.contains(&number.value) {
            said.stop = Some((
                if self.of == ListOf::Lenses {
                    Letter::T
                } else {
                    Letter::None
                },
                number.value,
            ));
            return Some(1);
        }
        let is_rim =
            is_thread(number.value) || (said.stop.is_some() && RIM_MM.contains(&number.value));
        if said.rim.is_none() && !followed && is_rim {
            said.rim = Some(number.value);
            return Some(1);
        }
        None
    }

    /// A rim that says so: "82 mm", "ø82".
    fn rim_of_lens(&self, said: &mut Said) -> Option<usize> {
        if said.rim.is_some() {
            return None;
        }
        let at = self.at + usize::from(self.mark(self.at) == Some(&Mark::Sign('ø')));
        let rim = self.plain_number(at)?;
        let (next, is_range) = self.past_focal(at);
        if (at == self.at && self.term(at + 1) != Some(Term::Mm))
            || is_range
            || self.stop_at(self.past_name(next)).is_some()
        {
            return None;
        }
        said.rim = Some(rim.value);
        Some(next - self.at)
    }

    fn word_of_lens(&self, said: &mut Said) -> Option<usize> {
        if let Some((letter, value, count)) = self.stop_at(self.at) {
            if said.stop.is_some() {
                return None;
            }
            said.stop = Some((letter, value));
            return Some(count);
        }
        match self.term(self.at) {
            Some(Term::Outside) => said.is_outside = true,
            Some(Term::Lens | Term::Mm | Term::Filler) => {}
            Some(Term::LensKind) => said.named.push(self.at),
            Some(_) if said.focal.is_some() && self.of != ListOf::Lenses => return None,
            _ => said.named.push(self.at),
        }
        Some(1)
    }

    fn lens_said(&self, said: &Said) -> Option<Meaning> {
        let Some(focal) = said.focal else {
            return Meaning::refused(ListFault::NoFocalLength);
        };
        let lens = |letter: Letter| -> Result<Listed, OutOfRange> {
            let stop = |wanted: Letter| {
                (said.stop.filter(|_| letter == wanted))
                    .map(|(_, number)| Aperture::engraved(number))
                    .transpose()
            };
            let rim = |outside: bool| {
                (said.rim.filter(|_| said.is_outside == outside))
                    .map(Length::new)
                    .transpose()
            };
            Ok(Listed::Lens(ListedLens {
                name: self.name_of(&said.named),
                focal: FocalLength::new(focal)?,
                focal_to: said.focal_to.map(FocalLength::new).transpose()?,
                t: stop(Letter::T)?,
                f: stop(Letter::F)?,
                thread: rim(false)?,
                outside: rim(true)?,
            }))
        };
        let choice = |taken_as, letter| lens(letter).map(|listed| ListChoice { taken_as, listed });
        let meaning = match said.stop {
            Some((Letter::None, _)) => choice(ListTaken::TNumber, Letter::T).and_then(|t| {
                Ok(Meaning::Ambiguous(Vec::from([
                    t,
                    choice(ListTaken::FNumber, Letter::F)?,
                ])))
            }),
            Some((letter, _)) => lens(letter).map(Meaning::Understood),
            None => lens(Letter::None).map(Meaning::Understood),
        };
        Some(meaning.unwrap_or(Meaning::Refused(ListFault::OutOfRange)))
    }

    /// A bare number as the lens it may be.
    pub(super) fn as_lens(&self, number: f64, named: &[usize]) -> Option<ListChoice> {
        let focal = FocalLength::new(number).ok()?;
        (number >= SHORTEST_BARE).then(|| ListChoice {
            taken_as: ListTaken::FocalLength,
            listed: Listed::Lens(ListedLens {
                name: self.name_of(named),
                focal,
                focal_to: None,
                t: None,
                f: None,
                thread: None,
                outside: None,
            }),
        })
    }
}
