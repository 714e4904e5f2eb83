//! What the picture loses at its edges.

pub(crate) mod fit;
pub(crate) mod fit_reply;
pub(crate) mod fit_request;
mod fit_working;
pub(crate) mod flag;
mod flag_working;
pub(crate) mod frame_map;
pub(crate) mod paint_frame;
pub(crate) mod pupil_measured;
mod ring_working;
mod room_known;
pub(crate) mod stack_fit;

pub use fit::fit;
pub use fit_reply::{
    ArcReply, CrossingReply, FitReply, OpeningReply, PassedReply, PointReply, PupilSize, TrustName,
    UsualSizeReply, ZoomReading, ZoomReply,
};
pub use fit_request::{FitRequest, MapSize, ZoomRequest};
pub use flag::{
    FlagReply, FlagRequest, FlagShape, FlagSide, FlagVerdict, GlassRequest, LampPlace, SunAim, flag,
};
pub use frame_map::{FrameMapRequest, FrameSkyRequest, frame_map};
pub use paint_frame::{FrameColours, PaintFrameRequest, Painter};
pub use pupil_measured::{
    PupilByFrontReply, PupilByFrontRequest, PupilByRingReply, PupilByRingRequest,
    PupilByTwoCardsReply, PupilByTwoCardsRequest, pupil_by_front, pupil_by_ring,
    pupil_by_two_cards,
};
pub use room_known::{RoomCauseName, RoomCauseReply, RoomKnownReply};
pub use stack_fit::{LensFitRequest, StackFitReply};
