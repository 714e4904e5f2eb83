//! `readList`: pieces and lenses out of a list that somebody wrote or said.

use crate::case::file::CaseLens;
use crate::plain::refusal::Refusal;
use crate::shapes::grad::{ProfileKind, ProfileRequest};
use crate::shapes::piece::{PieceKindName, PieceRequest};
use glasscall_core::setup::PieceKind;
use glasscall_core::spoken::{
    Edge, LONGEST_LIST, ListChoice, ListFault, ListOf, ListTaken, ListTooLong, Listed, ListedLens,
    ListedPiece, MOST_ENTRIES, Meaning, TakenAs, read_case_list,
};
use glasscall_derive::{FromPlain, ToPlain, Twin};
use serde::{Deserialize, Serialize};
use tsify::Tsify;

/// The ramp a soft edge is taken to have until it is measured, in mm.
///
/// Common practice, no source.
const USUAL_RAMP_MM: f64 = 30.0;

/// A list as somebody wrote or said it.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct ReadListRequest {
    /// One a line or in a row, up to 20 000 bytes and 500 entries.
    pub text: String,
    /// What it is of where no heading says; anything unless said.
    #[serde(default)]
    pub of: ListKind,
}

/// What a list is of.
#[derive(
    Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, ToPlain, Deserialize, FromPlain, Tsify,
)]
#[serde(rename_all = "camelCase")]
pub enum ListKind {
    /// Pieces and lenses.
    #[default]
    Anything,
    /// Lenses: a number is a focal length.
    Lenses,
}

/// What was read.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct ReadListReply {
    /// Entry by entry, in the order of the text.
    pub entries: Vec<ListEntryReply>,
}

/// One entry: a piece, a lens, choices, or why it is none.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct ListEntryReply {
    /// Where it begins in the text, in UTF-16 units as JavaScript counts.
    pub from: u32,
    /// Where it ends.
    pub to: u32,
    /// What it is, if only one thing.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub listed: Option<ListedReply>,
    /// What it can be, if several things.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub choices: Vec<ListChoiceReply>,
    /// Why it is nothing.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub fault: Option<ListFaultName>,
}

/// A piece or a lens, in the shape of a case.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct ListedReply {
    /// The piece; its id is what it was called, which others may be too.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub piece: Option<PieceRequest>,
    /// Or the lens.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub lens: Option<CaseLens>,
}

/// One thing an entry can mean.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct ListChoiceReply {
    /// How it was taken.
    pub taken_as: ListTakenName,
    /// What it is then.
    pub listed: ListedReply,
}

/// How an entry was taken.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase")]
pub enum ListTakenName {
    /// Its number as a filter factor.
    Factor,
    /// As stops.
    Stops,
    /// As a density.
    Density,
    /// As a density without its point.
    DensityInTenths,
    /// As the share of the light that passes.
    Share,
    /// As the strength of an effect.
    Strength,
    /// As a focal length.
    FocalLength,
    /// The stop as a T-number.
    TNumber,
    /// The stop as an f-number.
    FNumber,
    /// A name as a colour's.
    Colour,
}

/// Why an entry is not read.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, Serialize, ToPlain, Deserialize, FromPlain, Tsify, Twin,
)]
#[serde(rename_all = "camelCase")]
#[twin(from ListFault)]
pub enum ListFaultName {
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

/// Answers `readList`.
///
/// # Errors
///
/// `tooMany` characters or entries.
pub fn read_list(request: &ReadListRequest) -> Result<ReadListReply, Refusal> {
    let text = request.text.as_str();
    let of = match request.of {
        ListKind::Anything => ListOf::Anything,
        ListKind::Lenses => ListOf::Lenses,
    };
    let entries = read_case_list(text, of).map_err(|too_long| match too_long {
        ListTooLong::Text => Refusal::too_many("text", text.len(), LONGEST_LIST),
        ListTooLong::Entries => Refusal::too_many("text", MOST_ENTRIES + 1, MOST_ENTRIES),
    })?;
    // Entries stand in order, so that the text is counted once.
    let (mut bytes, mut units) = (0, 0_u32);
    let mut unit_at = |byte: usize| {
        let between: usize = text[bytes..byte].chars().map(char::len_utf16).sum();
        units += u32::try_from(between).unwrap_or_default();
        bytes = byte;
        units
    };
    let reply = |entry: glasscall_core::spoken::Entry| {
        let (from, to) = (unit_at(entry.from), unit_at(entry.to));
        let (listed, choices, fault) = match entry.meaning {
            Meaning::Understood(listed) => (Some(listed.into()), Vec::new(), None),
            Meaning::Ambiguous(choices) => {
                (None, choices.into_iter().map(Into::into).collect(), None)
            }
            Meaning::Refused(fault) => (None, Vec::new(), Some(fault.into())),
        };
        ListEntryReply {
            from,
            to,
            listed,
            choices,
            fault,
        }
    };
    Ok(ReadListReply {
        entries: entries.into_iter().map(reply).collect(),
    })
}

impl From<Listed> for ListedReply {
    fn from(listed: Listed) -> Self {
        match listed {
            Listed::Piece(piece) => Self {
                piece: Some(piece_reply(piece)),
                lens: None,
            },
            Listed::Lens(lens) => Self {
                piece: None,
                lens: Some(lens_reply(lens)),
            },
        }
    }
}

impl From<ListChoice> for ListChoiceReply {
    fn from(choice: ListChoice) -> Self {
        let taken_as = match choice.taken_as {
            ListTaken::Mark(TakenAs::Stops) => ListTakenName::Stops,
            ListTaken::Mark(TakenAs::Density) => ListTakenName::Density,
            ListTaken::Mark(TakenAs::DensityInTenths) => ListTakenName::DensityInTenths,
            ListTaken::Mark(_) => ListTakenName::Factor,
            ListTaken::Share => ListTakenName::Share,
            ListTaken::Strength => ListTakenName::Strength,
            ListTaken::FocalLength => ListTakenName::FocalLength,
            ListTaken::TNumber => ListTakenName::TNumber,
            ListTaken::FNumber => ListTakenName::FNumber,
            ListTaken::Colour => ListTakenName::Colour,
        };
        Self {
            taken_as,
            listed: choice.listed.into(),
        }
    }
}

fn piece_reply(piece: ListedPiece) -> PieceRequest {
    let density = piece.density.map(|density| density.density());
    let profile = |edge: Edge| {
        let (kind, ramp_mm) = match edge {
            Edge::Hard => (ProfileKind::Hard, None),
            Edge::Soft => (ProfileKind::Soft, Some(USUAL_RAMP_MM)),
            Edge::Reverse => (ProfileKind::Reverse, Some(USUAL_RAMP_MM)),
            Edge::Stripe => (ProfileKind::Stripe, Some(USUAL_RAMP_MM)),
        };
        ProfileRequest {
            kind,
            density: None,
            ramp_mm,
            top_density: None,
            points: None,
        }
    };
    let edge = piece.edge.filter(|_| piece.kind == PieceKind::Graduated);
    PieceRequest {
        density,
        size: piece.size,
        // Such glass is made to hold infrared back as it does the visible.
        infrared_density: density.filter(|_| piece.infrared),
        dioptres: piece.power.map(|power| power.dioptres()),
        split: piece.split,
        profile: edge.map(profile),
        count: piece.count,
        ..PieceRequest::named(piece.name, kind_name(piece.kind))
    }
}

const fn kind_name(kind: PieceKind) -> PieceKindName {
    match kind {
        PieceKind::NeutralDensity => PieceKindName::Nd,
        PieceKind::Graduated => PieceKindName::Grad,
        PieceKind::Polarizer => PieceKindName::Polarizer,
        PieceKind::InfraredCut => PieceKindName::InfraredCut,
        PieceKind::Colour => PieceKindName::Colour,
        PieceKind::CloseUp => PieceKindName::CloseUp,
        PieceKind::Effect => PieceKindName::Effect,
        PieceKind::Clear => PieceKindName::Clear,
    }
}

fn lens_reply(lens: ListedLens) -> CaseLens {
    CaseLens {
        id: lens.name,
        focal_mm: Some(lens.focal.millimetres()),
        focal_to_mm: lens.focal_to.map(|to| to.millimetres()),
        t_number: lens.t.map(|t| t.number()),
        f_number: lens.f.map(|f| f.number()),
        thread_mm: lens.thread.map(|thread| thread.millimetres()),
        outer_mm: lens.outside.map(|outside| outside.millimetres()),
        ..CaseLens::default()
    }
}
