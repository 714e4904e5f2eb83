//! `readText`: what people say, as a quantity.

use crate::plain::refusal::{ChoiceReply, Code, Refusal};
use glasscall_core::quantity::Aperture;
use glasscall_core::spoken::{
    ApertureKind, Choice, LONGEST_TEXT, Reading, SpokenAperture, SpokenError, SpokenShutter,
    TakenAs, read_angle, read_aperture, read_density, read_engraved_aperture, read_length,
    read_number, read_shutter, read_stops, write_places,
};
use glasscall_derive::{FromPlain, ToPlain};
use serde::{Deserialize, Serialize};
use tsify::Tsify;

/// A left-over that two decimals of a stop would not show.
const UNSEEN: f64 = 0.005;

/// A text and the quantity it is meant to be.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct ReadTextRequest {
    /// What was said or written, up to 80 characters.
    pub text: String,
    /// The quantity.
    #[serde(rename = "as")]
    pub read_as: ReadAs,
}

/// The quantities that can be read.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase")]
#[expect(missing_docs, reason = "the name says it")]
pub enum ReadAs {
    Aperture,
    /// What a lens is engraved with: 1.2 is 1.2.
    EngravedAperture,
    Density,
    Shutter,
    Stops,
    Length,
    Angle,
    Number,
}

/// The unit of a value.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase")]
pub enum Unit {
    /// An aperture number.
    Aperture,
    /// Optical density.
    Density,
    /// Stops; positive is less light.
    Stops,
    /// Degrees.
    Deg,
    /// Seconds.
    Seconds,
    /// Millimetres.
    Mm,
    /// A bare number.
    Number,
}

/// The quantity read.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct ReadTextReply {
    /// The exact value, in `unit`.
    pub value: f64,
    /// The unit of `value`.
    pub unit: Unit,
    /// The value as the trade writes it.
    pub label: String,
}

/// Answers `readText`.
///
/// # Errors
///
/// `empty`, `tooMany` (characters), `notUnderstood`, `outOfRange`, and
/// `ambiguous` with `choices`.
pub fn read_text(request: &ReadTextRequest) -> Result<ReadTextReply, Refusal> {
    let text = without_full_stop(&request.text);
    match request.read_as {
        ReadAs::Aperture => reply(text, read_aperture(text), aperture_told),
        ReadAs::EngravedAperture => reply(text, read_engraved_aperture(text), aperture_told),
        ReadAs::Density => reply(text, read_density(text), |density| {
            let label = short(density.density());
            (density.density(), Unit::Density, label)
        }),
        ReadAs::Stops => reply(text, read_stops(text), |stops| {
            let label = format!("{} stops", short(stops.stops()));
            (stops.stops(), Unit::Stops, label)
        }),
        ReadAs::Shutter => reply(text, read_shutter(text), |shutter| match shutter {
            SpokenShutter::Angle(angle) => {
                let label = format!("{}°", short(angle.degrees()));
                (angle.degrees(), Unit::Deg, label)
            }
            SpokenShutter::Time(time) => {
                (time.seconds(), Unit::Seconds, time_label(time.seconds()))
            }
        }),
        ReadAs::Length => reply(text, read_length(text), |length| {
            let label = format!("{} mm", short(length.millimetres()));
            (length.millimetres(), Unit::Mm, label)
        }),
        ReadAs::Number => reply(text, read_number(text), |number| {
            (number.value(), Unit::Number, short(number.value()))
        }),
        ReadAs::Angle => reply(text, read_angle(text), |angle| {
            let label = format!("{}°", short(angle.degrees()));
            (angle.degrees(), Unit::Deg, label)
        }),
    }
}

fn reply<T: Copy>(
    text: &str,
    reading: Reading<T>,
    show: impl Fn(T) -> (f64, Unit, String),
) -> Result<ReadTextReply, Refusal> {
    let refused = |code| Refusal::new(code, "text").given(text);
    reading
        .map(|value| {
            let (value, unit, label) = show(value);
            ReadTextReply { value, unit, label }
        })
        .map_err(|error| match error {
            SpokenError::Empty => refused(Code::Empty),
            SpokenError::TooLong => Refusal::too_many("text", text.chars().count(), LONGEST_TEXT),
            SpokenError::NotUnderstood => refused(Code::NotUnderstood),
            SpokenError::OutOfRange(error) => Refusal::out_of_range("text", error),
            SpokenError::Ambiguous(choices) => refused(Code::Ambiguous)
                .choices(choices.into_iter().map(|c| choice(c, &show)).collect()),
        })
}

fn choice<T>(choice: Choice<T>, show: &impl Fn(T) -> (f64, Unit, String)) -> ChoiceReply {
    let (value, unit, label) = show(choice.value);
    let taken_as = match choice.taken_as {
        TakenAs::Density => "density",
        TakenAs::DensityInTenths => "density without its point",
        TakenAs::Factor => "factor",
        TakenAs::Stops => "stops",
        TakenAs::ShutterAngle => "angle",
        TakenAs::FractionOfSecond | TakenAs::Seconds => "time",
        TakenAs::Share => "share of the light",
        TakenAs::Strength => "strength of a diffusion",
    };
    let label = format!("{taken_as}: {label}");
    ChoiceReply { value, unit, label }
}

fn aperture_told(said: SpokenAperture) -> (f64, Unit, String) {
    let letter = match said.kind {
        ApertureKind::Transmission => "T",
        ApertureKind::Focal => "f/",
    };
    let label = format!("{letter}{}", aperture_label(said.aperture));
    (said.aperture.number(), Unit::Aperture, label)
}

/// A sentence's own full stop, as dictation sets one, is no part of a quantity.
fn without_full_stop(text: &str) -> &str {
    match text.trim_end().strip_suffix('.') {
        Some(said) if !said.is_empty() && !said.ends_with('.') => said,
        _ => text,
    }
}

/// The iris-third, or the number itself where no third is near: a label must
/// never drop what it misses.
fn aperture_label(aperture: Aperture) -> String {
    let label = aperture.label();
    if label.left_over.size().stops() < UNSEEN {
        return label.to_string();
    }
    at_most(aperture.number(), 2)
}

/// Up to three decimals, no trailing zeros.
fn short(value: f64) -> String {
    at_most(value, 3)
}

fn at_most(value: f64, places: usize) -> String {
    let fixed = write_places(value, places);
    let short = fixed.trim_end_matches('0').trim_end_matches('.');
    if short == "-0" {
        "0".into()
    } else {
        short.into()
    }
}

fn time_label(seconds: f64) -> String {
    if seconds < 0.3 {
        format!("1/{} s", short(1.0 / seconds))
    } else {
        format!("{} s", short(seconds))
    }
}
