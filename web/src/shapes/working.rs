//! How an answer is worked out, term by term.
//!
//! Formulas are plain notation over the symbols of the terms before them:
//! `+ - * / ^ ( )`, `sqrt`, `log2`, `log10`, `sin`, `cos`, `tan`, `abs`, `min`
//! and `max`, angles in degrees. A test reads each and finds the value beside it.

use crate::shapes::placed::KnownBy;
use serde::{Deserialize, Serialize};
use tsify::Tsify;

/// One term.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct TermReply {
    /// What formulas call it.
    pub symbol: String,
    /// What it is.
    pub what: TermName,
    /// Its value, not rounded.
    pub value: f64,
    /// Its unit.
    pub unit: TermUnit,
    /// How it follows from the terms before; absent for what was put in.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub formula: Option<String>,
    /// Where the formula or the assumed value comes from.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub source: Option<String>,
    /// How what was put in is known; absent for a setting and for what follows.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub known_by: Option<KnownBy>,
    /// Id of the piece it is of.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub piece: Option<String>,
    /// The field of the request to change it by.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub field: Option<String>,
}

/// What a term is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
#[expect(missing_docs, reason = "the name says it")]
pub enum TermName {
    ReadAperture,
    ReadIndex,
    ReadRate,
    ReadAngle,
    ReadTime,
    ReadThrough,
    ShotAperture,
    ShotIndex,
    ShotRate,
    ShotAngle,
    ShotTime,
    Settings,
    Density,
    Loss,
    Need,
    LeftOver,
    ApertureToSet,
    ReadingUnsure,
    LossUnsure,
    Unsure,
    FocalLength,
    FNumber,
    Pupil,
    PupilBehind,
    Distance,
    FromPupil,
    SensorWidth,
    SensorHeight,
    Squeeze,
    ChiefAcross,
    ChiefUp,
    OpeningDiameter,
    OpeningWidth,
    OpeningHeight,
    Room,
}

/// The unit of a term.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
#[expect(missing_docs, reason = "the name says it")]
pub enum TermUnit {
    Stops,
    Density,
    Aperture,
    Seconds,
    Deg,
    PerSecond,
    Index,
    Mm,
    FNumber,
    Number,
}

/// Terms as they are put down.
#[derive(Debug, Default)]
pub(crate) struct Working {
    terms: Vec<TermReply>,
}

impl Working {
    /// What was put in, with the field it stands in.
    #[inline(never)]
    pub(crate) fn given(
        &mut self,
        symbol: &str,
        what: TermName,
        (value, unit): (f64, TermUnit),
        field: &str,
    ) -> &mut TermReply {
        let field = (!field.is_empty()).then(|| field.to_owned());
        self.put(symbol, what, (value, unit), None, field)
    }

    /// What follows from the terms before.
    #[inline(never)]
    pub(crate) fn follows(
        &mut self,
        symbol: &str,
        what: TermName,
        (value, unit): (f64, TermUnit),
        formula: &str,
    ) -> &mut TermReply {
        self.put(symbol, what, (value, unit), Some(formula.to_owned()), None)
    }

    fn put(
        &mut self,
        symbol: &str,
        what: TermName,
        (value, unit): (f64, TermUnit),
        formula: Option<String>,
        field: Option<String>,
    ) -> &mut TermReply {
        let at = self.terms.len();
        self.terms.push(TermReply {
            symbol: symbol.to_owned(),
            what,
            value,
            unit,
            formula,
            source: None,
            known_by: None,
            piece: None,
            field,
        });
        &mut self.terms[at]
    }

    /// All of them.
    pub(crate) fn terms(self) -> Vec<TermReply> {
        self.terms
    }
}

impl TermReply {
    /// With where it comes from.
    pub(crate) fn from(&mut self, source: &str) -> &mut Self {
        self.source = Some(source.to_owned());
        self
    }

    /// With the piece it is of, and how its loss is known.
    pub(crate) fn of(&mut self, piece: &str, known_by: Option<KnownBy>) -> &mut Self {
        self.piece = Some(piece.to_owned());
        self.known_by = known_by;
        self
    }
}
