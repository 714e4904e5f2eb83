//! How an answer is worked out, term by term.
//!
//! Formulas are plain notation over the symbols of the terms before them:
//! `+ - * / ^ ( )`, `sqrt`, `log2`, `log10`, `sin`, `cos`, `tan`, `asin`, `acos`, `atan`,
//! `atan2`, `round`, `floor`, `min` and `max`, angles in degrees. A test reads each and finds the
//! value beside it.

use crate::shapes::formula;
use crate::shapes::placed::KnownBy;
pub use crate::shapes::term_name::TermName;
use glasscall_core::quantity::Stops;
use glasscall_core::setup::{Contribution, Origin, Piece};
use glasscall_derive::ToPlain;
use serde::{Deserialize, Serialize};
use tsify::Tsify;

/// One term.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct TermReply {
    /// What formulas call it.
    pub symbol: String,
    /// What it is.
    #[tsify(type = "TermName")]
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

/// The unit of a term.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, ToPlain, Deserialize, Tsify)]
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
    Share,
    Minutes,
    StopsPerHour,
    Lux,
    ExposureValue,
    Nm,
    CandelaM2,
    Dioptre,
    Kelvin,
    Mired,
    Hertz,
    Grams,
    NewtonMetres,
}

/// One step of a derivation: symbol, name, unit, formula, source.
pub(crate) type Step<'a> = (&'a str, TermName, TermUnit, &'a str, &'a str);

pub(crate) const SUM_OF_SQUARES: &str = "JCGM 100:2008, 5.1.2";
pub(crate) const EXPOSURE: &str = "ISO 2720:1974";
pub(crate) const DENSITY: &str = "ISO 5-2:2009, D = -log10(T)";
pub(crate) const STOP_INDEX: &str = "k = 2 * log2(N); 2.8 is 2 * sqrt(2)";
pub(crate) const THIN_LENS: &str = "thin lens";
pub(crate) const CROSSING: &str = "a bundle crosses at z * tan(angle); own derivation";
pub(crate) const BY_ANGLE: &str = "t = angle/(360 * fps)";

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

    /// Steps of a derivation, each worked out from the terms before it; `None`
    /// where one comes to no number.
    #[inline(never)]
    pub(crate) fn steps(&mut self, steps: &[Step<'_>]) -> Option<()> {
        for &(symbol, what, unit, formula, source) in steps {
            let value = formula::value(formula, &self.terms)?;
            (self.follows(symbol, what, (value, unit), formula)).from(source);
        }
        Some(())
    }

    /// How far from the lens it is focused, of `L` from the sensor and `f`.
    pub(crate) fn focus_from_lens(&mut self) -> Option<()> {
        let subject = "(L + sqrt(L * (L - 4 * f)))/2";
        let what = TermName::FocusFromLens;
        self.steps(&[("s", what, TermUnit::Mm, subject, THIN_LENS)])
    }

    /// How long a shutter is open, by the symbols of its angle and of the rate.
    #[inline(never)]
    pub(crate) fn open_for(
        &mut self,
        time: &str,
        what: TermName,
        (angle, rate): (&str, &str),
    ) -> Option<()> {
        let formula = format!("{angle}/(360 * {rate})");
        self.steps(&[(time, what, TermUnit::Seconds, &formula, BY_ANGLE)])
    }

    /// How many terms there are.
    pub(crate) const fn len(&self) -> usize {
        self.terms.len()
    }

    /// Takes back what came after so many.
    pub(crate) fn cut(&mut self, len: usize) {
        self.terms.truncate(len);
    }

    /// The value of a term that is there.
    pub(crate) fn value(&self, symbol: &str) -> Option<f64> {
        let term = self.terms.iter().rev().find(|term| term.symbol == symbol)?;
        Some(term.value)
    }

    /// Whether a term is the answer's own figure.
    #[inline(never)]
    pub(crate) fn tells(&self, symbol: &str, answer: f64) -> bool {
        let told = |value: f64| (value - answer).abs() <= 1e-9 * answer.abs().max(1.0);
        self.value(symbol).is_some_and(told)
    }

    /// What each cause leaves open, and all of them together.
    #[inline(never)]
    pub(crate) fn causes(
        &mut self,
        causes: impl IntoIterator<Item = Contribution>,
        together: Stops,
        kit: &[Piece],
    ) {
        let mut squares = Vec::new();
        for (nth, cause) in causes.into_iter().enumerate() {
            if cause.stops <= Stops::ZERO {
                continue;
            }
            let symbol = format!("u{nth}");
            let value = (cause.stops.stops(), TermUnit::Stops);
            let term = self.given(&symbol, TermName::unsure(cause.from), value, "");
            if let Origin::Piece(piece, origin) = cause.from {
                term.of(&kit[piece].record().id, Some(origin.into()));
            }
            squares.push(format!("{symbol} ^ 2"));
        }
        if !squares.is_empty() {
            let formula = format!("sqrt({})", squares.join(" + "));
            let value = (together.stops(), TermUnit::Stops);
            (self.follows("u", TermName::Unsure, value, &formula)).from(SUM_OF_SQUARES);
        }
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

impl TermName {
    /// What a cause leaves open.
    const fn unsure(from: Origin) -> Self {
        match from {
            Origin::Reading => Self::ReadingUnsure,
            Origin::Piece(..) | Origin::Wheel => Self::LossUnsure,
            Origin::GraduatedDensity => Self::MarkUnsure,
            Origin::GraduatedEdge => Self::EdgeUnsure,
            Origin::Lens => Self::LensUnsure,
            Origin::ClearSky => Self::SkyUnsure,
            Origin::SunHeight => Self::HeightUnsure,
            Origin::Clock => Self::ClockUnsure,
            Origin::Place => Self::PlaceUnsure,
        }
    }
}

impl TermReply {
    /// Taken as usual where nobody said it.
    pub(crate) fn unless(&mut self, said: bool) -> &mut Self {
        if !said {
            self.known_by = Some(KnownBy::Assumed);
        }
        self
    }

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
