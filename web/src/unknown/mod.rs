//! Answers turned round.

pub(crate) mod place;
pub(crate) mod solve;

pub use solve::{
    MetReply, NearestReply, SolveReply, SolveRequest, SpanReply, UnknownRequest, WantedRequest,
    WantedValue, solve,
};
