//! What is sharp, and what glass does to it.

pub(crate) mod behind_lens;
pub(crate) mod close_up;
pub(crate) mod depth;
pub(crate) mod depth_request;
mod depth_working;
pub(crate) mod ghost;
mod ghost_working;
mod lens_working;
mod plate_working;
pub(crate) mod wish;
pub(crate) mod working_stop;

pub use behind_lens::{
    BehindLensReply, BehindLensRequest, Mark, NamedMark, PlateRequest, ShiftVerdict, WheelReply,
    behind_lens,
};
pub use close_up::{AtSettingReply, CloseUpReply, CloseUpRequest, GapReply, RangeReply, close_up};
pub use depth::{CircleRule, DepthReply, NeighbourReply, depth};
pub use depth_request::DepthRequest;
pub use ghost::{GhostBetween, GhostReply, GhostRequest, ghost};
pub use working_stop::{WorkingStopReply, WorkingStopRequest, working_stop};
