//! The seam between [`glasscall_core`] and JavaScript.
//!
//! Each function of the public interface takes one plain request and gives one
//! plain reply. A module here holds both shapes and the way from one to the
//! other through the core; nothing in it is physical. `refusal` is the one
//! error shape, [`seam`] the one place that touches JavaScript values.

mod aim;
mod behind_lens;
mod case_file;
mod close_up;
mod colour;
mod convert_density;
mod cover_kit;
mod crossed_polarizers;
mod day_needs;
mod daylight;
mod depth;
mod drift;
mod exposure;
mod fit;
mod fit_reply;
mod flag;
mod flicker;
mod frame_map;
mod ghost;
mod grad;
mod infrared;
mod kit;
mod lens_view;
mod line;
mod line_motion;
mod measured_polarizer;
mod open_up;
mod opening;
mod order_day;
mod paint_frame;
mod piece;
mod place;
mod placed;
mod planning;
mod pupil;
mod pupil_place;
mod ramp;
mod read_place;
mod read_text;
mod reflection;
mod refusal;
mod rig;
mod rings;
pub mod seam;
mod settings;
mod sizes;
mod sky;
mod sky_and_ground;
mod sky_plan;
mod square_code;
mod stack_fit;
mod sun;
mod sun_day;
mod time_text;
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
    CaseBody, CaseContent, CaseDay, CaseForm, CaseLens, CaseMode, CaseOpening, CasePlate, CaseRig,
    CaseSetUp, CaseSlot, CaseWant, CaseWheel, MountName, NeedsFrom, PupilBy, ReadCaseReply,
    ReadCaseRequest, WriteCaseReply, WriteCaseRequest, read_case, write_case,
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
pub use crossed_polarizers::{
    CrossedPolarizersReply, CrossedPolarizersRequest, MarkReply, PairVerdict, PullRequest,
    PullStepReply, WholePictureRequest, crossed_polarizers,
};
pub use day_needs::{
    DayNeedReply, DayNeedsReply, DayNeedsRequest, DayWayReply, NeedLensRequest, day_needs,
};
pub use daylight::{DaylightModel, DaylightReply, DaylightRequest, daylight};
pub use depth::{CircleRule, DepthReply, DepthRequest, NeighbourReply, depth};
pub use drift::{
    DriftModel, DriftReply, DriftRequest, PlaceRequest, StackReply, SwapReply, TimedReadingRequest,
    drift,
};
pub use exposure::{ExposureReply, ExposureRequest, Receptor, exposure};
pub use fit::{FitRequest, MapSize, ZoomRequest, fit};
pub use fit_reply::{
    ArcReply, CrossingReply, FitReply, OpeningReply, PassedReply, PointReply, PupilSize, TrustName,
    UsualSizeReply, ZoomReading, ZoomReply,
};
pub use flag::{
    FlagReply, FlagRequest, FlagShape, FlagSide, FlagVerdict, GlassRequest, LampPlace, SunAim, flag,
};
pub use flicker::{FlickerReply, FlickerRequest, JudgedReply, MainsReply, flicker};
pub use frame_map::{FrameMapRequest, FrameSkyRequest, frame_map};
pub use ghost::{GhostBetween, GhostReply, GhostRequest, ghost};
pub use grad::{FramePlace, GradRequest, ProfileKind, ProfilePoint, ProfileRequest};
pub use infrared::{InfraredReply, InfraredRequest, InfraredVerdict, infrared};
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
    SideEffect, TrimControl, TrimReply, open_up,
};
pub use opening::{OpeningRequest, ShapeName, VerdictName};
pub use order_day::{
    DayOrder, OrderDayReply, OrderDayRequest, SetUpRequest, StageReply, order_day,
};
pub use paint_frame::{FrameColours, PaintFrameRequest, Painter};
pub use piece::{PieceKindName, PieceRequest};
pub use place::{MeasuredFrom, NoNumber, Place};
pub use placed::{KnownBy, PlacedReply};
pub use pupil::{
    PupilByFrontReply, PupilByFrontRequest, PupilByRingReply, PupilByRingRequest,
    PupilByTwoCardsReply, PupilByTwoCardsRequest, pupil_by_front, pupil_by_ring,
    pupil_by_two_cards,
};
pub use pupil_place::{PupilAxes, PupilLimits, PupilPlace};
pub use ramp::{
    RampEffect, RampEffectReply, RampEndRequest, RampHeldBy, RampReply, RampRequest, RampStepReply,
    RampStuckReply, ramp,
};
pub use read_place::{ReadPlaceReply, ReadPlaceRequest, read_place};
pub use read_text::{ReadAs, ReadTextReply, ReadTextRequest, Unit, read_text};
pub use reflection::{
    ReflectionReply, ReflectionRequest, ReflectionVerdict, SurfaceName, reflection,
};
pub use refusal::{ChoiceReply, Code, Given, Refusal};
pub use rig::{RigRequest, SlotRequest};
pub use rings::{
    OwnedRingRequest, RingClashReply, RingLensRequest, RingOfferRequest, RingPathReply, RingReply,
    RingToBuyReply, RingsReply, RingsRequest, rings,
};
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
pub use square_code::{
    DrawCodeReply, DrawCodeRequest, ReadCodeReply, ReadCodeRequest, draw_code, read_code,
};
pub use stack_fit::{LensFitRequest, StackFitReply};
pub use sun::{SunReply, SunRequest, sun};
pub use sun_day::{DayKindName, SunDayReply, SunDayRequest, sun_day};
pub use time_text::{moment_text, read_date, read_moment};
pub use view::SensorRequest;
pub use weight::{Material, WeightItem, WeightReply, WeightRequest, weight};
pub use working_stop::{WorkingStopReply, WorkingStopRequest, working_stop};
