//! The one shape of a refusal.

use glasscall_core::quantity::OutOfRange;
use serde::{Deserialize, Serialize};
use tsify::Tsify;

/// Why a request was refused.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, Tsify)]
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
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, Tsify)]
#[serde(untagged)]
pub enum Given {
    /// A number.
    Number(f64),
    /// A text.
    Text(String),
}

/// One thing an ambiguous text can mean.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, Tsify)]
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
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, Tsify)]
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
}

impl Refusal {
    /// A refusal of one field.
    #[must_use]
    pub fn new(code: Code, field: &str) -> Self {
        Self {
            code,
            field: shown(field, LONGEST_FIELD),
            given: None,
            line: None,
            min: None,
            max: None,
            choices: None,
        }
    }

    /// With the text that was given.
    #[must_use]
    pub fn given(self, text: &str) -> Self {
        let given = Some(Given::Text(shown(text, LONGEST_GIVEN)));
        Self { given, ..self }
    }

    /// A number that misses its range.
    #[must_use]
    pub fn out_of_range(field: &str, error: OutOfRange) -> Self {
        Self {
            given: Some(Given::Number(error.given)),
            min: Some(error.bounds.min),
            max: Some(error.bounds.max),
            ..Self::new(Code::OutOfRange, field)
        }
    }

    /// A list or text that is too long.
    #[must_use]
    pub fn too_many(field: &str, given: usize, max: usize) -> Self {
        #[expect(
            clippy::cast_precision_loss,
            reason = "a count in a message; no list is 2⁵³ long"
        )]
        let (given, max) = (given as f64, max as f64);
        Self {
            given: Some(Given::Number(given)),
            min: Some(0.0),
            max: Some(max),
            ..Self::new(Code::TooMany, field)
        }
    }

    /// The sentence a developer sees; the page makes its own.
    #[must_use]
    pub fn message(&self) -> String {
        let mut message = format!("{}: {:?}", self.field, self.code);
        match &self.given {
            Some(Given::Number(number)) => message.push_str(&format!(", given {number}")),
            Some(Given::Text(text)) => message.push_str(&format!(", given “{text}”")),
            None => {}
        }
        if let (Some(min), Some(max)) = (self.min, self.max) {
            message.push_str(&format!(", needs {min} to {max}"));
        }
        message
    }
}

/// As much of a text as a refusal repeats: one of ten megabytes must not come
/// back as an error of ten megabytes.
fn shown(text: &str, most: usize) -> String {
    text.chars().take(most).collect()
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
