//! A signed amount: a number, a fraction, or both.

use super::SpokenError;
use super::token::{Numeral, Token, tokens};
use alloc::vec::Vec;

/// A text under reading, taken from the front.
pub(super) struct Words {
    tokens: Vec<Token>,
    at: usize,
}

/// A number with what was said behind it.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Amount {
    /// The number as written.
    pub(super) numeral: Numeral,
    /// A fraction on top: "and a third"; its sign is its own.
    pub(super) part: f64,
    /// Whether it was a fraction written over a line: 1/50.
    pub(super) is_ratio: bool,
}

impl Amount {
    /// Number and fraction together.
    pub(super) fn total(&self) -> f64 {
        self.numeral.value + self.part
    }
}

impl Words {
    pub(super) fn new<T>(text: &str) -> Result<Self, SpokenError<T>> {
        Ok(Self {
            tokens: tokens(text)?,
            at: 0,
        })
    }

    /// Nothing is left to read.
    pub(super) fn end<T>(&self) -> Result<(), SpokenError<T>> {
        if self.at == self.tokens.len() {
            Ok(())
        } else {
            Err(SpokenError::NotUnderstood)
        }
    }

    fn next_is(&self, ahead: usize) -> Option<&Token> {
        self.tokens.get(self.at + ahead)
    }

    /// Takes the sign if it comes next.
    pub(super) fn sign(&mut self, sign: char) -> bool {
        let found = self.next_is(0) == Some(&Token::Sign(sign));
        self.at += usize::from(found);
        found
    }

    /// Takes one of these words if it comes next.
    pub(super) fn word(&mut self, words: &[&str]) -> bool {
        let found =
            matches!(self.next_is(0), Some(Token::Word(word)) if words.contains(&word.as_str()));
        self.at += usize::from(found);
        found
    }

    /// "−", "minus" or "less" is −1; "+", "plus", "and" or nothing is 1.
    pub(super) fn direction(&mut self) -> f64 {
        if self.sign('-') || self.word(&["minus", "less"]) {
            return -1.0;
        }
        let _ = self.sign('+') || self.word(&["plus", "and"]);
        1.0
    }

    fn number(&mut self) -> Option<Numeral> {
        let Some(Token::Number(numeral)) = self.next_is(0) else {
            return None;
        };
        let numeral = numeral.clone();
        self.at += 1;
        Some(numeral)
    }

    /// ⅓, "a third", "two thirds" or 1/3.
    fn part(&mut self) -> Option<f64> {
        if let Some(Token::Part(part)) = self.next_is(0) {
            let part = *part;
            self.at += 1;
            return Some(part);
        }
        let start = self.at;
        let _ = self.word(&["a", "an"]);
        let count = self.number();
        if let Some(Token::SaidPart(part)) = self.next_is(0) {
            let part = *part;
            self.at += 1;
            return Some(count.map_or(part, |count| count.value * part));
        }
        if let Some(over) = count
            && self.sign('/')
            && let Some(under) = self.number()
        {
            return Some(over.value / under.value);
        }
        self.at = start;
        None
    }

    /// A number with or without a fraction, or a fraction alone.
    pub(super) fn amount(&mut self) -> Option<Amount> {
        let start = self.at;
        if let Some(part) = self.part() {
            let is_ratio = matches!(self.tokens.get(self.at - 1), Some(Token::Number(_)));
            let numeral = Numeral {
                value: part,
                has_point: false,
                third_group: None,
                said: false,
            };
            return Some(Amount {
                numeral,
                part: 0.0,
                is_ratio,
            });
        }
        let Some(numeral) = self.number() else {
            self.at = start;
            return None;
        };
        let before_part = self.at;
        let direction = self.direction();
        let part = self.part();
        if part.is_none() {
            self.at = before_part;
        }
        Some(Amount {
            numeral,
            part: direction * part.unwrap_or(0.0),
            is_ratio: false,
        })
    }
}
