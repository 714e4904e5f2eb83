//! One piece of a list: "1.5 IR", "0.6 hard grad", "2x pola 82", "diffusion 1/8".

use super::list::List;
use super::marks::{Mark, Numeral};
use super::size::is_thread;
use super::words::Term;
use super::{Edge, ListChoice, ListFault, ListTaken, Listed, ListedPiece, Meaning};
use crate::quantity::{Density, LensPower, OutOfRange, Stops};
use crate::setup::PieceKind;
use crate::spoken::Choice;
use crate::spoken::density::meanings;
use alloc::string::String;
use alloc::vec::Vec;

/// Strengths of effects that are whole numbers. Common practice, no source.
const STRONGEST: f64 = 10.0;
/// More alike than anybody carries: it is a mark, no count.
const MOST_ALIKE: f64 = 9.0;

/// How a number of a piece reads.
#[derive(Clone)]
enum Figure {
    Sure(Density),
    OneOf(Vec<Choice<Density>>),
    /// A whole number that nothing names.
    Bare,
    Ratio,
    Impossible,
}

/// What was said of a piece so far.
#[derive(Default)]
struct Said {
    named: Vec<usize>,
    number: Option<(f64, Figure)>,
    is_nd: bool,
    infrared: bool,
    is_grad: bool,
    edge: Option<Edge>,
    kind: Option<PieceKind>,
    split: bool,
    power: bool,
    strange: bool,
    size: Option<String>,
    count: Option<u8>,
}

impl Said {
    fn is_empty(&self) -> bool {
        self.named.is_empty() && self.size.is_none() && self.count.is_none()
    }

    /// Whether it is a piece already, so that a thread behind it is its size.
    fn is_whole(&self) -> bool {
        self.number.is_some() || self.kind.is_some_and(|kind| kind != PieceKind::CloseUp)
    }

    fn takes_number(&self, number: Numeral) -> bool {
        self.number.is_none()
            && match self.kind {
                None | Some(PieceKind::CloseUp) => true,
                Some(PieceKind::Effect | PieceKind::Colour) => {
                    number.is_ratio
                        || (!number.has_point && number.value <= STRONGEST)
                        || self.is_grad
                        || self.edge.is_some()
                }
                Some(_) => false,
            }
    }
}

impl List<'_> {
    /// Reads one piece; nothing where only signs stand.
    pub(super) fn piece(&mut self) -> Option<Meaning> {
        let mut said = Said::default();
        while let Some(mark) = self.mark(self.at) {
            if !said.is_empty() && self.starts_lens(self.at) {
                break;
            }
            let taken = self.size_of_piece(&mut said).or_else(|| match mark {
                Mark::Break(_) => None,
                Mark::Number(number) => self.number_of_piece(*number, &mut said),
                Mark::Word(_) => self.word_of_piece(&mut said),
                Mark::Sign('+') if said.number.is_none() => {
                    said.power = true;
                    Some(1)
                }
                Mark::Sign(_) => Some(1),
            });
            match taken {
                Some(count) => self.at += count,
                None => break,
            }
        }
        self.piece_said(&said)
    }

    fn size_of_piece(&self, said: &mut Said) -> Option<usize> {
        if said.size.is_some() {
            return None;
        }
        let thread = || self.thread_at(self.at).filter(|_| said.is_whole());
        let (size, count) = self.size_at(self.at).or_else(thread)?;
        said.size = Some(size);
        Some(count)
    }

    fn number_of_piece(&self, number: Numeral, said: &mut Said) -> Option<usize> {
        let small =
            !number.is_ratio && !number.has_point && (2.0..=MOST_ALIKE).contains(&number.value);
        if small && !said.is_whole() && self.term(self.at + 1) == Some(Term::Times) {
            let next = self.mark(self.at + 2);
            if said.count.is_none() && matches!(next, Some(Mark::Number(_) | Mark::Word(_))) {
                said.count = Some(count(number.value));
                return Some(2);
            }
        }
        if !said.takes_number(number) {
            return None;
        }
        let (mark, more) = self.mark_of(number, said);
        said.number = Some((number.value, mark));
        said.named.extend(self.at..=self.at + more);
        Some(1 + more)
    }

    /// What a number says by its form and the word behind it, and whether that
    /// word was used.
    fn mark_of(&self, number: Numeral, said: &Said) -> (Figure, usize) {
        let sure =
            |density: Result<Density, OutOfRange>| density.map_or(Figure::Impossible, Figure::Sure);
        let value = number.value;
        let behind = self.term(self.at + 1);
        let mark = match behind {
            Some(Term::Times) if !number.is_ratio && !number.has_point => {
                sure(Density::from_factor(value))
            }
            Some(Term::Stops) => sure(Stops::new(value).and_then(Density::from_stops)),
            Some(Term::Percent) => sure(Density::from_transmittance(value / 100.0)),
            Some(Term::Density) => sure(Density::new(value)),
            _ if number.is_ratio && said.is_nd => sure(Density::from_transmittance(value)),
            _ if number.is_ratio => Figure::Ratio,
            _ if number.has_point || value <= 0.0 => sure(Density::new(value)),
            _ if said.is_nd => match meanings(value) {
                Ok(all) if all.len() == 1 => Figure::Sure(all[0].value),
                Ok(all) => Figure::OneOf(all),
                Err(_) => Figure::Impossible,
            },
            _ => Figure::Bare,
        };
        let used = matches!(behind, Some(Term::Stops | Term::Percent | Term::Density))
            || (behind == Some(Term::Times) && !number.is_ratio && !number.has_point);
        (mark, usize::from(used))
    }

    fn word_of_piece(&self, said: &mut Said) -> Option<usize> {
        let term = self.term(self.at);
        let fits = match term {
            Some(Term::Nd) => self.nd_fits(said, false),
            Some(Term::IrNd) => self.nd_fits(said, true),
            Some(Term::Ir) => {
                let fits = said.kind.is_none() && !said.infrared;
                said.infrared |= fits;
                fits
            }
            Some(Term::Kind(kind)) => kind_fits(said, kind),
            Some(Term::Grad) => {
                let fits = !said.is_grad && matches!(said.kind, None | Some(PieceKind::Colour));
                said.is_grad |= fits;
                fits
            }
            Some(Term::Edge(edge)) => self.edge_fits(said, edge),
            Some(Term::Split) => {
                said.split = true;
                true
            }
            Some(Term::Times) if said.is_whole() && said.count.is_none() => {
                let number = self.plain_number(self.at + 1)?;
                if number.has_point || !(1.0..=MOST_ALIKE).contains(&number.value) {
                    return None;
                }
                said.count = Some(count(number.value));
                return Some(2);
            }
            Some(Term::Lens | Term::T | Term::F) => {
                return if said.is_empty() {
                    self.strange(said)
                } else {
                    None
                };
            }
            Some(_) => true,
            None => return self.strange(said),
        };
        fits.then(|| {
            said.named.push(self.at);
            1
        })
    }

    /// A word of nobody's: a name where the kind is known without it.
    fn strange(&self, said: &mut Said) -> Option<usize> {
        let is_letter =
            matches!(self.mark(self.at), Some(Mark::Word(word)) if word.chars().count() == 1);
        said.strange |= said.kind.is_none() && !(is_letter && said.is_whole());
        said.named.push(self.at);
        Some(1)
    }

    fn nd_fits(&self, said: &mut Said, infrared: bool) -> bool {
        let begins_next = said.number.is_some() && self.touches_next(self.at);
        if said.is_nd || said.kind.is_some() || begins_next {
            return false;
        }
        said.is_nd = true;
        said.infrared |= infrared;
        true
    }

    fn edge_fits(&self, said: &mut Said, edge: Edge) -> bool {
        if said.edge.is_some() || !matches!(said.kind, None | Some(PieceKind::Colour)) {
            return false;
        }
        // "soft diffusion" is no grad.
        let describes = matches!(self.term(self.at + 1), Some(Term::Kind(PieceKind::Effect)));
        if !describes {
            said.edge = Some(edge);
        }
        true
    }

    fn piece_said(&self, said: &Said) -> Option<Meaning> {
        if said.is_empty() {
            return None;
        }
        let number = said.number.clone();
        if matches!(number, Some((_, Figure::Impossible)))
            && said.kind != Some(PieceKind::CloseUp)
            && !said.power
        {
            return Meaning::refused(ListFault::OutOfRange);
        }
        if said.power || said.kind == Some(PieceKind::CloseUp) {
            return Some(self.close_up(said, number.map(|(value, _)| value)));
        }
        let is_grad = said.is_grad || said.edge.is_some();
        let unmarked = match said.kind {
            Some(PieceKind::Colour) if is_grad => {
                return Some(self.understood(said, PieceKind::Colour, None));
            }
            _ if is_grad => false,
            Some(kind) => return Some(self.understood(said, kind, None)),
            None => number.is_none(),
        };
        if unmarked && said.infrared && !said.is_nd && !said.strange {
            return Some(self.understood(said, PieceKind::InfraredCut, None));
        }
        let kind = if is_grad {
            PieceKind::Graduated
        } else {
            PieceKind::NeutralDensity
        };
        let Some((value, mark)) = number else {
            return Meaning::refused(
                match (said.strange, is_grad || said.is_nd, said.size.is_some()) {
                    (false, true, _) => ListFault::NoDensity,
                    (false, false, true) => ListFault::SizeAlone,
                    _ => ListFault::NotUnderstood,
                },
            );
        };
        if matches!(mark, Figure::Ratio) {
            return Some(self.fraction(said, kind, value));
        }
        if said.strange {
            return Meaning::refused(ListFault::NotUnderstood);
        }
        Some(match mark {
            Figure::Sure(density) => self.understood(said, kind, Some(density)),
            Figure::OneOf(all) => self.one_of(said, kind, &all, None),
            _ => self.bare(said, kind, value),
        })
    }

    fn close_up(&self, said: &Said, power: Option<f64>) -> Meaning {
        match power.map(LensPower::new).transpose() {
            Ok(power) => Meaning::Understood(Listed::Piece(ListedPiece {
                power,
                ..self.listed(said, PieceKind::CloseUp, None)
            })),
            Err(_) => Meaning::Refused(ListFault::OutOfRange),
        }
    }

    /// "1/8": how strong, or how much passes.
    fn fraction(&self, said: &Said, kind: PieceKind, value: f64) -> Meaning {
        let of = |taken_as, kind, density| ListChoice {
            taken_as,
            listed: Listed::Piece(self.listed(said, kind, density)),
        };
        if said.is_nd || kind == PieceKind::Graduated {
            return Density::from_transmittance(value)
                .map_or(Meaning::Refused(ListFault::OutOfRange), |density| {
                    self.understood(said, kind, Some(density))
                });
        }
        let mut choices = Vec::from([of(ListTaken::Strength, PieceKind::Effect, None)]);
        if said.strange {
            choices.push(of(ListTaken::Colour, PieceKind::Colour, None));
        } else if let Ok(density) = Density::from_transmittance(value) {
            choices.push(of(ListTaken::Share, kind, Some(density)));
        }
        Meaning::Ambiguous(choices)
    }

    /// A whole number alone: a mark of density, or a lens.
    fn bare(&self, said: &Said, kind: PieceKind, value: f64) -> Meaning {
        if is_thread(value) && kind == PieceKind::NeutralDensity && !said.infrared {
            return Meaning::Refused(ListFault::SizeAlone);
        }
        let lens = (kind == PieceKind::NeutralDensity && !said.infrared && said.size.is_none())
            .then(|| self.as_lens(value, &said.named))
            .flatten();
        match meanings(value) {
            Ok(all) => self.one_of(said, kind, &all, lens),
            Err(_) => lens.map_or(Meaning::Refused(ListFault::OutOfRange), |lens| {
                Meaning::Understood(lens.listed)
            }),
        }
    }

    fn one_of(
        &self,
        said: &Said,
        kind: PieceKind,
        all: &[Choice<Density>],
        lens: Option<ListChoice>,
    ) -> Meaning {
        let mut choices: Vec<ListChoice> = (all.iter())
            .map(|choice| ListChoice {
                taken_as: ListTaken::Mark(choice.taken_as),
                listed: Listed::Piece(self.listed(said, kind, Some(choice.value))),
            })
            .collect();
        choices.extend(lens);
        match choices.as_slice() {
            [only] => Meaning::Understood(only.listed.clone()),
            _ => Meaning::Ambiguous(choices),
        }
    }

    fn understood(&self, said: &Said, kind: PieceKind, density: Option<Density>) -> Meaning {
        Meaning::Understood(Listed::Piece(self.listed(said, kind, density)))
    }

    fn listed(&self, said: &Said, kind: PieceKind, density: Option<Density>) -> ListedPiece {
        ListedPiece {
            name: self.name_of(&said.named),
            kind,
            density,
            infrared: said.infrared && density.is_some(),
            edge: said.edge,
            power: None,
            split: said.split,
            size: said.size.clone().unwrap_or_else(|| self.usual_size()),
            count: said.count.unwrap_or(1),
        }
    }
}

/// Whether a kind belongs to what was said so far; then it is said.
fn kind_fits(said: &mut Said, kind: PieceKind) -> bool {
    let small =
        matches!(said.number, Some((value, Figure::Bare)) if value <= MOST_ALIKE) && !said.is_nd;
    let has_mark = said.number.is_some() || said.is_nd || said.is_grad;
    match (said.kind, kind) {
        (None, PieceKind::InfraredCut) if said.infrared && said.number.is_some() => return true,
        (None, PieceKind::CloseUp) => {}
        (None, PieceKind::Effect | PieceKind::Colour) => {
            let strength = matches!(said.number, Some((_, Figure::Ratio))) || small;
            if has_mark && !strength && !(kind == PieceKind::Colour && said.is_grad) {
                return false;
            }
            if kind == PieceKind::Effect {
                said.edge = None;
            }
        }
        (None, _) if small && said.count.is_none() => {
            // "2 pola": so many of them.
            said.count = said.number.take().map(|(value, _)| count(value));
            said.named.clear();
        }
        (None, _) if has_mark || said.edge.is_some() => return false,
        (None, _) => {}
        // "warm diffusion", "warm polarizer": the colour describes.
        (Some(PieceKind::Colour), PieceKind::Effect | PieceKind::Polarizer) => {}
        (Some(_), _) => return false,
    }
    said.strange = false;
    said.kind = Some(kind);
    true
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "from 1 to 9"
)]
const fn count(number: f64) -> u8 {
    number as u8
}
