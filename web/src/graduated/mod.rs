//! Graduated filters.

mod balance_working;
pub(crate) mod line;
pub(crate) mod line_motion;
mod line_working;
mod loss_working;
pub(crate) mod sky_and_ground;

pub use line::{
    EdgeFactsReply, EdgeName, EdgeReasonCode, EdgeReply, EdgesRequest, HeightReply, LineReply,
    LineRequest, line,
};
pub use line_motion::{
    LineMotionReply, LineMotionRequest, MotionVerdictName, MoveRequest, line_motion,
};
pub use sky_and_ground::{
    BalanceReply, BalanceVerdict, NamedGrad, RemediesReply, SkyAndGroundReply, SkyAndGroundRequest,
    SpotRequest, sky_and_ground,
};
