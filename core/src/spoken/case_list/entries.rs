//! A list gone through from its beginning, entry by entry.

use super::list::List;
use super::marks::{Break, Mark};
use super::words::Term;
use super::{Entry, ListOf};
use alloc::vec::Vec;

impl List<'_> {
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

    fn names_a_piece(&self, at: usize) -> bool {
        matches!(
            self.term(at),
            Some(Term::Nd | Term::IrNd | Term::Ir | Term::Kind(_) | Term::Grad | Term::Edge(_))
        )
    }
}
