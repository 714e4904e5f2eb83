//! The seam between [`glasscall_core`] and JavaScript.
//!
//! Each function of the public interface takes one plain request and gives one
//! plain reply. A module here holds both shapes and the way from one to the
//! other through the core; nothing in it is physical. [`refusal`] is the one
//! error shape, [`seam`] the one place that touches JavaScript values.

mod aim;
mod convert_density;
mod crossed_polarizers;
mod daylight;
mod drift;
mod exposure;
mod fit;
mod flag;
mod frame_map;
mod ghost;
mod grad;
mod lens_view;
mod line;
mod line_motion;
mod measured_polarizer;
mod open_up;
mod opening;
mod paint_frame;
mod piece;
mod placed;
mod pupil;
mod read_text;
mod reflection;
mod refusal;
pub mod seam;
mod settings;
mod sizes;
mod sky;
mod sky_and_ground;
mod sky_plan;
mod stack_fit;
mod sun;
mod sun_day;
mod time_text;
mod tree;
mod view;

pub use convert_density::{ConvertDensityReply, ConvertDensityRequest, Iris, convert_density};
pub use crossed_polarizers::{
    CrossedPolarizersReply, CrossedPolarizersRequest, MarkReply, PairVerdict, PictureRequest,
    PullRequest, PullStepReply, crossed_polarizers,
};
pub use daylight::{DaylightModel, DaylightReply, DaylightRequest, daylight};
pub use drift::{
    DriftModel, DriftReply, DriftRequest, PlaceRequest, StackReply, SwapReply, TimedReadingRequest,
    drift,
};
pub use exposure::{ExposureReply, ExposureRequest, Receptor, exposure};
pub use fit::{
    ArcReply, CrossingReply, FitReply, FitRequest, MapSize, OpeningReply, PointReply, PupilAxes,
    PupilLimits, PupilPlace, PupilSize, TrustName, ZoomReading, ZoomReply, ZoomRequest, fit,
};
pub use flag::{
    FlagReply, FlagRequest, FlagShape, FlagSide, FlagVerdict, GlassRequest, LampPlace, SunAim, flag,
};
pub use frame_map::{FrameMapRequest, FrameSkyRequest, frame_map};
pub use ghost::{GhostBetween, GhostReply, GhostRequest, ghost};
pub use grad::{FramePlace, GradRequest, ProfileKind, ProfilePoint, ProfileRequest};
pub use line::{
    EdgeFactsReply, EdgeName, EdgeReasonCode, EdgeReply, EdgesRequest, HeightReply, LineReply,
    LineRequest, line,
};
pub use line_motion::{
    LineMotionReply, LineMotionRequest, MotionVerdictName, MoveRequest, line_motion,
};
pub use measured_polarizer::{
    MeasuredPolarizerReply, MeasuredPolarizerRequest, measured_polarizer,
};
pub use open_up::{
    InPlace, LensRequest, NoteCode, OfferReply, OpenUpReply, OpenUpRequest, ReadingRequest,
    RigRequest, SideEffect, SlotRequest, TrimControl, TrimReply, open_up,
};
pub use opening::{OpeningRequest, ShapeName, VerdictName};
pub use paint_frame::{FrameColours, PaintFrameRequest, Painter};
pub use piece::{PieceKindName, PieceRequest};
pub use placed::{KnownBy, PlacedReply};
pub use pupil::{
    PupilByFrontReply, PupilByFrontRequest, PupilByRingReply, PupilByRingRequest,
    PupilByTwoCardsReply, PupilByTwoCardsRequest, pupil_by_front, pupil_by_ring,
    pupil_by_two_cards,
};
pub use read_text::{ReadAs, ReadTextReply, ReadTextRequest, Unit, read_text};
pub use reflection::{
    ReflectionReply, ReflectionRequest, ReflectionVerdict, SurfaceName, reflection,
};
pub use refusal::{ChoiceReply, Code, Given, Refusal};
pub use settings::SettingsRequest;
pub use sizes::{FormatReply, PanelReply, SizesReply, SizesRequest, ThreadReply, sizes};
pub use sky::{
    BandReply, NamedTurn, PolarizerTurn, SkyCorners, SkyReply, SkyRequest, SkyVerdictName, sky,
};
pub use sky_and_ground::{
    BalanceReply, BalanceVerdict, NamedGrad, RemediesReply, SkyAndGroundReply, SkyAndGroundRequest,
    SpotRequest, sky_and_ground,
};
pub use sky_plan::{
    AimReply, HourReply, SkyAimsReply, SkyAimsRequest, SkyHoursReply, SkyHoursRequest, sky_aims,
    sky_hours,
};
pub use stack_fit::{LensFitRequest, StackFitReply};
pub use sun::{SunReply, SunRequest, sun};
pub use sun_day::{DayKindName, SunDayReply, SunDayRequest, sun_day};
pub use time_text::{moment_text, read_date, read_moment};
pub use view::SensorRequest;
