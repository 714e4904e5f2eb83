//! A case written or said as a list: "4x4: 0.3 0.6 0.9, pola, 0.6 hard; 82: 1.8",
//! "25 T1.9 82, 24–70 T2.8 82".

mod entries;
mod lens;
mod list;
mod marks;
mod piece;
mod size;
mod words;

use super::TakenAs;
use crate::quantity::{Aperture, Density, FocalLength, Length, LensPower};
use crate::setup::PieceKind;
use alloc::string::String;
use alloc::vec::Vec;

/// Longest list that is read, in bytes.
pub const LONGEST_LIST: usize = 20_000;
/// Most entries that are read.
pub const MOST_ENTRIES: usize = 500;

/// What a list without a heading is of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum ListOf {
    /// Pieces and lenses, told apart by what is said of them.
    #[default]
    Anything,
    /// Lenses: a number is a focal length.
    Lenses,
}

/// How the edge of a graduated piece runs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Edge {
    /// A step.
    Hard,
    /// A ramp.
    Soft,
    /// Densest at the line.
    Reverse,
    /// Dense on the line alone.
    Stripe,
}

/// A piece as a list has it.
#[derive(Debug, Clone, PartialEq)]
pub struct ListedPiece {
    /// As it was called, without its size and number.
    pub name: String,
    /// What it is for.
    pub kind: PieceKind,
    /// Its mark.
    pub density: Option<Density>,
    /// Whether it is said to hold infrared back as well.
    pub infrared: bool,
    /// Of a graduated piece.
    pub edge: Option<Edge>,
    /// Of a close-up lens.
    pub power: Option<LensPower>,
    /// Whether a close-up lens covers part of the picture only.
    pub split: bool,
    /// Thread or panel; empty where none was said.
    pub size: String,
    /// How many.
    pub count: u8,
}

/// A lens as a list has it.
#[derive(Debug, Clone, PartialEq)]
pub struct ListedLens {
    /// As it was called.
    pub name: String,
    /// Focal length, or the shortest of a zoom.
    pub focal: FocalLength,
    /// The longest of a zoom.
    pub focal_to: Option<FocalLength>,
    /// Widest T-number.
    pub t: Option<Aperture>,
    /// Widest f-number.
    pub f: Option<Aperture>,
    /// Filter thread.
    pub thread: Option<Length>,
    /// Outside of a front without thread.
    pub outside: Option<Length>,
}

/// What an entry is.
#[derive(Debug, Clone, PartialEq)]
pub enum Listed {
    /// A piece.
    Piece(ListedPiece),
    /// A lens.
    Lens(ListedLens),
}

/// One reading of an entry that has several.
#[derive(Debug, Clone, PartialEq)]
pub struct ListChoice {
    /// How it was taken.
    pub taken_as: ListTaken,
    /// What it is then.
    pub listed: Listed,
}

/// How an entry that can mean two things was taken.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ListTaken {
    /// Its number as a mark of density.
    Mark(TakenAs),
    /// A fraction as the share of the light that passes.
    Share,
    /// A fraction as the strength of a diffusion or another effect.
    Strength,
    /// A number as a focal length.
    FocalLength,
    /// The widest stop as a T-number.
    TNumber,
    /// The widest stop as an f-number.
    FNumber,
    /// An unknown name as a colour.
    Colour,
}

/// Why an entry is not read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ListFault {
    /// No reading fits.
    NotUnderstood,
    /// Neutral or graduated, and no density said.
    NoDensity,
    /// A size and no piece.
    SizeAlone,
    /// A lens without focal length.
    NoFocalLength,
    /// A number that no glass has.
    OutOfRange,
}

/// What an entry means.
#[derive(Debug, Clone, PartialEq)]
pub enum Meaning {
    /// Only one thing.
    Understood(Listed),
    /// One of several.
    Ambiguous(Vec<ListChoice>),
    /// Nothing.
    Refused(ListFault),
}

impl Meaning {
    /// What is refused, where an entry was looked for.
    const fn refused(fault: ListFault) -> Option<Self> {
        Some(Self::Refused(fault))
    }
}

/// One entry and the bytes of the text it stands on.
#[derive(Debug, Clone, PartialEq)]
pub struct Entry {
    /// Where it begins.
    pub from: usize,
    /// Where it ends.
    pub to: usize,
    /// What it means.
    pub meaning: Meaning,
}

/// Why a list is not read at all.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ListTooLong {
    /// Longer than [`LONGEST_LIST`] bytes.
    Text,
    /// More than [`MOST_ENTRIES`].
    Entries,
}

/// Reads pieces and lenses, one a line or in a row.
///
/// A size with a colon goes for what follows until the next, or until an empty
/// line; a size at the head of a line without one, for that line. What an entry
/// says of itself goes before. Numbers are read as
/// [`read_density`](super::read_density) reads them; a whole number that nothing
/// names, a fraction and a lens's stop without its letter are asked back.
///
/// # Errors
///
/// [`ListTooLong`].
///
/// # Examples
///
/// ```
/// use glasscall_core::spoken::{ListOf, Listed, Meaning, read_case_list};
///
/// let list = read_case_list("4x4: 0.3 0.6, pola; 25 T1.9 82", ListOf::Anything).unwrap();
/// assert_eq!(list.len(), 4);
/// let Meaning::Understood(Listed::Piece(pola)) = &list[2].meaning else { unreachable!() };
/// assert_eq!((pola.name.as_str(), pola.size.as_str()), ("pola", "4x4"));
/// ```
pub fn read_case_list(text: &str, of: ListOf) -> Result<Vec<Entry>, ListTooLong> {
    if text.len() > LONGEST_LIST {
        return Err(ListTooLong::Text);
    }
    let marks = marks::marks(text);
    let entries = list::List::new(text, &marks, of).entries();
    if entries.len() > MOST_ENTRIES {
        return Err(ListTooLong::Entries);
    }
    Ok(entries)
}

#[cfg(test)]
mod tests;
