//! The one shape of a refusal.

use super::reading::{Fault, FaultKind};
use super::tree::Tree;
use super::writing::ToPlain as _;
use glasscall_core::quantity::OutOfRange;
use glasscall_core::spoken::write_decimal;
use glasscall_derive::ToPlain;
use serde::{Deserialize, Serialize};
use std::ops::Deref;
use tsify::Tsify;

/// Why a request was refused.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub enum Code {
    /// A number outside `min` to `max`, or not finite.
    OutOfRange,
    /// A value of the wrong type.
    WrongType,
    /// A field nobody reads.
    UnknownField,
    /// A field that is needed.
    Missing,
    /// Fields that contradict or repeat each other.
    OneTooMany,
    /// More than the answer can hold: pieces, slots, characters.
    TooMany,
    /// A text without content.
    Empty,
    /// A text that no reading fits.
    NotUnderstood,
    /// A text that more than one reading fits; see `choices`.
    Ambiguous,
    /// An id used twice.
    Duplicate,
    /// An id that names no piece.
    UnknownPiece,
    /// A name that names nothing.
    UnknownName,
    /// A file whose text is broken.
    Damaged,
    /// An id that names no slot.
    UnknownSlot,
    /// The pieces to keep find no room in the slots.
    NoRoom,
    /// The request is nested deeper than any request is.
    TooDeep,
}

/// Characters of a given text that a refusal repeats.
const LONGEST_GIVEN: usize = 80;
/// Characters of a path; a name of the sender's own making may be any length.
const LONGEST_FIELD: usize = 200;

/// What was given, as far as it fits a message.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(untagged)]
pub enum Given {
    /// A number.
    Number(f64),
    /// A text.
    Text(String),
}

/// One thing an ambiguous text can mean.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct ChoiceReply {
    /// The value, in `unit`.
    pub value: f64,
    /// The unit of `value`.
    pub unit: crate::Unit,
    /// How the text was taken, with the value.
    pub label: String,
}

/// A refusal: what, where, and what would do instead.
///
/// Behind a pointer: every law of every question can end in one, and what is
/// handed on through all of them must be small.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize)]
#[serde(transparent)]
pub struct Refusal(Box<Reason>);

use reason::Refusal as Reason;

/// A room of its own: what the page knows as a refusal bears that name here too.
mod reason {
    use super::{ChoiceReply, Code, Given};
    use glasscall_derive::ToPlain;
    use serde::{Deserialize, Serialize};
    use tsify::Tsify;

    /// What a refusal says.
    #[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
    #[serde(rename_all = "camelCase")]
    pub struct Refusal {
        /// What is wrong.
        pub code: Code,
        /// Path of the field, as `reading.aperture` or `kit[2].density`.
        pub field: String,
        /// What was given.
        #[serde(skip_serializing_if = "Option::is_none")]
        pub given: Option<Given>,
        /// Line of the file it stands on.
        #[serde(skip_serializing_if = "Option::is_none")]
        pub line: Option<u32>,
        /// Smallest value that would do.
        #[serde(skip_serializing_if = "Option::is_none")]
        pub min: Option<f64>,
        /// Largest value that would do.
        #[serde(skip_serializing_if = "Option::is_none")]
        pub max: Option<f64>,
        /// What the text can mean.
        #[serde(skip_serializing_if = "Option::is_none")]
        pub choices: Option<Vec<ChoiceReply>>,
        /// The words that would do, where only some do.
        #[serde(skip_serializing_if = "Option::is_none")]
        pub words: Option<Vec<String>>,
    }
}

impl Deref for Refusal {
    type Target = Reason;
    fn deref(&self) -> &Reason {
        &self.0
    }
}

impl Refusal {
    /// A refusal of one field.
    #[must_use]
    #[inline(never)]
    pub fn new(code: Code, field: &str) -> Self {
        Self(Box::new(Reason {
            code,
            field: shown(field, LONGEST_FIELD),
            given: None,
            line: None,
            min: None,
            max: None,
            choices: None,
            words: None,
        }))
    }

    /// With the text that was given.
    #[must_use]
    #[inline(never)]
    pub fn given(mut self, text: &str) -> Self {
        self.0.given = Some(Given::Text(shown(text, LONGEST_GIVEN)));
        self
    }

    /// With the number that was given.
    #[must_use]
    pub fn given_number(mut self, number: f64) -> Self {
        self.0.given = Some(Given::Number(number));
        self
    }

    /// With the smallest and largest value that would do. A range that holds
    /// nothing, or what was refused, is left unsaid: it would mislead.
    #[must_use]
    pub fn needs(mut self, min: impl Into<Option<f64>>, max: impl Into<Option<f64>>) -> Self {
        let (min, max) = (min.into(), max.into());
        let (least, most) = (min.unwrap_or(f64::MIN), max.unwrap_or(f64::MAX));
        let holds_given = match self.0.given {
            Some(Given::Number(given)) => (least..=most).contains(&given),
            _ => false,
        };
        if least <= most && !holds_given {
            (self.0.min, self.0.max) = (min, max);
        }
        self
    }

    /// With the words that would do.
    #[must_use]
    pub(crate) fn words(mut self, words: &[&str]) -> Self {
        self.0.words = Some(words.iter().map(|word| (*word).to_owned()).collect());
        self
    }

    /// With what the text can mean.
    #[must_use]
    pub(crate) fn choices(mut self, choices: Vec<ChoiceReply>) -> Self {
        self.0.choices = Some(choices);
        self
    }

    /// With the line of the file it stands on.
    #[must_use]
    pub(crate) fn on_line(mut self, line: usize) -> Self {
        self.0.line = u32::try_from(line).ok();
        self
    }

    /// The same, seen from one level further out.
    #[must_use]
    pub(crate) fn inside(mut self, outer: &str) -> Self {
        self.0.field = shown(&joined(outer, &self.0.field), LONGEST_FIELD);
        self
    }

    /// A number that misses its range.
    #[must_use]
    pub fn out_of_range(field: &str, error: OutOfRange) -> Self {
        Self::outside(field, error.given, error.bounds.min, error.bounds.max)
    }

    /// A number that is not from `min` to `max`.
    #[must_use]
    #[inline(never)]
    pub fn outside(field: &str, given: f64, min: f64, max: f64) -> Self {
        (Self::new(Code::OutOfRange, field).given_number(given)).needs(min, max)
    }

    /// A count that is not from `min` to `max`.
    #[must_use]
    pub fn count_outside(field: &str, given: usize, min: usize, max: usize) -> Self {
        Self::outside(field, counted(given), counted(min), counted(max))
    }

    /// A list or text that is too long.
    #[must_use]
    #[inline(never)]
    pub fn too_many(field: &str, given: usize, max: usize) -> Self {
        (Self::new(Code::TooMany, field).given_number(counted(given))).needs(0.0, counted(max))
    }

    /// The sentence a developer sees; the page makes its own.
    #[must_use]
    pub fn message(&self) -> String {
        // The code as the field `code` spells it.
        let code = match self.code.to_plain() {
            Tree::Text(name) => name,
            _ => String::new(),
        };
        let mut message = if self.field.is_empty() {
            code
        } else {
            format!("{}: {code}", self.field)
        };
        match &self.given {
            Some(Given::Number(number)) => {
                message.push_str(&format!(", given {}", write_decimal(*number)))
            }
            Some(Given::Text(text)) => message.push_str(&format!(", given “{text}”")),
            None => {}
        }
        match (self.min.map(write_decimal), self.max.map(write_decimal)) {
            (Some(min), Some(max)) => message.push_str(&format!(", needs {min} to {max}")),
            (Some(min), None) => message.push_str(&format!(", needs at least {min}")),
            (None, Some(max)) => message.push_str(&format!(", needs at most {max}")),
            (None, None) => {}
        }
        if let Some(words) = &self.words {
            message.push_str(&format!(", needs one of {}", words.join(", ")));
        }
        message
    }
}

impl From<Fault> for Refusal {
    fn from(fault: Fault) -> Self {
        let field = &fault.path;
        match fault.kind {
            FaultKind::Unknown => Self::new(Code::UnknownField, field),
            FaultKind::Missing => Self::new(Code::Missing, field),
            FaultKind::WrongType(given) => wrong(field, given.as_ref()),
            FaultKind::TooDeep => Self::new(Code::TooDeep, field),
            FaultKind::TooMuch { given, most } => Self::too_many(field, given, most),
            FaultKind::WrongWord(given, words) => wrong(field, Some(&given)).words(words),
        }
    }
}

fn wrong(field: &str, given: Option<&Tree>) -> Refusal {
    let refusal = Refusal::new(Code::WrongType, field);
    match given {
        Some(Tree::Text(text)) => refusal.given(text),
        Some(Tree::Number(number)) => refusal.given_number(*number),
        Some(Tree::Bool(yes)) => refusal.given(if *yes { "true" } else { "false" }),
        _ => refusal,
    }
}

#[expect(
    clippy::cast_precision_loss,
    reason = "a count in a message; no list is 2⁵³ long"
)]
fn counted(count: usize) -> f64 {
    count as f64
}

/// As much of a text as a refusal repeats: one of ten megabytes must not come
/// back as an error of ten megabytes.
fn shown(text: &str, most: usize) -> String {
    text.chars().take(most).collect()
}

/// A path within another.
fn joined(outer: &str, inner: &str) -> String {
    let dot = if outer.is_empty() || inner.is_empty() || inner.starts_with('[') {
        ""
    } else {
        "."
    };
    format!("{outer}{dot}{inner}")
}

/// Names the field that a core error belongs to.
pub(crate) trait At<T> {
    /// The value, or a refusal of `field`.
    fn at(self, field: &str) -> Result<T, Refusal>;
}

impl<T> At<T> for Result<T, OutOfRange> {
    fn at(self, field: &str) -> Result<T, Refusal> {
        self.map_err(|error| Refusal::out_of_range(field, error))
    }
}

/// A field that must be there.
pub(crate) fn needed<T>(value: Option<T>, field: &str) -> Result<T, Refusal> {
    value.ok_or_else(|| Refusal::new(Code::Missing, field))
}

#[cfg(test)]
mod tests {
    use super::{Code, Refusal};
    use glasscall_core::quantity::{Share, Span};
    use glasscall_derive::read;

    #[test]
    fn a_field_is_refused_by_its_name_outside() {
        struct Glass {
            near_height_mm: f64,
        }
        struct Request {
            glass: Glass,
            share: Option<f64>,
        }
        let request = Request {
            glass: Glass {
                near_height_mm: f64::NAN,
            },
            share: Some(2.0),
        };
        let height = read!(Span::new, request.glass.near_height_mm);
        assert_eq!(
            height.map_err(|it| it.field.clone()),
            Err("glass.nearHeightMm".into())
        );
        let share = read!(Share::new, request.share?);
        assert_eq!(share.map_err(|it| it.field.clone()), Err("share".into()));
    }

    #[test]
    fn a_message_spells_the_code_as_the_field_does() {
        let refusal = Refusal::outside("density", -1.0, 0.0, 12.0);
        assert_eq!(
            refusal.message(),
            "density: outOfRange, given -1, needs 0 to 12"
        );
        let whole = Refusal::new(Code::TooDeep, "");
        assert_eq!(whole.message(), "tooDeep");
    }

    #[test]
    fn a_long_text_is_not_repeated() {
        let refusal = Refusal::new(Code::Empty, &"x".repeat(10_000)).given(&"9".repeat(10_000));
        assert!(refusal.message().len() < 400);
    }
}
