//! The seam between [`glasscall_core`] and JavaScript.
//!
//! Each function of the public interface takes one plain request and gives one
//! plain reply. A module here holds both shapes and the way from one to the
//! other through the core; nothing in it is physical. [`refusal`] is the one
//! error shape, [`seam`] the one place that touches JavaScript values.

mod convert_density;
mod exposure;
mod fit;
mod frame_map;
mod grad;
mod lens_view;
mod line;
mod line_motion;
mod open_up;
mod opening;
mod piece;
mod pupil;
mod read_text;
mod refusal;
pub mod seam;
mod settings;
mod sizes;
mod sky_and_ground;
mod stack_fit;
mod tree;
mod view;

pub use convert_density::{ConvertDensityReply, ConvertDensityRequest, Iris, convert_density};
pub use exposure::{ExposureReply, ExposureRequest, Receptor, exposure};
pub use fit::{
    ArcReply, CrossingReply, FitReply, FitRequest, MapSize, OpeningReply, PointReply, PupilAxes,
    PupilLimits, PupilPlace, PupilSize, TrustName, ZoomReading, ZoomReply, ZoomRequest, fit,
};
pub use frame_map::{FrameMapRequest, FrameSkyRequest, FrameTurn, FrameTurnName, frame_map};
pub use grad::{FramePlace, GradRequest, ProfileKind, ProfilePoint, ProfileRequest};
pub use line::{
    EdgeFactsReply, EdgeName, EdgeReasonCode, EdgeReply, EdgesRequest, HeightReply, LineReply,
    LineRequest, line,
};
pub use line_motion::{
    LineMotionReply, LineMotionRequest, MotionVerdictName, MoveRequest, line_motion,
};
pub use open_up::{
    InPlace, KnownBy, LensRequest, NoteCode, OfferReply, OpenUpReply, OpenUpRequest, PlacedReply,
    ReadingRequest, RigRequest, SideEffect, SlotRequest, TrimControl, TrimReply, open_up,
};
pub use opening::{OpeningRequest, ShapeName, VerdictName};
pub use piece::{PieceKindName, PieceRequest};
pub use pupil::{
    PupilByFrontReply, PupilByFrontRequest, PupilByRingReply, PupilByRingRequest,
    PupilByTwoCardsReply, PupilByTwoCardsRequest, pupil_by_front, pupil_by_ring,
    pupil_by_two_cards,
};
pub use read_text::{ReadAs, ReadTextReply, ReadTextRequest, Unit, read_text};
pub use refusal::{ChoiceReply, Code, Given, Refusal};
pub use settings::SettingsRequest;
pub use sizes::{FormatReply, PanelReply, SizesReply, SizesRequest, ThreadReply, sizes};
pub use sky_and_ground::{
    BalanceReply, BalanceVerdict, NamedGrad, RemediesReply, SkyAndGroundReply, SkyAndGroundRequest,
    SpotRequest, sky_and_ground,
};
pub use stack_fit::{LensFitRequest, StackFitReply};
pub use view::SensorRequest;
