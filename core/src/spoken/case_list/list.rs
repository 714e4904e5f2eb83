//! A list gone through from its beginning, entry by entry.

use super::marks::{Break, Mark, Placed};
use super::words::{Term, term};
use super::{Entry, ListFault, ListOf, Meaning};
use alloc::string::String;
use alloc::vec::Vec;

/// Longest name that is taken over, in characters.
const LONGEST_NAME: usize = 40;

/// A list under reading.
pub(super) struct List<'a> {
    text: &'a str,
    marks: &'a [Placed],
    pub(super) at: usize,
    pub(super) of: ListOf,
    /// The size that a heading gave.
    heading: Option<String>,
    /// The size at the head of this line.
    of_line: Option<String>,
}

impl<'a> List<'a> {
    pub(super) const fn new(text: &'a str, marks: &'a [Placed], of: ListOf) -> Self {
        Self {
            text,
            marks,
            at: 0,
            of,
            heading: None,
            of_line: None,
        }
    }

    /// Goes through all of it.
    pub(super) fn entries(mut self) -> Vec<Entry> {
        let asked = self.of;
        let mut found = Vec::new();
        let mut at_head = true;
        while let Some(placed) = self.marks.get(self.at) {
            if let Mark::Break(kind) = placed.mark {
                if kind != Break::Comma {
                    self.of_line = None;
                    at_head = true;
                }
                if kind == Break::Blank {
                    self.heading = None;
                    self.of = asked;
                }
                self.at += 1;
                continue;
            }
            if self.heads() || (at_head && self.heads_line()) {
                at_head = false;
                continue;
            }
            at_head = false;
            let from = self.at;
            let meaning = if self.starts_lens(self.at) {
                self.lens()
            } else {
                self.piece()
            };
            // Whatever it is, it is told of once and gone past.
            self.at = self.at.max(from + 1);
            if let Some(meaning) = meaning {
                found.push(Entry {
                    from: self.marks[from].from,
                    to: self.marks[self.at - 1].to,
                    meaning,
                });
            }
        }
        found
    }

    /// "4x4:", "lenses:".
    fn heads(&mut self) -> bool {
        if let Some((size, count)) = self.heading_at(self.at) {
            self.heading = Some(size);
            self.of_line = None;
            self.of = ListOf::Anything;
            self.at += count;
            return true;
        }
        let of = match self.term(self.at) {
            Some(Term::Lens) => ListOf::Lenses,
            Some(Term::Pieces | Term::Nd) => ListOf::Anything,
            _ => return false,
        };
        if self.mark(self.at + 1) != Some(&Mark::Sign(':')) {
            return false;
        }
        self.of = of;
        self.at += 2;
        true
    }

    /// A size at the head of a line, before what has it.
    fn heads_line(&mut self) -> bool {
        if self.starts_lens(self.at) {
            return false;
        }
        let Some((size, count)) = self.size_at(self.at).or_else(|| {
            let next = self.mark(self.at + 1);
            let piece_follows = matches!(next, Some(Mark::Word(_)) if self.names_a_piece(self.at + 1))
                || self.plain_number(self.at + 1).is_some_and(|number| number.has_point);
            self.thread_at(self.at).filter(|_| piece_follows)
        }) else {
            return false;
        };
        if matches!(self.mark(self.at + count), None | Some(Mark::Break(_))) {
            return false;
        }
        self.of_line = Some(size);
        self.at += count;
        true
    }

    /// The size that goes for an entry which says none.
    pub(super) fn usual_size(&self) -> String {
        self.of_line
            .as_ref()
            .or(self.heading.as_ref())
            .cloned()
            .unwrap_or_default()
    }

    pub(super) fn mark(&self, at: usize) -> Option<&'a Mark> {
        self.marks.get(at).map(|placed| &placed.mark)
    }

    /// What the word there means; nothing where none stands.
    pub(super) fn term(&self, at: usize) -> Option<Term> {
        match self.mark(at) {
            Some(Mark::Word(word)) => term(word),
            Some(Mark::Sign('%')) => Some(Term::Percent),
            _ => None,
        }
    }

    /// Whether two marks touch, as in ND64.
    pub(super) fn touches_next(&self, at: usize) -> bool {
        matches!((self.marks.get(at), self.marks.get(at + 1)), (Some(one), Some(next)) if one.to == next.from)
    }

    fn names_a_piece(&self, at: usize) -> bool {
        matches!(
            self.term(at),
            Some(Term::Nd | Term::IrNd | Term::Ir | Term::Kind(_) | Term::Grad | Term::Edge(_))
        )
    }

    /// What marks were called, as written; said numbers in figures.
    pub(super) fn name_of(&self, named: &[usize]) -> String {
        let mut name = String::new();
        for (nth, &at) in named.iter().enumerate() {
            let placed = &self.marks[at];
            let apart = nth > 0 && !(named[nth - 1] + 1 == at && self.touches_next(named[nth - 1]));
            if apart {
                name.push(' ');
            }
            match &placed.mark {
                Mark::Number(number) if number.said => {
                    name.push_str(&super::size::short(number.value))
                }
                _ => name.push_str(&self.text[placed.from..placed.to]),
            }
        }
        name.chars().take(LONGEST_NAME).collect()
    }
}

/// A refused entry.
pub(super) const fn refused(fault: ListFault) -> Option<Meaning> {
    Some(Meaning::Refused(fault))
}
