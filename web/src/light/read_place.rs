//! `readPlace`: a pasted pair of coordinates.

use crate::plain::refusal::{Code, Refusal};
use glasscall_core::spoken::{LONGEST_TEXT, SpokenError, read_place as read};
use glasscall_derive::{FromPlain, ToPlain};
use serde::{Deserialize, Serialize};
use tsify::Tsify;

/// A text that is meant to be a place.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct ReadPlaceRequest {
    /// As `51.5, 3.5`, `51°30′N 3°30′E` and the like.
    pub text: String,
}

/// The place.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct ReadPlaceReply {
    /// North positive.
    pub latitude_deg: f64,
    /// East positive.
    pub longitude_deg: f64,
    /// As `51.5° N, 3.5° E`, to ten metres.
    pub label: String,
}

/// Answers `readPlace`.
///
/// # Errors
///
/// `empty`, `tooMany` characters, `notUnderstood`, `outOfRange`.
pub fn read_place(request: &ReadPlaceRequest) -> Result<ReadPlaceReply, Refusal> {
    let text = &request.text;
    let refused = |code| Refusal::new(code, "text").given(text);
    let place = read(text).map_err(|error| match error {
        SpokenError::Empty => refused(Code::Empty),
        SpokenError::TooLong => Refusal::too_many("text", text.chars().count(), LONGEST_TEXT),
        SpokenError::NotUnderstood | SpokenError::Ambiguous(_) => refused(Code::NotUnderstood),
        SpokenError::OutOfRange(error) => Refusal::out_of_range("text", error),
    })?;
    let (latitude_deg, longitude_deg) = (place.latitude.degrees(), place.longitude.degrees());
    Ok(ReadPlaceReply {
        latitude_deg,
        longitude_deg,
        label: format!(
            "{}, {}",
            one_way(latitude_deg, "N", "S"),
            one_way(longitude_deg, "E", "W"),
        ),
    })
}

fn one_way(degrees: f64, positive: &str, negative: &str) -> String {
    let rounded = (degrees.abs() * 1e4).round() / 1e4;
    let letter = if degrees < 0.0 { negative } else { positive };
    format!("{rounded}° {letter}")
}
