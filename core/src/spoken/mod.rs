//! What people say and write, read as quantities.
//!
//! "T11 and two thirds", "2.8⅓", "5,6", "point nine", "ND64", "12.5 %",
//! "172.8", "1/50". Any decimal sign and the digits of other scripts are read.
//! Words are English or German; a text that can mean two things is never guessed at.

mod amount;
mod angle;
mod aperture;
mod case_list;
mod coordinates;
mod decimal;
mod density;
mod german;
mod length;
mod letters;
mod number;
mod shutter;
mod size;
mod stops;
mod token;
mod written;

pub use angle::read_angle;
pub use aperture::{ApertureKind, SpokenAperture, read_aperture, read_engraved_aperture};
pub use case_list::{
    Edge, Entry, LONGEST_LIST, ListChoice, ListFault, ListOf, ListTaken, ListTooLong, Listed,
    ListedLens, ListedPiece, MOST_ENTRIES, Meaning, read_case_list,
};
pub use coordinates::read_place;
pub use decimal::read_decimal;
pub use density::read_density;
pub use length::read_length;
pub use number::read_number;
pub use shutter::{SpokenShutter, read_shutter};
pub use size::{SpokenSize, read_size};
pub use stops::read_stops;
pub use written::{write_decimal, write_places};

use crate::quantity::OutOfRange;
use alloc::vec::Vec;
use core::fmt;

/// Longest text that is looked at, in characters.
pub const LONGEST_TEXT: usize = 80;

/// Why a text could not be read as the quantity `T`.
#[derive(Debug, Clone, PartialEq)]
pub enum SpokenError<T> {
    /// Nothing but spaces.
    Empty,
    /// More than [`LONGEST_TEXT`] characters.
    TooLong,
    /// No reading fits.
    NotUnderstood,
    /// More than one reading fits; the user must choose.
    Ambiguous(Vec<Choice<T>>),
    /// Read, and outside the quantity's range.
    OutOfRange(OutOfRange),
}

/// One thing an ambiguous text can mean.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Choice<T> {
    /// The quantity.
    pub value: T,
    /// How the text was taken.
    pub taken_as: TakenAs,
}

/// How a number without a unit was taken.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TakenAs {
    /// An optical density.
    Density,
    /// A density marked without its decimal point.
    DensityInTenths,
    /// A filter factor.
    Factor,
    /// A number of stops.
    Stops,
    /// A shutter angle.
    ShutterAngle,
    /// The lower part of a fraction of a second.
    FractionOfSecond,
    /// A number of seconds.
    Seconds,
    /// The share of the light that passes.
    Share,
    /// How strongly a diffusion filter works, which takes no light.
    Strength,
}

impl<T> From<OutOfRange> for SpokenError<T> {
    fn from(error: OutOfRange) -> Self {
        Self::OutOfRange(error)
    }
}

impl<T> fmt::Display for SpokenError<T> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Empty => write!(f, "nothing was said"),
            Self::TooLong => write!(f, "longer than {LONGEST_TEXT} characters"),
            Self::NotUnderstood => write!(f, "not understood"),
            Self::Ambiguous(choices) => write!(f, "can mean {} things", choices.len()),
            Self::OutOfRange(error) => error.fmt(f),
        }
    }
}

/// The result of reading a text as `T`.
pub type Reading<T> = Result<T, SpokenError<T>>;
