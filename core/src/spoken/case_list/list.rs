//! A list under reading: where it stands, and what was said so far.

use super::ListOf;
use super::marks::{Mark, Placed, short};
use super::words::{Term, term};
use alloc::string::String;

/// Longest name that is taken over, in characters.
const LONGEST_NAME: usize = 40;

/// A list under reading.
pub(super) struct List<'a> {
    text: &'a str,
    pub(super) marks: &'a [Placed],
    pub(super) at: usize,
    pub(super) of: ListOf,
    /// The size that a heading gave.
    pub(super) heading: Option<String>,
    /// The size at the head of this line.
    pub(super) of_line: Option<String>,
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
                Mark::Number(number) if number.said => name.push_str(&short(number.value)),
                _ => name.push_str(&self.text[placed.from..placed.to]),
            }
        }
        name.chars().take(LONGEST_NAME).collect()
    }
}
