//! The seam between [`glasscall_core`] and JavaScript.
//!
//! Each function of the public interface takes one plain request and gives one
//! plain reply. A module here holds both shapes and the way from one to the
//! other through the core; nothing in it is physical. [`refusal`] is the one
//! error shape, [`seam`] the one place that touches JavaScript values.

mod behind_lens;
mod case_file;
mod close_up;
mod colour;
mod convert_density;
mod cover_kit;
mod depth;
mod exposure;
mod fit;
mod flicker;
mod infrared;
mod kit;
mod open_up;
mod opening;
mod order_day;
mod piece;
mod place;
mod planning;
mod pupil;
mod ramp;
mod read_text;
mod refusal;
mod rings;
pub mod seam;
mod settings;
mod sizes;
mod stack_fit;
mod tree;
mod tree_of;
mod view;
mod weight;
mod wish;
mod working_stop;

pub use behind_lens::{
    BehindLensReply, BehindLensRequest, Mark, NamedMark, PlateRequest, ShiftVerdict, WheelReply,
    behind_lens,
};
pub use case_file::{
    CaseBody, CaseContent, CaseForm, CaseLens, CaseMode, CaseRig, CaseSlot, CaseWheel, MountName,
    PupilBy, ReadCaseReply, ReadCaseRequest, WriteCaseReply, WriteCaseRequest, read_case,
    write_case,
};
pub use close_up::{AtSettingReply, CloseUpReply, CloseUpRequest, GapReply, RangeReply, close_up};
pub use colour::{
    CastReply, ColourReply, ColourRequest, ConversionReply, FilterColour, Lean, LightReply,
    NoTemperature, OtherBodyReply, SeenReply, colour,
};
pub use convert_density::{ConvertDensityReply, ConvertDensityRequest, Iris, convert_density};
pub use cover_kit::{
    ChosenReply, CoverKitReply, CoverKitRequest, NeedRequest, OneMoreReply, ServedReply,
    WareRequest, cover_kit,
};
pub use depth::{CircleRule, DepthReply, DepthRequest, NeighbourReply, PictureRequest, depth};
pub use exposure::{ExposureReply, ExposureRequest, Receptor, exposure};
pub use fit::{
    ArcReply, CrossingReply, FitReply, FitRequest, MapSize, OpeningReply, PointReply, PupilAxes,
    PupilLimits, PupilPlace, PupilSize, TrustName, ZoomReading, ZoomReply, ZoomRequest, fit,
};
pub use flicker::{FlickerReply, FlickerRequest, JudgedReply, MainsReply, flicker};
pub use infrared::{InfraredReply, InfraredRequest, InfraredVerdict, infrared};
pub use open_up::{
    InPlace, KnownBy, LensRequest, NoteCode, OfferReply, OpenUpReply, OpenUpRequest, PlacedReply,
    ReadingRequest, RigRequest, SideEffect, SlotRequest, TrimControl, TrimReply, open_up,
};
pub use opening::{OpeningRequest, ShapeName, VerdictName};
pub use order_day::{
    DayOrder, OrderDayReply, OrderDayRequest, SetUpRequest, StageReply, order_day,
};
pub use piece::{PieceKindName, PieceRequest};
pub use place::{Infinity, MeasuredFrom, Place};
pub use pupil::{
    PupilByFrontReply, PupilByFrontRequest, PupilByRingReply, PupilByRingRequest,
    PupilByTwoCardsReply, PupilByTwoCardsRequest, pupil_by_front, pupil_by_ring,
    pupil_by_two_cards,
};
pub use ramp::{
    RampEffect, RampEffectReply, RampEndRequest, RampHeldBy, RampReply, RampRequest, RampStepReply,
    RampStuckReply, ramp,
};
pub use read_text::{ReadAs, ReadTextReply, ReadTextRequest, Unit, read_text};
pub use refusal::{ChoiceReply, Code, Given, Refusal};
pub use rings::{
    OwnedRingRequest, RingClashReply, RingLensRequest, RingOfferRequest, RingPathReply, RingReply,
    RingToBuyReply, RingsReply, RingsRequest, rings,
};
pub use settings::SettingsRequest;
pub use sizes::{FormatReply, PanelReply, SizesReply, SizesRequest, ThreadReply, sizes};
pub use stack_fit::{LensFitRequest, StackFitReply};
pub use view::SensorRequest;
pub use weight::{Material, WeightItem, WeightReply, WeightRequest, weight};
pub use working_stop::{WorkingStopReply, WorkingStopRequest, working_stop};
