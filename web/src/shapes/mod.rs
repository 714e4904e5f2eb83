//! What several questions are asked with, or answered with.

pub(crate) mod aim;
pub(crate) mod distance;
pub(crate) mod formula;
pub(crate) mod grad;
pub(crate) mod kit;
pub(crate) mod known_lens;
pub(crate) mod lens;
pub(crate) mod opening;
pub(crate) mod piece;
pub(crate) mod placed;
pub(crate) mod planning;
pub(crate) mod pupil;
pub(crate) mod rig;
pub(crate) mod sensor;
pub(crate) mod settings;
pub(crate) mod term_name;
pub(crate) mod uncertainty;
pub(crate) mod working;

pub use distance::{MeasuredFrom, NoNumber, Place};
pub use grad::{FramePlace, GradRequest, ProfileKind, ProfilePoint, ProfileRequest};
pub use known_lens::{CardPair, CardsRequest, NumberLimits, NumberOrLimits};
pub use opening::{OpeningRequest, ShapeName, VerdictName};
pub use piece::{PieceKindName, PieceRequest};
pub use placed::{KnownBy, PlacedReply};
pub use pupil::{PupilAxes, PupilLimits, PupilPlace};
pub use rig::{RigRequest, SlotRequest};
pub use sensor::SensorRequest;
pub use settings::SettingsRequest;
pub use uncertainty::{CauseName, CauseReply, UncertaintyReply, UncertaintyRequest};
pub use working::{TermName, TermReply, TermUnit};
